"""The roof framing on plan: rafters, barge rafters, outriggers and blocking, each with its piece mark."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.frame_marks import MARK_CAP, Lettered, mark_room
from takeoff.documents.drawings.frame_plan_sheet import PlanFrame, draw_side_names, draw_title
from takeoff.documents.drawings.frame_plan_sticks import PlanStick, mark_sticks, plan_stick, stick_paths
from takeoff.documents.drawings.frame_words import set_entries, stick_list
from takeoff.documents.drawings.framing_battens import batten_patch, battens_over
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.paper import MARGIN, NOTE_TYPE, Drawing, Paper, metres
from takeoff.documents.drawings.places import Patch, about, between
from takeoff.documents.drawings.svg import (
    CAP_HEIGHT,
    DETAIL,
    EDGE,
    INK,
    WHITE,
    group,
    lettering,
    line,
    path,
    picture,
    through,
)
from takeoff.model.geometry import slope_factor
from takeoff.model.house import House
from takeoff.model.library import Library

_TINT = "#dcdcd8"
# Beside the roof: room for the marks of outriggers and barge rafters [mm].
_MARKS_BESIDE = 5.0
_ARROW = 11.0


def roof_sticks(result: Result) -> list[PlanStick]:
    """Return every stick of the roof on plan; a rafter is as long as its length times the cosine of the pitch."""
    house = result.design.house
    factor = slope_factor(house)
    return [
        plan_stick(member, y=member.z / factor - house.overhang_low, factor=factor)
        for member in result.measured.roof_frame.members
    ]


def frame_roof_plan(
    result: Result, library: Library, *, paper_width_mm: float, id_prefix: str, name: str = "the house"
) -> Drawing:
    """Return the framing of the roof seen from above, the high side up the sheet, at the largest trade scale that fits.

    A stick's id is `id_prefix` with its mark less that of the roof. `name` is that of the house, for the title.
    """
    house = result.design.house
    sticks = roof_sticks(result)
    left, right = -house.overhang_left, house.length + house.overhang_right
    foot, head = -house.overhang_low, house.span + house.overhang_high
    frame = PlanFrame(
        left=left,
        right=right,
        foot=foot,
        head=head,
        below=([left, 0.0, house.length, right], [left, right]),
        beside=([foot, 0.0, *sorted(house.support_lines), house.span, head], [foot, head]),
        marks=_MARKS_BESIDE,
    )
    paper = frame.paper(paper_width_mm)
    drawn = frame.patch(paper)
    sheet = Lettered()
    for stick in sticks:
        sheet.take(stick.on(paper))
    for y in (0.0, *house.support_lines, house.span):
        sheet.take(between(paper.at(left, y), paper.at(right, y)).grown(0.05))
    for x in (0.0, house.length):
        sheet.take(between(paper.at(x, 0), paper.at(x, house.span)).grown(0.05))
    arrow = _fall(house, sticks, sheet, paper)
    battens = batten_patch(result, library, paper, id_prefix=id_prefix)
    if battens is not None:
        sheet.take(battens[1])
    _set_marks(sheet, sticks, paper, drawn)
    tinted = ("barge rafter", "outrigger")
    elements = [
        group(
            stick_paths([s for s in sticks if s.member.use not in tinted], paper, id_prefix=id_prefix),
            fill=WHITE,
            stroke=INK,
            stroke_width=DETAIL,
        ),
        group(
            stick_paths([s for s in sticks if s.member.use in tinted], paper, id_prefix=id_prefix),
            fill=_TINT,
            stroke=INK,
            stroke_width=DETAIL,
        ),
        *_below(house, paper, id_prefix),
        *(battens[0] if battens is not None else ()),
        *arrow,
        *sheet.elements(),
    ]
    strings, low = frame.draw_strings(paper, id_prefix)
    names, low = draw_side_names(house, drawn, low)
    notes = _notes(result, sheet.untold, paper_width_mm - 2 * MARGIN, battens=battens is not None)
    below, height = draw_title(
        house, "Roof framing", notes, top=low, sheet=paper_width_mm, scale=paper.scale, id_prefix=id_prefix
    )
    title = f"Roof framing of {name}, {metres(right - left)} by {metres(head - foot)} m on plan"
    desc = (
        f"Roof framing at 1:{paper.scale}, seen from above; the high side is at the top. "
        f"{'; '.join(stick_list(result.measured.roof_frame.members))}."
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


def _below(house: House, paper: Paper, id_prefix: str) -> list[str]:
    """Return what lies below the rafters: the walls dashed, the support lines in dash and dot."""
    corners = [(0.0, 0.0), (house.length, 0.0), (house.length, house.span), (0.0, house.span)]
    outline = path(
        through([paper.at(*corner) for corner in corners], closed=True),
        width=EDGE,
        dash="1.8 0.8",
        id=f"{id_prefix}-walls",
    )
    lines = [
        line(
            paper.at(0.0, y),
            paper.at(house.length, y),
            width=EDGE,
            dash="2.6 0.7 0.4 0.7",
            id=f"{id_prefix}-support-{number}",
        )
        for number, y in enumerate(sorted(house.support_lines), 1)
    ]
    return [outline, *lines]


def _fall(house: House, sticks: Sequence[PlanStick], sheet: Lettered, paper: Paper) -> list[str]:
    """Return the fall arrow with the pitch, between rafters about the middle of the roof; marks keep off it."""
    lines = sorted({round(s.member.s, 4) for s in sticks if s.member.use == "rafter"})
    bays = [(a, b) for a, b in pairwise(lines) if paper.mm(b - a) > 2.6]
    if len(bays) < 2:
        return []
    index = min(range(len(bays) - 1), key=lambda i: abs(bays[i][1] - house.length / 2))
    ends = sorted([0.0, *house.support_lines, house.span])
    low, high = max(pairwise(ends), key=lambda pair: pair[1] - pair[0])
    middle = low + (high - low) * 0.66
    x, y = paper.at(sum(bays[index]) / 2, middle)
    half = min(_ARROW, paper.mm(high - low) * 0.4) / 2
    tip = (x, y + half)
    words = f"fall {house.pitch:g}°"
    at = (paper.at(sum(bays[index + 1]) / 2, 0)[0], y + text_width(words, NOTE_TYPE) / 2)
    sheet.take(about((x, y), 1.8, 2 * half + 1.0))
    cap, wide = CAP_HEIGHT * NOTE_TYPE, text_width(words, NOTE_TYPE)
    sheet.take(Patch(at[0] - cap / 2 - 0.2, at[1] - wide - 0.4, at[0] + cap / 2 + 0.7, at[1] + 0.4))
    return [
        line((x, y - half), tip, width=EDGE),
        path(
            through([tip, (x - 0.7, tip[1] - 1.9), (x + 0.7, tip[1] - 1.9)], closed=True),
            stroke=None,
            fill=INK,
        ),
        lettering(words, at, size=NOTE_TYPE, upright=True, centred=True),
    ]


def _set_marks(sheet: Lettered, sticks: Sequence[PlanStick], paper: Paper, drawn: Patch) -> None:
    """Write the marks: of outriggers and barge rafters outside the roof, of all others beside their sticks."""
    inner = []
    centre = drawn.middle[0]
    outer = drawn.grown(_MARKS_BESIDE)
    for stick in sorted(sticks, key=lambda s: s.member.use == "barge rafter"):
        patch = stick.on(paper)
        sign = -1.0 if patch.middle[0] < centre else 1.0
        edge = drawn.left if sign < 0 else drawn.right
        if stick.member.use == "outrigger":
            at = (edge + sign * (0.6 + mark_room(stick.text) / 2), patch.middle[1] + MARK_CAP / 2)
            if not sheet.put(stick.text, [(at, False)]):
                sheet.put_near(stick.text, patch.middle, within=outer)
        elif stick.member.use == "barge rafter":
            x = edge + sign * (0.9 + MARK_CAP / 2)
            middle = patch.middle[1] + mark_room(stick.text) / 2
            steps = [middle + sign_ * n * 0.5 for n in range(int(patch.high / 2)) for sign_ in (1, -1)]
            if not sheet.put(stick.text, [((x, y), True) for y in steps]):
                sheet.put_near(stick.text, patch.middle, within=outer)
        else:
            inner.append(stick)
    # blocking has only its own bay, rafters the whole length of theirs
    mark_sticks(sheet, sorted(inner, key=lambda s: s.up_the_slope), paper, outer)


def _notes(result: Result, untold: Sequence[str], wide: float, *, battens: bool) -> list[str]:
    """Return what is said under the plan within a width [mm]."""
    house, members = result.design.house, result.measured.roof_frame.members
    words = (
        f"Seen from above; marks RF-…; lengths on plan. Rafters at {house.rafter_spacing * 1000:g} mm centres from "
        f"the left; pitch {house.pitch:g}°, one metre on plan is {metres(slope_factor(house))} m of rafter."
    )
    if house.support_lines:
        words += " Rafters are joined over the support lines, drawn in dash and dot."
    if any(member.use == "outrigger" for member in members):
        words += f" Outriggers (grey) at {house.outrigger_spacing * 1000:g} mm centres at most, over the end rafters."
    words += " Dashed: outside of the walls below."
    layer = battens_over(result)
    if battens and layer is not None:
        words += (
            f" Battens at {(layer.spacing or 0.0) * 1000:g} mm centres at most, drawn over three bays only."
        )
    words += " Roof sheets are not drawn." if battens else " Battens and roof sheets are not drawn."
    lines = wrapped(words, NOTE_TYPE, wide)
    lines += set_entries("", stick_list(members), wide)
    return lines + set_entries("Without room for its mark: ", untold, wide)
