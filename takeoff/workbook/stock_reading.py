"""Makes the stock of each material from the records of the sheet Stock, and says what is wrong with them."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from typing import Any, cast

from takeoff.model.library import BY_CONTENTS, SoldBy, Stock
from takeoff.model.problem import WorkbookProblem, at
from takeoff.workbook.field_words import message_number
from takeoff.workbook.stock_sheet import STOCK
from takeoff.workbook.tables import Record

_BY_LENGTH: tuple[SoldBy, ...] = ("length", "random lengths", "sheet", "roll")
# What each column is for; of the needed ones a row sold that way can't do without.
_USED: dict[str, tuple[SoldBy, ...]] = {
    "lengths": _BY_LENGTH,
    "width": ("sheet", "roll"),
    "contents": BY_CONTENTS,
    "contents_unit": BY_CONTENTS,
    "least_width": ("sheet", "roll"),
    "stagger": ("sheet",),
    "longest": ("cut to length",),
    "step": ("cut to length",),
}
_NEEDED = {
    "lengths": "lengths in m, separated by semicolons",
    "width": "a number in mm",
    "contents": "a number",
    "contents_unit": "one of m3, m2, m, kg, Nr",
}
# What rows of one section share, for they are cut from together.
_COMMON = ("sold_by", "kerf", "least_offcut", "least_width", "joints", "end_lap", "stagger")
_LONGEST_UNROLLED = 20.0
_SOLD = {"random lengths": "sold in random lengths", "cut to length": "sold cut to length"}


def build_stock(records: list[Record] | None) -> dict[str, tuple[Stock, ...]]:
    """Return what each material is sold in, lengths from the shortest to the longest.

    The rows of a later workbook for a material take the place of all its rows in an earlier one, so that
    a house's own come last.
    """
    stock: dict[str, tuple[Stock, ...]] = {}
    for record in records or []:
        if record.complete:
            row = _row(record)
            earlier = stock.get(row.material, ())
            same_book = earlier and earlier[0].origin.book == row.origin.book
            stock[row.material] = (*earlier, row) if same_book else (row,)
    return stock


def _row(record: Record) -> Stock:
    """Return one row of stock."""
    values = cast("dict[str, Any]", dict(record.values))
    del values["price_unit"]
    values["lengths"] = tuple(sorted(values["lengths"]))
    return Stock(**values, origin=record.origin)


def stock_problems(records: list[Record] | None, materials: Mapping[str, Record]) -> list[WorkbookProblem]:
    """Return rows of stock that lack what their Sold by needs, can't be, or contradict another row.

    `materials` are the rows of the sheet Materials by name. Rows of two workbooks are not held against each
    other, since those of one replace those of the other.
    """
    problems: list[WorkbookProblem] = []
    by_material: dict[tuple[str, object], list[Record]] = {}
    for record in records or []:
        if record.complete:
            problems += _column_problems(record)
            problems += _length_problems(record)
            problems += _size_problems(record, materials)
            by_material.setdefault((record.origin.book, record.values["material"]), []).append(record)
    for rows in by_material.values():
        problems += _disagreements(rows)
        problems += _repetitions(rows)
    return problems


def _sold(record: Record) -> str:
    """Return a material with how it is sold, as quoted in a message."""
    way = str(record.values["sold_by"])
    return f"{record.values['material']!r}, {_SOLD.get(way, f'sold by {way}')}"


def _listed(words: Sequence[str], last: str) -> str:
    """Return words as a list in a sentence: `a, b or c`."""
    return f" {last} ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _metres(lengths: tuple[float, ...]) -> str:
    """Return lengths in words: `2.4, 3 and 3.6 m`."""
    return f"{_listed([message_number(length) for length in lengths], 'and')} m"


def _column_problems(record: Record) -> Iterator[WorkbookProblem]:
    """Yield columns that are blank although the Sold by of the row needs them, or filled in although it doesn't."""
    for name, ways in _USED.items():
        title, used = STOCK.field(name).title, record.values["sold_by"] in ways
        if used and name in _NEEDED and record.values[name] in (None, ()):
            yield at(
                record.origin, name, found=f"{title} is blank for {_sold(record)}", expected=_NEEDED[name]
            )
        elif not used and name in record.typed:
            yield at(
                record.origin,
                name,
                found=f"{title} is filled in for {_sold(record)}",
                expected=f"a blank cell, or {_listed(ways, 'or')} as Sold by",
            )


def _length_problems(record: Record) -> Iterator[WorkbookProblem]:
    """Yield lengths that are too long, stand twice, or are not the two ends of random lengths."""
    lengths = cast("tuple[float, ...]", record.values["lengths"])
    sold_by = record.values["sold_by"]
    if sold_by not in _BY_LENGTH or not lengths:
        return
    twice = sorted({length for length in lengths if lengths.count(length) > 1})
    if sold_by == "random lengths" and (twice or len(lengths) != 2):
        yield at(
            record.origin,
            "lengths",
            found=f"{_metres(lengths)} for {_sold(record)}",
            expected="two lengths, the shortest and the longest",
        )
    elif twice:
        yield at(
            record.origin,
            "lengths",
            found=f"{_metres(tuple(twice))} stands twice",
            expected="each length once",
        )
    if sold_by != "roll" and max(lengths) > _LONGEST_UNROLLED:
        yield at(
            record.origin,
            "lengths",
            found=f"{message_number(max(lengths))} m for {_sold(record)}",
            expected=f"at most {message_number(_LONGEST_UNROLLED)} m; only rolls are longer",
        )


