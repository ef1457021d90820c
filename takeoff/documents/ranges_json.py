"""The ranges in results.json."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from takeoff.compare.uncertainty import Difference, DrawnFigure, Influence, OptionRanges, Range, Uncertainty


def ranges_data(ranges: Uncertainty) -> dict[str, Any]:
    """Return the ranges of all options by name, and the inputs that matter most to the base."""
    return {
        "draws": ranges.draws,
        "seed": ranges.seed,
        "options": {option.name: _option(option) for option in ranges.options},
        "what_matters_most": {
            key: [_influence(influence) for influence in influences]
            for key, influences in ranges.base_tornado.items()
        },
        "inputs_without_range": [known.label for known in ranges.without_range],
    }


def _option(option: OptionRanges) -> dict[str, Any]:
    """Return the ranges of one option; its differences are empty for the base."""
    return {
        "totals": {key: _range(figures) for key, figures in option.figures.items()},
        "differences": _differences(option.differences),
    }


def _differences(differences: Mapping[DrawnFigure, Difference]) -> dict[str, Any]:
    """Return the differences from the base."""
    return {
        key: {
            **_range(difference.range),
            "share_lower": difference.share_lower,
            "share_higher": difference.share_higher,
            "verdict": difference.verdict,
            "unpaired_p10": difference.unpaired_p10,
            "unpaired_p90": difference.unpaired_p90,
        }
        for key, difference in differences.items()
    }


def _range(figures: Range) -> dict[str, float]:
    """Return one range."""
    return {
        "central": figures.central,
        "p10": figures.p10,
        "p50": figures.p50,
        "p90": figures.p90,
        "mean": figures.mean,
    }


def _influence(influence: Influence) -> dict[str, Any]:
    """Return one input and how it moves the figure."""
    return {
        "input": influence.source.label,
        "central": influence.source.central,
        "unit": influence.source.unit,
        "low_multiplier": influence.low,
        "high_multiplier": influence.high,
        "at_low": influence.at_low,
        "at_high": influence.at_high,
        "rank_correlation": influence.rank_correlation,
    }
