"""Values for comparison on an axis that runs across: dashed lines with a band, labelled above the plot."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.documents.charts.axes import Axis
from takeoff.documents.charts.rows import SMALL, Fitted, fitted, require_numbers, require_range
from takeoff.documents.drawings.svg import EDGE, GREY, element, lettering, line

_GAP = 0.9
_TIER_GAP = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class ContextLine:
    """A value to compare with, such as a benchmark: its label, and its range where it has one."""

    label: str
    value: float
    low: float | None = None
    high: float | None = None

    def __post_init__(self) -> None:
        """Refuse a range the wrong way round, or one with one end only."""
        if (self.low is None) != (self.high is None):
            raise ValueError(f"{self.label} has one end of a range only")
        if self.low is not None and self.high is not None:
            require_range(self.label, self.low, self.high)
        require_numbers(self.label, self.value)

    @property
    def values(self) -> tuple[float, ...]:
        """All values that the axis must reach."""
        return tuple(v for v in (self.value, self.low, self.high) if v is not None)


@dataclass(frozen=True, slots=True)
class _Placed:
    """A label beside the upper end of its line, on one side of it; `top` counts up from the plot [mm]."""

    line: int
    text: Fitted
    is_right: bool
    top: float


def _words(context: ContextLine, number_format: Callable[[float], str]) -> str:
    """Return the label with its figures."""
    words = f"{context.label}: {number_format(context.value)}"
    if context.low is None or context.high is None:
        return words
    return f"{words} ({number_format(context.low)} to {number_format(context.high)})"


def _placed(words: Sequence[str], places: Sequence[float], paper_width_mm: float) -> list[_Placed]:
    """Return the labels in tiers such that none lies on another and no line runs through one.

    Labels of the lines further left stand to the left of their line, those of the others to the right; on
    either side the outer lines end lower, so that inner labels pass over them. Of all ways to part the
    lines into left and right, the lowest is taken.
    """
    order = sorted(range(len(words)), key=lambda i: (places[i], i))
    best: tuple[float, list[_Placed]] | None = None
    for parting in range(len(order) + 1):
        placed: list[_Placed] = []
        cost = 0.0
        for is_right, side in ((False, order[:parting]), (True, order[parting:][::-1])):
            top = 0.0
            for i in side:
                room = (paper_width_mm - places[i] if is_right else places[i]) - _GAP - 0.3
                text = fitted(words[i], max(room, 1.0), size=SMALL)
                # Small type is a last resort.
                cost += 100.0 * (SMALL - text.size)
                top += text.height + _TIER_GAP
                placed.append(_Placed(i, text, is_right, top))
            cost = max(cost, top)
        if best is None or cost < best[0] - 1e-9:
            best = (cost, placed)
    assert best is not None
    return best[1]


def context_lines(
    lines: Sequence[ContextLine],
    axis: Axis,
    *,
    number_format: Callable[[float], str],
    paper_width_mm: float,
    plot_height_mm: float,
    id_prefix: str,
) -> tuple[list[str], list[str], float]:
    """Return bands, dashed lines with their labels, and the height of the labels above the plot [mm].

    The picture starts with the labels; the plot lies below them and is `plot_height_mm` high. Bands belong
    under what is plotted, lines over it.
    """
    if not lines:
        return [], [], 0.0
    placed = _placed(
        [_words(context, number_format) for context in lines],
        [axis.at(context.value) for context in lines],
        paper_width_mm,
    )
    top = max(label.top for label in placed) + 2 * _TIER_GAP
    foot = top + plot_height_mm
    bands = [
        element(
            "rect",
            id=f"{id_prefix}-band-{index + 1}",
            x=axis.at(context.low),
            y=top,
            width=axis.at(context.high) - axis.at(context.low),
            height=plot_height_mm,
            fill=GREY,
            fill_opacity="0.13",
        )
        for index, context in enumerate(lines)
        if context.low is not None and context.high is not None
    ]
    drawn = []
    for label in placed:
        at = axis.at(lines[label.line].value)
        upper = top - _TIER_GAP - label.top
        drawn.append(
            line(
                (at, upper),
                (at, foot),
                stroke=GREY,
                width=EDGE * 1.4,
                dash="1.2 0.8",
                id=f"{id_prefix}-line-{label.line + 1}",
            )
        )
        drawn += [
            lettering(
                words,
                (at + _GAP if label.is_right else at - _GAP, upper + (i + 0.72) * label.text.leading),
                size=label.text.size,
                anchor="start" if label.is_right else "end",
                fill=GREY,
                id=f"{id_prefix}-line-label-{label.line + 1}-{i + 1}",
            )
            for i, words in enumerate(label.text.lines)
        ]
    return bands, drawn, top
