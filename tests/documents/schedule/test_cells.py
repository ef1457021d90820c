"""Single cells of the schedule that no total would miss."""

from __future__ import annotations

from dataclasses import replace

import pytest
from openpyxl.utils import column_index_from_string

from takeoff.compare.evaluate import evaluate
from takeoff.documents.schedule import schedule_workbook
from takeoff.documents.schedule.bill_rows import bill_rows
from takeoff.documents.schedule.controls import cladding_tag, controls_of
from takeoff.model.bill import Information
from takeoff.model.library import TRADES
from takeoff.model.life_cycle import LIFE_CYCLE
from takeoff.workbook.cell_styles import INPUT_FILL
from takeoff.workbook.reading import read_job

UNDERLAY = "RF.slope.roof-underlay-vapour-open"
STUDS = "EW.FR.studs.softwood-framing-structural.170x45"


@pytest.fixture
def stored(opened):
    return lambda data: opened(data, stored=True)


@pytest.fixture(scope="session")
def plain(demo_folder):
    """Return the studio as its workbook has it."""
    return read_job(demo_folder / "dune_studio.xlsx")


@pytest.fixture
def cell(opened, columns, row_of):
    """Return what stands in a column of the row of an item."""

    def found(data, sheet, id, title, header=4, *, stored=True):
        letters = columns(data, sheet, header=header)
        row = row_of(data, sheet, letters["Id"], id)
        return opened(data, stored=stored)[sheet][f"{letters[title]}{row}"]

    return found


def changed(job, **changes):
    return replace(job, library=replace(job.library, **changes))


def schedule_of(job, planned=False):
    result = evaluate(job, job.base, planned=planned)
    return result, schedule_workbook(job, result)


def test_an_override_is_told_beside_its_item(studio_schedule, cell, studio):
    sheet = "RF.slope.profiled-steel-roof-sheet-0.42-colour-coated"
    assert cell(studio_schedule, "Schedule", sheet, "Description").value.endswith(
        ". Quantity overridden: as counted"
    )
    assert cell(studio_schedule, "Schedule", sheet, "Measured by").value == "hand"
    assert cell(studio_schedule, "Schedule", "ED.d01", "Measured by").value == "model"
    was = {a.override.id: a.was for line in studio[1].lines for a in line.overrides}
    for id, before in was.items():
        assert cell(studio_schedule, "Overrides", id, "Instead of").value == pytest.approx(before)
    # the rate sheet keeps the wastage from before beside the one that counts
    wrap = "EW.OUT.wall-wrap-vapour-open"
    assert cell(studio_schedule, "Rates", wrap, "Wastage").value == pytest.approx(was[wrap])
    assert cell(studio_schedule, "Rates", wrap, "Wastage used").value == pytest.approx(0.2)


def test_status_goes_by_the_kind_of_item(studio_schedule, cell):
    for id, status, by in (
        (STUDS, "firm", "model"),
        ("SV.electrical-installation", "provisional", "hand"),
        ("FT.bench-and-shelves", "allowance", "hand"),
    ):
        assert cell(studio_schedule, "Schedule", id, "Status").value == status, id
        assert cell(studio_schedule, "Schedule", id, "Measured by").value == by, id


def test_drawings_go_by_the_elements_they_inform(plain):
    drawings = (
        Information(reference="A1", title="Plan", revision="B", date="", author=""),
        Information(reference="A2", title="Roof", revision="", date="", author="", elements=("roof",)),
    )
    job = replace(plain, information=drawings)
    rows = {row.id: row for row in bill_rows(job, evaluate(job, job.base, planned=False))}
    assert rows[UNDERLAY].drawings == "A1 rev B; A2"
    assert rows[STUDS].drawings == "A1 rev B"


