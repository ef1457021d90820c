"""Framing of the flat ceilings: each on plan and the upright face of each bulkhead, to one scale for the house."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.frame_elevation_walls import FramedWall
from takeoff.documents.drawings.frame_marks import in_runs, own_mark
from takeoff.documents.drawings.frame_plan_sheet import draw_title
from takeoff.documents.drawings.frame_words import set_entries, stick_list
from takeoff.documents.drawings.framing_ceiling_blocks import (
    ABOUT,
    Drawn,
    ceiling_sides,
    draw_ceiling,
    draw_face,
    face_sides,
    room_over,
)
from takeoff.documents.drawings.framing_ceilings import FlatCeiling, framed_ceilings
from takeoff.documents.drawings.letters import wrapped
from takeoff.documents.drawings.paper import (
    ALL_SCALES,
    LEADING,
    MARGIN,
    NOTE_TYPE,
    TITLE_TYPE,
    Drawing,
    Paper,
    level_text,
    metres,
    note_lines,
    scale_bar,
)
from takeoff.documents.drawings.svg import INK, lettering, picture
from takeoff.framing.member import Member
from takeoff.model.house import House
from takeoff.model.library import Library

# Between blocks side by side, and the least width for the words under one [mm].
_BETWEEN, _LEAST = 5.0, 48.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Block:
    """What is drawn by itself: its place in the model and size [m], the paper about it [mm], its words, its sticks."""

    heading: str
    words: str
    left: float
    foot: float
    wide: float
    high: float
    sides: Callable[[int], tuple[float, float]]
    over: float
    members: Sequence[Member]
    draw: Callable[[Paper, str], Drawn]

    def width(self, scale: int) -> float:
        """Return the paper it takes from left to right [mm]."""
        return max(self.wide * 1000 / scale + sum(self.sides(scale)), _LEAST)


def frame_ceiling_plans(
    result: Result, library: Library, *, paper_width_mm: float, id_prefix: str, name: str = "the house"
) -> list[Drawing]:
    """Return the framing of all flat ceilings on joists, some side by side in a drawing; none where there are none.

    All are drawn at the largest trade scale at which the longest fits. `id_prefix` and a number begin the ids of
    each drawing, and a stick's id ends in its mark. `name` is that of the house, for the title.
    """
    ceilings, faces = framed_ceilings(result, library)
    blocks = [*map(_ceiling_block, ceilings), *map(_face_block, faces)]
    if not blocks:
        return []
    room = paper_width_mm - 2 * MARGIN
    fitting = (scale for scale in ALL_SCALES if all(block.width(scale) <= room + 1e-9 for block in blocks))
    scale = next(fitting, ALL_SCALES[-1])
    house = result.design.house
    return [
        _sheet(house, row, scale=scale, sheet=paper_width_mm, id_prefix=f"{id_prefix}-{number}", name=name)
        for number, row in enumerate(_rows(blocks, scale=scale, room=room), 1)
    ]


def _ceiling_block(ceiling: FlatCeiling) -> _Block:
    """Return a flat ceiling as a block."""
    box = ceiling.extent
    words = f"Underside {level_text(ceiling.underside)} above floor; joists at {ceiling.spacing * 1000:g} mm centres."
    return _Block(
        heading=_heading(ceiling.name),
        words=words,
        left=box.from_x,
        foot=box.from_y,
        wide=box.to_x - box.from_x,
        high=box.to_y - box.from_y,
        sides=partial(ceiling_sides, ceiling),
        over=ABOUT,
        members=ceiling.members,
        draw=lambda paper, prefix: draw_ceiling(ceiling, paper, id_prefix=prefix),
    )


def _face_block(wall: FramedWall) -> _Block:
    """Return an upright face as a block."""
    words = (
        f"Seen from {wall.seen}, foot {level_text(wall.face.bottom)} above floor; "
        f"studs at {wall.spacing * 1000:g} mm centres."
    )
    return _Block(
        heading=_heading(wall.name),
        words=words,
        left=0.0,
        foot=wall.face.bottom,
        wide=wall.end,
        high=wall.high - wall.face.bottom,
        sides=partial(face_sides, wall),
        over=room_over(wall),
        members=wall.members,
        draw=lambda paper, prefix: draw_face(wall, paper, id_prefix=prefix),
    )


def _heading(name: str) -> str:
    """Return what stands under a block; a house of one room gives its ceiling no name."""
    return name or "Ceiling"


def _rows(blocks: Sequence[_Block], *, scale: int, room: float) -> list[list[_Block]]:
    """Return the blocks in rows, in order, as many in each as there is room for [mm]."""
    rows: list[list[_Block]] = []
    used = 0.0
    for block in blocks:
        wide = block.width(scale)
        if rows and used + _BETWEEN + wide <= room + 1e-9:
            rows[-1].append(block)
            used += _BETWEEN + wide
        else:
            rows.append([block])
            used = wide
    return rows


def _sheet(
    house: House, row: Sequence[_Block], *, scale: int, sheet: float, id_prefix: str, name: str
) -> Drawing:
    """Return one drawing with a row of blocks on one foot line."""
    foot = MARGIN + max(block.high * 1000 / scale + block.over for block in row)
    elements: list[str] = []
    drawn: list[tuple[_Block, float, Drawn]] = []
    left = MARGIN
    for number, block in enumerate(row, 1):
        paper = Paper(
            scale, left + block.sides(scale)[0] - block.left * 1000 / scale, foot + block.foot * 1000 / scale
        )
        found = block.draw(paper, f"{id_prefix}-{number}")
        elements += found.elements
        drawn.append((block, left, found))
        left += block.width(scale) + _BETWEEN
    base = max(found.lowest for _, _, found in drawn) + 5.2
    last = base
    for block, at, found in drawn:
        wide = block.width(scale)
        heads = wrapped(block.heading, 2.6, wide, semibold=True)
        elements += [
            lettering(text, (at, base + i * LEADING), size=2.6, weight=600) for i, text in enumerate(heads)
        ]
        lines = wrapped(block.words, NOTE_TYPE, wide)
        lines += set_entries("", stick_list(block.members), wide)
        lines += wrapped(_untold(found.untold), NOTE_TYPE, wide)
        first = base + len(heads) * LEADING + 0.4
        elements += note_lines(lines, (at, first), fill=INK)
        last = max(last, first + (len(lines) - 1) * LEADING)
    notes = wrapped(_notes(row), NOTE_TYPE, sheet - 2 * MARGIN)
    below, height = _foot(house, row, notes, top=last, sheet=sheet, scale=scale, id_prefix=id_prefix)
    title = f"Ceiling framing of {name}: {'; '.join(block.heading for block in row)}"
    desc = f"Ceiling framing at 1:{scale}. " + " ".join(_told(block) for block in row)
    svg = picture(
        [*elements, *below], width_mm=sheet, height_mm=height, title=title, desc=desc, id_prefix=id_prefix
    )
    return Drawing(svg=svg, title=title, width_mm=sheet, height_mm=height, scale=scale)


def _foot(
    house: House,
    row: Sequence[_Block],
    notes: Sequence[str],
    *,
    top: float,
    sheet: float,
    scale: int,
    id_prefix: str,
) -> tuple[list[str], float]:
    """Return heading, scale and notes under a row, with a north point under plans, and the height of the whole [mm]."""
    heading = "Ceiling framing"
    if any(_on_plan(block) for block in row):
        return draw_title(house, heading, notes, top=top + 1.4, sheet=sheet, scale=scale, id_prefix=id_prefix)
    base = top + 3.0 + 2 * LEADING
    bar, _ = scale_bar(sheet - MARGIN, base, scale=scale, room_mm=sheet * 0.3, id_prefix=id_prefix)
    first = base + 2 * LEADING
    elements = [
        lettering(heading, (MARGIN, base), size=TITLE_TYPE, weight=600),
        bar,
        *note_lines(list(notes), (MARGIN, first), fill=INK),
    ]
    return elements, first + (len(notes) - 1) * LEADING + 1.2


def _on_plan(block: _Block) -> bool:
    """Whether a block is seen from above."""
    return any(member.use == "ceiling joist" for member in block.members)


def _notes(row: Sequence[_Block]) -> str:
    """Return what is said under a row of blocks."""
    words = "Marks C-…; dimensions in m between finished faces; sections in mm."
    if any(_on_plan(block) for block in row):
        words += (
            " Ceilings seen from above, the high side up the sheet; ledgers grey; strips along them: walls."
        )
    if not all(_on_plan(block) for block in row):
        words += " Upright faces in elevation: studs between a foot rail and a head rail."
    return words


def _untold(marks: Sequence[str]) -> str:
    """Return the marks that are not written by their sticks."""
    return f"Without room for their marks: {in_runs(marks)}." if marks else ""


def _told(block: _Block) -> str:
    """Return a block in words for those who can't see it."""
    marks = in_runs([own_mark(member.mark) for member in block.members])
    return (
        f"{block.heading}, {metres(block.wide)} by {metres(block.high)} m. {block.words} "
        f"{'; '.join(stick_list(block.members))}; marks {marks}."
    )
