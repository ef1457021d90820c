"""The inside of a house in plan: walls between rooms, doors, lettering, and what goes into the notes."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.places import Patch, between
from takeoff.documents.drawings.plan_cut import CutPlan, cut_plan
from takeoff.documents.drawings.plan_doors import (
    DoorInWall,
    Hanging,
    doors_in_walls,
    draw_door,
    hang_doors,
)
from takeoff.documents.drawings.plan_floors import RoomFloor, room_floors
from takeoff.documents.drawings.plan_labels import RoomLabels, letter_rooms
from takeoff.documents.drawings.plan_marks import door_mark, mark_patch, opening_mark
from takeoff.documents.drawings.plan_openings import Jambs, door_patches, draw_opening
from takeoff.documents.drawings.plan_supports import (
    LineAbove,
    bulkhead_words,
    ceiling_steps,
    draw_steps,
    draw_support,
    label_bulkhead,
    label_support,
    supports_above,
)
from takeoff.documents.drawings.plan_walls import Walls, draw_cut_walls, stands_over_another
from takeoff.documents.drawings.svg import Point
from takeoff.measure.inside import Inside
from takeoff.model.geometry import plan_point
from takeoff.model.house import SIDES, Design, Opening, Side
from takeoff.model.library import Library
from takeoff.model.room_edges import Box
from takeoff.model.wall_runs import party_gaps


@dataclass(frozen=True, slots=True)
class InsideDrawn:
    """The inside of a plan: the cut walls, all that is drawn over them, and what the notes must say.

    `unlabelled` are the support lines [m] and `bulkheads` the words for those that found no room in the plan.
    """

    walls: tuple[str, ...]
    elements: tuple[str, ...]
    labels: RoomLabels
    dashed: bool
    unlabelled: tuple[float, ...]
    bulkheads: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Lettered:
    """Where the marks stand, those of openings first (None where one has none), and the lettering of rooms."""

    marks: tuple[Point | None, ...]
    patches: tuple[Patch, ...]
    labels: RoomLabels

    @property
    def poorness(self) -> tuple[int, int, int]:
        """How many rooms go without their names, how many stand upright, how far others are from their best."""
        return (len(self.labels.listed), len(self.labels.upright), self.labels.rank)


@dataclass(frozen=True, slots=True)
class _Furnished:
    """What stands in a plan before anything is lettered: openings, doors, and the paper that they take."""

    floors: Sequence[RoomFloor]
    openings: Sequence[tuple[Jambs, bool]]
    opening_swings: Sequence[Sequence[Patch]]
    doors: Sequence[DoorInWall]
    hangings: Sequence[Hanging]
    door_swings: Sequence[Sequence[Patch]]
    lines: Sequence[Patch]

    @property
    def area(self) -> list[Patch]:
        """The paper that all rooms take."""
        return [patch for floor in self.floors for patch in floor.patches]

    @property
    def swings(self) -> list[Patch]:
        """The paper that all leaves take."""
        return [p for patches in (*self.opening_swings, *self.door_swings) for p in patches]

    def lettered(self, flipped: Collection[int], id_prefix: str) -> _Lettered:
        """Return marks and rooms lettered; the marks of `flipped` doors stand on the side of their leaf."""
        taken = list(self.lines)
        marks: list[Point | None] = []
        patches: list[Patch] = []
        for (jambs, hidden), own in zip(self.openings, self.opening_swings, strict=True):
            if hidden:
                marks.append(None)
                continue
            others = [*taken, *self._swings_but(own)]
            at = opening_mark(jambs, _behind(jambs, self.floors), self.area, own, others, patches)
            marks.append(at)
            patches.append(mark_patch(jambs.opening.mark, at))
        for index, (door, way) in enumerate(zip(self.doors, self.hangings, strict=True)):
            own = self.door_swings[index]
            area = [p for floor in self.floors if floor.room.name in door.door.rooms for p in floor.patches]
            others = [*taken, *self._swings_but(own)]
            at = door_mark(door, way, area, own, others, patches, flipped=index in flipped)
            marks.append(at)
            patches.append(mark_patch(door.door.mark, at))
        taken += [*self.swings, *(patch.grown(0.2) for patch in patches)]
        return _Lettered(tuple(marks), tuple(patches), letter_rooms(self.floors, taken, id_prefix))

    def _swings_but(self, own: Sequence[Patch]) -> list[Patch]:
        """Return the paper that all leaves but those of one opening take."""
        every = (*self.opening_swings, *self.door_swings)
        return [patch for patches in every if patches is not own for patch in patches]

    def crowding(self, found: _Lettered) -> set[int]:
        """Return the doors whose marks stand in rooms that are poorly lettered, and could stand elsewhere."""
        poor = [*(floor for _, floor in found.labels.listed), *found.labels.upright]
        crowded = {floor.room.name: floor for floor in poor}
        first = len(self.openings)
        doors = set()
        for index, door in enumerate(self.doors):
            patch = mark_patch(door.door.mark, found.marks[first + index] or (0.0, 0.0))
            rooms = set(door.door.rooms)
            if rooms <= crowded.keys():
                continue
            if any(patch.lies_in(crowded[name].patches) for name in rooms & crowded.keys()):
                doors.add(index)
        return doors


def _lettered(furnished: _Furnished, id_prefix: str) -> _Lettered:
    """Return marks and rooms lettered, marks of doors moved one by one where rooms are crowded."""
    best = furnished.lettered((), id_prefix)
    flipped: set[int] = set()
    for index in sorted(furnished.crowding(best)):
        found = furnished.lettered(flipped | {index}, id_prefix)
        if found.poorness <= best.poorness:
            best = found
            flipped.add(index)
    return best


def _behind(jambs: Jambs, floors: Sequence[RoomFloor]) -> list[Patch]:
    """Return the paper of the rooms that an opening gives on to."""
    o = jambs.opening
    depth = jambs.inside + 0.01
    points = [
        plan_point(jambs.house, o.side, s, depth) for s in (o.position, (o.position + o.right) / 2, o.right)
    ]
    return [
        patch
        for floor in floors
        if any(box.holds(*point) for box in floor.boxes for point in points)
        for patch in floor.patches
    ]


def draw_inside(
    design: Design, library: Library, inside: Inside, walls: Walls, paper: Paper, id_prefix: str
) -> InsideDrawn:
    """Return the plan of a house with rooms between its walls, everything lettered clear of everything else.

    Places are given away in this order: leaves and swings, lines above the cut, marks, rooms, support lines,
    bulkheads.
    """
    house = design.house
    floors = room_floors(house, inside, paper)
    doors = doors_in_walls(inside, paper)
    openings = list(_jambs(design, inside, walls, paper))
    opening_swings = [[] if hidden else door_patches(jambs) for jambs, hidden in openings]
    hangings, door_swings = hang_doors(doors, floors, [p for patches in opening_swings for p in patches])
    supports = supports_above(house, inside, [box for f in floors for box in f.boxes], walls.inwards)
    steps = ceiling_steps(inside, paper)
    furnished = _Furnished(
        floors,
        openings,
        opening_swings,
        doors,
        hangings,
        door_swings,
        [
            *(patch for line in supports for patch in line.patches(paper)),
            *(between((x1, y1), (x2, y2), clear=0.1) for x1, y1, x2, y2 in steps),
        ],
    )
    lettered = _lettered(furnished, id_prefix)
    elements = draw_steps(steps, id_prefix)
    for index, line in enumerate(supports, start=1):
        elements += draw_support(line, paper, id=f"{id_prefix}-support-{index}")
    elements += _draw_openings(furnished, lettered, id_prefix)
    elements += lettered.labels.elements
    taken = [*furnished.swings, *furnished.lines, *lettered.patches, *lettered.labels.patches]
    above, unlabelled, bulkheads = _label_lines(inside, supports, paper, furnished.area, taken)
    cut = _cut(design, inside, floors, [_box(jambs) for jambs, hidden in openings if not hidden], doors)
    return InsideDrawn(
        walls=tuple(draw_cut_walls(design, library, walls, cut, paper, id_prefix)),
        elements=(*elements, *above),
        labels=lettered.labels,
        dashed=bool(steps),
        unlabelled=unlabelled,
        bulkheads=bulkheads,
    )


def _draw_openings(furnished: _Furnished, lettered: _Lettered, id_prefix: str) -> list[str]:
    """Return the openings of the external walls and the doors between rooms, with their marks."""
    drawn = []
    first = len(furnished.openings)
    for index, (jambs, hidden) in enumerate(furnished.openings):
        at = lettered.marks[index]
        drawn.append(draw_opening(jambs, hidden=hidden, mark_at=at, id=f"{id_prefix}-opening-{index + 1}"))
    for index, (door, way) in enumerate(zip(furnished.doors, furnished.hangings, strict=True)):
        at = lettered.marks[first + index] or (0.0, 0.0)
        drawn.append(draw_door(door, way, at, id=f"{id_prefix}-door-{index + 1}"))
    return drawn


def _label_lines(
    inside: Inside,
    supports: Sequence[LineAbove],
    paper: Paper,
    area: Sequence[Patch],
    taken: Sequence[Patch],
) -> tuple[list[str], tuple[float, ...], tuple[str, ...]]:
    """Return the lettering of support lines and bulkheads, and those that found no room."""
    elements: list[str] = []
    every = list(taken)
    unlabelled: list[float] = []
    bulkheads: list[str] = []
    for line in supports:
        found = label_support(line, paper, area, every)
        if found is None:
            unlabelled.append(line.y)
        else:
            elements.append(found[0])
            every.append(found[1])
    for zone in inside.plan.zones:
        if zone.bulkhead is None:
            continue
        found = label_bulkhead(zone, paper, every)
        if found is None:
            bulkheads.append(f"{bulkhead_words(zone)}, in {zone.room.name}")
        else:
            elements.append(found[0])
            every.append(found[1])
    return elements, tuple(unlabelled), tuple(bulkheads)


def _cut(
    design: Design,
    inside: Inside,
    floors: Sequence[RoomFloor],
    openings: Sequence[Box],
    doors: Sequence[DoorInWall],
) -> CutPlan:
    """Return what the plan cuts."""
    return cut_plan(
        design.house,
        rooms=[box for floor in floors for box in floor.boxes],
        openings=[*openings, *(door.box() for door in doors)],
        gaps=[
            Box(gap.from_x, gap.to_x, gap.from_y, gap.to_y) for gap in party_gaps(inside.runs, design.house)
        ],
    )


def _jambs(design: Design, inside: Inside, walls: Walls, paper: Paper) -> Iterator[tuple[Jambs, bool]]:
    """Yield every opening of the external walls in its wall, and whether it stands over another."""
    for side in SIDES:
        openings = design.openings_in(side)
        for opening in openings:
            depth = _wall_depth(design, inside, side, opening, walls.inwards)
            jambs = Jambs(design.house, opening, -walls.cladding[side], depth, paper)
            yield jambs, stands_over_another(opening, openings)


def _wall_depth(design: Design, inside: Inside, side: Side, opening: Opening, usual: float) -> float:
    """Return the depth of an external wall at an opening, to the finished face of the room behind it [m]."""
    house = design.house
    x, y = plan_point(house, side, (opening.position + opening.right) / 2, 0.0)
    along = x if side in ("low", "high") else y
    extent = {"low": 0.0, "high": house.span, "left": 0.0, "right": house.length}[side]
    depths = [
        abs(extent - face.at)
        for face in inside.plan.faces
        if face.wall == side and face.along and face.start <= along <= face.end
    ]
    return max(depths, default=usual)


def _box(jambs: Jambs) -> Box:
    """Return what an opening cuts out of an external wall."""
    o = jambs.opening
    (x1, y1), (x2, y2) = (
        plan_point(jambs.house, o.side, o.position, 0.0),
        plan_point(jambs.house, o.side, o.right, jambs.inside),
    )
    return Box(min(x1, x2), max(x1, x2), min(y1, y2), max(y1, y2))
