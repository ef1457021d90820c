"""Makes overrides, queries, what is to take, information and issues from the records of a workbook."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar, cast

from takeoff.model.bill import Information, IssueRecord, OverriddenFigure, Override, Query, ToTake
from takeoff.model.library import ELEMENTS
from takeoff.model.problem import WorkbookProblem, at
from takeoff.workbook.bill_sheets import PER, SHARE_UNIT
from takeoff.workbook.field_words import message_number
from takeoff.workbook.nearest import nearest
from takeoff.workbook.tables import Record

_T = TypeVar("_T")
_UNIT_WORDS: dict[OverriddenFigure, str] = {
    "quantity": "the unit of the item, such as m2",
    "rate": "the unit of the item, such as per m2",
    "wastage": SHARE_UNIT,
}


def build_overrides(
    records: list[Record], option_names: Sequence[str] | None
) -> tuple[list[Override], list[WorkbookProblem]]:
    """Return the overrides, and those with a wrong unit, too much wastage, no such option, or a second time.

    Wastage is a share afterwards, options are spelt as on the sheet Options. `option_names` is None where that sheet
    could not be read, so that no name is looked for in vain.
    """
    overrides: list[Override] = []
    problems: list[WorkbookProblem] = []
    rows: dict[tuple[str, str, str | None], int] = {}
    for record in records:
        if not record.complete:
            continue
        values = cast("dict[str, Any]", dict(record.values))
        option, found = _option(record, option_names)
        found += _figure_problems(record)
        key = (values["id"], values["figure"], option)
        if key in rows:
            found.append(_second(record, rows[key]))
        rows.setdefault(key, record.origin.row)
        problems += found
        if not found:
            overrides.append(_override(values, option, record))
    return overrides, problems


def _override(values: Mapping[str, Any], option: str | None, record: Record) -> Override:
    """Return one override whose unit fits its figure."""
    is_wastage = values["figure"] == "wastage"
    return Override(
        id=values["id"],
        figure=values["figure"],
        value=values["value"] / 100 if is_wastage else values["value"],
        unit="" if is_wastage else values["unit"].removeprefix(PER),
        reason=values["reason"],
        who=values["who"],
        date=values["date"],
        option=option,
        origin=record.origin,
    )


def _option(record: Record, option_names: Sequence[str] | None) -> tuple[str | None, list[WorkbookProblem]]:
    """Return the option of a row as the sheet Options spells it, None for all, and the problem of one not there."""
    name = record.values["option"]
    if name is None or option_names is None:
        return None, []
    text = str(name)
    spelt = next((own for own in option_names if own.lower() == text.lower()), None)
    if spelt is not None:
        return spelt, []
    meant = nearest(text, option_names)
    return None, [
        at(
            record.origin,
            "option",
            found=f"{text!r} is no option",
            expected="the name of an option of the sheet Options, or blank for all",
            mend=f"Did you mean {meant!r}?" if meant else "",
        )
    ]


def _figure_problems(record: Record) -> list[WorkbookProblem]:
    """Return a unit that a figure of that kind can't have, or wastage over 100 %."""
    figure = cast("OverriddenFigure", record.values["figure"])
    unit, value = str(record.values["unit"]), cast("float", record.values["value"])
    fits = {
        "quantity": unit != SHARE_UNIT and not unit.startswith(PER),
        "rate": unit != SHARE_UNIT,
        "wastage": unit == SHARE_UNIT,
    }
    if not fits[figure]:
        return [at(record.origin, "unit", found=f"{unit} for a {figure}", expected=_UNIT_WORDS[figure])]
    if figure == "wastage" and value > 100:
        return [
            at(
                record.origin,
                "value",
                found=f"wastage of {message_number(value)} %",
                expected="at least 0 and at most 100 %",
            )
        ]
    return []


def _second(record: Record, row: int) -> WorkbookProblem:
    """Return the problem of a row that overrides what an earlier one overrides already."""
    values = record.values
    of_option = f" in option {values['option']!r}" if values["option"] is not None else ""
    return at(
        record.origin,
        "id",
        found=f"the {values['figure']} of {values['id']!r}{of_option} is overridden in row {row} already",
        expected="each figure of an item once, or once an option",
        mend="Delete one of the rows or name another option",
    )


def build_information(records: list[Record]) -> tuple[list[Information], list[WorkbookProblem]]:
    """Return the drawings and documents, and those that name an element that there is not."""
    information: list[Information] = []
    problems: list[WorkbookProblem] = []
    for record in records:
        if not record.complete:
            continue
        values = cast("dict[str, Any]", dict(record.values))
        elements: list[str] = []
        for part in filter(None, (part.strip() for part in values["elements"].split(";"))):
            if part.lower() in ELEMENTS.values():
                elements.append(part.lower())
            else:
                problems.append(_no_element(record, part))
        information.append(Information(**{**values, "elements": tuple(elements)}, origin=record.origin))
    return information, problems


def _no_element(record: Record, name: str) -> WorkbookProblem:
    """Return the problem of a name that no element has."""
    meant = nearest(name, ELEMENTS.values())
    return at(
        record.origin,
        "elements",
        found=f"{name!r} is no element",
        expected="elements separated by semicolons, or blank for all",
        mend=f"Did you mean {meant!r}?" if meant else f"Elements: {', '.join(ELEMENTS.values())}",
    )


def build_queries(records: list[Record]) -> tuple[Query, ...]:
    """Return the questions on the bill."""
    return _built(Query, records)


def build_to_take(records: list[Record]) -> tuple[ToTake, ...]:
    """Return what is not measured yet."""
    return _built(ToTake, records)


def build_issues(records: list[Record]) -> tuple[IssueRecord, ...]:
    """Return the issues of the documents."""
    return _built(IssueRecord, records)


def _built(record_type: Callable[..., _T], records: list[Record]) -> tuple[_T, ...]:
    """Return the records that could be read whole, passed on by field name."""
    return tuple(
        record_type(**cast("dict[str, Any]", record.values), origin=record.origin)
        for record in records
        if record.complete
    )
