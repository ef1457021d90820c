"""What is written under the detail of a build-up: its U-values, carbon and cost for one m2, and what they cover."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.assess.fabric.elements import Envelope
from takeoff.compare.build_up_parts import BuildUpFigures, BuildUpPart, Kind
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.paper import LEADING, NOTE_TYPE, note_lines
from takeoff.documents.drawings.svg import DETAIL, EDGE, GREY, INK, lettering, line
from takeoff.documents.wording import NOT_ASSESSED, number, percent

_TYPE = 2.2
_ROW = 3.3

Row = Sequence[str]


def table(
    rows: Sequence[Row], *, left: float, top: float, columns: Sequence[float], total: bool, id: str
) -> tuple[list[str], float]:
    """Return a small table, its first row the heads and its last one the totals if asked, and its foot [mm].

    `columns` are the right edges of the columns [mm from the left]; the first column is set from the left.
    """
    elements: list[str] = []
    right = left + columns[-1]
    at = top
    for index, row in enumerate(rows):
        head, last = index == 0, total and index == len(rows) - 1
        at += _ROW
        if index == 1 or (last and index > 1):
            elements.append(
                line((left, at - _ROW + 1.0), (right, at - _ROW + 1.0), width=EDGE if index == 1 else DETAIL)
            )
        for column, text in enumerate(row):
            place = (left, at) if column == 0 else (left + columns[column], at)
            elements.append(
                lettering(
                    text,
                    place,
                    size=_TYPE,
                    anchor="start" if column == 0 else "end",
                    weight=600 if last else None,
                    fill=GREY if head else INK,
                    id=f"{id}-{index}-{column}" if text else None,
                )
            )
    return elements, at + 1.0


def figure_rows(figures: BuildUpFigures, currency: str) -> list[Row]:
    """Return the table of carbon and cost for one m2, part by part, the sum last."""
    rows: list[Row] = [("For 1 m² as built", "m² built", "kgCO₂e", "stored kgCO₂", f"cost {currency}")]
    rows += [
        (
            _part_words(part),
            number(part.area, 1),
            _one(part.each(part.upfront)),
            _one(part.each(part.stored)),
            number(part.each(part.cost) or 0.0),
        )
        for part in figures.parts
    ]
    cost = figures.cost
    total = (
        "Together",
        "",
        _one(figures.upfront),
        _one(figures.stored),
        NOT_ASSESSED if cost is None else number(cost),
    )
    return [*rows, total]


def _part_words(part: BuildUpPart) -> str:
    """Return the name of a part; a lining of both faces says so."""
    words = part.name.capitalize()
    return f"{words}, both faces" if part.faces == 2 else words


def _one(value: float | None) -> str:
    """Return a figure to one decimal, or the words for one that is not assessed."""
    return NOT_ASSESSED if value is None else number(value, 1)


def u_rows(figures: BuildUpFigures) -> list[Row]:
    """Return the table of U-values, a row for each part of the envelope that is this build-up."""
    rows: list[Row] = [("U-value", "timber", "R m²K/W", "U W/(m²K)")]
    for part in figures.envelope:
        if part.u_value is None:
            rows.append((_where(part), _fraction(part), "", NOT_ASSESSED))
            continue
        resistance = part.limits.total if part.limits is not None else 1 / part.u_value
        rows.append((_where(part), _fraction(part), number(resistance, 2), number(part.u_value, 3)))
    if not figures.envelope:
        rows.append(("between rooms", "", "", NOT_ASSESSED))
    return rows


def _where(part: Envelope) -> str:
    """Return where a part of the envelope is, in few words."""
    if part.element == "external walls":
        return part.name.split(",")[0].replace(" wall", " side")
    if part.element == "roof":
        return "through this ceiling"
    return part.name


def _fraction(part: Envelope) -> str:
    """Return the share of timber in a frame; empty where it has none."""
    return "" if part.fraction is None else percent(part.fraction)


_INCLUDED: dict[Kind, str] = {
    "external wall": "openings deducted; framing, fixings and trims included, windows, doors, surrounds not",
    "internal wall": "openings deducted; framing, fixings and trims included, doors and surrounds not",
    "party wall": "openings deducted; both leaves, fixings and trims included",
    "roof": "framing, gutters, fascias, flashings and soffits included",
    "floor": "with all that is under it and excavation, floor finishes left out",
}


def scope_words(figures: BuildUpFigures) -> str:
    """Return what the figures cover and over which area, in words."""
    areas = ", ".join(f"{part.name} over {part.of}" for part in figures.parts)
    words = f"Upfront carbon A1 to A5 and works as built in this house: {areas}; {_INCLUDED[figures.kind]}."
    if figures.missing:
        words += f" Left out: {figures.missing}."
    if figures.not_assessed:
        words += f" Carbon {NOT_ASSESSED}: {', '.join(figures.not_assessed)}."
    if figures.not_priced:
        words += f" Not priced: {', '.join(figures.not_priced)}."
    unknown = [part.not_assessed for part in figures.envelope if part.not_assessed]
    if unknown:
        words += f" U-value {NOT_ASSESSED}: {'; '.join(dict.fromkeys(unknown))}."
    return words


def draw_notes(words: str, *, left: float, top: float, wide: float) -> tuple[list[str], float]:
    """Return a paragraph of notes and its foot [mm]."""
    lines = wrapped(words, NOTE_TYPE, wide)
    return note_lines(lines, (left, top + LEADING)), top + len(lines) * LEADING


def width_of(rows: Sequence[Row], column: int) -> float:
    """Return the width of the widest text of a column [mm]."""
    return max((text_width(row[column], _TYPE, semibold=True) for row in rows), default=0.0)
