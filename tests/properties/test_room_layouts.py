"""Random layouts of rooms against general plane geometry (shapely), mirror images and plain sums.

Layouts come from cutting the plan at random, with pinwheels that no straight cut makes. Rooms differ in lining,
wetness, dwelling and ceiling; some are open to each other, and those share a lining. Walls are drawn anew here
from their definition: a strip about what two rooms share, as thick as frame and lining on each side, the outer
corner closed where two walls meet at right angles. Studs, joists and rafters are set out from one
end, so that a mirror image may have other ones; what has no such end is compared.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise, product

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from takeoff.framing.floor import frame_floor
from takeoff.framing.internal_walls import InternalFrame
from takeoff.framing.openings import opening_problems
from takeoff.framing.roof import frame_roof
from takeoff.framing.walls import frame_wall
from takeoff.measure.inside import Inside, measure_inside
from takeoff.measure.inside_checks import inside_problems
from takeoff.model.checks import design_problems
from takeoff.model.geometry import plan_point, side_length
from takeoff.model.house import (
    OPEN,
    SIDES,
    BuildUp,
    Bulkhead,
    Design,
    InternalDoor,
    Layer,
    Option,
    Room,
    Side,
    WallChoice,
)
from takeoff.model.job import Job, apply_changes
from takeoff.model.library import Library, Material
from takeoff.model.room_edges import tiling_problems
from takeoff.model.wall_runs import WallRun, party_gaps, wall_runs

SOME = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
LEAST = 1200  # narrowest room [mm]
Rect = tuple[int, int, int, int]  # from x, to x, from y, to y [mm]
AREA = 1e-5  # [m2] coordinates are read to a thousandth of a mm
LENGTH = 1e-4


# --- a house to draw in: materials and build-ups of round thickness, no void left undeducted ---


def material(
    name: str, item_class: str, thickness: float | None = None, width: float | None = None
) -> Material:
    return Material(
        name=name,
        description=name,
        family="test",
        trade="linings",
        item_class=item_class,
        thickness=thickness,
        width=width,
    )


def layers(*ways: tuple[str, str] | tuple[str, str, float]) -> tuple[Layer, ...]:
    return tuple(
        Layer(
            number=number,
            material=way[0],
            thickness=way[2] if len(way) > 2 else None,
            measured_by=way[1],
            direction="horizontal",
            spacing=0.45 if way[1] in ("ceiling joists", "battens at spacing") else None,
            rate=1.0,
        )
        for number, way in enumerate(ways, start=1)
    )


MATERIALS = (
    material("Timber", "frame"),
    material("Batts", "insulation"),
    material("Batten 45", "battens", 0.045, 0.045),
    material("Joist", "frame", 0.045, 0.090),
    material("Board", "linings", 0.0125),
    material("Thin board", "linings", 0.010),
    material("Tile", "tiling", 0.015),
    material("Paint", "coatings"),
    material("Skirting", "trims"),
    material("Cornice", "trims"),
    material("Packing", "insulation"),
)
FINISH = (("Board", "sheets"), ("Paint", "coats"), ("Skirting", "base"), ("Cornice", "top edge"))
BUILD_UPS = (
    BuildUp(
        "Outer wall",
        "external wall",
        layers(("Timber", "frame"), ("Batts", "between studs"), ("Batten 45", "battens at spacing"), *FINISH),
    ),
    BuildUp(
        "Partition", "internal wall", layers(("Timber", "frame", 0.070), ("Batts", "between studs"), *FINISH)
    ),
    BuildUp(
        "Wet wall", "internal wall", layers(("Timber", "frame", 0.070), ("Batts", "between studs"), *FINISH)
    ),
    BuildUp("Thick wall", "internal wall", layers(("Timber", "frame", 0.090), *FINISH)),
    BuildUp(
        "Party wall",
        "party wall",
        layers(("Packing", "area", 0.040), ("Timber", "frame", 0.070), ("Batts", "between studs"), *FINISH),
    ),
    BuildUp("Thin lining", "wall lining", layers(("Thin board", "sheets"), *FINISH[1:])),
    BuildUp("Tiled lining", "wall lining", layers(("Tile", "area"), ("Board", "sheets"), *FINISH[1:])),
    BuildUp("Raked ceiling", "ceiling", layers(("Batten 45", "battens at spacing"), ("Board", "sheets"))),
    BuildUp("Joisted ceiling", "ceiling lining", layers(("Joist", "ceiling joists"), ("Board", "sheets"))),
    BuildUp("Thin ceiling", "ceiling lining", layers(("Thin board", "sheets"))),
)
# distance from the underside of the rafters to a raked ceiling, at right angles to the slope [m]
RAKED = {None: 0.045 + 0.0125, "Thin ceiling": 0.010}
LINED = {None: 0.0125, "Thin lining": 0.010, "Tiled lining": 0.0275}  # thickness of wall linings [m]
FRAME = {"Partition": 0.070, "Wet wall": 0.070, "Thick wall": 0.090, "Party wall": 2 * 0.070 + 0.040}


def library_of(job: Job) -> Library:
    rules = {name: replace(rule, smallest_void=0.0) for name, rule in job.library.measurement.items()}
    known = {**job.library.materials, **{each.name: each for each in MATERIALS}}
    for each in MATERIALS:
        rules.setdefault(each.item_class, replace(next(iter(rules.values())), item_class=each.item_class))
    return replace(job.library, materials=known, measurement=rules)


# --- drawing layouts ---


@st.composite
def cut_up(draw: st.DrawFn, rect: Rect, depth: int, step: int) -> list[Rect]:
    """Cut a rectangle in two, crosswise in four, into a pinwheel of five, or leave it."""
    x0, x1, y0, y1 = rect
    ways = ["leave"] if depth < 3 else []
    ways += ["x"] * (x1 - x0 >= 2 * LEAST + step) + ["y"] * (y1 - y0 >= 2 * LEAST + step)
    ways += ["cross"] * (min(x1 - x0, y1 - y0) >= 2 * LEAST + step)
    ways += ["pinwheel"] * (min(x1 - x0, y1 - y0) >= 3 * LEAST + 2 * step)
    way = draw(st.sampled_from(ways)) if depth and ways else "leave"

    def place(low: int, high: int) -> int:
        return step * draw(st.integers(math.ceil(low / step), high // step))

    if way == "x":
        x = place(x0 + LEAST, x1 - LEAST)
        parts = [(x0, x, y0, y1), (x, x1, y0, y1)]
    elif way == "y":
        y = place(y0 + LEAST, y1 - LEAST)
        parts = [(x0, x1, y0, y), (x0, x1, y, y1)]
    elif way == "cross":
        x, y = place(x0 + LEAST, x1 - LEAST), place(y0 + LEAST, y1 - LEAST)
        parts = [(a, b, c, d) for a, b in ((x0, x), (x, x1)) for c, d in ((y0, y), (y, y1))]
    elif way == "pinwheel":
        a = place(x0 + LEAST, x1 - 2 * LEAST - step)
        b = place(a + LEAST, x1 - LEAST)
        c = place(y0 + LEAST, y1 - 2 * LEAST - step)
        d = place(c + LEAST, y1 - LEAST)
        whirl = [(x0, b, y0, c), (b, x1, y0, d), (a, x1, d, y1), (x0, a, c, y1), (a, b, c, d)]
        if draw(st.booleans()):
            return [(x0 + x1 - right, x0 + x1 - left, low, high) for left, right, low, high in whirl]
        return whirl
    else:
        return [rect]
    return [room for part in parts for room in draw(cut_up(part, depth - 1, step))]


def touching(rooms: tuple[Room, ...]) -> list[tuple[Room, Room, LineString]]:
    """Return what pairs of rooms share, by shapely."""
    found = []
    for one, other in combinations(rooms, 2):
        line = rectangle(one).intersection(rectangle(other))
        if isinstance(line, LineString) and line.length > 1e-9:
            found.append((one, other, line))
    return found


def rectangle(room: Room) -> Polygon:
    return box(room.from_x, room.from_y, room.to_x, room.to_y)


@st.composite
def layouts(
    draw: st.DrawFn,
    job: Job,
    *,
    separate: bool | None = None,
    flat: bool = True,
    thick: bool = True,
    step: int = 100,
) -> Design:
    """Draw a house with rooms, walls, doors, windows, ceilings and bulkheads that fit."""
    length = draw(st.integers(4200 // step, 15000 // step)) * step
    span = draw(st.integers(3600 // step, 9000 // step)) * step
    rooms = [
        Room(
            name=f"R{number}",
            dwelling=draw(st.sampled_from(["", "unit"])),
            from_x=x0 / 1000,
            to_x=x1 / 1000,
            from_y=y0 / 1000,
            to_y=y1 / 1000,
            wet=draw(st.sampled_from([False, False, True])),
        )
        for number, (x0, x1, y0, y1) in enumerate(draw(cut_up((0, length, 0, span), 4, step)))
    ]
    house = replace(
        job.design.house,
        length=length / 1000,
        span=span / 1000,
        low_height=draw(st.sampled_from([2.55, 2.7, 3.0])),
        pitch=draw(st.sampled_from([1.5, 5.0, 12.0])),
        support_lines=tuple(sorted({y for r in rooms if (y := r.from_y) > 0.5 and draw(st.booleans())}))[:2],
        overhang_low=0.6,
        overhang_high=0.5,
        overhang_left=0.45,
        overhang_right=0.3,
        stud_depth=0.17,
        stud_thickness=0.045,
        stud_spacing=draw(st.sampled_from([0.45, 0.6])),
        external_wall="Outer wall",
        ceiling="Raked ceiling",
        internal_wall="Partition",
        wet_wall=draw(st.sampled_from([None, "Wet wall", "Thick wall"] if thick else [None, "Wet wall"])),
        party_wall="Party wall",
        separate_dwellings=draw(st.booleans()) if separate is None else separate,
        framing_practice=draw(st.sampled_from(["Usual", "Material-saving"])),
    )
    opened = [
        WallChoice(rooms=(one.name, other.name), build_up=draw(st.sampled_from([OPEN, OPEN, "Wet wall"])))
        for one, other, _ in touching(tuple(rooms))
        if draw(st.integers(0, 3)) == 0
    ]
    design = Design(
        house=house,
        openings=(),
        build_ups={**job.design.build_ups, **{each.name: each for each in BUILD_UPS}},
        palettes=job.design.palettes,
        practices={n: replace(p, openings_on_grid=False) for n, p in job.design.practices.items()},
        lintels=job.design.lintels,
        wall_choices=tuple(opened),
    )
    design = replace(design, rooms=draw(lined(tuple(rooms), design)))
    if separate:
        assume(any(run.party for run in wall_runs(design)))
    assume(not design_problems(design) and not tiling_problems(design))
    return draw(furnished(design, job, flat=flat))


def is_open(one: Room, other: Room, design: Design) -> bool:
    parted = design.house.separate_dwellings and one.dwelling != other.dwelling
    return not parted and any(
        set(choice.rooms) == {one.name, other.name} and choice.build_up == OPEN
        for choice in design.wall_choices
    )


@st.composite
def lined(draw: st.DrawFn, rooms: tuple[Room, ...], design: Design) -> tuple[Room, ...]:
    """Give each room a lining: the same to those that are open to each other."""
    group = {room.name: room.name for room in rooms}
    for one, other, _ in touching(rooms):
        if is_open(one, other, design):
            old, new = group[one.name], group[other.name]
            group = {name: new if of == old else of for name, of in group.items()}
    lining = {name: draw(st.sampled_from([None, *list(LINED)[1:]])) for name in sorted(set(group.values()))}
    return tuple(
        replace(
            room,
            wall_lining=lining[group[room.name]],
            ceiling_lining=draw(st.sampled_from([None, "Thin ceiling"])),
        )
        for room in rooms
    )


@st.composite
def furnished(draw: st.DrawFn, design: Design, job: Job, *, flat: bool) -> Design:
    """Add windows, doors, flat ceilings and bulkheads; what does not fit is left out."""
    library = library_of(job)

    def fits(trial: Design) -> bool:
        return not opening_problems(trial) and not inside_problems(trial, library)

    def tenths(low: float, high: float) -> float:
        return draw(st.integers(math.ceil(low * 20), math.floor(high * 20))) / 20

    for side in SIDES:
        if draw(st.booleans()):
            size = draw(st.sampled_from([(0.6, 0.6, 1.2), (1.2, 1.0, 0.9), (0.9, 2.0, 0.0)]))
            window = replace(
                job.design.openings[0],
                mark=f"W{side}",
                side=side,
                kind="window" if size[2] else "door",
                width=size[0],
                height=size[1],
                sill=size[2],
                position=tenths(0.4, side_length(design.house, side) - 1.5),
                number=1,
                shutter=None,
            )
            trial = replace(design, openings=(*design.openings, window))
            design = trial if fits(trial) else design
    for one, other, line in touching(design.rooms):
        if draw(st.booleans()):
            low = min(line.coords)[0 if line.coords[0][1] == line.coords[1][1] else 1]
            door = InternalDoor(
                mark=f"D{one.name}{other.name}",
                rooms=draw(st.sampled_from([(one.name, other.name), (other.name, one.name)])),
                kind="door",
                width=draw(st.sampled_from([0.72, 0.87])),
                height=2.0,
                position=draw(st.one_of(st.none(), st.just(low + tenths(0.2, max(line.length - 1.0, 0.2))))),
                number=1,
                unit_type=None,
            )
            trial = replace(design, internal_doors=(*design.internal_doors, door))
            design = trial if fits(trial) else design
    for number, room in enumerate(design.rooms if flat else ()):
        what = draw(st.sampled_from(["raked", "flat", "bulkhead"]))
        # the last lies so close under the rafters that a raked ceiling beside it crosses it
        height = draw(st.sampled_from([2.25, 2.4, design.house.low_height - 0.02]))
        trial = design
        if what == "flat":
            lowered = replace(
                room,
                flat_ceiling=height,
                ceiling_lining=draw(st.sampled_from(["Joisted ceiling", "Thin ceiling"])),
            )
            trial = replace(design, rooms=tuple(lowered if r == room else r for r in design.rooms))
        elif what == "bulkhead":
            bulkhead = Bulkhead(
                name=f"B{number}",
                room=room.name,
                from_x=room.from_x,
                to_x=room.from_x + tenths(0.4, room.to_x - room.from_x),
                from_y=draw(st.sampled_from([room.from_y, room.from_y + 0.5])),
                to_y=room.to_y,
                underside=2.2,
                ceiling_lining="Joisted ceiling",
            )
            trial = replace(design, bulkheads=(*design.bulkheads, bulkhead))
        design = trial if fits(trial) else design
    return design


# --- the same house drawn by shapely ---


def build_up_between(one: Room, other: Room, design: Design) -> str:
    """Return what stands between two rooms, blank where they are open: the rules in the order of the guide."""
    if design.house.separate_dwellings and one.dwelling != other.dwelling:
        return "Party wall"
    for choice in design.wall_choices:
        if set(choice.rooms) == {one.name, other.name}:
            return "" if choice.build_up == OPEN else choice.build_up
    return design.house.wet_wall if (one.wet or other.wet) and design.house.wet_wall else "Partition"


def lined_by(room: Room, wall: str) -> float:
    """Return the thickness of what lines a wall in a room: a party wall keeps its own board [m]."""
    kept = LINED[None] if wall == "Party wall" and room.wall_lining else 0.0
    return kept + LINED[room.wall_lining]


def walls_drawn(design: Design, *, linings: bool = True) -> BaseGeometry:
    """Return the internal walls, or their frames alone: strips about shared lines, outer corners closed."""
    strips: list[BaseGeometry] = []
    ends: dict[tuple[float, float], list[tuple[str, Polygon, float]]] = defaultdict(list)
    for one, other, line in touching(design.rooms):
        name = build_up_between(one, other, design)
        if not name:
            continue
        (ax, ay), (bx, by) = sorted(line.coords)
        low, high = (one, other) if (one.from_x, one.from_y) < (other.from_x, other.from_y) else (other, one)
        if abs(ay - by) < 1e-9:
            low, high = (one, other) if abs(one.to_y - ay) < 1e-9 else (other, one)
            under, over = (FRAME[name] / 2 + linings * lined_by(room, name) for room in (low, high))
            strip, ways = box(ax, ay - under, bx, ay + over), ("E", "W")
        else:
            low, high = (one, other) if abs(one.to_x - ax) < 1e-9 else (other, one)
            under, over = (FRAME[name] / 2 + linings * lined_by(room, name) for room in (low, high))
            strip, ways = box(ax - under, ay, ax + over, by), ("N", "S")
        strips.append(strip)
        for (x, y), way in zip(((ax, ay), (bx, by)), ways, strict=True):
            ends[round(x, 6), round(y, 6)].append((way, strip, FRAME[name]))
    for (x, y), found in ends.items():
        deep = {way: depth for way, _, depth in found}
        for (level, flat, _), (upright, tall, _) in product(found, found):
            if level in "EW" and upright in "NS":
                beyond, behind = {"E": "W", "W": "E"}[level], {"N": "S", "S": "N"}[upright]
                if deep.get(beyond, 0.0) < deep[level] or deep.get(behind, 0.0) < deep[upright]:
                    across = box(tall.bounds[0], flat.bounds[1], tall.bounds[2], flat.bounds[3])
                    strips.append(across.intersection(_quarter(x, y, level=beyond, upright=behind)))
    return unary_union(strips)


def _quarter(x: float, y: float, *, level: str, upright: str) -> Polygon:
    """Return one of the four quarters of the plane about a point, as far as walls are thick."""
    return box(x - (level == "W"), y - (upright == "S"), x + (level == "E"), y + (upright == "N"))


def outer_walls_drawn(design: Design) -> BaseGeometry:
    """Return the external walls with what lines them in each room."""
    house, strips = design.house, []
    for room in design.rooms:
        inset = house.stud_depth + 0.045 + LINED[room.wall_lining]
        within = box(inset, inset, house.length - inset, house.span - inset)
        strips.append(rectangle(room).difference(within))
    return unary_union(strips)


def floors_drawn(design: Design) -> dict[str, BaseGeometry]:
    """Return the floor of each room: its rectangle less the walls."""
    walls = unary_union([walls_drawn(design), outer_walls_drawn(design)])
    return {room.name: rectangle(room).difference(walls) for room in design.rooms}


def sides_of(shape: BaseGeometry) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Yield the straight sides of a shape."""
    for polygon in getattr(shape, "geoms", [shape]):
        for ring in (polygon.exterior, *polygon.interiors):
            yield from pairwise(ring.coords)


