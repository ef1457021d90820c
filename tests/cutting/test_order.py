"""Orders of whole houses: every stick is cut once and fits, items share what is bought, aims differ."""

from __future__ import annotations

import itertools
import math
from collections import Counter, defaultdict
from dataclasses import replace

import pytest

from takeoff.assess.items import assess_lines
from takeoff.assess.stock_worth import convertible, worth_under
from takeoff.compare.evaluate import DesignError, Result, evaluate
from takeoff.cutting.offcuts import NOTHING
from takeoff.cutting.order import by_allowance, order_quantities, plans_of
from takeoff.framing.walls import frame_wall
from takeoff.measure.quantity import Piece, Quantity
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face
from takeoff.model.library import Stock
from takeoff.model.per_unit import PerUnit
from takeoff.model.problem import Origin
from takeoff.workbook.reading import read_job

DEMOS = ("heron_bank", "dune_studio", "wharf_pair")


@pytest.fixture(scope="module", params=DEMOS)
def base(request, demo_folder) -> Result:
    job = read_job(demo_folder / f"{request.param}.xlsx")
    return evaluate(job, job.base)


def test_every_stick_of_the_house_is_cut_once_from_a_length_that_holds_it(base):
    cut: dict[tuple[str, str], list[float]] = defaultdict(list)
    for plan in (plan for plan in base.plans if plan.framing):
        for length in plan.lengths:
            used = sum(piece.length for piece in length.pieces)
            saw = length.stock.kerf * (len(length.pieces) - 1)
            assert used + saw <= length.length + 1e-6
            assert used + length.stock.kerf * len(length.pieces) + length.offcut >= length.length - 1e-6
            for piece in length.pieces:
                assert len(piece.marks) == length.count
                for mark in piece.marks:
                    cut[mark, plan.name].append(piece.length)
        for piece in plan.too_long:
            cut[piece.mark, plan.name].append(piece.length)
    lengths = Counter()
    for pieces in cut.values():
        lengths[round(sum(pieces) * 1000)] += 1
    # in whole mm, rounded up, as they are cut
    assert lengths == Counter(math.ceil(member.length * 1000 - 1e-6) for member in base.measured.members)
    marks = Counter(mark for mark, _ in cut)
    assert set(marks) == {member.mark for member in base.measured.members}


def test_joined_plates_are_joined_over_studs(base):
    plates = {m.mark: m for m in base.measured.members if m.use in ("bottom plate", "top plate")}
    joined = 0
    for plan in (plan for plan in base.plans if plan.framing):
        pieces = defaultdict(dict)
        for length in plan.lengths:
            for piece in length.pieces:
                if piece.part:
                    for mark in piece.marks:
                        pieces[mark][int(piece.part.split()[0])] = piece.length
        for mark, parts in pieces.items():
            joined += 1
            here = 0.0
            for number in range(1, len(parts)):
                here += parts[number]
                assert min(abs(here - joint) for joint in plates[mark].joints) < 0.0011
    longest = max(plate.length for plate in plates.values())
    assert joined >= (1 if longest > 6.0 else 0)


def plates_on_one_another(members):
    """Yield the plates of each wall that lie on one another, two by two from below."""
    plates = defaultdict(list)
    for member in members:
        if member.use in ("bottom plate", "top plate"):
            plates[member.place, member.use, round(member.s, 6)].append(member)
    for group in plates.values():
        yield from itertools.pairwise(sorted(group, key=lambda member: member.z))


def test_plates_on_one_another_are_never_joined_over_the_same_stud_and_mostly_600_mm_apart(base):
    apart = [
        min((abs(a - b) for a in lower.joints for b in upper.joints), default=1.0)
        for lower, upper in plates_on_one_another(base.measured.members)
    ]
    # a stud is 45 mm thick; only where wide openings leave no other stud are joints nearer than the stagger
    assert min(apart) >= 0.0449
    assert sum(distance < 0.6 - 1e-6 for distance in apart) <= 1


