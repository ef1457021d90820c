"""Markup is not margin (common practice, no source): 20 % markup on 400,000 is 480,000, 20 % margin 500,000."""

import pytest

from takeoff.assess.ladder import climb
from takeoff.model.library import LadderStep


def step(kind: str, value: float, base: str | None = "running total", name: str = "step") -> LadderStep:
    return LadderStep(name=name, kind=kind, value=value, base=base, note="")


def test_markup_and_margin_on_400_000():
    assert climb(400_000, (step("markup", 0.20),)).total_ex_tax == pytest.approx(480_000)
    assert climb(400_000, (step("margin", 0.20),)).total_ex_tax == pytest.approx(500_000)
    assert climb(400_000, (step("margin", 0.20),)).rungs[0].words == (
        "margin 20 % of the price, a markup of 25.0 % on the running total"
    )
    assert climb(400_000, (step("markup", 0.20),)).rungs[0].words == (
        "markup 20 % on the running total, a margin of 16.7 % of the price"
    )


def test_each_percentage_is_of_the_base_it_names():
    steps = (
        step("sum", 50_000, None),
        step("percentage", 0.10, "measured works"),
        step("percentage", 0.10, "works and sums"),
        step("percentage", 0.10, "running total"),
    )
    amounts = [rung.amount for rung in climb(100_000, steps).rungs]
    # 100,000 + 50,000; 10 % of 100,000; 10 % of 150,000; 10 % of 175,000
    assert amounts == pytest.approx([50_000, 10_000, 15_000, 17_500])


def test_escalation_and_tax():
    ladder = climb(100_000, (step("index ratio", 126.0 / 120.0, None), step("tax", 0.10)))
    assert ladder.total_ex_tax == pytest.approx(105_000)
    assert ladder.total_inc_tax == pytest.approx(115_500)


def test_tax_comes_last_so_that_the_total_excluding_it_holds_none():
    from takeoff.model.problem import Origin
    from takeoff.workbook.factors_reading import ladder_problems
    from takeoff.workbook.tables import Record

    def row(number: int, name: str, kind: str) -> Record:
        values = {"step": name, "kind": kind, "value": 10, "unit": "%", "base": "running total", "note": ""}
        return Record(values, Origin("f.xlsx", "Cost ladder", number, (("step", "A"), ("kind", "B"))))

    lines = [p.line() for p in ladder_problems([row(6, "Tax", "tax"), row(7, "Fee", "percentage")])]
    assert lines == [
        "f.xlsx Cost ladder!B7: the step 'Fee' comes after tax; expected tax last, so that the total excluding "
        "tax holds none. Move the row above the tax."
    ]
