"""What tests of the schedule share: the studio with every kind of step and override, and an engine that recalculates.

The engine is the general-purpose package formulas, which ignores the values stored in a workbook.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import formulas
import openpyxl
import pytest
from openpyxl.formula import Tokenizer
from openpyxl.utils import column_index_from_string

from takeoff.assess.allowances import measured_works, sums_allowed
from takeoff.assess.ladder import climb
from takeoff.assess.totals import total, totals_by
from takeoff.compare.evaluate import Result, evaluate
from takeoff.documents.schedule import schedule_workbook
from takeoff.model.bill import Override
from takeoff.model.job import Job
from takeoff.model.library import ELEMENTS, TRADES, LadderStep
from takeoff.workbook.reading import read_job

Cell = tuple[str, str]

# every kind of step, each base named at least once
LADDER = (
    LadderStep(name="Site establishment", kind="sum", value=4000.0, base=None, note=""),
    LadderStep(name="Preliminaries", kind="percentage", value=0.12, base="measured works", note=""),
    LadderStep(name="Attendance", kind="percentage", value=0.02, base="works and sums", note=""),
    LadderStep(name="Overhead", kind="markup", value=0.20, base="running total", note=""),
    LadderStep(name="Profit", kind="margin", value=0.20, base="running total", note=""),
    LadderStep(name="Escalation", kind="index ratio", value=1.03, base=None, note=""),
    LadderStep(name="Tax", kind="tax", value=0.10, base="running total", note=""),
)


def overridden(id: str, figure: Any, value: float, unit: str = "") -> Override:
    return Override(
        id=id, figure=figure, value=value, unit=unit, reason="as counted", who="A. Rush", date="2026-09-01"
    )


OVERRIDES = (
    overridden("RF.slope.profiled-steel-roof-sheet-0.42-colour-coated", "quantity", 60.0, "m2"),
    overridden("EW.OUT.wall-wrap-vapour-open", "wastage", 0.2),
    overridden("ED.d01", "rate", 900.0, "m2"),
)


@dataclass
class Engine:
    """A workbook that the engine has loaded; `values` recalculates all of it with some cells changed."""

    data: bytes
    folder: Path
    file: str = "schedule.xlsx"
    model: Any = field(init=False)

    def __post_init__(self) -> None:
        path = self.folder / self.file
        path.write_bytes(self.data)
        self.model = formulas.ExcelModel().loads(str(path)).finish()

    def key(self, cell: Cell) -> str:
        return f"'[{self.file}]{cell[0].upper()}'!{cell[1]}"

    def values(self, changes: Mapping[Cell, object] | None = None) -> Callable[[str, str], Any]:
        inputs = {self.key(cell): value for cell, value in (changes or {}).items()}
        solution = self.model.calculate(inputs=inputs)

        def value(sheet: str, cell: str) -> Any:
            return solution[self.key((sheet, cell))].value[0, 0]

        return value


@pytest.fixture(scope="session")
def studio(demo_folder: Path) -> tuple[Job, Result]:
    """Return the studio with every kind of step in its ladder and every kind of override."""
    job = read_job(demo_folder / "dune_studio.xlsx")
    job = replace(job, library=replace(job.library, ladder=LADDER), overrides=OVERRIDES)
    return job, evaluate(job, job.base)


@pytest.fixture(scope="session")
def studio_schedule(studio: tuple[Job, Result]) -> bytes:
    return schedule_workbook(*studio)


# a few items of every kind: enough for every control, few enough to recalculate often
KEPT = re.compile(
    r"^(.*\.FR\..*|RF\.slope\.(roof-underlay|profiled).*|EW\.CL\.\w+\.(?!.*(nails|paint|vented|corner|batten)).*|"
    r"EW\.OUT\..*|FF\..*|WN\..*|ED\..*|PR\..*|SV\..*|SW\..*)$"
)


@pytest.fixture(scope="session")
def small(studio: tuple[Job, Result]) -> tuple[Job, Result]:
    """Return the studio with a part of its items only, its totals those of that part."""
    job, result = studio
    lines = [line for line in result.lines if KEPT.match(line.quantity.id)]
    kept = {line.quantity.id for line in lines}
    totals = total(lines)
    return job, replace(
        result,
        lines=tuple(lines),
        totals=totals,
        by_element=totals_by(lines, lambda line: line.quantity.element_name, ELEMENTS.values()),
        by_trade=totals_by(lines, lambda line: line.quantity.trade, TRADES),
        ladder=climb(measured_works(lines), job.library.ladder, sums_allowed(lines)),
        plans=tuple(plan for plan in result.plans if kept.issuperset(plan.items_of)),
        allowances=tuple(each for each in result.allowances if each.line.quantity.id in kept),
    )


@pytest.fixture(scope="session")
def small_schedule(small: tuple[Job, Result]) -> bytes:
    return schedule_workbook(*small)


@pytest.fixture(scope="session")
def small_engine(small_schedule: bytes, engine_of: Callable[[bytes], Engine]) -> Engine:
    return engine_of(small_schedule)


@pytest.fixture(scope="session")
def engine_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[[bytes], Engine]:
    return lambda data: Engine(data, tmp_path_factory.mktemp("engine"))


@pytest.fixture(scope="session")
def engine(studio_schedule: bytes, engine_of: Callable[[bytes], Engine]) -> Engine:
    return engine_of(studio_schedule)


def load(data: bytes, *, stored: bool = False) -> openpyxl.Workbook:
    return openpyxl.load_workbook(io.BytesIO(data), data_only=stored)


@pytest.fixture(scope="session")
def opened() -> Callable[..., openpyxl.Workbook]:
    return load


def _named(data: bytes) -> dict[str, Cell]:
    """Return the cells that have defined names, ranges left out."""
    cells = {}
    for name, defined in load(data).defined_names.items():
        sheet, _, place = defined.attr_text.rpartition("!")
        if ":" not in place:
            cells[name] = (sheet.strip("'"), place.replace("$", ""))
    return cells


@pytest.fixture(scope="session")
def named() -> Callable[[bytes], dict[str, Cell]]:
    return _named


def _columns(data: bytes, sheet: str, header: int = 4) -> dict[str, str]:
    """Return the letters of the columns of a sheet by title, the first of each."""
    found: dict[str, str] = {}
    for cell in load(data)[sheet][header]:
        if cell.value:
            found.setdefault(str(cell.value), cell.column_letter)
    return found


@pytest.fixture(scope="session")
def columns() -> Callable[..., dict[str, str]]:
    return _columns


def _row_of(data: bytes, sheet: str, column: str, value: object) -> int:
    """Return the first row of a sheet that holds a value in a column."""
    return next(cell.row for cell in load(data)[sheet][column] if cell.value == value)


@pytest.fixture(scope="session")
def row_of() -> Callable[..., int]:
    return _row_of


_REFERENCE = re.compile(
    r"(?:(?P<sheet>'[^']+'|[A-Za-z_]+)!)?(?P<cells>\$?[A-Z]+\$?\d+(?::\$?[A-Z]+\$?\d+)?)$"
)


def _shifted(formula: str, own: str, sheet: str, row: int) -> str:
    """Return a formula as an office program leaves it when a row is inserted above a row of a sheet."""
    tokens = Tokenizer(formula)
    for token in tokens.items:
        match = _REFERENCE.match(token.value) if token.type == "OPERAND" else None
        if match and (match["sheet"] or own).strip("'") == sheet:
            cells = re.sub(
                r"\d+",
                lambda found: str(int(found[0]) + (int(found[0]) >= row)),
                match["cells"],
            )
            token.value = f"{match['sheet']}!{cells}" if match["sheet"] else cells
    return tokens.render()


def _with_row(data: bytes, sheet: str, row: int, cells: Mapping[str, object], like: int) -> bytes:
    """Return a workbook with a row inserted above a row of a sheet, its formulas copied from the row `like`.

    `cells` are the values typed into the new row, by column.
    """
    book = load(data)
    paper = book[sheet]
    copied = {
        cell.column_letter: _moved(cell.value, row - like)
        for cell in paper[like]
        if isinstance(cell.value, str) and cell.value.startswith("=")
    }
    paper.insert_rows(row)
    for each in book:
        for line in each.iter_rows():
            for cell in line:
                if isinstance(cell.value, str) and cell.value.startswith("="):
                    cell.value = _shifted(cell.value, each.title, sheet, row)
    for defined in book.defined_names.values():
        defined.attr_text = _shifted(f"={defined.attr_text}", "", sheet, row)[1:]
    for column, value in {**copied, **cells}.items():
        paper.cell(row, column_index_from_string(column)).value = value  # type: ignore[union-attr]
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _moved(formula: str, rows: int) -> str:
    """Return a formula copied some rows down."""
    tokens = Tokenizer(formula)
    for token in tokens.items:
        if token.type == "OPERAND" and _REFERENCE.match(token.value) and "!" not in token.value:
            token.value = re.sub(r"(?<![$\d])\d+", lambda found: str(int(found[0]) + rows), token.value)
    return tokens.render()


@pytest.fixture(scope="session")
def with_row() -> Callable[..., bytes]:
    return _with_row
