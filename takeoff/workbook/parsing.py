"""Turns one cell into a value in SI units, or says what is wrong with it."""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import cast

from takeoff.model.house import SIDES
from takeoff.model.life_cycle import LIFE_CYCLE, Module
from takeoff.model.per_unit import PerUnit
from takeoff.units import UnitError, factor_between, per_unit_factor
from takeoff.workbook.field_words import message_number
from takeoff.workbook.fields import Field
from takeoff.workbook.grid import Cell
from takeoff.workbook.nearest import nearest

_ERRORS = re.compile(r"^#(REF!|N/A|VALUE!|DIV/0!|NAME\?|NUM!|NULL!|SPILL!|CALC!)")
_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_NUMBER_AND_UNIT = re.compile(rf"^\s*({_NUMBER})\s*(\S.*)?$")


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with a cell: found, expected, how to mend it; `in_unit` if it is the unit's cell."""

    found: str
    expected: str
    mend: str = ""
    in_unit: bool = False


class FaultError(Exception):
    """Raised inside parsing to leave at the first fault of a cell."""

    def __init__(self, found: str, expected: str, mend: str = "", *, in_unit: bool = False) -> None:
        """Keep the fault."""
        super().__init__(found)
        self.fault = Fault(found, expected, mend, in_unit)


def parse(field: Field, cell: Cell, unit: str | None) -> object:
    """Return the value of a cell that is not blank.

    `unit` is the text of the unit that stands beside or above it, where one does.
    Raises FaultError with what is wrong.
    """
    if cell.empty_formula:
        raise FaultError(
            "a formula without a stored result",
            "a value",
            "Open the workbook in an office program, let it calculate, and save it",
        )
    value = cell.value
    if isinstance(value, str) and _ERRORS.match(value):
        raise FaultError(f"the error value {value}", "a value", "Mend the formula")
    if cell.percent and unit == "%" and isinstance(value, int | float):
        value = value * 100
    return _PARSERS[field.kind](field, value, unit)


def shown(value: object) -> str:
    """Return a value as it is quoted in a message."""
    if isinstance(value, str):
        return f"text {value.strip()!r}"
    if isinstance(value, int | float) and not isinstance(value, bool):
        return message_number(value)
    return str(value)


def _text(field: Field, value: object, unit: str | None) -> str:
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, datetime.datetime):
        return value.date().isoformat()
    return str(value).strip()


def _choice(field: Field, value: object, unit: str | None) -> str:
    text = _text(field, value, unit)
    if not field.choices:
        return text
    for choice in field.choices:
        if choice.lower() == text.lower():
            return choice
    meant = nearest(text, field.choices)
    mend = f"Did you mean {meant!r}?" if meant else ""
    raise FaultError(shown(value), f"one of {', '.join(field.choices)}", mend)


def _plain_number(field: Field, value: object) -> float:
    """Return a number that was typed as one, or as text that is plainly one."""
    if isinstance(value, bool):
        raise FaultError(f"{value}", "a number")
    if isinstance(value, int | float):
        return float(value)
    text = str(value).strip()
    if isinstance(value, str) and re.fullmatch(_NUMBER, text):
        return float(text)
    mend = "Write the decimal with a point" if re.fullmatch(r"[-+]?\d+,\d+", text) else ""
    raise FaultError(shown(value), "a number", mend)


def _number(field: Field, value: object, unit: str | None) -> float | int:
    number = _plain_number(field, value)
    _check_limits(field, number, "")
    if field.whole:
        if number != int(number):
            raise FaultError(message_number(number), "a whole number")
        return int(number)
    return number


def _split(value: object) -> tuple[float, str | None]:
    """Return the number and, where one is typed in the same cell, the unit."""
    if isinstance(value, bool):
        raise FaultError(f"{value}", "a number with a unit")
    if isinstance(value, int | float):
        return float(value), None
    match = _NUMBER_AND_UNIT.match(str(value))
    if not match or not isinstance(value, str):
        raise FaultError(shown(value), "a number with a unit")
    if match.group(2) and match.group(2).startswith(","):
        raise FaultError(shown(value), "a number with a unit", "Write the decimal with a point")
    return float(match.group(1)), match.group(2)


