"""What charts of rows share: names that fit their column, ticks that keep apart, keys, hatching, checks."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.documents.charts.axes import Axis, round_ticks
from takeoff.documents.charts.colours import ACCENT
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.svg import INK, Segment, along, lettering, path, through

TYPE = 2.5
SMALL = 2.2
LEADING = 3.0
SMALL_LEADING = 2.7
# Between the names and the plot, where the pointer of the chosen option stands [mm].
NAME_GAP = 3.0
_NAME_SHARE = 0.3
_LEAST_TYPE = 1.5
# Least gap between the figures of two ticks [mm].
_TICK_GAP = 1.2


@dataclass(frozen=True, slots=True)
class Fitted:
    """A text set in lines of one type size [mm]."""

    lines: tuple[str, ...]
    size: float

    @property
    def leading(self) -> float:
        """Distance from line to line [mm]."""
        return self.size * LEADING / TYPE

    @property
    def height(self) -> float:
        """Height that the lines take [mm]."""
        return len(self.lines) * self.leading


def _broken(text: str, size: float, width: float, *, semibold: bool) -> str:
    """Return a text with its words broken where one is longer than a width [mm]."""
    words = []
    for word in text.split():
        piece = ""
        for sign in word:
            if piece and text_width(piece + sign, size, semibold=semibold) > width:
                words.append(piece)
                piece = ""
            piece += sign
        words.append(piece)
    return " ".join(words)


def fitted(text: str, width: float, *, size: float = TYPE, semibold: bool = False) -> Fitted:
    """Return a text wrapped to a width [mm].

    Where a single word is longer than that, the type is smaller; where that does not do, the word is broken.
    """
    while True:
        lines = wrapped(text, size, width, semibold=semibold)
        if all(text_width(words, size, semibold=semibold) <= width for words in lines):
            return Fitted(tuple(lines), size)
        if size <= _LEAST_TYPE:
            broken = _broken(text, size, width, semibold=semibold)
            return Fitted(tuple(wrapped(broken, size, width, semibold=semibold)), size)
        size -= 0.1


def set_lines(
    text: Fitted,
    x: float,
    middle: float,
    *,
    anchor: str = "start",
    weight: int | None = None,
    fill: str = INK,
    id: str | None = None,
) -> list[str]:
    """Return the lines of a text around a middle height; `id` goes to the first of them."""
    first = middle - (len(text.lines) - 1) * text.leading / 2
    return [
        lettering(
            words,
            (x, first + i * text.leading),
            size=text.size,
            anchor=anchor,
            weight=weight,
            fill=fill,
            centred=True,
            id=None if i else id,
        )
        for i, words in enumerate(text.lines)
    ]


def name_column(
    names: Sequence[str], paper_width_mm: float, *, first_tick: str
) -> tuple[float, list[Fitted]]:
    """Return the width of the column of names [mm], and the names set to it.

    The column is wide enough for the figure of a first tick to stand below the start of the plot.
    """
    widest = max((text_width(name, TYPE, semibold=True) for name in names), default=0.0) + 0.5
    width = max(min(widest, paper_width_mm * _NAME_SHARE), text_width(first_tick, SMALL) / 2 - NAME_GAP)
    return width, [fitted(name, width, semibold=True) for name in names]


def row_name(name: Fitted, right: float, middle: float, *, is_chosen: bool, id: str) -> list[str]:
    """Return a name, right-aligned before its row; that of the chosen option bold with a pointer."""
    words = set_lines(
        name,
        right,
        middle,
        anchor="end",
        weight=600 if is_chosen else None,
        fill=ACCENT if is_chosen else INK,
        id=id,
    )
    if not is_chosen:
        return words
    tip, back = right + 2.0, right + 0.7
    pointer = through([(back, middle - 0.9), (tip, middle), (back, middle + 0.9)], closed=True)
    return [*words, path(pointer, stroke=None, fill=ACCENT)]


def ticks_apart(
    axis: Axis, low: float, high: float, number_format: Callable[[float], str], *, about: int = 6
) -> tuple[float, ...]:
    """Return round ticks whose figures differ and stand side by side on an axis that runs across.

    Where even few would not, zero or the lowest tick is left alone.
    """
    ticks: tuple[float, ...] = (low,)
    for count in range(about, 0, -1):
        ticks = round_ticks(low, high, count)
        figures = [number_format(tick) for tick in ticks]
        widths = [text_width(figure, SMALL) for figure in figures]
        places = [axis.at(tick) for tick in ticks]
        clear = all(
            b - a >= (v + w) / 2 + _TICK_GAP
            for a, b, v, w in zip(places, places[1:], widths, widths[1:], strict=False)
        )
        if clear and len(set(figures)) == len(figures):
            return ticks
    return (0.0,) if 0.0 in ticks else ticks[:1]


def hatching(left: float, top: float, width: float, height: float, *, spacing: float = 1.1) -> list[Segment]:
    """Return the slanting lines at 45 degrees that fill a rectangle, `spacing` apart across [mm]."""
    lines = []
    # Lines run from lower left to upper right; `at` is where one meets the lower edge, drawn out to it.
    at = spacing / 2 - height
    while at < width:
        enter, leave = max(0.0, -at), min(height, width - at)
        if leave > enter:
            lines.append((left + at + enter, top + height - enter, left + at + leave, top + height - leave))
        at += spacing
    return lines


def hatch(left: float, top: float, width: float, height: float, *, stroke: str, spacing: float = 1.1) -> str:
    """Return hatching as one path."""
    return path(along(hatching(left, top, width, height, spacing=spacing)), stroke=stroke, width=0.16)


def in_lines(widths: Sequence[float], width: float, gap: float) -> list[tuple[float, int]]:
    """Return where each of several pieces begins [mm] and in which line, set in order into a width."""
    places: list[tuple[float, int]] = []
    at, line = 0.0, 0
    for wide in widths:
        if at and at + wide > width:
            at, line = 0.0, line + 1
        places.append((at, line))
        at += wide + gap
    return places


def require_numbers(name: str, *values: float) -> None:
    """Raise ValueError where a value is not a finite number."""
    if not all(math.isfinite(value) for value in values):
        raise ValueError(f"{name} has a value that is no number")


def require_range(name: str, low: float, high: float) -> None:
    """Raise ValueError where a range runs the wrong way round or has an end that is no number."""
    require_numbers(name, low, high)
    if low > high:
        raise ValueError(f"{name} has a range the wrong way round: from {low:g} to {high:g}")