def ceiling_drawn(design: Design, room: Room, x: float, y: float) -> float:
    """Return the height of the ceiling at a place in a room: bulkhead, flat ceiling, or under the rafters."""
    for bulkhead in design.bulkheads:
        inside = bulkhead.from_x < x < bulkhead.to_x and bulkhead.from_y < y < bulkhead.to_y
        if bulkhead.room == room.name and inside:
            return bulkhead.underside
    if room.flat_ceiling is not None:
        return room.flat_ceiling
    pitch = math.radians(design.house.pitch)
    return design.house.low_height + y * math.tan(pitch) - RAKED[room.ceiling_lining] / math.cos(pitch)


def lining_drawn(
    design: Design, room: Room, floor: BaseGeometry, others: BaseGeometry
) -> tuple[float, float]:
    """Return length and area of the walls round a floor: its boundary but for where it is open to others."""
    length = area = 0.0
    edges = [e for b in design.bulkheads if b.room == room.name for e in (b.from_x, b.to_x, b.from_y, b.to_y)]
    for side in sides_of(floor):
        for piece in _lines(LineString(side).difference(others.buffer(1e-7))):
            (ax, ay), (bx, by) = sorted((piece.coords[0], piece.coords[-1]))
            along = bx - ax > by - ay
            start, end = (ax, bx) if along else (ay, by)
            length += end - start
            for left, right in pairwise([start, *sorted(e for e in edges if start < e < end), end]):
                middle = (left + right) / 2
                beside = [(middle, ay + s) if along else (ax + s, middle) for s in (1e-5, -1e-5)]
                x, y = next((p for p in beside if floor.contains(Point(p))), beside[0])
                area += (right - left) * ceiling_drawn(design, room, x, y)
    return length, area


