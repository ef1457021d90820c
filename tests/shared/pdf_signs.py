"""Reads where every sign of a PDF stands, with PDFium, a reader that had no part in making the file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import pypdfium2
import pypdfium2.raw as pdfium


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign with the box of its ink [pt], y upwards from the foot of the page."""

    text: str
    left: float
    bottom: float
    right: float
    top: float

    def shares_with(self, other: Sign) -> float:
        """Return how much of the smaller of two boxes lies in the other."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.top, other.top) - max(self.bottom, other.bottom)
        least = min((s.right - s.left) * (s.top - s.bottom) for s in (self, other))
        return wide * high / least if wide > 0 and high > 0 and least > 0.05 else 0.0

    def is_ligature_with(self, other: Sign) -> bool:
        """Whether both signs are one glyph, as ff and ft are: their boxes are the same."""
        return abs(self.left - other.left) < 0.01 and abs(self.right - other.right) < 0.01


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page: its number, its size [pt], its signs but spaces, and its text in lines."""

    number: int
    width: float
    height: float
    signs: tuple[Sign, ...]
    lines: tuple[str, ...]

    def outside(self, margin: float = 0.0) -> list[Sign]:
        """Return the signs that stand outside the page less a margin [pt]."""
        return [
            s
            for s in self.signs
            if s.left < margin - 0.5
            or s.bottom < margin - 0.5
            or s.right > self.width - margin + 0.5
            or s.top > self.height - margin + 0.5
        ]

    def overlapping(self) -> list[tuple[str, str, int, int]]:
        """Return pairs of signs that lie on one another, with their place from the upper left corner [pt]."""
        found = []
        by_left = sorted(self.signs, key=lambda s: s.left)
        for place, a in enumerate(by_left):
            for b in by_left[place + 1 :]:
                if b.left >= a.right:
                    break
                # kerned neighbours share a little
                if a.shares_with(b) > 0.5 and not a.is_ligature_with(b):
                    found.append((a.text, b.text, round(a.left), round(self.height - a.top)))
        return found


def sheets_of(data: bytes) -> list[Sheet]:
    """Return the pages of a PDF."""
    found = []
    for number, page in enumerate(pypdfium2.PdfDocument(data), start=1):
        text = page.get_textpage()
        signs = []
        for index in range(text.count_chars()):
            sign = chr(pdfium.FPDFText_GetUnicode(text.raw, index))
            if sign.isspace() or not sign.isprintable():
                continue
            left, bottom, right, top = text.get_charbox(index)
            signs.append(Sign(sign, left, bottom, right, top))
        lines = tuple(line.strip() for line in text.get_text_range().splitlines() if line.strip())
        found.append(Sheet(number, page.get_width(), page.get_height(), tuple(signs), lines))
    return found


def plain(text: str) -> str:
    """Return a text without spaces of any kind, so that line ends and thin spaces do not matter."""
    return "".join(text.split()).replace("\u202f", "").replace("\u00a0", "")


def text_of(sheets: Iterable[Sheet]) -> str:
    """Return the text of pages without spaces."""
    return plain("".join(line for sheet in sheets for line in sheet.lines))