def test_codes_sort_within_a_section_whichever_comes_first(plain):
    profile = {**plain.library.measurement}
    profile["insulation"] = replace(profile["insulation"], sort_code="1")
    profile = {
        name: rule if name == "insulation" else replace(rule, sort_code="") for name, rule in profile.items()
    }
    for order, first in (("element", "SB.between-joists.glass-wool-batts"), ("trade", None)):
        job = changed(plain, measurement=profile)
        job = replace(job, project=replace(job.project, bill_order=order))
        rows = bill_rows(job, evaluate(job, job.base, planned=False))
        if first:
            assert rows[0].id == first
        trades = [TRADES.index(row.trade) for row in rows]
        assert (trades == sorted(trades)) == (order == "trade")
        group = [
            row for row in rows if row.trade == "insulation and membranes" and row.element == "external walls"
        ]
        assert group[0].rule is not None
        assert group[0].rule.item_class == "insulation"


def test_what_cannot_be_converted_stays_as_measured(plain, cell):
    profile = {name: replace(rule, unit="m3") for name, rule in plain.library.measurement.items()}
    _, data = schedule_of(changed(plain, measurement=profile))
    assert cell(data, "Schedule", "WN.each-opening.window-fixing-set", "Unit").value == "Nr"
    assert cell(data, "Schedule", "WN.each-opening.window-fixing-set", "Billed by net").value == 1
    assert cell(data, "Schedule", STUDS, "Unit").value == "m3"
    assert cell(data, "Schedule", STUDS, "Unit of net").value == "m"
    assert cell(data, "Schedule", STUDS, "Billed by net").value == pytest.approx(0.17 * 0.045)


def test_tonnes_are_a_thousand_kg(plain, cell):
    profile = {name: replace(rule, unit="t") for name, rule in plain.library.measurement.items()}
    _, data = schedule_of(changed(plain, measurement=profile))
    density = plain.library.materials["Softwood framing, structural"].density
    assert cell(data, "Schedule", STUDS, "Billed by net").value == pytest.approx(
        0.17 * 0.045 * density / 1000
    )


def test_a_price_that_allows_for_wastage_is_paid_on_what_is_required(plain, cell, engine_of, columns, row_of):
    price = next(p for name, p in plain.library.prices.items() if name.lower().startswith("roof underlay"))
    job = changed(
        plain,
        prices={**plain.library.prices, price.material: replace(price, wastage_in_price=True)},
        stock={name: rows for name, rows in plain.library.stock.items() if name != price.material},
    )
    result, data = schedule_of(job)
    line = next(line for line in result.lines if line.quantity.id == UNDERLAY)
    supply = price.price.value * line.quantity.required / line.quantity.net
    assert line.ordered.charged > line.quantity.required
    assert cell(data, "Rates", UNDERLAY, "Supply").value == pytest.approx(supply)
    assert cell(data, "Rates", UNDERLAY, "Wastage paid besides").value == 0
    letters = columns(data, "Rates")
    row = row_of(data, "Rates", letters["Id"], UNDERLAY)
    engine = engine_of(data)
    assert engine.values()("Rates", f"{letters['Supply']}{row}") == pytest.approx(supply)
    after = engine.values({("Rates", f"{letters['Wastage']}{row}"): 0.5})
    assert after("Rates", f"{letters['Supply']}{row}") == pytest.approx(supply)


def test_d_is_never_counted_even_where_the_study_names_it(plain, opened, columns):
    job = replace(plain, study=replace(plain.study, modules=(*LIFE_CYCLE, "D")))
    _, data = schedule_of(job)
    letters = columns(data, "Carbon", header=5)
    sheet = opened(data)["Carbon"]
    assert sheet[f"{letters['D']}4"].value == 0
    assert sheet[f"{letters['C4']}4"].value == 1


