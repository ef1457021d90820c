"""Hand calculation of a suspended timber floor of 7.2 x 4.8 m, written out as on dimension paper (derived).

The rules are common practice without a source (`takeoff.framing.floor`); the arithmetic is school arithmetic.
Tolerance: that of floating point.

    joists 240 x 45 at 450, bearers 190 x 90 at 1800 at most, stumps at 1800 at most, timber up to 6.0 m
    flooring 22; floor 750 above ground; pads 400 x 400 x 250, underside 600 down; topsoil 100
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest

from takeoff.compare.cautions import cautions_of
from takeoff.compare.evaluate import DesignError, Result, evaluate
from takeoff.compare.figures import figures_of
from takeoff.documents.report_tables import framing_table
from takeoff.framing.floor import FloorFrame, equal_bays, frame_floor, pieces_between
from takeoff.guide import page_text
from takeoff.measure.floor import floor_frame, measure_floor
from takeoff.measure.house import measure_house
from takeoff.measure.quantity import Quantity
from takeoff.model.checks import design_problems
from takeoff.model.geometry import Gap
from takeoff.model.house import BuildUp, Design, House, Layer, Option, Room
from takeoff.model.job import Job
from takeoff.model.problem import Origin

TIMBER = "Softwood framing, structural"
FLOORING = "Plywood sheathing 9"
CONCRETE = "Concrete 25 MPa"
BATTS = "Insulation board, EPS"
DIGGING = "Excavation, topsoil strip and trenches"

NUMBERS = {
    "length": 7.2,
    "span": 4.8,
    "support_lines": (),
    "floor_above_ground": 0.75,
    "topsoil_depth": 0.10,
    "floor_joist_depth": 0.24,
    "floor_joist_thickness": 0.045,
    "floor_joist_spacing": 0.45,
    "bearer_depth": 0.19,
    "bearer_thickness": 0.09,
    "bearer_spacing": 1.8,
    "stump_spacing": 1.8,
    "pad_width": 0.4,
    "pad_depth": 0.25,
    "footing_depth": 0.6,
    "longest_length": 6.0,
}


def layer(
    number: int, material: str, way: str, *, thickness: float | None = None, rate: float = 1.0
) -> Layer:
    return Layer(
        number=number,
        material=material,
        thickness=thickness,
        measured_by=way,
        direction=None,
        spacing=None,
        rate=rate,
        origin=Origin(book="house", sheet="Build-ups", row=number, columns=(("measured_by", "F"),)),
    )


LAYERS = (
    layer(1, FLOORING, "sheets", thickness=0.022),
    layer(2, TIMBER, "floor joists"),
    layer(3, BATTS, "between joists", thickness=0.14),
    layer(4, TIMBER, "bearers"),
    layer(5, "Post", "stumps", rate=2),
    layer(6, "Post timber", "stump length"),
    layer(7, CONCRETE, "pads"),
    layer(8, "Framing nails and straps", "mass per m3 of frame", rate=8),
    layer(9, DIGGING, "excavation"),
)


@pytest.fixture(scope="module")
def floor_job(job: Job) -> Job:
    # a stump as a thing counted and as a length of timber, made from materials of the demo
    post = replace(job.library.materials[TIMBER], name="Post", work=None)
    nails = replace(post, name="Framing nails and straps")
    extra = {m.name: m for m in (post, replace(post, name="Post timber"), nails)}
    return replace(job, library=replace(job.library, materials={**job.library.materials, **extra}))


@pytest.fixture(scope="module")
def timber_floor(bare_house: Callable[..., Design]) -> Callable[..., Design]:
    """Return a maker of a house of the numbers above; settings and layers may be given."""

    def make(*, layers: tuple[Layer, ...] = LAYERS, **settings: object) -> Design:
        design = bare_house(floor="Timber", **{**NUMBERS, **settings})
        return replace(design, build_ups={**design.build_ups, "Timber": BuildUp("Timber", "floor", layers)})

    return make


@pytest.fixture(scope="module")
def house(timber_floor: Callable[..., Design]) -> House:
    return timber_floor().house


def framed(house: House, *gaps: Gap) -> FloorFrame:
    return frame_floor(house, joist_material=TIMBER, bearer_material=TIMBER, gaps=gaps)


def lengths(frame: FloorFrame, use: str) -> Counter[float]:
    return Counter(round(m.length, 6) for m in frame.members if m.use == use)


def lines(frame: FloorFrame) -> list[float]:
    return sorted({round(m.z, 6) for m in frame.members if m.use == "bearer"})


def test_joists_and_blocking(house):
    frame = framed(house)
    # 7.2 / 0.45 + 1 = 17 joists, from face to face; 17 / 4.80 = 81.60 m
    assert lengths(frame, "floor joist") == {4.8: 17}
    # two rows of 16: 14 of 0.450 - 0.045 = 0.405, and 0.450 - 0.0225 - 0.045 = 0.3825 at both ends
    assert lengths(frame, "floor blocking") == {0.405: 28, 0.3825: 4}
    # over the first and last bearer, 45 from the outside faces
    assert {round(m.z, 6) for m in frame.members if m.use == "floor blocking"} == {0.045, 4.755}
    assert [m.mark for m in frame.members][:2] == ["F-FJ01", "F-FJ02"]
    assert {m.mark for m in frame.members if m.use == "bearer"} == {f"F-BE{n:02d}" for n in range(1, 9)}


def test_bearers_and_stumps(house):
    frame = framed(house)
    # first and last flush: 4.80 - 0.09 = 4.71, three bays of 1.57
    assert lines(frame) == pytest.approx([0.045, 1.615, 3.185, 4.755])
    # 7.20 - 0.09 = 7.11, four bays of 1.7775: stumps at 0.045, 1.8225, 3.600, 5.3775, 7.155
    assert sorted({round(x, 6) for x, _ in frame.stumps}) == pytest.approx(
        [0.045, 1.8225, 3.6, 5.3775, 7.155]
    )
    assert len(frame.stumps) == 4 * 5
    # 7.20 is longer than 6.00: joined over the last stump within 6.00
    assert lengths(frame, "bearer") == {5.3775: 4, 1.8225: 4}
    assert frame.too_long == ()


def test_a_bearer_stands_under_every_support_line(timber_floor):
    # 0.045 to 2.000 and 2.000 to 4.755: two bays of 0.9775, two of 1.3775
    frame = framed(timber_floor(support_lines=(2.0,)).house)
    assert lines(frame) == pytest.approx([0.045, 1.0225, 2.0, 3.3775, 4.755])
    # one within a bearer's thickness of the low wall's has that one
    assert lines(framed(timber_floor(support_lines=(0.12,)).house)) == lines(framed(timber_floor().house))


def test_joists_longer_than_can_be_bought_are_joined_over_a_bearer(timber_floor):
    # span 7.2: 7.11 in four bays of 1.7775, bearers at 1.8225, 3.600, 5.3775: 5.3775 + 1.8225
    frame = framed(timber_floor(span=7.2).house)
    assert lengths(frame, "floor joist") == {5.3775: 17, 1.8225: 17}
    # as few pieces as can be: 7.2 in lengths of 3.6 is two, not three
    frame = framed(timber_floor(span=7.2, longest_length=3.6).house)
    assert lengths(frame, "floor joist") == {3.6: 34}
    assert frame.too_long == ()


def test_a_bay_longer_than_can_be_bought_keeps_its_joist_whole(timber_floor):
    # 4.71 in one bay of 6.0 at most, timber up to 2.4 m: nothing to join a joist over
    frame = framed(timber_floor(bearer_spacing=6.0, longest_length=2.4).house)
    assert lengths(frame, "floor joist") == {4.8: 17}
    assert {m.use for m in frame.too_long} == {"floor joist"}
    assert len(frame.too_long) == 17
    # a long bay in the middle is parted from short ones at its ends: 0 to 1, 1 to 8, 8 to 9
    assert pieces_between(0.0, 9.0, joints=[1.0, 8.0], longest=6.0) == [(0.0, 1.0), (1.0, 8.0), (8.0, 9.0)]
    # and one at the foot ends at the first joint, not at a later one
    assert pieces_between(0.0, 9.0, joints=[7.0, 8.0], longest=6.0) == [(0.0, 7.0), (7.0, 9.0)]
    assert equal_bays(0.0, 3.6, spacing=1.8) == pytest.approx([0.0, 1.8, 3.6])


def test_dimension_sheet_of_the_floor(floor_job, timber_floor):
    design = timber_floor()
    rows = measure_floor(design, floor_job.library, floor_frame(design))
    nets = {q.id: q.net for q in rows}
    joists, blocking, bearers = 17 * 4.80, 2 * (7.20 - 17 * 0.045), 4 * 7.20
    assert (joists, blocking, bearers) == pytest.approx((81.60, 12.87, 28.80))
    # outside faces 7.20 x 4.80 = 34.56; seen face of 94.47 m x 0.045 = 4.25
    insulation = 7.20 * 4.80 - (joists + blocking) * 0.045
    assert insulation == pytest.approx(30.30885)
    # 94.47 x 0.240 x 0.045 = 1.020 and 28.80 x 0.190 x 0.090 = 0.492: 1.513 m3
    timber = (joists + blocking) * 0.240 * 0.045 + bearers * 0.190 * 0.090
    assert timber == pytest.approx(1.512756)
    # 750 + 600 - 250 - (22 + 240 + 190) = 648
    stump = 0.750 + 0.600 - 0.250 - (0.022 + 0.240 + 0.190)
    assert stump == pytest.approx(0.648)
    assert nets == pytest.approx(
        {
            "SB.plywood-sheathing-9": 34.56,
            "SB.FR.floor-joists.softwood-framing-structural.240x45": 81.60,
            "SB.FR.floor-blocking.softwood-framing-structural.240x45": 12.87,
            "SB.between-joists.insulation-board-eps": insulation,
            "SB.FR.bearers.softwood-framing-structural.190x90": 28.80,
            # two of 'Post' a stump, by the column Rate
            "SB.stumps.post": 20 * 2,
            "SB.stump-length.post-timber": 20 * stump,
            # 20 / 0.40 x 0.40 x 0.25
            "SB.pads.concrete-25-mpa": 0.80,
            "SB.framing-nails-and-straps": 8 * timber,
            # 7.20 x 4.80 x 0.10 = 3.456 and 20 / 0.40 x 0.40 x (0.60 - 0.10) = 1.600
            "SB.excavation-topsoil-strip-and-trenches": 3.456 + 1.600,
        }
    )
    assert _net(rows, DIGGING) == pytest.approx(5.056)
    assert {q.unit for q in rows if q.material == "Post"} == {"Nr"}
    assert next(q for q in rows if q.material == BATTS).thickness == pytest.approx(0.14)
    assert {q.location for q in rows} == {"ground floor"}


def test_footings_no_deeper_than_the_topsoil_need_no_holes(floor_job, timber_floor):
    design = timber_floor(footing_depth=0.1, pad_depth=0.05)
    assert _net(measure_floor(design, floor_job.library, floor_frame(design)), DIGGING) == pytest.approx(
        3.456
    )


def test_joists_without_bearers_or_anything_else(floor_job, timber_floor):
    design = timber_floor(layers=LAYERS[:2])
    frame = floor_frame(design)
    assert frame is not None
    assert frame.bearers == ()
    ids = [q.id.split(".")[:3] for q in measure_floor(design, floor_job.library, frame)]
    assert ids == [
        ["SB", "plywood-sheathing-9"],
        ["SB", "FR", "floor-joists"],
        ["SB", "FR", "floor-blocking"],
    ]
    assert not design_problems(design)


def test_a_slab_measures_as_without_a_frame(job):
    design = job.design
    assert floor_frame(design) is None
    house = measure_house(design, job.library)
    assert house.floor_frame is None
    assert house.under_floor is None
    slab = [q for q in house.quantities if q.element == "SB"]
    assert slab == measure_floor(design, job.library)
    assert sum(q.net for q in slab if q.unit == "m3" and "oncrete" in q.material) > 0


def test_a_gap_up_the_slope_leaves_two_floors_beside_each_other(house):
    # (7.20 - 0.06) / 2 = 3.57 each: 0.0225, 0.45 ... 3.15 and 3.5475, 9 joists each
    frame = framed(house, Gap(from_x=3.57, to_x=3.63, from_y=0.0, to_y=4.8))
    assert lengths(frame, "floor joist") == {4.8: 18}
    centres = sorted(m.s for m in frame.members if m.use == "floor joist")
    assert centres[8:10] == pytest.approx([3.57 - 0.0225, 3.63 + 0.0225])
    assert lengths(frame, "bearer") == {3.57: 8}
    # 3.57 - 0.09 = 3.48 in two bays of 1.74: 3 stumps under each of 8 bearers
    assert len(frame.stumps) == 24
    assert frame.gap_area == pytest.approx(0.06 * 4.8)
    # 2 rows of 2 / (3.57 - 9 x 0.045) = 12.66
    assert sum(m.length for m in frame.members if m.use == "floor blocking") == pytest.approx(12.66)


def test_a_gap_along_the_eaves_leaves_two_floors_behind_each_other(house):
    # (4.80 - 0.06) / 2 = 2.37: 2.37 - 0.09 = 2.28 in two bays of 1.14
    frame = framed(house, Gap(from_x=0.0, to_x=7.2, from_y=2.37, to_y=2.43))
    assert lengths(frame, "floor joist") == {2.37: 34}
    assert lines(frame) == pytest.approx([0.045, 1.185, 2.325, 2.475, 3.615, 4.755])
    rows = Counter(round(m.z, 6) for m in frame.members if m.use == "floor blocking")
    assert rows == {0.045: 16, 2.325: 16, 2.475: 16, 4.755: 16}


def test_leaves_that_touch_are_floors_of_their_own(house):
    # a gap without width: 17 joists of 2.40 each side, and two joists side by side where it runs up the slope
    level = framed(house, Gap(from_x=0.0, to_x=7.2, from_y=2.4, to_y=2.4))
    assert lengths(level, "floor joist") == {2.4: 34}
    upright = framed(house, Gap(from_x=3.6, to_x=3.6, from_y=0.0, to_y=4.8))
    centres = sorted(m.s for m in upright.members if m.use == "floor joist")
    assert centres[8:10] == pytest.approx([3.6 - 0.0225, 3.6 + 0.0225])
    assert level.gap_area == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("level_end", "upright_foot"),
    [(3.0, 2.37), (3.06, 2.43), (3.03, 2.4), (3.06, 2.37)],
    ids=["corner in the one", "corner in the other", "to the middle lines", "corner in both"],
)
def test_a_party_wall_round_a_corner(house, level_end, upright_foot):
    """A unit in the upper left corner, 3.00 x 2.37: the same whichever gap holds the corner square."""
    frame = framed(
        house,
        Gap(from_x=0.0, to_x=level_end, from_y=2.37, to_y=2.43),
        Gap(from_x=3.0, to_x=3.06, from_y=upright_foot, to_y=4.8),
    )
    # below the gap 17 joists of 2.37 over the whole length; the unit 3.00 wide 0.0225 ... 2.70, 2.9775: 8 of
    # 2.37; right of the gap 7.20 - 3.06 = 4.14 wide: 0.0225 ... 4.05, 4.1175: 11, hence from 2.37 to 4.80
    assert lengths(frame, "floor joist") == {2.37: 17 + 8, 2.43: 11}
    # blocking along walls and gaps: 16 bays at the low wall, the 7 of them that end at 3.15 along the gap; 7 of
    # the unit there; 7 and 10 at the high wall. Where two floors meet on one bearer there is none
    rows = Counter(round(m.z, 6) for m in frame.members if m.use == "floor blocking")
    assert rows == {0.045: 16, 2.325: 7, 2.475: 7, 4.755: 7 + 10}
    # gap 3.06 x 0.06 + 2.37 x 0.06
    assert frame.gap_area == pytest.approx(3.06 * 0.06 + 2.37 * 0.06)
    # below: 0.045 and one of 7.20 between; at the gap one of 3.06, flush; right of it one of 4.14, its centre
    # on the line where both floors end; the unit three of 3.00, right of the gap two more of 4.14
    bearers = sorted((round(m.z, 4), round(m.length, 4)) for m in frame.members if m.use == "bearer")
    assert [b for b in bearers if 2.3 < b[0] < 2.4] == [(2.325, 3.06), (2.37, 4.14)]
    assert [b for b in bearers if b[1] == 3.0] == [(2.475, 3.0), (3.615, 3.0), (4.755, 3.0)]
    # 2.37 to 4.755: 2.385 in two bays
    assert [b for b in bearers if b[1] == 4.14] == [(2.37, 4.14), (3.5625, 4.14), (4.755, 4.14)]


def test_a_gap_between_joists_takes_no_insulation(floor_job, timber_floor):
    design = timber_floor()
    frame = floor_frame(design, gaps=(Gap(from_x=3.57, to_x=3.63, from_y=0.0, to_y=4.8),))
    assert frame is not None
    # 34.56 - 0.06 x 4.80 - (18 x 4.80 + 12.66) x 0.045
    wool = _net(measure_floor(design, floor_job.library, frame), BATTS)
    assert wool == pytest.approx(34.56 - 0.288 - (86.40 + 12.66) * 0.045)


def test_a_floor_too_low_for_stumps_is_refused_where_it_was_typed(floor_job, timber_floor):
    # 0.050 + 0.600 - 0.250 - 0.452 = -0.052
    design = timber_floor(
        floor_above_ground=0.05,
        origin={"floor_above_ground": Origin("house", "House", 31, (("value", "B"),))},
    )
    assert [problem.line() for problem in design_problems(design)] == [
        "house House!B31: a floor 0.05 m above ground and 0.452 m deep with its bearers, on pads 0.25 m thick and "
        "0.6 m down: no room for stumps; expected more than 0.102 m. Raise floor above ground, or footing depth."
    ]
    assert not design_problems(timber_floor(floor_above_ground=0.103))
    # flooring whose layer states no thickness has that of its material, 9 mm: 0.095 is then enough
    bare = (replace(LAYERS[0], thickness=None), *LAYERS[1:])
    materials = floor_job.library.materials
    assert design_problems(timber_floor(layers=bare, floor_above_ground=0.088), materials)
    assert not design_problems(timber_floor(layers=bare, floor_above_ground=0.090), materials)
    # without stumps there is nothing to have room for
    assert not design_problems(timber_floor(layers=LAYERS[:4], floor_above_ground=0.05))


def test_a_floor_build_up_without_joists_or_with_two_of_them_is_refused(timber_floor):
    without = [p.line() for p in design_problems(timber_floor(layers=(LAYERS[0], *LAYERS[4:5])))]
    assert without == [
        "house Build-ups!F5: 'stumps' without joists in 'Timber'; expected a layer measured by 'floor joists' in "
        "the same build-up."
    ]
    twice = [p.line() for p in design_problems(timber_floor(layers=(*LAYERS, layer(10, TIMBER, "bearers"))))]
    assert twice == [
        "house Build-ups!F10: a second layer measured by 'bearers' in 'Timber'; expected one: the frame is set out "
        "once."
    ]


def _evaluated(job: Job, design: Design) -> Result:
    only = Option(name="base", changes={})
    return evaluate(replace(job, design=design, options=(only,)), only)


def test_the_floor_among_figures_tables_and_cautions(floor_job, timber_floor):
    slab = replace(timber_floor(), house=replace(timber_floor().house, floor=floor_job.design.house.floor))
    floor, ground = _evaluated(floor_job, timber_floor()), _evaluated(floor_job, slab)
    # 17 joists, 32 blocking pieces, 8 pieces of bearer; 1.512756 m3 by the dimension sheet
    more = {
        key: figures_of(floor)[key] - figures_of(ground)[key] for key in ("frame_pieces", "frame_timber_m3")
    }
    assert more == pytest.approx({"frame_pieces": 57, "frame_timber_m3": 1.512756})
    rows = {row.cells[0]: row.cells for row in framing_table(floor).rows}
    # 81.60 + 12.87 + 28.80 = 123.27 m; 4.25115 / 34.56 = 12.3 %
    assert rows["floor"][1:] == ("57", "123.3", "1.51", "34.6", "12.3 %")
    assert "floor" not in {row.cells[0] for row in framing_table(ground).rows}
    about = [c.about for c in cautions_of(floor)]
    assert about.count("Suspended floor") == 1
    assert about.count("Crawl space") == 1
    assert not {"Suspended floor", "Crawl space", "Floor timber"} & {c.about for c in cautions_of(ground)}


def test_cautions_of_a_floor_in_the_ground_and_of_timber_that_can_not_be_bought(floor_job, timber_floor):
    # 0.300 - 0.452: 152 mm below ground; joists of 4.80 m where 2.40 m is the longest, bearers cut over stumps
    low = _evaluated(floor_job, timber_floor(floor_above_ground=0.3, bearer_spacing=6.0, longest_length=2.4))
    texts = [c.text for c in cautions_of(low) if c.about in ("Crawl space", "Floor timber")]
    assert texts[1:] == [
        "the underside of the bearers lies 152 mm below finished ground: raise the setting floor above ground, now "
        "300 mm",
        "17 joists or bearers of the floor are longer (up to 4.80 m) than the longest length of 2.4 m: their bays "
        "leave no place to join them",
    ]


def test_an_option_too_low_for_stumps_is_refused(floor_job, timber_floor):
    with pytest.raises(DesignError, match="no room for stumps"):
        _evaluated(floor_job, timber_floor(floor_above_ground=0.0))


def _net(rows: list[Quantity], material: str) -> float:
    return sum(q.net for q in rows if q.material == material)


def test_a_party_wall_between_dwellings_parts_the_floor(floor_job, timber_floor):
    """A unit right of x = 4.2 behind a party wall with a gap of 40 mm: 4.18 and 2.98 m wide."""
    wall = (layer(1, BATTS, "area", thickness=0.04), layer(2, TIMBER, "frame", thickness=0.09))
    design = timber_floor(party_wall="Party", separate_dwellings=True)
    sides = {"from_y": 0.0, "to_y": 4.8}
    design = replace(
        design,
        build_ups={**design.build_ups, "Party": BuildUp("Party", "party wall", wall)},
        rooms=(
            Room(name="House", dwelling="", from_x=0.0, to_x=4.2, **sides),
            Room(name="Unit", dwelling="unit", from_x=4.2, to_x=7.2, **sides),
        ),
    )
    frame = _evaluated(floor_job, design).measured.floor_frame
    assert frame is not None
    # 0.0225, 0.45 ... 4.05, 4.1575 is 11 joists; 0.0225, 0.45 ... 2.70, 2.9575 is 8
    assert lengths(frame, "floor joist") == {4.8: 11 + 8}
    assert lengths(frame, "bearer") == {4.18: 4, 2.98: 4}
    assert frame.gap_area == pytest.approx(0.04 * 4.8)


def test_the_floor_of_the_guide(floor_job, timber_floor):
    """The example on the guide's pages on framing and measuring, from the settings at their defaults."""
    design = timber_floor(length=12.0, span=7.2, support_lines=(3.6,))
    frame = floor_frame(design)
    assert frame is not None
    # 0.045 to 3.600: 3.555 in two bays of 1.7775; 11.91 in seven bays: 8 stumps under 5 bearers
    assert lines(frame) == pytest.approx([0.045, 1.8225, 3.6, 5.3775, 7.155])
    assert len(frame.stumps) == 5 * 8
    assert lengths(frame, "floor joist") == {5.3775: 28, 1.8225: 28}
    # 2 x (12.00 - 28 x 0.045) = 21.48 in 2 x 27 pieces; 28 x 7.20 + 21.48 = 223.08
    assert sum(lengths(frame, "floor blocking").values()) == 54
    assert sum(m.length for m in frame.joists) == pytest.approx(223.08)
    assert (
        sum(m.volume for m in frame.joists)
        == pytest.approx(223.08 * 0.0108)
        == pytest.approx(2.409, abs=0.0005)
    )
    assert sum(m.volume for m in frame.bearers) == pytest.approx(60.0 * 0.0171) == pytest.approx(1.026)
    rows = measure_floor(design, floor_job.library, frame)
    assert _net(rows, "Post timber") == pytest.approx(25.92)
    assert _net(rows, CONCRETE) == pytest.approx(1.60)
    assert _net(rows, DIGGING) == pytest.approx(8.64 + 3.20)
    assert _net(rows, BATTS) == pytest.approx(76.36, abs=0.005)
    page = page_text("measuring")
    assert all(text in page for text in ("25.92 m", "1.60 m3", "11.84 m3", "76.36 m2"))
    page = page_text("framing")
    assert all(text in page for text in ("5.378 + 1.823", "54 pieces", "40 stumps", "2.41 m3", "1.03 m3"))
