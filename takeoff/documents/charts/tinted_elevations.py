"""Palettes beside each other: four small elevations each, the walls tinted in one hue by a printed figure."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from takeoff.compare.by_side import PaletteFigures, SideFigures
from takeoff.documents.charts.colours import ACCENT
from takeoff.documents.charts.marks import mark
from takeoff.documents.charts.rows import Fitted, fitted, set_lines
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.paper import MARGIN, Drawing
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    GREY,
    INK,
    OUTLINE,
    WHITE,
    Point,
    group,
    lettering,
    line,
    path,
    picture,
    rect,
    through,
)
from takeoff.model.geometry import Face, compass_of, wall_face
from takeoff.model.house import SIDES, Side

_SCALES = (100, 150, 200, 250, 300, 400, 500, 750, 1000)
# Lightest and darkest tint of the one hue; what is not assessed stays white.
_PALE, _DEEP = "#eef3f8", "#2f5f8f"
_GAP = 5.0
_ROW_GAP = 5.0
_TYPE, _SMALL = 2.5, 2.0
_STEPS = 5
# How far the line of the roof runs past the wall [mm].
_EAVES = 0.6


def tinted_elevations(
    palettes: Sequence[PaletteFigures],
    *,
    figure: Callable[[SideFigures], float | None],
    title: str,
    unit: str,
    number_format: Callable[[float], str],
    paper_width_mm: float,
    id_prefix: str,
) -> Drawing:
    """Return the elevations of every palette at one scale, darker where the figure is greater.

    `figure` gives the figure of a side, None where it is not assessed; it stands below the elevation with the name of
    the cladding. Raises ValueError where there are no palettes.
    """
    if not palettes:
        raise ValueError("tinted elevations need at least one palette")
    values = [v for each in palettes for side in each.sides if (v := figure(side)) is not None]
    low, high = (min(values), max(values)) if values else (0.0, 0.0)
    widest = max(_width(each) for each in palettes)
    room = paper_width_mm - 2 * MARGIN - (len(SIDES) - 1) * _GAP
    scale = next((s for s in _SCALES if widest * 1000 / s <= room), _SCALES[-1])
    drawn: list[str] = []
    top = 0.0
    for place, palette in enumerate(palettes):
        elements, top = _row(
            palette, place, figure, (low, high), number_format, unit, scale, top, id_prefix, paper_width_mm
        )
        drawn += elements
    key, height = _key(low, high, number_format, unit, top, scale, values)
    drawn += key
    desc = "; ".join(
        f"{each.palette}: "
        + ", ".join(
            f"{side.side} {'not assessed' if (v := figure(side)) is None else number_format(v)}"
            for side in each.sides
        )
        for each in palettes
    )
    svg = picture(
        drawn,
        width_mm=paper_width_mm,
        height_mm=height,
        title=title,
        desc=f"{unit}, by palette and side. {desc}.",
        id_prefix=id_prefix,
    )
    return Drawing(svg=svg, title=title, width_mm=paper_width_mm, height_mm=height, scale=scale)


def _width(palette: PaletteFigures) -> float:
    """Return the widths of all four elevations together [m]."""
    return sum(wall_face(palette.result.design.house, side).width for side in SIDES)


def _row(
    palette: PaletteFigures,
    place: int,
    figure: Callable[[SideFigures], float | None],
    ends: tuple[float, float],
    number_format: Callable[[float], str],
    unit: str,
    scale: int,
    top: float,
    id_prefix: str,
    paper_width_mm: float,
) -> tuple[list[str], float]:
    """Return one palette from a height on, and where the next begins [mm]."""
    house = palette.result.design.house
    name = fitted(palette.palette, paper_width_mm * 0.35, size=_TYPE + 0.3, semibold=True)
    left = text_width(max(name.lines, key=len), name.size, semibold=True) + MARGIN + 4.0
    options = fitted(", ".join(palette.options), paper_width_mm - left - MARGIN, size=_SMALL + 0.2)
    head = max(name.height, options.height)
    fill = ACCENT if place == 0 else INK
    elements = [
        *set_lines(name, MARGIN, top + name.height / 2 + 0.6, weight=600, fill=fill),
        *set_lines(options, left, top + options.height / 2 + 0.6, fill=GREY),
    ]
    tallest = max(_highest(wall_face(house, side, bottom=-house.cladding_drop)) for side in SIDES)
    drop = house.cladding_drop
    foot = top + head + 2.0 + (tallest + drop) * 1000 / scale
    x, lowest = MARGIN, foot
    for side, figures in zip(SIDES, palette.sides, strict=True):
        face = wall_face(house, side, bottom=-drop)
        wide = face.width * 1000 / scale
        id = f"{id_prefix}-{place + 1}-{side}"
        value = figure(figures)
        wall = _elevation(palette, side, face, (x, foot), scale, _tint(value, *ends), id)
        text = "not assessed" if value is None else number_format(value)
        about = max(wide + _GAP - 1.0, 12.0)
        words = fitted(" and ".join(dict.fromkeys(figures.claddings)), about, size=_SMALL)
        wall += _below(side, compass_of(house, side), text, words, x, foot, id)
        elements.append(mark(wall, says=f"{palette.palette}, {side}: {text}", of=unit))
        lowest = max(lowest, foot + 4.0 + 3.2 + words.height)
        x += wide + _GAP
    return elements, lowest + _ROW_GAP


def _highest(face: Face) -> float:
    """Return the greatest height of a face [m]."""
    return max(face.top_left, face.top_right)


def _elevation(
    palette: PaletteFigures, side: Side, face: Face, origin: Point, scale: int, tint: str, id: str
) -> list[str]:
    """Return a wall with its openings; `origin` is its lower left corner on paper [mm]."""
    x, y = origin

    def at(s: float, z: float) -> Point:
        return x + s * 1000 / scale, y - (z - face.bottom) * 1000 / scale

    outline = [
        at(0, face.bottom),
        at(face.width, face.bottom),
        at(face.width, face.top_right),
        at(0, face.top_left),
    ]
    elements = [path(through(outline, closed=True), width=EDGE, fill=tint, join="round", id=id)]
    for opening in palette.result.design.openings_in(side):
        left, top = at(opening.position, opening.head)
        elements.append(
            rect(
                left,
                top,
                opening.width * 1000 / scale,
                opening.height * 1000 / scale,
                fill=WHITE,
                stroke=INK,
                weight=DETAIL,
            )
        )
    past = _EAVES * scale / 1000
    roof = [at(-past, face.top_at(-past)), at(face.width + past, face.top_at(face.width + past))]
    elements.append(line(roof[0], roof[1], width=OUTLINE))
    return elements


def _below(side: Side, compass: str, value: str, words: Fitted, x: float, foot: float, id: str) -> list[str]:
    """Return the figure of an elevation, which side it is and its cladding."""
    label = f"{side}, {compass}"
    return [
        group(
            [
                lettering(value, (x, foot + 3.4), size=_TYPE, weight=600, id=f"{id}-value"),
                lettering(
                    label,
                    (x + text_width(value, _TYPE, semibold=True) + 1.4, foot + 3.4),
                    size=_SMALL,
                    fill=GREY,
                ),
                *set_lines(words, x, foot + 4.6 + words.height / 2),
            ]
        )
    ]


def _key(
    low: float,
    high: float,
    number_format: Callable[[float], str],
    unit: str,
    top: float,
    scale: int,
    values: Sequence[float],
) -> tuple[list[str], float]:
    """Return the tints from the least to the greatest figure with both, unit and scale, and the height they end at."""
    words = f"{unit}. Elevations at 1:{scale}, openings white."
    if not values:
        return [lettering(words, (MARGIN, top + 2.6), size=_SMALL + 0.2, fill=GREY)], top + 4.0
    least, most = number_format(low), number_format(high)
    x = MARGIN + text_width(least, _SMALL + 0.2) + 1.2
    boxes = [
        rect(
            x + i * 5.0,
            top,
            5.0,
            3.0,
            fill=_mixed(i / (_STEPS - 1)),
            stroke=INK,
            weight=DETAIL,
        )
        for i in range(_STEPS)
    ]
    end = x + _STEPS * 5.0 + 1.2
    after = end + text_width(most, _SMALL + 0.2) + 3.0
    return [
        *boxes,
        lettering(least, (MARGIN, top + 2.2), size=_SMALL + 0.2),
        lettering(most, (end, top + 2.2), size=_SMALL + 0.2),
        lettering(words, (after, top + 2.2), size=_SMALL + 0.2, fill=GREY),
    ], top + 4.0


def _tint(value: float | None, low: float, high: float) -> str:
    """Return the tint of a figure: pale for the least, deep for the greatest, white where there is none."""
    if value is None:
        return WHITE
    return _mixed((value - low) / (high - low) if high > low else 0.5)


def _mixed(share: float) -> str:
    """Return a tint between the palest and the deepest; equal steps of share look about equally far apart."""
    ends = [[int(colour[i : i + 2], 16) for i in (1, 3, 5)] for colour in (_PALE, _DEEP)]
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in zip(*ends, strict=True))