def test_what_is_built_in_is_what_is_charged_where_that_is_less(plain, cell):
    result = evaluate(plain, plain.base, planned=False)
    first = next(line for line in result.lines if line.quantity.id == UNDERLAY)
    less = replace(first, ordered=replace(first.ordered, charged=0.9 * first.quantity.required))
    lines = tuple(less if line is first else line for line in result.lines)
    data = schedule_workbook(plain, replace(result, lines=lines))
    formula = cell(data, "Carbon", UNDERLAY, "Built in", header=5, stored=False).value
    assert formula.startswith("=MIN(")
    assert cell(data, "Carbon", UNDERLAY, "Built in", header=5).value == pytest.approx(
        0.9 * first.quantity.required
    )


def test_totals_for_one_m2_are_on_both_areas(studio, studio_schedule, stored):
    sheet, result = stored(studio_schedule)["Summary"], studio[1]
    rows = {row[0].value: row for row in sheet.iter_rows() if row[0].value}
    for name, area in (
        ("Floor inside the external walls", result.measured.areas.inside),
        ("Floor to the outside of the frame", result.measured.areas.outside),
    ):
        assert rows[name][2].value == pytest.approx(area)
        assert rows[name][5].value == pytest.approx(result.ladder.total_inc_tax / area)
    assert rows["Whole house"][4].value == pytest.approx(result.ladder.total_ex_tax)
    assert rows["Whole house"][5].value == pytest.approx(result.ladder.total_inc_tax)
    assert rows["Total including tax"][6].value == pytest.approx(result.ladder.total_inc_tax)


def test_markup_and_margin_stand_beside_each_other(studio_schedule, stored):
    sheet = stored(studio_schedule)["Summary"]
    rows = {row[0].value: row for row in sheet.iter_rows(min_row=5, max_row=16) if row[0].value}
    # 20 % markup is a margin of 16.7 %; 20 % margin is a markup of 25 %
    assert rows["Overhead"][5].value == pytest.approx(0.20)
    assert rows["Overhead"][9].value == pytest.approx(0.20 / 1.20)
    assert rows["Profit"][5].value == pytest.approx(0.25)
    assert rows["Profit"][9].value == pytest.approx(0.20)
    for row in rows.values():
        if row[10].value is not None:
            assert row[10].value == pytest.approx(row[7].value)


def test_markup_and_margin_of_four_hundred_thousand(small_engine, small_schedule, named, row_of):
    # 20 % markup on 400,000 is 480,000, 20 % margin 500,000
    row = row_of(small_schedule, "Summary", "A", "Overhead")
    above = ("Summary", f"H{row - 1}")
    after = small_engine.values({above: 400_000.0})
    assert after("Summary", f"H{row}") == pytest.approx(480_000)
    row = row_of(small_schedule, "Summary", "A", "Profit")
    after = small_engine.values({("Summary", f"H{row - 1}"): 400_000.0})
    assert after("Summary", f"H{row}") == pytest.approx(500_000)


def test_the_number_of_a_side_calculation_moves_its_squaring(
    small_engine, small_schedule, columns, row_of, opened
):
    sheet = opened(small_schedule)["Dimensions"]
    row = next(row for row in sheet.iter_rows(min_row=5) if "tan" in str(row[11].value))
    number, pitch = row[12], row[15]
    before = small_engine.values()("Dimensions", row[7].coordinate)
    after = small_engine.values({("Dimensions", number.coordinate): number.value + 0.1})
    assert pitch.value == pytest.approx(5.0, abs=10)
    # 0.1 m more in height over the width of the face
    assert after("Dimensions", row[7].coordinate) - before == pytest.approx(0.1 * row[3].value)


def test_a_row_at_the_end_of_the_paper_counts(engine_of, small_schedule, with_row, opened, named, small):
    sheet = opened(small_schedule)["Dimensions"]
    last = max(row[0].row for row in sheet.iter_rows(min_row=5) if row[2].value is not None)
    item = sheet[f"A{last}"].value
    # above the thin row that ends the last item of the paper
    data = with_row(
        small_schedule, "Dimensions", last + 1, {"A": item, "C": 1, "D": 2.0, "G": "add"}, like=last
    )
    after = engine_of(data).values()
    results = [after("Checks", f"G{row}") for row in range(5, 27)]
    line = next(row.line for row in bill_rows(*small) if row.number == item)
    assert after("Dimensions", f"I{last + 3}") == pytest.approx(line.quantity.net + 2.0)
    assert results.count("not satisfied") == 0


