"""The users' guide: Markdown pages shipped with the program."""

from __future__ import annotations

from importlib.resources import files

# In reading order; `start` comes first.
_ORDER = (
    "start",
    "workbooks",
    "measuring",
    "framing",
    "rooms",
    "ordering",
    "cost",
    "carbon",
    "life",
    "ranges",
    "fabric",
    "members",
    "options",
    "documents",
    "schedule",
    "client",
    "movement",
    "explain",
    "results",
    "reference",
)


def page_names() -> dict[str, str]:
    """Return the pages by name with their titles, in reading order."""
    found = {
        entry.name.removesuffix(".md"): entry.read_text(encoding="utf-8").splitlines()[0].lstrip("# ")
        for entry in files(__name__).iterdir()
        if entry.name.endswith(".md")
    }
    known = [name for name in _ORDER if name in found]
    return {name: found[name] for name in (*known, *sorted(set(found) - set(known)))}


def page_text(name: str) -> str:
    """Return one page as Markdown. Raises KeyError where there is none of that name."""
    wanted = name.strip().lower().removesuffix(".md")
    if wanted not in page_names():
        raise KeyError(name)
    return files(__name__).joinpath(f"{wanted}.md").read_text(encoding="utf-8")