def _lines(shape: BaseGeometry) -> Iterator[LineString]:
    """Yield the lines of a shape that are longer than rounding."""
    yield from (line for line in getattr(shape, "geoms", [shape]) if line.length > 1e-6)


def openings_seen(
    design: Design, inside: Inside, floors: BaseGeometry
) -> Iterator[tuple[float, float, float]]:
    """Yield width, sill and height of each opening as each room sees it, beside the linings of other walls."""
    house, deep = design.house, 0.26
    for opening in design.openings:
        (ax, ay), (bx, by) = (
            plan_point(house, opening.side, s, deep) for s in (opening.position, opening.right)
        )
        yield LineString([(ax, ay), (bx, by)]).intersection(floors).length, opening.sill, opening.height
    rooms = {room.name: room for room in design.rooms}
    for placed in inside.doors:
        for name in placed.door.rooms:
            middle = rectangle(rooms[name]).centroid
            start, end, wall = placed.position, placed.right, placed.run
            off = 0.13
            if wall.axis == "x":
                y = wall.at + math.copysign(off, middle.y - wall.at)
                line = LineString([(start, y), (end, y)])
            else:
                x = wall.at + math.copysign(off, middle.x - wall.at)
                line = LineString([(x, start), (x, end)])
            yield line.intersection(floors).length, 0.0, placed.door.height


