"""Two upright columns of the same parts in the same order, each part named between them with both its figures.

What is taken out of the second measure hangs below zero, apart: it is never taken off the column above.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.documents.charts.colours import part_colours
from takeoff.documents.charts.rows import SMALL, TYPE, Fitted, fitted, hatch, set_lines
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    GREY,
    INK,
    PALE,
    WHITE,
    Picture,
    Segment,
    along,
    lettering,
    line,
    path,
    picture,
    rect,
)

# A column's width, its greatest and least height above zero, and the most that both sides of zero take [mm].
_COLUMN = 22.0
_TALLEST, _LOWEST, _WHOLE = 74.0, 34.0, 100.0
_PITCH, _WIDEST_PITCH = 4.6, 7.0
# From the edge of the paper to the columns, from a column to the figures, from figures to names [mm].
_EDGE = 1.2
_LEADER = 9.0
_GAP = 2.5
_HEAD = 9.5
# From the right-hand column to the words on what hangs below it [mm].
_ASIDE = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnPart:
    """One part: its name, the part whose colour it has, its two measures, and how each is written.

    A measure is None where it does not apply; a part with `colour_of` "" is drawn hatched on white.
    """

    name: str
    colour_of: str
    left: float | None
    right: float | None
    left_text: str
    right_text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Below:
    """What hangs below zero under the second column: how much (greater than zero), its figure and what it is."""

    value: float
    text: str
    words: str


def paired_columns(
    *,
    title: str,
    desc: str,
    left_heading: str,
    left_total: str,
    right_heading: str,
    right_total: str,
    parts: Sequence[ColumnPart],
    below: Below | None,
    paper_width_mm: float,
    id_prefix: str,
) -> Picture:
    """Return a chart of two columns; `parts` come from the ground up, each column on a scale of its own.

    Both columns are equally tall, so that shares can be compared across. Raises ValueError where there are no parts,
    or a measure is below zero.
    """
    if not parts:
        raise ValueError("a chart of columns needs at least one part")
    if any(value is not None and value < 0 for part in parts for value in (part.left, part.right)):
        raise ValueError("what is below zero hangs apart")
    sums = [sum(part.left or 0.0 for part in parts), sum(part.right or 0.0 for part in parts)]
    share = 0.0 if below is None or not sums[1] else below.value / sums[1]
    tall = max(_LOWEST, min(_TALLEST, _WHOLE / (1 + share)))
    deep = min(tall * share, 2 * _WHOLE)
    pitch = min(max(_PITCH, tall / len(parts)), _WIDEST_PITCH)
    names = (len(parts) - 1) * pitch
    top = _HEAD + max(0.0, (names - tall) / 2)
    zero = top + tall
    left = _EDGE
    right = paper_width_mm - _EDGE - _COLUMN
    colours = part_colours([part.colour_of for part in parts if part.colour_of])

    elements = [
        *_heading(left, top, left_heading, left_total, anchor="start"),
        *_heading(right + _COLUMN, top, right_heading, right_total, anchor="end"),
    ]
    first = (top + zero) / 2 + names / 2
    places = [first - index * pitch for index in range(len(parts))]
    figures = [
        max((text_width(text, TYPE, semibold=True) for text in texts), default=0.0)
        for texts in ([part.left_text for part in parts], [part.right_text for part in parts])
    ]
    inner = left + _COLUMN + _LEADER + figures[0], right - _LEADER - figures[1]
    middle = (inner[0] + inner[1]) / 2
    leaders: list[Segment] = []
    ends = [zero, zero]
    for index, (part, y) in enumerate(zip(parts, places, strict=True)):
        for side, (value, x) in enumerate(((part.left, left), (part.right, right))):
            high = tall * (value or 0.0) / sums[side] if sums[side] else 0.0
            if not high:
                continue
            ends[side] -= high
            colour = colours.get(part.colour_of, WHITE)
            id = f"{id_prefix}-{'left' if side == 0 else 'right'}-{index + 1}"
            elements.append(rect(x, ends[side], _COLUMN, high, fill=colour, stroke=WHITE, weight=0.15, id=id))
            if not part.colour_of:
                elements.append(hatch(x, ends[side], _COLUMN, high, stroke=GREY))
                elements.append(rect(x, ends[side], _COLUMN, high, stroke=GREY, weight=DETAIL))
            at = ends[side] + high / 2
            if side == 0:
                leaders.append((x + _COLUMN + 0.6, at, inner[0] - figures[0] - 1.2, y))
            else:
                leaders.append((x - 0.6, at, inner[1] + figures[1] + 1.2, y))
        elements += _row(part, y, inner, middle, id=f"{id_prefix}-row-{index + 1}")
    elements.insert(0, path(along(leaders), stroke=GREY, width=0.1))
    elements.append(line((left - 1.0, zero), (left + _COLUMN + 1.0, zero), width=EDGE))
    elements.append(
        line((right - 1.0, zero), (right + _COLUMN + 1.0, zero), width=EDGE, id=f"{id_prefix}-zero")
    )
    height = zero + 2.0
    if below is not None and below.value > 0:
        elements += _below(below, right, zero, deep, left, id_prefix)
        height = zero + max(deep + 1.0, _words_below(below, right, left).height + 6.0)
    svg = picture(
        elements, width_mm=paper_width_mm, height_mm=height, title=title, desc=desc, id_prefix=id_prefix
    )
    return Picture(svg=svg, title=title, width_mm=paper_width_mm, height_mm=height)


def _heading(x: float, top: float, heading: str, total: str, *, anchor: str) -> list[str]:
    """Return what a column shows and what it comes to, above it."""
    return [
        lettering(heading, (x, top - 5.6), size=TYPE, anchor=anchor, weight=600),
        lettering(total, (x, top - 2.0), size=TYPE, anchor=anchor),
    ]


def _row(part: ColumnPart, y: float, inner: tuple[float, float], middle: float, *, id: str) -> list[str]:
    """Return the name of a part between its two figures."""
    width = inner[1] - inner[0] - 2 * _GAP
    name = fitted(part.name, width, size=TYPE)
    reach = max(text_width(words, name.size) for words in name.lines) / 2 + 1.4
    dots = [(inner[0] + 1.4, y, middle - reach, y), (middle + reach, y, inner[1] - 1.4, y)]
    guides = [guide for guide in dots if guide[2] - guide[0] > 2.0 and (part.right_text or guide is dots[0])]
    return [
        path(along(guides), stroke=PALE, width=DETAIL, dash="0.3 1.1") if guides else "",
        lettering(
            part.left_text, (inner[0], y), size=TYPE, weight=600, anchor="end", centred=True, id=f"{id}-left"
        ),
        *set_lines(name, middle, y, anchor="middle", id=f"{id}-name"),
        lettering(part.right_text, (inner[1], y), size=TYPE, weight=600, centred=True, id=f"{id}-right"),
    ]


def _words_below(below: Below, x: float, left: float) -> Fitted:
    """Return the words on what hangs below zero, set between the columns."""
    return fitted(below.words, x - left - _COLUMN - 2 * _ASIDE, size=SMALL)


def _below(below: Below, x: float, zero: float, deep: float, left: float, id_prefix: str) -> list[str]:
    """Return what hangs below zero, outlined, with its figure and words at its left."""
    words = _words_below(below, x, left)
    tall = max(deep - 0.8, 0.4)
    at = zero + max((0.8 + deep) / 2 - words.height / 2 - 0.6, 2.6)
    return [
        hatch(x, zero + 0.8, _COLUMN, tall, stroke=PALE, spacing=2.2),
        rect(
            x,
            zero + 0.8,
            _COLUMN,
            tall,
            stroke=INK,
            weight=DETAIL,
            id=f"{id_prefix}-below",
        ),
        lettering(below.text, (x - _ASIDE, at), size=TYPE, weight=600, anchor="end", centred=True),
        *set_lines(
            words,
            x - _ASIDE,
            at + words.height / 2 + 2.0,
            anchor="end",
            fill=GREY,
            id=f"{id_prefix}-below-words",
        ),
    ]
