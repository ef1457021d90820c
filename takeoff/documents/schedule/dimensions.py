"""The sheet Dimensions: dimension paper with every squaring a live formula."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.grid import Column, Line, Paper, Row, Section, Total, write_table
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet
from takeoff.measure.quantity import Dimension
from takeoff.measure.side_calculation import SideRule

TITLE = "Dimensions"
HELP = (
    "Dimension paper: timesing x dimensions, squared and signed; net as fixed in position, in m, m2, m3 or Nr. Ddt: "
    "deducted; nil: a void that the void rule leaves undeducted. A dimension that a side calculation leads to takes "
    "its figure from there. To add a line, insert a row above the total of its item and give it the number of the item."
)
COLUMNS = (
    Column(key="item", title="Item", width=6, look="count", name="Dim_item"),
    Column(key="id", title="Id", width=28, look="small"),
    Column(key="timesing", title="Timesing", width=9, look="dimension", role="input"),
    Column(key="a", title="Dimension", width=10, look="dimension", role="input"),
    Column(key="b", title="by", width=10, look="dimension", role="input"),
    Column(key="c", title="by", width=10, look="dimension", role="input"),
    Column(key="sign", title="Add or Ddt", width=8, role="input", name="Dim_sign"),
    Column(
        key="squaring",
        title="Squaring",
        width=11,
        look="squaring",
        role="computed",
        formula="=PRODUCT([timesing],[a],[b],[c])*SUMIFS(Sign_values,Sign_words,[sign])",
        name="Dim_squaring",
    ),
    Column(key="total", title="Net", width=11, look="quantity", role="computed", name="Dim_total"),
    Column(key="unit", title="Unit", width=6),
    Column(key="description", title="Description", width=46),
    Column(key="working", title="Side calculation", width=38),
    Column(key="p", title="Number", width=8, look="dimension", role="input"),
    Column(key="q", title="Number", width=8, look="dimension", role="input"),
    Column(key="r", title="Number", width=8, look="dimension", role="input"),
    Column(key="s", title="Pitch", width=8, look="dimension", role="input"),
    Column(key="result", title="Result", width=9, look="dimension", role="computed"),
    Column(key="rule", title="Void rule", width=20, look="small"),
    Column(key="drawings", title="Drawing and revision", width=20, look="small"),
    Column(key="by", title="Measured by", width=9, look="small"),
    Column(key="opening", title="Opening, number", width=9, look="count", name="Dim_opening"),
    Column(key="control", title="For control", width=14, look="small", name="Dim_control"),
)
# what stands beside is told in the heading of each item as well
_PRINTED = next(place for place, column in enumerate(COLUMNS) if column.key == "rule")
_RESULTS: dict[SideRule, str] = {
    "mean": "=AVERAGE([p]:[q])",
    "under the slope": "=[p]+[q]*TAN(RADIANS([s]))",
    "on the slope": "=SUM([p]:[r])/COS(RADIANS([s]))",
    "centre line": "=SUM([p]:[q],[p]:[q])-SUM([r],[r],[r],[r])",
}


def write_dimensions(
    paper: Paper, rows: Sequence[BillRow], controls: dict[str, str], openings: dict[str, int], *, footer: str
) -> None:
    """Write the sheet; `controls` tag items by id, `openings` number the marks of openings."""
    sheet = new_sheet(paper, TITLE, HELP, COLUMNS)
    placed = write_table(paper, sheet, HEADER_ROW, COLUMNS, list(_rows(rows, controls, openings)))
    finish(sheet, COLUMNS, footer=footer, last=placed.last, printed=_PRINTED, frozen=2, filtered=True)


def _rows(rows: Sequence[BillRow], controls: dict[str, str], openings: dict[str, int]) -> Iterator[Row]:
    """Yield the rows of all items: a heading, the dimensions, the total of each."""
    element = ""
    for row in rows:
        quantity = row.line.quantity
        heading: dict[str, str | float | None] = {
            "item": row.number,
            "id": row.id,
            "description": "; ".join(
                text
                for text in (quantity.description, quantity.location, _void_rule(row), row.drawings)
                if text
            ),
            "rule": _void_rule(row),
            "drawings": row.drawings,
            "by": row.measured_by,
            "unit": quantity.unit,
        }
        yield Section("", heading, new_page=row.element != element)
        element = row.element
        for dimension in quantity.dimensions:
            yield _line(row, dimension, controls.get(row.id, ""), openings.get(dimension.opening))
        yield Total(
            f"item {row.number}",
            {"total": "squaring"},
            {"total": row.measured},
            unit=("unit", quantity.unit),
        )


def _void_rule(row: BillRow) -> str:
    """Return the void rule an item was measured by, in words."""
    smallest = row.line.quantity.void_rule
    return "" if smallest is None else f"voids over {smallest:.2f} m2, and all at an edge"


def _line(row: BillRow, dimension: Dimension, control: str, opening: int | None) -> Line:
    """Return one line of dimension paper."""
    side = dimension.side
    values: dict[str, str | float | None] = {
        "item": row.number,
        "timesing": dimension.timesing,
        "a": dimension.a,
        "b": dimension.b,
        "c": dimension.c,
        "sign": "nil" if dimension.nil else "Ddt" if dimension.deducted else "add",
        "squaring": dimension.squaring,
        "description": dimension.note,
        "opening": opening,
        "control": control,
    }
    if side is None:
        return Line(values)
    # lengths go from the left, the pitch of a slope stands in the last cell that its formula reads
    sloping = side.rule in ("on the slope", "under the slope")
    places = "pqr"[: len(side.numbers) - 1] + "s" if sloping else "pqr"
    numbers = dict(zip(places, side.numbers, strict=False))
    return Line(
        {**values, **numbers, "working": side.text, "result": side.value},
        own={"result": _RESULTS[side.rule], dimension.side_of: "=[result]"},
    )
