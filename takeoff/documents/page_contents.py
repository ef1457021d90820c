"""The table of contents of a page: its sections with their headings, read from the page itself."""

from __future__ import annotations

from dataclasses import dataclass
from html.parser import HTMLParser


@dataclass(frozen=True, slots=True)
class Entry:
    """One section: the id to go to, its heading, and whether it is hidden until a script shows it."""

    id: str
    heading: str
    is_hidden: bool


def contents_of(page: str) -> list[Entry]:
    """Return the sections of a page that have an id and a heading of the second level, in their order."""
    reader = _Reader()
    reader.feed(page)
    reader.close()
    return reader.entries


class _Reader(HTMLParser):
    """Reads sections and their headings."""

    def __init__(self) -> None:
        """Start before the first section."""
        super().__init__()
        self.entries: list[Entry] = []
        self._section: tuple[str, bool] | None = None
        self._heading: list[str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note the id of a section, and that a heading begins."""
        named = dict(attrs)
        if tag == "section":
            self._section = (named["id"] or "", "hidden" in named) if "id" in named else None
        elif tag == "h2" and self._section:
            self._heading = []

    def handle_data(self, data: str) -> None:
        """Take the text of a heading."""
        if self._heading is not None:
            self._heading.append(data)

    def handle_endtag(self, tag: str) -> None:
        """Keep the section when its heading ends."""
        if tag == "h2" and self._section and self._heading is not None:
            id, is_hidden = self._section
            self.entries.append(Entry(id, " ".join("".join(self._heading).split()), is_hidden))
            self._section = self._heading = None
