"""The commands, typed as a newcomer would."""

from __future__ import annotations

import csv
import io
import json
import os
import re
import shutil
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner

from takeoff.cli import app

FILES = [
    "bill.csv",
    "client.pdf",
    "comparison.html",
    "comparison.pdf",
    "comparison_appendix.pdf",
    "cutting_list.csv",
    "order_list.csv",
    "quantities.csv",
    "results.json",
    "schedule.xlsx",
]


def run(*arguments: object) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, [str(argument) for argument in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.stdout, result.stderr


@pytest.fixture(scope="module")
def house(tmp_path_factory, demo_folder) -> Path:
    folder = tmp_path_factory.mktemp("house")
    for name in ("heron_bank.xlsx", "factors.xlsx"):
        shutil.copy(demo_folder / name, folder / name)
    return folder / "heron_bank.xlsx"


@pytest.fixture(scope="module")
def issued(house) -> Path:
    code, out, err = run("issue", house)
    assert (code, err) == (0, "")
    folder = house.parent / "heron_bank_issue"
    assert str(folder) in out
    return folder


@pytest.mark.parametrize("command", ["new", "check", "measure", "order", "compare", "issue", "guide"])
def test_every_command_explains_itself(command):
    code, out, _ = run(command, "--help")
    assert code == 0
    assert "Usage" in out


def test_help_imports_nothing_heavy():
    code = (
        "import sys; sys.argv = ['takeoff', '--help']\n"
        "from takeoff.cli import main\n"
        "try: main()\nexcept SystemExit: pass\n"
        "heavy = {'pandas', 'openpyxl', 'xlsxwriter', 'pint', 'jinja2', 'weasyprint', 'numpy', 'rich.table'}\n"
        "heavy &= set(sys.modules)\n"
        "assert not heavy, heavy"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, timeout=60)


def test_new_writes_a_house_that_passes_its_check(tmp_path):
    path = tmp_path / "house.xlsx"
    code, out, _ = run("new", path)
    assert code == 0
    assert sorted(p.name for p in tmp_path.iterdir()) == ["factors.xlsx", "house.xlsx"]
    assert "takeoff check" in out
    assert run("check", path)[0] == 0


def test_new_overwrites_nothing(tmp_path):
    path = tmp_path / "house.xlsx"
    path.write_text("mine")
    code, _, err = run("new", path)
    assert code == 2
    assert "exists already" in err
    assert path.read_text() == "mine"


def test_new_leaves_a_factors_workbook_alone(tmp_path):
    (tmp_path / "factors.xlsx").write_text("ours")
    code, out, _ = run("new", tmp_path / "house.xlsx")
    assert code == 0
    assert "left as it is" in out
    assert (tmp_path / "factors.xlsx").read_text() == "ours"


def test_measure_on_the_screen(house):
    code, out, err = run("measure", house)
    assert (code, err) == (0, "")
    for text in ("external walls", "EW.CL.low.", "Rafters, 240 x 45 mm"):
        assert text in out


def test_measure_as_csv_to_a_file_and_to_the_screen(house, tmp_path):
    _, text, _ = run("measure", house, "--option", "All timber", "--csv", "-")
    assert run("measure", house, "--option", "all timber", "--csv", tmp_path / "q.csv")[0] == 0
    assert (tmp_path / "q.csv").read_text(encoding="utf-8") == text
    assert {row["option"] for row in csv.DictReader(io.StringIO(text))} == {"All timber"}


def test_an_option_that_is_not_there(house):
    code, out, err = run("measure", house, "--option", "Gold")
    assert (code, out) == (2, "")
    assert err.startswith("There is no option 'Gold'. Options: As drawn, All timber,")


def test_order_on_the_screen(house):
    code, out, err = run("order", house)
    assert (code, err) == (0, "")
    lines = [re.split(r"\s{2,}", line.strip()) for line in out.splitlines()]
    assert lines[0] == ["As drawn: what to buy"]
    assert lines[1] == [
        *("no.", "material", "to buy", "unit", "required", "order"),
        *("wastage", "by allowance", "at least", "gap"),
    ]
    # 12.9 m of gutter with one lap of 40 mm, in lengths of 6.0 and 8.1 m (Stock sheet): 1 - 12.9 / 14.1 = 8.5 %
    gutter = next(line for line in lines if line[1:2] == ["Gutter, colour coated steel"])
    assert gutter[2:] == [
        "1 of 6.0 m, 1 of 8.1 m",
        "m",
        "12.9",
        "14.1",
        "8.5 %",
        "7.4 %",
        "14.1 m",
        "proven least",
    ]
    mesh = next(line for line in lines if line[0] == "Slab mesh, 6.75 mm wires at 200")
    assert mesh[-2:] == ["-", "-"]


def test_totals_below_the_order_are_those_of_the_results(house, issued):
    out = run("order", house, "--option", "All timber")[1].split("Totals", 1)[1]
    table, flags = out.rstrip().rsplit("\n", 1)
    assert flags == "All timber: engineer to confirm: walls over 3 m: high, left, right"
    shown = {
        words[0]: [float(text.replace("\u202f", "").replace("\u2212", "-")) for text in words[2:]]
        for words in (re.split(r"\s{2,}", line.strip()) for line in table.splitlines()[2:])
    }
    options = json.loads((issued / "results.json").read_text(encoding="utf-8"))["options"]
    (option,) = (each for each in options if each["name"] == "All timber")
    totals, allowed = option["totals"], option["by_allowance"]
    for words, key in (
        ("Cost, total including tax", "total_inc_tax"),
        ("Measured works", "measured_works"),
        ("Upfront carbon, A1-A5", "upfront_kgco2e"),
        ("of which wastage, A5", "a5_wastage_kgco2e"),
        ("Mass lost as wastage", "mass_wastage_kg"),
    ):
        amounts = (totals[key], allowed[key], totals[key] - allowed[key])
        assert shown.pop(words) == [round(amount) for amount in amounts]
    assert shown == {}
    assert totals["total_inc_tax_allowed"] == allowed["total_inc_tax"] != totals["total_inc_tax"]
    assert totals["upfront_allowed_kgco2e"] == allowed["upfront_kgco2e"]
    assert totals["a5_wastage_allowed_kgco2e"] == allowed["a5_wastage_kgco2e"]


def test_order_and_cutting_lists_as_csv_to_files_and_to_the_screen(demo_folder, tmp_path):
    studio = demo_folder / "dune_studio.xlsx"
    bought, cut = tmp_path / "order.csv", tmp_path / "cutting.csv"
    code, out, err = run("order", studio, "--option", "slab on ground", "--csv", bought, "--cutting", cut)
    assert (code, out, err) == (0, "", "")
    assert run("order", studio, "--option", "Slab on ground", "--csv", "-")[1] == bought.read_text(
        encoding="utf-8"
    )
    assert run("order", studio, "--option", "Slab on ground", "--cutting", "-")[1] == cut.read_text(
        encoding="utf-8"
    )
    for path in (bought, cut):
        rows = list(csv.DictReader(path.open(encoding="utf-8")))
        assert {row["option"] for row in rows} == {"Slab on ground"}


def test_the_lists_of_an_issue_are_those_of_every_option(house, issued, tmp_path):
    run("order", house, "--csv", tmp_path / "order_list.csv", "--cutting", tmp_path / "cutting_list.csv")
    results = json.loads((issued / "results.json").read_text(encoding="utf-8"))
    for name in ("order_list.csv", "cutting_list.csv"):
        lines = (issued / name).read_text(encoding="utf-8").splitlines()
        own = (tmp_path / name).read_text(encoding="utf-8").splitlines()
        assert own == lines[: len(own)]
        options = list(dict.fromkeys(row["option"] for row in csv.DictReader(lines)))
        assert options == [option["name"] for option in results["options"]]


@pytest.mark.parametrize("flags", [(), ("--csv", "o.csv"), ("--cutting", "-")])
def test_an_order_for_an_option_that_is_not_there(house, tmp_path, monkeypatch, flags):
    monkeypatch.chdir(tmp_path)
    code, out, err = run("order", house, "--option", "Gold", *flags)
    assert (code, out) == (2, "")
    assert err.startswith("There is no option 'Gold'. Options: As drawn, All timber,")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["-", "both.csv"])