def test_joints_of_two_top_plates_of_a_bare_wall_are_600_mm_apart(bare_house):
    design = bare_house(stud_spacing=0.45)
    assert design.practice.top_plates == 2
    frame = frame_wall(design, "low", material="Softwood framing, structural")
    [(lower, upper)] = [pair for pair in plates_on_one_another(frame.members) if pair[0].use == "top plate"]
    # in turn: end, corner studs and 0.45 m; then, 0.6 m further at least, 1.35 and 1.8 m; then 2.7 and 3.15 m
    assert upper.joints[:6] == pytest.approx((0.0225, 0.1925, 0.2375, 0.45, 2.7, 3.15))
    assert lower.joints[:2] == pytest.approx((1.35, 1.8))
    assert min(abs(a - b) for a in lower.joints for b in upper.joints) >= 0.6


def test_framing_is_bought_within_one_per_cent_of_the_least_possible(base):
    framing = [plan for plan in base.plans if plan.framing]
    bought, least = sum(plan.worth for plan in framing), sum(plan.bound for plan in framing)
    assert least <= bought <= 1.01 * least
    for plan in framing:
        assert plan.gap is not None
        assert plan.bound <= plan.worth + 1e-9
        assert plan.worth == pytest.approx(plan.order)


def test_items_of_a_plan_share_what_is_bought(base):
    for plan in base.plans:
        lines = [line for line in base.lines if line.ordered.plan is plan]
        assert {line.quantity.id for line in lines} == set(plan.items_of)
        assert sum(line.ordered.order for line in lines) == pytest.approx(plan.order)
        assert sum(line.ordered.charged for line in lines) == pytest.approx(plan.charged)
        assert sum(line.ordered.allowed for line in lines) == pytest.approx(plan.allowed)
        assert sum(item.amount for item in plan.items) == pytest.approx(plan.order)
        assert plan.charged <= plan.order + 1e-9


def test_sheets_cover_what_they_are_laid_on_and_no_more_is_laid_than_bought(base):
    for plan in (plan for plan in base.plans if plan.sheets is not None):
        assert plan.sheets.area_laid <= plan.order + 1e-9
        assert plan.bound <= plan.order + 1e-9
        pieces = Counter(cut.piece for sheet in plan.sheets.sheets for cut in sheet.pieces)
        assert pieces == Counter(range(len(plan.sheets.layout)))


def test_what_the_allowances_would_give_is_kept_beside_the_plans(base):
    assert [line.quantity.id for line in base.by_allowance.lines] == [line.quantity.id for line in base.lines]
    for planned, allowed in zip(base.lines, base.by_allowance.lines, strict=True):
        assert allowed.ordered.plan is None
        assert allowed.ordered.order == pytest.approx(planned.ordered.allowed)
        # an override of wastage counts beside the plans, not in what the allowances alone would give
        overridden = any(applied.override.figure == "wastage" for applied in planned.overrides)
        if planned.ordered.plan is None and not overridden:
            assert planned.cost == pytest.approx(allowed.cost)
    planned, allowed = base.totals, base.by_allowance.totals
    assert planned.a5_wastage != pytest.approx(allowed.a5_wastage)
    assert planned.labour_cost == pytest.approx(allowed.labour_cost)


# --- by hand ------------------------------------------------------------------------------------------------

SECTION = 0.09 * 0.045


def sticks(job, *pieces: Piece) -> Quantity:
    """Return framing of 90 x 45 mm as measured."""
    length = sum(piece.length * piece.count for piece in pieces)
    return Quantity(
        id="EW.FR.studs",
        element="EW",
        trade="carpentry",
        item="Studs",
        description="Studs",
        location="external walls",
        unit="m",
        material="Softwood framing, structural",
        net=length,
        required=length,
        pieces=pieces,
        section=SECTION,
        width=0.09,
        thickness=0.045,
        work="",
    )


def with_stock(job, *rows: Stock, **more):
    name = "Softwood framing, structural"
    return replace(job.library, stock={name: tuple(replace(row, material=name) for row in rows)}, **more)


