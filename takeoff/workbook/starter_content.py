"""The content that a new workbook starts with: Heron Bank, an invented house, and its factors."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable

from takeoff.workbook.factors_sheets import FACTORS_WORKBOOK
from takeoff.workbook.fields import WorkbookLayout
from takeoff.workbook.house_sheets import HOUSE_WORKBOOK, PROJECT

Rows = list[list[str]]

# Sheets that other invented houses take from the starter where they have none of their own.
_COMMON = ("Build-ups", "Palettes", "Framing", "Lintels")


@dataclass(frozen=True, slots=True, kw_only=True)
class StarterBook:
    """A workbook ready to be written: its layout, the rows of its sheets, its title, what is said of it."""

    layout: WorkbookLayout
    content: Mapping[str, Rows]
    title: str
    example: str


def file_name(sheet_title: str) -> str:
    """Return the name of the file that holds the content of a sheet: `Build-ups` gives `build_ups.csv`."""
    return re.sub(r"[\s-]+", "_", sheet_title.lower()) + ".csv"


def read_content(layout: WorkbookLayout, folder: str) -> dict[str, Rows]:
    """Return the rows of each sheet of a layout that has a file in a folder of `starter`, all as text."""
    return read_folder(layout, files("takeoff.workbook.starter") / folder)


def read_folder(layout: WorkbookLayout, home: Traversable) -> dict[str, Rows]:
    """Return the rows of each sheet of a layout that has a file in a folder, all as text."""
    content: dict[str, Rows] = {}
    for sheet in layout.sheets:
        file = home / file_name(sheet.title)
        if file.is_file():
            content[sheet.title] = list(csv.reader(io.StringIO(file.read_text(encoding="utf-8"))))
    return content


def house_starter() -> StarterBook:
    """Return the house workbook that a new project starts with."""
    content = read_content(HOUSE_WORKBOOK, "house")
    return StarterBook(
        layout=HOUSE_WORKBOOK,
        content=content,
        title=f"{project_setting(content, 'name')}: house workbook",
        example=f"It is filled in as an example: {project_setting(content, 'name')}, a house that nobody has "
        "built. House, place, people and prices are invented. Type your own house over it, cell by cell.",
    )


def example_house(own: Mapping[str, Rows]) -> StarterBook:
    """Return the workbook of another invented house, from the rows of its own sheets by their titles.

    Build-ups, palettes, framing practices and lintels come from the starter where it has none of its own;
    every other sheet without rows stays blank, so that nothing of Heron Bank's plan is left in it.
    """
    starter = read_content(HOUSE_WORKBOOK, "house")
    content = {**{title: starter[title] for title in _COMMON}, **own}
    name = project_setting(content, "name")
    return StarterBook(
        layout=HOUSE_WORKBOOK,
        content=content,
        title=f"{name}: house workbook",
        example=f"{name} is a house that nobody has built. House, place, people and prices are invented.",
    )


def factors_starter() -> StarterBook:
    """Return the factors workbook that a new project starts with."""
    return StarterBook(
        layout=FACTORS_WORKBOOK,
        content=read_content(FACTORS_WORKBOOK, "factors"),
        title="Factors workbook",
        example="It is filled in as an example. All prices, hours of labour, rates of gangs and steps of the "
        "cost ladder are invented for the demo: put your own in their place before you rely on any "
        "sum of money. Carbon factors, densities, service lives, ends of life, spreads and benchmarks name their "
        "source and their standing.",
    )


def project_setting(content: Mapping[str, Rows], name: str) -> str:
    """Return the value of a setting of the Project sheet, by the name of its field."""
    title = PROJECT.field(name).title
    return next((row[1] for row in content["Project"][1:] if row[0] == title), "")
