"""Reads the bill of one option back from an issue folder: quantities.csv and results.json of one issue."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, TypeVar

from takeoff.model.issued_bill import Bill, BillLine, LadderAmount
from takeoff.model.life_cycle import MODULES, UPFRONT, Module

# The format of results.json that is read; issues before it have neither rates in parts nor overrides.
FORMAT = 5
# What results.json says of the steps that add up lines of the bill.
OF_ALLOWANCES = "sum of the allowances of that kind"
# A share of all amounts added up: what 15 digits of each may leave.
_CLOSE = 1e-9

_COLUMN_OF: dict[Module, str] = {
    module: module.lower().replace("a1-a3", "a1a3").replace(" ", "_") for module in MODULES
}
_RATES = ("rate_material", "rate_sundries", "rate_labour", "rate_plant", "rate_stated")
_COLUMNS = (
    *("option", "id", "element", "trade", "kind", "item", "location", "unit", "net"),
    *_RATES,
    *_COLUMN_OF.values(),
    "overrides",
)
_Kind = TypeVar("_Kind")


class IssueFolderError(Exception):
    """An issue folder that no bill can be read from; the message is one sentence for whoever named it."""


class UnknownOptionError(IssueFolderError):
    """An option that the issue does not have."""


def read_issue_folder(folder: Path, option: str | None = None) -> Bill:
    """Return the bill of an option of an issue, of its base if none is named, upper and lower case alike.

    Raises IssueFolderError where a file is missing, broken, of another format or at odds with the other one,
    UnknownOptionError where the issue has no such option.
    """
    results = _results(folder)
    where = f"{folder / 'results.json'}"
    study = _part(results, "study", dict, where)
    project = _part(results, "project", dict, where)
    chosen = _option(results, option, folder)
    modules = tuple(module for module in MODULES if module in _part(study, "modules", list, where))
    name = _part(chosen, "name", str, where)
    totals = _part(chosen, "totals", dict, where)
    bill = Bill(
        source=str(folder),
        project=_part(project, "name", str, where),
        issue=_part(project, "issue", str, where),
        date=_part(project, "date", str, where),
        option=name,
        currency=_part(project, "currency", str, where),
        modules=modules,
        period=_part(study, "period_years", float, where),
        lines=tuple(_lines(folder, name, modules)),
        ladder=tuple(
            LadderAmount(
                name=_part(step, "step", str, where),
                amount=_part(step, "amount", float, where),
                of_allowances=_part(step, "of", str, where) == OF_ALLOWANCES,
            )
            for step in _part(chosen, "cost_ladder", list, where)
        ),
        total_inc_tax=_part(totals, "total_inc_tax", float, where),
        upfront=_assessed(totals, "upfront_kgco2e", where),
        life_cycle=_assessed(totals, "life_cycle_kgco2e", where),
    )
    _check_sums(bill, folder)
    return bill


def _results(folder: Path) -> dict[str, Any]:
    """Return results.json as data of a format that is read."""
    path = folder / "results.json"
    try:
        data = json.loads(_text(path))
    except ValueError as error:
        raise IssueFolderError(f"{path} can't be read as JSON: {error}.") from error
    if not isinstance(data, dict) or not isinstance(data.get("format"), int):
        raise IssueFolderError(f"{path} has no format number: it is no results.json of an issue.")
    number = data["format"]
    if number < FORMAT:
        raise IssueFolderError(_older(folder))
    if number > FORMAT:
        raise IssueFolderError(
            f"{path} has the format {number}, and this program reads no format after {FORMAT}: it was written "
            "by a later version."
        )
    return data


def _older(folder: Path) -> str:
    """Return the sentence on an issue whose bill has no rates in parts."""
    return (
        f"{folder} was issued by an earlier version, without the rates in parts; run takeoff issue on its workbook "
        "again, or name the workbook."
    )


def _text(path: Path) -> str:
    """Return the text of a file of an issue, line ends as they are."""
    try:
        return path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError as error:
        raise IssueFolderError(
            f"{path.parent} has no {path.name}: name a folder that takeoff issue wrote."
        ) from error
    except OSError as error:
        raise IssueFolderError(f"{path} can't be read: {error.strerror or error}.") from error
    except UnicodeDecodeError as error:
        raise IssueFolderError(f"{path} is no text in UTF-8.") from error


def _part(data: object, key: str, kind: type[_Kind], where: str) -> _Kind:
    """Return what stands under a key, of the kind it has to be."""
    value = data.get(key) if isinstance(data, dict) else None
    if kind is float and isinstance(value, int) and not isinstance(value, bool):
        value = float(value)
    if not isinstance(value, kind) or (isinstance(value, float) and not math.isfinite(value)):
        raise IssueFolderError(f"{where} has no {key} that can be read: it is no results.json of an issue.")
    return value


def _assessed(totals: dict[str, Any], key: str, where: str) -> float | None:
    """Return a total of carbon, None where it is not assessed."""
    return None if totals.get(key, 0) is None else _part(totals, key, float, where)


def _option(results: dict[str, Any], name: str | None, folder: Path) -> dict[str, Any]:
    """Return the data of an option, of the base if none is named."""
    where = f"{folder / 'results.json'}"
    options: dict[str, dict[str, Any]] = {
        _part(each, "name", str, where): each for each in _part(results, "options", list, where)
    }
    if not options:
        raise IssueFolderError(f"{where} has no options.")
    if name is None:
        return next((each for each in options.values() if each.get("is_base")), next(iter(options.values())))
    for known, each in options.items():
        if known.lower() == name.strip().lower():
            return each
    raise UnknownOptionError(f"There is no option {name!r} in {folder}. Options: {', '.join(options)}.")


def _lines(folder: Path, option: str, modules: tuple[Module, ...]) -> Iterable[BillLine]:
    """Yield the lines of an option, each id once."""
    path = folder / "quantities.csv"
    rows = csv.DictReader(io.StringIO(_text(path), newline=""))
    try:
        missing = [column for column in _COLUMNS if column not in (rows.fieldnames or ())]
        if missing:
            raise IssueFolderError(
                _older(folder) if missing[0] in _RATES else f"{path} has no column {missing[0]}."
            )
        seen: set[str] = set()
        for row in rows:
            # an option is looked up as it is written, with the apostrophe that keeps a text from being a formula
            if row["option"] not in (option, f"'{option}"):
                continue
            at = f"{path}, line {rows.line_num}"
            line = _line(row, modules, at)
            if line.id in seen:
                raise IssueFolderError(f"{at}: {line.id} stands there already.")
            seen.add(line.id)
            yield line
    except csv.Error as error:
        raise IssueFolderError(f"{path} can't be read as CSV: {error}.") from error


def _line(row: Mapping[str, str | None], modules: tuple[Module, ...], at: str) -> BillLine:
    """Return one row as a line of the bill."""
    material, sundries, labour, plant, stated = (_number(row, name, at) or 0.0 for name in _RATES)
    carbon = {module: _number(row, column, at) for module, column in _COLUMN_OF.items()}
    net = _number(row, "net", at)
    if net is None:
        raise IssueFolderError(f"{at}: net is blank.")
    return BillLine(
        id=_word(row, "id"),
        element=_word(row, "element"),
        trade=_word(row, "trade"),
        kind=_word(row, "kind"),
        item=_word(row, "item"),
        location=_word(row, "location"),
        unit=_word(row, "unit"),
        net=net,
        material=material + sundries,
        labour=labour,
        plant=plant,
        stated=stated,
        upfront=_sum(carbon[module] for module in UPFRONT),
        life_cycle=_sum(carbon[module] for module in modules if module != "D"),
        overridden=bool(row["overrides"]),
    )


def _number(row: Mapping[str, str | None], column: str, at: str) -> float | None:
    """Return a number of a row, None where its cell is blank."""
    text = (row[column] or "").strip()
    if not text:
        return None
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise IssueFolderError(f"{at}: {column} is {text!r}, which is no number.")
    return value


def _word(row: Mapping[str, str | None], column: str) -> str:
    """Return a text of a row without the apostrophe that keeps it from being a formula."""
    text = row[column] or ""
    return text[1:] if text[:1] == "'" and text[1:2] in ("=", "+", "-", "@") else text


def _sum(amounts: Iterable[float | None]) -> float | None:
    """Return the sum of what is assessed, None where nothing is."""
    known = [amount for amount in amounts if amount is not None]
    return math.fsum(known) if known else None


def _check_sums(bill: Bill, folder: Path) -> None:
    """Refuse a list that does not add up to the totals beside it: it was edited, or is that of another issue."""
    costs = [*(line.cost for line in bill.lines), *(step.amount for step in bill.steps)]
    for words, amounts, total in (
        ("money", costs, bill.total_inc_tax),
        ("upfront carbon", [line.upfront or 0.0 for line in bill.lines], bill.upfront or 0.0),
        ("life-cycle carbon", [line.life_cycle or 0.0 for line in bill.lines], bill.life_cycle or 0.0),
    ):
        if abs(math.fsum(amounts) - total) > _CLOSE * max(1.0, math.fsum(map(abs, amounts))):
            raise IssueFolderError(
                f"The {words} of {bill.option!r} in {folder / 'quantities.csv'} does not add up to its total in "
                "results.json: one of the two was changed after the issue."
            )
