"""Reads a house workbook with its factors workbook into a job, or raises with everything wrong with them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from takeoff.model.house import BuildUp, Design
from takeoff.model.job import Job
from takeoff.model.problem import Origin, WorkbookProblem
from takeoff.workbook.bill_reading import (
    build_information,
    build_issues,
    build_overrides,
    build_queries,
    build_to_take,
)
from takeoff.workbook.bill_sheets import INFORMATION, ISSUES, OVERRIDES, QUERIES, TO_TAKE
from takeoff.workbook.build_up_reading import read_build_ups
from takeoff.workbook.client_reading import client_problems, read_logo
from takeoff.workbook.fabric_reading import build_fabric, fabric_problems
from takeoff.workbook.fabric_sheets import FABRIC
from takeoff.workbook.factors_reading import build_library, ladder_problems
from takeoff.workbook.factors_sheets import FACTORS_WORKBOOK
from takeoff.workbook.fields import Sheet
from takeoff.workbook.grid import Book, WorkbookError, open_book
from takeoff.workbook.house_reading import (
    build_house,
    build_lintels,
    build_openings,
    build_options,
    build_palettes,
    build_practices,
    build_project,
)
from takeoff.workbook.house_sheets import (
    BUILD_UPS,
    HOUSE,
    HOUSE_WORKBOOK,
    LINTELS,
    OPENINGS,
    OPTIONS,
    PALETTES,
    PROJECT,
)
from takeoff.workbook.inside_reading import (
    build_allowances,
    build_bulkheads,
    build_internal_doors,
    build_rooms,
    build_wall_choices,
    is_internal,
)
from takeoff.workbook.inside_sheets import ALLOWANCES, BULKHEADS, INTERNAL_WALLS, ROOMS
from takeoff.workbook.life_cycle_checks import discount_problems, life_cycle_problems, scenario_problems
from takeoff.workbook.life_cycle_reading import build_study
from takeoff.workbook.life_cycle_sheets import END_OF_LIFE
from takeoff.workbook.options_sheet import OptionColumn, read_options
from takeoff.workbook.references import (
    Names,
    check_name,
    check_part,
    check_parts,
    check_references,
    defined_names,
)
from takeoff.workbook.settings import read_settings
from takeoff.workbook.stock_reading import stock_problems
from takeoff.workbook.study_sheet import STUDY
from takeoff.workbook.tables import Reading, Record, read_table

Tables = dict[str, "list[Record] | None"]
Settings = Mapping[str, Record]

# stands for the rows of a sheet that is missing
_NOTHING = Record({}, Origin(), complete=False)
_MAY_BE_EMPTY = (ROOMS.title,)


def read_job(path: Path) -> Job:
    """Read a house workbook and the factors workbook that its Project sheet names.

    Rows in the house workbook's own Materials, Prices, Stock, Carbon factors, Service lives and Sources sheets win
    over the practice's. Raises WorkbookError with every problem found in either.
    """
    reading = Reading()
    house_book = open_book(path)
    project = read_settings(house_book, PROJECT, reading)
    house = read_settings(house_book, HOUSE, reading)
    study = read_settings(house_book, STUDY, reading)
    fabric = read_settings(house_book, FABRIC, reading)
    own = _read_tables(house_book, HOUSE_WORKBOOK.sheets, reading)
    columns = read_options(house_book, OPTIONS, HOUSE, reading)
    factors = _read_factors(path, project, reading)
    tables: Tables = {**own, **_merged(own, factors)}
    build_ups = _check(house, tables, columns, reading)
    reading.problems += scenario_problems(study, tables.get(END_OF_LIFE.title)) + discount_problems(study)
    design = None if house is None else _design(house, tables, build_ups, reading)
    allowances, problems = build_allowances(tables.get(ALLOWANCES.title) or [])
    reading.problems += problems
    names = None if columns is None else [column.name for column in columns]
    logo = None
    if project is not None:
        logo, problems = read_logo(project, path.parent)
        reading.problems += [*problems, *client_problems(project, names)]
    overrides, problems = build_overrides(tables.get(OVERRIDES.title) or [], names)
    reading.problems += problems
    information, problems = build_information(tables.get(INFORMATION.title) or [])
    reading.problems += problems
    if reading.problems or design is None or project is None or columns is None:
        raise WorkbookError(reading.problems, design if _can_be_set_out(design, tables) else None)
    return Job(
        project=build_project(project, logo),
        design=design,
        options=build_options(columns),
        library=build_library(tables),
        allowances=tuple(allowances),
        study=build_study(study),
        fabric=build_fabric(fabric),
        overrides=tuple(overrides),
        queries=build_queries(tables.get(QUERIES.title) or []),
        to_take=build_to_take(tables.get(TO_TAKE.title) or []),
        information=tuple(information),
        issues=build_issues(tables.get(ISSUES.title) or []),
    )


def _can_be_set_out(design: Design | None, tables: Tables) -> bool:
    """Whether enough of a faulty workbook is sound to check its openings and settings against each other."""
    if design is None:
        return False
    sound = all(
        record.complete
        for title in (PALETTES.title, "Framing", LINTELS.title, *_MAY_BE_EMPTY)
        for record in tables[title] or ([] if title in _MAY_BE_EMPTY else [_NOTHING])
    )
    house = design.house
    named = house.framing_practice in design.practices and house.palette in design.palettes
    return sound and named and house.floor in design.build_ups


def _read_tables(book: Book, sheets: tuple[Sheet, ...], reading: Reading) -> Tables:
    """Read every table sheet of a workbook."""
    return {sheet.title: read_table(book, sheet, reading) for sheet in sheets if sheet.layout == "table"}


def _read_factors(path: Path, project: Settings | None, reading: Reading) -> Tables:
    """Read the factors workbook beside the house workbook; nothing where the project does not name it."""
    record = None if project is None else project["factors_workbook"]
    if record is None or not record.values["value"]:
        return {}
    try:
        book = open_book(path.parent / str(record.values["value"]))
    except WorkbookError as error:
        for problem in error.problems:
            reading.problems.append(
                WorkbookProblem(
                    record.origin.sheet,
                    record.origin.cell("value"),
                    f"factors workbook {problem.book}: {problem.found}",
                    problem.expected,
                    problem.mend,
                    record.origin.book,
                )
            )
        return {}
    return _read_tables(book, FACTORS_WORKBOOK.sheets, reading)


def _merged(own: Tables, factors: Tables) -> Tables:
    """Return the factors tables with the house's own rows after the practice's, so that they win.

    A sheet that the practice's workbook lacks stays missing, so that names are not looked for in vain; one
    that it may leave out holds the house's own rows alone.
    """
    merged: Tables = {}
    for sheet in FACTORS_WORKBOOK.sheets:
        practice = factors.get(sheet.title)
        if practice is None and sheet.optional:
            practice = []
        merged[sheet.title] = None if practice is None else [*practice, *(own.get(sheet.title) or [])]
    return merged


def _check(
    house: Settings | None, tables: Tables, columns: list[OptionColumn] | None, reading: Reading
) -> dict[str, BuildUp]:
    """Check every name across the sheets, and put the build-ups together."""
    sheets = {s.title: s for s in (*HOUSE_WORKBOOK.sheets, *FACTORS_WORKBOOK.sheets)}
    names = defined_names(tables, sheets)
    for title, records in tables.items():
        reading.problems += check_references(sheets[title], records, names)
    materials = {str(r.values["name"]): r for r in tables.get("Materials") or []}
    rows = tables[BUILD_UPS.title]
    build_ups, problems = read_build_ups(rows or [], materials)
    reading.problems += problems + ladder_problems(tables.get("Cost ladder"))
    reading.problems += stock_problems(tables.get("Stock"), materials) + life_cycle_problems(tables)
    reading.problems += fabric_problems(tables)
    parts = None
    if rows is not None:
        parts = {str(r.values["build_up"]): str(r.values["part"]) for r in rows if r.values.get("build_up")}
    _check_settings(house, columns, names, parts, reading)
    for title, records in tables.items():
        reading.problems += check_parts(sheets[title], records or [], parts)
    return build_ups


def _check_settings(
    house: Settings | None,
    columns: list[OptionColumn] | None,
    names: Names,
    parts: Mapping[str, str] | None,
    reading: Reading,
) -> None:
    """Check the names that settings and options use."""
    places = [(name, r.values["value"], r.origin) for name, r in (house or {}).items()]
    for column in columns or []:
        places += [(name, value, column.cells[name]) for name, value in column.changes.items()]
    for name, value, origin in places:
        if value is None:
            continue
        field = HOUSE.field(name)
        if field.part:
            reading.problems += check_part(str(value), field.part, parts, origin, "value")
        else:
            reading.problems += check_name(field, str(value), origin, "value", names)


def _design(
    settings: Settings, tables: Tables, build_ups: dict[str, BuildUp], reading: Reading
) -> Design | None:
    """Return the design; None where a setting that it needs could not be read."""
    if any(HOUSE.field(name).required and not record.complete for name, record in settings.items()):
        return None
    house = build_house(settings)
    rows = tables[OPENINGS.title] or []
    openings, opening_problems = build_openings([row for row in rows if not is_internal(row)], house)
    doors, door_problems = build_internal_doors([row for row in rows if is_internal(row)])
    palettes, palette_problems = build_palettes(tables[PALETTES.title] or [])
    reading.problems += opening_problems + door_problems + palette_problems
    return Design(
        house=house,
        openings=tuple(openings),
        rooms=build_rooms(tables.get(ROOMS.title) or []),
        bulkheads=build_bulkheads(tables.get(BULKHEADS.title) or []),
        wall_choices=build_wall_choices(tables.get(INTERNAL_WALLS.title) or []),
        internal_doors=tuple(doors),
        build_ups=build_ups,
        palettes=palettes,
        practices=build_practices(tables["Framing"] or []),
        lintels=build_lintels(tables[LINTELS.title] or []),
    )
