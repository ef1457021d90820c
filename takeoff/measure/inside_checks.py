"""What keeps the inside of a house from being set out: walls, doors, ceilings and bulkheads that do not fit."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.framing.internal_walls import (
    PlacedDoor,
    door_places,
    frame_face,
    frame_stretches,
    leaves,
    load_on,
)
from takeoff.framing.openings import Hole, OpeningFrame, frame_hole, opening_frames, wall_in_opening
from takeoff.measure.inside import stop_height
from takeoff.measure.linings import ceiling_lining, raked_drop, structure_inset
from takeoff.model.geometry import Face, height_at, plan_point, slope_factor
from takeoff.model.house import SIDES, Bulkhead, Design, Room, Side
from takeoff.model.library import Library
from takeoff.model.problem import Origin, WorkbookProblem, at
from takeoff.model.room_edges import TOLERANCE, rooms_of, shared_edges
from takeoff.model.wall_runs import WallRun, meetings, wall_between, wall_runs, walls_meeting


def inside_problems(design: Design, library: Library) -> list[WorkbookProblem]:
    """Return what is wrong with the inside of a house whose rooms tile the plan."""
    missing = list(_missing_walls(design))
    if missing:
        return missing
    runs = wall_runs(design)
    return [
        *_pairs(design),
        *_walls_in_openings(design, runs),
        *_Doors(design, library, runs).problems(),
        *_ceilings(design, library),
        *_raked(design),
        *_heads(design),
        *_bulkheads(design, library),
    ]


def _missing_walls(design: Design) -> Iterator[WorkbookProblem]:
    """Yield a problem where rooms need a wall and the House sheet names none."""
    rooms = {room.name: room for room in rooms_of(design)}
    told: set[str] = set()
    for edge in shared_edges(tuple(rooms.values())):
        wall = wall_between(design, rooms[edge.before], rooms[edge.after])
        if wall is None or wall[0]:
            continue
        setting = "party_wall" if wall[1] else "internal_wall"
        if setting not in told:
            told.add(setting)
            title = setting.replace("_", " ")
            yield at(
                design.house.origin.get(setting, Origin()),
                "value",
                found=f"{title} is blank, and {edge.before} and {edge.after} share an edge",
                expected=f"a build-up of the part {title}",
                mend="Name one; rooms open to each other go on the sheet Internal walls",
            )


def _pairs(design: Design) -> Iterator[WorkbookProblem]:
    """Yield pairs of the sheet Internal walls that share no edge, or stand there twice."""
    sharing = {frozenset((edge.before, edge.after)) for edge in shared_edges(rooms_of(design))}
    seen: set[frozenset[str]] = set()
    for choice in design.wall_choices:
        pair = frozenset(choice.rooms)
        if pair not in sharing:
            yield at(
                choice.origin,
                "other_room",
                found=f"{choice.rooms[0]} and {choice.rooms[1]} share no edge",
                expected="two rooms side by side",
            )
        elif pair in seen:
            yield at(
                choice.origin,
                "other_room",
                found=f"{choice.rooms[0]} and {choice.rooms[1]} stand here twice",
                expected="each pair once",
            )
        seen.add(pair)


def _walls_in_openings(design: Design, runs: Sequence[WallRun]) -> Iterator[WorkbookProblem]:
    """Yield internal walls that meet an external one in an opening."""
    rooms = {room.name: room for room in design.rooms}
    for side in SIDES:
        frames = opening_frames(design, side)
        for run, place in walls_meeting(design, side, runs):
            edge = run.edges[0] if side in ("low", "left") else run.edges[-1]
            for framed in frames:
                if wall_in_opening(framed, run, place):
                    yield at(
                        rooms[edge.before].origin,
                        "to_x" if run.axis == "y" else "to_y",
                        found=f"the wall between {edge.before} and {edge.after} meets the {side} wall in opening "
                        f"{framed.opening.mark}",
                        expected="it beside the opening" + (" and its jamb studs" if run.party else ""),
                        mend="Move the edge of the rooms or the opening",
                    )


@dataclass(frozen=True, slots=True)
class _Doors:
    """The doors between rooms, checked against the frames they stand in."""

    design: Design
    library: Library
    runs: Sequence[WallRun]

    def problems(self) -> Iterator[WorkbookProblem]:
        """Yield what is wrong with them."""
        inset = structure_inset(self.design, self.library)
        placed = {place.door.mark: place for place in door_places(self.design, self.runs, inset=inset)}
        for door in self.design.internal_doors:
            place = placed.get(door.mark)
            between = f"{door.rooms[0]} and {door.rooms[1]}"
            if place is None:
                yield at(
                    door.origin,
                    "other_room",
                    found=f"{door.mark} stands between {between}, which share no wall",
                    expected="two rooms with a wall between them",
                    mend="Take it out where the rooms are open to each other",
                )
            elif place.run.party:
                yield at(
                    door.origin,
                    "other_room",
                    found=f"{door.mark} stands in the party wall between {between}",
                    expected="no opening in a party wall",
                )
            else:
                yield from self._fit(place, inset)
        for one, other in itertools.combinations(placed.values(), 2):
            yield from self._apart(one, other)

    def _framed(self, place: PlacedDoor, start: float) -> OpeningFrame[Hole]:
        """Return the framing of a door, measured from the start of its frame."""
        door = place.door
        hole = Hole(mark=door.mark, position=place.position - start, width=door.width, height=door.height)
        return frame_hole(
            self.design, hole, load=load_on(self.design, place.run), loadbearing=place.run.loadbearing
        )

    def _fit(self, place: PlacedDoor, inset: float) -> Iterator[WorkbookProblem]:
        """Yield what keeps a door from standing in its wall."""
        door, run, design = place.door, place.run, self.design
        try:
            self._framed(place, 0.0)
        except LookupError:
            yield at(
                door.origin,
                "width",
                found=f"{door.mark} is {door.width:.3f} m wide under {load_on(design, run):.2f} m of roof",
                expected="a row of the Lintels sheet that carries it",
                mend="Add a row to the Lintels sheet or make the door narrower",
            )
            return
        leaf = leaves(run)[0]
        edge = next(e for e in run.edges if {e.before, e.after} == set(door.rooms))
        for start, end, top in frame_stretches(
            design, run, self.runs, leaf, inset, lambda e: stop_height(design, self.library, e)
        ):
            left, right = max(start, edge.start), min(end, edge.end)
            framed = self._framed(place, start)
            if start + framed.left < left - TOLERANCE or start + framed.right > right + TOLERANCE:
                continue
            yield from self._head(place, framed, frame_face(design, run, leaf, start, end, top))
            yield from self._crossed(place)
            return
        yield at(
            door.origin,
            "position",
            found=f"{door.mark} with its jamb studs from {place.position:.3f} to {place.right:.3f} m",
            expected=f"it within the wall that {door.rooms[0]} and {door.rooms[1]} share, {edge.start:.3f} to "
            f"{edge.end:.3f} m less the walls at its ends",
            mend="Move it, or leave Position blank for the middle",
        )

    def _head(self, place: PlacedDoor, framed: OpeningFrame[Hole], face: Face) -> Iterator[WorkbookProblem]:
        """Yield a problem where a door with its lintel reaches into the top plates."""
        house = self.design.house
        level = face.top_left == face.top_right
        plates = self.design.practice.top_plates * house.stud_thickness
        plates *= 1.0 if level else slope_factor(house)
        over = framed.lintel.depth if framed.lintel else house.stud_thickness
        lowest = min(face.top_at(framed.opening.position), face.top_at(framed.opening.right)) - plates
        reach = framed.opening.head + over
        if reach > lowest + TOLERANCE:
            yield at(
                place.door.origin,
                "height",
                found=f"{place.door.mark} with its lintel or head trimmer reaches {reach:.3f} m",
                expected=f"at most {lowest:.3f} m, the underside of the top plates there",
                mend="Lower it, or raise the ceiling of a room beside it",
            )

    def _crossed(self, place: PlacedDoor) -> Iterator[WorkbookProblem]:
        """Yield a problem where another wall meets this one in the door."""
        for meeting in meetings(place.run, self.runs):
            half = meeting.wall.depth / 2
            if place.position < meeting.place + half - TOLERANCE and place.right > meeting.place - half:
                yield at(
                    place.door.origin,
                    "position",
                    found=f"another wall meets the wall of {place.door.mark} at {meeting.place:.3f} m, in the door",
                    expected="the door beside it",
                    mend="Move one of them",
                )

    def _apart(self, one: PlacedDoor, other: PlacedDoor) -> Iterator[WorkbookProblem]:
        """Yield a problem where two doors of a wall stand in each other's jamb studs."""
        if one.run is not other.run or one.run.party:
            return
        try:
            first, second = sorted((one, other), key=lambda place: place.position)
            needed = (
                self._framed(first, 0.0).right
                - first.right
                + second.position
                - self._framed(second, 0.0).left
            )
        except LookupError:
            return
        clear = second.position - first.right
        if clear < needed - TOLERANCE:
            yield at(
                second.door.origin,
                "position",
                found=f"{second.door.mark} overlaps {first.door.mark}"
                if clear < -TOLERANCE
                else f"{second.door.mark} stands {clear * 1000:.0f} mm from {first.door.mark}",
                expected=f"at least {needed * 1000:.0f} mm between them for the jamb studs",
                mend="Move one of them",
            )


