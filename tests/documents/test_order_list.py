"""The order list: everything once, and the same amounts and money as the items have."""

from __future__ import annotations

import csv
import io
from collections import Counter
from dataclasses import replace
from typing import Any

import pytest

from takeoff.compare.evaluate import Result
from takeoff.documents.order_list_csv import COLUMNS, ONCE, order_list_csv, order_list_table
from takeoff.documents.order_words import bought_text, gap_text, names_of
from takeoff.documents.quantities_csv import quantities_csv
from takeoff.model.job import Job


@pytest.fixture(scope="module")
def rows(job: Job, base: Result) -> list[dict[str, Any]]:
    return records(job, base)


def records(job: Job, result: Result) -> list[dict[str, Any]]:
    """Return the rows of the table, blanks as None."""
    table = order_list_table(job, [result]).astype(object)
    return table.where(table.notna(), None).to_dict("records")


def of_plan(rows: list[dict[str, Any]], number: int) -> list[dict[str, Any]]:
    return [row for row in rows if row["plan"] == number]


def test_every_row_has_every_column(job, base):
    text = order_list_csv(job, [base])
    assert text.splitlines()[0].split(",") == list(COLUMNS)
    assert {row["option"] for row in csv.DictReader(io.StringIO(text))} == {"As drawn"}


def test_every_item_with_material_is_bought_once(job, base, rows):
    """Work alone and allowances buy nothing; all else of the bill stands in the list."""
    bought: Counter[str] = Counter()
    for number in {row["plan"] for row in rows if row["plan"] is not None}:
        bought.update(of_plan(rows, number)[0]["items"].split())
    bought.update(row["items"] for row in rows if row["plan"] is None)
    families = {name: material.family for name, material in job.library.materials.items()}
    ids = [
        line.quantity.id
        for line in base.lines
        if families.get(line.quantity.material, "work only") != "work only"
    ]
    assert len(ids) > 100
    assert bought == Counter(ids)


def test_amounts_of_a_plan_add_up_to_its_order(base, rows):
    for plan in base.plans:
        own = of_plan(rows, plan.number)
        assert sum(row["amount"] for row in own) == pytest.approx(plan.order), plan.name
        assert own[0]["order"] == pytest.approx(plan.order)
        ordered = sum(line.ordered.order for line in base.lines if line.quantity.id in plan.items_of)
        assert ordered == pytest.approx(plan.order)


def test_an_amount_is_the_count_of_its_sizes(base, rows):
    """By length count x length, by area count x length x width; random lengths are counted in m."""
    checked = set()
    for row in rows:
        if row["plan"] is None:
            assert row["amount"] == row["count"]
        elif row["sold_by"] in ("sheet", "roll"):
            assert row["amount"] == pytest.approx(row["count"] * row["length"] * row["width"])
        elif row["sold_by"] == "length" and row["unit"] == "m":
            assert row["amount"] == pytest.approx(row["count"] * row["length"])
        elif row["sold_by"] == "random lengths":
            assert (row["count_unit"], row["length"]) == ("m", None)
            # boards of 130 and 135 mm, ordered in m2
            width = float(row["section"].split(" x ")[0]) / 1000
            assert row["amount"] == pytest.approx(row["count"] * width)
        else:
            continue
        checked.add(row["sold_by"])
    assert checked == {None, "sheet", "roll", "length", "random lengths"}


def test_whole_things_are_whole(rows):
    for row in rows:
        if row["plan"] is not None and row["count_unit"] == "Nr":
            assert row["count"] == int(row["count"]), row["material"]


def test_concrete_is_ordered_in_fifths_of_a_cubic_metre(rows):
    """13.104 m3 (tests/published/test_hand_measuring.py has its sum) x 1.05 = 13.7592, so 69 fifths: 13.8 m3."""
    (row,) = (row for row in rows if row["material"] == "Concrete 25 MPa")
    assert (row["count"], row["contents"], row["unit"]) == (69, "0.2 m3", "m3")
    assert row["amount"] == pytest.approx(13.8)
    assert row["charged"] == pytest.approx(13.104 * 1.05)
    # by its price of 325 for one m3
    assert (row["price"], row["cost"]) == (pytest.approx(65.0), pytest.approx(4485.0))


def test_cost_of_the_supply_is_that_of_the_items_but_for_rests(job, base, rows):
    """Rests of rolls and packs are paid and not charged; prices that allow for wastage count what is required."""
    compared = 0
    for plan in base.plans:
        price = job.library.prices[plan.material]
        if price.wastage_in_price:
            continue
        own = of_plan(rows, plan.number)
        supply = sum(row["cost"] for row in own)
        lines = sum(
            line.rate.material * line.quantity.net for line in base.lines if line.quantity.id in plan.items_of
        )
        assert supply * plan.charged / plan.order == pytest.approx(lines), plan.name
        if plan.basis in ("cutting plan", "sheet layout", "cut to length"):
            assert supply == pytest.approx(lines), plan.name
            compared += 1
    assert compared > 30


