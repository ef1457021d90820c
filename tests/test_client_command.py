"""The command client, typed as an architect would."""

from __future__ import annotations

import io
import shutil
from pathlib import Path

import openpyxl
import pypdf
import pytest
from typer.testing import CliRunner

from takeoff.cli import app

LOGO = "bracken_and_tide.png"


def run(*arguments: object) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, [str(argument) for argument in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.stdout, result.stderr


@pytest.fixture
def house(tmp_path, demo_folder) -> Path:
    for name in ("dune_studio.xlsx", "factors.xlsx"):
        shutil.copy(demo_folder / name, tmp_path / name)
    return tmp_path / "dune_studio.xlsx"


def type_into(path: Path, **settings: str) -> dict[str, str]:
    """Type settings into the sheet Project, spaces written as underscores, and return the cells they stand in."""
    book = openpyxl.load_workbook(path)
    cells = {}
    for row in book["Project"].iter_rows():
        name = str(row[0].value).replace(" ", "_")
        if name in settings:
            row[1].value = settings[name]
            cells[name] = row[1].coordinate
    book.save(path)
    assert set(cells) == set(settings)
    return cells


def test_it_is_written_beside_the_workbook(house):
    code, out, err = run("client", house)
    path = house.parent / "dune_studio_client.pdf"
    assert (code, out, err) == (0, f"Wrote {path}.\n", "")
    reader = pypdf.PdfReader(path)
    assert len(reader.pages) == 5
    assert "Dune Studio" in reader.pages[0].extract_text()


def test_another_file_with_the_looks_of_the_practice(house, tmp_path, demo_folder):
    shutil.copy(demo_folder / LOGO, tmp_path / LOGO)
    type_into(house, practice_colour="#0F5E6B", logo=LOGO, client_options="all steel")
    path = tmp_path / "for_them.pdf"
    assert run("client", house, "--out", path)[0] == 0
    reader = pypdf.PdfReader(io.BytesIO(path.read_bytes()))
    assert len(reader.pages[0].images) == 1
    text = " ".join(reader.pages[1].extract_text().split())
    assert "Shown beside the base: All steel." in text


def test_a_file_of_another_kind_is_refused_before_any_work(house, tmp_path):
    path = tmp_path / "paper.docx"
    assert run("client", house, "--out", path) == (2, "", f"{path} has to end in .pdf.\n")
    assert run("client", house, "--out", house)[0] == 2
    assert not path.exists()


def test_a_folder_that_is_not_there_is_made(house, tmp_path):
    path = tmp_path / "new" / "paper.pdf"
    assert run("client", house, "--out", path)[0] == 0
    assert path.read_bytes().startswith(b"%PDF")


def test_a_colour_that_is_none_is_told_with_its_cell(house):
    cell = type_into(house, practice_colour="sea green")["practice_colour"]
    assert run("client", house) == (
        1,
        "",
        f"dune_studio.xlsx Project!{cell}: 'sea green' is no colour; expected # and six digits or letters from a to f, "
        "such as #2f5d62.\n1 problem.\n",
    )


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (None, "there is no such file"),
        (b"", "the file is neither PNG nor JPEG"),
        (b"GIF89a", "the file is neither PNG nor JPEG"),
        ("half", "the picture is damaged or cut short"),
        ("changed", "the picture is damaged or cut short"),
        (b"\xff\xd8\xff\xe0\x00\x10JFIF", "the picture is damaged or cut short"),
        (b"\x89PNG\r\n\x1a\n" + b"\0" * 5_000_000, "the file has 5.0 MB, more than 5 MB"),
    ],
)
def test_a_logo_that_can_not_be_used_is_told_with_its_cell(house, demo_folder, content, found):
    whole = (demo_folder / LOGO).read_bytes()
    if content == "half":
        content = whole[: len(whole) // 2]
    elif content == "changed":
        content = whole[:400] + bytes([whole[400] ^ 1]) + whole[401:]
    if content is not None:
        (house.parent / "mark.png").write_bytes(content)
    cell = type_into(house, logo="mark.png")["logo"]
    assert run("check", house) == (
        1,
        "",
        f"dune_studio.xlsx Project!{cell}: logo mark.png: {found}; expected a PNG or JPEG picture in the folder of "
        "this workbook.\n1 problem.\n",
    )


def test_a_jpeg_logo_is_read_with_its_size(house):
    from PIL import Image

    from takeoff.workbook.reading import read_job

    Image.new("RGB", (60, 20), "#0f5e6b").save(house.parent / "mark.jpg")
    type_into(house, logo="mark.jpg")
    logo = read_job(house).project.logo
    assert (logo.kind, logo.width, logo.height) == ("jpeg", 60, 20)
    assert logo.data == (house.parent / "mark.jpg").read_bytes()


@pytest.mark.parametrize(
    ("names", "message"),
    [
        (
            "All steal",
            "no option 'All steal'; expected names of options besides the base, separated by semicolons. Did you mean "
            "'All steel'?",
        ),
        (
            "As drawn",
            "'As drawn' is the base, which is always shown; expected names of options besides the base, separated by "
            "semicolons.",
        ),
        (
            "All steel; Studs at 600; Slab on ground; Plant-fibre insulation",
            "4 options to show the client; expected 3 at most; the base is always shown.",
        ),
    ],
)
def test_options_to_show_that_there_are_not_are_told_with_their_cell(house, names, message):
    cell = type_into(house, client_options=names)["client_options"]
    assert run("check", house) == (1, "", f"dune_studio.xlsx Project!{cell}: {message}\n1 problem.\n")


def test_the_logo_of_the_demo_is_the_one_that_its_script_draws(demo_folder):
    from importlib.util import module_from_spec, spec_from_file_location

    from takeoff.workbook.picture_file import read_picture

    spec = spec_from_file_location("draw_logo", demo_folder / "draw_logo.py")
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    made = module.logo_png()
    assert made == module.logo_png()
    picture = read_picture(demo_folder / LOGO)
    assert (picture.kind, picture.width, picture.height) == ("png", 240, 240)
    # packed anew by another machine the bytes may differ, the picture may not
    assert made[:33] == picture.data[:33]
