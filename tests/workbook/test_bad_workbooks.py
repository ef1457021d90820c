"""Every bad workbook ends with status 1 and all its problems, each with sheet and cell; nothing is written."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from collections.abc import Sequence
from pathlib import Path

import pytest
from typer.testing import CliRunner

from takeoff.cli import app


def problems_of(path: Path) -> list[str]:
    """Run check on a bad workbook; return the problem lines without the closing count."""
    check = CliRunner().invoke(app, ["check", str(path)])
    assert check.exit_code == 1
    assert check.stdout == ""
    assert "Traceback" not in check.stderr
    assert isinstance(check.exception, SystemExit)
    lines = check.stderr.strip().splitlines()
    assert lines[-1] == f"{len(lines) - 1} problem{'' if len(lines) == 2 else 's'}."
    return lines[:-1]


@pytest.mark.parametrize("command", ["issue", "measure", "compare"])
def test_every_command_refuses_a_bad_workbook_and_writes_nothing(spoiled, command):
    spoiled.setting("pitch", 60)
    expected = problems_of(spoiled.house)
    before = sorted(path.name for path in spoiled.folder.iterdir())
    result = CliRunner().invoke(app, [command, str(spoiled.house)])
    assert result.exit_code == 1
    assert result.stdout == ""
    assert result.stderr.splitlines()[:-1] == expected
    assert sorted(path.name for path in spoiled.folder.iterdir()) == before


def only(lines: Sequence[str]) -> str:
    assert len(lines) == 1, lines
    return lines[0]


def test_the_demo_itself_is_sound(spoiled):
    result = CliRunner().invoke(app, ["check", str(spoiled.house)])
    assert result.exit_code == 0
    assert result.stderr == ""


@pytest.mark.parametrize(
    "title", ["Project", "House", "Openings", "Build-ups", "Palettes", "Framing", "Lintels", "Options"]
)
def test_a_missing_sheet(spoiled, title):
    spoiled.edit(lambda book: book.remove(book[title]))
    lines = problems_of(spoiled.house)
    assert (
        f"heron_bank.xlsx {title}: the sheet is missing; expected a sheet named {title!r}. "
        "Add it; a new workbook shows how it looks." in lines
    )


def test_a_missing_sheet_of_the_factors_workbook(spoiled):
    spoiled.edit(lambda book: book.remove(book["Transport"]), factors=True)
    assert only(problems_of(spoiled.house)).startswith("factors.xlsx Transport: the sheet is missing;")


def test_a_missing_column(spoiled):
    def drop(book):
        for row in book["Openings"].iter_rows(max_row=8):
            for cell in row:
                if cell.value == "Sill":
                    cell.value = None

    spoiled.edit(drop)
    assert only(problems_of(spoiled.house)) == (
        "heron_bank.xlsx Openings!A4: the column 'Sill' is missing; expected a column titled 'Sill' in the "
        "header row. Add it."
    )


@pytest.mark.parametrize(
    ("name", "value", "message"),
    [
        ("length", "long", "text 'long'; expected a number with a unit."),
        ("span", 7200, "7200 m; expected at least 2 m and at most 15 m. Did you mean mm?"),
        ("stud depth", "145 m", "145 m; expected at least 70 mm and at most 400 mm. Did you mean mm?"),
        ("length", -12, "-12 m; expected at least 3 m and at most 40 m."),
        ("pitch", 60, "60 deg; expected at least 1 deg and at most 35 deg."),
        ("length", "#REF!", "the error value #REF!; expected a value. Mend the formula."),
        ("length", True, "True; expected a number with a unit."),
        ("length", "12,0", "text '12,0'; expected a number with a unit. Write the decimal with a point."),
        ("high side faces", "up", "text 'up'; expected one of N, NE, E, SE, S, SW, W, NW."),
        ("rafter blocking", "perhaps", "text 'perhaps'; expected yes or no."),
        ("downpipes", 2.5, "2.5; expected a whole number."),
        (
            "length",
            "=6*2",
            "a formula without a stored result; expected a value. Open the workbook in an office program, let "
            "it calculate, and save it.",
        ),
        (
            "palette",
            "All tin",
            "'All tin' is not defined; expected a name from the column Palette of the sheet Palettes. Did you "
            "mean 'All timber'?",
        ),
        (
            "roof",
            "Raked plasterboard ceiling",
            "'Raked plasterboard ceiling' is a build-up of the part ceiling; expected a build-up of the part roof.",
        ),
        ("support lines", 7.1, "a support line at 7.1 m; expected between 0.17 and 7.03 m."),
    ],
)
def test_a_bad_value_of_a_setting(spoiled, name, value, message):
    place = spoiled.setting(name, value)
    line = only(problems_of(spoiled.house))
    assert line == f"heron_bank.xlsx House!{place}: {message}"


def test_a_unit_of_the_wrong_kind(spoiled):
    place = spoiled.setting("length", unit="kg").replace("B", "C")
    assert only(problems_of(spoiled.house)) == (
        f"heron_bank.xlsx House!{place}: unit 'kg' is not a kind of m; expected a unit such as m."
    )


def test_a_blank_setting_and_an_unknown_one(spoiled):
    place = spoiled.setting("span", None)

    def add(book):
        book["House"].append(["lenght", 12, "m"])

    spoiled.edit(add)
    lines = problems_of(spoiled.house)
    assert f"heron_bank.xlsx House!{place}: 'span' is blank; expected a value in m." in lines
    assert any("unknown setting 'lenght'" in line and "Did you mean 'length'?" in line for line in lines)


@pytest.mark.parametrize(
    ("title", "value", "message"),
    [
        (
            "Position",
            11.8,
            "opening W08 ends 12.400 m along the low wall; expected it to end within the wall, 12.000 m long. "
            "Move it, make it narrower or the house longer.",
        ),
        (
            "Position",
            8.0,
            "opening W08 overlaps opening W07; expected at least 180 mm between them for the jamb studs. Move "
            "one of them.",
        ),
        (
            "Position",
            8.8,
            "opening W08 stands 100 mm from opening W07; expected at least 180 mm between them for the jamb "
            "studs. Move one of them.",
        ),
        (
            "Position",
            11.3,
            "opening W08 with its jamb studs comes within 10 mm of a corner of the low wall; expected at least "
            "260 mm for the corner studs. Move it away from the corner.",
        ),
        (
            "Sill",
            2.0,
            "opening W08 with its 140 mm lintel reaches 2.740 m in the low wall; expected at most 2.610 m, the "
            "underside of the top plates there. Lower it, or move it to where the wall is higher.",
        ),
        (
            "Unit type",
            "Magic glass",
            "'Magic glass' is not defined; expected a name from the column Material of the sheet Materials. "
            "Add a row for it or correct the name.",
        ),
        (
            "Side",
            "NE",
            "no wall faces NE; expected low, high, left, right or one of S, N, W, E. The high side faces N.",
        ),
        (
            "Width",
            "=0.3*2",
            "a formula without a stored result; expected a value. Open the workbook in an office program, let "
            "it calculate, and save it.",
        ),
        ("Width", "wide", "text 'wide'; expected a number with a unit."),
    ],
)
def test_a_bad_opening(spoiled, title, value, message):
    place = spoiled.cell("Openings", "W08", title, value)
    located = {"Sill": "Height"}.get(title, title)
    if located != title:
        place = spoiled.cell("Openings", "W08", "Height", 0.6)
    assert only(problems_of(spoiled.house)) == f"heron_bank.xlsx Openings!{place}: {message}"


def test_an_opening_too_high_under_the_rake(spoiled):
    # on the right-hand wall the low end is on the left
    spoiled.cell("Openings", "W04", "Sill", 1.5)
    spoiled.cell("Openings", "W04", "Position", 0.6)
    spoiled.cell("Openings", "D02", "Position", 3.0)
    line = only(problems_of(spoiled.house))
    assert "opening W04" in line
    assert "in the right wall" in line


def test_a_mark_used_twice(spoiled):
    spoiled.cell("Openings", "W08", "Mark", "W07")
    lines = problems_of(spoiled.house)
    assert any("'W07' stands in row" in line and "Openings!A" in line for line in lines)


def test_a_palette_that_names_no_build_up_for_one_side(spoiled):
    place = spoiled.cell("Palettes", "Mixed", "Left", None)
    assert only(problems_of(spoiled.house)) == (
        f"heron_bank.xlsx Palettes!{place}: Left is blank; expected a build-up of the part cladding."
    )


def test_a_band_half_described(spoiled):
    place = spoiled.cell("Palettes", "Steel with timber band", "Band to", None)
    assert only(problems_of(spoiled.house)).startswith(
        f"heron_bank.xlsx Palettes!{place}: the band of 'Steel with timber band' is only half described;"
    )


@pytest.mark.parametrize(
    ("title", "value", "found"),
    [
        ("Measured by", "poured", "'poured' in a build-up of the part external wall"),
        ("Measured by", "boards by cover", "Direction is blank"),
        ("Measured by", "frame", "2 layers measured by 'frame' in 'Stud 170, glass wool'"),
        ("Measured by", "coats", "Rate is blank"),
        ("Part", "roof", "build-up 'Stud 170, glass wool' is of the parts external wall and roof"),
        ("Material", "Nothing", "'Nothing' is not defined"),
    ],
)
def test_a_layer_that_cannot_be_measured(spoiled, title, value, found):
    spoiled.cell("Build-ups", "Stud 170, glass wool", title, value, nth=0)
    lines = problems_of(spoiled.house)
    assert any(line.startswith("heron_bank.xlsx Build-ups!") and f": {found}" in line for line in lines), (
        lines
    )


def test_boards_without_a_cover(spoiled):
    place = spoiled.cell("Materials", "Weatherboard, treated softwood 180 x 19", "Cover", None, factors=True)
    lines = problems_of(spoiled.house)
    assert any(
        line.startswith(
            f"factors.xlsx Materials!{place}: Cover of 'Weatherboard, treated softwood 180 x 19' is blank"
        )
        for line in lines
    )


def test_a_factor_that_cannot_meet_its_quantity(spoiled):
    spoiled.cell("Materials", "Glass wool batts", "Density", None, factors=True)
    line = only(sorted(set(problems_of(spoiled.house))))
    assert line.startswith("factors.xlsx Carbon factors!C")
    assert "the factor for one kg can't meet 'Glass wool batts', measured in m2" in line
    assert "Give the material 'Glass wool batts' a density or a mass in kg/m2." in line


def test_a_unit_that_is_no_carbon(spoiled):
    spoiled.cell("Carbon factors", "Glass wool batts", "Unit", "MJ/kg", factors=True)
    line = only(problems_of(spoiled.house))
    assert line.startswith("factors.xlsx Carbon factors!C")
    assert "unknown unit 'MJ/kg'" in line or "unit 'MJ/kg' is not kgCO2e" in line


def test_a_source_that_is_not_listed(spoiled):
    place = spoiled.cell("Carbon factors", "Glass wool batts", "Source", "hearsay", factors=True)
    assert only(problems_of(spoiled.house)).startswith(
        f"factors.xlsx Carbon factors!{place}: 'hearsay' is not defined;"
    )


def test_a_margin_of_the_whole_price(spoiled):
    place = spoiled.cell("Cost ladder", "Overhead and margin", "Value", 100, factors=True)
    assert only(problems_of(spoiled.house)) == (
        f"factors.xlsx Cost ladder!{place}: a margin of 100%; expected less than 100 % of the price."
    )


def test_an_option_with_a_bad_value(spoiled):
    place = spoiled.cell("Options", "stud spacing", "Studs at 600", "wide")
    assert only(problems_of(spoiled.house)) == (
        f"heron_bank.xlsx Options!{place}: text 'wide'; expected a number with a unit."
    )


def test_an_option_under_which_an_opening_no_longer_fits(spoiled):
    place = spoiled.cell("Options", "pitch", "Pitch 3 deg", 1)
    assert place.startswith("J")
    spoiled.cell("Openings", "W02", "Sill", 2.30)
    line = only(problems_of(spoiled.house))
    assert line.startswith("heron_bank.xlsx Openings!E")
    assert "in option 'Pitch 3 deg', opening W02 with its " in line


def test_all_problems_are_listed_in_order(spoiled):
    spoiled.setting("downpipes", "x")
    spoiled.setting("roof", "nope")
    spoiled.cell("Openings", "W08", "Position", 8.0)
    spoiled.cell("Openings", "W07", "Unit type", "Magic")
    spoiled.cell("Prices", "Plasterboard 12.5", "Price", "dear", factors=True)
    places = [line.split(":")[0] for line in problems_of(spoiled.house)]
    assert [place.split("!")[0] for place in places] == [
        "factors.xlsx Prices",
        "heron_bank.xlsx House",
        "heron_bank.xlsx House",
        "heron_bank.xlsx Openings",
        "heron_bank.xlsx Openings",
    ]


def test_a_file_that_is_not_there(tmp_path):
    path = tmp_path / "none.xlsx"
    assert only(problems_of(path)) == (
        f"none.xlsx: there is no file {path}; expected an .xlsx workbook. Check the name and the folder."
    )


@pytest.mark.parametrize("content", [b"", b"just text", b"PK\x03\x04 torn"])
def test_a_file_that_is_not_a_workbook(tmp_path, content):
    path = tmp_path / "text.xlsx"
    path.write_bytes(content)
    assert (
        only(problems_of(path))
        == "text.xlsx: it is not a workbook; expected an .xlsx workbook. Name the .xlsx file."
    )


def test_an_archive_that_is_no_workbook(tmp_path):
    path = tmp_path / "archive.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("letter.txt", "hello")
    assert only(problems_of(path)).startswith("archive.xlsx: it can't be read as a workbook (")


def test_a_folder(tmp_path):
    path = tmp_path / "folder.xlsx"
    path.mkdir()
    assert only(problems_of(path)) == (
        f"folder.xlsx: {path} is a folder; expected an .xlsx workbook. Name the workbook itself."
    )


def test_a_workbook_with_a_password(tmp_path):
    # an encrypted workbook is a compound file with a stream of this name (ECMA-376 with MS-OFFCRYPTO); made by
    # hand here, since nothing of it beyond the header and the name is looked at
    path = tmp_path / "locked.xlsx"
    path.write_bytes(
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
        + bytes(1016)
        + "EncryptedPackage".encode("utf-16-le")
        + bytes(512)
    )
    assert only(problems_of(path)) == (
        "locked.xlsx: it is protected with a password; expected an .xlsx workbook. Save it without the password "
        "and run the command again."
    )


def test_a_workbook_in_an_old_format(tmp_path):
    path = tmp_path / "old.xlsx"
    path.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(2048))
    assert only(problems_of(path)).startswith("old.xlsx: it is a workbook in an old format;")


def test_a_factors_workbook_that_is_not_there(spoiled):
    spoiled.factors.unlink()
    line = only(problems_of(spoiled.house))
    assert line.startswith("heron_bank.xlsx Project!B")
    assert "factors workbook factors.xlsx: there is no file" in line


def test_a_factors_workbook_that_is_not_a_workbook(spoiled):
    spoiled.factors.write_text("hello")
    assert only(problems_of(spoiled.house)) == (
        "heron_bank.xlsx Project!B14: factors workbook factors.xlsx: it is not a workbook; expected an .xlsx "
        "workbook. Name the .xlsx file."
    )


def test_a_factors_workbook_that_is_not_named(spoiled):
    place = spoiled.setting("factors workbook", None, sheet="Project")
    assert only(problems_of(spoiled.house)) == (
        f"heron_bank.xlsx Project!{place}: 'factors workbook' is blank; expected a value."
    )


@pytest.mark.parametrize(
    ("name", "value", "message"),
    [
        ("span", "7200 m", "7200 m; expected at least 2 m and at most 15 m. Did you mean mm?"),
        ("stud spacing", "0.45 mm", "0.45 mm; expected at least 200 mm and at most 1200 mm. Did you mean m?"),
        ("length", "12 000 mm", "unknown unit '000 mm'; expected a unit such as m."),
        ("length", "#DIV/0!", "the error value #DIV/0!; expected a value. Mend the formula."),
        ("downpipes", "2,0", "text '2,0'; expected a number. Write the decimal with a point."),
        ("downpipes", True, "True; expected a number."),
    ],
)
def test_a_value_typed_amiss(spoiled, name, value, message):
    place = spoiled.setting(name, value)
    assert only(problems_of(spoiled.house)) == f"heron_bank.xlsx House!{place}: {message}"


def test_a_setting_without_a_unit(spoiled):
    place = spoiled.setting("span", unit="").replace("B", "C")
    assert only(problems_of(spoiled.house)) == (
        f"heron_bank.xlsx House!{place}: 7.2 without a unit; expected a unit such as m."
    )


@pytest.mark.parametrize(
    ("value", "message"),
    [
        (-0.6, "-0.6 m; expected at least 0.2 m and at most 8 m."),
        (600, "600 m; expected at least 0.2 m and at most 8 m. Did you mean mm?"),
        ("600 m", "600 m; expected at least 0.2 m and at most 8 m. Did you mean mm?"),
        ("0.6 kg", "unit 'kg' is not a kind of m; expected a unit such as m."),
        ("0,6", "text '0,6'; expected a number with a unit. Write the decimal with a point."),
        (True, "True; expected a number with a unit."),
        ("#REF!", "the error value #REF!; expected a value. Mend the formula."),
        (None, "Width is blank; expected a number in m."),
    ],
)
def test_a_bad_width_of_an_opening(spoiled, value, message):
    place = spoiled.cell("Openings", "W08", "Width", value)
    assert only(problems_of(spoiled.house)) == f"heron_bank.xlsx Openings!{place}: {message}"


def test_a_wrong_unit_over_a_column_is_one_problem_at_its_head(spoiled):
    spoiled.edit(lambda book: book["Openings"].__setitem__("D5", "kg"))
    assert only(problems_of(spoiled.house)) == (
        "heron_bank.xlsx Openings!D5: unit 'kg' is not a kind of m; expected a unit such as m."
    )


def test_a_mark_used_twice_names_both_rows(spoiled):
    spoiled.cell("Openings", "W08", "Mark", "W07")
    assert (
        "heron_bank.xlsx Openings!A16: 'W07' stands in row 15 already; expected each one once. Rename or delete "
        "one of the rows." in problems_of(spoiled.house)
    )


def test_an_opening_too_high_in_a_raking_wall_is_told_the_height_there(spoiled):
    # seen from outside the left wall falls to the right: W05, 4.5 m along it and 1.5 m wide, has its low end
    # 7.2 - 4.5 - 1.5 = 1.2 m from the low wall, where the underside of two 45 mm plates stands at
    # 2.7 + 1.2 tan 5 deg - 2 x 0.045 / cos 5 deg = 2.715 m; sill 1.1 + height 2.0 + lintel 0.17 = 3.270 m
    place = spoiled.cell("Openings", "W05", "Height", 2.0)
    assert only(problems_of(spoiled.house)) == (
        f"heron_bank.xlsx Openings!{place}: opening W05 with its 170 mm lintel reaches 3.270 m in the left wall; "
        "expected at most 2.715 m, the underside of the top plates there. Lower it, or move it to where the wall "
        "is higher."
    )


def test_an_unknown_setting_of_an_option(spoiled):
    spoiled.edit(lambda book: book["Options"].append(["stud spacng", "mm", None, 600]))
    line = only(problems_of(spoiled.house))
    assert line.startswith("heron_bank.xlsx Options!A")
    assert line.endswith(
        ": unknown setting 'stud spacng'; expected a setting of the sheet House. Did you mean 'stud spacing'?"
    )


def test_a_setting_that_stands_twice_among_the_options(spoiled):
    spoiled.edit(lambda book: book["Options"].append(["pitch", "deg", None, 20]))
    line = only(problems_of(spoiled.house))
    assert line.startswith("heron_bank.xlsx Options!A")
    assert line.endswith(": 'pitch' stands here a second time; expected each setting once.")


def test_two_options_of_one_name(spoiled):
    spoiled.edit(lambda book: book["Options"].__setitem__("D4", "as DRAWN"))
    assert only(problems_of(spoiled.house)) == (
        "heron_bank.xlsx Options!D4: a second option named 'as DRAWN'; expected each name once."
    )


def test_an_option_without_a_name_is_not_passed_over(spoiled):
    def forget(book):
        sheet = book["Options"]
        header = next(row for row in sheet.iter_rows() if row[0].value == "Setting")
        pitch = next(row for row in sheet.iter_rows() if row[0].value == "pitch")
        sheet.cell(row=pitch[0].row, column=11, value=8)
        assert header[0].row == 4

    spoiled.edit(forget)
    assert only(problems_of(spoiled.house)) == (
        "heron_bank.xlsx Options!K4: values below, but no name of an option; expected a name in the header row. "
        "Name the option or clear its column."
    )


def test_an_option_named_by_a_formula_without_a_stored_result(spoiled):
    spoiled.edit(lambda book: book["Options"].__setitem__("D4", '="All"&" timber"'))
    assert only(problems_of(spoiled.house)) == (
        "heron_bank.xlsx Options!D4: a formula without a stored result; expected a value. Open the workbook in an "
        "office program, let it calculate, and save it."
    )


def test_own_rows_without_a_header_are_not_passed_over(spoiled):
    def behead(book):
        sheet = book["Prices"]
        header = next(row for row in sheet.iter_rows() if row[0].value == "Material")
        sheet.cell(row=header[0].row + 2, column=1, value="Plasterboard 12.5")
        sheet.cell(row=header[0].row + 2, column=2, value=99)
        for cell in header:
            cell.value = None

    spoiled.edit(behead)
    assert only(problems_of(spoiled.house)).startswith(
        "heron_bank.xlsx Prices!A1: no row with the column titles; expected a row with Material, Price,"
    )


@pytest.mark.parametrize(
    ("place", "value", "message"),
    [
        ("H12", None, "Spacing is blank; expected one, for 'battens at spacing'."),
        ("G12", None, "Direction is blank; expected one, for 'battens at spacing'."),
        ("I15", None, "Rate is blank; expected one, for 'coats'."),
        (
            "D8",
            "Glas wool batts",
            "'Glas wool batts' is not defined; expected a name from the column Material of the sheet Materials. "
            "Did you mean 'Glass wool batts'?",
        ),
    ],
)
def test_a_layer_that_says_too_little(spoiled, place, value, message):
    spoiled.edit(lambda book: book["Build-ups"].__setitem__(place, value))
    assert only(problems_of(spoiled.house)) == f"heron_bank.xlsx Build-ups!{place}: {message}"


def test_problems_are_sorted_by_row_as_a_number(spoiled):
    # as text row 16 would stand before row 6
    first, second = spoiled.setting("span", "x"), spoiled.setting("stud spacing", "x")
    assert (first, second) == ("B6", "B16")
    assert [line.split(":")[0] for line in problems_of(spoiled.house)] == [
        "heron_bank.xlsx House!B6",
        "heron_bank.xlsx House!B16",
    ]


@pytest.mark.parametrize("content", [b"", b"just text", b"PK\x03\x04 torn", None])
def test_issue_on_a_file_that_is_no_workbook_leaves_no_folder(tmp_path, content):
    path = tmp_path / "house.xlsx"
    if content is not None:
        path.write_bytes(content)
    before = sorted(tmp_path.iterdir())
    for arguments in (["issue", str(path)], ["issue", str(path), "--out", str(tmp_path / "out")]):
        result = CliRunner().invoke(app, arguments)
        assert (result.exit_code, result.stdout) == (1, "")
        assert result.stderr.endswith("\n1 problem.\n")
    assert sorted(tmp_path.iterdir()) == before


def test_the_command_itself_prints_no_traceback(spoiled):
    place = spoiled.setting("pitch", 60)
    done = subprocess.run(
        [sys.executable, "-m", "takeoff", "issue", str(spoiled.house)],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == (
        f"heron_bank.xlsx House!{place}: 60 deg; expected at least 1 deg and at most 35 deg.\n1 problem.\n"
    )


def test_a_workbook_really_encrypted(spoiled):
    # the test above makes the container by hand; where the encrypting package is installed, a real one is made
    ooxml = pytest.importorskip("msoffcrypto.format.ooxml")
    locked = spoiled.folder / "locked.xlsx"
    with spoiled.house.open("rb") as plain, locked.open("wb") as target:
        ooxml.OOXMLFile(plain).encrypt("a password", target)
    assert only(problems_of(locked)).startswith("locked.xlsx: it is protected with a password;")
