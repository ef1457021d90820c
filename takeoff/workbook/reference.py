"""The guide's reference page: sheets, columns, settings, ways of measuring, made from the declarations."""

from __future__ import annotations

from collections.abc import Iterable

from takeoff.model.measuring_ways import WAYS, MeasuringWay
from takeoff.workbook.factors_sheets import FACTORS_WORKBOOK
from takeoff.workbook.field_words import choice_words, need_words, unit_words
from takeoff.workbook.fields import Field, Sheet, WorkbookLayout
from takeoff.workbook.house_sheets import HOUSE_WORKBOOK

_INTRODUCTION = """\
# Reference: the sheets and their columns

This page is made from the same declarations by which the workbooks are written and read; a test keeps it
up to date. How a house is described step by step stands in the other pages of the guide.

- A **table** has its column titles in one row, their units in the row below, and one record in each row
  after that. The order of the columns is free; a column that may be blank must still be there.
- A sheet of **settings** has one setting in each row: setting, value, unit, note.
- A number is in the unit above it (tables) or beside it (settings). A unit typed in the cell itself, such
  as `145 mm`, wins over that. The unit given below is the one that a new workbook shows; any other unit of
  the same kind will do.
- **Required**: may not be blank. **Blank: 50 mm** means that a blank is read as 50 mm."""

_OPTIONS = """\
| Column | What it is |
| --- | --- |
| Setting | A setting of the sheet House, spelt as there, or `description`: what the option is, in one line. |
| Unit | Unit of the row, where the setting has one. |
| every further column | One option: its name in the header, the settings it changes below. \
The first is the base. |"""

_WAYS_INTRODUCTION = """\
## Ways of measuring a layer

What may stand in the column Measured by of the sheet Build-ups. The unit is the one that the layer is
measured, priced and counted in. *Needs* names what must be filled in for it: columns of the sheet
Build-ups, or sizes of the material in the sheet Materials."""


def reference_markdown() -> str:
    """Return the reference page as Markdown: every sheet of both workbooks, then the ways of measuring."""
    blocks = [_INTRODUCTION, *_workbook(HOUSE_WORKBOOK), *_workbook(FACTORS_WORKBOOK), *_ways()]
    return "\n\n".join(blocks) + "\n"


def _workbook(layout: WorkbookLayout) -> list[str]:
    """Return the section of one workbook.

    A sheet that another workbook has too is described with the workbook it belongs to.
    """
    blocks = [f"## {layout.title}"]
    for sheet in layout.sheets:
        if not sheet.shared:
            blocks += [f"### {sheet.title}", sheet.help, _fields(sheet)]
    shared = [sheet.title for sheet in layout.sheets if sheet.shared]
    if shared:
        blocks += [
            "### Rows for one house alone",
            f"The sheets {_listed(shared)} may stand in the house workbook too, with the columns "
            "they have in the factors workbook. Rows there win over all rows of the same name in the "
            "factors workbook. These sheets may be blank or left out.",
        ]
    return blocks


def _fields(sheet: Sheet) -> str:
    """Return the table of the columns or settings of a sheet."""
    if sheet.layout == "options":
        return _OPTIONS
    first = "Column" if sheet.layout == "table" else "Setting"
    return _table(
        (first, "What it is", "Unit", "Choices and limits", "Required or default"),
        (
            (field.title, field.help, unit_words(field, sheet), _limits(field), need_words(field))
            for field in sheet.fields
        ),
    )


def _limits(field: Field) -> str:
    """Return the choices or limits of a field, the ways of measuring by a link to their own table."""
    if field.choices == tuple(WAYS):
        return "One of the [ways of measuring](#ways-of-measuring-a-layer)"
    return choice_words(field)


def _ways() -> list[str]:
    """Return the section of the ways of measuring."""
    rows = ((way.name, way.unit, ", ".join(way.parts), way.help, _needs(way)) for way in WAYS.values())
    return [
        _WAYS_INTRODUCTION,
        _table(("Measured by", "Unit", "Parts it is used for", "What is measured", "Needs"), rows),
    ]


def _needs(way: MeasuringWay) -> str:
    """Return what a way of measuring needs, by the titles of the columns."""
    materials = FACTORS_WORKBOOK.sheet("Materials")
    columns = (
        ("Direction", way.needs_direction),
        ("Spacing", way.needs_spacing),
        ("Rate", way.needs_rate),
    )
    needs = [title for title, needed in columns if needed]
    sizes = [materials.field(name).title.lower() for name in way.material_needs]
    return ", ".join([*needs, *([f"{_listed(sizes)} of the material"] if sizes else [])])


def _listed(words: list[str]) -> str:
    """Return words as a list in a sentence: `a, b and c`."""
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _table(titles: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> str:
    """Return a table in Markdown; a bar in a text is kept from ending its cell."""
    lines = [titles, ("---",) * len(titles), *rows]
    return "\n".join("| " + " | ".join(cell.replace("|", "\\|") for cell in line) + " |" for line in lines)
