"""Sheets counted by area in books, against our bound by area and our layouts; and sheets laid by hand.

- *Modern Carpentry* (Goodheart-Willcox, 2022), chapter 11, page 270: 1060 sq ft of wall, sheets of 4 x 8 ft.
- Dagostino and Peterson, *Estimating in Building Construction*, chapter 13, example 13-17, page 163: 148 ft of wall
  8 ft high and two gables 24 ft wide with a rise of 3 ft.
- howtobuildplans.com: plasterboard for 135 ft of wall 8 ft high.

Standing: inputs and counts read, recomputed by hand; counts are exact. The books divide areas, as our bound does; a
layout of whole and part sheets can't take fewer, and may take more. The walls of which they give no shape are taken
as one straight wall 8 ft high. Layouts derived by hand are marked so.
"""

import pytest

from takeoff.cutting.sheets.bounds import area_bound, strip_bound
from takeoff.cutting.sheets.layout import lay_out
from takeoff.cutting.sheets.packing import cut_sheets
from takeoff.cutting.sheets.plan import plan_sheets
from takeoff.cutting.sheets.sizes import SheetOnSale, SheetSize
from takeoff.cutting.sheets.starts import ways_to_start
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face, Void

FOOT = 0.3048
EIGHT_BY_FOUR = SheetSize(8 * FOOT, 4 * FOOT)
ON_SALE = (SheetOnSale(8 * FOOT, 4 * FOOT),)
METRIC = SheetSize(2.4, 1.2)


def wall_of_8_ft(length: float) -> Surface:
    return Surface("wall", Face(length * FOOT, 0.0, 8 * FOOT, 8 * FOOT))


def planned(*surfaces: Surface):
    return plan_sheets(surfaces, ON_SALE, direction="vertical", stagger=2 * FOOT)


@pytest.mark.parametrize(
    ("square_feet", "sheets"),
    [
        (1060, 34),  # Modern Carpentry: 1060 / 32 = 33.1
        (148 * 8 + 0.5 * 24 * 3 * 2, 40),  # Estimating: 1184 + 72 = 1256; 1256 / 32 = 39.25
        (135 * 8, 34),  # plasterboard: 1080 / 32 = 33.75
    ],
)
def test_the_bound_by_area_is_the_count_of_the_books(square_feet, sheets):
    assert area_bound(square_feet * FOOT**2, EIGHT_BY_FOUR) == sheets


@pytest.mark.parametrize("length", [1060 / 8, 135])
def test_upright_sheets_on_a_straight_wall_take_the_count_of_the_books(length):
    # 132.5 ft: 33 whole sheets and a strip of 0.5 ft; 135 ft: 33 and a strip of 3 ft; either is 34
    assert planned(wall_of_8_ft(length)).count == 34


def test_gables_take_more_than_their_area():
    """Derived by hand. The wall: 148 / 4 = 37 sheets. The gables: each half is a triangle 12 ft by 3 ft, in columns of
    4 ft 1, 2 and 3 ft high at their high side; four halves: four pieces each of 1 x 4, 2 x 4 and 3 x 4 ft, of
    whole width, end to end 4 x 6 = 24 ft of sheets 8 ft long: three sheets (1 + 1 + 3 + 3, 2 + 3 + 3, 2 + 2 + 2),
    with a cut of no width. 37 + 3 = 40, as the book has by area."""
    up = Surface("gable", Face(12 * FOOT, 0.0, 0.0, 3 * FOOT))
    down = Surface("gable", Face(12 * FOOT, 0.0, 3 * FOOT, 0.0))
    plan = planned(wall_of_8_ft(148), up, down, up, down)
    assert plan.count == 40
    assert plan.area_bound == pytest.approx(40 * 32 * FOOT**2)
    assert plan.strip_bound == pytest.approx(40 * 32 * FOOT**2)


def test_upright_sheets_round_a_door_by_hand():
    """Derived by hand. Wall 6.0 x 2.4 m: five columns. A door 0.9 x 2.1 from 2.4 on notches the third: 0.3 over it and
    0.3 x 2.4 beside it are one piece, cut from 1.2 x 2.4. A door 1.2 wide leaves only 0.3 x 1.2 over it.
    Either way five sheets."""
    notched = Surface("wall", Face(6.0, 0.0, 2.4, 2.4), (Void(2.4, 0.0, 0.9, 2.1),))
    pieces = lay_out([notched], size=METRIC, direction="vertical", stagger=0.6)
    assert [(p.mark, p.length, p.width) for p in pieces] == [
        (f"1.{column}.1", 2.4, pytest.approx(1.2)) for column in range(1, 6)
    ]
    # the third: 1.2 x 2.4 - 0.9 x 2.1 = 2.88 - 1.89 = 0.99 m2
    assert pieces[2].area == pytest.approx(0.99)
    head_only = Surface("wall", Face(6.0, 0.0, 2.4, 2.4), (Void(2.4, 0.0, 1.2, 2.1),))
    pieces = lay_out([head_only], size=METRIC, direction="vertical", stagger=0.6)
    assert pieces[2].length == pytest.approx(0.3)
    for surface in (notched, head_only):
        plan = plan_sheets((surface,), (SheetOnSale(2.4, 1.2),), direction="vertical", stagger=0.6)
        assert plan.count == 5