def net_of(inside: Inside, *materials: str, element: str = "WF") -> float:
    return sum(q.net for q in inside.quantities if q.element == element and q.material in materials)


# --- what must hold ---


@given(data=st.data())
@SOME
def test_rooms_and_walls_make_the_floor_inside(job, data):
    design = data.draw(layouts(job))
    plan = measure_inside(design, library_of(job)).plan
    outer, floors = outer_walls_drawn(design), floors_drawn(design)
    inner = walls_drawn(design).difference(outer)
    # walls of two thicknesses in one line butt at the middle of the wall between them, or a little beyond
    slack = 0.02 * FRAME["Thick wall"] * len(design.rooms) if design.house.wet_wall == "Thick wall" else AREA
    for room in design.rooms:
        assert plan.floor_of(room) == pytest.approx(floors[room.name].area, abs=slack), room.name
    assert plan.internal_walls == pytest.approx(inner.area, abs=slack)
    whole = design.house.length * design.house.span - outer.area
    assert plan.inside == pytest.approx(whole, abs=AREA)
    assert sum(map(plan.floor_of, design.rooms)) + plan.internal_walls == pytest.approx(plan.inside)


@given(data=st.data())
@SOME
def test_every_face_of_a_wall_is_in_one_room(job, data):
    design = data.draw(layouts(job, thick=False))
    plan = measure_inside(design, library_of(job)).plan
    walls = unary_union([walls_drawn(design), outer_walls_drawn(design)])
    house, floors = design.house, floors_drawn(design)
    drawn = [
        LineString(((f.start, f.at), (f.end, f.at)) if f.axis == "x" else ((f.at, f.start), (f.at, f.end)))
        for f in plan.faces
    ]
    for face, line in zip(plan.faces, drawn, strict=True):
        room = plan.zones[face.zone].room
        assert line.distance(walls.boundary) < 1e-6
        assert line.difference(floors[room.name].boundary.buffer(1e-6)).length < LENGTH
    for room in design.rooms:
        others = unary_union([floor for name, floor in floors.items() if name != room.name])
        length, _ = lining_drawn(design, room, floors[room.name], others)
        own = sum(f.length for f in plan.faces if plan.zones[f.zone].room.name == room.name)
        assert own == pytest.approx(length, abs=LENGTH)
    both_sides = walls.boundary.length - 2 * (house.length + house.span)
    assert sum(face.length for face in plan.faces) == pytest.approx(both_sides, abs=LENGTH)


