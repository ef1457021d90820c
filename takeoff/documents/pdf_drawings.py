"""Drawings of a page written straight into its PDF.

A layout program sets the lettering of a drawing sign by sign and matches every line of it against the
style sheet: a report with a few thousand labels takes longer over them than over all its tables. Here the
page is laid out with an empty picture for each drawing, and what is drawn takes the place of that picture
once the pages stand. The layout, the tags and the words for readers who cannot see stay those of the page.
"""

from __future__ import annotations

import base64
import re
import struct
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING
from xml.etree import ElementTree
from xml.sax.saxutils import escape

from takeoff.documents.drawings.svg import number
from takeoff.documents.fonts import FAMILY
from takeoff.documents.pdf_paths import UnknownDrawingError
from takeoff.documents.pdf_shapes import Painter
from takeoff.documents.pdf_type import DrawingType, add_type, drawing_types

if TYPE_CHECKING:
    import pydyf

_DRAWING = re.compile(r"<svg\b[^>]*>.*?</svg>", re.DOTALL)
_SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftedDrawing:
    """The content of one drawing, its box in its own units (left, top, width, height), the type it uses."""

    content: str
    box: tuple[float, float, float, float]
    weights: frozenset[int]


@dataclass(frozen=True, slots=True)
class LiftedPage:
    """A page with empty pictures, and the drawings to be set into them, in the same order."""

    page: str
    drawings: Sequence[LiftedDrawing]
    types: Mapping[int, DrawingType]

    def set_drawings(self, pdf: pydyf.PDF) -> None:
        """Put each drawing in the place of its empty picture.

        The picture of drawing n is n + 1 wide and 1 high. Raises RuntimeError where one is missing.
        """
        import pydyf

        places = {
            placed.extra["Width"] - 1: placed
            for placed in pdf.objects
            if isinstance(placed, pydyf.Stream)
            and placed.extra.get("Subtype") == "/Image"
            and placed.extra["Height"] == 1
        }
        used = sorted({weight for drawing in self.drawings for weight in drawing.weights})
        fonts = {weight: add_type(pdf, self.types[weight]).reference for weight in used}
        for index, drawing in enumerate(self.drawings):
            place = places.get(index)
            if place is None:
                raise RuntimeError("a drawing has no place on the pages of the PDF")
            left, top, width, height = drawing.box
            place.stream = [drawing.content]
            place.compress = True
            place.extra = {
                "Type": "/XObject",
                "Subtype": "/Form",
                "BBox": pydyf.Array([left, top, left + width, top + height]),
                # a picture fills the square of 1 by 1, its y upwards
                "Matrix": pydyf.Array([1 / width, 0, 0, -1 / height, -left / width, 1 + top / height]),
                "Resources": pydyf.Dictionary(
                    {
                        "Font": pydyf.Dictionary(
                            {self.types[w].name: fonts[w] for w in sorted(drawing.weights)}
                        )
                    }
                ),
            }


def lift_drawings(page: str) -> LiftedPage:
    """Take the drawings out of a page; one with anything unknown stays for the layout program."""
    drawings: list[LiftedDrawing] = []
    types = drawing_types()

    def lifted(found: re.Match[str]) -> str:
        try:
            root = ElementTree.fromstring(found[0])
            drawing = _lifted(root, types)
        except (ElementTree.ParseError, UnknownDrawingError):
            return found[0]
        drawings.append(drawing)
        return _empty(found[0], root, drawing.box, len(drawings))

    return LiftedPage(_DRAWING.sub(lifted, page), drawings, types)


def _lifted(root: ElementTree.Element, types: Mapping[int, DrawingType]) -> LiftedDrawing:
    """Return the content of a drawing."""
    box = [float(part) for part in root.get("viewBox", "").split()]
    if len(box) != 4 or box[2] <= 0 or box[3] <= 0 or root.get("preserveAspectRatio"):
        raise UnknownDrawingError("a drawing without a view box, or stretched")
    painter = Painter(types, FAMILY)
    painter.paint(root)
    left, top, width, height = box
    return LiftedDrawing(
        content="\n".join(painter.lines),
        box=(left, top, width, height),
        weights=frozenset(painter.weights),
    )


def _empty(svg: str, root: ElementTree.Element, box: tuple[float, float, float, float], columns: int) -> str:
    """Return a drawing with an empty picture, so many columns wide, instead of its lines.

    What it shows is said by title and description together: the tag of a figure takes one text.
    """
    said = ": ".join(text for name in ("title", "desc") if (text := root.findtext(f"{_SVG}{name}")))
    left, top, width, height = map(number, box)
    return (
        f"{svg[: svg.index('>') + 1]}<title>{escape(said)}</title>"
        f'<image x="{left}" y="{top}" width="{width}" height="{height}" preserveAspectRatio="none" '
        f'href="{_picture(columns)}"/></svg>'
    )


def _picture(columns: int) -> str:
    """Return a white picture, so many columns wide and one row high, as a data address."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    data = (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", struct.pack(">IIBBBBB", columns, 1, 8, 0, 0, 0, 0))
        + chunk(b"IDAT", zlib.compress(b"\0" + b"\xff" * columns))
        + chunk(b"IEND", b"")
    )
    return "data:image/png;base64," + base64.b64encode(data).decode("ascii")
