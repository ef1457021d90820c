"""What stands outside the walls of a plan: dimension strings, their places, and the name of each side."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from takeoff.documents.drawings.dimensions import (
    STRING_GAP,
    STRING_PITCH,
    Edge,
    dimension_string,
    figures_reach,
    stations_of,
)
from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.svg import CAP_HEIGHT, lettering
from takeoff.model.geometry import compass_of, overhang_over, side_length
from takeoff.model.house import SIDES, Design, Side

EDGES: Mapping[Side, Edge] = {"low": "bottom", "high": "top", "left": "left", "right": "right"}
_NAME_TYPE = 2.5
_NAME_CAP = CAP_HEIGHT * _NAME_TYPE


@dataclass(frozen=True, slots=True)
class SideStrings:
    """The strings of one side: stations [m] with the distance of each line from the frame [mm].

    `name_at` is that of the baseline of the side's name, `depth` the paper taken in all [mm].
    """

    strings: tuple[tuple[tuple[float, ...], float], ...]
    name_at: float
    depth: float


def _stations(design: Design, side: Side) -> list[tuple[float, ...]]:
    """Return the strings of a side: its jambs, and its whole length on the low and the left side."""
    length = side_length(design.house, side)
    spans = [(o.position, o.right) for o in design.openings_in(side)]
    # Seen from outside, s runs against the axis on the high and the left side.
    if side in ("high", "left"):
        spans = [(length - b, length - a) for a, b in spans]
    strings = [tuple(stations_of(spans, length))] if spans else []
    if side in ("low", "left"):
        strings.append((0.0, length))
    return strings


def side_strings(design: Design, side: Side, *, cladding: float, scale: int) -> SideStrings:
    """Return where the strings and the name of one side stand at a scale; `cladding` is its thickness [m]."""
    edge = EDGES[side]
    reach = max(overhang_over(design.house, side), cladding) * 1000 / scale
    figures_inwards = edge in ("bottom", "right")
    # Figures on the inner side of a line need room between it and the roof edge.
    at = reach + STRING_GAP + (0.6 if figures_inwards else 0.0)
    strings: list[tuple[tuple[float, ...], float]] = []
    out = reach
    for stations in _stations(design, side):
        if strings:
            at = max(at + STRING_PITCH, out + (3.3 if figures_inwards else 1.6))
        strings.append((stations, at))
        out = at + figures_reach(stations, edge=edge, scale=scale)
    name_at = out + 2.0 + (_NAME_CAP if figures_inwards else 0.0)
    return SideStrings(tuple(strings), name_at, name_at + (0.6 if figures_inwards else _NAME_CAP))


def draw_strings(
    design: Design,
    sides: Mapping[Side, SideStrings],
    *,
    cladding: Mapping[Side, float],
    paper: Paper,
    id_prefix: str,
) -> list[str]:
    """Return the strings of jambs, the overall dimensions and the names of the sides."""
    house = design.house
    left, foot = paper.at(0, 0)
    right, head = paper.at(house.length, house.span)
    elements = []
    for side in SIDES:
        level = side in ("low", "high")
        sign = 1 if side in ("low", "right") else -1
        base = {"low": foot, "high": head, "left": left, "right": right}[side]
        drawn_from = base + sign * (paper.mm(cladding[side]) + 1.2)
        for index, (stations, out) in enumerate(sides[side].strings):
            elements.append(
                dimension_string(
                    stations,
                    edge=EDGES[side],
                    line_at=base + sign * out,
                    paper=paper,
                    drawn_from=drawn_from,
                    id=f"{id_prefix}-string-{side}-{index + 1}",
                )
            )
            drawn_from = base + sign * (out + 1.8)
        name = f"{side.capitalize()} side, {compass_of(house, side)}"
        at = base + sign * sides[side].name_at
        place = ((left + right) / 2, at) if level else (at, (foot + head) / 2)
        elements.append(
            lettering(name, place, size=_NAME_TYPE, weight=600, anchor="middle", upright=not level)
        )
    return elements