@given(data=st.data())
@SOME
def test_linings_cover_every_face_less_openings(job, data):
    design = data.draw(layouts(job, thick=False, step=300))
    inside = measure_inside(design, library_of(job))
    floors = floors_drawn(design)
    gross = perimeter = 0.0
    by_room = {figures.room.name: figures for figures in inside.rooms}
    for room in design.rooms:
        others = unary_union([floor for name, floor in floors.items() if name != room.name])
        length, area = lining_drawn(design, room, floors[room.name], others)
        assert by_room[room.name].walls == pytest.approx(area, abs=1e-4), room
        gross, perimeter = gross + area, perimeter + length
    seen = list(openings_seen(design, inside, unary_union(list(floors.values()))))
    voids = sum(width * height for width, _, height in seen)
    assert net_of(inside, "Paint") == pytest.approx(gross - voids, abs=1e-3)
    doors = sum(width for width, sill, _ in seen if not sill)
    assert net_of(inside, "Skirting") == pytest.approx(perimeter - doors, abs=1e-3)


def zones_drawn(design: Design) -> list[tuple[Room, bool, BaseGeometry]]:
    """Return the parts of rooms under one ceiling, and whether it is flat."""
    zones = []
    for name, floor in floors_drawn(design).items():
        room = next(each for each in design.rooms if each.name == name)
        under = [box(b.from_x, b.from_y, b.to_x, b.to_y) for b in design.bulkheads if b.room == name]
        zones += [(room, True, floor.intersection(part)) for part in under]
        zones.append((room, room.flat_ceiling is not None, floor.difference(unary_union(under))))
    return zones


@given(data=st.data())
@SOME
def test_ceilings_and_their_upright_faces_close_the_rooms(job, data):
    """Ceilings lie over the floors, on the slope where they rake; a flat one lower than its neighbour has a face."""
    design = data.draw(layouts(job, thick=False))
    zones = zones_drawn(design)
    factor = 1 / math.cos(math.radians(design.house.pitch))
    area = sum(shape.area * (1 if flat else factor) for _, flat, shape in zones)

    def height(zone: tuple[Room, bool, BaseGeometry], x: float, y: float) -> float:
        inside = zone[2].buffer(1e-8)
        near = [(x + dx, y + dy) for dx in (1e-6, -1e-6) for dy in (1e-6, -1e-6)]
        x, y = next((p for p in near if inside.contains(Point(p))), (x, y))
        return ceiling_drawn(design, zone[0], x, y)

    for one, other in combinations(zones, 2):
        beside = other[2].boundary.buffer(1e-7)
        for line in (
            piece for side in sides_of(one[2]) for piece in _lines(LineString(side).intersection(beside))
        ):
            (ax, ay), (bx, by) = line.coords[0], line.coords[-1]
            middle = [(ax + bx) / 2, (ay + by) / 2]
            for lower, higher in ((one, other), (other, one)):
                if lower[1]:
                    rises = []
                    for x, y in ((ax, ay), (bx, by)):
                        # a little way in from the ends, where corners of zones meet
                        u, v = x + 1e-3 * (middle[0] - x), y + 1e-3 * (middle[1] - y)
                        rises.append(height(higher, u, v) - height(lower, u, v))
                    area += line.length * _mean_above_nothing(*rises)
    inside = measure_inside(design, library_of(job))
    assert net_of(inside, "Board", "Thin board", element="CF") == pytest.approx(area, abs=2e-3)


def _mean_above_nothing(start: float, end: float) -> float:
    """Return the mean of what lies above 0 of a straight line between two heights."""
    if start >= 0 and end >= 0:
        return (start + end) / 2
    top = max(start, end)
    return max(top, 0.0) ** 2 / (2 * (top - min(start, end))) if top > 0 else 0.0


@given(data=st.data())
@SOME
def test_walls_are_as_long_as_what_rooms_share(job, data):
    design = data.draw(layouts(job))
    shared: dict[str, list[LineString]] = defaultdict(list)
    for one, other, line in touching(design.rooms):
        shared[build_up_between(one, other, design)].append(line)
    for name in FRAME:
        runs = [run for run in wall_runs(design) if run.build_up == name]
        assert sum(run.length for run in runs) == pytest.approx(unary_union(shared[name]).length)


# --- sticks ---

FULL_HEIGHT = ("stud", "jamb stud", "junction stud", "corner stud")


def in_plan(frame: InternalFrame, runs: dict[str, WallRun], start: float, end: float) -> Polygon:
    """Return a stretch of a frame as it lies on plan."""
    run = runs[frame.run]
    low, high = frame.across - run.leaf_depth / 2, frame.across + run.leaf_depth / 2
    return box(start, low, end, high) if run.axis == "x" else box(low, start, high, end)


def elevation(frame: InternalFrame, thickness: float) -> list[tuple[str, Polygon]]:
    """Return the sticks of a frame as they show in elevation; raking plates at their upright depth."""
    angle = math.atan2(frame.face.top_right - frame.face.top_left, frame.face.width)
    shown = []
    for m in (m for m in frame.members if m.seen_width):
        half, across = m.length / 2, m.seen_width / 2
        if m.run == "upright":
            shape = box(m.s - across, m.z - half, m.s + across, m.z + half)
        else:
            tilt = angle if m.run == "rake" else 0.0
            dx, dz, up = half * math.cos(tilt), half * math.sin(tilt), across / math.cos(tilt)
            shape = Polygon(
                [
                    (m.s - dx, m.z - dz - up),
                    (m.s + dx, m.z + dz - up),
                    (m.s + dx, m.z + dz + up),
                    (m.s - dx, m.z - dz + up),
                ]
            )
        shown.append((m.use, shape))
    return shown


@given(data=st.data())
@SOME
def test_frames_fill_the_walls_and_close_their_corners(job, data):
    """Frames stand beside each other, never in each other, and with the gaps of party walls they are the walls."""
    design = data.draw(layouts(job, thick=False, step=300))
    inside = measure_inside(design, library_of(job))
    runs = {run.mark: run for run in inside.runs}
    frames = [in_plan(frame, runs, frame.start, frame.end) for frame in inside.wall_frames]
    house = design.house
    inset = house.stud_depth + 0.045
    gaps = unary_union([box(g.from_x, g.from_y, g.to_x, g.to_y) for g in party_gaps(inside.runs, house)])
    within = box(inset, inset, house.length - inset, house.span - inset)
    whole = unary_union(frames)
    assert sum(frame.area for frame in frames) == pytest.approx(whole.area, abs=AREA)
    assert whole.intersection(gaps).area < AREA
    drawn = walls_drawn(design, linings=False).intersection(within)
    assert whole.union(gaps.intersection(within)).symmetric_difference(drawn).area < 10 * AREA