def test_two_lists_never_go_to_one_place(house, tmp_path, monkeypatch, name):
    monkeypatch.chdir(tmp_path)
    code, out, err = run("order", house, "--csv", name, "--cutting", name)
    assert (code, out) == (2, "")
    assert err == "--csv and --cutting need two files; only one of them can be -.\n"
    assert list(tmp_path.iterdir()) == []


def test_compare_on_the_screen(house):
    code, out, _ = run("compare", house)
    assert code == 0
    for name in ("As drawn", "Brick and panel", "Pitch 3 deg"):
        assert name in out


def test_compare_as_json(house):
    code, out, _ = run("compare", house, "--json", "-")
    assert code == 0
    assert [option["is_base"] for option in json.loads(out)["options"]] == [True] + [False] * 7


def test_guide_lists_and_shows_its_pages():
    code, out, _ = run("guide")
    assert code == 0
    assert "measuring" in out
    assert run("guide", "measuring")[1].startswith("# Measuring")
    assert run("guide", "gold")[0] == 2


def test_issue_leaves_nine_files(issued):
    assert sorted(path.name for path in issued.iterdir()) == FILES


def test_issue_into_a_named_folder_keeps_what_is_there(house, tmp_path, issued):
    out = tmp_path / "out"
    out.mkdir()
    (out / "letter.txt").write_text("mine")
    (out / "results.json").write_text("old")
    assert run("issue", house, "--out", out)[0] == 0
    assert (out / "letter.txt").read_text() == "mine"
    assert sorted(path.name for path in out.iterdir()) == sorted([*FILES, "letter.txt"])
    for name in FILES:
        if name.endswith(".pdf"):
            continue
        assert (out / name).read_bytes() == (issued / name).read_bytes()


