"""A suspended floor on plan: joists and blocking over bearers and stumps, each stick with its piece mark."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.frame_marks import Lettered
from takeoff.documents.drawings.frame_plan_sheet import PlanFrame, draw_side_names, draw_title
from takeoff.documents.drawings.frame_plan_sticks import PlanStick, mark_sticks, plan_stick, stick_paths
from takeoff.documents.drawings.frame_words import set_entries, stick_list
from takeoff.documents.drawings.letters import wrapped
from takeoff.documents.drawings.paper import MARGIN, NOTE_TYPE, Drawing, metres
from takeoff.documents.drawings.places import about
from takeoff.documents.drawings.svg import (
    DETAIL,
    INK,
    OUTLINE,
    WHITE,
    circle,
    group,
    picture,
)
from takeoff.framing.floor import FloorFrame

# Radius of the dot of a stump, and room for marks about the floor [mm].
_STUMP, _MARKS_ABOUT = 0.75, 2.2


def floor_sticks(floor: FloorFrame) -> list[PlanStick]:
    """Return every stick of a suspended floor on plan."""
    return [plan_stick(member, y=member.z) for member in floor.members]


def frame_floor_plan(
    result: Result, *, paper_width_mm: float, id_prefix: str, name: str = "the house"
) -> Drawing | None:
    """Return the framing of a suspended floor seen from above, the high side up the sheet; None for a slab.

    A stick's id is `id_prefix` with its mark less that of the floor. `name` is that of the house, for the title.
    """
    floor, house = result.measured.floor_frame, result.design.house
    if floor is None:
        return None
    sticks = floor_sticks(floor)
    frame = PlanFrame(
        left=0.0,
        right=house.length,
        foot=0.0,
        head=house.span,
        below=[*_centres([x for x, _ in _first_line(floor)]), [0.0, house.length]],
        beside=[*_centres([y for _, y in floor.stumps]), [0.0, house.span]],
        marks=_MARKS_ABOUT,
        over=_MARKS_ABOUT,
    )
    paper = frame.paper(paper_width_mm)
    drawn = frame.patch(paper)
    bearers = [stick for stick in sticks if stick.member.use == "bearer"]
    joists = [stick for stick in sticks if stick.member.use != "bearer"]
    sheet = Lettered()
    for stick in sticks:
        sheet.take(stick.on(paper).grown(0.2 if stick.member.use == "bearer" else 0.0))
    for stump in floor.stumps:
        sheet.take(about(paper.at(*stump), 2 * _STUMP + 0.3, 2 * _STUMP + 0.3))
    whole = drawn.grown(_MARKS_ABOUT)
    # blocking has only its own bay, a bearer the bays of its line, a joist its whole length
    mark_sticks(sheet, [stick for stick in joists if not stick.up_the_slope], paper, whole)
    mark_sticks(sheet, bearers, paper, whole)
    mark_sticks(sheet, [stick for stick in joists if stick.up_the_slope], paper, whole)
    elements = [
        group(stick_paths(joists, paper, id_prefix=id_prefix), fill=WHITE, stroke=INK, stroke_width=DETAIL),
        group(
            stick_paths(bearers, paper, id_prefix=id_prefix),
            fill="none",
            stroke=INK,
            stroke_width=OUTLINE,
            stroke_dasharray="1.6 0.7",
        ),
        *[circle(paper.at(*stump), _STUMP, fill=INK) for stump in floor.stumps],
        *sheet.elements(),
    ]
    strings, low = frame.draw_strings(paper, id_prefix)
    names, low = draw_side_names(house, drawn, low, over=_MARKS_ABOUT)
    notes = _notes(result, floor, sheet.untold, paper_width_mm - 2 * MARGIN)
    below, height = draw_title(
        house, "Floor framing", notes, top=low, sheet=paper_width_mm, scale=paper.scale, id_prefix=id_prefix
    )
    title = f"Floor framing of {name}, {metres(house.length)} by {metres(house.span)} m"
    desc = (
        f"Floor framing at 1:{paper.scale}, seen from above; the high side is at the top. "
        f"{'; '.join(stick_list(floor.members))}; stumps: {len(floor.stumps)}."
    )
    svg = picture(
        [*elements, *strings, *names, *below],
        width_mm=paper_width_mm,
        height_mm=height,
        title=title,
        desc=desc,
        id_prefix=id_prefix,
    )
    return Drawing(svg=svg, title=title, width_mm=paper_width_mm, height_mm=height, scale=paper.scale)


def _first_line(floor: FloorFrame) -> list[tuple[float, float]]:
    """Return the stumps of the line nearest the low side."""
    lowest = min(y for _, y in floor.stumps)
    return [(x, y) for x, y in floor.stumps if y < lowest + 1e-6]


def _centres(places: Sequence[float]) -> list[list[float]]:
    """Return the string of centres, none where there is only one."""
    centres = sorted({round(place, 6) for place in places})
    return [centres] if len(centres) > 1 else []


def _notes(result: Result, floor: FloorFrame, untold: Sequence[str], wide: float) -> list[str]:
    """Return what is said under the plan within a width [mm]."""
    house = result.design.house
    words = (
        f"Seen from above; marks F-…; joists at {house.floor_joist_spacing * 1000:g} mm centres from the left. "
        "Dashed: bearers under the joists; dots: stumps. Dimensions in m: inner "
        "strings to the centres of stumps and bearers, outer ones to the outside of the frame. Boards are not drawn."
    )
    lines = wrapped(words, NOTE_TYPE, wide)
    lines += set_entries("", [*stick_list(floor.members), f"stumps: {len(floor.stumps)}"], wide)
    return lines + set_entries("Without room for its mark: ", untold, wide)
