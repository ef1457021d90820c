"""The dimension paper of one item, line by line, with the cells that its dimensions come from."""

from __future__ import annotations

import re

from takeoff.assess.lines import Line as BillLine
from takeoff.compare.evaluate import Result
from takeoff.documents.explain_parts import Cell, Line, Section, cell, cells, listed, metres, precise
from takeoff.documents.explain_settings import INSIDE_FLOOR, SettingsBehind, setting_cell
from takeoff.documents.wording import number, unit_text
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.model.allowance import Allowance
from takeoff.model.house import Bulkhead, Design, InternalDoor, Layer, LintelRow, Opening, Room

HEADING = "Dimensions"
_STICK_BY_STICK = "set out stick by stick"
_OF_STICKS = re.compile(r"sticks|framing|rafters and|joists and")
_BATTENS = "battens at spacing"


def dimensions_section(
    result: Result, line: BillLine, behind: SettingsBehind, layer: Layer | None, allowance: Allowance | None
) -> Section:
    """Return every line of dimension paper, their sum, and what they follow from."""
    quantity = line.quantity
    unit = unit_text(quantity.unit)
    marked = _by_mark(result.design)
    lines = [
        Line(each.note, _squared(each), _opening_cells(each, marked, allowance))
        for each in quantity.dimensions
    ]
    total = sum(each.squaring for each in quantity.dimensions)
    lines.append(Line("net", f"sum of the lines = {metres(total)} {unit}"))
    if any(applied.override.figure == "quantity" for applied in line.overrides):
        lines.append(Line("", f"overridden: {metres(quantity.net)} {unit} counts instead, see Overrides"))
    lines += _follows(result, quantity, behind, layer, allowance)
    return Section(HEADING, tuple(lines))


def _squared(line: Dimension) -> str:
    """Return one line as it is written: timesing x dimensions = squaring, deductions in brackets."""
    given = [metres(each) for each in (line.a, line.b, line.c) if each is not None]
    timesing = number(line.timesing) if line.timesing == int(line.timesing) else precise(line.timesing, 8)
    product = " x ".join([timesing, *given])
    if line.nil:
        text = f"[nil] ({product}) = {metres(0.0)}"
    elif line.deducted:
        text = f"Ddt ({product}) = {metres(line.squaring)}"
    else:
        text = f"{product} = {metres(line.squaring)}"
    return text if line.side is None else f"{text}; side calculation {line.side.text}"


def _by_mark(design: Design) -> dict[str, Opening | InternalDoor]:
    """Return openings and internal doors by mark."""
    marked: dict[str, Opening | InternalDoor] = {each.mark: each for each in design.openings}
    return marked | {each.mark: each for each in design.internal_doors}


def opening_of(line: Dimension, marked: dict[str, Opening | InternalDoor]) -> Opening | InternalDoor | None:
    """Return the opening or door that a line is for: the one it names, else the one in its note."""
    if line.opening:
        return marked.get(line.opening)
    note = re.sub(r"^(?:ddt |round )?(?:opening )?", "", line.note)
    for mark in sorted(marked, key=len, reverse=True):
        if note == mark or note.startswith(f"{mark}, "):
            return marked[mark]
    return None


def _opening_cells(
    line: Dimension, marked: dict[str, Opening | InternalDoor], allowance: Allowance | None
) -> tuple[Cell, ...]:
    """Return the row of the opening that a line is for, and the quantity an allowance gives."""
    if allowance is not None:
        quantity = allowance.quantity
        found = None if quantity is None else cell(allowance.origin, "quantity", "quantity", quantity)
        return cells(
            found, cell(allowance.origin, "basis", f"measured by {allowance.basis}", allowance.basis)
        )
    opening = opening_of(line, marked)
    if opening is None:
        return ()
    return cells(
        cell(opening.origin, "width", f"{opening.mark} width {metres(opening.width)} m", opening.width),
        cell(opening.origin, "height", f"{opening.mark} height {metres(opening.height)} m", opening.height),
    )


