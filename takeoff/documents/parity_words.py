"""Where the fabric of an option falls short: the mark beside its name, and what it lacks in words and figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any

from takeoff.assess.fabric.restoring import MoreInsulation
from takeoff.compare.caution import Caution
from takeoff.compare.evaluate import Result
from takeoff.compare.parity import HEAT_LOSS, Remedy, Shortfall
from takeoff.compare.uncertainty import Uncertainty
from takeoff.documents.fabric_tables import U_UNIT
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import number

# Stands behind the name of an option that falls short, wherever it appears.
MARK = "†"
Missed = Mapping[str, tuple[Shortfall, ...]]


def marked_name(name: str, missed: Missed) -> str:
    """Return the name of an option with the mark where it falls short."""
    return f"{name} {MARK}" if missed.get(name) else name


def with_marks(
    results: Sequence[Result], ranges: Uncertainty, missed: Missed
) -> tuple[list[Result], Uncertainty]:
    """Return results and ranges with the mark in the names of the options that fall short."""
    options = tuple(replace(option, name=marked_name(option.name, missed)) for option in ranges.options)
    return marked(results, missed), replace(ranges, options=options)


def marked(results: Sequence[Result], missed: Missed) -> list[Result]:
    """Return results with the mark in the names of the options that fall short."""
    return [
        replace(result, option=replace(result.option, name=marked_name(result.option.name, missed)))
        for result in results
    ]


def amount_words(shortfall: Shortfall) -> str:
    """Return by how much a target is missed, in few words: `external walls +0.021 W/(m²K)`."""
    if shortfall.of == HEAT_LOSS:
        return f"heat loss +{number(shortfall.by, 1)} W/K"
    return f"{shortfall.of} +{number(shortfall.by, 3)} {U_UNIT}"


def short_note(missed: Missed, names: Sequence[str] | None = None) -> str:
    """Return the note that explains the mark, for some options or all; empty where none falls short."""
    shown = [
        f"{name} ({', '.join(amount_words(each) for each in falls)})"
        for name, falls in missed.items()
        if falls and (names is None or name in names)
    ]
    if not shown:
        return ""
    return f"{MARK} The fabric falls short of its targets: {'; '.join(shown)}."


def shortfall_words(shortfall: Shortfall) -> str:
    """Return one shortfall as a sentence, with what would restore the target."""
    if shortfall.of == HEAT_LOSS:
        said = (
            f"heat loss through the envelope {number(shortfall.value, 1)} W/K, {number(shortfall.by, 1)} over the "
            f"limit of {number(shortfall.target, 1)}"
        )
    else:
        said = (
            f"{shortfall.of}: U {number(shortfall.value, 3)} {U_UNIT}, {number(shortfall.by, 3)} over the target of "
            f"{number(shortfall.target, 3)}" + (f", most in {shortfall.where}" if shortfall.where else "")
        )
    if not shortfall.remedies:
        return f"{said}; nothing to thicken is known"
    return f"{said}; restored by {', or '.join(remedy_words(remedy) for remedy in shortfall.remedies)}"


def parity_cautions(falls: Sequence[Shortfall]) -> list[Caution]:
    """Return the shortfalls of an option as cautions."""
    return [Caution("Fabric falls short", shortfall_words(each)) for each in falls]


def remedy_words(remedy: Remedy) -> str:
    """Return what would restore a target, in words."""
    more = remedy.more
    ways = []
    if more.deeper is not None:
        where = "in deeper sticks" if more.sticks else "where it lies"
        ways.append(f"{_mm(more.deeper)} more of {more.material} {where}")
    if more.unbroken is not None and more.sticks:
        ways.append(f"{_mm(more.unbroken)} of it unbroken")
    place = {"external walls": "in the walls", "roof": "in the roof", "floor": "under the floor"}
    said = " or ".join(ways) if ways else "nothing up to 500 mm"
    return f"{said} ({place.get(remedy.element, remedy.element)})"


def _mm(thickness: float) -> str:
    """Return a thickness in mm."""
    return f"{number(thickness * 1000)} mm"


def parity_table(missed: Missed) -> ReportTable | None:
    """Return every target that an option misses, with the thickness that would restore it; None where none does."""
    rows = []
    for name, falls in missed.items():
        for place, shortfall in enumerate(falls):
            heat = shortfall.of == HEAT_LOSS
            places = 1 if heat else 3
            remedies = shortfall.remedies or (None,)
            for index, remedy in enumerate(remedies):
                first = index == 0
                rows.append(
                    Row(
                        cells=(
                            marked_name(name, missed) if place == 0 and first else "",
                            ", most in ".join(filter(None, (shortfall.of, shortfall.where))) if first else "",
                            number(shortfall.value, places) if first else "",
                            number(shortfall.target, places) if first else "",
                            f"+{number(shortfall.by, places)}" if first else "",
                            ("W/K" if heat else U_UNIT) if first else "",
                            "" if remedy is None else f"{remedy.element}: {remedy.more.material}",
                            *_thicknesses(None if remedy is None else remedy.more),
                        )
                    )
                )
    if not rows:
        return None
    return ReportTable(
        id="parity",
        caption="Where the fabric falls short, and what would restore it",
        columns=(
            Column(title="Option", figures=False),
            Column(title="What", figures=False),
            Column(title="Value"),
            Column(title="Target"),
            Column(title="Over by"),
            Column(title="Unit", figures=False),
            Column(title="More insulation", figures=False),
            Column(title="In deeper sticks", unit="mm"),
            Column(title="Unbroken", unit="mm"),
        ),
        rows=tuple(rows),
        note="Each line by itself would be enough: more of the insulation there is, in deeper studs or rafters (under "
        "a floor on the ground: where it lies), or as a layer that no stick crosses. U-values are means of an element "
        "by area. The target of the heat loss is its limit against the base.",
    )


def _thicknesses(more: MoreInsulation | None) -> tuple[str, str]:
    """Return both thicknesses in mm."""
    if more is None:
        return ("not known", "not known")
    deeper = "over 500" if more.deeper is None else number(more.deeper * 1000)
    unbroken = "over 500" if more.unbroken is None else number(more.unbroken * 1000)
    return (deeper, unbroken if more.sticks else "")


def noted(context: dict[str, Any], note: str) -> dict[str, Any]:
    """Return what a template shows with the note below every table in which a marked name stands."""
    return {key: _noted(value, note) for key, value in context.items()}


def _noted(value: Any, note: str) -> Any:
    """Return a value of the context with the note below its tables."""
    if isinstance(value, ReportTable):
        return replace(value, note=" ".join(filter(None, (value.note, note)))) if _is_marked(value) else value
    if isinstance(value, dict):
        return {key: _noted(each, note) for key, each in value.items()}
    if isinstance(value, list) or (isinstance(value, tuple) and any(map(_holds_tables, value))):
        return [_noted(each, note) for each in value]
    if _holds_tables(value):
        changed = {each.name: _noted(getattr(value, each.name), note) for each in fields(value)}
        return replace(value, **changed)
    return value


def _holds_tables(value: Any) -> bool:
    """Whether a value is a table, or plain data with tables among its fields."""
    if isinstance(value, ReportTable):
        return True
    if not is_dataclass(value) or isinstance(value, type):
        return False
    return any(isinstance(getattr(value, each.name), ReportTable) for each in fields(value))


def _is_marked(table: ReportTable) -> bool:
    """Whether a marked name stands in a table."""
    texts = [table.caption, *(column.title for column in table.columns)]
    for row in table.rows:
        texts += [row.heading, *row.cells]
    return any(MARK in text for text in texts)
