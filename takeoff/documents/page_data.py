"""The figures and words that the script of the comparison page works with, as JSON within the page."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from takeoff.compare.evaluate import Result
from takeoff.compare.figures import figures_of
from takeoff.compare.uncertainty import DrawnFigure, Uncertainty
from takeoff.documents.fabric_tables import U_UNIT
from takeoff.documents.page_verdicts import verdicts_between
from takeoff.documents.parity_words import Missed, amount_words, marked_name
from takeoff.documents.wording import MINUS, NOT_ASSESSED, figure, number, unit_text
from takeoff.model.job import Job
from takeoff.model.life_cycle import module_words

# Figures by column: key, title, unit; those of the third group are for the whole house on every basis.
_AMOUNTS: tuple[tuple[str, str, str], ...] = (
    ("total_inc_tax", "Cost inc tax", "currency"),
    ("a1a3_kgco2e", "Product stage, A1-A3", "kgCO2e"),
    ("upfront_kgco2e", "Upfront carbon, A1-A5", "kgCO2e"),
    ("life_cycle_kgco2e", "Life-cycle carbon", "kgCO2e"),
    ("d_kgco2e", "D, apart", "kgCO2e"),
    ("stored_kgco2", "Stored carbon, apart", "kgCO2"),
    ("mass_kg", "Mass built in", "kg"),
)
_WHOLE: tuple[tuple[str, str, str], ...] = (
    ("wastage_share", "Wastage", "share"),
    ("mean_u", "Mean U", "W/(m2 K)"),
    ("heat_loss_w_per_k", "Heat loss", "W/K"),
)
_DRAWN: tuple[DrawnFigure, ...] = ("total_inc_tax", "upfront_kgco2e", "life_cycle_kgco2e")


def page_data(job: Job, results: Sequence[Result], ranges: Uncertainty, missed: Missed) -> dict[str, Any]:
    """Return options, figures and the choices that the page offers, as plain data.

    Figures are those of results.json, with null for what is not assessed; the first option is the base. `missed` are
    the targets that the fabric of each option misses, in the order of the options; their names get its mark.
    """
    falls = list(missed.values())
    return {
        "words": {"not_assessed": NOT_ASSESSED, "minus": MINUS, "gap": number(1000)[1:2]},
        "bases": _bases(results),
        "scopes": _scopes(job),
        "columns": [
            *(_column(*each, job.project.currency, is_amount=True) for each in _AMOUNTS),
            *(_column(*each, job.project.currency, is_amount=False) for each in _WHOLE),
        ],
        "options": [
            _option(
                result,
                name=marked_name(result.option.name, missed),
                is_base=place == 0,
                short=[amount_words(each) for each in falls[place]],
            )
            for place, result in enumerate(results)
        ],
        "verdicts": {key: verdicts_between(ranges, key) for key in _DRAWN},
        "picked": _first_picked(results),
    }


def page_json(job: Job, results: Sequence[Result], ranges: Uncertainty, missed: Missed) -> str:
    """Return the data as JSON that can stand within a script element: no tag begins or ends in it."""
    text = json.dumps(
        page_data(job, results, ranges, missed), ensure_ascii=False, separators=(",", ":"), allow_nan=False
    )
    return text.replace("<", "\\u003c")


def _bases(results: Sequence[Result]) -> list[dict[str, str]]:
    """Return what amounts can be shown for; rooms only where every option has some."""
    bases = [
        {"key": "total", "words": "Whole house"},
        {"key": "outside", "words": "Per m² of floor, to the outside face of the frame"},
        {"key": "inside", "words": "Per m² of floor, to the inside faces"},
    ]
    if all(result.measured.areas.rooms for result in results):
        bases.append({"key": "rooms", "words": "Per m² of floor in the rooms, net of walls"})
    return bases


def _scopes(job: Job) -> list[dict[str, str]]:
    """Return the modules that carbon can be shown for, by the figure that adds them up."""
    study = job.study
    return [
        {"key": "a1a3_kgco2e", "words": "Product stage, A1-A3"},
        {"key": "upfront_kgco2e", "words": "Upfront, A1-A5"},
        {
            "key": "life_cycle_kgco2e",
            "words": f"Life cycle, {study.period:g} years: {module_words(study.modules)}",
        },
    ]


def _column(key: str, title: str, unit: str, currency: str, *, is_amount: bool) -> dict[str, Any]:
    """Return how a figure is titled and rounded, for the whole house and, of an amount, for one m2."""
    column: dict[str, Any] = {
        "key": key,
        "title": title,
        "unit": U_UNIT if key == "mean_u" else unit_text(unit, currency),
        "places": _places(unit),
        "share": unit == "share",
    }
    if is_amount:
        column |= {"unit_m2": unit_text(f"{unit}/m2", currency), "places_m2": _places(f"{unit}/m2")}
    return column


def _places(unit: str) -> int:
    """Return how many decimal places a figure of a unit is printed with; the rule is that of `wording.figure`."""
    return len(figure(0.0, unit).removesuffix(" %").partition(".")[2])


def _option(result: Result, *, name: str, is_base: bool, short: list[str]) -> dict[str, Any]:
    """Return one option; `short` says by how much its fabric misses its targets."""
    figures = figures_of(result)
    # sums of what is assessed that results.json writes as 0 where nothing is
    figures |= {"upfront_kgco2e": result.totals.upfront_assessed, "mass_kg": result.totals.known_mass}
    areas = result.measured.areas
    return {
        "name": name,
        "description": result.option.description,
        "changed": "; ".join(f"{name}: {value}" for name, value in result.option.shown),
        "is_base": is_base,
        "short": short,
        "areas": {"outside": areas.outside, "inside": areas.inside, "rooms": areas.rooms or None},
        "figures": {key: figures[key] for key, _, _ in (*_AMOUNTS, *_WHOLE)},
    }


def _first_picked(results: Sequence[Result]) -> list[int]:
    """Return the places of the options set side by side at first: the base, least cost and least upfront carbon."""
    places = range(len(results))
    cheapest = min(places, key=lambda place: results[place].ladder.total_inc_tax)
    leanest = min(places, key=lambda place: results[place].totals.upfront)
    return sorted({0, cheapest, leanest})
