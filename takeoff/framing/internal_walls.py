"""Sets out the frames of internal and party walls, stick by stick."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.framing.member import Member
from takeoff.framing.openings import Hole, OpeningFrame, frame_hole
from takeoff.framing.wall_setting_out import WallSettingOut, beside
from takeoff.model.geometry import Face, height_at, slope_factor
from takeoff.model.house import Design, InternalDoor
from takeoff.model.room_edges import TOLERANCE, Edge
from takeoff.model.wall_runs import (
    Meeting,
    WallRun,
    frame_pieces,
    junction_places,
    meetings,
    on_outline,
    reach_at_end,
)

# Height of the top of a wall that stops at flat ceilings, None where it goes to the roof [m].
StopHeight = Callable[[Edge], float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class InternalFrame:
    """One frame of an internal wall or of a leaf of a party wall [m].

    It stands on the run marked `run` from `start` to `end` along its axis; s of its members runs from
    `start`. `across` is the place of its middle across the axis.
    """

    run: str
    build_up: str
    party: bool
    loadbearing: bool
    start: float
    end: float
    across: float
    face: Face
    members: tuple[Member, ...]
    openings: tuple[OpeningFrame[Hole], ...]

    @property
    def net_area(self) -> float:
        """Face of the frame less its openings [m2]."""
        return self.face.area - sum(framed.opening.area for framed in self.openings)

    @property
    def timber_area(self) -> float:
        """Area that sticks take of the face [m2]."""
        return sum(member.seen_area for member in self.members)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedDoor:
    """An internal door in its wall: the run it stands in and its nearer jamb along the run's axis [m]."""

    door: InternalDoor
    run: WallRun
    position: float

    @property
    def right(self) -> float:
        """Its further jamb along the axis [m]."""
        return self.position + self.door.width


@dataclass(frozen=True, slots=True)
class Leaf:
    """One leaf of a wall: the place of its middle across the run, and -1, 0 or +1 for its side of a gap."""

    across: float
    side: int


def door_places(design: Design, runs: Sequence[WallRun], *, inset: float) -> list[PlacedDoor]:
    """Return the internal doors in their walls; those between rooms that share no wall are left out.

    A door without a position stands in the middle of what its rooms share, between the frames at its ends.
    """
    placed = []
    for door in design.internal_doors:
        for run in runs:
            edge = next((e for e in run.edges if {e.before, e.after} == set(door.rooms)), None)
            if edge is None:
                continue
            position = door.position
            if position is None:
                left, right = _clear(edge, run, runs, design, inset)
                position = (left + right - door.width) / 2
            placed.append(PlacedDoor(door=door, run=run, position=position))
    return placed


def _clear(
    edge: Edge, run: WallRun, runs: Sequence[WallRun], design: Design, inset: float
) -> tuple[float, float]:
    """Return the stretch of an edge that its frame fills [m]."""
    for start, end in frame_pieces(run, runs, design.house, inset=inset):
        left, right = max(start, edge.start), min(end, edge.end)
        if right > left:
            return left, right
    return edge.start, edge.end


def load_on(design: Design, run: WallRun) -> float:
    """Return the level width of roof that a loadbearing internal wall carries [m], 0 for the others.

    Half the span of rafters to each side. Source: common practice, no source.
    """
    if not run.loadbearing:
        return 0.0
    lines = sorted((0.0, *design.house.support_lines, design.house.span))
    nearest = min(lines[1:-1], key=lambda line: abs(line - run.at))
    index = lines.index(nearest)
    return (lines[index + 1] - lines[index - 1]) / 2


def frame_internal_walls(
    design: Design, runs: Sequence[WallRun], *, inset: float, stop_height: StopHeight
) -> tuple[InternalFrame, ...]:
    """Set out every internal wall and both leaves of every party wall.

    Frames go up to the underside of the rafters, level along the eaves (at the lower face of the wall) and
    raking up the slope; they stop level where `stop_height` says so, and step where it changes. Where
    another wall meets one, it has the junction studs of the framing practice. A loadbearing wall, under a
    support line, has lintels for the roof it carries.

    Args:
        design: the house.
        runs: its internal walls.
        inset: distance of the ends of frames from the outline at external walls [m].
        stop_height: of an edge between two rooms, the height its wall stops at.

    Raises LookupError where no row of the lintel table carries a door.

    Source: common practice, no source.
    """
    doors = door_places(design, runs, inset=inset)
    frames: list[InternalFrame] = []
    for run in runs:
        number = itertools.count(1)
        for leaf in leaves(run):
            for start, end, top in frame_stretches(design, run, runs, leaf, inset, stop_height):
                mark = f"{run.mark}{chr(ord('a') + next(number) - 1)}"
                frames.append(_frame(design, run, runs, leaf, (start, end, top), doors, mark))
    return tuple(frames)


def leaves(run: WallRun) -> tuple[Leaf, ...]:
    """Return the leaves of a wall."""
    if not run.party:
        return (Leaf(run.at, 0),)
    offset = (run.gap + run.leaf_depth) / 2
    return (Leaf(run.at - offset, -1), Leaf(run.at + offset, 1))


def frame_stretches(
    design: Design,
    run: WallRun,
    runs: Sequence[WallRun],
    leaf: Leaf,
    inset: float,
    stop_height: StopHeight,
) -> list[tuple[float, float, float | None]]:
    """Return the frames of a leaf: from, to, and the height they stop at, parted where that changes."""
    stretches: list[tuple[float, float, float | None]] = []
    for start, end in _leaf_pieces(run, runs, design, leaf, inset):
        here = start
        tops = [(edge, None if run.party or run.loadbearing else stop_height(edge)) for edge in run.edges]
        for (edge, top), following in itertools.zip_longest(tops, tops[1:]):
            reach = end if following is None else min(max(edge.end, start), end)
            if following is not None and following[1] == top:
                continue
            # less than a stud is closed by packing
            if reach - here > design.house.stud_thickness - TOLERANCE:
                stretches.append((here, reach, top))
            here = max(here, reach)
    return stretches


