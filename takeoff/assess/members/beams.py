"""Continuous beams under uniform loads by the three-moment equation."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

# Every pattern of loaded and unloaded spans is tried, so their number doubles with each span.
MOST_SPANS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class BeamEffects:
    """The greatest effects in a beam over all patterns of imposed load.

    `moment` [N m] and `shear` [N] are absolute; `end_reaction` and `inner_reaction` [N], the latter 0 with one span;
    `sag` is the greatest deflection [m], `sag_ratio` the greatest deflection over its own span.
    """

    moment: float
    shear: float
    end_reaction: float
    inner_reaction: float
    sag: float
    sag_ratio: float


@dataclass(frozen=True, slots=True)
class _Span:
    """One loaded span: its length [m], load [N/m], and the moments at its ends, sagging above 0 [N m]."""

    length: float
    load: float
    left: float
    right: float

    @property
    def shear_left(self) -> float:
        """Shear force at the left end [N]."""
        return self.load * self.length / 2 + (self.right - self.left) / self.length

    @property
    def shear_right(self) -> float:
        """Shear force at the right end, as the support there feels it [N]."""
        return self.load * self.length - self.shear_left

    def greatest_moment(self) -> float:
        """Return the greatest absolute moment in the span [N m]."""
        moments = [abs(self.left), abs(self.right)]
        if self.load > 0 and 0 < (at := self.shear_left / self.load) < self.length:
            moments.append(abs(self.left + self.shear_left * at - self.load * at**2 / 2))
        return max(moments)

    def sag(self, stiffness: float) -> float:
        """Return the greatest absolute deflection in the span, for a stiffness EI [N m2], in m.

        It lies where the slope, a cubic along the span, is nothing.
        """
        a, v, w, length = self.left, self.shear_left, self.load, self.length
        turned = -(a * length / 2 + v * length**2 / 6 - w * length**3 / 24)
        slope = [-w * length**3 / 6, v * length**2 / 2, a * length, turned]
        # a load next to nothing leaves a quadratic or less: its first terms are only noise to the solver
        least = 1e-12 * max(map(abs, slope))
        while slope and abs(slope[0]) <= least:
            slope.pop(0)
        places = (float(place.real) * length for place in np.roots(slope) if abs(place.imag) < 1e-9)
        return max(
            (
                abs(a * x**2 / 2 + v * x**3 / 6 - w * x**4 / 24 + turned * x) / stiffness
                for x in places
                if 0 < x < length
            ),
            default=0.0,
        )


def beam_effects(spans: Sequence[float], *, dead: float, imposed: float, stiffness: float) -> BeamEffects:
    """Return the greatest effects in a beam on simple supports, dead load everywhere, imposed in every pattern.

    Args:
        spans: lengths of its spans [m], one to `MOST_SPANS`.
        dead: line load on all spans [N/m].
        imposed: line load on any of them [N/m].
        stiffness: E I, the same all along [N m2].

    Raises ValueError where there are none or too many spans, or one is not above 0.

    Source: three-moment equation of Clapeyron, as in structural handbooks.

    >>> effects = beam_effects([4.8], dead=2400.0, imposed=0.0, stiffness=11e9 * 7119e-8)
    >>> round(effects.moment, 1), round(effects.shear, 1), round(effects.sag * 1000, 2)
    (6912.0, 5760.0, 21.18)
    """
    if not 1 <= len(spans) <= MOST_SPANS or min(spans) <= 0:
        raise ValueError(f"between one and {MOST_SPANS} spans, each above 0")
    moment = shear = end = inner = sag = ratio = 0.0
    for pattern in itertools.product((0.0, imposed), repeat=len(spans)) if imposed else [(0.0,) * len(spans)]:
        parts = _solved(spans, [dead + load for load in pattern])
        moment = max(moment, *(part.greatest_moment() for part in parts))
        shear = max(shear, *(max(abs(part.shear_left), abs(part.shear_right)) for part in parts))
        end = max(end, parts[0].shear_left, parts[-1].shear_right)
        for before, after in itertools.pairwise(parts):
            inner = max(inner, before.shear_right + after.shear_left)
        for part in parts:
            deflection = part.sag(stiffness)
            sag, ratio = max(sag, deflection), max(ratio, deflection / part.length)
    return BeamEffects(
        moment=moment, shear=shear, end_reaction=end, inner_reaction=inner, sag=sag, sag_ratio=ratio
    )


def _solved(spans: Sequence[float], loads: Sequence[float]) -> list[_Span]:
    """Return the spans with the moments over their supports."""
    count = len(spans) - 1
    moments = [0.0, *[0.0] * count, 0.0]
    if count:
        matrix, known = np.zeros((count, count)), np.zeros(count)
        for row in range(count):
            left, right = spans[row], spans[row + 1]
            matrix[row, row] = 2 * (left + right)
            if row:
                matrix[row, row - 1] = left
            if row + 1 < count:
                matrix[row, row + 1] = right
            known[row] = -(loads[row] * left**3 + loads[row + 1] * right**3) / 4
        moments[1:-1] = (float(value) for value in np.linalg.solve(matrix, known))
    return [
        _Span(length, load, left, right)
        for length, load, (left, right) in zip(spans, loads, itertools.pairwise(moments), strict=True)
    ]