def test_a_row_right_below_the_heading_of_a_section_is_in_its_total(
    engine_of, small_schedule, with_row, columns, row_of
):
    letters = columns(small_schedule, "Schedule")
    heading = row_of(small_schedule, "Schedule", letters["Description"], "Roof")
    typed = {
        letters["Item"]: 9001,
        letters["Net"]: 1.0,
        letters["Rate of net"]: 100.0,
        letters["Element"]: "roof",
        letters["Trade"]: "roofing",
        letters["Kind"]: "measured",
    }
    data = with_row(small_schedule, "Schedule", heading + 1, typed, like=heading + 1)
    total = row_of(data, "Schedule", letters["Description"], "Roof, total")
    after = engine_of(data).values()
    lines = range(heading + 1, total - 1)
    amounts = [after("Schedule", f"{letters['Amount']}{row}") for row in lines]
    assert amounts[0] == pytest.approx(100.0)
    assert after("Schedule", f"{letters['Section']}{total}") == pytest.approx(sum(amounts))


def test_the_rate_of_an_allowance_overridden_in_the_schedule(small_engine, small_schedule, columns, row_of):
    letters = columns(small_schedule, "Overrides")
    row = row_of(small_schedule, "Overrides", letters["Id"], "ED.d01") + 1
    typed = {
        ("Overrides", f"{letters['Id']}{row}"): "SV.stove-and-flue",
        ("Overrides", f"{letters['Figure']}{row}"): "rate",
        ("Overrides", f"{letters['Value']}{row}"): 777.0,
    }
    rates = columns(small_schedule, "Rates")
    cell = f"{rates['Composite rate']}{row_of(small_schedule, 'Rates', rates['Id'], 'SV.stove-and-flue')}"
    assert small_engine.values(typed)("Rates", cell) == pytest.approx(777.0)


def test_a_difference_of_a_millionth_breaks_a_control(small_engine, small_schedule, columns, row_of):
    letters = columns(small_schedule, "Schedule")
    cell = ("Schedule", f"{letters['Amount']}{row_of(small_schedule, 'Schedule', letters['Id'], STUDS)}")
    amount = small_engine.values()(*cell)
    row = row_of(small_schedule, "Checks", "B", "Net quantities x rates = amounts")
    assert small_engine.values({cell: amount + 1.0})("Checks", f"G{row}") == "not satisfied"
    assert small_engine.values({cell: amount + 0.01})("Checks", f"G{row}") == "not satisfied"


def test_outermost_layers_and_units_are_tagged(plain):
    result = evaluate(plain, plain.base, planned=False)
    tags = controls_of(bill_rows(plain, result), result, plain.library)
    # oil is outside the boards, but measured for each of its coats; of paint and boards likewise
    assert tags["EW.CL.low.shiplap-board-durable-hardwood-135-x-20"] == cladding_tag("low")
    assert "EW.CL.low.timber-oil-exterior" not in tags
    assert tags["WN.w04"] == "unit"
    assert "WN.w04.shutter" not in tags


def test_overhangs_of_four_widths_satisfy_the_roof_in_plan(plain, stored):
    house = replace(
        plain.design.house, overhang_left=0.2, overhang_right=0.5, overhang_low=0.4, overhang_high=0.7
    )
    job = replace(plain, design=replace(plain.design, house=house))
    result, data = schedule_of(job)
    sheet = stored(data)["Checks"]
    results = [row[6].value for row in sheet.iter_rows(min_row=5, max_row=26)]
    assert results == ["satisfied"] * 22
    values = {row[1].value: row[3].value for row in sheet.iter_rows(min_row=27)}
    assert (values["overhang, left"], values["overhang, right"]) == (0.2, 0.5)
    jambs = {row[1].value.split(",")[0]: row[9].value for row in sheet.iter_rows(min_row=29) if row[9].value}
    framed = {
        f.opening.mark: 2 * f.jamb_studs for frame in result.measured.wall_frames for f in frame.openings
    }
    assert {mark: value for mark, value in jambs.items() if mark in framed} == framed


