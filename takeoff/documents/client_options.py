"""Which options the client paper shows side by side, why, and what each means in plain words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.compare.flags import flags_of
from takeoff.compare.parity import HEAT_LOSS, Shortfall
from takeoff.compare.uncertainty import DrawnFigure, Uncertainty
from takeoff.documents.client_words import (
    FIRM,
    Told,
    carbon_words,
    cost_words,
    is_noticeably_less,
    listed,
    sentence,
    shortened,
    shown_name,
)
from takeoff.documents.parity_words import MARK, Missed
from takeoff.documents.wording import number, percent
from takeoff.model.fabric import FABRIC_ELEMENTS
from takeoff.model.job import Job

# The base and so many beside it stand on one page.
_BESIDE = 3
# Longest description of an option, less where its name takes much room; a name longer than this does [signs].
_DESCRIPTION, _SHORT_DESCRIPTION = 120, 90
LONG_NAME = 34
_PLACES = {
    "external walls": "outside walls",
    "roof": "roof",
    "floor": "floor",
    "windows": "windows",
    "external doors": "outside doors",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """The options shown beside the base, with a sentence that says why these."""

    results: tuple[Result, ...]
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One option on the page of options: everything as ready text. `cost` and `carbon` are None for the base."""

    name: str
    what: str
    cost: Told
    carbon: Told
    fabric: str
    confirm: str


def shown_options(job: Job, results: Sequence[Result], ranges: Uncertainty, missed: Missed) -> Shown:
    """Return the options to show beside the base: those that the workbook names, else the three that say most.

    Those are the one that costs least and the one that causes least carbon, both noticeably less than the base and with
    nothing short in the fabric, and then those that change most: cost and carbon together, as shares of the base.
    """
    others = list(results[1:])
    if job.project.client_options:
        wanted = [name.lower() for name in job.project.client_options]
        chosen = sorted(
            (result for result in others if result.option.name.lower() in wanted),
            key=lambda result: wanted.index(result.option.name.lower()),
        )
        return Shown(results=tuple(chosen), why=f"Shown beside the base: {_names(chosen, missed)}.")
    if len(others) <= _BESIDE:
        return Shown(results=tuple(others), why="")
    reasons: dict[str, list[str]] = {}
    chosen = []

    def take(result: Result, reason: str) -> None:
        """Choose an option, or give one that is chosen already another reason."""
        if result not in chosen:
            chosen.append(result)
        reasons.setdefault(result.option.name, []).append(reason)

    if (cheapest := least(results, ranges, missed, "total_inc_tax")) is not None:
        take(cheapest, "costs least")
    if (leanest := least(results, ranges, missed, "upfront_kgco2e")) is not None:
        take(leanest, "causes least carbon")
    biggest = sorted(others, key=_size_of_change(results[0]), reverse=True)
    for result in biggest:
        if len(chosen) == _BESIDE:
            break
        if result not in chosen:
            taken = any("changes" in each for given in reasons.values() for each in given)
            take(result, "changes much as well" if taken else "changes cost and carbon most")
    said = [f"{shown_name(r.option.name, missed, 40)} {' and '.join(reasons[r.option.name])}" for r in chosen]
    return Shown(
        results=tuple(chosen),
        why=f"Of the {len(others)} options worked out, these say most: {listed(said)}. All of them stand on page 4.",
    )


def least(results: Sequence[Result], ranges: Uncertainty, missed: Missed, key: DrawnFigure) -> Result | None:
    """Return the option with the least of a figure, None where no option is noticeably below the base.

    One whose fabric falls short of its targets is not like the others and does not count.
    """
    found = [
        result
        for result in results[1:]
        if not missed.get(result.option.name)
        and is_noticeably_less(ranges.option(result.option.name).differences[key], key)
    ]
    return min(
        found,
        key=lambda result: ranges.option(result.option.name).figures[key].central,
        default=None,
    )