def test_a_longer_length_at_a_higher_price_is_bought_by_the_metre_or_left_by_the_price(job):
    # six studs of 2.0 m: two lengths of 6.0 m (12.0 m) are least by length; at 1500 against 1000 a m3 three of 4.2 m
    # (12.6 m) cost least: 12.6 x 1000 < 12.0 x 1500
    library = with_stock(
        job,
        Stock(material="", sold_by="length", lengths=(4.2,), price=PerUnit(1000.0, "m3")),
        Stock(material="", sold_by="length", lengths=(6.0,), price=PerUnit(1500.0, "m3")),
    )
    studs = sticks(job, Piece(2.0, 6, "S1 S2 S3 S4 S5 S6", ()))
    least_length = order_quantities([studs], library, convert=convertible)
    assert least_length[0].order == pytest.approx(12.0)
    least_cost = order_quantities(
        [studs], library, convert=convertible, worth=worth_under("least cost", library), worth_unit="units"
    )
    assert least_cost[0].order == pytest.approx(12.6)
    plan = plans_of(least_cost)[0]
    assert (plan.worth, plan.worth_unit) == (pytest.approx(12.6 * SECTION * 1000), "units")
    lines, problems = assess_lines(least_cost, library)
    assert not problems
    assert lines[0].rate.material * 12.0 == pytest.approx(12.6 * SECTION * 1000)


def test_lengths_that_cost_nothing_are_still_planned_for_least_cost(job):
    library = with_stock(
        job, Stock(material="", sold_by="length", lengths=(4.2, 6.0), price=PerUnit(0.0, "m3"))
    )
    studs = sticks(job, Piece(2.0, 6, "S1 S2 S3 S4 S5 S6", ()))
    ordered = order_quantities(
        [studs], library, convert=convertible, worth=worth_under("least cost", library)
    )
    assert ordered[0].order == pytest.approx(12.0)


def test_a_price_for_one_length_is_that_of_the_whole_length(job):
    library = with_stock(
        job, Stock(material="", sold_by="length", lengths=(4.8,), kerf=0.003, price=PerUnit(21.0, "Nr"))
    )
    # two of 2.4 m and a cut of 3 mm do not fit 4.8 m: three lengths
    studs = sticks(job, Piece(2.4, 3, "S1 S2 S3", ()))
    ordered = order_quantities([studs], library, convert=convertible)
    assert ordered[0].order == pytest.approx(3 * 4.8)
    lines, _ = assess_lines(ordered, library)
    assert lines[0].rate.material * 7.2 == pytest.approx(3 * 21.0)


def test_wastage_of_carbon_follows_the_plan(job):
    library = with_stock(job, Stock(material="", sold_by="length", lengths=(3.0,)))
    studs = sticks(job, Piece(2.5, 4, "S1 S2 S3 S4", ()))
    ordered = order_quantities([studs], library, convert=convertible)
    planned = assess_lines(ordered, library)[0][0]
    allowed = assess_lines([by_allowance(studs, library)], library)[0][0]
    # four offcuts of 0.5 m: 2.0 m against 8 % of 10.0 m
    assert planned.carbon.a5_wastage == pytest.approx(allowed.carbon.a5_wastage * 2.0 / 0.8)
    assert planned.carbon.a1a3 == pytest.approx(allowed.carbon.a1a3)


def test_a_stick_longer_than_anything_on_sale_is_a_special_order_and_told(job):
    library = with_stock(job, Stock(material="", sold_by="length", lengths=(4.2, 6.0)))
    studs = sticks(job, Piece(6.4, 2, "S1 S2", ()), Piece(2.0, 3, "S3 S4 S5", ()))
    plan = plans_of(order_quantities([studs], library, convert=convertible))[0]
    assert [(piece.mark, piece.length, piece.longest) for piece in plan.too_long] == [
        ("S1", 6.4, 6.0),
        ("S2", 6.4, 6.0),
    ]
    assert plan.order == pytest.approx(2 * 6.4 + 6.0)