def _leaf_pieces(
    run: WallRun, runs: Sequence[WallRun], design: Design, leaf: Leaf, inset: float
) -> list[tuple[float, float]]:
    """Return the stretches that a leaf fills.

    Where a party wall turns a corner, each leaf turns with it; where one meets another, the leaf is parted at
    its gap.
    """
    pieces = frame_pieces(run, runs, design.house, inset=inset)
    if leaf.side == 0 or not pieces:
        return pieces
    for at_start in (True, False):
        place, outwards = (run.start, -1.0) if at_start else (run.end, 1.0)
        if on_outline(design.house, run, place):
            continue
        wall, face = reach_at_end(run, runs, at_start=at_start)
        turn = next((m for m in meetings(run, runs) if m.wall is wall and not m.passes), None)
        if wall is None or turn is None or not wall.party:
            continue
        inner = leaf.side == (1 if wall.end > run.at + TOLERANCE else -1)
        far, near = (wall.depth / 2, -wall.gap / 2) if face > 0 else (wall.gap / 2, -wall.depth / 2)
        reach = near if inner else far
        if at_start:
            pieces[0] = (place + outwards * reach, pieces[0][1])
        else:
            pieces[-1] = (pieces[-1][0], place + outwards * reach)
    return [part for piece in pieces for part in _parted(piece, run, runs, leaf)]


def _parted(
    piece: tuple[float, float], run: WallRun, runs: Sequence[WallRun], leaf: Leaf
) -> list[tuple[float, float]]:
    """Return a stretch of a leaf parted at the gaps of the party walls that meet it."""
    start, end = piece
    parts: list[tuple[float, float]] = []
    for meeting in meetings(run, runs):
        half = meeting.wall.gap / 2
        inner = start < meeting.place - half and meeting.place + half < end
        if meeting.wall.party and half > 0 and inner and _on_side(meeting, run, leaf):
            parts.append((start, meeting.place - half))
            start = meeting.place + half
    return [*parts, (start, end)]


def _on_side(meeting: Meeting, run: WallRun, leaf: Leaf) -> bool:
    """Whether a wall that meets a party wall stands on the side of one of its leaves."""
    if leaf.side > 0:
        return meeting.wall.end > run.at + TOLERANCE
    return meeting.wall.start < run.at - TOLERANCE


def _frame(
    design: Design,
    run: WallRun,
    runs: Sequence[WallRun],
    leaf: Leaf,
    stretch: tuple[float, float, float | None],
    doors: Sequence[PlacedDoor],
    mark: str,
) -> InternalFrame:
    """Set out one frame."""
    start, end, top = stretch
    build_up = design.build_ups[run.build_up]
    layer = build_up.layers[build_up.frame_index() or 0]
    house = design.house
    face = frame_face(design, run, leaf, start, end, top)
    load = load_on(design, run)
    holes = tuple(
        frame_hole(
            design,
            Hole(
                mark=placed.door.mark,
                position=placed.position - start,
                width=placed.door.width,
                height=placed.door.height,
            ),
            load=load,
            loadbearing=run.loadbearing,
        )
        for placed in sorted(doors, key=lambda placed: placed.position)
        if placed.run is run and start - TOLERANCE <= placed.position < end
    )
    setting_out = WallSettingOut(
        place=f"wall {run.mark}"
        if leaf.side == 0
        else f"party wall {run.mark}, leaf {'A' if leaf.side < 0 else 'B'}",
        mark=mark,
        material=layer.material,
        practice=design.practice,
        face=face,
        frames=holes,
        thickness=house.stud_thickness,
        depth=run.leaf_depth,
        spacing=layer.spacing or design.stud_spacing,
        longest_length=house.longest_length,
        slope_factor=slope_factor(house),
        junction_centres=tuple(
            centre
            for place in _junctions_of(run, runs, leaf)
            if start < place < end
            for centre in beside(place - start, design.practice.junction_studs, house.stud_thickness)
        ),
    )
    return InternalFrame(
        run=run.mark,
        build_up=run.build_up,
        party=run.party,
        loadbearing=run.loadbearing,
        start=start,
        end=end,
        across=leaf.across,
        face=face,
        members=tuple(setting_out.sticks()),
        openings=holes,
    )


def _junctions_of(run: WallRun, runs: Sequence[WallRun], leaf: Leaf) -> list[float]:
    """Return where other walls butt against a leaf: those on its own side of a party wall."""
    places = junction_places(run, runs)
    if leaf.side == 0:
        return places
    touching = {
        meeting.place
        for meeting in meetings(run, runs)
        if not meeting.wall.party and _on_side(meeting, run, leaf)
    }
    return [place for place in places if place in touching]


def frame_face(design: Design, run: WallRun, leaf: Leaf, start: float, end: float, top: float | None) -> Face:
    """Return the face of a frame: to the roof, or level at the height it stops at."""
    house, width = design.house, end - start
    if run.axis == "x":
        # the plates are level: their lower face meets the rafters first
        left = right = height_at(house, leaf.across - run.leaf_depth / 2)
    else:
        left, right = height_at(house, start), height_at(house, end)
    if top is not None and top < min(left, right):
        left = right = top
    return Face(width, 0.0, left, right)
