"""Hand calculation of the inside of a 12.0 x 7.2 m house of four rooms, written out as on dimension paper (derived).

The rules are common practice without a source; two leaves, counted twice, and a gap that no rafter or plate crosses
follow ABCB Housing Provisions 2022, 9.3 (seen quoted). The painted room is from public study cards for builders'
arithmetic (read, recomputed). Tolerance: half the last digit with which a figure is quoted, else floating point.

    y 7.2 +-----------------------+--------------+     low wall 2.700, pitch 5 deg (tan 0.087489, sec 1.003820)
          | bh  Living            |  Bedroom     |     support line at 3.6; studs 45 thick at 450
      3.6 +===========D1==========+==============+     external wall 170 stud, 45 batten, 12.5 board = 227.5
          | Bath    D2  Hall, flat ceiling 2.4   |     partition 70 stud, board each side
        0 +---------+----------------------------+     ceiling 35 batten, 12.5 board: 47.5 on the slope,
          0         4             7             12     0.0475 x 1.003820 = 0.0477 upright
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

import pytest

from takeoff.framing.internal_walls import InternalFrame
from takeoff.framing.member import Member
from takeoff.framing.roof import frame_roof
from takeoff.framing.walls import frame_wall
from takeoff.measure.inside import Inside, measure_inside
from takeoff.measure.inside_checks import inside_problems
from takeoff.model.house import (
    OPEN,
    BuildUp,
    Bulkhead,
    Design,
    InternalDoor,
    Layer,
    LintelRow,
    Room,
    WallChoice,
)
from takeoff.model.library import Library, Material
from takeoff.model.room_edges import tiling_problems
from takeoff.model.wall_runs import party_gaps, wall_runs

TAN, SEC = math.tan(math.radians(5)), 1 / math.cos(math.radians(5))
MM = 0.0005  # figures quoted to the mm
TWO_PLACES = 0.005


def made_of(
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


CENTRES = {"ceiling joists": 0.45, "battens at spacing": 0.45, "hangers": 1.2}


def layer(
    number: int,
    material: str,
    way: str,
    *,
    thickness: float | None = None,
    rate: float = 1.0,
    bottom: float | None = None,
    top: float | None = None,
) -> Layer:
    return Layer(
        number=number,
        material=material,
        thickness=thickness,
        measured_by=way,
        direction="horizontal",
        spacing=CENTRES.get(way),
        rate=rate,
        bottom=bottom,
        top=top,
    )


MATERIALS = (
    made_of("Timber", "frame"),
    made_of("Batts", "insulation"),
    made_of("Batten 45", "battens", 0.045, 0.045),
    made_of("Batten 35", "battens", 0.035, 0.070),
    made_of("Joist", "frame", 0.045, 0.090),
    made_of("Board", "linings", 0.0125),
    made_of("Tile", "tiling", 0.010),
    made_of("Paint", "coatings"),
    made_of("Skirting", "trims"),
    made_of("Cornice", "trims"),
    made_of("Packing", "insulation"),
    made_of("Hanger", "fixings"),
    made_of("Floor boards", "linings", 0.019),
    made_of("Architrave", "trims"),
)
FINISH = (layer(8, "Board", "sheets"), layer(9, "Skirting", "base"), layer(10, "Cornice", "top edge"))
STUDS = (layer(2, "Timber", "frame", thickness=0.070), layer(3, "Batts", "between studs"))
BUILD_UPS = (
    BuildUp(
        "Outer wall",
        "external wall",
        (layer(1, "Timber", "frame"), layer(2, "Batten 45", "battens at spacing"), *FINISH),
    ),
    BuildUp("Partition", "internal wall", (*STUDS, *FINISH)),
    BuildUp("Deep partition", "internal wall", (layer(2, "Timber", "frame", thickness=0.090), *FINISH)),
    BuildUp("Party wall", "party wall", (layer(1, "Packing", "area", thickness=0.040), *STUDS, *FINISH)),
    BuildUp(
        "Wet lining",
        "wall lining",
        (
            layer(1, "Board", "sheets"),
            layer(2, "Tile", "area", top=2.1),
            layer(3, "Paint", "coats", rate=2, bottom=2.1),
        ),
    ),
    BuildUp("Painted board", "wall lining", (layer(1, "Board", "sheets"), layer(2, "Paint", "coats"))),
    BuildUp(
        "Raked ceiling", "ceiling", (layer(1, "Batten 35", "battens at spacing"), layer(2, "Board", "sheets"))
    ),
    BuildUp(
        "Ceiling on joists",
        "ceiling lining",
        (layer(1, "Joist", "ceiling joists"), layer(2, "Board", "sheets")),
    ),
    BuildUp(
        "Hung ceiling",
        "ceiling lining",
        (
            layer(1, "Hanger", "hangers"),
            layer(2, "Batten 35", "battens at spacing"),
            layer(3, "Board", "sheets"),
        ),
    ),
    BuildUp("Board ceiling", "ceiling lining", (layer(1, "Board", "sheets"),)),
    BuildUp("Floor", "floor finish", (layer(1, "Floor boards", "sheets"),)),
    BuildUp(
        "Door surround",
        "opening surround",
        (layer(1, "Architrave", "jambs"), layer(2, "Architrave", "heads"), layer(3, "Board", "perimeter")),
    ),
)
LINTELS = tuple(
    LintelRow(
        load_width=load,
        opening_width=2.4,
        material="Timber",
        depth=depth,
        thickness=0.045,
        plies=plies,
        jamb_studs=1,
        studs_under=1,
    )
    for load, depth, plies in ((0.0, 0.120, 1), (6.0, 0.170, 2))
)


def room(
    name: str, x: tuple[float, float], y: tuple[float, float], dwelling: str = "", **more: object
) -> Room:
    return Room(name=name, dwelling=dwelling, from_x=x[0], to_x=x[1], from_y=y[0], to_y=y[1], **more)


def door(mark: str, rooms: tuple[str, str], position: float, width: float) -> InternalDoor:
    return InternalDoor(
        mark=mark,
        rooms=rooms,
        kind="door",
        width=width,
        height=2.1,
        position=position,
        number=1,
        unit_type=None,
    )


ROOMS = (
    room("Living", (0, 7), (3.6, 7.2)),
    room("Bedroom", (7, 12), (3.6, 7.2)),
    room("Bath", (0, 4), (0, 3.6), wet=True, wall_lining="Wet lining"),
    room(
        "Hall", (4, 12), (0, 3.6), flat_ceiling=2.4, ceiling_lining="Ceiling on joists", floor_finish="Floor"
    ),
)
DOORS = (door("D1", ("Living", "Hall"), 5.0, 0.92), door("D2", ("Bath", "Hall"), 2.0, 0.82))
BULKHEAD = Bulkhead(
    name="bulkhead",
    room="Living",
    from_x=0,
    to_x=0.85,
    from_y=3.6,
    to_y=7.2,
    underside=2.4,
    ceiling_lining="Ceiling on joists",
)


@pytest.fixture(scope="module")
def library(job) -> Library:
    return replace(job.library, materials={**job.library.materials, **{m.name: m for m in MATERIALS}})


@pytest.fixture(scope="module")
def house(bare_house):
    """Return a maker of the 12.0 x 7.2 m house with rooms; settings of the house may be given."""

    def make(rooms: Iterable[Room], **parts: object) -> Design:
        names = ("openings", "internal_doors", "bulkheads", "wall_choices")
        settings = {name: value for name, value in parts.items() if name not in names}
        inside = {name: value for name, value in parts.items() if name in names}
        design = bare_house(
            **{
                "external_wall": "Outer wall",
                "ceiling": "Raked ceiling",
                "internal_wall": "Partition",
                "wet_wall": None,
                "party_wall": "Party wall",
                "internal_surround": "Door surround",
                "support_lines": (3.6,),
                "stud_depth": 0.170,
                "stud_thickness": 0.045,
                "stud_spacing": 0.450,
                "rafter_spacing": 0.600,
                "framing_practice": "Usual",
                **settings,
            }
        )
        build_ups = {**design.build_ups, **{each.name: each for each in BUILD_UPS}}
        return replace(design, rooms=tuple(rooms), build_ups=build_ups, lintels=LINTELS, **inside)

    return make


@pytest.fixture(scope="module")
def four_rooms(house, library, window) -> tuple[Design, Inside]:
    # seen from outside, x from the left: a window of 1.20 x 0.90 in the bath
    openings = (window("W1", "low", 1.5, 1.20, 0.90, 1.50),)
    design = house(ROOMS, openings=openings, internal_doors=DOORS, bulkheads=(BULKHEAD,))
    assert not tiling_problems(design)
    assert not inside_problems(design, library)
    return design, measure_inside(design, library)


def frame_of(inside: Inside, run: str) -> InternalFrame:
    (frame,) = (frame for frame in inside.wall_frames if frame.run == run)
    return frame


def lengths(members: Iterable[Member], use: str) -> list[float]:
    return [m.length for m in sorted(members, key=lambda m: m.s) if m.use == use]


def net(inside: Inside, id: str) -> float:
    (quantity,) = (q for q in inside.quantities if q.id == id)
    return quantity.net


def faces(inside: Inside, id: str, note: str) -> list[float]:
    """Return what the lines of an item square to whose note begins so."""
    (quantity,) = (q for q in inside.quantities if q.id == id)
    return [line.squaring for line in quantity.dimensions if line.note.startswith(note)]


# --- a raking wall: Living to Bedroom, x = 7.000 ---


def test_studs_of_a_raking_internal_wall(four_rooms):
    # it stands between the loadbearing wall, 3.600 + 0.035, and the battens of the high wall, 7.200 - 0.215:
    # 3.635 to 6.985, 3.350 long. Roof there 2.700 + 3.635 x 0.087489 = 3.018 and 2.700 + 6.985 x 0.087489 = 3.311
    frame = frame_of(four_rooms[1], "I03")
    assert (frame.start, frame.end) == pytest.approx((3.635, 6.985))
    assert (frame.face.top_left, frame.face.top_right) == pytest.approx((3.018, 3.311), abs=MM)
    studs = sorted((m for m in frame.members if m.use == "stud"), key=lambda m: m.s)
    grid = [0.0225, 0.45, 0.90, 1.35, 1.80, 2.25, 2.70, 3.15, 3.3275]
    assert [m.s for m in studs] == pytest.approx(grid)
    # upright, a raking plate takes 0.045 x 1.003820 = 0.0452; to the longer side, half a stud further up:
    # 3.0180 + (s + 0.0225) x 0.087489 - 0.045 - 2 x 0.0452
    written = [2.887, 2.924, 2.963, 3.003, 3.042, 3.081, 3.121, 3.160, 3.176]
    assert [m.length for m in studs] == pytest.approx(written, abs=MM)


def test_plates_and_noggings_of_a_raking_internal_wall(four_rooms):
    members = frame_of(four_rooms[1], "I03").members
    assert lengths(members, "bottom plate") == pytest.approx([3.350])
    assert lengths(members, "top plate") == pytest.approx([3.350 * SEC] * 2)
    # clear heights from 2.887 up are over 2 x 1.350 and under 3 x 1.350: two rows in each of the eight bays, which are
    # 0.450 - 0.0225 - 0.045 = 0.3825; six of 0.450 - 0.045 = 0.405; 3.3275 - 3.150 - 0.045 = 0.1325
    written = [0.3825] * 2 + [0.405] * 12 + [0.1325] * 2
    assert lengths(members, "nogging") == pytest.approx(written)
    assert Counter(m.use for m in members) == {"bottom plate": 1, "top plate": 2, "stud": 9, "nogging": 16}


def test_infill_of_a_raking_internal_wall(four_rooms):
    # 3.350 x (3.018 + 3.311) / 2 = 10.602 less the seen face of its sticks:
    # plates 0.045 x (3.350 + 2 x 3.3628) = 0.453; studs 0.045 x 27.357 = 1.231; noggings 0.045 x 5.890 = 0.265
    lines = faces(four_rooms[1], "IW.partition.batts", "wall I03 frame")
    assert lines == pytest.approx([10.602], abs=TWO_PLACES)
    sticks = faces(four_rooms[1], "IW.partition.batts", "ddt sticks of wall I03")
    assert sticks == pytest.approx([-(0.453 + 1.231 + 0.265)], abs=TWO_PLACES)


def test_both_faces_of_a_raking_internal_wall_are_lined(four_rooms):
    # from the face of the loadbearing wall, 3.600 + 0.0475, to that of the high wall, 7.200 - 0.2275: 3.325 long;
    # ceiling 2.700 + 3.6475 x 0.087489 - 0.0477 = 2.9714 and 2.700 + 6.9725 x 0.087489 - 0.0477 = 3.2623
    board = "WF.IW.partition.board"
    for name in ("Living", "Bedroom"):
        assert faces(four_rooms[1], board, f"{name}, wall I03") == pytest.approx(
            [3.325 * 3.1169], abs=TWO_PLACES
        )


# --- a level loadbearing wall: y = 3.600, under the support line ---


def test_a_wall_under_a_support_line_carries_half_the_rafters_each_side(four_rooms):
    # 3.600 / 2 + 3.600 / 2 = 3.600 m of roof: the lintel rows for 0 do not hold, those for 6.0 do
    frame = frame_of(four_rooms[1], "I01")
    assert frame.loadbearing
    assert not frame_of(four_rooms[1], "I02").loadbearing
    (framed,) = frame.openings
    assert (framed.lintel.load_width, framed.lintel.depth, framed.lintel.plies) == (6.0, 0.170, 2)


def test_sticks_of_a_level_loadbearing_wall_with_a_door(four_rooms):
    # 12.000 - 2 x 0.215 = 11.570; roof at its lower face 2.700 + 3.565 x 0.087489 = 3.0119; studs 3.0119 - 3 x 0.045
    frame = frame_of(four_rooms[1], "I01")
    members = frame.members
    assert (frame.start, frame.end) == pytest.approx((0.215, 11.785))
    assert {round(length, 4) for length in lengths(members, "stud")} == {2.8769}
    # the door from 5.000: bottom plates 5.000 - 0.215 and 11.785 - 5.920
    assert lengths(members, "bottom plate") == pytest.approx([4.785, 5.865])
    assert lengths(members, "top plate") == pytest.approx([11.570, 11.570])
    assert lengths(members, "lintel") == pytest.approx([0.92 + 2 * 0.045] * 2)
    assert lengths(members, "stud under lintel") == pytest.approx([2.1 - 0.045] * 2)
    # over the lintel, on the grid at 4.95 and 5.40: 3.0119 - 0.090 - 2.100 - 0.170
    assert lengths(members, "jack stud") == pytest.approx([0.6519] * 2, abs=0.00005)
    # grid 0.0225, 25 of 0.45 to 11.25, 11.5475: 27; less 4.95 and 5.40 in the door, less 6.75 at the wall of the
    # bedroom; two studs each where the walls at x = 4.000 and 7.000 meet it
    counts = Counter(m.use for m in members)
    assert (counts["stud"], counts["jamb stud"], counts["junction stud"]) == (24, 2, 4)
    junctions = [m.s for m in members if m.use == "junction stud"]
    assert junctions == pytest.approx([3.7625, 3.8075, 6.7625, 6.8075])


def test_external_walls_have_junction_studs_where_internal_walls_meet_them(four_rooms):
    # x = 4.000 on the low wall; on the high wall, seen from outside, 12.000 - 7.000 = 5.000
    for side, place in (("low", 4.0), ("high", 5.0)):
        members = frame_wall(four_rooms[0], side, material="x").members
        found = [m.s for m in members if m.use == "junction stud"]
        assert found == pytest.approx([place - 0.0225, place + 0.0225])


# --- a wet room, tiled to 2.100 and painted above ---


def test_a_wet_room_tiled_to_2_1_m_under_a_higher_raked_ceiling(four_rooms):
    # board and tile 22.5: x 0.2375 to 4.000 - 0.035 - 0.0225 = 3.9425, y 0.2375 to 3.5425: 3.705 x 3.305
    #   2/ (3.705 + 3.305) x 2.100 = 29.442
    #   ddt window, 1.500 to 2.100: 1.200 x 0.600 = 0.720; ddt door 0.820 x 2.100 = 1.722         27.000
    inside = four_rooms[1]
    assert net(inside, "WF.wet-lining.tile") == pytest.approx(27.000)
    # ceiling 2.700 + 0.2375 x 0.087489 - 0.0477 = 2.6731 low, 2.700 + 3.5425 x 0.087489 - 0.0477 = 2.9622 high
    #   3.705 x 0.5731 = 2.123; 3.705 x 0.8622 = 3.195; 2/ 3.305 x 0.7177 = 4.744                  10.062
    #   ddt window, 2.100 to 2.400: 1.200 x 0.300 = 0.360, two coats                              2 x 9.702
    assert net(inside, "WF.wet-lining.paint") == pytest.approx(2 * 9.702, abs=TWO_PLACES)
    # the board behind both: 29.442 + 10.062 - 1.080 - 1.722
    assert net(inside, "WF.wet-lining.board") == pytest.approx(36.702, abs=TWO_PLACES)


def test_a_wet_room_whose_raked_ceiling_crosses_the_height_of_the_tiles(house, library):
    # low wall 1.900: ceiling 1.8731 at the low side, 2.1622 at the high; it passes 2.100 at
    # y = (2.100 - 1.900 + 0.0477) / 0.087489 = 2.8310, 2.8310 - 0.2375 = 2.5935 from the low side
    design = house(
        [each for each in ROOMS if each.name != "Hall"] + [room("Hall", (4, 12), (0, 3.6))], low_height=1.9
    )
    inside = measure_inside(design, library)
    #   low 3.705 x 1.8731 = 6.940; high 3.705 x 2.100 = 7.781; sides 2/ 3.305 x 2.100 = 13.881
    #   ddt 2/ 0.5 x 2.5935 x 0.2269 = 0.588                                                       28.014
    assert net(inside, "WF.wet-lining.tile") == pytest.approx(28.014, abs=TWO_PLACES)
    #   high 3.705 x 0.0622 = 0.231; sides 2/ 0.5 x 0.7115 x 0.0622 = 0.044; two coats              0.550
    assert net(inside, "WF.wet-lining.paint") == pytest.approx(0.550, abs=TWO_PLACES)


def test_a_wet_room_under_a_ceiling_lower_than_the_tiles_has_no_paint(house, library):
    low = [
        replace(r, flat_ceiling=2.0, ceiling_lining="Ceiling on joists") if r.name == "Bath" else r
        for r in ROOMS
    ]
    inside = measure_inside(house(low), library)
    assert net(inside, "WF.wet-lining.tile") == pytest.approx(2 * (3.705 + 3.305) * 2.0)
    assert not [q for q in inside.quantities if q.id == "WF.wet-lining.paint" and q.net]


# --- flat ceiling, bulkhead, skirting, cornice ---


def test_joists_of_a_flat_ceiling(four_rooms):
    # Hall: x 4.0475 to 11.7725, y 0.2275 to 3.5525: 7.725 x 3.325. Ledgers 2/ 7.725; joists 3.325 - 2 x 0.045 = 3.235
    # at 450: 0.0225, 17 of 0.45 to 7.65, 7.7025: 19
    members = [m for m in four_rooms[1].ceiling_members if m.place == "ceiling of Hall"]
    assert lengths(members, "ledger") == pytest.approx([7.725] * 2)
    assert lengths(members, "ceiling joist") == pytest.approx([3.235] * 19)
    assert sum(m.length for m in members) == pytest.approx(2 * 7.725 + 19 * 3.235) == pytest.approx(76.915)


def test_a_bulkhead_has_a_soffit_an_upright_face_and_its_frame(four_rooms):
    # 0.850 - 0.2275 = 0.6225 wide, 3.6475 to 6.9725 long
    inside = four_rooms[1]
    board = "CF.ceiling-on-joists.board"
    assert faces(inside, board, "Living, bulkhead ceiling") == pytest.approx([0.6225 * 3.325])
    # from 2.400 up to 2.971 and 3.262: 3.325 x (0.571 + 0.862) / 2
    upright = faces(inside, board, "Living, bulkhead, upright face to Living")
    assert upright == pytest.approx([3.325 * 0.7169], abs=TWO_PLACES)
    members = [m for m in inside.ceiling_members if m.place == "ceiling of Living, bulkhead"]
    # at 450 on 3.325: 0.0225, 7 of 0.45 to 3.15, 3.3025: 9 joists of 0.6225 - 0.090, 9 studs in the upright face,
    # 0.571 + s x 0.087489 - 0.090 high; two ledgers, a rail at the foot, one on the rake
    assert Counter(m.use for m in members) == {"ledger": 4, "ceiling joist": 9, "bulkhead stud": 9}
    assert lengths(members, "ceiling joist") == pytest.approx([0.5325] * 9)
    assert sorted(lengths(members, "ledger")) == pytest.approx([3.325] * 3 + [3.325 * SEC])
    studs = sorted(lengths(members, "bulkhead stud"))
    assert (studs[0], studs[-1]) == pytest.approx((0.483, 0.770), abs=MM)


def test_ceilings_over_the_rooms(four_rooms):
    # raked, on the slope: Living (6.725 - 0.6225) x 3.325, Bedroom 4.725 x 3.325, Bath 3.705 x 3.305
    inside = four_rooms[1]
    raked = (6.1025 * 3.325 + 4.725 * 3.325 + 3.705 * 3.305) * SEC
    assert net(inside, "CF.ceiling.board") == pytest.approx(raked)
    flat = 7.725 * 3.325 + 0.6225 * 3.325
    assert net(inside, "CF.ceiling-on-joists.board") == pytest.approx(flat + 3.325 * 0.7169, abs=TWO_PLACES)


def test_skirtings_and_cornices(four_rooms):
    # round Living 2 x (6.725 + 3.325) = 20.100 less the door of 0.920; cornice level along the eaves, 3.325 in the
    # bulkhead, 3.325 / cos 5 = 3.338 on the rake against the bedroom
    # round Bedroom 2 x (4.725 + 3.325) = 16.100; cornice 9.450 and two of 3.338
    # round Hall 2 x (7.725 + 3.325) = 22.100 less 0.920 and 0.820; cornice level
    inside = four_rooms[1]
    skirting = sum(q.net for q in inside.quantities if q.material == "Skirting")
    assert skirting == pytest.approx(19.180 + 16.100 + 20.360)
    cornice = sum(q.net for q in inside.quantities if q.material == "Cornice")
    assert cornice == pytest.approx((13.450 + 3.325 + 3.338) + (9.450 + 2 * 3.338) + 22.100, abs=TWO_PLACES)


def test_floors_and_walls_make_the_floor_inside(four_rooms):
    # 11.545 x 6.745 = 77.871, but for the tiles of the bath, 10 thick along 3.8 and 3.4 of the outer walls
    plan = four_rooms[1].plan
    floors = {r.name: plan.floor_of(r) for r in four_rooms[0].rooms}
    assert floors["Living"] == pytest.approx(6.725 * 3.325)
    assert floors["Bedroom"] == pytest.approx(4.725 * 3.325)
    assert floors["Bath"] == pytest.approx(3.705 * 3.305)
    assert floors["Hall"] == pytest.approx(7.725 * 3.325)
    assert plan.inside == pytest.approx(77.871 - 0.010 * (4.0 - 0.2275) - 0.010 * (3.6 - 0.2375), abs=0.001)
    assert sum(floors.values()) + plan.internal_walls == pytest.approx(plan.inside)


def test_air_and_floor_finish_of_rooms(four_rooms):
    # Bedroom 4.725 x 3.325 under (2.9714 + 3.2623) / 2; Hall 7.725 x 3.325 under 2.400
    figures = {each.room.name: each for each in four_rooms[1].rooms}
    assert figures["Bedroom"].volume == pytest.approx(4.725 * 3.325 * 3.1169, abs=TWO_PLACES)
    assert (figures["Bedroom"].lowest, figures["Bedroom"].highest) == pytest.approx((2.971, 3.262), abs=MM)
    assert figures["Hall"].volume == pytest.approx(7.725 * 3.325 * 2.4)
    assert four_rooms[1].air_volume == pytest.approx(sum(each.volume for each in figures.values()))
    assert net(four_rooms[1], "FF.floor.floor-boards") == pytest.approx(7.725 * 3.325)


def test_surrounds_of_internal_doors(four_rooms):
    # jambs 2 x 2 x 2.100; heads 0.920 + 0.820
    assert net(four_rooms[1], "ID.jambs.architrave") == pytest.approx(8.400)
    assert net(four_rooms[1], "ID.heads.architrave") == pytest.approx(1.740)
    assert net(four_rooms[1], "ID.perimeter.board") == pytest.approx(10.140)


def test_hangers_of_a_flat_ceiling(house, library):
    # Hall 7.725 x 3.325: battens 70 wide at 450 across 3.325: 0.035, 7 of 0.45 to 3.15, 3.290: 9; along each
    # hangers at 1200 at most: 7.725 / 1.2 = 6.44, so 7 bays and 8 hangers
    hung = [replace(r, ceiling_lining="Hung ceiling") if r.name == "Hall" else r for r in ROOMS]
    inside = measure_inside(house(hung), library)
    assert net(inside, "CF.hung-ceiling.hanger") == 9 * 8
    assert net(inside, "CF.hung-ceiling.batten-35") == pytest.approx(9 * 7.725)


def test_a_flat_ceiling_beside_a_thicker_wall_keeps_its_joists_in_one_bed(house, library):
    # Hall 0.2275 to 5.9425 beside the bath, 10 further to 5.9525 beside the store: joists over 5.715 x 3.725, the strip
    # of 10 is left to packing
    rooms = (
        room("Hall", (0, 6), (0, 4), flat_ceiling=2.4, ceiling_lining="Ceiling on joists"),
        room("Bath", (6, 12), (0, 2)),
        room("Store", (6, 12), (2, 4)),
        room("Living", (0, 12), (4, 7.2)),
    )
    design = house(rooms, wall_choices=(WallChoice(rooms=("Hall", "Bath"), build_up="Deep partition"),))
    members = measure_inside(design, library).ceiling_members
    assert lengths(members, "ledger") == pytest.approx([5.715, 5.715])
    assert {round(length, 6) for length in lengths(members, "ceiling joist")} == {3.635}


def test_a_raked_ceiling_that_crosses_a_flat_one_beside_it(house, library):
    # open to each other at x = 6.000. The raked one lies under 2.690 up to y = (2.690 - 2.700 + 0.0477) / 0.087489 =
    # 0.4307, from there to 6.9725 above it: 6.5418 long, 3.2623 - 2.6900 = 0.5723 high at its end
    rooms = (
        room("Living", (0, 6), (0, 7.2)),
        room("Alcove", (6, 12), (0, 7.2), flat_ceiling=2.69, ceiling_lining="Board ceiling"),
    )
    design = house(rooms, wall_choices=(WallChoice(rooms=("Living", "Alcove"), build_up=OPEN),))
    assert not inside_problems(design, library)
    upright = faces(
        measure_inside(design, library), "CF.board-ceiling.board", "Alcove, upright face to Living"
    )
    assert upright == pytest.approx([6.5418 * 0.5723 / 2], abs=TWO_PLACES)


def test_linings_whose_names_differ_in_a_comma_are_measured_apart(house, library):
    # Bedroom as above, 4.725 + 3.325 twice; the names give one id, the second takes a number
    design = house(
        [
            replace(r, wall_lining={"Bedroom": "Painted board", "Hall": "Painted, board"}.get(r.name))
            for r in ROOMS
        ]
    )
    tiled = BuildUp(
        "Painted, board", "wall lining", (layer(1, "Board", "sheets"), layer(2, "Paint", "coats", rate=3))
    )
    inside = measure_inside(replace(design, build_ups={**design.build_ups, tiled.name: tiled}), library)
    boards = sorted(q.net for q in inside.quantities if q.id.startswith("WF.painted-board.board"))
    paint = sorted(q.net for q in inside.quantities if q.id.startswith("WF.painted-board.paint"))
    hall, bedroom = 2 * (7.725 + 3.325) * 2.4, 2 * 3.325 * 3.1169 + 4.725 * (2.9714 + 3.2623)
    assert boards == pytest.approx([bedroom, hall], abs=TWO_PLACES)
    assert paint == pytest.approx([bedroom, 3 * hall], abs=3 * TWO_PLACES)


# --- where walls meet ---


def test_a_wall_between_flat_ceilings_stops_over_the_higher_one(house, library):
    # 2.400 and 2.300, each with joists of 90 and a board of 12.5: 2.400 + 0.1025; studs less three plates
    flat = [
        replace(r, flat_ceiling=2.3, ceiling_lining="Ceiling on joists") if r.name == "Bath" else r
        for r in ROOMS
    ]
    frame = frame_of(measure_inside(house(flat), library), "I02")
    assert (frame.face.top_left, frame.face.top_right) == pytest.approx((2.5025, 2.5025))
    assert {round(length, 6) for length in lengths(frame.members, "stud")} == {2.3675}
    assert lengths(frame.members, "top plate") == pytest.approx([frame.face.width] * 2)


def test_where_two_walls_cross_the_one_along_the_eaves_runs_through(house, library):
    # y = 3.600 from 0.215 to 11.785, with two junction studs at x = 6.000; the other in two, 35 short of the middle
    rooms = [
        room(f"{across}{along}", x, y)
        for across, y in (("low", (0, 3.6)), ("high", (3.6, 7.2)))
        for along, x in (("left", (0, 6)), ("right", (6, 12)))
    ]
    frames = measure_inside(house(rooms, support_lines=()), library).wall_frames
    written = [(0.215, 11.785), (0.215, 3.565), (3.635, 6.985)]
    assert [(f.start, f.end) for f in frames] == [pytest.approx(each) for each in written]
    junctions = [m.s for m in frames[0].members if m.use == "junction stud"]
    assert junctions == pytest.approx([5.785 - 0.0225, 5.785 + 0.0225])


def test_a_stub_of_wall_narrower_than_a_stud_is_packed(house, library):
    # the walls at y = 1.200 and y = 1.300 leave 0.100 - 2 x 0.035 = 30 mm of the wall between them
    rooms = (
        room("A", (0, 4), (0, 1.3)),
        room("B", (4, 12), (0, 1.2)),
        room("C", (4, 12), (1.2, 7.2)),
        room("D", (0, 4), (1.3, 7.2)),
    )
    choices = tuple(WallChoice(rooms=pair, build_up=OPEN) for pair in (("A", "B"), ("C", "D")))
    inside = measure_inside(house(rooms, wall_choices=choices, support_lines=()), library)
    assert [run.length for run in inside.runs if run.axis == "y"] == pytest.approx([0.100])
    assert {frame.run for frame in inside.wall_frames} == {run.mark for run in inside.runs if run.axis == "x"}


# --- party walls ---


def two_dwellings(house, **settings: object) -> Design:
    rooms = (room("House", (0, 7.8), (0, 7.2)), room("Unit", (7.8, 12), (0, 7.2), "unit"))
    return house(rooms, separate_dwellings=True, **settings)


def test_both_leaves_of_a_party_wall_are_framed(house, library):
    # x = 7.800, gap 0.040, studs 0.070: leaves about 7.745 and 7.855, 0.215 to 6.985: 6.770 long
    inside = measure_inside(two_dwellings(house), library)
    assert [f.across for f in inside.wall_frames] == pytest.approx([7.745, 7.855])
    members = [m for f in inside.wall_frames for m in f.members]
    assert lengths(members, "bottom plate") == pytest.approx([6.770] * 2)
    assert lengths(members, "top plate") == pytest.approx([6.770 * SEC] * 4)
    # at 450: 0.0225, 14 of 0.45 to 6.30, 6.7475: 16 in each leaf
    assert len(lengths(members, "stud")) == 2 * 16
    # packed once, from outline to outline: the face of a side wall, 7.200 x (2.700 + 3.330) / 2 = 21.71
    assert net(inside, "IW.party-wall.packing") == pytest.approx(21.71, abs=TWO_PLACES)
    assert net(inside, "IW.party-wall.packing") == pytest.approx(7.2 * (2.7 + 3.6 * TAN))
    # a board on each side: 0.2275 to 6.9725, 6.745 long under 2.700 + 3.600 x 0.087489 - 0.0477 = 2.967 on average
    for name in ("House", "Unit"):
        lines = faces(inside, "WF.IW.party-wall.board", f"{name}, wall I01")
        assert lines == pytest.approx([6.745 * 2.9673], abs=TWO_PLACES)


def test_outer_walls_stop_each_side_of_a_party_wall(house):
    # low wall: plates 7.780 and 12.000 - 7.820 = 4.180, a stud flush with each side of the gap
    frame = frame_wall(two_dwellings(house), "low", material="x")
    assert lengths(frame.members, "bottom plate") == pytest.approx([7.780, 4.180])
    assert lengths(frame.members, "top plate") == pytest.approx([7.780] * 2 + [4.180] * 2)
    studs = [m.s for m in frame.members if m.use == "stud"]
    assert any(s == pytest.approx(7.7575) for s in studs)
    assert any(s == pytest.approx(7.8425) for s in studs)
    assert not any(m.use == "junction stud" for m in frame.members)


def test_rafters_of_a_house_with_a_party_wall_up_the_slope(house):
    # 12.000 at 600 has 21 rafters; the one at 7.800 gives way to two, 7.7575 and 7.8425: 22, each of two lengths of
    # 4.216; blocking in 22 - 1 - 1 bays over both walls and the support line
    design = two_dwellings(house, rafter_blocking=True)
    roof = frame_roof(design.house, material="x", gaps=party_gaps(wall_runs(design), design.house))
    assert lengths(roof.members, "rafter") == pytest.approx([4.216] * 44, abs=MM)
    places = sorted({round(m.s, 4) for m in roof.members if m.use == "rafter"})
    assert len(places) == 22
    assert {7.7575, 7.8425} < set(places)
    assert 7.8 not in places
    assert Counter(m.use for m in roof.members)["blocking"] == 20 * 3
    # 0.040 of the slope over the outline is gap
    assert roof.gap_area == pytest.approx(0.040 * 7.2 * SEC)


def test_leaves_of_a_party_wall_round_a_corner(house, library):
    # unit in the upper right corner, x 8 to 12, y 3.6 to 7.2. The wall along the eaves runs through: its outer leaf to
    # 8.000 - 0.090, its inner one to the gap, 8.000 + 0.020; up the slope the outer leaf begins at the gap, 3.600 -
    # 0.020, the inner one on the other wall's, 3.600 + 0.090
    rooms = (
        room("House", (0, 8), (0, 7.2)),
        room("Porch", (8, 12), (0, 3.6)),
        room("Unit", (8, 12), (3.6, 7.2), "unit"),
    )
    design = house(rooms, separate_dwellings=True)
    frames = [f for f in measure_inside(design, library).wall_frames if f.party]
    written = [(7.91, 11.785), (8.02, 11.785), (3.58, 6.985), (3.69, 6.985)]
    assert [(f.start, f.end) for f in frames] == [pytest.approx(each) for each in written]
    # rafters across the wall along the eaves stop each side of its gap: (0.6 + 3.58) and (7.2 - 3.62 + 0.6) level
    roof = frame_roof(
        replace(design.house, support_lines=()),
        material="x",
        gaps=party_gaps(wall_runs(design), design.house),
    )
    ((low, high),) = {
        tuple(round(m.length, 3) for m in roof.members if m.use == "rafter" and abs(m.s - s) < 1e-6)
        for s in (9.6, 10.2)
    }
    assert (low, high) == pytest.approx((4.18 * SEC, 4.18 * SEC), abs=MM)
    # the verge on that side too: its barge rafter stops each side of the gap
    barge = [m.length for m in roof.members if m.use == "barge rafter" and m.s > 12]
    assert barge == pytest.approx([4.18 * SEC, 4.18 * SEC])


# --- published ---


def test_the_painted_walls_of_the_study_cards_in_a_real_room(house, library, window):
    # 12.5 x 8.7 m, 2.6 m high: 2 x (12.5 + 8.7) x 2.6 = 110.24, less 2.3 x 1.8 and two of 1.9 x 1.5 = 9.84: 100.40.
    # Walls 0.2275 thick, so 12.955 x 9.155 outside; a flat ceiling at 2.6
    openings = (
        window("A", "high", 2.0, 2.3, 1.8, 0.5),
        window("B", "high", 6.0, 1.9, 1.5, 0.5),
        window("C", "low", 2.0, 1.9, 1.5, 0.5),
    )
    flat = {"flat_ceiling": 2.6, "ceiling_lining": "Ceiling on joists", "wall_lining": "Painted board"}
    design = house(
        [room("Room", (0, 12.955), (0, 9.155), **flat)],
        openings=openings,
        length=12.955,
        span=9.155,
        low_height=3.0,
    )
    inside = measure_inside(design, library)
    assert not inside_problems(design, library)
    lines = next(q for q in inside.quantities if q.material == "Paint").dimensions
    assert sum(line.squaring for line in lines if not line.deducted) == pytest.approx(110.24)
    assert net(inside, "WF.painted-board.paint") == pytest.approx(100.40)
    assert inside.rooms[0].floor == pytest.approx(12.5 * 8.7)
