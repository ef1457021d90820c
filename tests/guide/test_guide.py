"""The guide is current: commands, sheets and columns it names exist, and its figures are those of the demo."""

from __future__ import annotations

import csv
import io
import re
import shutil
from collections.abc import Callable, Iterator
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from typing import Any, get_args

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from typer.main import get_command
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.compare.cautions import GENERAL
from takeoff.compare.evaluate import evaluate
from takeoff.compare.figures import FIGURES, differences, figures_of
from takeoff.compare.savings import savings
from takeoff.compare.uncertainty import draw
from takeoff.cutting.order_plan import Basis
from takeoff.documents.charts import GROUPS
from takeoff.documents.cutting_list_csv import COLUMNS as CUTTING_COLUMNS
from takeoff.documents.order_list_csv import COLUMNS as ORDER_COLUMNS
from takeoff.documents.quantities_csv import COLUMNS
from takeoff.documents.results_json import results_data
from takeoff.documents.schedule.bill_csv import COLUMNS as BILL_COLUMNS
from takeoff.framing.member import MARKS
from takeoff.guide import page_names, page_text
from takeoff.model.allowance import BASES, SUM_KINDS
from takeoff.model.fabric import FABRIC_ELEMENTS
from takeoff.workbook.factors_sheets import FACTORS_WORKBOOK
from takeoff.workbook.house_sheets import HOUSE_WORKBOOK
from takeoff.workbook.reading import read_job
from takeoff.workbook.reference import reference_markdown

TOP = Path(__file__).resolve().parents[2]
COMMANDS = set(get_command(app).commands)
Table = list[list[str]]
PAGES = (
    "start",
    "workbooks",
    "measuring",
    "framing",
    "rooms",
    "ordering",
    "cost",
    "carbon",
    "life",
    "ranges",
    "fabric",
    "members",
    "options",
    "documents",
    "schedule",
    "client",
    "movement",
    "explain",
    "results",
)
# a sheet is named with a capital; these are the only ones of several words
SHEET = r"([A-Z][a-z]+(?:-[a-z]+)?(?: (?:factors|ladder|walls|lives|of life|resistances|grades|cases)\b)?)"


def commands_in(text: str) -> set[str]:
    """Return what stands after the command's name, in code or at the start of a line."""
    return set(re.findall(r"(?:`|/|\\|^ {4})takeoff ([a-z]+)", text, re.MULTILINE))


def test_the_reference_page_is_made_from_the_declarations():
    assert page_text("reference") == reference_markdown()


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_documents_at_the_top_name_real_commands(document):
    named = commands_in((TOP / document).read_text(encoding="utf-8"))
    assert named
    assert named <= COMMANDS


def test_the_guide_names_every_command_and_no_other():
    assert commands_in("\n".join(page_text(name) for name in page_names())) == COMMANDS


def test_every_page_is_listed_in_reading_order_and_has_a_title():
    assert tuple(page_names()) == (*PAGES, "reference")
    for name, title in page_names().items():
        assert title, name
        assert page_text(name) == f"# {title}\n" + page_text(name).split("\n", 1)[1]


def test_pages_that_a_page_names_exist():
    named = {name for page in PAGES for name in re.findall(r"[Tt]he page\s+`([a-z]+)`", page_text(page))}
    assert named
    assert named <= set(page_names())


def test_results_has_the_columns_of_every_list_as_they_are_described(tables):
    """The same words stand in the declarations, so that page and files can't part."""
    shown = [t[1:] for t in tables(page_text("results")) if t[0] == ["column", "what"]]
    lists = (COLUMNS, ORDER_COLUMNS, CUTTING_COLUMNS, BILL_COLUMNS)
    assert shown == [[[f"`{name}`", words] for name, words in columns.items()] for columns in lists]


def test_results_names_every_figure_with_its_unit():
    page = page_text("results")
    for figure in FIGURES:
        assert f"| `{figure.key}` | {figure.label} | {figure.unit} |" in page


