"""Where the house is cut: the place along the eaves at which a section along the span tells most."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.measure.room_plan import Zone
from takeoff.model.geometry import plan_point
from takeoff.model.house import Opening, Side

# A cut keeps clear of jambs and of walls that run along it [m].
_CLEAR_OF_JAMB = 0.12
_CLEAR_OF_WALL = 0.12
_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)
CUT_SIDES: tuple[Side, Side] = ("low", "high")


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomCut:
    """The stretch of a zone that the section cuts, between its finished faces up the slope [m]."""

    zone: Zone
    number: int
    start: float
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionLine:
    """The cut: its place along the eaves [m], the rooms it cuts from the low side up, the openings in both walls."""

    x: float
    rooms: tuple[RoomCut, ...]
    low: Opening | None
    high: Opening | None

    def opening(self, side: Side) -> Opening | None:
        """Return the opening that is cut in the low or the high wall, None where there is none."""
        return self.low if side == "low" else self.high


def section_line(result: Result) -> SectionLine:
    """Return the cut of a house that goes through most openings, windows first, and most walls between rooms.

    It keeps clear of jambs and of walls that run along it; the middle of the house where there is no opening.
    """
    places = [x for x in _candidates(result) if _is_clear(result, x)] or [result.design.house.length / 2]
    return max((line_at(result, x) for x in places), key=lambda line: _worth(result, line))


def line_at(result: Result, x: float) -> SectionLine:
    """Return the cut at a place along the eaves [m]."""
    spans = {side: _cut_opening(result, side, x) for side in CUT_SIDES}
    return SectionLine(x=x, rooms=tuple(_rooms(result, x)), low=spans["low"], high=spans["high"])


def _extent(result: Result, opening: Opening) -> tuple[float, float]:
    """Return both jambs of an opening of the low or high wall along the eaves [m]."""
    house = result.design.house
    ends = [plan_point(house, opening.side, s)[0] for s in (opening.position, opening.right)]
    return min(ends), max(ends)


def _candidates(result: Result) -> Iterator[float]:
    """Yield places to cut at: in what openings of both walls have in common, then in single ones."""
    low, high = (
        [_extent(result, opening) for opening in result.design.openings_in(side)] for side in CUT_SIDES
    )
    common = [(max(a, c), min(b, d)) for a, b in low for c, d in high]
    for start, end in (*common, *low, *high):
        start, end = start + _CLEAR_OF_JAMB, end - _CLEAR_OF_JAMB
        if start <= end:
            yield from (round(start + (end - start) * share, 2) for share in _SHARES)


def _is_clear(result: Result, x: float) -> bool:
    """Whether a cut keeps clear of the walls that run along it, and cuts at least one room."""
    along = (run for run in result.measured.inside.runs if run.axis == "y")
    return all(abs(run.at - x) > run.depth / 2 + _CLEAR_OF_WALL for run in along) and any(_rooms(result, x))


def _worth(result: Result, line: SectionLine) -> tuple[float, ...]:
    """Return how much a cut tells: openings, windows, rooms, kinds of ceiling, walls between rooms cut whole."""
    openings = [opening for opening in (line.low, line.high) if opening is not None]
    windows = sum(opening.kind == "window" for opening in openings)
    ceilings = len({room.zone.flat_height is None for room in line.rooms})
    doors = sum(
        placed.run.axis == "x" and placed.position < line.x < placed.right
        for placed in result.measured.inside.doors
    )
    off_middle = sum(abs(line.x - sum(_extent(result, opening)) / 2) for opening in openings)
    return (len(openings), min(windows, 1), len(line.rooms), ceilings, -doors, windows, -round(off_middle, 3))


def _cut_opening(result: Result, side: Side, x: float) -> Opening | None:
    """Return the opening of a side that is cut, the lowest where one stands over another."""
    cut = []
    for opening in result.design.openings_in(side):
        start, end = _extent(result, opening)
        if start < x < end:
            cut.append(opening)
    return min(cut, key=lambda opening: opening.sill, default=None)


def _rooms(result: Result, x: float) -> list[RoomCut]:
    """Return the stretches of rooms that are cut, those of one zone that touch made one."""
    zones: Sequence[Zone] = result.measured.inside.plan.zones
    cuts = [
        RoomCut(zone=zone, number=number, start=box.from_y, end=box.to_y)
        for number, zone in enumerate(zones)
        for box in zone.boxes
        if box.from_x < x < box.to_x
    ]
    joined: list[RoomCut] = []
    for cut in sorted(cuts, key=lambda each: each.start):
        last = joined[-1] if joined else None
        if last is not None and last.number == cut.number and abs(last.end - cut.start) < 1e-6:
            joined[-1] = RoomCut(zone=cut.zone, number=cut.number, start=last.start, end=cut.end)
        else:
            joined.append(cut)
    return joined
