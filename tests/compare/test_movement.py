"""What moved between two bills: hand-made ones with the arithmetic beside, and houses whose workbook was changed."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook import Workbook

from takeoff.compare.evaluate import evaluate
from takeoff.compare.line_movement import MEASURES, REASONS, LineMovement
from takeoff.compare.movement import Movement, NotComparableError, bill_of, movement
from takeoff.model.issued_bill import Bill, BillLine, LadderAmount
from takeoff.model.life_cycle import LIFE_CYCLE
from takeoff.workbook.reading import read_job

BOARDS = BillLine(
    id="EW.CL.low.boards",
    element="external walls",
    trade="cladding",
    kind="measured",
    item="Boards",
    location="low side",
    unit="m2",
    net=30.0,
    material=80.0,
    labour=40.0,
    plant=5.0,
    upfront=150.0,
    life_cycle=300.0,
)
PAINT = replace(BOARDS, id="EW.CL.low.paint", item="Paint", net=60.0, material=2.0, labour=7.0, plant=1.0)
PAINT = replace(PAINT, upfront=12.0, life_cycle=90.0)
KITCHEN = BillLine(
    id="FT.kitchen",
    element="fitments",
    trade="joinery",
    kind="provisional sum",
    item="Kitchen",
    location="as allowed for",
    unit="Item",
    net=1.0,
    stated=9_000.0,
)


def bill(*lines: BillLine, ladder: tuple[LadderAmount, ...] = (), **particulars: object) -> Bill:
    """Return a bill whose totals are those of its lines and steps."""
    steps = sum(step.amount for step in ladder if not step.of_allowances)
    carbon = {
        key: sum(getattr(line, key) or 0.0 for line in lines)
        if any(getattr(line, key) is not None for line in lines)
        else None
        for key in ("upfront", "life_cycle")
    }
    made = Bill(
        source="by hand",
        project="Invented",
        issue="A",
        date="2026-01-01",
        option="As drawn",
        currency="AUD",
        modules=LIFE_CYCLE,
        period=60.0,
        lines=lines,
        ladder=ladder,
        total_inc_tax=sum(line.cost for line in lines) + steps,
        **carbon,
    )
    return replace(made, **particulars)


def only(moved: Movement) -> LineMovement:
    """Return the one line of a movement."""
    (line,) = moved.lines
    return line


def test_a_quantity_that_grew_moves_at_the_old_rate_and_a_rate_that_rose_at_the_new_quantity():
    moved = movement(bill(BOARDS), bill(replace(BOARDS, net=32.0, material=90.0, labour=38.0)))
    # old rate 80 + 40 + 5 = 125, new rate 90 + 38 + 5 = 133
    money = only(moved).shifts["money"]
    assert money.quantity == 250.0  # (32 - 30) x 125
    assert money.rate == 256.0  # (133 - 125) x 32
    assert (money.added, money.omitted) == (0.0, 0.0)
    assert money.difference == 506.0  # 32 x 133 - 30 x 125 = 4256 - 3750
    rates = only(moved).rates
    assert rates.material == 320.0  # (90 - 80) x 32
    assert rates.labour == -64.0  # (38 - 40) x 32
    assert (rates.plant, rates.stated, rates.total) == (0.0, 0.0, 256.0)
    assert only(moved).reasons == ("quantity", "material rate", "labour rate", "carbon of one unit")


def test_carbon_of_one_unit_takes_the_place_of_the_rate():
    moved = movement(bill(BOARDS), bill(replace(BOARDS, net=40.0, upfront=240.0, life_cycle=360.0)))
    upfront, life = only(moved).shifts["upfront"], only(moved).shifts["life cycle"]
    assert upfront.quantity == 50.0  # (40 - 30) x 150 / 30
    assert upfront.rate == 40.0  # (240 / 40 - 150 / 30) x 40
    assert life.quantity == 100.0  # (40 - 30) x 300 / 30
    assert life.rate == -40.0  # (360 / 40 - 300 / 30) x 40
    assert only(moved).reasons == ("quantity", "carbon of one unit")


def test_a_line_of_one_bill_only_is_added_or_omitted():
    moved = movement(bill(BOARDS), bill(PAINT))
    assert moved.by_reason("money") == {
        **dict.fromkeys(REASONS, 0.0),
        "added": 600.0,  # 60 x (2 + 7 + 1)
        "omitted": -3_750.0,  # 30 x 125
    }
    assert moved.by_reason("upfront")["added"] == 12.0
    assert moved.by_reason("upfront")["omitted"] == -150.0
    assert {line.id: line.reasons for line in moved.lines} == {
        BOARDS.id: ("omitted",),
        PAINT.id: ("added",),
    }


def test_a_line_whose_unit_changed_is_omitted_and_added():
    moved = movement(bill(BOARDS), bill(replace(BOARDS, unit="m", net=222.0, material=12.0)))
    money = only(moved).shifts["money"]
    assert (money.quantity, money.rate) == (0.0, 0.0)
    assert money.omitted == -3_750.0  # 30 x 125
    assert money.added == 12_654.0  # 222 x (12 + 40 + 5)
    assert only(moved).reasons == ("added", "omitted")


def test_the_ladder_effect_is_what_each_step_changed_by_and_sums_of_allowances_are_no_steps():
    old = bill(
        BOARDS,
        KITCHEN,
        ladder=(
            LadderAmount(name="Provisional sums", amount=9_000.0, of_allowances=True),
            LadderAmount(name="Overhead", amount=1_275.0),
            LadderAmount(name="Tax", amount=1_402.5),
        ),
    )
    new = bill(
        BOARDS,
        replace(KITCHEN, stated=11_000.0),
        ladder=(
            LadderAmount(name="Provisional sums", amount=11_000.0, of_allowances=True),
            LadderAmount(name="Overhead", amount=1_475.0),
            LadderAmount(name="Escalation", amount=162.25),
        ),
    )
    moved = movement(old, new)
    assert [(step.name, step.old, step.new, step.change) for step in moved.ladder] == [
        ("Overhead", 1_275.0, 1_475.0, 200.0),
        ("Escalation", None, 162.25, 162.25),
        ("Tax", 1_402.5, None, -1_402.5),
    ]
    assert moved.ladder_effect == -1_040.25  # 200 + 162.25 - 1402.50
    # old 3750 + 9000 + 1275 + 1402.50 = 15427.50, new 3750 + 11000 + 1475 + 162.25 = 16387.25
    assert moved.difference("money") == 959.75
    assert moved.by_reason("money")["stated rate"] == 2_000.0
    assert moved.by_reason("money")["ladder"] == -1_040.25
    assert sum(moved.by_reason("money").values()) == 959.75


def test_all_that_an_overridden_line_moved_by_is_put_down_to_the_override():
    over = replace(BOARDS, net=33.0, material=0.0, labour=0.0, plant=0.0, stated=110.0, overridden=True)
    moved = movement(bill(BOARDS), bill(over))
    assert only(moved).shifts["money"].quantity == 375.0  # (33 - 30) x 125
    assert only(moved).shifts["money"].rate == -495.0  # (110 - 125) x 33
    assert moved.by_reason("money") == {**dict.fromkeys(REASONS, 0.0), "override": -120.0}
    assert only(moved).reasons == ("override",)
    assert only(movement(bill(over), bill(over))).reasons == ()


def test_carbon_that_one_bill_does_not_assess_counts_as_nothing_and_is_told():
    moved = movement(bill(BOARDS, PAINT), bill(BOARDS, replace(PAINT, upfront=None)))
    assert moved.one_sided("upfront") == (PAINT.id,)
    assert moved.one_sided("life cycle") == ()
    assert moved.difference("upfront") == -12.0
    assert moved.by_reason("upfront")["carbon of one unit"] == -12.0


def test_carbon_that_nothing_assesses_is_no_nought():
    sums = movement(bill(KITCHEN), bill(KITCHEN)).sums("upfront", "fitments")
    assert (sums.old, sums.new) == (None, None)
    assert movement(bill(KITCHEN), bill(KITCHEN)).totals("upfront") == (None, None)


def test_an_item_without_quantity_has_no_carbon_of_one_unit():
    nothing = replace(BOARDS, net=0.0, upfront=0.0, life_cycle=0.0)
    gone, back = movement(bill(BOARDS), bill(nothing)), movement(bill(nothing), bill(BOARDS))
    assert only(gone).shifts["upfront"].difference == -150.0
    assert only(back).shifts["upfront"].difference == 150.0
    assert only(back).shifts["money"].quantity == 3_750.0


def test_elements_stand_in_elemental_order_whichever_bill_has_them():
    roof = replace(BOARDS, id="RF.sheet", element="roof")
    assert movement(bill(KITCHEN, BOARDS), bill(KITCHEN, roof)).elements == (
        "roof",
        "external walls",
        "fitments",
    )


def test_two_currencies_are_refused_in_a_sentence():
    with pytest.raises(
        NotComparableError, match=r"^The old bill is in AUD and the new one in NZD: money of two "
    ):
        movement(bill(BOARDS), bill(BOARDS, currency="NZD"))


def test_two_lists_of_modules_are_refused_in_a_sentence():
    with pytest.raises(
        NotComparableError,
        match=r"adds up A1-A5, B2-B4 and C1-C4, that of the new one A1-A5 and C1-C4: give both studies",
    ):
        movement(bill(BOARDS), bill(BOARDS, modules=(*LIFE_CYCLE[:4], *LIFE_CYCLE[-4:])))


# Whole houses, their workbooks changed as a designer would.


@pytest.fixture
def changed(tmp_path: Path, demo_folder: Path) -> Callable[..., Movement]:
    """Return a function that changes copies of the demo workbooks and returns what moved in the base."""

    def make(book: str, change: Callable[[Workbook], None]) -> Movement:
        for name in ("heron_bank.xlsx", "factors.xlsx"):
            shutil.copy(demo_folder / name, tmp_path / name)
        house = tmp_path / "heron_bank.xlsx"
        before = read_job(house)
        opened = openpyxl.load_workbook(tmp_path / book)
        change(opened)
        opened.save(tmp_path / book)
        after = read_job(house)
        bills = [bill_of(job, evaluate(job, job.base)) for job in (before, after)]
        return movement(*bills)

    return make


def cell_of(book: Workbook, sheet: str, row: str, column: str) -> object:
    """Return the cell of a table that begins a row with a text, below a column title."""
    cells = list(book[sheet].iter_rows())
    header = next(each for each in cells if column in [cell.value for cell in each])
    place = [cell.value for cell in header].index(column)
    return next(each[place] for each in cells if each[0].value == row)


def adds_up(moved: Movement) -> None:
    """Assert that the parts come to the difference of the totals, nothing left over."""
    for measure in MEASURES:
        total = moved.difference(measure)
        assert sum(moved.by_reason(measure).values()) == pytest.approx(total, abs=1e-9)
        by_element = sum(moved.sums(measure, element).shift.difference for element in moved.elements)
        ladder = moved.ladder_effect if measure == "money" else 0.0
        assert by_element + ladder == pytest.approx(total, abs=1e-9)


def test_where_only_prices_changed_every_quantity_movement_is_nothing(changed):
    def dearer(book: Workbook) -> None:
        cells = list(book["Prices"].iter_rows())
        header = next(each for each in cells if "Price" in [cell.value for cell in each])
        place = [cell.value for cell in header].index("Price")
        for row in cells[header[0].row :]:
            if isinstance(row[place].value, int | float):
                row[place].value *= 1.07

    moved = changed("factors.xlsx", dearer)
    assert [line.shifts[measure].quantity for measure in MEASURES for line in moved.lines] == [0.0] * (
        3 * len(moved.lines)
    )
    reasons = moved.by_reason("money")
    assert reasons["material rate"] > 0
    assert {reason for reason, amount in reasons.items() if amount} == {"material rate", "ladder"}
    assert {line.reasons for line in moved.moved} == {("material rate",)}
    assert moved.difference("upfront") == moved.difference("life cycle") == 0.0
    adds_up(moved)


def test_lines_meet_when_an_opening_is_moved_along_its_wall(changed):
    def further(book: Workbook) -> None:
        cell_of(book, "Openings", "W02", "Position").value += 0.3

    moved = changed("heron_bank.xlsx", further)
    assert all(line.old is not None and line.new is not None for line in moved.lines)
    assert moved.moved
    adds_up(moved)


def test_nothing_moves_when_a_room_is_renamed(changed):
    def renamed(book: Workbook) -> None:
        for sheet in book:
            for row in sheet.iter_rows():
                for cell in row:
                    if cell.value == "Bedroom 1":
                        cell.value = "Study"

    moved = changed("heron_bank.xlsx", renamed)
    assert moved.moved == ()
    assert [moved.difference(measure) for measure in MEASURES] == [0.0, 0.0, 0.0]
    assert any("Study" in line.new.location for line in moved.lines)


def test_a_cladding_of_another_option_is_added_and_that_of_the_base_omitted(job):
    base, timber = (evaluate(job, option, planned=False) for option in (job.base, job.option("All timber")))
    moved = movement(bill_of(job, base), bill_of(job, timber))
    added = {line.id for line in moved.lines if line.reasons == ("added",)}
    omitted = {line.id for line in moved.lines if line.reasons == ("omitted",)}
    assert "EW.CL.high.shiplap-board-durable-hardwood-135-x-20" in added
    assert "EW.CL.high.profiled-steel-wall-sheet-0.42-colour-coated" in omitted
    assert {line.id for line in moved.lines} == {
        line.quantity.id for result in (base, timber) for line in result.lines
    }
    assert moved.difference("money") == pytest.approx(timber.ladder.total_inc_tax - base.ladder.total_inc_tax)
    adds_up(moved)


def test_what_plant_moves_is_at_the_new_quantity():
    old = replace(BOARDS, plant=5.0, net=30.0)
    new = replace(BOARDS, plant=7.0, net=32.0)
    moved = movement(bill(old), bill(new))
    # 2.00 more for each of 32, and 2 more of 125 each
    sums = moved.sums("money").shift
    assert sums.rate == pytest.approx(64.0)
    assert sums.quantity == pytest.approx(250.0)


def test_an_override_taken_away_is_a_reason_too():
    moved = movement(bill(replace(BOARDS, overridden=True, net=31.0)), bill(BOARDS))
    (line,) = moved.lines
    assert set(line.reasons) == {"override"}


def test_a_bill_has_the_trade_of_its_items_and_d_is_in_no_sum(job):
    named = replace(job, study=replace(job.study, modules=(*LIFE_CYCLE, "D")))
    result = evaluate(named, named.base, planned=False)
    lines = {line.id: line for line in bill_of(named, result).lines}
    for item in result.lines:
        line = lines[item.quantity.id]
        assert (line.element, line.trade) == (item.quantity.element_name, item.quantity.trade)
        assert line.life_cycle == item.carbon.sum_of(LIFE_CYCLE)
