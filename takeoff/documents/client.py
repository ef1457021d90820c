"""The client paper: five pages that say what the house costs, what carbon it causes and what can change."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from takeoff.compare.evaluate import Result
from takeoff.compare.parity import Shortfall, shortfalls_of_all
from takeoff.compare.savings import Savings
from takeoff.compare.uncertainty import DrawnFigure, Uncertainty
from takeoff.documents.client_charts import (
    cost_against_carbon,
    difference_chart,
    savings_chart,
    where_it_goes,
)
from takeoff.documents.client_covers import covers
from takeoff.documents.client_looks import Looks, looks_of
from takeoff.documents.client_options import LONG_NAME, columns, least, shortfall_words, shown_options
from takeoff.documents.client_words import (
    FIRM,
    Told,
    accuracy_words,
    carbon_of,
    carbon_words,
    cost_of,
    cost_words,
    date_words,
    is_close,
    listed,
    sentence,
    shortened,
    shown_name,
    tonnes,
    total_money,
)
from takeoff.documents.drawings import massing
from takeoff.documents.drawings.svg import Picture
from takeoff.documents.fonts import TYPE_HERE, with_type
from takeoff.documents.parity_words import MARK, Missed
from takeoff.documents.template_files import environment
from takeoff.documents.wording import number, percent
from takeoff.model.job import Job

# The drawing of the house, and where a long name leaves less room for it, wide and high [mm].
_DRAWING, _SMALLER_DRAWING = (160.0, 85.0), (125.0, 62.0)
_DIFFERENCES: tuple[tuple[str, DrawnFigure], ...] = (
    ("Cost, less or more than the base", "total_inc_tax"),
    ("Carbon of building, less or more than the base", "upfront_kgco2e"),
)
# A name of the house over more than one line leaves less room for the drawing.
_LONG_TITLE = 45
# More options or savings than this need longer tables.
_MANY, _MANY_STEPS = 8, 4
# Savings that stand on the page with the rest; the further ones are one step.
_STEPS = 4
# Room for the note on heat, in signs of text.
_NOTE = 300


def client_page(job: Job, results: Sequence[Result], ranges: Uncertainty, saved: Savings) -> str:
    """Return the client paper as one HTML page that needs nothing else; the first result is the base.

    `ranges` are the draws of these results, `saved` their savings one upon another.
    """
    context = _context(job, results, ranges, saved)
    return with_type(environment().get_template("client.html").render(**context, type_here=TYPE_HERE))


def _context(job: Job, results: Sequence[Result], ranges: Uncertainty, saved: Savings) -> dict[str, Any]:
    """Return everything the template shows, as ready text and pictures."""
    base, project = results[0], job.project
    missed = shortfalls_of_all(job, results)
    looks = looks_of(project)
    shown = shown_options(job, results, ranges, missed)
    cost, carbon = _base_cost(job, base, ranges), _base_carbon(job, base, ranges)
    beside = columns(job, [base, *shown.results], ranges, missed, base_cost=cost, base_carbon=carbon)
    close = any(is_close(option.differences[key]) for option in ranges.options[1:] for _, key in _DIFFERENCES)
    return {
        "looks": looks,
        "practice": shortened(project.practice, 90),
        "project": shortened(project.name, 120),
        "title": f"{shortened(project.name, 120)}: cost, carbon and choices",
        "description": sentence(shortened(project.description, 160)),
        "foot": _foot(job),
        "drawing": _drawing(job, base),
        "glance": _glance(job, base, cost, carbon),
        "sentence": _sentence(job, results, ranges, missed),
        "particulars": _particulars(job),
        "base_name": shown_name(base.option.name, missed, 40),
        "why": shown.why,
        "columns": beside,
        "long_names": any(len(column.name) > LONG_NAME for column in beside),
        "long_title": len(project.name) > _LONG_TITLE,
        "beside_note": _short(
            [
                (shown_name(r.option.name, missed, 40), missed[r.option.name])
                for r in (base, *shown.results)
                if missed.get(r.option.name)
            ]
        ),
        "differences": _difference_charts(job, shown.results, ranges, missed, looks),
        "goes": _tinted(where_it_goes(base, project.currency), looks),
        "uncounted": _uncounted(base),
        **_changes(job, results, ranges, saved, missed, looks),
        "covers": covers(job, results, close=close),
        "mark": MARK,
    }


def _foot(job: Job) -> str:
    """Return what stands at the foot of every page."""
    project = job.project
    issue = f"issue {shortened(project.issue, 20)}" if project.issue else ""
    return ", ".join(filter(None, (shortened(project.name, 70), issue, date_words(project.date))))


def _base_cost(job: Job, base: Result, ranges: Uncertainty) -> Told:
    """Return the total of the base with its range."""
    total, low, high = cost_of(job, base, ranges)
    return Told(
        lead=f"about {total_money(total)}{FIRM}{job.project.currency}",
        range=f"between {total_money(low)} and {total_money(high)}",
    )


def _base_carbon(job: Job, base: Result, ranges: Uncertainty) -> Told:
    """Return the upfront carbon of the base with its range."""
    central, low, high = carbon_of(job, base, ranges)
    return Told(
        lead=f"about {tonnes(central)}{FIRM}tonnes", range=f"between {tonnes(low)} and {tonnes(high)}"
    )


def _glance(job: Job, base: Result, cost: Told, carbon: Told) -> list[tuple[str, str, str, str]]:
    """Return the three leading figures: what, figure, range, explanation."""
    areas = base.measured.areas
    inside, outside = number(areas.inside), number(areas.outside)
    return [
        (
            "Cost, tax included: about",
            cost.lead.removeprefix("about "),
            cost.range,
            "All that is listed on page 5: builder, margin, contingencies and tax among it.",
        ),
        (
            "Carbon of building it: about",
            carbon.lead.removeprefix("about "),
            carbon.range,
            "Greenhouse gases of making the materials, bringing them to the site and building them in, weighed as "
            "carbon dioxide.",
        ),
        (
            "Floor area",
            f"{inside}–{outside}{FIRM}m²" if inside != outside else f"{inside}{FIRM}m²",
            f"between {inside} and {outside}, by what is counted",
            "The smaller figure is the floor inside the outside walls, the larger has their frames in it.",
        ),
    ]


def _sentence(job: Job, results: Sequence[Result], ranges: Uncertainty, missed: Missed) -> str:
    """Return the whole paper in one sentence."""
    base = results[0]
    total, upfront = base.ladder.total_inc_tax, base.totals.upfront
    said = (
        f"The house as it stands is likely to cost about {total_money(total)}{FIRM}{job.project.currency} and building "
        f"it to cause about {tonnes(upfront)}{FIRM}tonnes of carbon"
    )
    if len(results) == 1:
        return f"{said}; no other option has been worked out yet."
    cheapest = least(results, ranges, missed, "total_inc_tax")
    leanest = least(results, ranges, missed, "upfront_kgco2e")
    cheap = (
        None
        if cheapest is None
        else cost_words(
            ranges.option(cheapest.option.name).differences["total_inc_tax"], job.project.currency
        )
    )
    lean = (
        None
        if leanest is None
        else carbon_words(ranges.option(leanest.option.name).differences["upfront_kgco2e"])
    )
    if cheapest is not None and cheapest is leanest and cheap and lean:
        name = shortened(cheapest.option.name, 40)
        return f"{said}; “{name}” saves most of both, {cheap.lead} and {lean.lead} of carbon."
    first = (
        "no option costs noticeably less"
        if cheapest is None or cheap is None
        else f"“{shortened(cheapest.option.name, 40)}” saves most money, {cheap.lead}"
    )
    second = (
        "none causes noticeably less carbon"
        if leanest is None or lean is None
        else f"“{shortened(leanest.option.name, 40)}” most carbon, {lean.lead}"
        if cheapest is not None
        else f"“{shortened(leanest.option.name, 40)}” saves most carbon, {lean.lead}"
    )
    return f"{said}; {first}, and {second}."


def _particulars(job: Job) -> list[tuple[str, str]]:
    """Return stage, accuracy, date and issue, and who stands behind the paper; what is blank is left out."""
    project = job.project
    found = (
        ("Stage of the design", project.stage),
        ("Accuracy of the cost", accuracy_words(job)),
        ("Date", date_words(project.date)),
        ("Issue", project.issue),
        ("Place", project.place),
        ("Figures by", project.author),
    )
    return [(what, shortened(text, 40)) for what, text in found if text]


def _drawing(job: Job, base: Result) -> Picture:
    """Return the drawing of the house: its two sides with most openings, and its roof."""
    wide, high = _SMALLER_DRAWING if len(job.project.name) > _LONG_TITLE else _DRAWING
    return massing(
        base,
        job.library,
        paper_width_mm=wide,
        height_mm=high,
        id_prefix="house",
        name=job.project.name,
    )


def _difference_charts(
    job: Job, beside: Sequence[Result], ranges: Uncertainty, missed: Missed, looks: Looks
) -> list[tuple[str, str]]:
    """Return the charts of the differences in cost and in carbon, each with its heading; none for the base alone."""
    if not beside:
        return []
    return [
        (heading, looks.tinted(difference_chart(beside, ranges, key, job.project.currency, missed).svg))
        for heading, key in _DIFFERENCES
    ]


def _tinted(shown: Any, looks: Looks) -> dict[str, Any]:
    """Return a chart in the colour of the practice, with its table."""
    return {"svg": looks.tinted(shown.picture.svg), "table": shown.table}


def _uncounted(base: Result) -> str:
    """Return in a sentence whose carbon is not known and so not counted; empty where all is."""
    cost = {
        name: sum(
            line.cost
            for line in base.lines
            if line.quantity.element_name == name and line.needs_carbon and line.carbon.a1a3 is None
        )
        for name in base.by_element
    }
    most = sorted((name for name in cost if cost[name] > 0), key=lambda name: -cost[name])
    if not most:
        return ""
    share = percent(1 - base.totals.carbon_cover_cost, 0)
    return (
        f"Carbon is not known, and so not counted, for {share} of the works by cost, most of all for "
        f"{listed(most[:3])}."
    )


def _changes(
    job: Job,
    results: Sequence[Result],
    ranges: Uncertainty,
    saved: Savings,
    missed: Missed,
    looks: Looks,
) -> dict[str, Any]:
    """Return what the page of changes shows."""
    chart = savings_chart(saved, job.project.currency, most=_STEPS if len(results) <= _MANY else _STEPS - 1)
    picture, table = cost_against_carbon(job, results, ranges, missed)
    falls = [(name, missed[name]) for name in missed if missed[name]]
    return {
        "savings": None if chart is None else _tinted(chart, looks),
        "no_savings": "There is no other option yet, so nothing to save with."
        if len(results) == 1
        else "None of the options saves money or carbon without costing more of the other, changing the size of the "
        "house or keeping heat in less well.",
        "crowded": len(results) > _MANY or len(saved.steps) >= _MANY_STEPS,
        "points": looks.tinted(picture.svg),
        "points_table": table,
        "short": _short([(shown_name(name, missed, 40), fall) for name, fall in falls]),
    }


def _short(falls: Sequence[tuple[str, Sequence[Shortfall]]]) -> str:
    """Return the note that explains the mark, the options in it as far as there is room; empty where none bears it."""
    if not falls:
        return ""
    said: list[str] = []
    for name, fall in falls:
        text = f"{name}: {shortfall_words(fall)}"
        if said and sum(map(len, said)) + len(text) > _NOTE:
            break
        said.append(text)
    more = len(falls) - len(said)
    tail = f" {more} more: see the comparison report." if more else ""
    return f"{MARK} Keeps heat in less well than we aim for. {' '.join(said)}{tail}"