def _size_of_change(base: Result) -> Callable[[Result], float]:
    """Return how much an option changes: cost and carbon as shares of the base, added up."""

    def size(result: Result) -> float:
        cost = abs(result.ladder.total_inc_tax - base.ladder.total_inc_tax)
        carbon = abs(result.totals.upfront - base.totals.upfront)
        return cost / (base.ladder.total_inc_tax or 1.0) + carbon / (base.totals.upfront or 1.0)

    return size


def _names(results: Sequence[Result], missed: Missed) -> str:
    """Return the names of options in a sentence."""
    return listed([shown_name(result.option.name, missed, 40) for result in results])


def columns(
    job: Job,
    results: Sequence[Result],
    ranges: Uncertainty,
    missed: Missed,
    *,
    base_cost: Told,
    base_carbon: Told,
) -> list[Column]:
    """Return the columns of the options: the base first, then those shown beside it."""
    base = results[0]
    room = _SHORT_DESCRIPTION if any(len(r.option.name) > LONG_NAME for r in results) else _DESCRIPTION
    made = []
    for result in results:
        name = result.option.name
        differences = ranges.option(name).differences
        is_base = result is base
        made.append(
            Column(
                name=shown_name(name, missed),
                what=sentence(shortened(result.option.description or name, room)),
                cost=base_cost if is_base else cost_words(differences["total_inc_tax"], job.project.currency),
                carbon=base_carbon if is_base else carbon_words(differences["upfront_kgco2e"]),
                fabric=_fabric(job, missed.get(name, ()), is_base=is_base),
                confirm=_confirm(result, base),
            )
        )
    return made


def _fabric(job: Job, falls: Sequence[Shortfall], *, is_base: bool) -> str:
    """Return in plain words how well an option keeps heat in."""
    if falls:
        return f"{MARK} Less well than we aim for: see below."
    judged = any(job.fabric.target(element) is not None for element in FABRIC_ELEMENTS)
    if judged:
        return "As well as we aim for."
    if job.fabric.heat_loss_limit is not None:
        return "The measure for the others." if is_base else "About as well as the base."
    return "Not judged: no targets are set."


def shortfall_words(falls: Sequence[Shortfall]) -> str:
    """Return where an option keeps heat in less well than intended, by how much, and what would put it right."""
    said = [_let_through(fall) for fall in falls if fall.of != HEAT_LOSS]
    whole = [fall for fall in falls if fall.of == HEAT_LOSS]
    parts = [f"{listed(said)} more heat than our target"] if said else []
    parts += [f"the whole house loses {_over(fall)} more than it may" for fall in whole]
    text = sentence("; ".join(parts))
    if thicker := _thicker(falls):
        text += f" {thicker}"
    return text


def _let_through(fall: Shortfall) -> str:
    """Return by how much a part lets more heat through than its target."""
    part = _PLACES.get(fall.of, fall.of)
    verb = "lets" if part in ("roof", "floor") else "let"
    return f"the {part} {verb} through {_over(fall)}"


def _over(fall: Shortfall) -> str:
    """Return by what share a target is missed."""
    share = fall.by / fall.target if fall.target else 1.0
    text = f"under {percent(0.01, 0)}" if share < 0.01 else percent(share, 0)
    return text.replace(" %", f"{FIRM}%")


def _thicker(falls: Sequence[Shortfall]) -> str:
    """Return what would put the first shortfall right, "" where nothing is known that does."""
    for fall in falls:
        for remedy in fall.remedies:
            thickness = remedy.more.deeper if remedy.more.deeper is not None else remedy.more.unbroken
            if thickness is not None:
                part = _PLACES.get(remedy.element, remedy.element)
                return (
                    f"About {number(thickness * 1000)}{FIRM}mm more insulation in the {part} would mend that."
                )
    return ""


def _confirm(result: Result, base: Result) -> str:
    """Return who has to agree to an option before it can be built."""
    flags = flags_of(result)
    if not flags:
        return "Nothing beyond the usual."
    if result is base:
        return "Some sizes, with the engineer."
    return (
        "As for the base." if set(flags) <= set(flags_of(base)) else "The engineer has to agree to it first."
    )