@given(data=st.data())
@SOME
def test_sticks_of_internal_walls_stand_in_their_frame_and_clear_of_each_other(job, data):
    design = data.draw(layouts(job))
    thickness = design.house.stud_thickness
    triangle = thickness**2 * math.tan(math.radians(design.house.pitch)) / 2
    for frame in measure_inside(design, library_of(job)).wall_frames:
        face = frame.face
        whole = Polygon([(0, 0), (face.width, 0), (face.width, face.top_right), (0, face.top_left)])
        voids = unary_union(
            [box(f.opening.position, 0, f.opening.right, f.opening.head) for f in frame.openings]
        )
        sticks = elevation(frame, thickness)
        for use, shape in sticks:
            assert shape.difference(whole.buffer(1e-7)).area <= 2.01 * triangle, use
            assert shape.intersection(voids).area <= 1e-7, use
        for (use, shape), (other_use, other) in combinations(sticks, 2):
            assert shape.intersection(other).area <= 2.01 * triangle + 1e-7, (use, other_use)
        centres = sorted(m.s for m in frame.members if m.use in FULL_HEIGHT)
        # a jamb stud less than a stud from the end stands in for the end stud
        for far in (centres[0], face.width - centres[-1]):
            ends = [f.left for f in frame.openings] + [face.width - f.right for f in frame.openings]
            jamb = any(0 < end < thickness for end in ends)
            assert face.width < 2 * thickness or jamb or far == pytest.approx(thickness / 2)
            assert far < 1.5 * thickness
        for left, right in pairwise(centres):
            assert right - left >= thickness - 1e-9
            # a grid stud gives way to a jamb or junction stud less than its thickness away, perhaps at both ends
            in_opening = any(left < f.opening.right and right > f.opening.position for f in frame.openings)
            assert in_opening or right - left < design.stud_spacing + 2 * thickness


@given(data=st.data())
@SOME
def test_timber_and_insulation_make_the_net_face_of_internal_walls(job, data):
    design = data.draw(layouts(job))
    inside = measure_inside(design, library_of(job))
    for name in ("Partition", "Wet wall", "Party wall"):
        frames = [frame for frame in inside.wall_frames if frame.build_up == name]
        batts = sum(
            q.net for q in inside.quantities if q.id.startswith(f"IW.{name.lower().replace(' ', '-')}.batts")
        )
        faces = sum(f.face.area - sum(h.opening.area for h in f.openings) for f in frames)
        timber = sum(m.length * m.seen_width for f in frames for m in f.members)
        assert batts + timber == pytest.approx(faces, abs=1e-9)
    rows = [q for q in inside.quantities if ".FR." in q.id]
    sticks = [m for frame in inside.wall_frames for m in frame.members] + list(inside.ceiling_members)
    assert sum(q.net * q.section for q in rows) == pytest.approx(
        sum(m.thickness * m.depth * m.length for m in sticks)
    )
    assert sum(piece.count for q in rows for piece in q.pieces) == len(sticks)


# --- party walls: what no timber crosses ---


def gaps_drawn(design: Design, beyond: float) -> BaseGeometry:
    """Return the gaps of party walls, drawn out beyond the outline where they reach it."""
    house, strips = design.house, []
    for one, other, line in touching(design.rooms):
        if build_up_between(one, other, design) != "Party wall":
            continue
        (ax, ay), (bx, by) = sorted(line.coords)
        if abs(ay - by) < 1e-9:
            ax, bx = ax - beyond * (ax < 1e-9), bx + beyond * (bx > house.length - 1e-9)
        else:
            ay, by = ay - beyond * (ay < 1e-9), by + beyond * (by > house.span - 1e-9)
        strips.append(LineString([(ax, ay), (bx, by)]).buffer(0.02, cap_style="square"))
    return unary_union(strips)


