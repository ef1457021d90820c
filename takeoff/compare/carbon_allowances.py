"""Allowances on carbon for what is not designed, measured or known yet: added apart, never buried in a figure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from takeoff.assess.lines import Line
from takeoff.model.library import Library, StageAccuracy

_BEST, _WORST = 1, 5


@dataclass(frozen=True, slots=True, kw_only=True)
class CarbonAllowances:
    """The shares added to carbon at a stage, None where the sheet Accuracy states none; `score` is of the data.

    `score` is the mean score from 1 (best) to 5, weighted by A1-A3.
    """

    phase: float | None
    quantity: float | None
    data: float | None
    score: float | None

    def on(self, amount: float) -> tuple[tuple[str, float], ...]:
        """Return each allowance on an amount, by name and in the unit of the amount."""
        shares = (
            ("for what is not designed yet", self.phase),
            ("for quantities", self.quantity),
            ("for the quality of data", self.data),
        )
        return tuple((name, amount * share) for name, share in shares if share is not None)


def data_score(lines: Iterable[Line], library: Library) -> float | None:
    """Return the mean of the five scores of all factors, weighted by A1-A3; None without any carbon.

    What has no scores counts as worst.
    """
    weighted = weights = 0.0
    for line in lines:
        weight = abs(line.carbon.a1a3 or 0.0)
        factor = library.carbon.get(line.quantity.material)
        values = factor.scores.values() if factor is not None and factor.scores is not None else (_WORST,)
        weighted += weight * sum(values) / len(values)
        weights += weight
    return weighted / weights if weights else None


def carbon_allowances(lines: Iterable[Line], library: Library, stage: str) -> CarbonAllowances | None:
    """Return the allowances on carbon at a stage, None where the sheet Accuracy states none.

    The data allowance grows evenly from nothing at the best score to the most that the sheet states at the worst.

    Source: three allowances (contingency by stage, quality of data from scores weighted by carbon, quantities),
    having regard to the second edition of the RICS whole life carbon assessment as quoted elsewhere; how the
    scores are weighted there was not read, so the weighting is ours.
    """
    accuracy: StageAccuracy | None = library.accuracy.get(stage)
    if accuracy is None:
        return None
    stated = (accuracy.phase_allowance, accuracy.quantity_allowance, accuracy.data_allowance)
    if all(share is None for share in stated):
        return None
    score = data_score(lines, library)
    most = accuracy.data_allowance
    data = None if most is None or score is None else most * (score - _BEST) / (_WORST - _BEST)
    return CarbonAllowances(
        phase=accuracy.phase_allowance, quantity=accuracy.quantity_allowance, data=data, score=score
    )
