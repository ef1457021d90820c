"""The sheet Carbon: every module of every item, from what one unit of it is declared to embody."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from takeoff.assess.lines import Line as BillLine
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.grid import Column, Line, Paper, Total, Value, write_table
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet
from takeoff.documents.wording import NOT_ASSESSED
from takeoff.model.life_cycle import MODULES, Module, RenewalModule
from takeoff.model.study import Study

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

TITLE = "Carbon"
HELP = (
    "Embodied carbon in kgCO2e by module of EN 15978, over {period:g} years. Built in: required, or what is charged "
    "where that is less; wasted: charged and not built in. A5 wastage is A1-A3, A4 and C2 to C4 of what is wasted; "
    "renewals take A1 to A5 and C of one renewal, times how often. D is never added. Stored carbon (CO2, negative) is "
    "a line of its own. Not assessed is printed, never nothing. The row Counted: modules that the life cycle adds up."
)
_KEYS: dict[Module, str] = {module: module.lower().replace("-", "").replace(" ", "_") for module in MODULES}
_COUNTED_ROW = HEADER_ROW
_FIRST = HEADER_ROW + 1
_PER_UNIT: tuple[tuple[str, str], ...] = (
    ("u_a1a3", "A1-A3"),
    ("u_a4", "A4"),
    ("u_a5", "A5 of the factor"),
    ("u_site", "A5 site work, of net"),
    ("u_b2", "B2 upkeep"),
    ("u_b3", "B3 upkeep"),
    ("u_c1", "C1"),
    ("u_c2", "C2"),
    ("u_c3", "C3"),
    ("u_c4", "C4"),
    ("u_d", "D"),
    ("u_stored", "Stored"),
)
_RENEWALS: tuple[RenewalModule, ...] = ("B2", "B3", "B4")


def _amounts() -> dict[Module, str]:
    """Return the formula of each module."""
    once = "=IF(ISNUMBER([{unit}]),[built_in]*[{unit}],[{unit}])"
    formulas: dict[Module, str] = {
        "A1-A3": once.format(unit="u_a1a3"),
        "A4": once.format(unit="u_a4"),
        "A5 wastage": "=IF(ISNUMBER([counts_waste]),[wasted]*SUM([u_a1a3],[u_a4],[u_c2]:[u_c4]),[counts_waste])",
        "A5 site": "=IF(COUNT([u_a5],[u_site]),[built_in]*SUM([u_a5])+[net]*SUM([u_site]),[u_a5])",
        "B2": "=IF(COUNT([u_b2],[n_b2]),[built_in]*SUM([u_b2])+[each]*SUM([n_b2]),[u_b2])",
        "B3": "=IF(COUNT([u_b3],[n_b3]),[built_in]*SUM([u_b3])+[each]*SUM([n_b3]),[u_b3])",
        "B4": "=IF(ISNUMBER([n_b4]),[each]*[n_b4],[n_b4])",
    }
    return formulas | {
        module: once.format(unit=f"u_{module.lower()}") for module in MODULES if module not in formulas
    }


COLUMNS = (
    Column(key="item", title="Item", width=6, look="count", name="Carbon_item"),
    Column(key="id", title="Id", width=30, look="small"),
    Column(key="description", title="Item, in short", width=28),
    Column(key="unit", title="Unit", width=5),
    Column(
        key="net",
        title="Net",
        width=9,
        look="quantity",
        role="computed",
        formula="=SUMIFS(Bill_net,Bill_item,[item])",
    ),
    Column(
        key="required",
        title="Required",
        width=9,
        look="quantity",
        role="computed",
        formula="=[net]*SUMIFS(Rate_laps,Rate_item,[item])",
    ),
    Column(
        key="charged",
        title="Charged",
        width=9,
        look="quantity",
        role="computed",
        formula="=[required]*(Whole+SUMIFS(Rate_wastage,Rate_item,[item]))",
    ),
    Column(
        key="built_in",
        title="Built in",
        width=9,
        look="quantity",
        role="computed",
        formula="=MIN([required],[charged])",
    ),
    Column(
        key="wasted",
        title="Wasted",
        width=8,
        look="quantity",
        role="computed",
        formula="=[charged]-[built_in]",
    ),
    *(
        Column(
            key=_KEYS[module],
            title=module,
            width=10,
            look="carbon",
            role="computed",
            formula=formula,
            name=f"Carbon_{_KEYS[module]}",
        )
        for module, formula in ((module, _amounts()[module]) for module in MODULES)
    ),
    Column(
        key="stored",
        title="Stored CO2",
        width=10,
        look="carbon",
        role="computed",
        formula="=[built_in]*[u_stored]",
        name="Carbon_stored",
    ),
    Column(
        key="upfront",
        title="A1 to A5",
        width=11,
        look="carbon",
        role="computed",
        formula=f"=SUM([{_KEYS['A1-A3']}]:[{_KEYS['A5 site']}])",
        name="Carbon_upfront",
    ),
    Column(
        key="life",
        title="Life cycle",
        width=11,
        look="carbon",
        role="computed",
        formula=f"=SUMIFS([{_KEYS['A1-A3']}]:[{_KEYS['D']}],Carbon_counted,Whole)",
        name="Carbon_life",
    ),
    *(
        Column(key=key, title=f"{title}, per unit", width=10, look="factor", role="input")
        for key, title in _PER_UNIT
    ),
    Column(key="counts_waste", title="A5 wastage counted", width=10, look="count", role="input"),
    *(
        Column(
            key=f"n_{module.lower()}",
            title=f"Renewals in {module}",
            width=10,
            look="quantity",
            role="input",
        )
        for module in _RENEWALS
    ),
    Column(
        key="each",
        title="One renewal",
        width=10,
        look="carbon",
        role="computed",
        formula="=SUM([a1a3]:[a5_site],[c1]:[c4])",
    ),
    Column(key="element", title="Element", width=18, look="small", name="Carbon_element"),
    Column(key="trade", title="Trade", width=18, look="small", name="Carbon_trade"),
)
_PRINTED = 9 + len(MODULES) + 3


def write_carbon(paper: Paper, rows: Sequence[BillRow], study: Study, *, footer: str) -> None:
    """Write the sheet."""
    sheet = new_sheet(paper, TITLE, HELP.format(period=study.period), COLUMNS)
    _write_counted(paper, sheet, study)
    values = [_values(row.line, row, study) for row in rows]
    keys = (*(_KEYS[module] for module in MODULES), "stored", "upfront", "life")
    sums = {key: sum(v for line in values if isinstance(v := line[key], float)) for key in keys}
    lines: list[Line | Total] = [Line(line) for line in values]
    lines.append(Total("All items", {key: key for key in keys}, sums, whole=True))
    placed = write_table(paper, sheet, _FIRST, COLUMNS, lines)
    finish(
        sheet,
        COLUMNS,
        footer=footer,
        last=placed.last,
        header=_FIRST,
        printed=_PRINTED,
        frozen=2,
        filtered=True,
    )


def _write_counted(paper: Paper, sheet: Worksheet, study: Study) -> None:
    """Write the row that says which modules the life cycle adds up."""
    from xlsxwriter.utility import xl_col_to_name

    first = next(place for place, column in enumerate(COLUMNS) if column.key == _KEYS["A1-A3"])
    sheet.write_string(_COUNTED_ROW - 1, first - 1, "Counted", paper.looks.text("header_number"))
    for place, module in enumerate(MODULES, start=first):
        counted = 1 if module in study.modules and module != "D" else 0
        sheet.write_number(_COUNTED_ROW - 1, place, counted, paper.looks.of("input", "count"))
    left, right = xl_col_to_name(first), xl_col_to_name(first + len(MODULES) - 1)
    paper.book.define_name("Carbon_counted", f"='{TITLE}'!${left}${_COUNTED_ROW}:${right}${_COUNTED_ROW}")


def _values(line: BillLine, row: BillRow, study: Study) -> dict[str, Value]:
    """Return the cells of one item."""
    ordered, carbon, renewal = line.ordered, line.carbon, line.renewal
    built_in, net = ordered.built_in, line.quantity.net
    parts = line.carbon_parts

    def of_unit(amount: float | None) -> Value:
        """Return an amount for one unit of what is built in, or the words where it is not assessed."""
        if amount is None:
            return NOT_ASSESSED
        # of nothing built in, nothing can be told of one unit
        return amount / built_in if built_in else 0.0

    def part(module: Module, *, site: bool) -> float | None:
        """Return the parts of a module that follow the labour row, or those that do not."""
        amounts = [
            p.amount
            for p in parts
            if p.module == module and any(i.kind == "site work" for i in p.inputs) == site
        ]
        return sum(amounts) if amounts else None

    site = part("A5 site", site=True)
    counts: dict[RenewalModule, Value] = {"B2": NOT_ASSESSED, "B3": NOT_ASSESSED, "B4": NOT_ASSESSED}
    each = sum(carbon.of(module) or 0.0 for module in MODULES if module[0] in "AC")
    if renewal is not None:
        counts["B4"] = 0.0
        for module, count in renewal.counts:
            before = counts[module]
            known = before if isinstance(before, float) else 0.0
            counts[module] = NOT_ASSESSED if count and renewal.carbon_each is None else known + count
    amounts = {module: carbon.of(module) for module in MODULES}
    shown: dict[str, Value] = {
        _KEYS[module]: NOT_ASSESSED if amount is None else float(amount) for module, amount in amounts.items()
    }
    return {
        "item": row.number,
        "id": row.id,
        "description": line.quantity.item,
        "unit": line.quantity.unit,
        "net": line.quantity.net,
        "required": line.quantity.required,
        "charged": ordered.charged,
        "built_in": built_in,
        "wasted": ordered.wastage,
        **shown,
        "stored": float(carbon.stored),
        "upfront": float(carbon.upfront),
        "life": float(carbon.sum_of(m for m in study.modules if m != "D") or 0.0),
        "u_a1a3": of_unit(carbon.a1a3),
        "u_a4": of_unit(carbon.a4),
        "u_a5": of_unit(part("A5 site", site=False)),
        "u_site": NOT_ASSESSED if site is None else site / net if net else 0.0,
        "u_b2": of_unit(part("B2", site=False)),
        "u_b3": of_unit(part("B3", site=False)),
        "u_c1": of_unit(carbon.c1),
        "u_c2": of_unit(carbon.c2),
        "u_c3": of_unit(carbon.c3),
        "u_c4": of_unit(carbon.c4),
        "u_d": of_unit(carbon.d),
        "u_stored": carbon.stored / built_in if built_in else 0.0,
        "counts_waste": NOT_ASSESSED if carbon.a5_wastage is None else 1,
        **{f"n_{module.lower()}": counts[module] for module in _RENEWALS},
        "each": each,
        "element": row.element,
        "trade": row.trade,
    }