def _quantity(field: Field, value: object, unit: str | None) -> float:
    number, own = _split(value)
    used = own or unit
    expected = f"a unit such as {field.shown}"
    if not used:
        raise FaultError(f"{message_number(number)} without a unit", expected, in_unit=True)
    try:
        factor = factor_between(used, field.unit or "")
    except UnitError as error:
        raise FaultError(str(error), expected, in_unit=own is None) from error
    result = number * factor
    # 0.045 and 45 mm are to be the same number to the last digit
    result = float(f"{result:.12g}")
    if not math.isfinite(result):
        raise FaultError(message_number(number), "a finite number")
    _check_limits(field, result, used, number)
    return result


def _check_limits(field: Field, value: float, unit: str, typed: float | None = None) -> None:
    """Raise where a value is outside the limits of its field, guessing at a slip of the unit."""
    low = -math.inf if field.low is None else field.low
    high = math.inf if field.high is None else field.high
    if low <= value <= high:
        return
    factor = factor_between(field.shown, field.unit) if field.has_unit and field.shown and field.unit else 1.0
    suffix = f" {field.shown}" if field.has_unit and field.shown else ""
    bounds = [
        f"at least {_limit(low / factor)}{suffix}" if math.isfinite(low) else "",
        f"at most {_limit(high / factor)}{suffix}" if math.isfinite(high) else "",
    ]
    number = value if typed is None else typed
    mend = ""
    if unit == "m" and low <= value / 1000 <= high:
        mend = "Did you mean mm?"
    elif unit == "mm" and low <= value * 1000 <= high:
        mend = "Did you mean m?"
    raise FaultError(f"{message_number(number)} {unit}".strip(), " and ".join(b for b in bounds if b), mend)


def _limit(value: float) -> str:
    """Return a limit in the unit shown, without the noise of turning it from SI."""
    return message_number(float(f"{value:.6g}"))


def _rate(field: Field, value: object, unit: str | None) -> PerUnit:
    number = _plain_number(field, value)
    _check_limits(field, number, "")
    expected = f"a unit of {field.unit} for one m3, m2, m, kg or Nr"
    if not unit:
        raise FaultError("no unit", expected, in_unit=True)
    try:
        factor, per = per_unit_factor(unit, field.unit or "")
    except UnitError as error:
        raise FaultError(str(error), expected, in_unit=True) from error
    return PerUnit(number * factor, per)


def _yes_no(field: Field, value: object, unit: str | None) -> bool:
    if isinstance(value, bool):
        return value
    text = str(value).strip().lower()
    if text in ("yes", "no"):
        return text == "yes"
    raise FaultError(shown(value), "yes or no")


def _date(field: Field, value: object, unit: str | None) -> str:
    if isinstance(value, datetime.datetime | datetime.date):
        return value.strftime("%Y-%m-%d")
    return str(value).strip()


def _parts(value: object) -> list[object]:
    """Return the parts of a cell that lists several values, separated by semicolons."""
    if isinstance(value, str):
        return [part.strip() for part in value.split(";") if part.strip()]
    return [value]


def _positions(field: Field, value: object, unit: str | None) -> tuple[float, ...]:
    if isinstance(value, str) and value.strip().lower() == "none":
        return ()
    return tuple(_quantity(field, part, unit) for part in _parts(value))


def _sides(field: Field, value: object, unit: str | None) -> tuple[str, ...]:
    names = tuple(str(part).lower() for part in _parts(value))
    for name in names:
        if name not in SIDES:
            raise FaultError(shown(value), "sides out of low, high, left, right, separated by semicolons")
    return names


def _modules(field: Field, value: object, unit: str | None) -> tuple[Module, ...]:
    by_name = {module.lower(): module for module in LIFE_CYCLE}
    expected = f"modules out of {', '.join(LIFE_CYCLE)}, separated by semicolons"
    found: list[Module] = []
    for name in (str(part) for part in _parts(value)):
        if name.upper() == "D":
            raise FaultError(
                "module D among those added up",
                expected,
                "Leave D out: it lies beyond the life cycle and is told apart",
            )
        module = by_name.get(name.lower())
        if module is None:
            raise FaultError(shown(name), expected)
        if module in found:
            raise FaultError(f"{module} stands twice", "each module once")
        found.append(module)
    if not found:
        raise FaultError("no module", expected)
    return tuple(module for module in LIFE_CYCLE if module in found)


_PARSERS = cast(
    "dict[str, Callable[[Field, object, str | None], object]]",
    {
        "text": _text,
        "choice": _choice,
        "number": _number,
        "quantity": _quantity,
        "rate": _rate,
        "yes_no": _yes_no,
        "date": _date,
        "positions": _positions,
        "sides": _sides,
        "modules": _modules,
    },
)