def test_issue_refuses_a_file_as_folder(house, tmp_path):
    (tmp_path / "out").write_text("a file")
    assert run("issue", house, "--out", tmp_path / "out")[0] == 2
    assert (tmp_path / "out").read_text() == "a file"


def test_nothing_is_written_when_a_document_fails(house, tmp_path, monkeypatch):
    def fail(page: str) -> bytes:
        raise RuntimeError("broken")

    monkeypatch.setattr("takeoff.documents.issue.page_to_pdf", fail)
    result = CliRunner().invoke(app, ["issue", str(house), "--out", str(tmp_path / "out")])
    assert isinstance(result.exception, RuntimeError)
    assert list(tmp_path.iterdir()) == []


def test_without_pango_everything_else_is_written(house, tmp_path, monkeypatch):
    from takeoff.documents.pdf import PdfLibraryError

    def missing(page: str) -> bytes:
        raise PdfLibraryError("The PDF was not written: install Pango.")

    monkeypatch.setattr("takeoff.documents.issue.page_to_pdf", missing)
    code, _, err = run("issue", house, "--out", tmp_path / "out")
    assert code == 0
    assert err == "The PDF was not written: install Pango.\n"
    names = sorted(path.name for path in (tmp_path / "out").iterdir())
    assert names == [name for name in FILES if not name.endswith(".pdf")]


def test_quantities_agree_with_results(issued):
    rows = list(csv.DictReader((issued / "quantities.csv").open(encoding="utf-8")))
    needed = "option id element trade item description location unit net required order mass_kg cost"
    assert {*needed.split(), "a1a3", "a4", "a5_wastage", "a5_site"} <= set(rows[0])
    options = json.loads((issued / "results.json").read_text(encoding="utf-8"))["options"]
    for option in options:
        own = [row for row in rows if row["option"] == option["name"]]
        assert len({row["id"] for row in own}) == len(own)
        for column, key in (
            ("cost", "works_and_sums"),
            ("mass_kg", "mass_kg"),
            ("a1a3", "a1a3_kgco2e"),
            ("a4", "a4_kgco2e"),
            ("a5_wastage", "a5_wastage_kgco2e"),
            ("a5_site", "a5_site_kgco2e"),
            ("stored_co2", "stored_kgco2"),
        ):
            assert sum(float(row[column] or 0) for row in own) == pytest.approx(
                option["totals"][key], abs=0.001
            )


def test_results_have_areas_volumes_totals_and_changes(issued):
    results = json.loads((issued / "results.json").read_text(encoding="utf-8"))
    base, *others = results["options"]
    assert base["changed_settings"] == []
    assert base["areas"]["wall_gross_m2"] == pytest.approx(115.77, abs=0.005)
    assert base["areas"]["roof_slope_m2"] == pytest.approx(108.77, abs=0.005)
    assert base["volumes"]["enclosed_m3"] == pytest.approx(12.0 * 7.2 * 3.015, abs=0.05)
    assert len(others) >= 5
    for option in others:
        assert option["changed_settings"]
        for key, value in option["totals"].items():
            difference, before = option["difference_from_base"][key], base["totals"][key]
            if value is None or before is None:
                assert difference is None
            else:
                assert difference == pytest.approx(value - before)
        # what nothing assesses is null, not nought
        assert option["totals"]["d_kgco2e"] is None