def test_an_opening_as_wide_as_a_column_splits_it_by_hand():
    """Derived by hand. Columns of 1.2 m; a window from 1.2 to 2.4 with sill at 0.9 and head at 2.1 leaves 0.9 below and
    0.3 above: the second column has two pieces, from below."""
    wall = Surface("wall", Face(3.6, 0.0, 2.4, 2.4), (Void(1.2, 0.9, 1.2, 1.2),))
    pieces = lay_out([wall], size=METRIC, direction="vertical", stagger=0.6)
    assert [(p.mark, p.bottom, p.length) for p in pieces] == [
        ("1.1.1", 0.0, 2.4),
        ("1.2.1", 0.0, pytest.approx(0.9)),
        ("1.2.2", pytest.approx(2.1), pytest.approx(0.3)),
        ("1.3.1", 0.0, 2.4),
    ]


def test_level_courses_and_what_the_saw_takes_by_hand():
    """Derived by hand. Wall 3.6 x 2.7 m, level courses of 2.4 x 1.2 sheets, every second one begun with half a sheet:
    2.4 + 1.2; 1.2 + 2.4; and 0.3 high 2.4 + 1.2. Two whole sheets; the two of 1.2 x 1.2 from one; the two
    strips from one: 4. With a cut of 3 mm, 1.2 + 0.003 + 1.2 is more than 2.4: the halves take a sheet each, what they
    leave (1.197) is too short for the strip of 1.2, and the strip of 2.4 x 0.3 takes a fifth."""
    wall = Surface("wall", Face(3.6, 0.0, 2.7, 2.7))
    pieces = lay_out([wall], size=METRIC, direction="horizontal", stagger=0.6)
    sizes = [(p.length, p.width) for p in pieces]
    assert sizes == [
        (pytest.approx(length), pytest.approx(width))
        for length, width in [(2.4, 1.2), (1.2, 1.2), (1.2, 1.2), (2.4, 1.2), (2.4, 0.3), (1.2, 0.3)]
    ]
    on_sale = (SheetOnSale(2.4, 1.2),)
    assert len(cut_sheets(sizes, on_sale)) == strip_bound(sizes, METRIC) == 4
    assert len(cut_sheets(sizes, on_sale, kerf=0.003)) == strip_bound(sizes, METRIC, kerf=0.003) == 5


def test_each_wall_takes_the_length_that_suits_it_by_hand():
    """Derived by hand. Upright sheets on 2.4 x 2.4 and 2.4 x 3.0 m: of 3.0 m alone four, 14.4 m2; of 2.4 alone the
    higher one takes two more pieces each of 0.6 and so a fifth sheet, 14.4 m2; two of each length: 5.76 + 7.2 =
    12.96 m2, which is what is laid."""
    low = Surface("low", Face(2.4, 0.0, 2.4, 2.4))
    high = Surface("high", Face(2.4, 0.0, 3.0, 3.0))
    short, long = SheetOnSale(2.4, 1.2), SheetOnSale(3.0, 1.2)

    def plan(*sizes):
        return plan_sheets((low, high), sizes, direction="vertical", stagger=0.6)

    assert plan(long).area_bought == pytest.approx(14.4)
    assert plan(short).area_bought == pytest.approx(14.4)
    both = plan(short, long)
    assert both.bought == ((short, 2), (long, 2))
    assert both.area_bought == both.area_bound == pytest.approx(12.96)


def test_each_wall_takes_the_length_that_suits_its_joints_by_hand():
    """Derived by hand. Level courses 1.2 m high, 4.8 and 6.0 m long, one each: 2.4 + 2.4 and 3.0 + 3.0 leave nothing,
    12.96 m2. With one length for both there are offcuts: 3.0 + 1.8 or 2.4 + 2.4 + 1.2."""
    walls = tuple(Surface("wall", Face(length, 0.0, 1.2, 1.2)) for length in (4.8, 6.0))
    short, long = SheetOnSale(2.4, 1.2), SheetOnSale(3.0, 1.2)
    plan = plan_sheets(walls, (short, long), direction="horizontal", stagger=0.6)
    assert plan.bought == ((short, 2), (long, 2))
    assert plan.area_bought == pytest.approx(12.96)


