"""Tables of what is bought: they add up, name everything once, and say how near to the least possible it is."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest

from takeoff.compare.evaluate import Result, evaluate
from takeoff.compare.uncertainty import draw
from takeoff.documents.comparison import comparison_page
from takeoff.documents.order_kinds import KINDS, planned_by_kind
from takeoff.documents.order_tables import (
    both_ways_table,
    differences_of,
    least_text,
    made_to_length_table,
    offcuts_table,
    order_list_table,
    planned_table,
)
from takeoff.documents.report_notes import assumptions
from takeoff.documents.wording import change, number
from takeoff.model.job import Job


@pytest.fixture(scope="module")
def base(job: Job) -> Result:
    return evaluate(job, job.base)


@pytest.fixture(scope="module")
def bare_job(job: Job) -> Job:
    return replace(job, library=replace(job.library, stock={}))


def value(text: str) -> float:
    """Return a printed figure as a number."""
    return float(text.replace("\u202f", "").replace("\u2212", "-").replace("+", ""))


def test_planned_against_allowed_has_a_row_a_kind_and_adds_up(base, job):
    table = planned_table(base, job.library, "AUD")
    *rows, total = table.rows
    assert [row.cells[0] for row in rows] == [
        kind for kind in KINDS if kind in planned_by_kind(base, job.library)
    ]
    assert len(rows) >= 6
    for column in (7, 8):
        # each row is rounded to a whole unit
        parts = sum(value(row.cells[column]) for row in rows)
        assert value(total.cells[column]) == pytest.approx(parts, abs=0.5 * (len(rows) + 1))


def test_what_is_planned_makes_all_the_difference(base):
    cost, upfront = differences_of(base, [plan for plan in base.plans if plan.planned])
    assert cost == pytest.approx(base.totals.cost - base.by_allowance.totals.cost)
    assert upfront == pytest.approx(base.totals.upfront - base.by_allowance.totals.upfront)
    assert abs(cost) > 1


def test_a_kind_shows_its_plans_together(base, job):
    plans = planned_by_kind(base, job.library)["framing"]
    row = planned_table(base, job.library, "AUD").rows[0]
    required = sum(plan.required for plan in plans)
    allowed, charged = sum(p.allowed for p in plans), sum(p.charged for p in plans)
    assert row.cells[:5] == ("framing", "m", number(required, 1), number(allowed, 1), number(charged, 1))
    # 8 % on what is required is 8/108 of what is bought
    assert row.cells[5] == f"{100 * 0.08 / 1.08:.1f}"
    assert value(row.cells[6]) == pytest.approx(100 * (charged - required) / charged, abs=0.05)


def test_a_plan_that_needs_less_than_the_rule_of_measurement_has_no_wastage(base, job):
    plans = tuple(replace(p, charged=p.required * 0.99) if p.framing else p for p in base.plans)
    row = planned_table(replace(base, plans=plans), job.library, "AUD").rows[0]
    assert row.cells[6] == "0.0"


def test_the_note_names_what_is_by_allowance_and_says_what_planned_wastage_counts(base, job):
    note = planned_table(base, job.library, "AUD").note
    for name in ("Concrete 25 MPa", "Slab mesh, 6.75 mm wires at 200", "Glass wool batts"):
        assert name in note
    assert "Plasterboard 12.5" not in note
    assert "the rests of the last roll or pack are left for other work and not counted" in note


def test_the_house_both_ways(base):
    rows = {row.cells[0]: row.cells for row in both_ways_table(base, "AUD").rows}
    before, after = base.by_allowance.ladder.total_inc_tax, base.ladder.total_inc_tax
    assert rows["Cost, including tax"] == (
        "Cost, including tax",
        "AUD",
        number(before),
        number(after),
        change(after - before),
    )
    assert rows["of which A5 wastage"][2:] == (
        number(base.by_allowance.totals.a5_wastage),
        number(base.totals.a5_wastage),
        change(base.totals.a5_wastage - base.by_allowance.totals.a5_wastage),
    )
    assert rows["Mass lost as wastage"][3] == number(base.totals.mass_wastage)
    assert rows["Upfront carbon A1-A5"][2] == number(base.by_allowance.totals.upfront)


def test_the_order_list_has_every_plan_once_below_how_it_follows(base):
    rows = order_list_table(base).rows
    listed = [row.cells[0] for row in rows if not row.heading]
    assert Counter(listed) == Counter(f"{plan.number} {plan.name}" for plan in base.plans)
    headings = [row.heading for row in rows if row.heading]
    assert len(headings) == len(set(headings))
    assert headings[0].startswith("Cutting plan: ")
    assert headings[-1].startswith("Whole units: wastage allowance ")
    assert all(not row.cells for row in rows if row.heading)


def test_the_order_list_says_what_to_buy(base):
    rows = {row.cells[0]: row for row in order_list_table(base).rows if not row.heading}
    for plan in base.plans:
        row = rows[f"{plan.number} {plan.name}"]
        if plan.basis == "cutting plan" and plan.unit == "m":
            lengths = re.findall(r"(\d+) of (\S+) m", row.cells[1])
            if lengths:
                assert sum(int(n) * float(m) for n, m in lengths) == pytest.approx(plan.order)
        if plan.basis == "roll layout":
            assert row.below == plan.rule


def test_how_near_to_the_least_possible(base):
    plan = next(plan for plan in base.plans if plan.worth is not None)
    proven = replace(plan, proven=True)
    near = replace(plan, proven=False, worth=102.6, bound=100.0)
    assert least_text(proven) == "proven least"
    assert least_text(near) == "at most 2.6 % over"
    assert least_text(replace(plan, proven=False, bound=None)) == "-"


def test_offcuts_kept_add_up(base):
    rows = offcuts_table(base).rows
    kept = [
        offcut
        for plan in base.plans
        if not any(item.stock.sold_by == "random lengths" for item in plan.items)
        for offcut in plan.offcuts
    ]
    assert sum(int(row.cells[2]) for row in rows) == sum(offcut.count for offcut in kept)
    for row in rows:
        sizes = re.findall(r"(?:(\d+) of )?\d+\.\d{3}(?: x \d+\.\d{3})?", row.cells[1])
        assert sum(int(count or 1) for count in sizes) == int(row.cells[2])
        assert row.cells[3]


def test_sheets_made_to_length_add_up_by_elevation(base):
    rows = made_to_length_table(base).rows
    plans = [plan for plan in base.plans if plan.basis == "cut to length"]
    assert sum(int(row.cells[2]) for row in rows) == sum(item.count for plan in plans for item in plan.items)
    places = {row.cells[1] for row in rows}
    assert "roof" in places
    assert len(places) > 1
    for row in rows:
        assert sum(int(n) for n in re.findall(r"(\d+) of ", row.cells[3])) == int(row.cells[2])


def test_equal_sheets_of_an_elevation_are_counted_together(base):
    before = made_to_length_table(base).rows
    twice = tuple(replace(p, lengths=p.lengths * 2) if p.basis == "cut to length" else p for p in base.plans)
    after = made_to_length_table(replace(base, plans=twice)).rows
    assert [int(row.cells[2]) for row in after] == [2 * int(row.cells[2]) for row in before]


def test_the_assumptions_tell_how_the_order_follows_and_what_the_plans_aim_at(base, job):
    def order(aim: str) -> str:
        design = replace(base.design, house=replace(base.design.house, cutting_aim=aim))
        return dict(assumptions(job, replace(base, design=design)))["Order"]

    assert "The cutting plans aim at the least length or area of what is bought." in order("least length")
    assert "The cutting plans aim at the least cost of what is bought." in order("least cost")
    assert "The cutting plans aim at the least carbon, A1-A3, of what is bought." in order("least carbon")
    assert "Else required with the wastage allowance of the material" in order("least cost")


def test_the_page_has_the_order_and_the_cutting_plans(base, job):
    page = comparison_page(job, [base], draw(job, [base]))
    assert "<h2>Ordering</h2>" in page
    assert "<h2>Appendix: cutting plans</h2>" in page
    assert page.index('id="ordering"') < page.index('id="cutting-plans"')
    ordering = page[page.index('<section id="ordering"') : page.index('<section id="build-ups"')]
    headings = sum(bool(row.heading) for row in order_list_table(base).rows)
    assert ordering.count('<tr class="heading">') == headings


def test_without_stock_all_is_by_allowance_and_the_page_says_so(bare_job):
    bare = evaluate(bare_job, bare_job.base)
    assert planned_table(bare, bare_job.library, "AUD") is None
    assert order_list_table(bare) is None
    assert offcuts_table(bare) is None
    assert made_to_length_table(bare) is None
    page = comparison_page(bare_job, [bare], draw(bare_job, [bare]))
    assert "<h2>Ordering</h2>" not in page
    assert "cutting plans" not in page
    assert dict(assumptions(bare_job, bare))["Order"] == (
        "Required with the wastage allowance of the material, in whole packs or steps where it is sold so."
    )
