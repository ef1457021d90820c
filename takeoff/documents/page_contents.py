"""The table of contents of a page: its sections with their headings, read from the page itself."""

from __future__ import annotations

import html
import re
from dataclasses import dataclass

# a page is our own, so its sections and headings are found by their tags: a reader of all it holds takes long
_FOUND = re.compile(r"<section\b([^>]*)>|<h2\b[^>]*>(.*?)</h2>", re.DOTALL)
_ID = re.compile(r"""(?:^|\s)id=["']([^"']+)["']""")
_HIDDEN = re.compile(r"(?:^|\s)hidden(?:[\s=]|$)")
_TAG = re.compile(r"<[^>]*>")


@dataclass(frozen=True, slots=True)
class Entry:
    """One section: the id to go to, its heading, and whether it is hidden until a script shows it."""

    id: str
    heading: str
    is_hidden: bool


def contents_of(page: str) -> list[Entry]:
    """Return the sections of a page that have an id and a heading of the second level, in their order."""
    entries: list[Entry] = []
    section: tuple[str, bool] | None = None
    for found in _FOUND.finditer(page):
        attributes, heading = found.groups()
        if attributes is not None:
            name = _ID.search(attributes)
            section = None if name is None else (name[1], bool(_HIDDEN.search(attributes)))
        elif section is not None:
            text = html.unescape(_TAG.sub("", heading))
            entries.append(Entry(section[0], " ".join(text.split()), section[1]))
            section = None
    return entries
