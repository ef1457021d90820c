"""A movement between two issues as tables for the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from takeoff.compare.line_movement import MEASURES, REASONS, LineMovement, Measure, Shift
from takeoff.compare.movement import Movement
from takeoff.documents.movement_words import measure_title, notes, reason_text
from takeoff.documents.wording import assessed, change, number, quantity, rate, unit_text
from takeoff.model.issued_bill import BillLine

if TYPE_CHECKING:
    from rich.console import Group
    from rich.table import Table
    from rich.text import Text


def movement_screen(movement: Movement) -> Group:
    """Return the movement by element and by reason, the lines that moved, the ladder, and what to know of them."""
    from rich.console import Group
    from rich.text import Text

    parts: list[Table | Text] = [
        Text(f"Old: {movement.old.title} ({movement.old.source})"),
        Text(f"New: {movement.new.title} ({movement.new.source})"),
    ]
    for measure in MEASURES:
        parts += [Text(), _by_element(movement, measure)]
    parts += [Text(), _by_reason(movement), Text()]
    parts += [_lines(movement)] if movement.moved else [Text("No line moved.")]
    parts += [Text(), _ladder(movement)]
    told = notes(movement)
    if told:
        parts += [Text(), *map(Text, told)]
    return Group(*parts)


def _table(title: str, texts: tuple[str, ...], figures: tuple[str, ...], last: tuple[str, ...] = ()) -> Table:
    """Return an empty table: columns of text, columns of figures, columns of text."""
    from rich.table import Table

    table = Table(title=title, title_justify="left", pad_edge=False, box=None)
    for name in texts:
        table.add_column(name, overflow="fold")
    for name in figures:
        table.add_column(name, justify="right", no_wrap=True)
    for name in last:
        table.add_column(name, overflow="fold")
    return table


def _plain(text: str) -> Text:
    """Return a text of the user's as it stands: brackets in it are no style."""
    from rich.text import Text

    return Text(text)


def _by_element(movement: Movement, measure: Measure) -> Table:
    """Return one measure by element, with the ladder where it is money, and the totals of both bills."""
    ladder = measure == "money"
    moves = ("quantity", "rate", "added", "omitted", *(("ladder",) if ladder else ()))
    table = _table(measure_title(movement, measure), ("element",), ("old", *moves, "difference", "new"))
    for element in movement.elements:
        sums = movement.sums(measure, element)
        table.add_row(
            _plain(element),
            assessed(sums.old),
            *_moves(sums.shift),
            *([""] if ladder else []),
            change(sums.shift.difference),
            assessed(sums.new),
        )
    effect = change(movement.ladder_effect)
    if ladder:
        before, after = (sum(step.amount for step in bill.steps) for bill in (movement.old, movement.new))
        table.add_row("cost ladder", number(before), "", "", "", "", effect, effect, number(after))
    old, new = movement.totals(measure)
    table.add_row(
        "total including tax" if ladder else "total",
        assessed(old),
        *_moves(movement.sums(measure).shift),
        *([effect] if ladder else []),
        change(movement.difference(measure)),
        assessed(new),
        style="bold",
    )
    return table


def _moves(shift: Shift) -> tuple[str, str, str, str]:
    """Return the four movements as printed."""
    return change(shift.quantity), change(shift.rate), change(shift.added), change(shift.omitted)


def _by_reason(movement: Movement) -> Table:
    """Return the whole difference by reason; reasons for nothing are left out."""
    titles = tuple(measure_title(movement, measure).replace(", ", "\n") for measure in MEASURES)
    table = _table("Difference by reason", ("reason",), titles)
    found = [movement.by_reason(measure) for measure in MEASURES]
    at_work = {reason for line in movement.moved for reason in line.reasons}
    for reason in REASONS:
        if reason in at_work or reason == "ladder":
            table.add_row(reason, *(change(amounts[reason]) for amounts in found))
    table.add_row("total", *(change(movement.difference(measure)) for measure in MEASURES), style="bold")
    return table


def _lines(movement: Movement) -> Table:
    """Return the lines that moved."""
    table = _table(
        f"Lines that moved: {len(movement.moved)} of {len(movement.lines)}",
        ("id", "item"),
        (
            *(
                "unit",
                "net\nold",
                "net\nnew",
                "rate\nold",
                "rate\nnew",
                "quantity\nmovement",
                "rate\nmovement",
            ),
            *("added", "omitted"),
            *("difference", f"A1-A5\n{unit_text('kgCO2e')}", f"life cycle\n{unit_text('kgCO2e')}"),
        ),
        ("reasons",),
    )
    for line in movement.moved:
        shift = line.shifts["money"]
        table.add_row(
            _plain(line.id),
            _plain(line.shown.item),
            _plain(_unit(line)),
            _net(line.old),
            _net(line.new),
            rate(line.old.rate) if line.old else "",
            rate(line.new.rate) if line.new else "",
            *_moves(shift),
            change(shift.difference),
            change(line.shifts["upfront"].difference, 1),
            change(line.shifts["life cycle"].difference, 1),
            _plain(reason_text(line)),
        )
    return table


def _unit(line: LineMovement) -> str:
    """Return the unit of a line, both where it changed."""
    units = dict.fromkeys(unit_text(side.unit) for side in (line.old, line.new) if side)
    return " to ".join(units)


def _net(line: BillLine | None) -> str:
    """Return a net quantity, blank where a bill has no such line."""
    return "" if line is None else quantity(line.net, line.unit)


def _ladder(movement: Movement) -> Table:
    """Return the steps of the cost ladder in both bills."""
    table = _table(f"Cost ladder, {movement.new.currency}", ("step",), ("old", "new", "ladder effect"))
    works = (movement.old.works_and_sums, movement.new.works_and_sums)
    table.add_row("works and sums", number(works[0]), number(works[1]), "")
    for step in movement.ladder:
        table.add_row(
            _plain(step.name),
            "" if step.old is None else number(step.old),
            "" if step.new is None else number(step.new),
            change(step.change),
        )
    old, new = movement.old.total_inc_tax, movement.new.total_inc_tax
    table.add_row("all steps", number(old - works[0]), number(new - works[1]), change(movement.ladder_effect))
    table.add_row("total including tax", number(old), number(new), "", style="bold")
    return table