def test_results_names_every_key_of_results_json_and_no_other(job, base, saving):
    """Of everything nested but rooms and internal walls, whose keys say what they are."""
    data = results_data(job, [base, saving], draw(job, [base, saving]))
    option = data["options"][0]
    nested = ("areas", "lengths", "volumes", "framing", "cost_range", "coverage", "covers")
    keys = {*data, *option, *(key for name in nested for key in option[name])}
    keys |= {*option["cost_ladder"][0], *option["cautions"][0], *option["allowances"][0]}
    steps = savings(job, [base, saving], draw(job, [base, saving])).steps
    assert steps
    keys |= {*data["savings"], *data["savings"]["steps"][0], "option", "reason"}
    keys |= {"setting", "value", "totals", *option["by_allowance"], *option["orders"][0]}
    for name in ("bought", "offcuts"):
        keys |= {key for order in option["orders"] for each in order[name] for key in each}
    keys |= {"id", "mark", "length_m", "longest_m"}
    keys |= {f.key for f in FIGURES}
    keys |= {key for name in ("by_element", "by_trade") for each in option[name].values() for key in each}
    keys |= {*data["fabric_settings"], *keys_of_the_fabric(option["fabric"])}
    keys |= keys_of_the_members(option["members"])
    # of steel that is not wanted, which this house has none of
    keys |= {"steel", "timber", "timber_section"}
    # of overrides, which this house has none of
    keys |= {"id", "figure", "unit", "was", "value", "reason", "who", "date", "effect_on_cost"}
    # of an option that falls short, which these two do not
    keys |= {
        "of",
        "where",
        "by",
        "unit",
        "target",
        "restored_by",
        "element",
        "material",
        "deeper_m",
        "unbroken_m",
    }
    keys |= {*data["study"], *keys_of_the_life_cycle(option["life_cycle"]), *keys_of_ranges(data["ranges"])}
    named = set(re.findall(r"`([a-z0-9_]+)`", page_text("results").split("## results.json")[1]))
    assert named == keys


def keys_of_the_life_cycle(data: dict[str, Any]) -> set[str]:
    """Return the keys of the life cycle; modules, materials, sides and scenarios are names."""
    by_name = ("modules", "by_material", "end_of_life_scenarios")
    rows = ("claddings", "years", "benchmarks")
    keys = {*data, *data["biogenic"], *data["allowances_on_carbon"], *data["cost_ladder_slopes"]}
    keys |= {key for name in by_name for each in data[name].values() for key in each}
    keys |= {key for name in rows for each in data[name] for key in each}
    return keys | {key for each in data["claddings"] for layer in each["layers"] for key in layer}


def keys_of_the_fabric(data: dict[str, Any]) -> set[str]:
    """Return the keys of the fabric; elements and sides are names."""
    elements = set(FABRIC_ELEMENTS)
    keys = {*data, *data["heat_loss_w_per_k"]} - elements
    keys |= {key for part in data["parts"] for key in part}
    return keys | {
        key for part in data["parts"] for layer in part["layers"] for each in layer for key in each
    }


def keys_of_the_members(data: dict[str, Any]) -> set[str]:
    """Return the keys of members."""
    keys = {*data, *(key for member in data["checked"] for key in member)}
    keys |= {key for member in data["checked"] for key in member["section"]}
    return keys | {key for member in data["checked"] for check in member["checks"] for key in check}


def keys_of_ranges(data: dict[str, Any]) -> set[str]:
    """Return the keys of the ranges; options and figures are names."""
    keys = set(data)
    for option in data["options"].values():
        keys |= {*option, *(key for part in option.values() for each in part.values() for key in each)}
    return keys | {
        key for each in data["what_matters_most"].values() for influence in each for key in influence
    }


def test_sheets_named_in_the_guide_exist():
    titles = {s.title for s in (*HOUSE_WORKBOOK.sheets, *FACTORS_WORKBOOK.sheets)} | {"About", "Lists"}
    text = "\n".join(page_text(name) for name in page_names())
    named = set(re.findall(rf"[Tt]he sheet\s+{SHEET}", text))
    for several in re.findall(rf"sheets\s+((?:{SHEET}(?:,\s+|\s+and\s+)?){{2,}})", text):
        named |= set(re.findall(SHEET, several[0]))
    assert {"Options", "Carbon factors", "Cost ladder"} <= named
    assert named <= titles


