"""Writes new workbooks: from a layout and its content, and the pair that a new project starts with."""

from __future__ import annotations

import io
import os
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from takeoff.workbook.about_sheet import write_about
from takeoff.workbook.cell_styles import add_styles
from takeoff.workbook.fields import WorkbookLayout
from takeoff.workbook.lists_sheet import LISTS_HELP, needs_lists, write_lists
from takeoff.workbook.sheet_plan import plan_sheets
from takeoff.workbook.sheet_writing import write_sheet
from takeoff.workbook.starter_content import (
    StarterBook,
    factors_starter,
    house_starter,
    project_setting,
)

# The date of making written into every workbook: the same content always gives the same bytes.
_MADE = datetime(2026, 1, 1)


class WorkbookExistsError(FileExistsError):
    """A new workbook would take the place of a file."""


class WorkbookNameError(ValueError):
    """A new workbook cannot have the name it was given."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StarterFiles:
    """The workbooks of a new project: where they are, and whether the factors workbook was there before."""

    house: Path
    factors: Path
    factors_kept: bool


def workbook_bytes(
    layout: WorkbookLayout, content: Mapping[str, list[list[str]]], *, title: str, example: str = ""
) -> bytes:
    """Return a workbook (.xlsx) of all sheets of a layout, filled with content, as bytes.

    `content` has the rows of a sheet by its title, all as text: titles, units below them (tables), then
    records. `title` is the title of the document, `example` what the sheet About says of the content.

    Raises ContentError where the content does not fit the layout.
    """
    from xlsxwriter import Workbook

    sheets = plan_sheets(layout, content)
    made = io.BytesIO()
    settings = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    with Workbook(made, settings) as book:
        book.set_properties({"title": title, "created": _MADE})
        styles = add_styles(book)
        lists = LISTS_HELP if needs_lists(sheets) else ""
        write_about(book, styles, layout, title=title, example=example, lists=lists, footer=title)
        for planned in sheets.values():
            write_sheet(book, styles, planned, sheets, footer=title)
        if lists:
            write_lists(book, styles, sheets, footer=title)
    return made.getvalue()


def write_workbook(
    path: Path,
    layout: WorkbookLayout,
    content: Mapping[str, list[list[str]]],
    *,
    title: str,
    example: str = "",
) -> None:
    """Write a workbook to a file, whole or not at all; a file of that name is replaced.

    Arguments as for `workbook_bytes`.
    """
    _write_whole(path, workbook_bytes(layout, content, title=title, example=example))


def write_book(path: Path, book: StarterBook) -> None:
    """Write a workbook that is ready to be written; a file of that name is replaced."""
    write_workbook(path, book.layout, book.content, title=book.title, example=book.example)


def write_starter(house_path: Path) -> StarterFiles:
    """Write the house workbook of a new project and, beside it, the factors workbook that it names.

    A factors workbook that stands there already is left alone, since other houses may share it.

    Raises WorkbookExistsError where the house workbook exists already, WorkbookNameError where its name
    does not end in .xlsx or is that of the factors workbook, FileNotFoundError where there is no folder.
    """
    house = house_starter()
    factors_path = house_path.with_name(project_setting(house.content, "factors_workbook"))
    if house_path.suffix.lower() != ".xlsx":
        raise WorkbookNameError(f"{house_path.name}: the name of a workbook has to end in .xlsx.")
    if house_path.name.lower() == factors_path.name.lower():
        raise WorkbookNameError(f"{house_path.name} is the name of the factors workbook; choose another one.")
    if not house_path.parent.is_dir():
        raise FileNotFoundError(f"There is no folder {house_path.parent}; make it first.")
    if house_path.exists():
        raise WorkbookExistsError(f"{house_path} exists already and is left as it is; choose another name.")
    kept = factors_path.exists()
    if not kept:
        write_book(factors_path, factors_starter())
    write_book(house_path, house)
    return StarterFiles(house=house_path, factors=factors_path, factors_kept=kept)


def _write_whole(path: Path, content: bytes) -> None:
    """Write a file by way of another one beside it, so that nothing half written is ever left."""
    beside = path.with_name(f".{path.name}.{os.getpid()}.tmp")
    try:
        beside.write_bytes(content)
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)