def test_sections_are_bought_apart_and_a_row_for_the_section_goes_before_one_for_any(job):
    library = with_stock(
        job,
        Stock(material="", sold_by="length", lengths=(5.4,)),
        Stock(material="", sold_by="length", depth=0.09, thickness=0.045, lengths=(3.0,)),
    )
    narrow = sticks(job, Piece(2.5, 2, "S1 S2", ()))
    deep = replace(narrow, id="EW.FR.lintels", width=0.19, section=0.19 * 0.045)
    ordered = order_quantities([narrow, deep], library, convert=convertible)
    assert [item.order for item in ordered] == [pytest.approx(6.0), pytest.approx(5.4)]
    plans = plans_of(ordered)
    assert [plan.items[0].length for plan in plans] == [3.0, 5.4]
    assert plans[0].name == "Softwood framing, structural, 90 x 45 mm"


def test_plates_are_joined_over_studs_only_where_the_stock_allows_joints(job):
    plate = Piece(7.2, 1, "TP1", tuple(0.45 * number for number in range(1, 16)))
    rows = {
        joints: Stock(material="", sold_by="length", lengths=(3.6, 6.0), joints=joints)
        for joints in ("none", "on supports", "anywhere")
    }
    plans = {
        joints: plans_of(order_quantities([sticks(job, plate)], with_stock(job, row), convert=convertible))[0]
        for joints, row in rows.items()
    }
    assert [piece.mark for piece in plans["none"].too_long] == ["TP1"]
    # framing is never joined off its studs: 3.6 m is the eighth of them
    for joints in ("on supports", "anywhere"):
        assert not plans[joints].too_long
        assert plans[joints].order == pytest.approx(7.2)
        assert [piece.part for cut in plans[joints].lengths for piece in cut.pieces] == ["1 of 2", "2 of 2"]


def test_offcuts_worth_keeping_say_what_they_could_serve(job):
    library = with_stock(
        job, Stock(material="", sold_by="length", lengths=(6.0,), kerf=0.003, least_offcut=0.3)
    )
    studs = sticks(job, Piece(2.5, 2, "S1 S2", ()), Piece(0.41, 1, "N1", ()))
    plan = plans_of(order_quantities([studs], library, convert=convertible))[0]
    # 6.0 - 2 x 2.5 - 0.41 - 3 x 0.003 = 0.581 m, which holds one of 0.41 m
    assert [(offcut.length, offcut.count, offcut.serves) for offcut in plan.offcuts] == [
        (pytest.approx(0.581), 1, "1 of 0.410 m")
    ]


def test_offcuts_of_lengths_cut_alike_are_counted(job):
    library = with_stock(
        job, Stock(material="", sold_by="length", lengths=(6.0,), kerf=0.003, least_offcut=0.3)
    )
    # a length holds two of 2.4 m and one of 0.7 m, and 6.0 - 5.5 - 0.009 = 0.491 m is left
    studs = sticks(job, Piece(2.4, 4, "S1 S2 S3 S4", ()), Piece(0.7, 2, "N1 N2", ()))
    plan = plans_of(order_quantities([studs], library, convert=convertible))[0]
    assert [(offcut.length, offcut.count, offcut.serves) for offcut in plan.offcuts] == [
        (pytest.approx(0.491), 2, NOTHING)
    ]


def test_a_material_without_stock_is_ordered_by_its_allowance(job):
    studs = sticks(job, Piece(2.5, 4, "S1 S2 S3 S4", ()))
    ordered = order_quantities([studs], replace(job.library, stock={}), convert=convertible)[0]
    assert ordered.plan is None
    assert ordered.order == pytest.approx(10.0 * 1.08)
    assert (ordered.basis, ordered.rule) == ("wastage allowance", "wastage allowance 8 % on net")


