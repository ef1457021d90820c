"""Of any two bills: the movement adds up to their difference, by line, by element and by reason."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.compare.line_movement import MEASURES, amount_of
from takeoff.compare.movement import Movement, movement
from takeoff.model.issued_bill import Bill, BillLine, LadderAmount
from takeoff.model.library import ELEMENTS
from takeoff.model.life_cycle import LIFE_CYCLE

IDS = [f"{code}.{name}" for code in ELEMENTS for name in ("boards", "boards.2", "nails")]
# Sums of a few dozen amounts of up to a few million, each exact to some 16 digits.
CLOSE = 1e-9


def amounts(most: float) -> st.SearchStrategy[float]:
    return st.one_of(st.just(0.0), st.floats(0.001, most), st.integers(1, 50).map(float))


@st.composite
def lines(draw: st.DrawFn, id: str) -> BillLine:
    """Draw one line; without a net quantity nothing can be assessed."""
    net = draw(amounts(2_000.0))
    carbon = [draw(st.none() | st.floats(-500.0, 5_000.0)) if net else None for _ in range(2)]
    return BillLine(
        id=id,
        element=ELEMENTS[id[:2]],
        trade="carpentry",
        kind="measured",
        item="Boards",
        location="low side",
        unit=draw(st.sampled_from(["m2", "m2", "m2", "m"])),
        net=net,
        material=draw(amounts(900.0)),
        labour=draw(amounts(300.0)),
        plant=draw(amounts(50.0)),
        stated=draw(amounts(900.0)),
        upfront=carbon[0],
        life_cycle=carbon[1],
        overridden=draw(st.booleans()),
    )


@st.composite
def bills(draw: st.DrawFn) -> Bill:
    """Draw one bill with its totals."""
    ids = draw(st.lists(st.sampled_from(IDS), unique=True, min_size=1, max_size=12))
    drawn = tuple(draw(lines(id)) for id in ids)
    names = draw(st.lists(st.sampled_from(["Sums", "Overhead", "Tax", "Margin"]), unique=True))
    ladder = tuple(
        LadderAmount(name=name, amount=draw(st.floats(-1e5, 1e5)), of_allowances=name == "Sums")
        for name in names
    )
    assessed = {
        key: [value for line in drawn if (value := getattr(line, key)) is not None]
        for key in ("upfront", "life_cycle")
    }
    steps = [step.amount for step in ladder if not step.of_allowances]
    return Bill(
        source="drawn",
        project="Invented",
        issue="A",
        date="2026-01-01",
        option="base",
        currency="AUD",
        modules=LIFE_CYCLE,
        period=60.0,
        lines=drawn,
        ladder=ladder,
        total_inc_tax=math.fsum([*(line.cost for line in drawn), *steps]),
        **{key: math.fsum(known) if known else None for key, known in assessed.items()},
    )


def scale_of(moved: Movement) -> float:
    """Return the sum of all that both bills hold, which rounding is a share of."""
    sizes = [
        abs(amount_of(side, m)) for line in moved.lines for side in (line.old, line.new) for m in MEASURES
    ]
    # a rate may be made of parts that each moved further than it did
    parts = [
        abs(line.shifts[m].quantity) + abs(line.shifts[m].rate) for line in moved.lines for m in MEASURES
    ]
    steps = [abs(step.old or 0.0) + abs(step.new or 0.0) for step in moved.ladder]
    return max(1.0, math.fsum([*sizes, *parts, *steps]) / 1e3)


@given(old=bills(), new=bills())
def test_elements_and_reasons_add_up_to_the_whole_difference(old, new):
    moved = movement(old, new)
    close = CLOSE * scale_of(moved)
    for measure in MEASURES:
        difference = moved.difference(measure)
        ladder = moved.ladder_effect if measure == "money" else 0.0
        by_element = [moved.sums(measure, element).shift.difference for element in moved.elements]
        assert math.fsum([*by_element, ladder]) == pytest.approx(difference, abs=close)
        assert math.fsum(moved.by_reason(measure).values()) == pytest.approx(difference, abs=close)


@given(old=bills(), new=bills())
def test_the_parts_of_each_line_add_up_to_its_difference(old, new):
    moved = movement(old, new)
    for line in moved.lines:
        for measure in MEASURES:
            difference = amount_of(line.new, measure) - amount_of(line.old, measure)
            shift = line.shifts[measure]
            size = abs(shift.quantity) + abs(shift.rate) + abs(shift.added) + abs(shift.omitted)
            assert shift.difference == pytest.approx(difference, abs=max(CLOSE, 1e-14 * size))
        assert line.rates.total == pytest.approx(line.shifts["money"].rate, abs=1e-7)


@given(old=bills(), new=bills())
def test_turned_round_every_total_moves_back(old, new):
    forth, back = movement(old, new), movement(new, old)
    for measure in MEASURES:
        assert back.difference(measure) == -forth.difference(measure)
        there, here = forth.sums(measure).shift, back.sums(measure).shift
        assert here.added == pytest.approx(-there.omitted)
        assert here.omitted == pytest.approx(-there.added)
    assert back.ladder_effect == pytest.approx(-forth.ladder_effect, abs=1e-6)


@given(bill=bills(), factor=st.floats(0.5, 2.0))
def test_where_only_prices_changed_no_quantity_moved(bill, factor):
    dearer = replace(bill, lines=tuple(replace(line, material=line.material * factor) for line in bill.lines))
    for line in movement(bill, dearer).lines:
        assert [line.shifts[measure].quantity for measure in MEASURES] == [0.0, 0.0, 0.0]
        assert (line.rates.labour, line.rates.plant, line.rates.stated) == (0.0, 0.0, 0.0)


@given(bill=bills())
def test_a_bill_against_itself_has_not_moved(bill):
    moved = movement(bill, bill)
    assert moved.moved == ()
    assert all(amount == 0.0 for measure in MEASURES for amount in moved.by_reason(measure).values())