def test_the_page_is_set_up_as_the_sheet_is_laid_out(studio_schedule, opened):
    book = opened(studio_schedule)
    bill = book["Schedule"]
    assert bill.print_title_rows == "$4:$4"
    assert bill.freeze_panes == "D5"
    assert bill.auto_filter.ref.startswith("A4:")
    last = bill.print_area.split(":")[1].replace("$", "")
    letter = "".join(sign for sign in last if sign.isalpha())
    assert bill.cell(4, column_index_from_string(letter)).value == "Stated whole"
    ends = {"Dimensions": "Result", "Carbon": "Life cycle"}
    for title, end in ends.items():
        area = book[title].print_area.split(":")[1].replace("$", "")
        letter = "".join(sign for sign in area if sign.isalpha())
        header = 5 if title == "Carbon" else 4
        assert book[title].cell(header, column_index_from_string(letter)).value == end


def test_computed_cells_are_white_and_typed_ones_tinted(studio_schedule, opened):
    tint = f"FF{INPUT_FILL.removeprefix('#')}"
    sheet = opened(studio_schedule)["Dimensions"]
    for row in sheet.iter_rows(min_row=5, max_row=300):
        for cell in row[3:5]:
            if row[2].value is not None:
                is_formula = isinstance(cell.value, str) and cell.value.startswith("=")
                assert (cell.fill.fgColor.rgb == tint) != is_formula, cell.coordinate


def test_what_is_not_measured_is_told(plain, opened):
    prices = {name: price for name, price in plain.library.prices.items() if "underlay" not in name.lower()}
    stock = {name: rows for name, rows in plain.library.stock.items() if "underlay" not in name.lower()}
    _, data = schedule_of(changed(plain, prices=prices, stock=stock))
    told = {row[1].value: row[2].value for row in opened(data)["To take"].iter_rows(min_row=5)}
    assert told["Price of Roof underlay, vapour-open"] == "roof"
    assert told["Internal walls"] == "internal walls"
    assert set(plain.project.exclusions) <= set(told)


def test_about_names_what_it_is_of(plain, opened):
    drawing = Information(reference="A1", title="Plan", revision="B", date="2026-08-01", author="A. Rush")
    prices = dict(plain.library.prices)
    first = next(iter(prices))
    prices[first] = replace(prices[first], date="2025-01-31")
    job = replace(changed(plain, prices=prices), information=(drawing,))
    result, data = schedule_of(job)
    book = opened(data)
    rows = {row[0].value: row for row in book["About"].iter_rows() if row[0].value}
    assert rows["Price base"][1].value == "2025-01-31 to 2026-09-01"
    assert rows["Floor inside"][1].value == f"{result.measured.areas.inside:.2f} m2"
    assert rows["Floor outside"][1].value == f"{result.measured.areas.outside:.2f} m2"
    assert rows["Accuracy"][1].value == "\u221215 % / +20 %"
    assert rows["A1"][2].value == "B; 2026-08-01; A. Rush; all"
    assert book.properties.creator == plain.project.author


def test_a_text_longer_than_a_cell_holds_is_cut(plain, opened):
    long = "x" * 40_000
    job = replace(plain, project=replace(plain.project, exclusions=(long,)))
    _, data = schedule_of(job)
    kept = [row[2].value for row in opened(data)["About"].iter_rows() if row[0].value == "Excluded"]
    assert kept == ["x" * 32_767]
