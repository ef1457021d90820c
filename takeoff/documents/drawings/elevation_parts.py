"""The claddings of one side, from the foot up, and the caption that says what they are."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.documents.drawings.hatches import Facing, draw_region, facing_of, ruling_of
from takeoff.documents.drawings.letters import wrapped
from takeoff.documents.drawings.paper import LEADING, MARGIN, NOTE_TYPE, Paper, level_text, note_lines
from takeoff.documents.drawings.regions import Region
from takeoff.documents.drawings.svg import DETAIL, INK, rect
from takeoff.model.geometry import Face, Void, wall_face
from takeoff.model.house import Design, Side
from takeoff.model.library import Library

# Side of a stump [m]: a drawing convention, measured nowhere.
STUMP = 0.12
_SWATCH = (5.2, 3.2)
_ORDINALS = {2: "second", 3: "third"}


@dataclass(frozen=True, slots=True)
class Part:
    """A region of one cladding, what shows of it, and the name of its build-up."""

    region: Region
    facing: Facing | None
    build_up: str


def parts_of(design: Design, library: Library, side: Side) -> list[Part]:
    """Return the regions of a side from the foot up: its own cladding, and the band across it if any."""
    face = wall_face(design.house, side, bottom=-design.house.cladding_drop)
    highest = max(face.top_left, face.top_right)
    voids = tuple(Void(o.position, o.sill, o.width, o.height, o.mark) for o in design.openings_in(side))
    palette = design.palette
    pieces = [(face.bottom, highest, palette.build_up_for(side))]
    band = palette.band
    if band is not None and side in band.sides:
        bottom, top = max(band.bottom, face.bottom), min(band.top, highest)
        if top > bottom:
            own = palette.build_up_for(side)
            pieces = [(face.bottom, bottom, own), (bottom, top, band.build_up), (top, highest, own)]
    return [
        Part(Region(face, low, high, voids), facing_of(design.build_ups[name], library), name)
        for low, high, name in pieces
        if high - low > 1e-9
    ]


def _swatch(part: Part, x: float, y: float, scale: int, *, id: str) -> list[str]:
    """Return a small patch of a cladding at the scale of the drawing, for its line of the caption."""
    if part.facing is None:
        return []
    wide, high = _SWATCH[0] * scale / 1000, _SWATCH[1] * scale / 1000
    paper = Paper(scale, x, y)
    region = Region(Face(wide, 0.0, high, high), 0.0, high)
    return [
        *draw_region(part.facing, region, paper, id=id),
        rect(x, y - _SWATCH[1], *_SWATCH, stroke=INK, weight=DETAIL),
    ]


def cladding_words(part: Part, *, own: str, paper: Paper) -> str:
    """Return what one cladding is, in words, for the caption."""
    if part.facing is None:
        return part.build_up
    facing = part.facing
    words = facing.material.description or facing.material.name
    if facing.layer.direction and facing.layer.measured_by != "panels":
        words += f", {facing.layer.direction}"
    words += f" ({part.build_up})"
    if part.build_up != own:
        words = f"Band {level_text(part.region.bottom)} to {level_text(part.region.top)}: {words}"
    step = ruling_of(facing, part.region, paper).step
    return words + (f"; every {_ORDINALS.get(step, f'{step}th')} line drawn" if step > 1 else "")


def draw_caption(
    design: Design,
    parts: list[Part],
    side: Side,
    paper: Paper,
    *,
    base: float,
    sheet: float,
    id_prefix: str,
) -> tuple[list[str], float]:
    """Return the caption, each cladding with a patch of it, and the height of the whole picture [mm]."""
    own = design.palette.build_up_for(side)
    elements: list[str] = []
    at = base + 2.0
    shown: set[str] = set()
    indent = _SWATCH[0] + 1.8
    for part in parts:
        if part.build_up in shown:
            continue
        shown.add(part.build_up)
        at += _SWATCH[1] + 1.0
        elements += _swatch(part, MARGIN, at + 0.5, paper.scale, id=f"{id_prefix}-patch-{len(shown)}")
        lines = wrapped(cladding_words(part, own=own, paper=paper), NOTE_TYPE, sheet - indent - 2 * MARGIN)
        elements += note_lines(lines, (MARGIN + indent, at - 0.35), fill=INK)
        at += (len(lines) - 1) * LEADING
    note = "Dimensions and levels in m, from structural floor level."
    if any(o.shutter for o in design.openings_in(side)):
        note += " S: with shutter."
    lines = wrapped(note, NOTE_TYPE, sheet - 2 * MARGIN)
    at += _SWATCH[1] + 1.0
    elements += note_lines(lines, (MARGIN, at))
    at += (len(lines) - 1) * LEADING
    return elements, at + 1.6