def test_lengths_at_another_price_cost_it(job, rows):
    """The Stock sheet has 6.0 m of framing at 1180 for one m3; shorter ones go by the Prices sheet."""
    own = [
        row
        for row in rows
        if row["material"] == "Softwood framing, structural" and row["section"] == "170 x 45"
    ]
    general = job.library.prices["Softwood framing, structural"].price
    assert general.per == "m3"
    for row in own:
        per_m3 = 1180 if row["length"] > 5.4 else general.value
        assert row["price"] == pytest.approx(row["length"] * 0.170 * 0.045 * per_m3)
    assert {row["length"] > 5.4 for row in own} == {True, False}


def test_mass_is_that_of_what_is_bought(base, rows):
    """What is bought is built in, lost, or left over of the last roll or pack."""
    for plan in base.plans:
        lines = [line for line in base.lines if line.quantity.id in plan.items_of]
        if any(line.mass is None for line in lines):
            continue
        charged = sum((line.mass or 0) + (line.mass_wastage or 0) for line in lines)
        bought = sum(row["mass_kg"] for row in of_plan(rows, plan.number))
        assert bought * plan.charged / plan.order == pytest.approx(charged), plan.name


def test_figures_of_a_plan_stand_in_its_first_row_only(base, rows):
    for plan in base.plans:
        first, *others = of_plan(rows, plan.number)
        assert (first["net"], first["required"], first["charged"]) == (plan.net, plan.required, plan.charged)
        assert first["bound"] == plan.bound
        assert first["proven"] == ({True: "yes", False: "no"}[plan.proven] if plan.bound is not None else "")
        for row in others:
            assert [row[name] for name in ONCE] == [None] * len(ONCE)
    assert any(len(of_plan(rows, plan.number)) > 3 for plan in base.plans)


def test_sections_are_depth_by_thickness(rows):
    sections = {row["material"]: row["section"] for row in rows}
    assert sections["Softwood rafters, structural"] in ("240 x 45", "90 x 45")
    assert sections["Ceiling batten, softwood 70 x 35"] == "70 x 35"
    assert sections["Plasterboard 12.5"] == "12.5"


def test_a_length_that_nothing_on_sale_serves_is_a_special_order(short_stock):
    job, result = short_stock
    special = [row for row in records(job, result) if row["sold_by"] == "special order"]
    rafters = [
        m for m in result.measured.members if m.material == "Softwood rafters, structural" and m.length > 4.2
    ]
    assert sum(row["count"] for row in special) == len(rafters) > 10
    # the plan counts whole mm, rounded up
    assert all(0 <= row["length"] - rafters[0].length < 0.001 for row in special)
    (plan,) = (plan for plan in result.plans if plan.too_long)
    assert "(special order)" in bought_text(plan)


def test_plans_of_one_name_differ_by_thickness(base):
    names = names_of(base.plans)
    assert len(set(names.values())) == len(names)
    assert sum(name.startswith("Glass wool batts, ") for name in names.values()) > 1


def test_a_gap_is_told_apart_from_none_known(base):
    texts = {plan.name: gap_text(plan) for plan in base.plans}
    assert texts["Concrete 25 MPa"] == "-"
    assert texts["Roof underlay, vapour-open"] == "proven least"
    open_gaps = [plan for plan in base.plans if plan.gap and not plan.proven]
    assert all(gap_text(plan) == f"{100 * plan.worth / plan.bound - 100:.1f} %" for plan in open_gaps)
    assert open_gaps


@pytest.mark.parametrize("document", ["order list", "quantities"])
def test_a_name_that_begins_like_a_formula_is_quoted_off(job, base, document):
    result = replace(base, option=replace(base.option, name="=SUM(A1)"))
    text = order_list_csv(job, [result]) if document == "order list" else quantities_csv([result])
    assert {row["option"] for row in csv.DictReader(io.StringIO(text))} == {"'=SUM(A1)"}


def test_quantities_tell_order_from_what_is_charged(base):
    rows = {row["id"]: row for row in csv.DictReader(io.StringIO(quantities_csv([base])))}
    underlay = next(row for row in rows.values() if row["item"].startswith("Roof underlay"))
    # two rolls of 50 x 1.5 m; the rest of the second is left over
    assert float(underlay["order"]) == pytest.approx(150)
    assert float(underlay["required"]) < float(underlay["charged"]) < 150
    assert underlay["order_basis"] == "roll layout"
    assert {row["order_basis"] for row in rows.values()} == {
        "cutting plan",
        "sheet layout",
        "cut to length",
        "roll layout",
        "whole units",
        "wastage allowance",
        "as required",
    }