def test_the_parts_of_the_charts_stand_in_the_page_on_documents(table_headed):
    shared = [[part, ", ".join(names)] for part, names in GROUPS.items() if names != (part,)]
    assert table_headed("documents", "part", "elements") == shared


def test_bases_and_kinds_of_allowances_stand_in_the_page_on_cost(table_headed):
    assert [row[0] for row in table_headed("cost", "measured by", "quantity")] == list(BASES)
    assert [row[0] for row in table_headed("cost", "kind of allowance")] == list(SUM_KINDS)


def test_every_kind_of_caution_stands_in_the_page_on_documents(table_headed):
    folder = TOP / "takeoff" / "compare"
    source = "".join(
        (folder / name).read_text()
        for name in ("cautions.py", "inside_cautions.py", "order_cautions.py", "structure_cautions.py")
    )
    source += (TOP / "takeoff" / "documents" / "parity_words.py").read_text()
    kinds = set(re.findall(r'Caution\(\s*"([A-Z][A-Za-z0-9() ]+)"', source)) - {c.about for c in GENERAL}
    assert {row[0] for row in table_headed("documents", "caution")} == kinds


def test_the_page_on_documents_lists_the_files_of_an_issue(demo_folder, tmp_path, table_headed):
    result = CliRunner().invoke(app, ["issue", str(demo_folder / "heron_bank.xlsx"), "--out", str(tmp_path)])
    assert result.exit_code == 0, result.stderr
    listed = {row[0] for row in table_headed("documents", "file", "for whom")}
    written = {path.name for path in tmp_path.iterdir()}
    # without the text library of the system the PDFs are left out, and only they
    assert listed == written | {"comparison.pdf", "comparison_appendix.pdf", "client.pdf"}


def test_every_basis_of_an_order_stands_in_the_page_on_ordering(table_headed):
    assert [row[0] for row in table_headed("ordering", "basis", "for")] == list(get_args(Basis))


def test_every_piece_mark_stands_in_the_page_on_ordering(table_headed):
    assert table_headed("ordering", "mark", "piece") == [[mark, use] for use, mark in MARKS.items()]


def test_the_wastage_shown_is_that_of_the_demo_houses():
    """The page holds what the script prints, so that both tables are those of the workbooks as they are."""
    spec = spec_from_file_location("compare_wastage", TOP / "demo_projects" / "compare_wastage.py")
    assert spec is not None
    assert spec.loader is not None
    script = module_from_spec(spec)
    spec.loader.exec_module(script)
    demos = script.demo_results()
    page = page_text("ordering")
    for table in (script.wastage_table(demos), script.framing_table(demos)):
        assert f"\n\n{table}\n" in page, "run demo_projects/compare_wastage.py"
    assert "`python demo_projects/compare_wastage.py`" in page


def test_the_problems_shown_are_those_of_such_a_workbook(demo_folder, tmp_path):
    shutil.copy(demo_folder / "factors.xlsx", tmp_path)
    book = openpyxl.load_workbook(demo_folder / "heron_bank.xlsx")
    wrong = {"span": 7200, "pitch": "five", "palette": "Mixd"}
    for row in book["House"].iter_rows():
        if row[0].value in wrong:
            row[1].value = wrong[row[0].value]
    book.save(tmp_path / "heron_bank.xlsx")
    result = CliRunner().invoke(app, ["check", str(tmp_path / "heron_bank.xlsx")])
    assert result.exit_code == 1
    block = re.findall(r"((?:^    .+\n)+)", page_text("workbooks"), re.MULTILINE)[0]
    assert result.stderr.splitlines() == [line.strip() for line in block.splitlines()]


