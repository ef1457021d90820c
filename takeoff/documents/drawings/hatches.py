"""How a cladding is drawn: the tone of its material and the lines of its boards, ribs, panels or courses.

What is drawn follows from the build-up alone (the way its facing layer is measured, its direction, and
the sizes of its material), so a cladding added in the workbook draws itself.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.regions import Region
from takeoff.documents.drawings.svg import DETAIL, along, group, number, path, through
from takeoff.model.house import BuildUp, Layer
from takeoff.model.library import Library, Material

Direction = Literal["vertical", "horizontal"]

# Eight calm tints, apart in lightness as well as in hue.
STRAW, TAN, TERRACOTTA = "#f1e3bd", "#d9bb92", "#d79f86"
BLUE_GREY, PALE_BLUE, GLASS_BLUE = "#b9c4cf", "#dbe2e8", "#cfe0ea"
STONE_GREY, OFF_WHITE = "#cbc8c0", "#f2f1ec"
TONES = {
    "softwood": STRAW,
    "engineered wood": STRAW,
    "hardwood": TAN,
    "wood board": TAN,
    "plant insulation": TAN,
    "clay": TERRACOTTA,
    "steel": BLUE_GREY,
    "aluminium": PALE_BLUE,
    "glass": GLASS_BLUE,
    "cement": STONE_GREY,
    "stone and soil": STONE_GREY,
}
HATCH_INK = "#55575a"
# Lines closer than this run together in print [mm]; then only every second, third ... is drawn.
CLOSEST = 0.4
# Ribs of a sheet to one cover width, and the width of a rib's top [m]: a drawing convention.
RIBS_PER_COVER = 4
RIB_WIDTH = 0.04

_FACING_WAYS = ("boards by cover", "profiled sheet by cover", "panels", "masonry units")
_PLAIN_WAYS = ("area", "sheets")


@dataclass(frozen=True, slots=True)
class Facing:
    """What shows of a build-up: its facing layer and material, and exposed battens over it."""

    layer: Layer
    material: Material
    battens: tuple[tuple[Layer, Material], ...] = ()

    @property
    def tone(self) -> str:
        """Tint of the material's family."""
        return TONES.get(self.material.family, OFF_WHITE)


def facing_of(build_up: BuildUp, library: Library) -> Facing | None:
    """Return what shows of a build-up, or None where it has no layers.

    The facing is the outermost layer of boards, sheets, panels or masonry units; else the outermost one
    measured by area; else the first. Battens outside it are exposed.
    """
    if not build_up.layers:
        return None
    for ways in (_FACING_WAYS, _PLAIN_WAYS):
        found = next((i for i, layer in enumerate(build_up.layers) if layer.measured_by in ways), None)
        if found is not None:
            break
    place = found or 0
    layer = build_up.layers[place]
    battens = tuple(
        (outer, library.materials[outer.material])
        for outer in build_up.layers[:place]
        if outer.measured_by == "battens at spacing"
    )
    return Facing(layer, library.materials[layer.material], battens)


@dataclass(frozen=True, slots=True)
class Ruling:
    """The lines of one hatch: heights of level lines and places of upright ones [m].

    `step` says that only every so many boards (or courses) are shown, for want of room on paper.
    `course` and `unit` are given for masonry, whose upright joints are broken from course to course.
    """

    levels: tuple[float, ...] = ()
    uprights: tuple[float, ...] = ()
    step: int = 1
    course: float = 0.0
    unit: float = 0.0
    closest: float = math.inf


def _every(pitch: float, start: float, end: float) -> tuple[float, ...]:
    """Return places from the start on, one a pitch, short of the end [m]."""
    return tuple(start + i * pitch for i in range(math.ceil((end - start) / pitch - 1e-9)))


def _step(pitch: float, paper: Paper) -> int:
    """Return how many pitches must go to one line so that lines keep apart on paper."""
    return max(1, math.ceil(CLOSEST / paper.mm(pitch) - 1e-9))


def _ruled(region: Region, pitch: float, direction: Direction, paper: Paper) -> Ruling:
    """Return lines at a pitch: along level boards from the foot up, along upright ones from the left."""
    step = _step(pitch, paper)
    if direction == "horizontal":
        levels = _every(pitch * step, region.bottom, region.highest)
        return Ruling(levels=levels, step=step, closest=pitch * step)
    return Ruling(uprights=_every(pitch * step, 0.0, region.face.width), step=step, closest=pitch * step)


def _paired(
    region: Region, pitch: float, wide: float, direction: Direction, paper: Paper, *, centred: bool
) -> Ruling:
    """Return pairs of lines at a pitch: ribs in the middle of each pitch, battens from the end on."""
    single = _ruled(region, pitch, direction, paper)
    gap = min(max(wide, paper.metres(CLOSEST * 0.75)), pitch * single.step / 2)
    first = (pitch - gap) / 2 if centred else 0.0

    def pairs(places: tuple[float, ...], end: float) -> tuple[float, ...]:
        return tuple(p for place in places for p in (place + first, place + first + gap) if p < end)

    return Ruling(
        levels=pairs(single.levels, region.highest),
        uprights=pairs(single.uprights, region.face.width),
        step=single.step,
        closest=gap,
    )


