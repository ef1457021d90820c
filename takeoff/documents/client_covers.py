"""What the figures of the client paper cover and do not: short lists that fit the page whatever the house."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.compare.cautions import GENERAL
from takeoff.compare.evaluate import Result
from takeoff.documents.client_words import date_words, listed, part_money, sentence, shortened
from takeoff.documents.report_notes import not_covered, used_materials
from takeoff.documents.wording import number, percent
from takeoff.model.job import Job
from takeoff.model.life_cycle import UPFRONT, module_words

# Room on the page, in signs of text.
_ITEM = 150
_EXCLUSIONS, _ALLOWANCES, _DECISIONS = 950, 620, 620
_KIND = {"firm": "", "provisional sum": "", "prime-cost sum": ", supply only"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Covers:
    """The texts of the last page."""

    included: tuple[str, ...]
    excluded: tuple[str, ...]
    allowances: str
    assumptions: tuple[str, ...]
    decisions: tuple[str, ...]
    glossary: tuple[tuple[str, str], ...]
    cautions: str


def covers(job: Job, results: Sequence[Result], *, close: bool) -> Covers:
    """Return what the figures of the base cover and do not; `close` says whether an option is too close to call."""
    base = results[0]
    return Covers(
        included=_included(job, base),
        excluded=_within(not_covered(job, base), _EXCLUSIONS),
        allowances=_allowances(job, base),
        assumptions=_assumptions(job, results),
        decisions=_decisions(job, results, close=close),
        glossary=_glossary(job, base),
        cautions=" ".join(caution.text for caution in GENERAL),
    )


def _within(items: Iterable[str], room: int) -> tuple[str, ...]:
    """Return items as sentences as long as there is room [signs], with how many more there are."""
    texts = [sentence(shortened(item, _ITEM)) for item in items]
    kept: list[str] = []
    for text in texts:
        if kept and sum(map(len, kept)) + len(text) > room:
            break
        kept.append(text)
    if more := len(texts) - len(kept):
        kept.append(f"And {more} more, listed in the comparison report.")
    return tuple(kept)


def _included(job: Job, base: Result) -> tuple[str, ...]:
    """Return what the figures hold."""
    inside = ", walls, doors and finishes inside" if base.design.rooms else ""
    items = [
        f"Foundations, floor, outside walls, roof, windows and outside doors{inside}, measured part by part."
    ]
    if base.allowances:
        items.append("Sums allowed for what is not drawn yet, named below.")
    rungs = [rung.name.lower() for rung in base.ladder.rungs if rung.amount and not _is_sum(rung.name)]
    if rungs:
        items.append(sentence(shortened(f"on top of the works: {listed(rungs)}", 2 * _ITEM)))
    items.append("Carbon of making the materials, carrying them to the site and building them in.")
    return tuple(items)


def _is_sum(name: str) -> bool:
    """Return whether a rung of the ladder only adds up the allowances, which are named elsewhere."""
    return name in ("Provisional sums", "Prime-cost sums")


def _allowances(job: Job, base: Result) -> str:
    """Return the allowances with their sums, the greatest first, as one paragraph."""
    if not base.allowances:
        return "None: nothing is allowed for beyond what is measured."
    sums = sorted(
        ((sum(line.cost for line in each.lines), each.allowance) for each in base.allowances),
        key=lambda pair: -pair[0],
    )
    texts = [
        f"{shortened(allowance.name, 60)} {part_money(cost)}{_KIND[allowance.kind]}"
        for cost, allowance in sums
    ]
    kept: list[str] = []
    for text in texts:
        if kept and sum(map(len, kept)) + len(text) > _ALLOWANCES:
            break
        kept.append(text)
    more = len(texts) - len(kept)
    tail = f"; and {more} smaller ones, listed in the comparison report" if more else ""
    return f"In {job.project.currency}, before the builder's margin, contingencies and tax: {'; '.join(kept)}{tail}."


def _assumptions(job: Job, results: Sequence[Result]) -> tuple[str, ...]:
    """Return what the figures rest on: prices, areas, carbon."""
    base, areas = results[0], results[0].measured.areas
    return (
        _prices(job, results),
        f"Floor area: {number(areas.inside)} m² inside the outside walls, {number(areas.outside)} m² to the outside "
        "of their frames.",
        f"A carbon figure is known for {percent(base.totals.carbon_cover_mass, 0)} of the weight of the materials and "
        f"{percent(base.totals.carbon_cover_cost, 0)} of the cost of works and sums; the rest is left out, not nought.",
        "The range of the cost is that of the stage; likely ranges of differences hold in eight cases out of ten.",
    )


def _prices(job: Job, results: Sequence[Result]) -> str:
    """Return when and where the prices were good."""
    found = [job.library.prices[name] for name in used_materials(results) if name in job.library.prices]
    dates = sorted({price.date for price in found if price.date})
    places = list(dict.fromkeys(price.place for price in found if price.place))
    if not dates and not places:
        return "Prices bear neither date nor place."
    when = (
        date_words(dates[0])
        if len(dates) == 1
        else f"{date_words(dates[0])} to {date_words(dates[-1])}"
        if dates
        else "no stated date"
    )
    where = shortened(listed(places[:3]), 120) if places else "no stated place"
    return f"Prices of {when}, {where}; in {job.project.currency}."


def _decisions(job: Job, results: Sequence[Result], *, close: bool) -> tuple[str, ...]:
    """Return what is to be decided or found out next: options, open questions, what is not drawn yet."""
    items = []
    if len(results) > 1:
        items.append(
            "Which options to take further; those too close to call are a matter of liking, not of figures"
            if close
            else "Which options to take further"
        )
    items += [f"To answer: {query.question}" for query in job.queries if not query.answer]
    items += [f"To draw and measure: {each.item[:1].lower()}{each.item[1:]}" for each in job.to_take]
    if base_sums := [each for each in results[0].allowances if each.allowance.kind != "firm"]:
        items.append(f"What the {len(base_sums)} allowances are to buy, so that quotes can take their place")
    items.append("Sizes of structure with the engineer, before anything is ordered")
    return _within(items, _DECISIONS)


def _glossary(job: Job, base: Result) -> tuple[tuple[str, str], ...]:
    """Return ten terms, each in a line."""
    return (
        (
            "Carbon",
            "here: greenhouse gases of making, carrying and building in the materials, as tonnes of carbon dioxide "
            f"(kgCO₂e, modules {module_words(UPFRONT)} of EN 15978)",
        ),
        (
            "Stored carbon",
            "carbon dioxide that trees took up and wood holds until it rots or burns (EN 16449)",
        ),
        ("Base", f"the house that the others are compared with: {shortened(base.option.name, 40)}"),
        ("Option", "the same house with one or a few things changed"),
        ("Range", "where a figure is likely to end up (for differences, P10 to P90)"),
        ("Too close to call", "the likely range reaches from less to more, so figures can't decide"),
        ("Allowance", "a round sum for what is not drawn yet (provisional or prime-cost sum)"),
        ("Contingency", "money held ready for what nobody can foresee"),
        ("Works and sums", "what is measured and allowed for, before margin, contingencies and tax"),
        ("Accuracy", "how far an estimate of this stage may be out, from experience"),
    )