def test_the_options_shown_are_those_of_the_demo(base, saving):
    keys = (
        "total_inc_tax",
        "upfront_kgco2e",
        "life_cycle_kgco2e",
        "stored_kgco2",
        "frame_timber_m3",
        "frame_pieces",
    )
    lines = {
        "As drawn": figures_of(base),
        "Material-saving framing": figures_of(saving),
        "": differences(saving, base),
    }
    (block,) = re.findall(r"^ {4}option .*\n.*\n((?:^ {4}.+\n)+)", page_text("options"), re.MULTILINE)
    for line, (name, amounts) in zip(block.splitlines(), lines.items(), strict=True):
        shown = re.split(r"\s{2,}", line.strip().removeprefix(name).strip())
        places = (0, 0, 0, 0, 2, 0)
        sign = "" if name else "+"
        assert [text.replace(" ", "") for text in shown] == [
            f"{amounts[key]:{sign}.{place}f}" for key, place in zip(keys, places, strict=True)
        ]


def test_the_ladder_shown_is_that_of_the_demo(base, table_headed):
    rows = table_headed("cost", "step")
    shown = [(name, adds, running) for name, _, adds, running in rows]
    steps = [(rung.name, f"{rung.amount:,.0f}", f"{rung.running:,.0f}") for rung in base.ladder.rungs]
    assert shown == [("Measured works", "", f"{base.ladder.measured_works:,.0f}"), *steps]


def test_the_accuracy_shown_is_that_of_a_new_workbook(job, table_headed):
    rows = table_headed("cost", "stage")
    assert rows == [
        [a.stage, f"{a.low:+.0%}"[:-1] + " %", f"{a.high:+.0%}"[:-1] + " %"]
        for a in job.library.accuracy.values()
    ]


def test_the_upkeep_shown_is_that_of_the_demo(base, table_headed):
    amounts = (base.ladder.total_inc_tax, base.upkeep, base.whole_life_cost)
    rows = table_headed("cost", "Heron Bank as drawn, 60 years")
    assert [row[1] for row in rows] == [f"{amount:,.0f}" for amount in amounts]


def test_the_carbon_shown_is_that_of_the_demo(base, table_headed):
    totals = base.totals
    amounts = (totals.a1a3, totals.a4, totals.a5_wastage, totals.a5_site, totals.upfront)
    assert [row[2] for row in table_headed("carbon", "module")] == [f"{a:,.0f}" for a in amounts]
    covered = f"{totals.carbon_cover_mass:.1%} of the mass and {totals.carbon_cover_cost:.1%} of the cost"
    assert covered.replace("%", " %") in page_text("carbon").replace("\n", " ")


def test_the_framing_shown_is_that_of_the_demo(base, table_headed, saving):
    columns: list[list[str]] = []
    for result in (base, saving):
        frames, roof = result.measured.wall_frames, result.measured.roof_frame
        counts = [len(frame.members) for frame in frames]
        fractions = [frame.framing_fraction for frame in frames]
        columns.append([str(n) for n in (*counts, sum(counts), len(roof.members))])
        shares = (*fractions, result.measured.framing_fraction, roof.framing_fraction)
        columns.append([f"{share:.1%}"[:-1] + " %" for share in shares])
    rows = table_headed("framing", "wall")
    assert [list(column) for column in zip(*(row[1:] for row in rows), strict=True)] == columns
    assert [row[0] for row in rows] == ["low", "high", "left", "right", "all walls", "roof"]


def test_areas_and_boards_shown_are_those_of_the_demo(base, table_headed):
    areas = base.measured.areas
    shown = [float(re.findall(r"([\d.]+) m2", row[2])[-1]) for row in table_headed("measuring", "area")]
    amounts = (areas.outside, areas.inside, areas.wall_gross, areas.roof_slope, areas.roof_plan)
    assert shown == [round(amount, 2) for amount in amounts]
    (boards,) = (line for line in base.lines if line.quantity.id.startswith("EW.CL.low.shiplap-board"))
    quantities = (boards.quantity.net, boards.quantity.required, boards.ordered.order)
    assert [row[2] for row in table_headed("measuring", "quantity", "sum")] == [
        f"{q:.2f}" for q in quantities
    ]
    assert table_headed("cost", "part")[-1][2] == f"{boards.rate.total:.2f}"
    carbon = boards.carbon
    amounts = (boards.mass, carbon.a1a3, carbon.a4, carbon.c2, carbon.c3, carbon.a5_wastage, carbon.stored)
    assert carbon.c4 == 0.0
    item = [float(row[2].split()[0]) for row in table_headed("carbon", "what", "sum")]
    assert item == [pytest.approx(amount, abs=0.051) for amount in amounts]