class _Checker(HTMLParser):
    """Collects what a page refers to, and whether its elements close in order."""

    VOID = frozenset({"meta", "br", "link", "img", "hr", "input", "col"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.addresses: list[str] = []
        self.ids: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in self.VOID:
            self.open.append(tag)
        self.addresses += [value or "" for name, value in attrs if name in ("src", "href", "xlink:href")]
        self.ids += [value or "" for name, value in attrs if name == "id"]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_page_stands_alone(issued):
    page = (issued / "comparison.html").read_text(encoding="utf-8")
    checker = _Checker()
    checker.feed(page)
    assert checker.open == []
    assert all(address.startswith(("#", "data:")) for address in checker.addresses)
    assert len(checker.ids) == len(set(checker.ids))
    # its own script stands in the page, none is loaded
    assert not any("src" in tag for tag in re.findall(r"<script[^>]*>", page))
    assert page.replace("http://www.w3.org/2000/svg", "").count("http") == 0
    for heading in (
        "At a glance",
        "Plan and elevations",
        "Options compared",
        "Decisions",
        "Savings, one upon another",
        "Build-ups",
        "Assumptions",
        "Cautions",
    ):
        assert f"<h2>{heading}</h2>" in page


def test_the_pdf_says_what_the_results_say(issued):
    reader = PdfReader(issued / "comparison.pdf")
    assert reader.metadata is not None
    assert reader.metadata.title == "Heron Bank: comparison of options"
    assert 12 <= len(reader.pages) <= 75
    text = "\n".join(page.extract_text() for page in reader.pages)
    base = json.loads((issued / "results.json").read_text(encoding="utf-8"))["options"][0]
    spaced = f"{base['totals']['total_inc_tax']:,.0f}".replace(",", "\u202f")
    plain = text.replace("\u202f", "").replace("\u00a0", "").replace(" ", "")
    assert spaced.replace("\u202f", "") in plain
    assert f"{base['totals']['upfront_kgco2e']:.0f}" in plain
    assert "Page1of" in plain
    titles = [entry.title for entry in reader.outline if not isinstance(entry, list)]
    assert titles[0] == "At a glance"
    assert "Cautions" in titles
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert reader.trailer["/Root"]["/Lang"] == "en"


def test_the_pdf_embeds_its_fonts(issued):
    names = set()
    for page in PdfReader(issued / "comparison.pdf").pages:
        for font in page["/Resources"].get("/Font", {}).values():
            for descendant in font.get_object().get("/DescendantFonts", []):
                descriptor = descendant.get_object()["/FontDescriptor"].get_object()
                assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor)
                names.add(str(descriptor["/FontName"]))
    assert names
    assert all("Source" in name for name in names), names


def command(*arguments: object, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """Run the command in a process of its own, piped."""
    return subprocess.run(
        [sys.executable, "-m", "takeoff", *map(str, arguments)],
        capture_output=True,
        env={**os.environ, **environment},
        timeout=300,
        check=False,
    )


def test_two_issues_of_one_workbook_are_the_same_bytes(house, tmp_path, issued):
    for name in ("first", "second"):
        done = command("issue", house, "--out", tmp_path / name, SOURCE_DATE_EPOCH="1800000000")
        # piped, long work says nothing on its way
        assert (done.returncode, done.stderr) == (0, b"")
    for name in FILES:
        assert (tmp_path / "first" / name).read_bytes() == (tmp_path / "second" / name).read_bytes()
    assert (tmp_path / "first" / "results.json").read_bytes() == (issued / "results.json").read_bytes()


def test_help_of_the_whole_lists_every_command():
    done = command("--help")
    assert done.returncode == 0
    for name in (b"new", b"check", b"measure", b"order", b"compare", b"issue", b"guide"):
        assert b"  " + name + b" " in done.stdout


@pytest.mark.parametrize(
    "arguments", [["issue"], ["measure", "--nonsense"], ["nonsense"], ["measure", "a.xlsx", "--option"]]
)
def test_a_wrong_command_line_ends_with_2_and_prints_nothing_to_read(arguments):
    code, out, err = run(*arguments)
    assert (code, out) == (2, "")
    assert "Error: " in err


def test_check_says_how_much_it_looked_at(house):
    code, out, err = run("check", house)
    assert (code, err) == (0, "")
    items = len(list(csv.DictReader(io.StringIO(run("measure", house, "--csv", "-")[1]))))
    assert out == f"{house}: no problems; 8 options, {items} items in 'As drawn'.\n"


def test_an_option_that_is_not_there_leaves_no_file(house, tmp_path):
    code, _, _ = run("measure", house, "--option", "Gold", "--csv", tmp_path / "q.csv")
    assert code == 2
    assert list(tmp_path.iterdir()) == []


def test_the_list_of_options_names_all_of_them(house):
    names = [option["name"] for option in json.loads(run("compare", house, "--json", "-")[1])["options"]]
    assert run("measure", house, "--option", "Gold")[2] == (
        f"There is no option 'Gold'. Options: {', '.join(names)}.\n"
    )


def test_compare_writes_the_documents_that_issue_writes(house, issued, tmp_path):
    code, out, err = run(
        "compare",
        house,
        *("--html", tmp_path / "c.html"),
        *("--pdf", tmp_path / "c.pdf"),
        *("--json", tmp_path / "r.json"),
    )
    assert (code, out, err) == (0, "", "")
    assert (tmp_path / "c.html").read_bytes() == (issued / "comparison.html").read_bytes()
    assert (tmp_path / "r.json").read_bytes() == (issued / "results.json").read_bytes()
    assert (tmp_path / "c.pdf").read_bytes().startswith(b"%PDF-")


def test_a_file_that_can_not_be_written_is_a_sentence(house, tmp_path):
    (tmp_path / "file").write_text("a file")
    code, out, err = run("measure", house, "--csv", tmp_path / "file" / "q.csv")
    assert (code, out) == (2, "")
    assert err.startswith(f"{tmp_path / 'file' / 'q.csv'} can't be written: ")
    assert (tmp_path / "file").read_text() == "a file"


def test_a_failing_document_leaves_an_old_issue_as_it_was(house, tmp_path, monkeypatch):
    def fail(page: str) -> bytes:
        raise RuntimeError("broken")

    out = tmp_path / "out"
    out.mkdir()
    for name in FILES:
        (out / name).write_text(f"old {name}")
    monkeypatch.setattr("takeoff.documents.issue.page_to_pdf", fail)
    CliRunner().invoke(app, ["issue", str(house), "--out", str(out)])
    assert {path.name: path.read_text() for path in out.iterdir()} == {name: f"old {name}" for name in FILES}


def test_the_parts_of_the_results_sum_to_their_totals(issued):
    for option in json.loads((issued / "results.json").read_text(encoding="utf-8"))["options"]:
        for by in ("by_element", "by_trade"):
            cost = sum(part["cost"] for part in option[by].values())
            assert cost == pytest.approx(option["totals"]["works_and_sums"], abs=0.01)


@pytest.mark.parametrize(
    "arguments",
    [
        ("measure", "--csv"),
        ("order", "--csv"),
        ("order", "--cutting"),
        ("compare", "--json"),
        ("compare", "--html"),
    ],
)
def test_a_folder_named_as_the_file_is_refused_and_kept(house, tmp_path, arguments):
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "letter.txt").write_text("mine")
    name, flag = arguments
    code, _, _ = run(name, house, flag, mine)
    assert (mine / "letter.txt").read_text() == "mine"
    assert code == 2


def test_no_output_goes_over_the_workbook_it_is_made_from(demo_folder, tmp_path):
    for name in ("heron_bank.xlsx", "factors.xlsx"):
        shutil.copy(demo_folder / name, tmp_path / name)
    house = tmp_path / "heron_bank.xlsx"
    before = house.read_bytes()
    code, _, _ = run("measure", house, "--csv", house)
    assert house.read_bytes() == before
    assert code == 2


@pytest.mark.parametrize(
    "arguments",
    [
        ("measure",),
        ("order",),
        ("compare",),
    ],
)
def test_a_terminal_without_every_letter_is_no_trouble(house, arguments):
    # as a piped Windows console has it
    done = command(arguments[0], house, *arguments[1:], PYTHONIOENCODING="cp1252")
    assert done.returncode == 0, done.stderr[-300:]
