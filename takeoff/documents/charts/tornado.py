"""What matters most: for each input, how far the result moves from its central value between two ends."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.documents.charts.axes import Axis
from takeoff.documents.charts.foot import with_foot
from takeoff.documents.charts.marks import mark
from takeoff.documents.charts.rows import (
    LEADING,
    NAME_GAP,
    SMALL,
    TYPE,
    Fitted,
    fitted,
    hatch,
    in_lines,
    name_column,
    require_numbers,
    row_name,
    set_lines,
    ticks_apart,
)
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.svg import (
    CUT,
    GREY,
    INK,
    PALE,
    WHITE,
    Picture,
    along,
    group,
    lettering,
    line,
    path,
    rect,
)

MOST_INPUTS = 8
_BAR = 5.0
_PITCH = 8.0
_ROW_GAP = 2.2
_GAP = 1.0
_SWATCH = 3.2
# Solid and dark for the low end, pale and hatched for the high end.
_LOW, _HIGH = "#283048", "#dbe6f1"
_END_SHARE = 0.16
_CORRELATION = ("rank", "correlation")


@dataclass(frozen=True, slots=True, kw_only=True)
class TornadoInput:
    """One input: its ends in words with their unit, the result at either, and its rank correlation if known."""

    name: str
    low_words: str
    high_words: str
    at_low: float
    at_high: float
    correlation: float | None = None

    def __post_init__(self) -> None:
        """Refuse results that are no numbers and a correlation beyond one."""
        require_numbers(self.name, self.at_low, self.at_high)
        if self.correlation is not None and not -1.0 <= self.correlation <= 1.0:
            raise ValueError(f"{self.name} has a rank correlation beyond one: {self.correlation:g}")


@dataclass(frozen=True, slots=True)
class _End:
    """One end of an input: the result there, its words, and on which side of the bar these stand."""

    value: float
    words: Fitted
    is_right: bool


def _ends(row: TornadoInput, central: float, width: float) -> tuple[_End, _End]:
    """Return the low and the high end; the words of one without effect stand opposite to the other's."""
    low, high = row.at_low - central, row.at_high - central
    low_is_right = low > 0 if low else high < 0
    high_is_right = high > 0 if high else not low_is_right
    return (
        _End(row.at_low, fitted(row.low_words, width, size=SMALL), low_is_right),
        _End(row.at_high, fitted(row.high_words, width, size=SMALL), high_is_right),
    )


def _wide(text: Fitted) -> float:
    """Return the width of a set text [mm]."""
    return max((text_width(words, text.size) for words in text.lines), default=0.0)


def _axis(ends: Sequence[_End], central: float, left: float, right: float) -> Axis:
    """Return the widest scale on which every end has room for its words between two places [mm]."""
    widest = max(abs(end.value - central) for end in ends) or abs(central) or 1.0

    def limits(scale: float) -> tuple[float, float]:
        """Return between which places the central value may stand at a scale [mm per unit]."""
        least, most = left, right
        for end in ends:
            at, room = (end.value - central) * scale, _wide(end.words) + _GAP
            least = max(least, left - at + (0.0 if end.is_right else room))
            most = min(most, right - at - (room if end.is_right else 0.0))
        return least, most

    low, high = 0.0, (right - left) / widest
    for _ in range(60):
        scale = (low + high) / 2
        least, most = limits(scale)
        low, high = (scale, high) if least <= most else (low, scale)
    # Words too wide for any scale are let out at the sides, rather than bars of no length.
    scale = low or (right - left) / widest / 4
    centre = sum(limits(scale)) / 2
    return Axis(central + (left - centre) / scale, central + (right - centre) / scale, left, right)


def _bar(
    start: float, end: float, top: float, height: float, *, is_low: bool, id: str | None = None
) -> list[str]:
    """Return the bar of one end: solid where the input is low, hatched where it is high."""
    left, width = min(start, end), abs(end - start)
    if is_low:
        return [rect(left, top, width, height, fill=_LOW, stroke=INK, weight=0.13, id=id)]
    return [
        rect(left, top, width, height, fill=_HIGH, stroke=INK, weight=0.13, id=id),
        hatch(left, top, width, height, stroke=_LOW),
    ]


def _key(width: float) -> tuple[list[str], float]:
    """Return the key of the two tones, and the height it takes [mm]."""
    words = ("result where the input is at its low end", "result where it is at its high end")
    widths = [_SWATCH + 1.0 + text_width(text, TYPE) for text in words]
    elements: list[str] = []
    places = in_lines(widths, width, 4.0)
    for index, (text, (left, row)) in enumerate(zip(words, places, strict=True)):
        top = row * (LEADING + 0.6) + 0.3
        elements += _bar(left, left + _SWATCH, top, 2.2, is_low=index == 0)
        elements.append(lettering(text, (left + _SWATCH + 1.0, top + 1.1), size=TYPE, centred=True))
    return elements, (places[-1][1] + 1) * (LEADING + 0.6)