def test_parts_that_meet_in_a_corner_are_two_pieces_from_below_by_hand():
    """Derived by hand. One upright sheet with an opening in its lower left quarter and one in its upper right: what is
    left are two quarters of 0.6 x 1.2 m that touch in the middle only."""
    quarters = (Void(0.0, 0.0, 0.6, 1.2), Void(0.6, 1.2, 0.6, 1.2))
    wall = Surface("wall", Face(1.2, 0.0, 2.4, 2.4), quarters)
    pieces = lay_out([wall], size=METRIC, direction="vertical", stagger=0.6)
    assert [(p.mark, p.left, p.bottom, p.right, p.top) for p in pieces] == [
        ("1.1.1", 0.6, 0.0, 1.2, 1.2),
        ("1.1.2", 0.0, 1.2, 0.6, 2.4),
    ]


def test_courses_go_on_with_what_the_last_sheet_left_by_hand():
    """Derived by hand. A floor 5.0 m long in sheets of 3.6 m, saw cut 3 mm. First course 3.6 + 1.4; of the second sheet
    3.6 - 1.4 - 0.003 = 2.197 is left: joints at 3.6 and at 2.197, 1.403 apart. Second course 2.197 + 2.803,
    which leaves 0.794; joints at 2.197 and 0.794, and so on. With 1.5 m asked for the second course begins with half a
    sheet instead."""
    rules = {"joint": 0.0, "kerf": 0.003, "least_offcut": 0.3, "course_length": 5.0}
    ways = ways_to_start(SheetSize(3.6, 0.9), stagger=0.6, courses=3, **rules)
    assert ways[-1] == pytest.approx((3.6, 2.197, 0.794))
    ways = ways_to_start(SheetSize(3.6, 0.9), stagger=1.5, courses=2, **rules)
    assert (3.6, pytest.approx(1.8)) in ways
    assert (3.6, pytest.approx(2.197)) not in ways


def test_panels_with_open_joints_by_hand():
    """Derived by hand. Panels of 2.4 x 1.2 upright with joints of 10 mm on 3.62 x 3.0 m: columns from 0, 1.21 and 2.42,
    all 1.2 wide (2.42 + 1.2 = 3.62); in each a panel of 2.4 and from 2.41 on one of 0.59."""
    wall = Surface("wall", Face(3.62, 0.0, 3.0, 3.0))
    pieces = lay_out([wall], size=METRIC, direction="vertical", stagger=0.0, joint=0.01)
    assert [(p.left, p.bottom, p.right, p.top) for p in pieces] == [
        pytest.approx(bounds)
        for left in (0.0, 1.21, 2.42)
        for bounds in [(left, 0.0, left + 1.2, 2.4), (left, 2.41, left + 1.2, 3.0)]
    ]


def test_either_way_takes_the_one_that_costs_less_by_hand():
    """Derived by hand. A wall 4.8 x 1.2: upright 4 pieces of 1.2 x 1.2 from two sheets; level two whole sheets: as
    much. With a cut of 3 mm two of 1.2 no longer come from one sheet: upright takes four."""
    wall = Surface("wall", Face(4.8, 0.0, 1.2, 1.2))

    def plan(kerf: float):
        return plan_sheets((wall,), (SheetOnSale(2.4, 1.2),), direction=None, stagger=0.6, kerf=kerf)

    assert plan(0.0).rule == (
        "level courses, end joints at least 600 mm apart, offcuts used again, "
        "either way tried: upright sheets took as much"
    )
    assert plan(0.003).direction == "horizontal"
    assert plan(0.003).count == 2
    assert plan(0.003).rule.endswith("either way tried: upright sheets took more")


def test_five_pieces_come_from_one_sheet_by_hand():
    """Derived by hand. Ripped at 0.7: 0.8 x 0.7 and 0.9 x 0.5 end to end; over it 2.0 x 0.2; over that 1.0 x 0.2 and
    0.4 x 0.2: 0.7 + 0.2 + 0.2 = 1.1 of the width of 1.2, no more than 2.0 of the length. Not each order finds it."""
    pieces = [(1.0, 0.2), (2.0, 0.2), (0.9, 0.5), (0.4, 0.2), (0.8, 0.7)]
    assert len(cut_sheets(pieces, (SheetOnSale(2.4, 1.2),))) == 1
