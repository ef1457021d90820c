"""The charts of the client paper, each with the table of its figures."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.compare.savings import Savings
from takeoff.compare.uncertainty import DrawnFigure, Uncertainty
from takeoff.documents.charts import PARTS, WhiskerRow, by_part, scatter, whisker_bars
from takeoff.documents.charts.columns import Below, ColumnPart, paired_columns
from takeoff.documents.charts.waterfall import WaterfallStep, waterfall
from takeoff.documents.client_words import (
    ends_of,
    is_close,
    part_money,
    shortened,
    shown_name,
    thousands,
    thousands_change,
    tonnes,
    tonnes_change,
    total_money,
)
from takeoff.documents.drawings.svg import Picture
from takeoff.documents.parity_words import Missed
from takeoff.documents.wording import number, percent, to_nearest
from takeoff.model.job import Job

# Charts are drawn on paper so wide [mm] and printed wider, so that their lettering is that of the page.
CHART_WIDTH = 126.0
_NAME_IN_CHART = 44
# Names that stand beside points: no longer and no more than this, else letters that the table explains.
_NAME_AT_POINT, _POINTS_NAMED = 24, 6
_NAME_IN_TABLE, _LONG_WORD = 34, 20
# Rows of the table of all options that stand on the page.
_ROWS = 12
# The chart of all options shares the width with its table [mm].
_POINTS_WIDTH = 74.0
NOT_KNOWN = "not known"
# Less than this counts as none kept [kgCO2].
_LEAST_KEPT = 0.5
# What the parts of the charts are called on this paper.
PART_WORDS = {
    "substructure": "foundations and floor",
    "roof": "roof",
    "external walls": "outside walls",
    "windows and doors": "windows and outside doors",
    "internal walls and doors": "inside walls and doors",
    "finishes": "finishes inside",
    "fitments and services": "fittings and services",
    "other": "site work and other",
}
ON_TOP = "site, builder, contingencies"
TAX = "tax"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientTable:
    """A small table as ready text: what it shows, its column titles, its rows.

    The last row is a sum if `total`; the first column holds the letters of points if `lettered`, else names.
    """

    id: str
    caption: str
    titles: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    total: bool = False
    lettered: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A chart with the table of its figures, None where they stand elsewhere on the page."""

    picture: Picture
    table: ClientTable | None = None


def difference_chart(
    results: Sequence[Result], ranges: Uncertainty, key: DrawnFigure, currency: str, missed: Missed
) -> Picture:
    """Return the differences of options from the base as bars with their likely ranges."""
    money = key == "total_inc_tax"
    rows = []
    for result in results:
        central, low, high = ends_of(ranges.option(result.option.name).differences[key])
        name = shown_name(result.option.name, missed, _NAME_IN_CHART)
        rows.append(WhiskerRow(name=name, value=central, low=low, high=high))
    what, unit = ("cost", f"thousand {currency}") if money else ("carbon", "tonnes")
    return whisker_bars(
        title=f"Difference in {what} from the base, {unit}",
        desc=f"Bars from zero: to the left less {what} than the base, to the right more. The line across the end of "
        "each bar is its likely range; where it crosses zero it is too close to call.",
        unit_label=unit,
        rows=rows,
        number_format=thousands_change if money else tonnes_change,
        chosen=None,
        paper_width_mm=CHART_WIDTH,
        id_prefix=f"{what}-difference",
        value_words="our estimate",
        range_words="likely range",
    )


def parts_of(base: Result) -> list[tuple[str, float, float | None]]:
    """Return the parts of the base from the ground up: part, cost of its works and sums, upfront carbon [kgCO2e].

    Carbon is None where nothing of a part is assessed.
    """
    cost = by_part({name: totals.cost for name, totals in base.by_element.items()})
    known = by_part(
        {
            name: totals.upfront
            for name, totals in base.by_element.items()
            if totals.upfront_assessed is not None
        }
    )
    return [(part, cost.get(part, 0.0), known.get(part)) for part in PARTS if part in cost]


def on_top(base: Result) -> tuple[float, float]:
    """Return what the cost ladder adds to works and sums before tax, and the tax."""
    tax = sum(rung.amount for rung in base.ladder.rungs if rung.is_tax)
    return base.ladder.total_inc_tax - tax - base.totals.cost, tax