def ruling_of(facing: Facing, region: Region, paper: Paper) -> Ruling:
    """Return the lines that a facing is drawn with in a region."""
    layer, material = facing.layer, facing.material
    direction: Direction = layer.direction or "vertical"
    if layer.measured_by == "boards by cover" and material.cover:
        return _ruled(region, material.cover, direction, paper)
    if layer.measured_by == "profiled sheet by cover" and material.cover:
        return _paired(region, material.cover / RIBS_PER_COVER, RIB_WIDTH, direction, paper, centred=True)
    if layer.measured_by == "panels" and material.width and material.length:
        across, up = material.width + material.joint, material.length + material.joint
        if direction == "horizontal":
            across, up = up, across
        return Ruling(
            levels=_every(up, region.bottom, region.highest),
            uprights=_every(across, 0.0, region.face.width),
            closest=min(across, up),
        )
    if layer.measured_by == "masonry units" and material.length and material.height:
        step = _step(material.height + material.joint, paper)
        course = (material.height + material.joint) * step
        unit = (material.length + material.joint) * step
        return Ruling(
            levels=_every(course, region.bottom, region.highest),
            step=step,
            course=course,
            unit=unit,
            closest=course,
        )
    return Ruling()


def _perpends(region: Region, ruling: Ruling, paper: Paper) -> str:
    """Return path data of the upright joints of stretcher bond.

    Joints of every second course stand in one line: one dashed line draws them all, a dash and a gap
    being one course each. Above an opening the dashes start again at the next joint of that line.
    """
    foot, course, half = region.bottom, ruling.course, ruling.unit / 2
    segments = []
    for column in range(1, math.ceil(region.face.width / half - 1e-9)):
        s, odd = column * half, column % 2
        for low, high in region.upright_runs(s):
            at = math.floor((low - foot) / course + 1e-6)
            on_joint = abs(low - (foot + at * course)) < 1e-6
            if at % 2 == odd and not on_joint:
                segments.append((*paper.at(s, low), *paper.at(s, min(high, foot + (at + 1) * course))))
            start = at if at % 2 == odd and on_joint else at + (2 if at % 2 == odd else 1)
            if foot + start * course < high - 1e-9:
                segments.append((*paper.at(s, foot + start * course), *paper.at(s, high)))
    return along(segments)


def _line_width(closest: float, paper: Paper) -> float:
    """Return the weight of hatch lines: finer where they stand close [mm]."""
    return DETAIL if paper.mm(closest) >= 1.0 else 0.09


def draw_region(facing: Facing, region: Region, paper: Paper, *, id: str) -> list[str]:
    """Return the tint of a region and the lines of its cladding, clear of openings and under the rake."""
    outline = region.outline()
    if len(outline) < 3:
        return []
    rings = [through([paper.at(*corner) for corner in outline], closed=True)]
    for hole in region.holes():
        corners = [
            (hole.left, hole.bottom),
            (hole.left, hole.top),
            (hole.right, hole.top),
            (hole.right, hole.bottom),
        ]
        rings.append(through([paper.at(*corner) for corner in corners], closed=True))
    tint = path("".join(rings), stroke=None, fill=facing.tone, rule="evenodd", id=f"{id}-tint")
    return [group([tint, *draw_lines(facing, region, paper, id=id)], id=id)]


def draw_lines(facing: Facing, region: Region, paper: Paper, *, id: str) -> list[str]:
    """Return the lines of a cladding, clear of openings and under the rake, without its tint."""
    ruling = ruling_of(facing, region, paper)
    elements = _ruled_lines(ruling, region, paper, id=f"{id}-lines")
    if ruling.course:
        dash = number(paper.mm(ruling.course))
        elements.append(
            path(
                _perpends(region, ruling, paper),
                stroke=HATCH_INK,
                width=_line_width(ruling.closest, paper),
                dash=f"{dash} {dash}",
                id=f"{id}-perpends",
            )
        )
    for index, (layer, batten) in enumerate(facing.battens):
        if layer.spacing:
            way: Direction = layer.direction or "vertical"
            strips = _paired(region, layer.spacing, batten.width or 0.0, way, paper, centred=False)
            elements += _ruled_lines(strips, region, paper, id=f"{id}-battens-{index + 1}")
    return elements


def _ruled_lines(ruling: Ruling, region: Region, paper: Paper, *, id: str) -> list[str]:
    """Return all level and upright lines of a hatch as one path."""
    segments = [(*paper.at(a, z), *paper.at(b, z)) for z in ruling.levels for a, b in region.level_runs(z)]
    segments += [
        (*paper.at(s, a), *paper.at(s, b)) for s in ruling.uprights for a, b in region.upright_runs(s)
    ]
    if not segments:
        return []
    return [path(along(segments), stroke=HATCH_INK, width=_line_width(ruling.closest, paper), id=id)]