def records_of_the_example(tables: Callable[[str], list[Table]]) -> Iterator[tuple[str, dict[str, str]]]:
    """Yield the rows that the page on options tells to add, each with its sheet."""
    for title, body in re.findall(r"^### (.+)\n((?:(?!^#).*\n)*)", page_text("options"), re.MULTILINE):
        if title == "What comes of it":
            continue
        (head, *rows) = tables(body)[0]
        if head[0] == "Column":
            yield title, dict(rows)
        else:
            yield from ((title, dict(zip(head, row, strict=True))) for row in rows)


def add_row(book: Workbook, sheet: str, record: dict[str, str]) -> None:
    """Type a row below the last one of a sheet, each value under its column title."""
    cells = list(book[sheet].iter_rows())
    header = next(row for row in cells if set(record) <= {cell.value for cell in row})
    below = [row[0].row for row in cells if row[0].row > header[0].row and row[0].value is not None]
    target = max([*below, header[0].row + 1]) + 1
    for cell in header:
        text = record.get(str(cell.value), "")
        if text:
            number = re.fullmatch(r"\d+(\.\d+)?", text)
            book[sheet].cell(row=target, column=cell.column, value=float(text) if number else text)


@pytest.fixture
def with_cork(tmp_path: Path, demo_folder: Path, tables: Callable[[str], list[Table]]) -> Path:
    """Return the demo house with the rows of the example typed in."""
    for name in ("heron_bank.xlsx", "factors.xlsx"):
        shutil.copy(demo_folder / name, tmp_path / name)
    path = tmp_path / "heron_bank.xlsx"
    book = openpyxl.load_workbook(path)
    sheets = []
    for sheet, record in records_of_the_example(tables):
        add_row(book, sheet, record)
        sheets.append(sheet)
    assert set(sheets) == {"Materials", "Prices", "Carbon factors", "Build-ups", "Service lives", "Palettes"}
    options = book["Options"]
    header = next(row for row in options.iter_rows() if row[0].value == "Setting")
    column = max(cell.column for cell in header if cell.value) + 1
    options.cell(row=header[0].row, column=column, value="Cork")
    for row in options.iter_rows():
        if row[0].value == "palette":
            options.cell(row=row[0].row, column=column, value="Cork on the low side")
    book.save(path)
    return path


def test_the_example_of_a_new_cladding_gives_the_figures_shown(with_cork, table_headed):
    arguments = ["measure", str(with_cork), "--option", "Cork", "--csv", "-"]
    result = CliRunner().invoke(app, arguments)
    assert result.exit_code == 0, result.stderr
    rows = {row["id"]: row for row in csv.DictReader(io.StringIO(result.stdout))}
    cork = rows["EW.CL.low.cork-board-20"]
    amounts = [float(cork[name]) for name in ("net", "required", "order", "cost", "a1a3")]
    shown = [row[2].split()[0].replace(",", "") for row in table_headed("options", "low side")]
    assert shown == [f"{a:.{places}f}" for a, places in zip(amounts, (2, 2, 2, 0, 1), strict=True)]

    job = read_job(with_cork)
    base, option = evaluate(job, job.base), evaluate(job, job.option("Cork"))
    cost = option.ladder.total_inc_tax, base.ladder.total_inc_tax - option.ladder.total_inc_tax
    carbon = option.totals.upfront, base.totals.upfront - option.totals.upfront
    text = page_text("options")
    assert f"at {cost[0]:,.0f} AUD, {cost[1]:,.0f} less than the base" in text
    assert f"and {carbon[0]:,.0f} kgCO2e, {carbon[1]:,.0f} less" in text
    (boards,) = (line for line in option.lines if line.quantity.id == "EW.CL.low.cork-board-20")
    assert boards.renewal is not None
    assert boards.renewal.years == ((35.0, 1.0, "B4"),)
    words = f"renewed once, in year 35, at {boards.renewal.cost_each:,.0f} AUD of works"
    assert words in text.replace("\n", " ")
    assert f"stores {option.totals.stored - base.totals.stored:.0f} kgCO2 less" in text
