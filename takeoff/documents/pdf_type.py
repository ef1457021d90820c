"""The type of the drawings in a PDF: the report's font cut down to the signs drawn, as objects of the file."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from takeoff.documents.fonts import cut_font, weights_of

if TYPE_CHECKING:
    import pydyf


@dataclass(slots=True)
class DrawingType:
    """One weight of the type while drawings are written: the number of each sign, in order of their use."""

    weight: int
    widths: dict[int, float]
    numbers: dict[str, int] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """Name of the font in the resources of a drawing."""
        return f"T{self.weight}"

    def has(self, text: str) -> bool:
        """Return whether the font has every sign of a text."""
        return all(ord(sign) in self.widths for sign in text)

    def width(self, text: str) -> float:
        """Return the width of a text as a share of the type size."""
        return sum(self.widths[ord(sign)] for sign in text)

    def written(self, text: str) -> str:
        """Return a text as the PDF shows it: two bytes a sign, in hexadecimal."""
        numbers = self.numbers
        return "".join(f"{numbers.setdefault(sign, len(numbers) + 1):04x}" for sign in text)


def drawing_types() -> dict[int, DrawingType]:
    """Return every weight of the report's type, with the advance of its signs in em."""
    return {weight: DrawingType(weight, widths) for weight, widths in weights_of().items()}


def add_type(pdf: pydyf.PDF, face: DrawingType) -> pydyf.Dictionary:
    """Add a font with the signs used to a PDF and return its dictionary, an object of the file.

    Numbers of signs are ours; a map of the file leads from them to the outlines, and another to Unicode,
    so that text can be searched, copied and read out. Source: ISO 32000-1, 9.7 and 9.10.
    """
    import pydyf

    cut = cut_font(face.weight, "".join(face.numbers))
    em = 1000 / cut.units_per_em
    program = pydyf.Stream([cut.data], pydyf.Dictionary({"Length1": len(cut.data)}), compress=True)
    pdf.add_object(program)
    # six letters and a plus sign mark a font as cut down
    name = f"/{'MNPTDR' if face.weight == 400 else 'MNPTDS'}+{cut.name}"
    descriptor = pydyf.Dictionary(
        {
            "Type": "/FontDescriptor",
            "FontName": name,
            "Flags": 4,
            "FontBBox": pydyf.Array([round(edge * em) for edge in cut.box]),
            "ItalicAngle": 0,
            "Ascent": round(cut.ascent * em),
            "Descent": round(cut.descent * em),
            "CapHeight": round(cut.cap_height * em),
            "StemV": 80 if face.weight == 400 else 110,
            "FontFile2": program.reference,
        }
    )
    pdf.add_object(descriptor)
    glyphs = b"\0\0" + b"".join(cut.glyphs[sign].to_bytes(2, "big") for sign in face.numbers)
    outlines = pydyf.Stream([glyphs], compress=True)
    pdf.add_object(outlines)
    widths = [round(face.widths[ord(sign)] * 1000) for sign in face.numbers]
    descendant = pydyf.Dictionary(
        {
            "Type": "/Font",
            "Subtype": "/CIDFontType2",
            "BaseFont": name,
            "CIDSystemInfo": pydyf.Dictionary(
                {"Registry": pydyf.String("Adobe"), "Ordering": pydyf.String("Identity"), "Supplement": 0}
            ),
            "FontDescriptor": descriptor.reference,
            "CIDToGIDMap": outlines.reference,
            "W": pydyf.Array([1, pydyf.Array(widths)]),
        }
    )
    pdf.add_object(descendant)
    unicode = pydyf.Stream([_to_unicode(face.numbers)], compress=True)
    pdf.add_object(unicode)
    font = pydyf.Dictionary(
        {
            "Type": "/Font",
            "Subtype": "/Type0",
            "BaseFont": name,
            "Encoding": "/Identity-H",
            "DescendantFonts": pydyf.Array([descendant.reference]),
            "ToUnicode": unicode.reference,
        }
    )
    pdf.add_object(font)
    return font


def _to_unicode(numbers: dict[str, int]) -> str:
    """Return the map from our numbers to Unicode, a hundred signs a block as the file format allows."""
    lines = [
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap",
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def",
        "/CMapName /Adobe-Identity-UCS def /CMapType 2 def",
        "1 begincodespacerange <0000> <ffff> endcodespacerange",
    ]
    pairs = [f"<{place:04x}> <{sign.encode('utf-16-be').hex()}>" for sign, place in numbers.items()]
    for first in range(0, len(pairs), 100):
        block = pairs[first : first + 100]
        lines += [f"{len(block)} beginbfchar", *block, "endbfchar"]
    lines.append("endcmap CMapName currentdict /CMap defineresource pop end end")
    return "\n".join(lines)