@pytest.mark.parametrize(
    ("row", "message"),
    [
        (
            {"sold_by": "box", "contents": 250.0, "contents_unit": "m2"},
            "practice.xlsx Stock!H7: contents in m2 can't meet 'Roof screws with washers', measured in Nr; expected a "
            "unit that leads to Nr. Give the material 'Roof screws with washers' the density, mass or size between "
            "the two.",
        ),
        (
            {"sold_by": "box", "contents": 250.0, "contents_unit": "Nr", "price": PerUnit(3.0, "m3")},
            "practice.xlsx Stock!J7: a price for one m3 can't meet 'Roof screws with washers', measured in Nr; "
            "expected a unit that leads to Nr. Give the material 'Roof screws with washers' the density, mass or size "
            "between the two.",
        ),
        (
            {"sold_by": "random lengths", "lengths": (1.8, 4.8), "price": PerUnit(3.0, "Nr")},
            "practice.xlsx Stock!J7: a price for one Nr of random lengths; expected a price by the metre or another "
            "unit, for no two lengths are alike.",
        ),
    ],
)
def test_stock_in_a_unit_that_nothing_links_is_a_located_problem(job, row, message):
    origin = Origin("practice.xlsx", "Stock", 7, (("contents_unit", "H"), ("price_unit", "J")))
    name = "Roof screws with washers"
    library = replace(job.library, stock={name: (Stock(material=name, origin=origin, **row),)})
    with pytest.raises(DesignError) as error:
        evaluate(replace(job, library=library), job.base)
    assert str(error.value) == message


def test_a_material_priced_in_the_stock_alone_is_priced(job):
    library = with_stock(
        job, Stock(material="", sold_by="length", lengths=(6.0,), price=PerUnit(4.0, "m")), prices={}
    )
    studs = sticks(job, Piece(2.5, 4, "S1 S2 S3 S4", ()))
    line = assess_lines(order_quantities([studs], library, convert=convertible), library)[0][0]
    assert line.priced
    assert line.rate.material * 10.0 == pytest.approx(2 * 6.0 * 4.0)
    bare = replace(library, stock={})
    assert not assess_lines(order_quantities([studs], bare, convert=convertible), bare)[0][0].priced


def screws(job, number: float) -> Quantity:
    """Return roof screws as measured."""
    return Quantity(
        id="RF.screws",
        element="RF",
        trade="roofing",
        item="Screws",
        description="Screws",
        location="roof",
        unit="Nr",
        material="Roof screws with washers",
        net=number,
        required=number,
        work="",
    )


@pytest.mark.parametrize("price", [None, PerUnit(0.5, "Nr")])
def test_the_rest_of_the_last_box_is_bought_but_not_charged(job, price):
    # 600 screws and 5 %: 630 charged, three boxes of 250 bought; a price for one Nr in the stock is that of a box
    name = "Roof screws with washers"
    box = Stock(
        material=name,
        sold_by="box",
        contents=250.0,
        contents_unit="Nr",
        price=None if price is None else PerUnit(price.value * 250, "Nr"),
    )
    library = replace(job.library, stock={name: (box,)})
    ordered = order_quantities([screws(job, 600.0)], library, convert=convertible)
    assert (ordered[0].order, ordered[0].charged) == (pytest.approx(750.0), pytest.approx(630.0))
    line = assess_lines(ordered, library)[0][0]
    each = job.library.prices[name].price.value if price is None else price.value
    assert line.rate.material * 600.0 == pytest.approx(630.0 * each)
    # what is charged and not built in, with its way to the site and its end of life
    one = line.carbon.sum_of(("A1-A3", "A4", "C2", "C3", "C4")) / 600
    assert line.carbon.a5_wastage == pytest.approx(30 * one)


def test_where_a_plan_needs_less_than_the_rule_of_measurement_all_of_it_is_built_in(job):
    # one course of a roll 1.5 m wide covers a face 1.4 m high; by rule laps add a ninth to its 14 m2
    name = "Airtight membrane, vapour-control"
    face = Surface("wall", Face(10.0, 0.0, 1.4, 1.4))
    wrap = replace(
        screws(job, 16.5),
        id="EW.wrap",
        unit="m2",
        material=name,
        net=14.0,
        surfaces=(face,),
        direction="horizontal",
    )
    roll = Stock(material=name, sold_by="roll", lengths=(50.0,), width=1.5)
    library = replace(job.library, stock={name: (roll,)})
    ordered = order_quantities([wrap], library, convert=convertible)[0]
    assert ordered.charged == ordered.built_in == pytest.approx(15.0)
    assert ordered.wastage == 0.0
    line = assess_lines([ordered], library)[0][0]
    assert line.carbon.a5_wastage == 0.0
    assert line.mass == pytest.approx(15.0 * 0.11)