def _lowest_rake(design: Design, library: Library, room: Room, y: float) -> float:
    """Return the height of a raked ceiling in a room at y [m]."""
    return height_at(design.house, y) - raked_drop(design, library, room)


def _ceilings(design: Design, library: Library) -> Iterator[WorkbookProblem]:
    """Yield flat ceilings without a lining of their own, or above the rafters."""
    for room in rooms_of(design):
        flat = room.flat_ceiling
        if flat is None:
            continue
        if not room.ceiling_lining:
            yield at(
                room.origin,
                "ceiling_lining",
                found=f"{room.name} has a flat ceiling and no ceiling lining",
                expected="a build-up of the part ceiling lining",
                mend="The house's own ceiling rakes under the rafters",
            )
            continue
        # boards, battens and joists hang below the rafters, which are lowest at the low side of the room
        low_side = max(room.from_y, structure_inset(design, library))
        lowest = height_at(design.house, low_side) - ceiling_lining(design, library, room).depth(library)
        if flat > lowest + TOLERANCE:
            yield at(
                room.origin,
                "flat_ceiling",
                found=f"a flat ceiling at {flat:g} m in {room.name}",
                expected=f"at most {lowest:.3f} m, with its lining below the rafters at its low side",
            )


def _raked(design: Design) -> Iterator[WorkbookProblem]:
    """Yield rooms whose ceiling rakes and whose lining is one for flat ceilings."""
    for room in rooms_of(design):
        if room.flat_ceiling is not None or not room.ceiling_lining:
            continue
        ways = {layer.measured_by for layer in design.build_ups[room.ceiling_lining].layers}
        for way in sorted(ways & {"ceiling joists", "hangers"}):
            yield at(
                room.origin,
                "flat_ceiling",
                found=f"{room.name} has a ceiling lining with {way} and no flat ceiling",
                expected="a height for the flat ceiling, or a lining under the rafters",
            )


