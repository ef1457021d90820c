"""Carbon over the life by group of modules: bars from zero, with stored carbon apart on the other side of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from takeoff.documents.charts.axes import Axis
from takeoff.documents.charts.colours import ACCENT, ink_on
from takeoff.documents.charts.foot import with_foot
from takeoff.documents.charts.marks import mark
from takeoff.documents.charts.rows import (
    LEADING,
    NAME_GAP,
    SMALL,
    TYPE,
    hatch,
    in_lines,
    name_column,
    require_numbers,
    row_name,
    ticks_apart,
)
from takeoff.documents.charts.stacked_bars import stack
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.svg import (
    EDGE,
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

# One hue, dark and light in turn, so that modules are not taken for elements and grey parts neighbours.
TONES = ("#1f3d3a", "#a9cdc6", "#4f7f78", "#dfeeea", "#2f5b56", "#c4ded8")
STORED = "stored in the wood, not in the total"
_STORED_TONE, _STORED_INK = "#ffffff", "#4a4d50"
_BAR = 4.8
_STORED_BAR = 2.8
_PITCH = 8.6
_SWATCH = 2.8
_ROOM = 1.4
_GAP = 1.4


@dataclass(frozen=True, slots=True, kw_only=True)
class ModuleRow:
    """One option: the carbon of each group of modules, and what is stored, which is nought or negative."""

    name: str
    modules: Mapping[str, float]
    stored: float = 0.0

    def __post_init__(self) -> None:
        """Refuse stored carbon above nought."""
        require_numbers(self.name, self.stored, *self.modules.values())
        if self.stored > 0:
            raise ValueError(f"{self.name} has stored carbon above nought: {self.stored:g}")


def _stored(left: float, top: float, width: float, height: float, id: str | None = None) -> list[str]:
    """Return a hatched and outlined bar."""
    return [
        rect(left, top, width, height, fill=_STORED_TONE, stroke=_STORED_INK, weight=0.16, id=id),
        hatch(left, top, width, height, stroke=_STORED_INK),
    ]


def _key(
    groups: Sequence[str], tones: Mapping[str, str], *, is_stored: bool, width: float
) -> tuple[list[str], float]:
    """Return the names of the groups in the order of the bars, stored carbon last, and the height of it [mm]."""
    names = [*groups, *((STORED,) if is_stored else ())]
    widths = [_SWATCH + 0.9 + text_width(name, TYPE) for name in names]
    places = in_lines(widths, width - 0.4, 3.4)
    elements = []
    for index, (name, (left, row)) in enumerate(zip(names, places, strict=True)):
        top = row * (LEADING + 0.8) + 0.3
        if index < len(groups):
            elements.append(rect(left, top, _SWATCH, 2.3, fill=tones[name], stroke=INK, weight=0.07))
        else:
            elements += _stored(left, top, _SWATCH, 2.3)
        elements.append(lettering(name, (left + _SWATCH + 0.9, top + 1.15), size=TYPE, centred=True))
    return elements, (places[-1][1] + 1) * (LEADING + 0.8) + 2.0


def module_bars(
    *,
    title: str,
    desc: str,
    unit_label: str,
    rows: Sequence[ModuleRow],
    groups: Sequence[str],
    number_format: Callable[[float], str],
    chosen: str | None,
    paper_width_mm: float,
    id_prefix: str,
) -> Picture:
    """Return a chart of options stacked of groups of modules; stored carbon is drawn apart, left of zero.

    The total at the right is that of the groups: what is stored is not taken off, its figure stands beside
    its own bar. A group without a value is left out of its bar. Raises ValueError where there are no rows,
    more than six groups, or a value that `groups` does not name.
    """
    if not rows or not 0 < len(groups) <= len(TONES):
        raise ValueError(f"a chart of modules needs rows, and one to {len(TONES)} groups")
    for row in rows:
        strangers = [name for name in row.modules if name not in groups and row.modules[name]]
        if strangers:
            raise ValueError(f"{row.name} has modules that the chart does not draw: {', '.join(strangers)}")
    tones = dict(zip(groups, TONES, strict=False))
    stacks = [stack(row.modules, groups) for row in rows]
    totals = [number_format(sum(block.value for block in blocks)) for blocks in stacks]
    stored = [number_format(row.stored) if row.stored else "" for row in rows]
    # Stored carbon starts where negative modules end, at zero where there are none.
    begins = [min((block.start for block in blocks), default=0.0) for blocks in stacks]
    begins = [min(0.0, begin) for begin in begins]
    low = min(begin + row.stored for begin, row in zip(begins, rows, strict=True))
    high = max([0.0, *(block.end for blocks in stacks for block in blocks)])
    if low == high:
        high = 1.0
    name_width, names = name_column([row.name for row in rows], paper_width_mm, first_tick=number_format(low))
    left = (
        name_width + NAME_GAP + max(text_width(text, SMALL) for text in stored) + (_GAP if any(stored) else 0)
    )
    right = paper_width_mm - max(text_width(text, TYPE, semibold=True) for text in totals) - _GAP - 1.0
    axis = Axis(low, high, left, right)
    elements, top = _key(groups, tones, is_stored=any(stored), width=paper_width_mm)
    heights = [max(_PITCH, name.height + 2.2) for name in names]
    foot = top + sum(heights)
    ticks = ticks_apart(axis, low, high, number_format)
    elements.append(
        path(along([(axis.at(t), top, axis.at(t), foot) for t in ticks if t]), stroke=PALE, width=0.1)
    )
    middle = top
    for index, row in enumerate(rows):
        middle += heights[index] / 2
        is_chosen = row.name == chosen
        colour = ACCENT if is_chosen else INK
        parts: list[str] = []
        for number, block in enumerate(stacks[index]):
            start, end = axis.at(block.start), axis.at(block.end)
            tone = tones[block.part]
            drawn = [
                rect(
                    start,
                    middle - _BAR / 2,
                    end - start,
                    _BAR,
                    fill=tone,
                    stroke=WHITE,
                    weight=0.15,
                    id=f"{id_prefix}-bar-{index + 1}-{number + 1}",
                )
            ]
            figure = number_format(block.value)
            if text_width(figure, SMALL) + _ROOM <= end - start:
                drawn.append(
                    lettering(
                        figure,
                        ((start + end) / 2, middle),
                        size=SMALL,
                        anchor="middle",
                        fill=ink_on(tone),
                        centred=True,
                    )
                )
            parts.append(mark(drawn, says=f"{row.name}, {block.part}: {figure}", of=unit_label))
        start = axis.at(min(0.0, begins[index]))
        end = axis.at(max([0.0, *(block.end for block in stacks[index])]))
        if is_chosen:
            parts.append(
                rect(
                    start - 0.5, middle - _BAR / 2 - 0.5, end - start + 1, _BAR + 1, stroke=ACCENT, weight=0.3
                )
            )
        if row.stored:
            far = axis.at(begins[index] + row.stored)
            drawn = _stored(
                far, middle - _STORED_BAR / 2, start - far, _STORED_BAR, f"{id_prefix}-stored-{index + 1}"
            )
            wide = text_width(stored[index], SMALL)
            drawn.append(rect(far - _GAP - wide, middle - 1.2, wide + 0.8, 2.4, fill=WHITE))
            drawn.append(
                lettering(
                    stored[index],
                    (far - _GAP + 0.4, middle),
                    size=SMALL,
                    anchor="end",
                    fill=GREY,
                    centred=True,
                    id=f"{id_prefix}-stored-words-{index + 1}",
                )
            )
            parts.append(mark(drawn, says=f"{row.name}, {STORED}: {stored[index]}", of=unit_label))
        wide = text_width(totals[index], TYPE, semibold=True)
        parts.append(rect(end + 0.9, middle - 1.3, wide + 0.8, 2.6, fill=WHITE))
        parts.append(
            lettering(
                totals[index],
                (end + _GAP, middle),
                size=TYPE,
                weight=600,
                fill=colour,
                centred=True,
                id=f"{id_prefix}-total-{index + 1}",
            )
        )
        parts += row_name(
            names[index], name_width, middle, is_chosen=is_chosen, id=f"{id_prefix}-name-{index + 1}"
        )
        elements.append(group(parts, id=f"{id_prefix}-row-{index + 1}"))
        middle += heights[index] / 2
    zero = axis.at(0.0)
    elements.append(line((zero, top - 0.6), (zero, foot + 0.6), width=EDGE, id=f"{id_prefix}-zero"))
    has_negative = any(block.value < 0 for blocks in stacks for block in blocks)
    words = unit_label + (
        "; total: what is right of zero less the plain parts left of it" if has_negative else ""
    )
    return with_foot(
        elements,
        axis=axis,
        ticks=ticks,
        number_format=number_format,
        words=words,
        base=foot + 3.2,
        left=name_width + NAME_GAP,
        paper_width_mm=paper_width_mm,
        title=title,
        desc=desc,
        id_prefix=id_prefix,
    )
