"""Internal and party walls as they follow from rooms: straight runs, and where each begins and ends."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from takeoff.model.geometry import Gap
from takeoff.model.house import OPEN, BuildUp, Design, House, Room, Side
from takeoff.model.room_edges import TOLERANCE, Axis, Edge, rooms_of, shared_edges


@dataclass(frozen=True, slots=True, kw_only=True)
class WallRun:
    """One straight wall between rooms, on its centre line [m].

    It runs along `axis` from `start` to `end`, at `at` across it. `leaf_depth` is the depth of its studs;
    a party wall has two leaves with a `gap` between them, other walls one leaf. `edges` are the edges of
    rooms that it stands on, from its start to its end.
    """

    axis: Axis
    at: float
    start: float
    end: float
    build_up: str
    party: bool
    loadbearing: bool
    leaf_depth: float
    gap: float
    edges: tuple[Edge, ...]
    mark: str = ""

    @property
    def depth(self) -> float:
        """Depth of its frame, both leaves and the gap of a party wall [m]."""
        return 2 * self.leaf_depth + self.gap if self.party else self.leaf_depth

    @property
    def rank(self) -> tuple[bool, bool, bool]:
        """Which of two walls runs through where they cross: party, loadbearing, along the eaves."""
        return (self.party, self.loadbearing, self.axis == "x")

    @property
    def length(self) -> float:
        """Length between its nodes [m]."""
        return self.end - self.start


def wall_between(design: Design, one: Room, other: Room) -> tuple[str, bool] | None:
    """Return the build-up of the wall between two rooms and whether it is a party wall; None if open.

    A party wall comes first, then the pair's own choice, then the wall of wet rooms, then the house's.
    """
    house = design.house
    if house.separate_dwellings and one.dwelling.strip().lower() != other.dwelling.strip().lower():
        return (house.party_wall or "", True)
    for choice in design.wall_choices:
        if set(choice.rooms) == {one.name, other.name}:
            return None if choice.build_up == OPEN else (choice.build_up, False)
    if (one.wet or other.wet) and house.wet_wall:
        return (house.wet_wall, False)
    return (house.internal_wall or "", False)


def gap_depth(build_up: BuildUp) -> float:
    """Return the gap between the leaves of a party wall: the layers before its frame [m]."""
    index = build_up.frame_index() or 0
    return sum(layer.thickness or 0.0 for layer in build_up.layers[:index])


def leaf_depth(build_up: BuildUp) -> float:
    """Return the depth of the studs of an internal or party wall [m]."""
    index = build_up.frame_index()
    return 0.0 if index is None else build_up.layers[index].thickness or 0.0


def wall_runs(design: Design) -> tuple[WallRun, ...]:
    """Return the internal walls: edges of rooms with the same wall, joined where they follow each other.

    Marks `I01`, `I02`... go along the eaves first, from the low side up, then up the slope from the left.
    """
    rooms = {room.name: room for room in rooms_of(design)}
    runs: list[WallRun] = []
    for edge in shared_edges(tuple(rooms.values())):
        wall = wall_between(design, rooms[edge.before], rooms[edge.after])
        if wall is None or wall[0] not in design.build_ups:
            continue
        last = runs[-1] if runs else None
        if last is not None and _follows(last, edge, wall):
            runs[-1] = replace(last, end=edge.end, edges=(*last.edges, edge))
        else:
            runs.append(_run(design, edge, *wall))
    return tuple(replace(run, mark=f"I{number:02d}") for number, run in enumerate(runs, start=1))


def _follows(run: WallRun, edge: Edge, wall: tuple[str, bool]) -> bool:
    """Whether an edge goes on where a run ends, with the same wall."""
    return (
        run.axis == edge.axis
        and abs(run.at - edge.at) < TOLERANCE
        and abs(run.end - edge.start) < TOLERANCE
        and (run.build_up, run.party) == wall
    )


def _run(design: Design, edge: Edge, name: str, party: bool) -> WallRun:
    """Return a run of one edge."""
    build_up = design.build_ups[name]
    depth = leaf_depth(build_up)
    carries = edge.axis == "x" and any(
        abs(line - edge.at) <= depth / 2 + TOLERANCE for line in design.house.support_lines
    )
    return WallRun(
        axis=edge.axis,
        at=edge.at,
        start=edge.start,
        end=edge.end,
        build_up=name,
        party=party,
        loadbearing=carries and not party,
        leaf_depth=depth,
        gap=gap_depth(build_up) if party else 0.0,
        edges=(edge,),
    )


@dataclass(frozen=True, slots=True)
class Meeting:
    """A wall that meets another at right angles: the wall, where along the other, whether it goes on beyond."""

    wall: WallRun
    place: float
    passes: bool


def meetings(run: WallRun, runs: Iterable[WallRun]) -> list[Meeting]:
    """Return the walls at right angles to a run that touch it, along its length."""
    found = [
        Meeting(other, other.at, other.start < run.at - TOLERANCE and other.end > run.at + TOLERANCE)
        for other in runs
        if other.axis != run.axis
        and run.start - TOLERANCE <= other.at <= run.end + TOLERANCE
        and other.start - TOLERANCE <= run.at <= other.end + TOLERANCE
    ]
    return sorted(found, key=lambda meeting: meeting.place)


def across_extent(house: House, axis: Axis) -> float:
    """Return how far the plan reaches along an axis [m]."""
    return house.length if axis == "x" else house.span


def on_outline(house: House, run: WallRun, place: float) -> bool:
    """Whether a place along a run lies on the outline of the plan."""
    return place < TOLERANCE or place > across_extent(house, run.axis) - TOLERANCE


def reach_at_end(run: WallRun, runs: Sequence[WallRun], *, at_start: bool) -> tuple[WallRun | None, int]:
    """Return the wall that decides where a run ends, and which face of it: -1 near, +1 far, 0 the node.

    A run ends at the near face of a wall that goes on beyond it or outranks it; it goes to the far face of
    one that it outranks, so that the corner is closed, unless another wall goes on in its line.
    """
    place = run.start if at_start else run.end
    crossing = [m for m in meetings(run, runs) if abs(m.place - place) < TOLERANCE]
    if not crossing:
        return None, 0
    deciding = max(crossing, key=lambda m: (m.passes, m.wall.rank, m.wall.depth))
    if deciding.passes or deciding.wall.rank > run.rank:
        return deciding.wall, -1
    goes_on = [
        other
        for other in runs
        if other.axis == run.axis
        and abs(other.at - run.at) < TOLERANCE
        and abs((other.end if at_start else other.start) - place) < TOLERANCE
    ]
    if any(other.rank > deciding.wall.rank for other in goes_on):
        return None, 0
    return deciding.wall, 1


def frame_pieces(
    run: WallRun, runs: Sequence[WallRun], house: House, *, inset: float
) -> list[tuple[float, float]]:
    """Return the stretches of a run that frames fill, along its axis [m].

    A frame ends `inset` from the outline at an external wall, and is cut where a wall that outranks it runs
    through.
    """
    extent = across_extent(house, run.axis)
    ends: list[float] = []
    for at_start in (True, False):
        place, inwards = (run.start, 1.0) if at_start else (run.end, -1.0)
        if on_outline(house, run, place):
            ends.append(inset if at_start else extent - inset)
            continue
        wall, face = reach_at_end(run, runs, at_start=at_start)
        half = 0.0 if wall is None else wall.depth / 2
        ends.append(place - inwards * face * half)
    start, end = ends
    pieces: list[tuple[float, float]] = []
    for meeting in meetings(run, runs):
        inner = run.start + TOLERANCE < meeting.place < run.end - TOLERANCE
        if inner and meeting.passes and meeting.wall.rank > run.rank:
            pieces.append((start, meeting.place - meeting.wall.depth / 2))
            start = meeting.place + meeting.wall.depth / 2
    pieces.append((start, end))
    return [(a, b) for a, b in pieces if b - a > TOLERANCE]


def junction_places(run: WallRun, runs: Sequence[WallRun]) -> list[float]:
    """Return where other walls butt against a run, along its axis [m]."""
    return [
        meeting.place
        for meeting in meetings(run, runs)
        if not meeting.wall.rank > run.rank or not meeting.passes
    ]


def party_gaps(runs: Sequence[WallRun], house: House) -> tuple[Gap, ...]:
    """Return the gaps between the leaves of party walls, which no timber of floor or roof crosses.

    They reach the outline at external walls, and turn corners with the party wall.
    """
    gaps = []
    for run in runs:
        if not run.party or run.gap <= 0:
            continue
        ends = []
        for at_start in (True, False):
            place, outwards = (run.start, -1.0) if at_start else (run.end, 1.0)
            turns = [
                meeting.wall.gap / 2
                for meeting in meetings(run, runs)
                if meeting.wall.party and abs(meeting.place - place) < TOLERANCE
            ]
            ends.append(place + outwards * max(turns, default=0.0))
        low, high = run.at - run.gap / 2, run.at + run.gap / 2
        gaps.append(
            Gap(from_x=ends[0], to_x=ends[1], from_y=low, to_y=high)
            if run.axis == "x"
            else Gap(from_x=low, to_x=high, from_y=ends[0], to_y=ends[1])
        )
    return tuple(gaps)


def walls_meeting(design: Design, side: Side, runs: Sequence[WallRun]) -> list[tuple[WallRun, float]]:
    """Return the internal walls that end at an external one and where, from its left end seen from outside."""
    house = design.house
    axis = "y" if side in ("low", "high") else "x"
    found = []
    for run in (run for run in runs if run.axis == axis):
        extent = house.span if axis == "y" else house.length
        touches = run.start < TOLERANCE if side in ("low", "left") else run.end > extent - TOLERANCE
        if touches:
            mirrored = {"low": False, "high": True, "left": True, "right": False}[side]
            length = house.length if axis == "y" else house.span
            found.append((run, length - run.at if mirrored else run.at))
    return sorted(found, key=lambda pair: pair[1])
