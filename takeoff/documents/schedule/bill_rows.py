"""The items of an option as rows of a bill: in its order, numbered, with the unit and step they are billed in."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.assess.conversion import ConversionError, convert_quantity
from takeoff.assess.lines import Line
from takeoff.compare.evaluate import Result
from takeoff.model.bill import BillOrder, Information
from takeoff.model.job import Job
from takeoff.model.library import ELEMENTS, TRADES, Library, MeasurementRule

_KG_IN_T = 1000.0
_USUAL_STEP = 0.01
# after every code that is given
_LAST = "\uffff"


@dataclass(frozen=True, slots=True, kw_only=True)
class BillRow:
    """One item of the bill.

    `number` is its place in the bill, from 1. `unit` is what it is billed in, `per_net` how much of that one measured
    unit is, `step` what the billed quantity is rounded to. `drawings` names the information it is measured from.
    """

    number: int
    line: Line
    rule: MeasurementRule | None
    unit: str
    per_net: float
    step: float
    drawings: str

    @property
    def id(self) -> str:
        """The stable id."""
        return self.line.quantity.id

    @property
    def element(self) -> str:
        """Its element in words."""
        return self.line.quantity.element_name

    @property
    def trade(self) -> str:
        """Its trade."""
        return self.line.quantity.trade

    @property
    def kind(self) -> str:
        """Measured works, or the kind of sum it is."""
        return self.line.sum_kind or "measured"

    @property
    def status(self) -> str:
        """How firm it is: firm where it is measured, provisional, or an allowance."""
        if self.line.sum_kind == "provisional sum":
            return "provisional"
        return "allowance" if self.line.sum_kind or self.line.ordered.rule == "as allowed for" else "firm"

    @property
    def measured_by(self) -> str:
        """Whether the model or somebody by hand has measured it."""
        by_hand = any(applied.override.figure == "quantity" for applied in self.line.overrides)
        return "hand" if by_hand or self.status != "firm" else "model"

    @property
    def measured(self) -> float:
        """What the dimensions square to, in the measured unit."""
        return sum(dimension.squaring for dimension in self.line.quantity.dimensions)


def bill_rows(job: Job, result: Result) -> tuple[BillRow, ...]:
    """Return the rows of the bill of an option: by element, unless the project asks for the trade first."""
    order: BillOrder = "trade" if job.project.bill_order == "trade" else "element"
    lines = sorted(result.lines, key=lambda line: _place(line, order, job.library))
    return tuple(
        _row(number, line, job.library, job.information) for number, line in enumerate(lines, start=1)
    )


def by_trade(rows: Sequence[BillRow]) -> list[BillRow]:
    """Return the same rows regrouped by trade, those of one trade in the order of the bill."""
    return sorted(rows, key=lambda row: TRADES.index(row.trade))


def _place(line: Line, order: BillOrder, library: Library) -> tuple[int, tuple[tuple[int, str], ...], int]:
    """Return what an item is sorted by: its section, the sort code of its class, its other section."""
    quantity = line.quantity
    element, trade = list(ELEMENTS).index(quantity.element), TRADES.index(quantity.trade)
    rule = _rule(line, library)
    code = _natural((rule.sort_code if rule else "") or _LAST)
    return (trade, code, element) if order == "trade" else (element, code, 0)


def _natural(code: str) -> tuple[tuple[int, str], ...]:
    """Return what a code is sorted by: its numbers as numbers, so that 10 comes after 9.

    >>> sorted(["10", "9b", "9a"], key=_natural)
    ['9a', '9b', '10']
    """
    parts = re.findall(r"\d+|\D+", code)
    return tuple((int(part), "") if part.isdecimal() else (sys.maxsize, part) for part in parts)


def _rule(line: Line, library: Library) -> MeasurementRule | None:
    """Return the row of the measurement profile that an item goes by."""
    material = library.materials.get(line.quantity.material)
    return None if material is None else library.measurement.get(material.item_class)


def _row(number: int, line: Line, library: Library, information: Iterable[Information]) -> BillRow:
    """Return one row."""
    rule = _rule(line, library)
    unit, per_net = _billed(line, rule, library)
    informing = (i.name for i in information if not i.elements or line.quantity.element_name in i.elements)
    return BillRow(
        number=number,
        line=line,
        rule=rule,
        unit=unit,
        per_net=per_net,
        step=rule.rounding if rule else _USUAL_STEP,
        drawings="; ".join(informing),
    )


def _billed(line: Line, rule: MeasurementRule | None, library: Library) -> tuple[str, float]:
    """Return the unit an item is billed in and how much of it one measured unit is.

    What can't be converted into the unit of its class is billed as it is measured: trims in m stay in m where a class
    is billed in m3.
    """
    quantity = line.quantity
    material = library.materials.get(quantity.material)
    if rule is None or rule.unit is None or material is None or rule.unit == quantity.unit:
        return quantity.unit, 1.0
    try:
        if rule.unit == "t":
            return "t", convert_quantity(quantity, material, "kg") / _KG_IN_T
        return rule.unit, convert_quantity(quantity, material, rule.unit)
    except ConversionError:
        return quantity.unit, 1.0