def _size_problems(record: Record, materials: Mapping[str, Record]) -> Iterator[WorkbookProblem]:
    """Yield offcuts that no size on sale leaves, joints that no size allows, and packs that hold nothing."""
    values = cast("dict[str, Any]", record.values)
    lengths = values["lengths"] or tuple(filter(None, (values["longest"],)))
    if lengths and values["least_offcut"] > max(lengths):
        yield at(
            record.origin,
            "least_offcut",
            found=f"offcuts from {message_number(values['least_offcut'])} m up, for {_sold(record)}",
            expected=f"at most its longest length, {message_number(max(lengths))} m",
        )
    if lengths and values["end_lap"] >= min(lengths):
        yield at(
            record.origin,
            "end_lap",
            found=f"an end lap of {message_number(values['end_lap'] * 1000)} mm for {_sold(record)}",
            expected=f"less than its shortest length, {message_number(min(lengths))} m",
        )
    if values["sold_by"] == "sheet" and lengths and values["stagger"] > min(lengths) / 2 + 1e-9:
        yield at(
            record.origin,
            "stagger",
            found=f"end joints {message_number(values['stagger'] * 1000)} mm apart, for {_sold(record)}",
            expected=f"at most half its shortest length, {message_number(min(lengths) * 500)} mm",
        )
    width = values["width"]
    if width is not None and values["least_width"] > width:
        yield at(
            record.origin,
            "least_width",
            found=f"offcuts from {message_number(values['least_width'] * 1000)} mm of width up, for {_sold(record)}",
            expected=f"at most its width, {message_number(width * 1000)} mm",
        )
    if values["sold_by"] == "roll" and width is not None and values["material"] in materials:
        lap = cast("float", materials[values["material"]].values["lap"] or 0.0)
        if width <= lap:
            yield at(
                record.origin,
                "width",
                found=f"a roll {message_number(width * 1000)} mm wide of {values['material']!r}, which laps "
                f"by {message_number(lap * 1000)} mm",
                expected="a width over the lap",
                mend="Correct the width, or the lap in the sheet Materials",
            )
    if values["sold_by"] in BY_CONTENTS and values["contents"] == 0:
        yield at(
            record.origin, "contents", found=f"contents of 0 for {_sold(record)}", expected="a number over 0"
        )


def _disagreements(rows: list[Record]) -> Iterator[WorkbookProblem]:
    """Yield rows of one material that serve a common section and disagree in what holds for all of them."""
    for number, record in enumerate(rows):
        for name in _COMMON:
            title, value = STOCK.field(name).title, record.values[name]
            others = [row for row in rows[:number] if _meet(record, row) and row.values[name] != value]
            if others:
                yield at(
                    record.origin,
                    name,
                    found=f"{title} is {_in_words(value)} for {record.values['material']!r}, but "
                    f"{_in_words(others[0].values[name])} in row {others[0].origin.row}",
                    expected=f"one {title} in all rows of a material and section",
                )


def _in_words(value: object) -> str:
    """Return a choice as it stands, a size in mm."""
    return f"{message_number(value * 1000)} mm" if isinstance(value, float) else str(value)


def _meet(record: Record, other: Record) -> bool:
    """Whether two rows of a material serve a common section: one for any section serves those without a row."""
    sizes = [(record.values[name], other.values[name]) for name in ("depth", "thickness")]
    stated = [any(size is not None for size in of_row) for of_row in zip(*sizes, strict=True)]
    return stated[0] == stated[1] and all(
        one is None or another is None or one == another for one, another in sizes
    )


def _repetitions(rows: list[Record]) -> Iterator[WorkbookProblem]:
    """Yield rows that offer again what an earlier row of the same material and section offers."""
    seen: dict[Hashable, Record] = {}
    for record in rows:
        section = tuple(record.values[name] for name in ("sold_by", "depth", "thickness"))
        for (name, size), words in _offers(record).items():
            earlier = seen.setdefault((section, size), record)
            if earlier is not record:
                yield at(
                    record.origin,
                    name,
                    found=f"{words} of {record.values['material']!r} stands in row {earlier.origin.row} already",
                    expected="each size once",
                    mend="Change or delete one of the rows",
                )


def _offers(record: Record) -> dict[tuple[str, Hashable], str]:
    """Return the sizes that a row offers, each with its column, in words."""
    values = cast("dict[str, Any]", record.values)
    sold_by, lengths, width = values["sold_by"], values["lengths"], values["width"]
    if sold_by == "cut to length":
        return {("sold_by", None): "a row of sheets cut to length"}
    if sold_by in BY_CONTENTS:
        size = (values["contents"], values["contents_unit"])
        return (
            {}
            if None in size
            else {("contents", size): f"a {sold_by} of {message_number(size[0])} {size[1]}"}
        )
    if sold_by == "random lengths":
        ends = tuple(sorted(lengths))
        return (
            {
                (
                    "lengths",
                    ends,
                ): f"random lengths from {message_number(ends[0])} to {message_number(ends[1])} m"
            }
            if len(ends) == 2
            else {}
        )
    wide = "" if width is None else f", {message_number(width * 1000)} mm wide,"
    return {
        ("lengths", (length, width)): f"the {sold_by} of {message_number(length)} m{wide}"
        for length in lengths
    }
