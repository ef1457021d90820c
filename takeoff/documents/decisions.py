"""The decisions of a job, first in the report: what the options change, and what each change does."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from takeoff.compare.evaluate import Result
from takeoff.compare.figures import differences
from takeoff.compare.uncertainty import Difference, DrawnFigure, Uncertainty, Verdict
from takeoff.documents.range_tables import printed_change, unit_of
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import figure, figure_change, unit_text
from takeoff.model.house import Design

_DRAWN: tuple[tuple[DrawnFigure, str], ...] = (
    ("total_inc_tax", "Cost inc tax"),
    ("upfront_kgco2e", "Upfront carbon"),
    ("life_cycle_kgco2e", "Life-cycle carbon"),
)
_PLAIN: tuple[tuple[str, str, str], ...] = (
    ("mass_kg", "kg", "Mass"),
    ("wastage_share", "share", "Wastage"),
    ("mean_u", "W/(m2 K)", "Mean U-value"),
)
# Settings named in a heading; a decision with more of them says how many more.
_NAMED = 2


def decisions_table(results: Sequence[Result], ranges: Uncertainty, currency: str) -> ReportTable | None:
    """Return the options by the settings they change, each with what it does to the base; None for one option."""
    base = results[0]
    rows: list[Row] = []
    for settings, options in _by_settings(results).items():
        rows.append(Row(heading=_heading(settings, base.design)))
        rows += [_row(result, base, ranges) for result in options]
    if not rows:
        return None
    return ReportTable(
        id="decisions-table",
        caption=f"Decisions, and what each choice changes against {base.option.name}",
        columns=(
            Column(title="Choice", figures=False),
            Column(title="Set to", figures=False),
            *(Column(title=title, unit=unit_of(key, currency)) for key, title in _DRAWN),
            *(
                Column(title=title, unit="percentage points" if unit == "share" else unit_text(unit))
                for _, unit, title in _PLAIN
            ),
        ),
        rows=tuple(rows),
        note=f"Differences from {base.option.name}, with what can be said of them below: lower or higher where nine "
        "draws in ten agree, else too close to call. Wastage is the share of the mass bought that is not built in.",
    )


def findings(results: Sequence[Result], ranges: Uncertainty) -> list[tuple[str, str]]:
    """Return the options by what can be said of their cost and upfront carbon: finding and names."""
    groups: dict[str, list[str]] = {}
    for result in results[1:]:
        drawn = ranges.option(result.option.name).differences
        words = _finding(drawn["total_inc_tax"].verdict, drawn["upfront_kgco2e"].verdict)
        groups.setdefault(words, []).append(result.option.name)
    return [(words, ", ".join(groups[words])) for words in _ORDER if words in groups]


_BOTH_LOWER = "Lower in cost and in upfront carbon"
_CHEAPER = "Lower in cost, upfront carbon not higher"
_LEANER = "Lower in upfront carbon, cost not higher"
_DEARER_LEANER = "Less upfront carbon for more cost"
_CHEAPER_MORE = "Less cost for more upfront carbon"
_HIGHER = "Higher in one or both, lower in neither"
_CLOSE = "Too close to call in both"
_ORDER = (_BOTH_LOWER, _CHEAPER, _LEANER, _DEARER_LEANER, _CHEAPER_MORE, _HIGHER, _CLOSE)


def _finding(cost: Verdict, carbon: Verdict) -> str:
    """Return what can be said of an option in cost and upfront carbon."""
    found = {
        ("lower", "lower"): _BOTH_LOWER,
        ("lower", "higher"): _CHEAPER_MORE,
        ("higher", "lower"): _DEARER_LEANER,
    }.get((cost, carbon))
    if found:
        return found
    if "higher" in (cost, carbon):
        return _HIGHER
    if cost == "lower":
        return _CHEAPER
    return _LEANER if carbon == "lower" else _CLOSE


def _by_settings(results: Sequence[Result]) -> dict[tuple[str, ...], list[Result]]:
    """Return the options but the base by the settings they change, in their own order."""
    found: dict[tuple[str, ...], list[Result]] = {}
    for result in results[1:]:
        found.setdefault(tuple(name for name, _ in result.option.shown), []).append(result)
    return found


def _heading(settings: Sequence[str], base: Design) -> str:
    """Return the settings of a decision, each with its value in the base."""
    if not settings:
        return "Nothing changed"
    named = [
        f"{name}{f' ({value} in the base)' if (value := _in_base(name, base)) else ''}"
        for name in settings[:_NAMED]
    ]
    more = len(settings) - len(named)
    return "; ".join(named)[:1].upper() + "; ".join(named)[1:] + (f"; {more} more" if more > 0 else "")


def _in_base(setting: str, base: Design) -> str:
    """Return the value of a setting in the base in words, empty where it has none that a line would hold."""
    key = setting.replace(" ", "_")
    value: object = base.stud_spacing if key == "stud_spacing" else getattr(base.house, key, None)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        if key == "pitch":
            return f"{value:g} deg"
        return f"{value * 1000:g} mm" if abs(value) < 1 else f"{value:g} m"
    return value if isinstance(value, str) else ""


def _row(result: Result, base: Result, ranges: Uncertainty) -> Row:
    """Return one option: what it sets, its differences, and what can be said of them."""
    drawn: Mapping[DrawnFigure, Difference] = ranges.option(result.option.name).differences
    plain = differences(result, base)
    return Row(
        cells=(
            result.option.name,
            "; ".join(value for _, value in result.option.shown) or "as the base",
            *(printed_change(drawn[key].range.central, key) for key, _ in _DRAWN),
            *(figure_change(plain[key], unit) or figure(None, unit) for key, unit, _ in _PLAIN),
        ),
        second=("", "", *(drawn[key].verdict for key, _ in _DRAWN), *("" for _ in _PLAIN)),
        below=result.option.description,
    )