def _heads(design: Design) -> Iterator[WorkbookProblem]:
    """Yield openings whose head is above the flat ceiling of a room they stand in."""
    flat = [room for room in rooms_of(design) if room.flat_ceiling is not None]
    for door in design.internal_doors:
        for room in flat:
            if room.name in door.rooms and door.height > (room.flat_ceiling or 0.0) + TOLERANCE:
                yield _head_problem(door.origin, door.mark, door.height, room)
    for opening in design.openings:
        index = 0 if opening.side in ("low", "high") else 1
        ends = sorted(
            plan_point(design.house, opening.side, s)[index] for s in (opening.position, opening.right)
        )
        for room in flat:
            if (
                _beside(design, room, opening.side, ends)
                and opening.head > (room.flat_ceiling or 0.0) + TOLERANCE
            ):
                yield _head_problem(opening.origin, opening.mark, opening.head, room)


def _beside(design: Design, room: Room, side: Side, ends: list[float]) -> bool:
    """Whether a stretch of an external wall, along its axis, is one of a room's own walls."""
    house = design.house
    touches = {
        "low": room.from_y < TOLERANCE,
        "high": room.to_y > house.span - TOLERANCE,
        "left": room.from_x < TOLERANCE,
        "right": room.to_x > house.length - TOLERANCE,
    }[side]
    first, last = (room.from_x, room.to_x) if side in ("low", "high") else (room.from_y, room.to_y)
    return touches and ends[0] < last - TOLERANCE and ends[1] > first + TOLERANCE


