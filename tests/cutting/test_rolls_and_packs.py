"""Rolls, packs and sheets made to length, against sums by hand."""

from __future__ import annotations

import pytest

from takeoff.cutting.by_contents import plan_by_contents
from takeoff.cutting.cut_to_length import made_lengths, plan_cut_to_length
from takeoff.cutting.order import same_unit
from takeoff.cutting.pools import Pool
from takeoff.cutting.rolls import courses, plan_rolls, rolls_for
from takeoff.measure.quantity import Piece, Quantity
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face
from takeoff.model.library import Material, Stock


def material(**sizes: object) -> Material:
    values = {"name": "thing", "description": "", "family": "", "trade": "", "item_class": "", **sizes}
    return Material(**values)  # type: ignore[arg-type]


def quantity(unit: str, required: float, **more: object) -> Quantity:
    values = {
        "id": "X.1",
        "element": "RF",
        "trade": "roofing",
        "item": "thing",
        "description": "",
        "location": "",
        "unit": unit,
        "material": "thing",
        "net": required,
        "required": required,
        **more,
    }
    return Quantity(**values)  # type: ignore[arg-type]


def test_courses_of_a_roll_lap_and_follow_the_rake():
    # 3.33 m high, rolls 1.5 m wide lapped 0.15: 1.5 + 1.35 + 1.35 = 4.2 m, three courses of 12 m
    level = Surface("high wall", Face(12.0, 0.0, 3.33, 3.33))
    assert courses(level, width=1.5, lap=0.15, upright=False) == pytest.approx([12.0, 12.0, 12.0])
    # side 7.2 m long, 2.7 to 3.33 m: the third course, from 2.7 m up, runs under the rake all along
    side = Surface("side", Face(7.2, 0.0, 2.7, 3.33))
    assert courses(side, width=1.5, lap=0.15, upright=False) == pytest.approx([7.2, 7.2, 7.2])
    # from 2.85 m up, with rolls 1.6 m wide lapped 0.175, the third course begins where the rake is 2.85 m high
    assert courses(side, width=1.6, lap=0.175, upright=False)[2] == pytest.approx(7.2 * (3.33 - 2.85) / 0.63)
    # upright courses of 1.5 m: ceil((7.2 - 1.5) / 1.35) + 1 = 6, each as high as its higher edge
    upright = courses(side, width=1.5, lap=0.15, upright=True)
    assert len(upright) == 6
    assert upright[0] == pytest.approx(2.7 + 0.63 * 1.5 / 7.2)
    assert upright[-1] == pytest.approx(3.33)


def test_rolls_are_used_up_with_a_lap_where_one_ends_in_a_course():
    # 3 x 12 m from rolls of 30 m: the third course takes 6 m of the first roll and 6 m + 0.1 m lap of the second
    assert rolls_for([12.0, 12.0, 12.0], roll=30.0, end_lap=0.1) == (2, 1)
    # exactly one roll: no lap
    assert rolls_for([10.0, 20.0], roll=30.0, end_lap=0.1) == (1, 0)


def test_a_pool_of_faces_buys_whole_rolls_and_charges_what_is_used():
    face = Surface("wall", Face(12.0, 0.0, 3.33, 3.33))
    pool = Pool(
        material(lap=0.15, width=1.5),
        None,
        None,
        (quantity("m2", 39.96 * 1.5 / 1.35, surfaces=(face,), direction="horizontal"),),
        (Stock(material="thing", sold_by="roll", lengths=(30.0,), width=1.5, end_lap=0.1),),
    )
    plan = plan_rolls(pool, 1)
    assert plan is not None
    assert plan.items[0].count == 2
    assert plan.order == pytest.approx(2 * 30 * 1.5)
    # 36 m of courses and one lap of 0.1 m
    assert plan.charged == pytest.approx(36.1 * 1.5)
    assert plan.proven


@pytest.mark.parametrize(
    ("required", "wastage", "count", "order"),
    [
        (18.0, 0.0, 3, 19.2),  # 18 / 6.4 = 2.81
        (19.2, 0.0, 3, 19.2),  # exactly three
        (18.9, 0.05, 4, 25.6),  # 18.9 x 1.05 = 19.845, 3.10 packs
    ],
)
def test_packs_are_bought_whole_and_the_rest_is_not_charged(required, wastage, count, order):
    pool = Pool(
        material(wastage=wastage),
        None,
        None,
        (quantity("m2", required),),
        (Stock(material="thing", sold_by="pack", contents=6.4, contents_unit="m2"),),
    )
    plan = plan_by_contents(pool, 1, same_unit)
    assert plan is not None
    assert plan.items[0].count == count
    assert plan.order == pytest.approx(order)
    assert plan.charged == pytest.approx(required * (1 + wastage))


def test_of_two_packs_the_one_that_buys_least_is_taken():
    rows = tuple(
        Stock(material="thing", sold_by="box", contents=contents, contents_unit="Nr")
        for contents in (250.0, 1000.0)
    )
    pool = Pool(material(), None, None, (quantity("Nr", 700.0),), rows)
    plan = plan_by_contents(pool, 1, same_unit)
    assert plan is not None
    assert (plan.items[0].count, plan.order) == (3, 750.0)


def test_packs_stated_in_a_unit_that_nothing_links_are_no_plan():
    pool = Pool(
        material(),
        None,
        None,
        (quantity("m2", 10.0),),
        (Stock(material="thing", sold_by="pack", contents=25.0, contents_unit="kg"),),
    )
    assert plan_by_contents(pool, 1, same_unit) is None


def test_sheets_over_the_handling_limit_are_made_in_parts_that_lap():
    row = Stock(material="thing", sold_by="cut to length", longest=12.0, end_lap=0.2, step=0.01)
    # 13.0 m in two: (13.0 + 0.2) / 2 = 6.6 m each; 25.0 m in three: (25.0 + 0.4) / 3 = 8.467 m
    assert made_lengths(13.0, row) == [6.6, 6.6]
    assert made_lengths(25.0, row) == [8.47, 8.47, 8.47]
    # as long as the limit is one sheet; made to the next 10 mm
    assert made_lengths(12.0, row) == [12.0]
    assert made_lengths(8.4812, row) == [8.49]


def test_profiled_sheets_are_listed_by_length_and_lapped_ones_are_told():
    row = Stock(material="thing", sold_by="cut to length", longest=12.0, end_lap=0.2, step=0.005)
    pieces = (Piece(13.0, 4), Piece(2.703, 7))
    required = (4 * 13.0 + 7 * 2.703) * 0.762
    pool = Pool(material(cover=0.762), None, None, (quantity("m2", required, pieces=pieces),), (row,))
    plan = plan_cut_to_length(pool, 1)
    assert plan is not None
    assert [(item.length, item.count) for item in plan.items] == [(6.6, 8), (2.705, 7)]
    assert plan.order == pytest.approx((8 * 6.6 + 7 * 2.705) * 0.762)
    assert plan.notes == (
        "4 sheets are longer than the handling limit of 12 m: made in parts with end laps of 200 mm over a batten; "
        "the least slope for laps is the maker's",
    )
