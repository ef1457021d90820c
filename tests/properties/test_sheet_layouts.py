"""Sheets on random faces, checked with polygons; sheets cut, checked by cutting them again from edge to edge."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely
import shapely.affinity
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from takeoff.cutting.sheets.bounds import area_bound, strip_bound
from takeoff.cutting.sheets.layout import lay_out
from takeoff.cutting.sheets.packing import cut_sheets
from takeoff.cutting.sheets.plan import plan_sheets
from takeoff.cutting.sheets.sizes import SheetOnSale, SheetSize
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face, Void

# a hundredth of a mm, to which cutting rounds up [m]
FINE = 1.01e-5
TINY_AREA = 2e-5


def mm(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda whole: whole / 1000)


@st.composite
def faces(draw) -> Face:
    """Level, raking both ways, triangles and low bands; ends with odd lengths as they come from a pitch."""
    bottom = draw(st.sampled_from([0.0, 0.0, 0.45, -0.3]))
    height = draw(st.one_of(mm(0.05, 4.5), st.sampled_from([1.2, 2.4, 2.7])))
    rise = draw(st.one_of(st.just(0.0), mm(-4.0, 4.0), st.floats(-0.6, 0.6)))
    top_left, top_right = bottom + height, bottom + max(height + rise, 0.0)
    width = draw(st.one_of(mm(0.1, 9.0), st.sampled_from([1.2, 3.6, 4.8, 6.0])))
    return Face(width, bottom, top_left, top_right)


@st.composite
def surfaces(draw) -> Surface:
    """With voids that may lie over one another, poke out of the face, or end on its edges or on joints."""
    face = draw(faces())
    along = st.one_of(mm(-0.5, face.width), st.sampled_from([0.0, 1.2, 2.4, face.width]))
    up = st.one_of(
        mm(face.bottom - 0.3, face.bottom + 4.0), st.sampled_from([face.bottom, face.top_left, 1.2])
    )
    sizes = st.one_of(mm(0.05, 2.5), st.sampled_from([1.2, 2.4]))
    voids = draw(st.lists(st.builds(Void, along, up, sizes, sizes), max_size=3))
    return Surface("wall", face, tuple(voids))


@st.composite
def sheet_rules(draw) -> dict:
    length = draw(st.sampled_from([0.9, 1.2, 2.4, 2.7, 3.05]))
    return {
        "size": SheetSize(length, draw(st.sampled_from([0.6, 0.9, 1.2, 1.22]))),
        "direction": draw(st.sampled_from(["vertical", "horizontal"])),
        "stagger": draw(st.sampled_from([0.0, 0.2, 0.45])),
        "joint": draw(st.sampled_from([0.0, 0.0, 0.01])),
    }


def net(surface: Surface):
    """The face less its openings."""
    face = surface.face
    whole = Polygon(
        [(0, face.bottom), (face.width, face.bottom), (face.width, face.top_right), (0, face.top_left)]
    )
    openings = [box(v.left, v.bottom, v.right, v.top) for v in surface.voids]
    return shapely.make_valid(whole).difference(shapely.union_all(openings))


def drawn(piece):
    """The shape of a piece, put together from its parts."""
    parts = [
        Polygon([(t.left, t.bottom), (t.right, t.bottom), (t.right, t.top_right), (t.left, t.top_left)])
        for t in piece.trapezoids
    ]
    # parts meet in lines whose ends may differ by the last digit
    return shapely.union_all([part.buffer(1e-7, join_style="mitre") for part in parts])


def cells(surface: Surface, *, size, direction, stagger, joint):
    """The places of whole sheets by course, worked out from what each course is, not course by course."""
    face, upright = surface.face, direction == "vertical"
    high = max(face.top_left, face.top_right)
    span = face.width if upright else high - face.bottom
    whole = Polygon(
        [(0, face.bottom), (face.width, face.bottom), (face.width, face.top_right), (0, face.top_left)]
    )
    for course in itertools.count():
        across = course * (size.width + joint)
        if across >= span - 1e-6:
            return
        if upright:
            band = box(across, face.bottom - 1, across + size.width, high + 1)
        else:
            band = box(-1, face.bottom + across, face.width + 1, face.bottom + across + size.width)
        left, bottom, right, top = shapely.make_valid(whole).intersection(band).bounds
        first, last = (bottom, top) if upright else (left, right)
        if last - first <= size.length + 1e-6:
            lines = [(first, first + size.length)]
        else:
            origin = face.bottom if upright else 0.0
            half = stagger and course % 2
            lines, here = [], origin - ((size.length + joint) / 2 if half else 0.0)
            while here < last:
                lines.append((max(here, origin), here + size.length))
                here += size.length + joint
        yield [
            box(band.bounds[0], a, band.bounds[2], b)
            if upright
            else box(a, band.bounds[1], b, band.bounds[3])
            for a, b in lines
        ]


def parts_of(shape) -> list:
    return [
        part for part in shapely.get_parts(shape) if part.area > TINY_AREA and part.buffer(-2e-6).area > 0
    ]


@settings(max_examples=250, deadline=None)
@given(surfaces(), sheet_rules())
def test_each_place_of_a_sheet_gives_the_connected_parts_of_the_face_in_it(surface, rules):
    pieces = lay_out([surface], **rules)
    region = net(surface)
    for course, places in enumerate(cells(surface, **rules), start=1):
        laid = [drawn(piece) for piece in pieces if piece.course == course]
        expected = [part for place in places for part in parts_of(region.intersection(place))]
        laid = [shape for shape in laid if parts_of(shape.buffer(-1e-6))]
        assert len(laid) == len(expected)
        for part in expected:
            nearest = max(laid, key=lambda shape: shape.intersection(part).area)
            assert nearest.symmetric_difference(part).area < TINY_AREA
    assert len({(p.course, p.number) for p in pieces}) == len(pieces)


@settings(max_examples=250, deadline=None)
@given(surfaces(), sheet_rules())
def test_pieces_cover_the_face_less_openings_and_open_joints_once(surface, rules):
    pieces = lay_out([surface], **rules)
    shapes = [drawn(piece) for piece in pieces]
    union, region = shapely.union_all(shapes), net(surface)
    assert sum(piece.area for piece in pieces) == pytest.approx(union.area, abs=TINY_AREA)
    assert union.difference(region.buffer(1e-5)).area < 1e-9
    missing = region.difference(union)
    if rules["joint"]:
        # what is missing is nowhere wider than where two open joints cross
        assert missing.buffer(-0.75 * rules["joint"]).is_empty
    else:
        assert missing.area < TINY_AREA
    for piece, shape in zip(pieces, shapes, strict=True):
        assert shape.bounds == pytest.approx((piece.left, piece.bottom, piece.right, piece.top), abs=1e-6)
        assert piece.length <= rules["size"].length + 1e-8
        assert piece.width <= rules["size"].width + 1e-8


def end_joints(pieces, *, upright: bool, joint: float) -> dict[int, set[float]]:
    """Where two pieces of a course meet end to end, by course."""
    found: dict[int, set[float]] = {}
    move = (0.0, -joint) if upright else (-joint, 0.0)
    for one, other in itertools.permutations(pieces, 2):
        if one.course != other.course or one.number >= other.number:
            continue
        moved = shapely.affinity.translate(drawn(other), *move)
        shared = drawn(one).intersection(moved)
        left, bottom, right, top = shared.bounds if not shared.is_empty else (0, 0, 0, 0)
        if max(right - left, top - bottom) > 1e-3:
            found.setdefault(one.course, set()).add(round(bottom if upright else left, 4))
    return found


@settings(max_examples=150, deadline=None)
@given(surfaces(), sheet_rules(), st.sampled_from([None, "short", "short first"]))
def test_end_joints_of_neighbouring_courses_keep_the_stagger(surface, rules, way):
    size, stagger, joint = rules["size"], rules["stagger"], rules["joint"]
    short = size.length - stagger
    starts = {None: None, "short": (size.length, short), "short first": (short, size.length)}[way]
    pieces = lay_out([surface], **rules, starts=starts)
    joints = end_joints(pieces, upright=rules["direction"] == "vertical", joint=joint)
    for course, places in joints.items():
        for here, there in itertools.product(places, joints.get(course + 1, ())):
            assert abs(here - there) >= stagger - 1e-3


def test_starts_that_break_the_stagger_are_refused():
    wall = Surface("wall", Face(6.0, 0.0, 2.4, 2.4))
    with pytest.raises(ValueError, match=r"end joints of sheets 2.4 m long can't be 0.6 m apart"):
        lay_out([wall], size=SheetSize(2.4, 1.2), direction="horizontal", stagger=0.6, starts=(2.4, 2.0))
    with pytest.raises(ValueError, match=r"can't start with \(2.5,\) m of a sheet 2.4 m long"):
        lay_out([wall], size=SheetSize(2.4, 1.2), direction="horizontal", stagger=0.0, starts=(2.5,))


def falls_apart(parts, kerf: float) -> bool:
    """Whether cuts from edge to edge of what is left, each as wide as the saw, can part all rectangles."""
    if len(parts) < 2:
        return True
    for axis in (0, 1):
        ordered = sorted(parts, key=lambda part: part[axis])
        reach = 0.0
        for number, part in enumerate(ordered):
            if number and part[axis] >= reach + kerf - FINE:
                return falls_apart(ordered[:number], kerf) and falls_apart(ordered[number:], kerf)
            reach = max(reach, part[axis] + part[axis + 2])
    return False


def check_cutting(pieces, sheets, kerf, least_offcut, least_width):
    cut = sorted((c.piece, c.length, c.width) for sheet in sheets for c in sheet.pieces)
    assert [number for number, _, _ in cut] == list(range(len(pieces)))
    for (_, length, width), (wanted_length, wanted_width) in zip(cut, pieces, strict=True):
        assert -1e-7 <= length - wanted_length <= FINE
        assert -1e-7 <= width - wanted_width <= FINE
    for sheet in sheets:
        parts = [(p.x, p.y, p.length, p.width) for p in (*sheet.pieces, *sheet.offcuts)]
        for x, y, length, width in parts:
            assert x >= 0
            assert y >= 0
            assert x + length <= sheet.size.length + 1e-9
            assert y + width <= sheet.size.width + 1e-9
        for offcut in sheet.offcuts:
            assert offcut.length >= least_offcut
            assert offcut.width >= least_width
        assert falls_apart(parts, kerf)


SIZES_ON_SALE = [
    (SheetOnSale(2.4, 1.2),),
    (SheetOnSale(2.4384, 1.2192, cost=30.0),),
    tuple(SheetOnSale(length, 1.2) for length in (2.4, 2.7, 3.0, 3.6)),
    (SheetOnSale(3.0, 1.2, cost=3.0), SheetOnSale(2.4, 1.2, cost=2.9), SheetOnSale(2.4, 0.9, cost=1.5)),
]


@settings(max_examples=200, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.one_of(mm(0.01, 2.4), st.sampled_from([0.8, 1.2, 2.4])),
            st.one_of(mm(0.01, 1.2), st.sampled_from([0.3, 0.6, 1.2, 1.2, 1.2])),
        ),
        max_size=40,
    ),
    st.sampled_from(SIZES_ON_SALE),
    st.sampled_from([0.0, 0.003]),
    st.sampled_from([(0.0, 0.0), (0.3, 0.15), (1.0, 0.6)]),
)
def test_every_piece_is_cut_once_from_edge_to_edge(pieces, sizes, kerf, least):
    sheets = cut_sheets(pieces, sizes, kerf=kerf, least_offcut=least[0], least_width=least[1])
    check_cutting(pieces, sheets, kerf, *least)
    area = sum(length * width for length, width in pieces)
    if len(sizes) == 1:
        size = sizes[0].size
        assert area_bound(area, size) <= strip_bound(pieces, size, kerf=kerf) <= len(sheets)


@given(st.lists(st.tuples(mm(0.01, 2.4), mm(0.01, 1.2)), min_size=1, max_size=15))
def test_where_no_offcut_is_large_enough_each_piece_takes_a_sheet(pieces):
    sheets = cut_sheets(pieces, (SheetOnSale(2.4, 1.2),), least_offcut=2.4, least_width=1.2)
    assert len(sheets) == len(pieces)


def test_a_piece_larger_than_any_sheet_is_refused():
    with pytest.raises(ValueError, match=r"no sheet on sale holds 2.5 x 1.2 m"):
        cut_sheets([(2.5, 1.2)], (SheetOnSale(2.4, 1.2), SheetOnSale(2.7, 0.9)))


@settings(max_examples=60, deadline=None)
@given(
    st.lists(surfaces(), max_size=4),
    st.sampled_from(SIZES_ON_SALE),
    st.sampled_from(["vertical", "horizontal", None]),
    st.sampled_from([0.0, 0.6]),
    st.sampled_from([0.0, 0.01]),
    st.sampled_from([0.0, 0.003]),
)
def test_a_plan_cuts_every_piece_of_its_layout(some, sizes, direction, stagger, joint, kerf):
    plan = plan_sheets(
        tuple(some),
        sizes,
        direction=direction,
        stagger=stagger,
        joint=joint,
        kerf=kerf,
        least_offcut=0.3,
        least_width=0.15,
    )
    check_cutting([(p.length, p.width) for p in plan.layout], plan.sheets, kerf, 0.3, 0.15)
    for number, sheet in enumerate(plan.sheet_of):
        assert number in {cut.piece for cut in plan.sheets[sheet].pieces}
    assert plan.count == sum(count for _, count in plan.bought) == len(plan.sheets)
    assert plan.cost == pytest.approx(sum(size.counts_for * count for size, count in plan.bought))
    assert plan.area_bound <= plan.strip_bound + 1e-6
    assert plan.strip_bound <= plan.area_bought + 1e-6
    assert plan.area_laid <= sum(net(surface).area for surface in some) + TINY_AREA
    if not joint:
        assert plan.area_laid == pytest.approx(sum(net(surface).area for surface in some), abs=1e-4)
    for place, surface in enumerate(some):
        laid = [piece for piece in plan.layout if piece.surface == place]
        joints = end_joints(laid, upright=plan.direction == "vertical", joint=joint)
        for course, places in joints.items():
            for here, there in itertools.product(places, joints.get(course + 1, ())):
                assert abs(here - there) >= stagger - 1e-3
        # no opening is covered
        for void in surface.voids:
            opening = box(void.left, void.bottom, void.right, void.top).buffer(-1e-5)
            assert all(drawn(piece).intersection(opening).area < 1e-9 for piece in laid)


def brute_force_strips(lengths: list[int], room: int) -> int:
    """Fewest rooms for lengths, by trying every place for each."""
    best = len(lengths)

    def place(number: int, rooms: list[int]) -> None:
        nonlocal best
        if len(rooms) >= best:
            return
        if number == len(lengths):
            best = len(rooms)
            return
        for at, used in enumerate(rooms):
            if used + lengths[number] <= room:
                place(number + 1, [*rooms[:at], used + lengths[number], *rooms[at + 1 :]])
        place(number + 1, [*rooms, lengths[number]])

    place(0, [])
    return best


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(100, 2400), min_size=1, max_size=7))
def test_strips_of_whole_width_take_the_fewest_sheets(lengths):
    fewest = brute_force_strips(lengths, 2400)
    pieces = [(length / 1000, 1.2) for length in lengths]
    assert strip_bound(pieces, SheetSize(2.4, 1.2)) <= fewest
    # with so few strips filling sheet by sheet is at most one sheet off
    assert fewest <= len(cut_sheets(pieces, (SheetOnSale(2.4, 1.2),))) <= fewest + 1


def test_a_mirrored_pair_of_walls_takes_what_its_pieces_need():
    # 4.8 x 2.4: four uprights of 1.2; twice: eight sheets, nothing cut, and no bound below that
    wall = Surface("wall", Face(4.8, 0.0, 2.4, 2.4))
    plan = plan_sheets((wall, wall), (SheetOnSale(2.4, 1.2),), direction=None, stagger=0.6)
    assert plan.count == 8
    assert plan.area_bound == pytest.approx(8 * 2.88)
    assert math.isclose(plan.strip_bound, 8 * 2.88)
