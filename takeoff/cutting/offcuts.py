"""Offcuts that are worth keeping, and what each could still serve."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from takeoff.cutting.order_plan import CutLength, Offcut

NOTHING = "none of the pieces listed: packers and blocks"


def offcuts_of_lengths(lengths: Sequence[CutLength]) -> tuple[Offcut, ...]:
    """Return the offcuts of a cutting plan not shorter than the least useful one, longest first.

    What an offcut could serve once more is the longest piece of the plan that it holds, as a spare.
    """
    counts: Counter[float] = Counter()
    for cut in lengths:
        if cut.offcut > 0 and cut.offcut >= cut.stock.least_offcut > 0:
            counts[round(cut.offcut, 3)] += cut.count
    kinds = sorted({piece.length for cut in lengths for piece in cut.pieces}, reverse=True)
    kerf = lengths[0].stock.kerf if lengths else 0.0
    return tuple(
        Offcut(length=length, width=None, count=count, serves=_serves(length, kinds, kerf))
        for length, count in sorted(counts.items(), reverse=True)
    )


def _serves(length: float, kinds: Iterable[float], kerf: float) -> str:
    """Return in words which piece an offcut of a length could serve, and how many of it [m]."""
    for kind in kinds:
        if kind <= length + 1e-9:
            number = int((length + kerf + 1e-9) / (kind + kerf))
            return f"{number} of {kind:.3f} m"
    return NOTHING
