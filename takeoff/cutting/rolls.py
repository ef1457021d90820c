"""Lays membranes from rolls, course by course with side and end laps, running over openings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from takeoff.cutting.order_plan import OrderItem, OrderPlan
from takeoff.cutting.pools import Pool
from takeoff.cutting.summed import summed
from takeoff.measure.quantity import Quantity
from takeoff.measure.surface import Surface
from takeoff.model.library import Stock

_TOLERANCE = 1e-9


def courses(surface: Surface, *, width: float, lap: float, upright: bool) -> list[float]:
    """Return the length of every course of a roll that covers a face [m].

    Courses lap by `lap` along their sides; each is as long as the face is anywhere in its width. Openings are
    covered and cut out afterwards, as on site.
    """
    face, cover = surface.face, width - lap
    extent = face.width if upright else max(face.top_left, face.top_right) - face.bottom
    number = max(math.ceil((extent - width) / cover - _TOLERANCE), 0) + 1 if extent > _TOLERANCE else 0
    lengths = []
    for course in range(number):
        start = course * cover
        if upright:
            end = min(start + width, face.width)
            lengths.append(face.highest_between(start, end) - face.bottom)
        else:
            left, right = face.extent_at(face.bottom + start)
            lengths.append(right - left)
    return [length for length in lengths if length > _TOLERANCE]


def rolls_for(lengths: list[float], *, roll: float, end_lap: float) -> tuple[int, int]:
    """Return how many rolls cover courses laid one after the other, and how many end laps that takes.

    A course is lapped where a roll ends in it.
    """
    rolls, laps, rest = 0, 0, 0.0
    for length in lengths:
        here = length
        while here > _TOLERANCE:
            if rest <= end_lap + _TOLERANCE:
                rolls, rest = rolls + 1, roll
            joined = here < length - _TOLERANCE
            lap = end_lap if joined else 0.0
            laps += joined
            laid = min(here + lap, rest)
            here -= laid - lap
            rest -= laid
    return rolls, laps


def plan_rolls(pool: Pool, number: int) -> OrderPlan | None:
    """Return the rolls for all faces of a pool; None where the faces of one of its items are not known.

    Of several rolls on sale, and of level and upright courses where no direction is given, the ones are taken that use
    least area, then that buy least. The bound is that of the courses without any end lap.
    """
    if pool.unit != "m2" or any(not quantity.surfaces for quantity in pool.quantities):
        return None
    laid = min(
        (
            _laid(pool, row, length, upright)
            for row in pool.rows
            for length in row.lengths
            for upright in (False, True)
        ),
        key=lambda found: (round(found.used, 6), found.item.amount),
    )
    item, width, length = laid.item, laid.item.width or 0.0, laid.item.length or 0.0
    fewest = math.ceil(laid.run / length - _TOLERANCE)
    return OrderPlan(
        **summed(pool, number),
        basis="roll layout",
        order=item.amount,
        charged=laid.used,
        items=(item,),
        rule=f"{laid.run:.1f} m of {laid.way} courses {width * 1000:g} mm wide over the faces, openings cut out "
        "afterwards",
        worth=item.amount,
        bound=fewest * width * length,
        worth_unit="m2",
        proven=item.count == fewest,
    )


@dataclass(frozen=True, slots=True)
class _Laid:
    """Courses laid from rolls of one size: their length [m], the area used with end laps [m2], what is bought."""

    run: float
    used: float
    way: str
    item: OrderItem


def _laid(pool: Pool, row: Stock, length: float, upright: bool) -> _Laid:
    """Lay the faces of a pool from rolls of one size; `upright` holds where no direction is given."""
    width = row.width or pool.material.width or 1.0
    lengths = list(_courses(pool.quantities, width, pool.material.lap, upright))
    rolls, laps = rolls_for(lengths, roll=length, end_lap=row.end_lap)
    run = sum(lengths)
    return _Laid(
        run=run,
        used=(run + laps * row.end_lap) * width,
        way="upright" if upright else "level",
        item=OrderItem(stock=row, count=rolls, amount=rolls * width * length, length=length, width=width),
    )


def _courses(quantities: tuple[Quantity, ...], width: float, lap: float, upright: bool) -> Iterator[float]:
    """Yield the courses of all faces."""
    for quantity in quantities:
        up = upright if quantity.direction is None else quantity.direction == "vertical"
        for surface in quantity.surfaces:
            yield from courses(surface, width=width, lap=lap, upright=up)