def upright(design: Design, side: Side, left: float, right: float) -> Polygon:
    """Return a stretch of an external wall frame on plan, from the house corner."""
    house = design.house
    (ax, ay), (bx, by) = plan_point(house, side, left), plan_point(house, side, right, house.stud_depth)
    return box(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


@given(data=st.data())
@SOME
def test_no_timber_crosses_the_gap_of_a_party_wall(job, data):
    design = data.draw(layouts(job, separate=True, flat=False, step=300))
    house = design.house
    # square ends of the strips reach half a gap too far at external walls only
    gaps = gaps_drawn(design, 1.0).buffer(-1e-6)
    inside = measure_inside(design, library_of(job))
    runs = {run.mark: run for run in inside.runs}
    for frame in inside.wall_frames:
        for m in frame.members:
            half = m.seen_width / 2 if m.run == "upright" else m.length / 2
            if m.run == "rake":
                half *= math.cos(math.radians(house.pitch))
            s = frame.start + m.s
            assert in_plan(frame, runs, s - half, s + half).intersection(gaps).area < 1e-8, m
    for side in SIDES:
        frame = frame_wall(design, side, material="x")
        for m in frame.members:
            half = m.thickness / 2 if m.run == "upright" else m.length / 2
            if m.run == "rake":
                half *= math.cos(math.radians(house.pitch))
            s = frame.start + m.s
            assert upright(design, side, s - half, s + half).intersection(gaps).area < 1e-8, m
    of_walls = party_gaps(inside.runs, house)
    factor = 1 / math.cos(math.radians(house.pitch))
    for m in frame_roof(house, material="x", gaps=of_walls).members:
        y, half, thin = m.z / factor - house.overhang_low, m.length / 2, m.thickness / 2
        if m.run == "slope":
            stick = box(m.s - thin, y - half / factor, m.s + thin, y + half / factor)
        else:
            stick = box(m.s - half, y - thin / factor, m.s + half, y + thin / factor)
        assert stick.intersection(gaps).area < 1e-8, m
    for m in frame_floor(house, joist_material="x", bearer_material="x", gaps=of_walls).members:
        half, thin = m.length / 2, m.thickness / 2
        wide, deep = (thin, half) if m.run == "slope" else (half, thin)
        stick = box(m.s - wide, m.z - deep, m.s + wide, m.z + deep)
        assert stick.intersection(gaps).area < 1e-8, m


@given(data=st.data())
@SOME
def test_rafters_cover_the_roof_between_party_walls(job, data):
    """On every level line the rafters stand at their centres, but where a gap parts them; none lies in another."""
    design = data.draw(layouts(job, separate=True, flat=False, step=300))
    house, gaps = design.house, gaps_drawn(design, 1.0)
    roof = frame_roof(house, material="x", gaps=party_gaps(wall_runs(design), house))
    factor = 1 / math.cos(math.radians(house.pitch))
    outline = box(0, 0, house.length, house.span)
    assert roof.gap_area == pytest.approx(gaps.intersection(outline).area * factor, abs=AREA)
    rafters = [m for m in roof.members if m.use == "rafter"]
    assert min(m.length for m in roof.members) > 0
    lines = [(m.s, m.z / factor - house.overhang_low, m.length / 2 / factor) for m in rafters]
    sticks = [
        box(s - m.thickness / 2, y - h, s + m.thickness / 2, y + h)
        for m, (s, y, h) in zip(rafters, lines, strict=True)
    ]
    assert unary_union(sticks).area == pytest.approx(sum(stick.area for stick in sticks), abs=AREA)
    for number in range(20):
        y = (
            -house.overhang_low
            + 0.01
            + number / 19 * (house.span + house.overhang_low + house.overhang_high - 0.02)
        )
        level = LineString([(0, y), (house.length, y)])
        if level.intersection(gaps).length > 0.1:
            continue
        here = sorted(s for s, middle, half in lines if abs(y - middle) < half)
        parted = sorted(x for piece in _lines(level.intersection(gaps)) for x, _ in piece.coords)
        ends = [0.0, *parted, house.length]
        for left, right in zip(ends[::2], ends[1::2], strict=True):
            own = [s for s in here if left < s < right]
            assert own[0] == pytest.approx(left + house.rafter_thickness / 2, abs=1e-6)
            assert own[-1] == pytest.approx(right - house.rafter_thickness / 2, abs=1e-6)
            # a common rafter gives way to an end rafter less than its thickness away, at either end
            assert all(b - a < house.rafter_spacing + 2 * house.rafter_thickness for a, b in pairwise(own))


@given(data=st.data())
@SOME
def test_each_side_of_a_party_wall_has_its_end_stud_and_end_rafter(job, data):
    design = data.draw(layouts(job, separate=True, flat=False, step=300))
    house, t, thin = design.house, design.house.stud_thickness, design.house.rafter_thickness
    runs = wall_runs(design)
    roof = frame_roof(house, material="x", gaps=party_gaps(runs, house))
    frames = {side: frame_wall(design, side, material="x") for side in SIDES}
    for one, other, line in touching(design.rooms):
        if build_up_between(one, other, design) != "Party wall":
            continue
        (ax, ay), (bx, by) = sorted(line.coords)
        level = abs(ay - by) < 1e-9
        ends: dict[Side, tuple[bool, float]] = {
            "left": (level and ax < 1e-9, house.span - ay),
            "right": (level and bx > house.length - 1e-9, ay),
            "low": (not level and ay < 1e-9, ax),
            "high": (not level and by > house.span - 1e-9, house.length - ax),
        }
        for side, (meets, place) in ends.items():
            studs = [m.s + frames[side].start for m in frames[side].members if m.use in FULL_HEIGHT]
            for centre in (place - 0.02 - t / 2, place + 0.02 + t / 2) if meets else ():
                assert any(abs(s - centre) < 1e-6 for s in studs), (side, centre)
        if not level:
            factor = 1 / math.cos(math.radians(house.pitch))
            for centre in (ax - 0.02 - thin / 2, ax + 0.02 + thin / 2):
                along = unary_union(
                    [
                        LineString([(0, m.z - m.length / 2), (0, m.z + m.length / 2)])
                        for m in roof.members
                        if m.use == "rafter" and abs(m.s - centre) < 1e-6
                    ]
                )
                wanted = LineString(
                    [
                        (0, (house.overhang_low + ay + 0.021) * factor),
                        (0, (house.overhang_low + by - 0.021) * factor),
                    ]
                )
                # where another party wall crosses, the end rafter stops each side of it too
                missing = wanted.difference(along.buffer(1e-6))
                crossings = [
                    (house.overhang_low + y) * factor
                    for a, b, shared in touching(design.rooms)
                    if build_up_between(a, b, design) == "Party wall"
                    for y in (shared.coords[0][1],)
                    if shared.coords[0][1] == shared.coords[1][1] and shared.distance(Point(centre, y)) < 0.1
                ]
                for piece in _lines(missing):
                    assert any(abs(piece.centroid.y - z) < 0.1 for z in crossings), (ax, centre, piece)


# --- changes that must change nothing, or in proportion ---


def mirrored(design: Design) -> Design:
    """Return the design seen in a mirror along the eaves."""
    length = design.house.length
    rooms = {room.name: room for room in design.rooms}
    other: dict[Side, Side] = {"left": "right", "right": "left", "low": "low", "high": "high"}

    def level(door: InternalDoor) -> bool:
        one, two = (rooms[name] for name in door.rooms)
        return one.to_y <= two.from_y + 1e-9 or two.to_y <= one.from_y + 1e-9

    return replace(
        design,
        house=replace(
            design.house, overhang_left=design.house.overhang_right, overhang_right=design.house.overhang_left
        ),
        rooms=tuple(replace(r, from_x=length - r.to_x, to_x=length - r.from_x) for r in design.rooms),
        bulkheads=tuple(replace(b, from_x=length - b.to_x, to_x=length - b.from_x) for b in design.bulkheads),
        openings=tuple(
            replace(o, side=other[o.side], position=side_length(design.house, o.side) - o.right)
            for o in design.openings
        ),
        internal_doors=tuple(
            replace(d, position=length - d.position - d.width) if d.position is not None and level(d) else d
            for d in design.internal_doors
        ),
    )


# set out on centres from one end, or cut between what is
ON_CENTRES = frozenset({"stud", "jack stud", "nogging"})


@given(data=st.data())
@SOME
def test_a_mirrored_layout_measures_the_same(job, data):
    design, library = data.draw(layouts(job, step=300)), library_of(job)
    image = mirrored(design)
    assert not tiling_problems(image)
    assert not inside_problems(image, library)
    here, there = measure_inside(design, library), measure_inside(image, library)
    for one, other in zip(here.rooms, there.rooms, strict=True):
        for name in ("floor", "wall_length", "walls", "ceiling", "lowest", "highest", "volume"):
            assert getattr(one, name) == pytest.approx(getattr(other, name), abs=1e-5), name
    # infill follows the studs; which of equal beds of battens and joists comes first follows the mirror
    set_out = ("Batts", "Batten 45", "Timber")
    nets, images = (
        {q.id: q.net for q in result.quantities if q.material not in set_out} for result in (here, there)
    )
    assert nets == pytest.approx(images, abs=1e-5)
    sticks, image_sticks = (
        Counter(
            (m.use, round(m.length, 5))
            for f in result.wall_frames
            for m in f.members
            if m.use not in ON_CENTRES
        )
        for result in (here, there)
    )
    assert sticks == image_sticks


@given(data=st.data())
@SOME
def test_parting_a_room_in_two_that_are_open_to_each_other_changes_no_wall(job, data):
    design, library = data.draw(layouts(job, flat=False)), library_of(job)
    room = data.draw(st.sampled_from(design.rooms))
    axis = data.draw(st.sampled_from(["x", "y"]))
    low, high = getattr(room, f"from_{axis}"), getattr(room, f"to_{axis}")
    cut = round(low + (high - low) * data.draw(st.sampled_from([0.4, 0.5, 0.65])), 3)
    halves = (
        replace(room, name="one half", **{f"to_{axis}": cut}),
        replace(room, name="other half", **{f"from_{axis}": cut}),
    )
    whole = (*(r for r in design.rooms if r != room), *halves)
    beside = {frozenset((a.name, b.name)) for a, b, _ in touching(whole)}
    choices = [WallChoice(rooms=("one half", "other half"), build_up=OPEN)]
    for choice in design.wall_choices:
        for half in halves:
            rooms = tuple(half.name if name == room.name else name for name in choice.rooms)
            if frozenset(rooms) in beside and not any(set(c.rooms) == set(rooms) for c in choices):
                choices.append(replace(choice, rooms=rooms))
    # a door of the room stands in the wall of one half now, at the place it had
    before = measure_inside(design, library)
    doors = []
    for placed in before.doors:
        names = placed.door.rooms
        if room.name in names and placed.run.axis == axis:
            assume(not placed.position - 0.3 < cut < placed.right + 0.3)
            half = halves[placed.position > cut]
        else:
            half = next(
                (h for h in halves if frozenset((h.name, *set(names) - {room.name})) in beside), halves[0]
            )
        rooms = tuple(half.name if name == room.name else name for name in names)
        doors.append(replace(placed.door, rooms=rooms, position=placed.position))
    parted = replace(design, rooms=whole, wall_choices=tuple(choices), internal_doors=tuple(doors))
    assume(not inside_problems(parted, library))
    after = measure_inside(parted, library)
    assert [(r.axis, r.at, r.start, r.end, r.build_up) for r in before.runs] == [
        (r.axis, r.at, r.start, r.end, r.build_up) for r in after.runs
    ]
    sticks, later = (
        Counter((m.use, round(m.length, 6)) for f in result.wall_frames for m in f.members)
        for result in (before, after)
    )
    assert sticks == later
    nets, after_nets = (
        {q.id: q.net for q in result.quantities if q.material != "Batten 45"} for result in (before, after)
    )
    assert nets == pytest.approx(after_nets)
    assert after.plan.inside == pytest.approx(before.plan.inside)


@given(data=st.data(), along=st.integers(70, 160), across=st.integers(70, 160))
@SOME
def test_a_plan_drawn_out_still_tiles_and_keeps_middles_in_proportion(job, data, along, across):
    design = data.draw(layouts(job))
    house = design.house
    changes = {"length": house.length * along / 100, "span": house.span * across / 100}
    longer = apply_changes(design, Option(name="drawn out", changes=changes))
    assert not tiling_problems(longer)
    assert longer.house.support_lines == pytest.approx([line * across / 100 for line in house.support_lines])
    pairs, later = (
        [(a.name, b.name, round(s.length > 0)) for a, b, s in touching(d.rooms)] for d in (design, longer)
    )
    assert pairs == later
    for before, after in zip(wall_runs(design), wall_runs(longer), strict=True):
        factor = (along if before.axis == "x" else across) / 100
        assert after.length == pytest.approx(before.length * factor, abs=1e-5)
        assert [(e.before, e.after) for e in after.edges] == [(e.before, e.after) for e in before.edges]
    for opening, moved in zip(design.openings, longer.openings, strict=True):
        factor = (along if opening.side in ("low", "high") else across) / 100
        assert (moved.width, moved.height, moved.sill) == (opening.width, opening.height, opening.sill)
        assert moved.position + moved.width / 2 == pytest.approx(
            (opening.position + opening.width / 2) * factor
        )
    axes = {frozenset((e.before, e.after)): run.axis for run in wall_runs(design) for e in run.edges}
    for door, shifted in zip(design.internal_doors, longer.internal_doors, strict=True):
        assert shifted.width == door.width
        if door.position is None:
            assert shifted.position is None
            continue
        factor = (along if axes[frozenset(door.rooms)] == "x" else across) / 100
        assert shifted.position + door.width / 2 == pytest.approx((door.position + door.width / 2) * factor)
    for one, other in zip(design.bulkheads, longer.bulkheads, strict=True):
        assert other.to_x - other.from_x == pytest.approx((one.to_x - one.from_x) * along / 100)
        assert other.from_y == pytest.approx(one.from_y * across / 100)
