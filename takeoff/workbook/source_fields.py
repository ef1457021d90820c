"""The columns that say where a value comes from and how well it is known."""

from __future__ import annotations

from takeoff.workbook.fields import Field

STANDINGS = ("read", "second-hand", "derived", "from memory", "invented for the demo")


def source_field() -> Field:
    """Return the source column, which names a row of the Sources sheet."""
    return Field(
        name="source",
        title="Source",
        help="Key of a row of the Sources sheet.",
        refers_to=("Sources.Key",),
        required=True,
        width=18,
    )


def standing_field() -> Field:
    """Return the standing column: how well the value is known."""
    return Field(
        name="standing",
        title="Standing",
        help="How well the value is known.",
        kind="choice",
        choices=STANDINGS,
        required=True,
        width=20,
    )
