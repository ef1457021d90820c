"""Which settings of the house the dimensions of each item follow from, found by changing each and measuring again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields

from takeoff.assess.members.without_steel import without_steel
from takeoff.compare.evaluate import Result, setting_out_problems
from takeoff.documents.explain_parts import Cell, cell
from takeoff.documents.wording import number
from takeoff.framing.openings import on_grid
from takeoff.measure.house import MeasuredHouse, measure_house
from takeoff.model.house import Design, House, Option
from takeoff.model.job import Job, apply_changes
from takeoff.model.problem import Origin

# The floor inside, which allowances by m2 of floor go by.
INSIDE_FLOOR = "inside floor"
# Large enough to move counts of sticks; the smaller ones are for designs that the larger ones break.
_SHARES = (0.07, -0.07, 0.001, -0.001)
_DEGREES = frozenset({"pitch"})
_PLACES = 6


@dataclass(frozen=True, slots=True)
class SettingsBehind:
    """The settings that move the dimensions of each item of an option, by id."""

    design: Design
    by_id: Mapping[str, tuple[str, ...]]

    def cells_of(self, id: str) -> tuple[Cell, ...]:
        """Return the cells of the settings that move an item; the stud spacing may be that of the practice."""
        house, practice = self.design.house, self.design.practice
        found: list[Cell | None] = []
        for name in self.by_id.get(id, ()):
            if name == "stud_spacing" and house.stud_spacing is None:
                words = f"stud spacing of {practice.name} {number(practice.stud_spacing, 3)} m"
                found.append(cell(practice.origin, "stud_spacing", words, practice.stud_spacing))
            else:
                found.append(setting_cell(house, name))
        return tuple(each for each in found if each is not None)


def setting_cell(house: House, name: str) -> Cell | None:
    """Return the cell of a setting: of the sheet House, or of the sheet Options where an option changes it."""
    value = getattr(house, name)
    origin: Origin | None = house.origin.get(name)
    return cell(origin, "value", f"{name.replace('_', ' ')} {_words(name, value)}", _plain(value))


def _words(name: str, value: object) -> str:
    """Return the value of a setting with its unit."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g} deg" if name in _DEGREES else f"{number(value, 3)} m"
    if isinstance(value, tuple):
        return "; ".join(f"{number(each, 3)} m" for each in value)
    return str(value)


def _plain(value: object) -> float | str:
    """Return a value that can be held against its cell, "" for lists and choices of yes and no."""
    if isinstance(value, str):
        return value
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else ""


def settings_behind(job: Job, result: Result) -> SettingsBehind:
    """Return which settings move the dimensions of which items of an option.

    Each setting that is a number, a list of numbers or a choice of yes and no is changed by itself, by some per cent,
    one, or to the other, and the house is measured again; an item whose dimension lines come out otherwise follows
    from it. This knows nothing of rules, so that none can be forgotten. What names a build-up or a practice is told
    with the item.
    """
    design = job.design_of(result.option)
    before = _lines(measure_house(without_steel(on_grid(design), job.library)[0], job.library))
    found: dict[str, list[str]] = {}
    for each in fields(House):
        for changed in _changes(design, each.name):
            moved = apply_changes(design, Option(name="", changes={each.name: changed}))
            if setting_out_problems(moved, job.library.materials):
                continue
            after = _lines(measure_house(without_steel(on_grid(moved), job.library)[0], job.library))
            for id, lines in before.items():
                if after.get(id) != lines:
                    found.setdefault(id, []).append(each.name)
            break
    return SettingsBehind(result.design, {id: tuple(names) for id, names in found.items()})


def _changes(design: Design, name: str) -> Iterator[object]:
    """Yield other values of a setting, the first that can be set out to be taken; none of words."""
    value = getattr(design.house, name)
    if name == "stud_spacing" and value is None:
        value = design.stud_spacing
    if isinstance(value, bool):
        yield not value
    elif isinstance(value, int):
        yield value + 1
    elif isinstance(value, float):
        yield from (value * (1 + share) for share in _SHARES) if value else iter((0.05,))
    elif isinstance(value, tuple) and value:
        yield from (tuple(each * (1 + share) for each in value) for share in _SHARES)


def _lines(measured: MeasuredHouse) -> dict[str, tuple[object, ...]]:
    """Return the figures of the dimension lines of every item, to fractions of a millimetre."""
    lines: dict[str, tuple[object, ...]] = {
        quantity.id: tuple(
            (line.nil, *(_rounded(value) for value in (line.timesing, line.a, line.b, line.c)))
            for line in quantity.dimensions
        )
        for quantity in measured.quantities
    }
    return {**lines, INSIDE_FLOOR: (_rounded(measured.areas.inside),)}


def _rounded(value: float | None) -> float | None:
    """Return a figure without the last digits, which arithmetic in another order may leave."""
    return None if value is None else round(value, _PLACES)
