"""What a sheet and a column are: one declaration from which reader, writer, help and guide are made."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from takeoff.model.house import Part

Kind = Literal[
    "text", "choice", "number", "quantity", "rate", "yes_no", "date", "positions", "sides", "modules"
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One column of a table sheet, or one row of a settings sheet.

    `unit` is the SI unit it is read into, `shown` the unit a new workbook shows. A `rate` is an amount
    per unit: its unit stands in the sibling column `unit_in`, its numerator is `unit`; a `number` with
    `unit_in` may be typed as per cent. `refers_to` is `Sheet.Title` of a column that must list the value.
    Limits are in the SI unit. `part` is that of the build-ups it may name, `or_else` a word that may stand
    there instead of one. `wanted` says what a required cell that is blank wants, where that is no name.
    """

    name: str
    title: str
    help: str
    kind: Kind = "text"
    unit: str | None = None
    shown: str | None = None
    unit_in: str | None = None
    choices: tuple[str, ...] = ()
    refers_to: tuple[str, ...] = ()
    part: Part | None = None
    or_else: str = ""
    wanted: str = ""
    low: float | None = None
    high: float | None = None
    required: bool = False
    default: object = None
    whole: bool = False
    width: float | None = None

    @property
    def has_unit(self) -> bool:
        """Whether a unit is read with the value (a rate has its own unit column)."""
        return self.kind in ("quantity", "positions")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet of a workbook.

    A `table` has a header row, a row of units below it and a record a row; `settings` has a setting a
    row in the columns Setting, Value, Unit, Note; `options` has settings down the side and options
    across the top. An `optional` sheet may be left out; a `shared` one has the rest of its rows in another
    workbook.
    """

    title: str
    layout: Literal["table", "settings", "options"]
    help: str
    fields: tuple[Field, ...] = ()
    optional: bool = False
    shared: bool = False
    key: tuple[str, ...] = ()
    start: str = ""

    def field(self, name: str) -> Field:
        """Return the field of that name."""
        return next(field for field in self.fields if field.name == name)

    def as_optional(self) -> Sheet:
        """Return the same sheet for a workbook that may leave it out, since another one has it too."""
        return replace(self, optional=True, shared=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkbookLayout:
    """All sheets of one kind of workbook."""

    title: str
    sheets: tuple[Sheet, ...]

    def sheet(self, title: str) -> Sheet:
        """Return the sheet of that title."""
        return next(sheet for sheet in self.sheets if sheet.title == title)


def length_field(
    name: str, title: str, help: str, low: float, high: float, *, shown: str = "m", **more: object
) -> Field:
    """Return a length field with limits in m."""
    return Field(
        name=name,
        title=title,
        help=help,
        kind="quantity",
        unit="m",
        shown=shown,
        low=low,
        high=high,
        **more,  # type: ignore[arg-type]
    )