def where_it_goes(base: Result, currency: str) -> Shown:
    """Return cost and carbon of the base by part, side by side, with what is stored below zero."""
    found = parts_of(base)
    before_tax, tax = on_top(base)
    total, upfront, stored = base.ladder.total_inc_tax, base.totals.upfront, -base.totals.stored
    parts = [
        ColumnPart(
            name=PART_WORDS[part],
            colour_of=part,
            left=max(cost, 0.0),
            right=None if carbon is None else max(carbon, 0.0),
            left_text=thousands(cost),
            right_text=NOT_KNOWN if carbon is None else tonnes(carbon),
        )
        for part, cost, carbon in found
    ]
    parts += [
        ColumnPart(
            name=name,
            colour_of="",
            left=max(amount, 0.0),
            right=None,
            left_text=thousands(amount),
            right_text="",
        )
        for name, amount in ((ON_TOP, before_tax), (TAX, tax))
        if amount
    ]
    below = Below(
        value=stored,
        text=f"−{tonnes(stored)} tonnes stored in the wood",
        words=_kept_words(base),
    )
    chart = paired_columns(
        title="Where cost and carbon go, part by part",
        desc="Two columns of the same parts in the same order, cost at the left and carbon at the right; carbon stored "
        "in the wood hangs below zero, apart.",
        left_heading=f"Cost, thousand {currency}",
        left_total=f"about {number(to_nearest(5000)(total) / 1000)} in all",
        right_heading="Carbon, tonnes",
        right_total=f"about {tonnes(upfront)} in all",
        parts=parts,
        below=below if stored > 0 else None,
        paper_width_mm=CHART_WIDTH,
        id_prefix="where-it-goes",
    )
    rows = [
        (
            PART_WORDS[part],
            part_money(cost),
            _share(cost, total),
            NOT_KNOWN if carbon is None else tonnes(carbon),
            "" if carbon is None else _share(carbon, upfront),
        )
        for part, cost, carbon in found
    ]
    rows += [
        (name, part_money(amount), _share(amount, total), "none", "")
        for name, amount in ((ON_TOP, before_tax), (TAX, tax))
        if amount
    ]
    rows.append(("all, rounded by itself", total_money(total), "", tonnes(upfront), ""))
    table = ClientTable(
        id="parts",
        caption="The same in figures",
        titles=("Part", f"Cost, {currency}", "of all", "Carbon, tonnes", "of all"),
        rows=tuple(rows),
        total=True,
    )
    return Shown(picture=chart, table=table)


def _kept_words(base: Result) -> str:
    """Return what becomes of the carbon stored in the wood."""
    kept = base.totals.kept
    if kept is None:
        end = "what becomes of it later is not known"
    elif abs(kept) < _LEAST_KEPT:
        end = "in the end it goes back into the air"
    else:
        end = f"of it and of later wood {tonnes(-kept)} tonnes are taken to stay in the ground for good"
    return (
        f"Trees took it out of the air; it stays in the house while the house stands, and {end}. It is told apart "
        "and not taken off the carbon of building."
    )


def _share(part: float, whole: float) -> str:
    """Return a share of a whole, "" of nothing."""
    return percent(part / whole, 0) if whole else ""