def _follows(
    result: Result,
    quantity: Quantity,
    behind: SettingsBehind,
    layer: Layer | None,
    allowance: Allowance | None,
) -> list[Line]:
    """Return what the dimensions follow from: settings, rooms, sticks."""
    lines: list[Line] = []
    if allowance is None:
        settings = behind.cells_of(quantity.id)
    else:
        by_floor = allowance.quantity is None and allowance.basis == "m2 of floor"
        settings = behind.cells_of(INSIDE_FLOOR) if by_floor else ()
    if settings:
        lines.append(
            Line("settings", "that move these dimensions, found by changing each by itself:", settings)
        )
    rooms = rooms_of(result.design, quantity)
    if rooms:
        shown = cells(*(cell(each.origin, "name", f"rectangle of {each.name}", each.name) for each in rooms))
        lines.append(Line("rooms", listed([each.name for each in rooms]), shown))
    if layer is not None and layer.measured_by == _BATTENS:
        lines.append(_battens(layer))
    sticks = _sticks(result.design, quantity)
    return [*lines, sticks] if sticks else lines


def rooms_of(design: Design, quantity: Quantity) -> list[Room | Bulkhead]:
    """Return the rooms and bulkheads that the location or the notes of an item name, in the order of the workbook."""
    texts = [*quantity.location.split(", "), *quantity.location.split(" to ")]
    for line in quantity.dimensions:
        texts += [line.note, line.note.removeprefix("ceiling of ")]
    named: list[Room | Bulkhead] = []
    rooms = sorted(design.rooms, key=lambda room: len(room.name), reverse=True)
    for text in texts:
        room = next((each for each in rooms if _begins(text, each.name)), None)
        if room is None:
            continue
        named.append(room)
        rest = text.removeprefix(room.name).removeprefix(", ")
        named += [b for b in design.bulkheads if b.room == room.name and _begins(rest, b.name)]
    return [each for each in (*design.rooms, *design.bulkheads) if each in named]


def _begins(text: str, name: str) -> bool:
    """Whether a text is a name or goes on after it with another word."""
    return bool(name) and (text == name or text.startswith((f"{name} ", f"{name}, ")))


def _battens(layer: Layer) -> Line:
    """Return how battens are set out."""
    spacing = layer.spacing or 0.0
    return Line(
        "sticks",
        "battens set out one by one at the spacing of the layer, first and last flush with the edges, cut at openings",
        cells(cell(layer.origin, "spacing", f"spacing {metres(spacing)} m", spacing)),
    )


def _sticks(design: Design, quantity: Quantity) -> Line | None:
    """Return how the dimensions follow from sticks set out by the framing rules, where they do."""
    whole = quantity.how == _STICK_BY_STICK
    if not whole and not any(_OF_STICKS.search(line.note) for line in quantity.dimensions):
        return None
    what = "every length is that of sticks" if whole else "part of these dimensions is that of sticks"
    if not _in_walls(quantity):
        return Line("sticks", f"{what} set out one by one by the rules of this part and the spacings above")
    practice = design.practice
    return Line(
        "sticks",
        f"{what} set out one by one by the framing practice {practice.name!r}: {_rules(design)}",
        cells(
            setting_cell(design.house, "framing_practice"),
            cell(practice.origin, "practice", f"practice {practice.name}", practice.name),
            cell(
                practice.origin,
                "nogging_spacing",
                f"nogging spacing {metres(practice.nogging_spacing)} m",
                practice.nogging_spacing,
            ),
            *lintel_cells(design, quantity),
        ),
    )


def _in_walls(quantity: Quantity) -> bool:
    """Whether an item goes by the framing of walls, which a practice rules."""
    return quantity.element in ("EW", "IW")


def _rules(design: Design) -> str:
    """Return what a practice says, rule by rule, with the stud spacing in force."""
    rules = [f"studs at {metres(design.stud_spacing)} m", *(words for words, _ in design.practice.rules())]
    return "; ".join(rules)


def lintel_cells(design: Design, quantity: Quantity) -> tuple[Cell, ...]:
    """Return the rows of the lintel table that an item of lintels may come from: those of its section.

    A row whose steel the setting no steel has put timber in the place of holds the steel, so only its opening is told.
    """
    if ".FR.lintels." not in quantity.id:
        return ()
    section = (quantity.material, quantity.width, quantity.thickness)
    chosen = [row for row in design.chosen_lintels.values() if _section(row) == section]
    found: list[Cell | None] = [setting_cell(design.house, "no_steel")] if chosen else []
    for row in (*(row for row in design.lintels if _section(row) == section), *chosen):
        told = f"openings to {row.opening_width:g} m"
        found.append(cell(row.origin, "opening_width", told, row.opening_width))
    return cells(*found)


def _section(row: LintelRow) -> tuple[str, float, float]:
    """Return what a row of the lintel table is made of: material, depth, thickness."""
    return (row.material, row.depth, row.thickness)
