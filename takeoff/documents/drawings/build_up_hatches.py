"""How a cut material is drawn: the tint and the hatch of its family, kept within a convex outline on paper.

Timber cut across has its diagonals, insulation its loops, masonry and boards their lines, concrete and fill their
grain; what is too thin for a hatch keeps its tint. Everything reads in black and white.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal

from takeoff.documents.drawings.svg import DETAIL, EDGE, INK, WHITE, Point, Segment, along, path
from takeoff.model.house import Layer
from takeoff.model.library import Material

Cut = Literal[
    "timber",
    "boards",
    "wood sheet",
    "wool",
    "foam",
    "concrete",
    "masonry",
    "gypsum",
    "cement sheet",
    "gravel",
    "sand",
    "metal",
    "plain",
]
FILLS: dict[Cut, str] = {
    "timber": "#f3e6c6",
    "boards": "#ead3ab",
    "wood sheet": "#ead3ab",
    "wool": "#fbf7e6",
    "foam": "#f4f4f0",
    "concrete": "#dedcd7",
    "masonry": "#e6bba8",
    "gypsum": "#efeeea",
    "cement sheet": "#d3d3cf",
    "gravel": "#f1efe9",
    "sand": "#f6f2e4",
    "metal": "#4a4d51",
    "plain": "#eeeeec",
}
_FAMILIES: dict[str, Cut] = {
    "wood board": "wood sheet",
    "mineral insulation": "wool",
    "plant insulation": "wool",
    "plastic foam": "foam",
    "clay": "masonry",
    "gypsum": "gypsum",
    "steel": "metal",
    "aluminium": "metal",
}
_HATCH = "#55575a"
# Thinner than this a hatch would close up [mm].
_LEAST = 0.9


def cut_of(layer: Layer, material: Material) -> Cut:
    """Return how a layer is drawn where it is cut."""
    family = material.family
    if family in ("softwood", "hardwood", "engineered wood"):
        return "boards" if layer.measured_by == "boards by cover" else "timber"
    if family == "cement":
        return "concrete" if layer.measured_by in ("poured", "area") else "cement sheet"
    if family == "stone and soil":
        return "sand" if layer.measured_by == "area" else "gravel"
    return _FAMILIES.get(family, "plain")


def draw_cut(
    corners: Sequence[Point],
    cut: Cut,
    *,
    weight: float = EDGE,
    outlined: bool = True,
    id: str | None = None,
) -> list[str]:
    """Return a cut material within a convex outline on paper [mm], hatch and outline.

    The first two corners are one long edge of a layer, the others the edge across it.
    """
    elements = [
        path(
            _closed(corners),
            stroke=INK if outlined else None,
            width=weight,
            fill=FILLS[cut],
            join="miter",
            id=id,
        )
    ]
    hatch = _hatch(corners, cut)
    if hatch:
        elements.append(hatch)
    return elements


def _closed(corners: Sequence[Point]) -> str:
    """Return path data of an outline to a hundredth of a millimetre."""
    first, *rest = corners
    return f"M{_xy(first)}" + "".join(f"L{_xy(corner)}" for corner in rest) + "Z"


def _xy(point: Point) -> str:
    """Return a point to a thousandth of a millimetre, as short as it goes."""
    return f"{round(point[0], 3):g} {round(point[1], 3):g}"


def thinness(corners: Sequence[Point]) -> float:
    """Return the thickness of a layer on paper [mm]: from its first edge to the one across it."""
    (x1, y1), (x2, y2), (x3, y3) = corners[0], corners[1], corners[2]
    long = math.dist(corners[0], corners[1])
    return abs((x2 - x1) * (y3 - y1) - (y2 - y1) * (x3 - x1)) / long if long > 0 else 0.0


def _hatch(corners: Sequence[Point], cut: Cut) -> str:
    """Return the hatch of a cut material, "" where it has none or there is no room for it."""
    thin = thinness(corners)
    if cut == "timber":
        if len(corners) != 4 or thin < 0.4:
            return ""
        return path(
            along([(*corners[0], *corners[2]), (*corners[1], *corners[3])]), stroke=_HATCH, width=DETAIL
        )
    if thin < _LEAST or cut in ("metal", "plain"):
        return ""
    if cut == "wool":
        return path(loops(corners), stroke=_HATCH, width=DETAIL, join="round")
    if cut in ("boards", "wood sheet"):
        return path(along(_grain(corners, thin)), stroke=_HATCH, width=0.09)
    if cut in ("masonry", "cement sheet", "foam"):
        pitch = {"masonry": 1.5, "cement sheet": 0.9, "foam": 1.7}[cut]
        segments = list(diagonals(corners, pitch, rising=True))
        if cut == "foam":
            segments += diagonals(corners, pitch, rising=False)
        return path(along(segments), stroke=_HATCH, width=0.09)
    return path(_grains(corners, cut), stroke=_HATCH, width=0.16, cap="round")


def loops(corners: Sequence[Point]) -> str:
    """Return path data of the loops of insulation between the two long edges of a layer."""
    a, b, c, d = corners
    long, thin = math.dist(a, b), thinness(corners)
    half = max(0.75, thin * 0.2 + 0.12)
    count = max(2, round(long / half))
    parts = [f"M{_short(a)}"]
    for index in range(count):
        one, other = ((a, b), (d, c)) if index % 2 == 0 else ((d, c), (a, b))
        start, end = index / count, (index + 1) / count
        # controls beyond the middle make the loops lean back, as insulation is drawn
        pull = 0.8 * (end - start)
        points = (_between(*one, start + pull), _between(*other, end - pull), _between(*other, end))
        parts.append("C" + " ".join(_short(point) for point in points))
    return "".join(parts)


def _short(point: Point) -> str:
    """Return a point of a hatch to a hundredth of a millimetre."""
    return f"{round(point[0], 2):g} {round(point[1], 2):g}"


def _between(a: Point, b: Point, share: float) -> Point:
    """Return a point on a line, by its share of the way."""
    return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)


def _grain(corners: Sequence[Point], thin: float) -> Iterator[Segment]:
    """Yield lines along a layer of wood."""
    a, b, c, d = corners
    count = max(2, min(4, round(thin / 0.7)))
    for index in range(1, count):
        yield (*_between(a, d, index / count), *_between(b, c, index / count))


def diagonals(corners: Sequence[Point], pitch: float, *, rising: bool) -> Iterator[Segment]:
    """Yield lines at 45 degrees within a convex outline, `pitch` apart [mm]."""
    sign = 1 if rising else -1
    offsets = [sign * x + y for x, y in corners]
    step = pitch * math.sqrt(2)
    for index in range(math.ceil(min(offsets) / step), math.floor(max(offsets) / step) + 1):
        crossings = []
        offset = index * step
        for (x1, y1), (x2, y2) in zip(corners, [*corners[1:], corners[0]], strict=True):
            one, other = sign * x1 + y1 - offset, sign * x2 + y2 - offset
            if (one < 0) != (other < 0):
                share = one / (one - other)
                crossings.append((x1 + (x2 - x1) * share, y1 + (y2 - y1) * share))
        if len(crossings) == 2 and math.dist(*crossings) > 0.15:
            yield (*crossings[0], *crossings[1])


def _grains(corners: Sequence[Point], cut: Cut) -> str:
    """Return path data of dots and pebbles scattered evenly within a convex outline, the same every time."""
    pitch = {"concrete": 1.5, "gypsum": 1.3, "gravel": 2.1, "sand": 1.0}.get(cut, 1.5)
    left, top = min(x for x, _ in corners), min(y for _, y in corners)
    right, foot = max(x for x, _ in corners), max(y for _, y in corners)
    parts = []
    for row in range(int((foot - top) / pitch) + 1):
        for column in range(int((right - left) / pitch) + 1):
            # a fixed scatter: the golden section fills the plane evenly without a pattern
            number = row * 37 + column
            x = left + (column + 0.15 + 0.7 * (number * 0.618034 % 1)) * pitch
            y = top + (row + 0.15 + 0.7 * (number * 0.754878 % 1)) * pitch
            size = 0.55 if cut == "gravel" else 0.32
            if not _holds(corners, (x, y), 0.7 * size + 0.1):
                continue
            if cut == "gravel" or (cut == "concrete" and number % 4 == 0):
                parts.append(f"M{_short((x - size, y + size * 0.6))}l{size:g} {-size:g}l{size:g} {size:g}z")
            else:
                parts.append(f"M{_short((x, y))}h.06")
    return "".join(parts)


def _holds(corners: Sequence[Point], point: Point, clear: float) -> bool:
    """Whether a convex outline holds a point clear of its edges [mm]."""
    x, y = point
    distances = []
    for (x1, y1), (x2, y2) in zip(corners, [*corners[1:], corners[0]], strict=True):
        long = math.hypot(x2 - x1, y2 - y1)
        if long > 0:
            distances.append(((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)) / long)
    return all(d > clear for d in distances) or all(d < -clear for d in distances)


def membrane(start: Point, end: Point, *, weight: float = 0.6, id: str | None = None) -> str:
    """Return a membrane as a heavy dashed line."""
    return path(along([(*start, *end)]), width=weight, dash="2.4 0.9", id=id)


def ribs(
    start: Point, end: Point, *, pitch: float, height: float, weight: float, id: str | None = None
) -> str:
    """Return a profiled sheet cut across its ribs: from start to end, ribs standing to the left of that way [mm]."""
    long = math.dist(start, end)
    ux, uy = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    top, flank = 0.35 * pitch, 0.12 * pitch
    points = [(0.0, 0.0)]
    place = pitch * 0.25
    while place + top + 2 * flank < long:
        points += [
            (place, 0.0),
            (place + flank, height),
            (place + flank + top, height),
            (place + 2 * flank + top, 0.0),
        ]
        place += pitch
    points.append((long, 0.0))
    drawn = [(start[0] + u * ux + v * uy, start[1] + u * uy - v * ux) for u, v in points]
    data = f"M{_short(drawn[0])}" + "".join(f"L{_short(point)}" for point in drawn[1:])
    return path(data, width=weight, join="miter", fill=None, id=id)


def blank(corners: Sequence[Point], *, weight: float = DETAIL, id: str | None = None) -> str:
    """Return a cavity: white, with a fine outline."""
    return path(_closed(corners), width=weight, fill=WHITE, id=id)