def _head_problem(origin: Origin, mark: str, head: float, room: Room) -> WorkbookProblem:
    """Return the problem of a head above a flat ceiling."""
    return at(
        origin,
        "height",
        found=f"the head of {mark} at {head:.3f} m is above the flat ceiling of {room.name}",
        expected=f"at most {room.flat_ceiling:.3f} m",
        mend="Lower the opening or raise the ceiling",
    )


def _bulkheads(design: Design, library: Library) -> Iterator[WorkbookProblem]:
    """Yield bulkheads outside their room, above its ceiling, or in each other."""
    rooms = {room.name: room for room in rooms_of(design)}
    for bulkhead in design.bulkheads:
        room = rooms.get(bulkhead.room)
        if room is None:
            continue
        yield from _bulkhead(design, library, bulkhead, room)
    for one, other in itertools.combinations(design.bulkheads, 2):
        wide = min(one.to_x, other.to_x) - max(one.from_x, other.from_x)
        deep = min(one.to_y, other.to_y) - max(one.from_y, other.from_y)
        if wide > TOLERANCE and deep > TOLERANCE:
            yield at(
                other.origin,
                "name",
                found=f"{other.name} overlaps {one.name}",
                expected="each place in one bulkhead only",
            )


def _bulkhead(design: Design, library: Library, bulkhead: Bulkhead, room: Room) -> Iterator[WorkbookProblem]:
    """Yield what is wrong with one bulkhead."""
    for low, high, axis in (("from_x", "to_x", "x"), ("from_y", "to_y", "y")):
        start, end = getattr(bulkhead, low), getattr(bulkhead, high)
        first, last = getattr(room, low), getattr(room, high)
        if end - start < TOLERANCE or start < first - TOLERANCE or end > last + TOLERANCE:
            yield at(
                bulkhead.origin,
                high if end - start < TOLERANCE or end > last else low,
                found=f"{bulkhead.name} runs from {axis} {start:g} to {end:g} m",
                expected=f"within {room.name}, {axis} from {first:g} to {last:g} m",
            )
            return
    ceiling = room.flat_ceiling
    if ceiling is None:
        ceiling = _lowest_rake(design, library, room, bulkhead.from_y)
    if bulkhead.underside > ceiling - TOLERANCE:
        yield at(
            bulkhead.origin,
            "underside",
            found=f"the underside of {bulkhead.name} at {bulkhead.underside:g} m",
            expected=f"below the ceiling of {room.name}, {ceiling:.3f} m there",
        )
    if not (bulkhead.ceiling_lining or room.ceiling_lining):
        yield at(
            bulkhead.origin,
            "ceiling_lining",
            found=f"{bulkhead.name} has no ceiling lining, nor has {room.name}",
            expected="a build-up of the part ceiling lining",
        )