def savings_chart(saved: Savings, currency: str, *, most: int) -> Shown | None:
    """Return the savings one upon another, with what each does to carbon; None where there are none.

    Where there are more than `most`, the further ones are one step.
    """
    if not saved.steps:
        return None
    base = saved.base.ladder.total_inc_tax
    steps = [
        (shortened(step.name, _NAME_IN_CHART), step.cost, step.upfront, step.result.ladder.total_inc_tax)
        for step in saved.steps
    ]
    if len(steps) > most:
        rest = steps[most - 1 :]
        steps = [
            *steps[: most - 1],
            (f"{len(rest)} further changes", sum(r[1] for r in rest), sum(r[2] for r in rest), rest[-1][3]),
        ]
    chart = waterfall(
        title=f"Savings one upon another, thousand {currency}",
        desc="Each bar is what one change saves on top of those above it; the last bar is all of them together.",
        unit_label=f"cost including tax, thousand {currency}",
        base_name=shortened(saved.base.option.name, _NAME_IN_CHART),
        base_value=base,
        steps=[WaterfallStep(name=name, change=cost, after=after) for name, cost, _, after in steps],
        total_name="all together",
        change_format=thousands_change,
        value_format=lambda value: number(to_nearest(5000)(value) / 1000),
        value_heading="total, about",
        paper_width_mm=CHART_WIDTH,
        id_prefix="savings",
    )
    rows = [(name, _money(cost), _tonnes(upfront)) for name, cost, upfront, _ in steps]
    together = saved.together
    rows.append(
        (
            "all together",
            _money(together.ladder.total_inc_tax - base),
            _tonnes(together.totals.upfront - saved.base.totals.upfront),
        )
    )
    table = ClientTable(
        id="savings-figures",
        caption="What each adds to the saving, rounded each by itself",
        titles=("Change, in this order", f"Cost, {currency}", "Carbon, tonnes"),
        rows=tuple(rows),
        total=True,
    )
    return Shown(picture=chart, table=table)


def _money(amount: float) -> str:
    """Return a difference in money with its sign."""
    return _signed(amount, part_money)


def _tonnes(amount: float) -> str:
    """Return a difference in carbon with its sign."""
    return _signed(amount, tonnes)


def _signed(amount: float, write: Callable[[float], str]) -> str:
    """Return a difference with its sign; what rounds to nothing is 0."""
    text = write(abs(amount))
    if not any(sign in "123456789" for sign in text):
        return "0"
    return f"−{text}" if amount < 0 else f"+{text}"


def cost_against_carbon(
    job: Job, results: Sequence[Result], ranges: Uncertainty, missed: Missed
) -> tuple[Picture, ClientTable | None]:
    """Return every option by cost and carbon, those that no other beats in both joined, and their figures.

    The table is None where there is the base alone.
    """
    currency = job.project.currency
    names = [shown_name(r.option.name, missed, _room_for(r.option.name)) for r in results]
    lettered = len(names) > _POINTS_NAMED or max(map(len, names)) > _NAME_AT_POINT
    labels = [_letter(index) for index in range(len(names))] if lettered else names
    picture = scatter(
        title="Cost against carbon, every option",
        desc="Each option as a point: the further left the cheaper, the lower down the less carbon. Those that no "
        "other option beats in both are filled and joined.",
        points=[
            (label, r.ladder.total_inc_tax / 1000, r.totals.upfront / 1000)
            for label, r in zip(labels, results, strict=True)
        ],
        x_label=f"cost including tax, thousand {currency}",
        y_label="carbon, tonnes",
        x_format=lambda value: number(value),
        y_format=lambda value: number(value, 1),
        chosen=labels[0],
        paper_width_mm=_POINTS_WIDTH,
        id_prefix="cost-against-carbon",
    )
    if len(results) == 1:
        return picture, None
    rows = []
    for index, (name, result) in enumerate(zip(names, results, strict=True)):
        shown = (labels[index], name) if lettered else (name,)
        if not index:
            rows.append((*shown, "the base", "the base"))
            continue
        differences = ranges.option(result.option.name).differences
        cost, carbon = differences["total_inc_tax"], differences["upfront_kgco2e"]
        rows.append(
            (
                *shown,
                "too close" if is_close(cost) else _money(cost.range.central),
                "too close" if is_close(carbon) else _tonnes(carbon.range.central),
            )
        )
    more = len(rows) - _ROWS
    table = ClientTable(
        id="every-option",
        caption="Less or more than the base"
        + (f"; {more} more stand in the comparison report" if more > 0 else ""),
        titles=(*(("Point",) if lettered else ()), "Option", f"Cost, {currency}", "Carbon, tonnes"),
        rows=tuple(rows[:_ROWS]),
        lettered=lettered,
    )
    return picture, table


def _room_for(name: str) -> int:
    """Return how many signs of a name stand in two lines of the table; a long word takes a line of its own."""
    return _LONG_WORD if any(len(word) > _LONG_WORD for word in name.split()) else _NAME_IN_TABLE


def _letter(index: int) -> str:
    """Return the letter of an option: A, B and so on, AA after Z.

    >>> _letter(0), _letter(25), _letter(26)
    ('A', 'Z', 'AA')
    """
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
