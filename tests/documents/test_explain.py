"""An explanation adds up, whatever the item, and the cells it names hold what it tells."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook import Workbook

from takeoff.assess.conversion import convert_quantity
from takeoff.compare.evaluate import Result, evaluate
from takeoff.documents.explain import explanation
from takeoff.documents.explain_conversion import conversion
from takeoff.documents.explain_ids import NoSuchItemError, find_id
from takeoff.documents.explain_parts import Cell, Line, Section
from takeoff.documents.explain_screen import WIDTH, explanation_text
from takeoff.documents.explain_settings import SettingsBehind, settings_behind
from takeoff.documents.schedule.bill_rows import bill_rows
from takeoff.documents.wording import MINUS, NOT_ASSESSED
from takeoff.model.bill import Override
from takeoff.model.job import Job
from takeoff.model.life_cycle import MODULES
from takeoff.model.problem import Origin
from takeoff.workbook.reading import read_job

DEMOS = ("heron_bank", "dune_studio", "wharf_pair")
BOARDS = "EW.CL.low.shiplap-board-durable-hardwood-135-x-20"
STUDS = "EW.FR.studs.softwood-framing-structural.170x45"
# units, and words that stand in a sum to say what a number is
WORDS = re.compile(
    r"kgCO₂e/\(t km\)|\d+ pieces as cut,"
    r"|\b(?:AUD|kg|km|h|m|Nr|m³|m²|m3|m2|kW|Item|years|renewals?|nothing|net|charged|required|order)"
    r"(?:/(?:m³|m²|m3|m2|m|kg|Nr|h|Item|kW))?(?![\w³²])|of [A-Z][\w ,-]*|for one unit of [\w ,-]*|of site work"
    r"|of the plan|thickness|section|width|cover|that is no joint|methane of decay|wood|each|Ddt|\[nil\]"
)


def numbers_of(text: str) -> str:
    return text.replace("\u202f", "").replace(MINUS, "-")


def first_number(text: str) -> float:
    found = re.match(r"-?[\d.]+", numbers_of(text).strip())
    assert found is not None, text
    return float(found.group())


def reckoned(text: str) -> float | None:
    """Return what the sum before the equals sign comes to, None where it is no sum of numbers alone."""
    words = WORDS.sub(" ", numbers_of(text).split(": ")[-1].split(" each, ")[-1])
    words = re.sub(r"(\d) %", r"\1 / 100", words).replace(" x ", " * ").replace("  ", " ").strip()
    return float(eval(words)) if re.fullmatch(r"[-+*/(). \d]+", words) and re.search(r"\d", words) else None


def rounding(left: str, right: str) -> float:
    """Return by how much a product may differ from what is printed for it, since its figures are rounded.

    Dimensions have three places, money two or, where it is little, four; factors have six figures.
    """
    told, place = first_number(right), 10.0 ** -len(numbers_of(right).split()[0].partition(".")[2])
    share = 0.0
    for figure in re.findall(r"\d+(?:\.\d+)?", numbers_of(left)):
        places, size = len(figure.partition(".")[2]), float(figure)
        if size:
            share += 5e-6 + (0.5 * 10.0**-places / size if places == 3 or (places == 2 and size > 5) else 0.0)
    # what is printed comes of the figures as they were before they were rounded
    return abs(told) * share / (1 - share) + place


def of(sections: tuple[Section, ...], heading: str) -> tuple[Line, ...]:
    return next(section.lines for section in sections if section.heading == heading)


def line_of(sections: tuple[Section, ...], heading: str, label: str) -> Line:
    return next(line for line in of(sections, heading) if line.label == label)


def after_equals(line: Line) -> float:
    return first_number(line.text.split(" = ")[-1])


@pytest.fixture(scope="module")
def unplanned(demo_folder: Path) -> list[tuple[Job, Result]]:
    """Return every option of the demo houses ordered by allowance, which is quick."""
    jobs = [read_job(demo_folder / f"{name}.xlsx") for name in DEMOS]
    return [(job, evaluate(job, option, planned=False)) for job in jobs for option in job.options]


@pytest.fixture(scope="module")
def explained(
    unplanned: list[tuple[Job, Result]], job: Job, base: Result
) -> list[tuple[Job, Result, dict[str, tuple[Section, ...]]]]:
    """Return every item of every option explained, without settings but for two, and the base with its plans."""
    return [(job, result, dict(everything(job, result))) for job, result in [*unplanned, (job, base)]]


def everything(job: Job, result: Result) -> Iterator[tuple[str, tuple[Section, ...]]]:
    behind, rows = SettingsBehind(result.design, {}), bill_rows(job, result)
    for line in result.lines:
        yield line.quantity.id, explanation(job, result, line.quantity.id, behind=behind, rows=rows)


@pytest.fixture(scope="module")
def books(demo_folder: Path) -> dict[str, Workbook]:
    return {p.name: openpyxl.load_workbook(p, data_only=True) for p in demo_folder.glob("*.xlsx")}


@pytest.fixture(scope="module")
def explain_base(job: Job, base: Result) -> Callable[[str], tuple[Section, ...]]:
    behind = settings_behind(job, base)
    return lambda id: explanation(job, base, id, behind=behind)


def test_the_dimension_lines_printed_sum_to_the_net_quantity(explained):
    for _, result, items in explained:
        for line in result.lines:
            lines = of(items[line.quantity.id], "Dimensions")
            end = next(place for place, each in enumerate(lines) if each.label == "net")
            squared = [first_number(each.text.split(" = ")[1]) for each in lines[:end]]
            assert len(squared) == len(line.quantity.dimensions)
            # each line is printed to the third place
            assert sum(squared) == pytest.approx(line.quantity.net, abs=0.0006 * (len(squared) + 1))
            assert after_equals(lines[end]) == pytest.approx(line.quantity.net, abs=0.0006)


def test_the_parts_of_the_rate_printed_sum_to_the_rate(explained):
    parts = ("supply", "sundries", "labour", "plant", "stated")
    for _, result, items in explained:
        for line in result.lines:
            lines = of(items[line.quantity.id], "Rate build-up")
            printed = [
                after_equals(each)
                for each in lines
                if each.label in parts and not each.text.startswith("none")
            ]
            if any(each.label == "stated" for each in lines):
                (printed,) = ([first_number(each.text)] for each in lines if each.label == "stated")
            rate = first_number(next(each.text for each in lines if each.label == "rate"))
            assert sum(printed) == pytest.approx(rate, abs=0.03), line.quantity.id
            assert rate == pytest.approx(line.rate.total, abs=0.006)
            cost = next(each for each in lines if each.label == "cost")
            assert after_equals(cost) == pytest.approx(line.cost, abs=0.006)
            adds = next(each for each in lines if each.label == "adds to the total")
            slope = result.slopes.of(line.sum_kind)
            assert after_equals(adds) == pytest.approx(line.cost * slope, abs=0.006)


def test_the_modules_printed_are_those_of_the_item(explained):
    for _, result, items in explained:
        for line in result.lines:
            sections = items[line.quantity.id]
            for module in MODULES:
                shown = line_of(sections, "Carbon by module", module)
                amount = line.carbon.of(module)
                if amount is None:
                    assert shown.text.startswith(f"{NOT_ASSESSED}: "), (line.quantity.id, module)
                else:
                    assert after_equals(shown) == pytest.approx(amount, abs=0.0006)


def test_every_sum_printed_comes_out_as_printed(explained):
    """Each is reckoned again from the figures before its equals sign, which are rounded."""
    sums = 0
    for _, _, items in explained:
        for id, sections in items.items():
            for section in sections[1:]:
                for line in section.lines:
                    for part in line.text.split("; "):
                        if " = " not in part or part.startswith("side calculation"):
                            continue
                        left, right = part.split(" = ")[-2:]
                        came = reckoned(left)
                        if came is None:
                            assert line.label in ("net", "one renewal", "by allowance"), (id, part)
                            continue
                        if line.text.startswith("Ddt") and line.text.startswith(part):
                            came = -came
                        if part.startswith("[nil]"):
                            came = 0.0
                        told = first_number(right)
                        assert came == pytest.approx(told, abs=rounding(left, right)), (id, part)
                        sums += 1
    assert sums > 50_000


def test_every_cell_named_exists_and_holds_what_is_told(explained, books, job, base, unplanned):
    cells: set[Cell] = set()
    for _, _, items in explained:
        cells |= {c for sections in items.values() for s in sections for line in s.lines for c in line.cells}
    for own, result in [(job, base), unplanned[5], unplanned[7], unplanned[-1]]:
        behind = settings_behind(own, result)
        cells |= {cell for id in behind.by_id for cell in behind.cells_of(id)}
    assert len(cells) > 2_000
    for cell in cells:
        book, rest = cell.place.split(" ", 1)
        sheet, place = rest.split("!")
        held = books[book][sheet][place].value
        assert held is not None, cell
        if isinstance(cell.value, str):
            assert cell.value in ("", held), cell
        elif isinstance(held, str):
            assert float(held.split()[0]) == pytest.approx(cell.value), cell
        else:
            assert same_but_for_the_unit(held, cell.value), (cell, held)


def same_but_for_the_unit(held: float, told: float) -> bool:
    """Whether two numbers are the same but for the unit: mm and m, % and shares, g and kg differ by powers of ten."""
    if not held or not told:
        return held == told
    return any(held / told == pytest.approx(10.0**power, rel=1e-9) for power in range(-3, 10))


def test_the_price_cell_holds_the_price_of_the_explanation(explain_base, books):
    price = line_of(explain_base(BOARDS), "Rate build-up", "price")
    (cell,) = price.cells
    assert cell.place == "factors.xlsx Prices!B43"
    assert first_number(price.text) == books["factors.xlsx"]["Prices"]["B43"].value == 112


def test_conversions_are_those_the_rates_are_made_with(unplanned):
    """The way told is the way taken: every price and factor of every item."""
    told = 0
    for job, result in unplanned:
        for line in result.lines:
            quantity = line.quantity
            material = job.library.materials.get(quantity.material)
            price, factor = (
                table.get(quantity.material) for table in (job.library.prices, job.library.carbon)
            )
            targets = {
                *(() if price is None else (price.price.per,)),
                *(() if factor is None else (factor.a1a3.per,)),
            }
            for target in targets:
                assert material is not None
                found = conversion(quantity, material, target, None)
                assert found is not None
                assert found.factor == pytest.approx(convert_quantity(quantity, material, target), rel=1e-12)
                told += 1
    assert told > 3_000


def test_a_dimension_names_the_settings_that_move_it_and_no_other(explain_base):
    settings = line_of(explain_base(BOARDS), "Dimensions", "settings")
    assert [(cell.place, cell.what) for cell in settings.cells] == [
        ("heron_bank.xlsx House!B5", "length 12.000 m"),
        ("heron_bank.xlsx House!B7", "low height 2.700 m"),
        ("heron_bank.xlsx House!B28", "cladding drop 0.150 m"),
    ]
    roof = line_of(explain_base("RF.slope.profiled"), "Dimensions", "settings")
    assert [cell.what for cell in roof.cells] == [
        "length 12.000 m",
        "span 7.200 m",
        "pitch 5 deg",
        "overhang low 0.600 m",
        "overhang high 0.600 m",
        "overhang left 0.450 m",
        "overhang right 0.450 m",
    ]


def test_a_setting_that_an_option_changes_is_told_with_the_cell_of_the_options(unplanned):
    job, result = next(each for each in unplanned if each[1].option.name == "Pitch 3 deg")
    settings = line_of(explanation(job, result, "EW.OUT.wall-wrap"), "Dimensions", "settings")
    assert ("heron_bank.xlsx Options!J6", "pitch 3 deg") in [(c.place, c.what) for c in settings.cells]


def test_a_stud_spacing_that_the_practice_decides_is_told_with_its_row(job):
    house = replace(job.design.house, stud_spacing=None)
    own = replace(job, design=replace(job.design, house=house))
    result = evaluate(own, own.base, planned=False)
    settings = line_of(explanation(own, result, STUDS), "Dimensions", "settings")
    assert ("heron_bank.xlsx Framing!B6", "stud spacing of Usual 0.450 m") in [
        (cell.place, cell.what) for cell in settings.cells
    ]


def test_deductions_stand_in_brackets_and_a_small_void_is_nil(explain_base):
    lines = {line.label: line for line in of(explain_base(BOARDS), "Dimensions")}
    assert lines["low side"].text == "1 x 12.000 x 2.850 = 34.200"
    assert lines["ddt opening W06"].text == f"Ddt (1 x 1.800 x 0.900) = {MINUS}1.620"
    nil = lines["ddt opening W08, 0.36 m2, not over 0.50, within the face"]
    assert nil.text == "[nil] (1 x 0.600 x 0.600) = 0.000"
    assert [cell.place for cell in nil.cells] == [
        "heron_bank.xlsx Openings!D16",
        "heron_bank.xlsx Openings!E16",
    ]


def test_a_side_calculation_stands_beside_its_dimension(explain_base):
    lines = {line.label: line for line in of(explain_base("EW.OUT.wall-wrap-vapour-open"), "Dimensions")}
    assert lines["high wall"].text == (
        "1 x 12.000 x 3.330 = 39.959; side calculation 2.700 + 7.200 tan 5 = 3.330"
    )


def test_sticks_are_told_as_set_out_by_the_framing_practice(explain_base):
    line = line_of(explain_base(STUDS), "Dimensions", "sticks")
    assert line.text == (
        "every length is that of sticks set out one by one by the framing practice 'Usual': studs at 0.450 m; "
        "top plates 2, bottom plates 1; extra studs at each corner 2; extra studs at each partition junction 2; "
        "jamb studs: from table; jack studs over lintels; lintels in non-loadbearing walls"
    )
    assert [cell.place for cell in line.cells] == [
        "heron_bank.xlsx House!B21",
        "heron_bank.xlsx Framing!A6",
        "heron_bank.xlsx Framing!Q6",
    ]
    assert line_of(explain_base("IW.wet-wall-90.glass"), "Dimensions", "sticks").text.startswith(
        "part of these"
    )


def test_rooms_and_doors_are_told_by_their_rows(explain_base):
    rooms = line_of(explain_base("FF.carpet.carpet-nylon-500-g-pile"), "Dimensions", "rooms")
    assert rooms.text == "Bedroom 1 and Bedroom 2"
    assert {cell.value for cell in rooms.cells} == {"Bedroom 1", "Bedroom 2"}
    door = of(explain_base("ID.perimeter.door-jamb-softwood-115-x-32"), "Dimensions")[0]
    assert (door.label, door.cells[0].what) == ("opening D11, jambs", "D11 width 1.500 m")


def test_the_order_tells_plan_share_and_stock(explain_base):
    order = {line.label: line for line in of(explain_base(BOARDS), "Order")}
    assert order["buys"].text == "445.5 m of 1.8 to 4.8 m"
    assert [cell.place for cell in order["buys"].cells] == ["factors.xlsx Stock!A24"]
    assert order["by allowance"].text == "32.440 x 1.1 = 35.685 m², for comparison"


def test_the_place_in_the_schedule_is_told(explain_base):
    where = of(explain_base(STUDS), "Where to see it")
    assert where[0].text == "item 31 of 178 in the sheets Schedule, Dimensions, Rates and Carbon"


def overridden(job: Job, figure: str, value: float, unit: str) -> Job:
    origin = Origin("heron_bank.xlsx", "Overrides", 6, (("id", "A"), ("value", "C")))
    override = Override(
        id=BOARDS,
        figure=figure,  # type: ignore[arg-type]
        value=value,
        unit=unit,
        reason="measured on site",
        who="A. Rush (invented)",
        date="2026-09-02",
        origin=origin,
    )
    return replace(job, overrides=(override,))


def test_an_override_is_told_with_what_it_stands_in_the_place_of(job):
    changed = overridden(job, "quantity", 31.0, "m2")
    sections = explanation(changed, evaluate(changed, changed.base), BOARDS)
    (line,) = of(sections, "Overrides")
    assert line.text == (
        "31.000 m² in place of 29.898 m², in every option: measured on site; A. Rush (invented), 2026-09-02"
    )
    assert line.cells[0].place == "heron_bank.xlsx Overrides!C6"
    net, note = (each for each in of(sections, "Dimensions") if each.label in ("net", ""))
    assert net.text == "sum of the lines = 29.898 m²"
    assert note.text == "overridden: 31.000 m² counts instead, see Overrides"
    # required goes with it: 29.898 x 1.08504 = 32.440, so 31.000 x 1.08504 = 33.636
    assert after_equals(line_of(sections, "Required", "required")) == 33.636


@pytest.mark.parametrize(("figure", "value", "unit"), [("rate", 150.0, "m2"), ("wastage", 0.2, "")])
def test_an_overridden_rate_or_wastage_still_adds_up(job, figure, value, unit):
    changed = overridden(job, figure, value, unit)
    result = evaluate(changed, changed.base)
    sections = explanation(changed, result, BOARDS)
    line = next(each for each in result.lines if each.quantity.id == BOARDS)
    rate = line_of(sections, "Rate build-up", "rate")
    assert first_number(rate.text) == pytest.approx(line.rate.total, abs=0.006)
    if figure == "rate":
        assert line_of(sections, "Rate build-up", "stated").text == "150.00 AUD/m²"
        assert first_number(rate.text) == 150.0
    else:
        # 32.440 x 1.2 = 38.928
        assert first_number(line_of(sections, "Order", "charged").text) == pytest.approx(38.928, abs=0.002)
        share = line_of(sections, "Order", "share")
        assert share.text == "not by the plan, since its wastage is overridden"


def test_an_item_is_found_by_its_id_or_the_beginning_of_it_capitals_or_not():
    ids = ["SB.insulation-board-eps", "SB.insulation-board-eps.2", "RF.verges"]
    assert find_id(ids, "sb.INSULATION-board-eps", "As drawn") == "SB.insulation-board-eps"
    assert find_id(ids, "rf", "As drawn") == "RF.verges"


def test_a_beginning_of_several_ids_lists_them():
    ids = [f"EW.{number:02}" for number in range(1, 15)]
    with pytest.raises(NoSuchItemError) as error:
        find_id(ids, "ew", "As drawn")
    shown = [f"EW.{number:02}" for number in range(1, 13)]
    assert str(error.value).split("\n  ") == [
        "14 items of 'As drawn' begin with 'ew':",
        *shown,
        "and 2 more",
    ]


def test_an_unknown_id_names_the_nearest():
    with pytest.raises(NoSuchItemError) as error:
        find_id(["RF.verges", "RF.slope"], "RF.vergse", "As drawn")
    assert str(error.value) == "There is no item 'RF.vergse' in 'As drawn'. Nearest:\n  RF.verges"
    with pytest.raises(NoSuchItemError) as error:
        find_id(["RF.verges"], "", "As drawn")
    assert str(error.value) == "There is no item '' in 'As drawn'. takeoff measure lists the ids."


def test_the_text_keeps_to_eighty_columns_and_has_no_escape_codes(explained):
    for _, _, items in explained[:1]:
        for id, sections in items.items():
            text = explanation_text(sections, title=id)
            assert "\x1b" not in text
            longest = max(text.splitlines(), key=len)
            assert len(longest) <= WIDTH or len(longest.split()[-1]) > WIDTH - 40, longest