def _row(
    ends: tuple[_End, _End],
    axis: Axis,
    central: float,
    middle: float,
    id_prefix: str,
    number: int,
    *,
    name: str,
    number_format: Callable[[float], str],
    unit_label: str,
) -> list[str]:
    """Return the two bars of an input with the words of its ends.

    Where both ends move the result the same way, the bars share the height, the low end above.
    """
    is_split = ends[0].is_right == ends[1].is_right
    centre = axis.at(central)
    elements = []
    for is_low, end in zip((True, False), ends, strict=True):
        kind = "low" if is_low else "high"
        at = axis.at(end.value)
        top = middle - (0.0 if is_split and not is_low else _BAR / 2)
        height = _BAR / 2 if is_split else _BAR
        drawn = _bar(centre, at, top, height, is_low=is_low, id=f"{id_prefix}-{kind}-{number}")
        words_at = middle
        if is_split:
            words_at += (end.words.height / 2) * (-1 if is_low else 1)
        wide, tall = _wide(end.words), end.words.height - 0.5
        drawn.append(
            rect(at + _GAP if end.is_right else at - _GAP - wide, words_at - tall / 2, wide, tall, fill=WHITE)
        )
        drawn += set_lines(
            end.words,
            at + (_GAP if end.is_right else -_GAP),
            words_at,
            anchor="start" if end.is_right else "end",
            id=f"{id_prefix}-{kind}-words-{number}",
        )
        says = f"{name}, {' '.join(end.words.lines)}: {number_format(end.value)}"
        elements.append(mark(drawn, says=says, of=unit_label))
    return elements


def _height(ends: tuple[_End, _End], name: Fitted) -> float:
    """Return the height of a row that holds its name and the words of its ends [mm]."""
    tallest = max(end.words.height for end in ends)
    if ends[0].is_right == ends[1].is_right:
        tallest *= 2
    return max(_PITCH, name.height + _ROW_GAP, tallest + _ROW_GAP)


def tornado(
    *,
    title: str,
    desc: str,
    unit_label: str,
    central: float,
    inputs: Sequence[TornadoInput],
    number_format: Callable[[float], str],
    correlation_format: Callable[[float], str],
    paper_width_mm: float,
    id_prefix: str,
) -> Picture:
    """Return a chart of inputs in the order given, each with the results at its ends around the central value.

    `unit_label` says what the result is; `number_format` writes results, `correlation_format` rank
    correlations, which have a column of their own if any is known. Raises ValueError where there are no
    inputs or more than eight.
    """
    if not 0 < len(inputs) <= MOST_INPUTS:
        raise ValueError(f"a tornado shows one to {MOST_INPUTS} inputs, not {len(inputs)}")
    require_numbers("the tornado", central)
    results = [central, *(value for row in inputs for value in (row.at_low, row.at_high))]
    low, high = min(results), max(results)
    name_width, names = name_column(
        [row.name for row in inputs], paper_width_mm, first_tick=number_format(low)
    )
    figures = [None if row.correlation is None else correlation_format(row.correlation) for row in inputs]
    is_correlated = any(figures)
    column = (
        max(text_width(word, SMALL) for word in _CORRELATION) + 2.0
        if is_correlated
        else text_width(number_format(high), SMALL) / 2
    )
    left, right = name_width + NAME_GAP, paper_width_mm - column - 0.4
    ends = [_ends(row, central, paper_width_mm * _END_SHARE) for row in inputs]
    axis = _axis([end for pair in ends for end in pair], central, left, right)

    key, top = _key(paper_width_mm)
    top += 2 * LEADING + 1.2
    heights = [_height(pair, name) for pair, name in zip(ends, names, strict=True)]
    foot = top + sum(heights)
    ticks = ticks_apart(axis, low, high, number_format, about=5)
    centre = axis.at(central)
    grid = path(along([(axis.at(t), top, axis.at(t), foot) for t in ticks]), stroke=PALE, width=0.1)
    elements = [*key, grid]
    middle = top
    for index, name in enumerate(names):
        middle += heights[index] / 2
        parts = _row(
            ends[index],
            axis,
            central,
            middle,
            id_prefix,
            index + 1,
            name=inputs[index].name,
            number_format=number_format,
            unit_label=unit_label,
        )
        parts += row_name(name, name_width, middle, is_chosen=False, id=f"{id_prefix}-name-{index + 1}")
        figure = figures[index]
        if figure is not None:
            parts.append(
                lettering(
                    figure,
                    (paper_width_mm - 0.4, middle),
                    size=TYPE,
                    anchor="end",
                    centred=True,
                    id=f"{id_prefix}-correlation-{index + 1}",
                )
            )
        elements.append(group(parts, id=f"{id_prefix}-row-{index + 1}"))
        middle += heights[index] / 2
    words = f"central {number_format(central)}"
    half = text_width(words, TYPE, semibold=True) / 2
    elements.append(
        line((centre, top - 0.8), (centre, foot + 0.8), width=CUT * 0.7, id=f"{id_prefix}-central")
    )
    elements.append(
        lettering(
            words,
            (min(max(centre, left + half), right - half), top - 1.6),
            size=TYPE,
            anchor="middle",
            weight=600,
            id=f"{id_prefix}-central-words",
        )
    )
    if is_correlated:
        elements += [
            lettering(
                word,
                (paper_width_mm - 0.4, top - 1.6 - (1 - i) * LEADING),
                size=SMALL,
                anchor="end",
                fill=GREY,
            )
            for i, word in enumerate(_CORRELATION)
        ]
    about = "" if low <= 0.0 <= high else "; the axis does not start at zero"
    words = f"{unit_label}{about}"
    return with_foot(
        elements,
        axis=axis,
        ticks=ticks,
        number_format=number_format,
        words=words,
        base=foot + 3.4,
        left=left,
        paper_width_mm=paper_width_mm,
        title=title,
        desc=desc,
        id_prefix=id_prefix,
    )
