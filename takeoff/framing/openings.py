"""What frames an opening: its lintel, its jamb studs, the room they need, and whether it fits."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from takeoff.model.geometry import side_length, slope_factor, wall_face
from takeoff.model.house import SIDES, Design, LintelRow, Opening, Side
from takeoff.model.problem import WorkbookProblem, at
from takeoff.model.wall_runs import WallRun, wall_runs, walls_meeting

LOADBEARING: tuple[Side, ...] = ("low", "high")


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """An opening in an internal wall, measured from the left end of its frame [m]."""

    mark: str
    position: float
    width: float
    height: float
    sill: float = 0.0

    @property
    def area(self) -> float:
        """Area [m2]."""
        return self.width * self.height

    @property
    def head(self) -> float:
        """Height of the head above floor level [m]."""
        return self.sill + self.height

    @property
    def right(self) -> float:
        """Position of the further jamb [m]."""
        return self.position + self.width


HoleT_co = TypeVar("HoleT_co", bound="Opening | Hole", covariant=True)
HoleT = TypeVar("HoleT", bound="Opening | Hole")


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningFrame(Generic[HoleT_co]):
    """The framing of one opening. Lengths in m.

    `lintel` is None where the practice leaves lintels out of walls that carry no rafters.
    `left` and `right` bound the room that jamb studs take.
    """

    opening: HoleT_co
    lintel: LintelRow | None
    jamb_studs: int
    studs_under: int
    left: float
    right: float


def roof_width_carried(design: Design, side: Side) -> float:
    """Return the level width of roof that a wall carries: half the next span, and its overhang [m].

    Side walls carry no rafters: 0. Source: common practice, no source.
    """
    house = design.house
    if side not in LOADBEARING:
        return 0.0
    lines = sorted((0.0, *house.support_lines, house.span))
    if side == "low":
        return (lines[1] - lines[0]) / 2 + house.overhang_low
    return (lines[-1] - lines[-2]) / 2 + house.overhang_high


def lintel_for(design: Design, side: Side, width: float) -> LintelRow | None:
    """Return the first row of the lintel table that carries the load over the width, or None.

    Rows are tried by roof width carried, then by opening width; a wall that carries no roof takes the
    rows for 0.
    """
    return lintel_row(design, load=roof_width_carried(design, side), width=width)


def lintel_row(design: Design, *, load: float, width: float) -> LintelRow | None:
    """Return the first row of the lintel table for a roof width carried and an opening width [m], or None."""
    rows = sorted(design.lintels, key=lambda row: (row.load_width, row.opening_width))
    for row in rows:
        if row.load_width >= load - 1e-9 and row.opening_width >= width - 1e-9:
            return row
    return None


def frame_opening(design: Design, opening: Opening) -> OpeningFrame[Opening]:
    """Return what frames an opening under the framing practice in force.

    Raises LookupError where no row of the lintel table is enough.
    """
    return frame_hole(
        design,
        opening,
        load=roof_width_carried(design, opening.side),
        loadbearing=opening.side in LOADBEARING,
    )


def frame_hole(design: Design, opening: HoleT, *, load: float, loadbearing: bool) -> OpeningFrame[HoleT]:
    """Return what frames an opening in a wall that carries a width of roof [m], 0 where it carries none.

    Raises LookupError where no row of the lintel table is enough.
    """
    practice = design.practice
    row = design.chosen_lintels.get(opening.mark) or lintel_row(design, load=load, width=opening.width)
    if row is None:
        raise LookupError(opening.mark)
    jambs = 1 if practice.jamb_studs == "one full-height stud" else row.jamb_studs
    bare = not loadbearing and not practice.lintels_in_nonbearing_walls
    under = 0 if bare else row.studs_under
    room = (jambs + under) * design.house.stud_thickness
    return OpeningFrame(
        opening=opening,
        lintel=None if bare else row,
        jamb_studs=jambs,
        studs_under=under,
        left=opening.position - room,
        right=opening.right + room,
    )


def opening_frames(design: Design, side: Side) -> list[OpeningFrame[Opening]]:
    """Return the framing of every opening of a wall, from left to right."""
    return [frame_opening(design, opening) for opening in design.openings_in(side)]


def on_grid(design: Design) -> Design:
    """Return the design with its openings where the framing practice puts them.

    Where the practice puts openings on the grid, each is moved by at most half the stud spacing, so
    that its outermost left jamb stud stands where a grid stud would; one that would then touch a
    neighbour, a corner, an internal wall or the top plates stays where it is. The design must have no opening problems.
    """
    if not design.practice.openings_on_grid:
        return design
    placed = {framed.opening.mark: framed.opening for side in SIDES for framed in _placed(design, side)}
    return replace(design, openings=tuple(placed[opening.mark] for opening in design.openings))


def _placed(design: Design, side: Side) -> list[OpeningFrame[Opening]]:
    """Return the framing of the openings of a wall, each moved on to the grid if it fits there."""
    frames = opening_frames(design, side)
    room = corner_room(design, side)
    placed: list[OpeningFrame[Opening]] = []
    meeting = walls_meeting(design, side, wall_runs(design))
    for index, framed in enumerate(frames):
        moved = _shifted(design, framed)
        left_limit = placed[-1].right if placed else room
        last = index + 1 == len(frames)
        right_limit = side_length(design.house, side) - room if last else frames[index + 1].left
        fits = moved.left >= left_limit - 1e-9 and moved.right <= right_limit + 1e-9
        fits = fits and not any(wall_in_opening(moved, run, place) for run, place in meeting)
        placed.append(moved if fits and _fits_under_top(design, moved) else framed)
    return placed


def wall_in_opening(framed: OpeningFrame[Opening], run: WallRun, place: float) -> bool:
    """Whether an internal wall meets its external wall in an opening, a party wall in its jamb studs too."""
    left, right = framed.opening.position, framed.opening.right
    if run.party:
        left, right = framed.left, framed.right
    return place + run.depth / 2 > left + 1e-9 and place - run.depth / 2 < right - 1e-9


def _shifted(design: Design, framed: OpeningFrame[Opening]) -> OpeningFrame[Opening]:
    """Return the opening moved so that its outermost left jamb stud stands on the stud grid."""
    house = design.house
    start = 0.0 if framed.opening.side in LOADBEARING else house.stud_depth
    centre = framed.left + house.stud_thickness / 2 - start
    shift = round(centre / design.stud_spacing) * design.stud_spacing - centre
    return replace(
        framed,
        opening=replace(framed.opening, position=framed.opening.position + shift),
        left=framed.left + shift,
        right=framed.right + shift,
    )


def corner_room(design: Design, side: Side) -> float:
    """Return the length at each end of a wall that corner studs take, from the house corner [m]."""
    house = design.house
    if side in LOADBEARING:
        return house.stud_thickness if design.practice.corner_studs == 0 else _corner_block(design)
    return house.stud_depth + house.stud_thickness


def _corner_block(design: Design) -> float:
    """Return the length of the built-up corner of a wall that runs through [m]."""
    house = design.house
    return house.stud_depth + max(design.practice.corner_studs, 1) * house.stud_thickness


def plates_depth(design: Design, side: Side) -> float:
    """Return the upright depth of the top plates [m]; on a raking wall it is taken upright."""
    depth = design.practice.top_plates * design.house.stud_thickness
    return depth if side in LOADBEARING else depth * slope_factor(design.house)


def head_room_needed(design: Design, framed: OpeningFrame[Opening]) -> float:
    """Return the height needed over the head of an opening for its lintel or head trimmer [m]."""
    return framed.lintel.depth if framed.lintel else design.house.stud_thickness


def _lowest_top(design: Design, opening: Opening) -> float:
    """Return the lowest underside of the top plates over an opening [m]."""
    face = wall_face(design.house, opening.side)
    top = min(face.top_at(opening.position), face.top_at(opening.right))
    return top - plates_depth(design, opening.side)


def head_room(design: Design, opening: Opening) -> float:
    """Return the height between the head of an opening and the top plates [m]."""
    return _lowest_top(design, opening) - opening.head


def _fits_under_top(design: Design, framed: OpeningFrame[Opening]) -> bool:
    """Whether head and lintel of an opening stay below the top plates."""
    return (
        framed.opening.head + head_room_needed(design, framed) <= _lowest_top(design, framed.opening) + 1e-9
    )


def _mm(value: float) -> str:
    """Return a length as whole mm for a message."""
    return f"{value * 1000:.0f} mm"


def opening_problems(design: Design) -> list[WorkbookProblem]:
    """Return what is wrong with the openings: outside the wall, too high, too near, no lintel."""
    problems: list[WorkbookProblem] = []
    for side in SIDES:
        problems += _problems_of_wall(design, side)
    return problems


def _problems_of_wall(design: Design, side: Side) -> Iterable[WorkbookProblem]:
    """Yield what is wrong with the openings of one wall."""
    house = design.house
    width = side_length(house, side)
    room = corner_room(design, side)
    previous: OpeningFrame[Opening] | None = None
    for opening in design.openings_in(side):
        origin, name = opening.origin, f"opening {opening.mark}"
        if opening.right > width + 1e-9:
            yield at(
                origin,
                "position",
                found=f"{name} ends {opening.right:.3f} m along the {side} wall",
                expected=f"it to end within the wall, {width:.3f} m long",
                mend="Move it, make it narrower or the house longer",
            )
            continue
        try:
            framed = frame_opening(design, opening)
        except LookupError:
            carried = roof_width_carried(design, side)
            yield at(
                origin,
                "width",
                found=f"{name} is {opening.width:.3f} m wide under {carried:.2f} m of roof",
                expected="a row of the Lintels sheet that carries it",
                mend="Add a row to the Lintels sheet or make the opening narrower",
            )
            continue
        if framed.left < room - 1e-9 or framed.right > width - room + 1e-9:
            gap = min(framed.left, width - framed.right)
            yield at(
                origin,
                "position",
                found=f"{name} with its jamb studs comes within {_mm(gap)} of a corner of the {side} wall",
                expected=f"at least {_mm(room)} for the corner studs",
                mend="Move it away from the corner",
            )
        if previous is not None and framed.left < previous.right - 1e-9:
            overlap = opening.position < previous.opening.right - 1e-9
            clear = opening.position - previous.opening.right
            needed = (framed.opening.position - framed.left) + (previous.right - previous.opening.right)
            yield at(
                origin,
                "position",
                found=f"{name} overlaps opening {previous.opening.mark}"
                if overlap
                else f"{name} stands {_mm(clear)} from opening {previous.opening.mark}",
                expected=f"at least {_mm(needed)} between them for the jamb studs",
                mend="Move one of them",
            )
        top = _lowest_top(design, opening)
        head = head_room_needed(design, framed)
        if opening.head + head > top + 1e-9:
            what = f"{_mm(head)} lintel" if framed.lintel else f"{_mm(head)} head trimmer"
            reach = opening.head + head
            yield at(
                origin,
                "height",
                found=f"{name} with its {what} reaches {reach:.3f} m in the {side} wall",
                expected=f"at most {top:.3f} m, the underside of the top plates there",
                mend="Lower it, or move it to where the wall is higher",
            )
        previous = framed if previous is None or framed.right > previous.right else previous
