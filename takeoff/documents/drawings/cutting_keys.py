"""The keys of the cutting plans: what is drawn and written there, with the scale bar."""

from __future__ import annotations

from takeoff.cutting.order_plan import CutLength, CutPiece
from takeoff.documents.drawings.cutting_patterns import sample_bar
from takeoff.documents.drawings.letters import wrapped
from takeoff.documents.drawings.offcut_hatch import hatched
from takeoff.documents.drawings.paper import LEADING, MARGIN, NOTE_TYPE, Drawing, scale_bar
from takeoff.documents.drawings.piece_labels import word, words
from takeoff.documents.drawings.svg import EDGE, GREY, INK, OUTLINE, group, lettering, number, picture, rect
from takeoff.model.library import Stock


def pattern_key(*, tone: str, scale: int, paper_width_mm: float, id_prefix: str) -> Drawing:
    """Return the key of the patterns: one bar with all that is drawn, and what it means."""
    stock = Stock(material="", sold_by="length", kerf=0.003)
    pieces = (
        CutPiece(length=2.4, marks=("LO-TP01",), item="", part="2 of 2"),
        CutPiece(length=0.9, marks=("LO-ST02",), item=""),
        CutPiece(length=0.168, marks=("LO-N07",), item=""),
    )
    cut = CutLength(stock=stock, length=4.2, count=1, pieces=pieces, offcut=0.723)
    elements, wide, high = sample_bar(cut, tone=tone, scale=scale, id_prefix=id_prefix)
    texts = (
        "Before a bar: the length on sale, and how many are cut alike. In it: marks over lengths; LO-TP01/2 is the "
        "second part of a joined member. Below it: what has no room in it, from the left. All in m.",
        "Hatched: the offcut, with its length from 10 mm on.",
    )
    return _key(
        elements,
        wide,
        high,
        texts,
        title=f"Key to the cutting patterns, drawn at 1:{scale}",
        scale=scale,
        paper_width_mm=paper_width_mm,
        id_prefix=id_prefix,
    )


def sheet_key(*, tone: str, scale: int, paper_width_mm: float, id_prefix: str) -> Drawing:
    """Return the key of the sheets: a sheet with what is drawn, and what marks and hatch mean."""
    x, y, long, wide = 0.3, MARGIN, 18.0, 7.0
    elements = [
        *hatched([(x, y, long, wide)], id=f"{id_prefix}-offcut"),
        rect(x, y, 12.0, 5.0, fill=tone, stroke=INK, weight=EDGE),
        words([word("F3.2.1", (x + 6.0, y + 2.5), bold=True)]),
        rect(x, y, long, wide, stroke=INK, weight=OUTLINE),
    ]
    texts = (
        "F3.2.1 on a sheet is 2.1 on face F3: course 2 from the foot (of upright sheets from the left), first piece "
        "along it. Crossed: openings.",
        "On a sheet: length along it, and width where it is ripped. Hatched: left over, with its size where it is "
        "kept. Below it: its mark, its size, pieces without room. All in m.",
    )
    return _key(
        elements,
        long,
        wide,
        texts,
        title=f"Key to the sheets, drawn at 1:{scale}",
        scale=scale,
        paper_width_mm=paper_width_mm,
        id_prefix=id_prefix,
    )


def _key(
    elements: list[str],
    wide: float,
    high: float,
    texts: tuple[str, ...],
    *,
    title: str,
    scale: int,
    paper_width_mm: float,
    id_prefix: str,
) -> Drawing:
    """Return a key: a sample of a size [mm], what it means beside it, the scale bar below."""
    at = wide + 5.0
    lines = [line for text in texts for line in wrapped(text, NOTE_TYPE, paper_width_mm - at - MARGIN)]
    beside = [
        lettering(text, (at, MARGIN + 2.0 + place * LEADING), size=NOTE_TYPE, fill=GREY)
        for place, text in enumerate(lines)
    ]
    foot = MARGIN + max(high, len(lines) * LEADING) + 5.0
    bar, taken = scale_bar(0.0, foot, scale=scale, room_mm=40.0, id_prefix=id_prefix)
    svg = picture(
        [*elements, *beside, group([bar], transform=f"translate({number(taken)} 0)")],
        width_mm=paper_width_mm,
        height_mm=foot + MARGIN,
        title=title,
        desc=" ".join(texts),
        id_prefix=id_prefix,
    )
    return Drawing(svg=svg, title=title, width_mm=paper_width_mm, height_mm=foot + MARGIN, scale=scale)
