"""A house and its mirror image (left-hand and right-hand verge changed over) measure the same.

Studs are set out from the left-hand end of each wall, so that only a house whose frames are whole
numbers of spacings long has the same sticks in its mirror image; its length and span are drawn so.
Boards and sheets are cut from the left-hand end as well: their net quantities agree, the cut pieces need not.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from takeoff.framing.openings import opening_problems
from takeoff.model.geometry import side_length
from takeoff.model.house import Design, Side

OTHER: dict[Side, Side] = {"left": "right", "right": "left", "low": "low", "high": "high"}


def mirrored(design: Design) -> Design:
    house, palette = design.house, design.palette
    turned = replace(palette, left=palette.right, right=palette.left)
    return replace(
        design,
        house=replace(house, overhang_left=house.overhang_right, overhang_right=house.overhang_left),
        palettes={**design.palettes, palette.name: turned},
        openings=tuple(
            replace(o, side=OTHER[o.side], position=side_length(house, o.side) - o.right)
            for o in design.openings
        ),
    )


@st.composite
def on_whole_spacings(draw: st.DrawFn, design: Design) -> Design:
    """Draw a length and span of whole spacings, and leave out the openings that no longer fit."""
    practice = replace(design.practice, openings_on_grid=False)
    spacing = design.stud_spacing
    span = 2 * design.house.stud_depth + spacing * draw(st.integers(8, 20))
    house = replace(
        design.house,
        length=spacing * draw(st.integers(12, 40)),
        span=span,
        rafter_spacing=spacing,
        support_lines=(span / 2,),
    )
    fitted = replace(design, house=house, practices={practice.name: practice}, openings=())
    for opening in design.openings:
        trial = replace(fitted, openings=(*fitted.openings, opening))
        if not opening_problems(trial) and not opening_problems(mirrored(trial)):
            fitted = trial
    return fitted


@given(data=st.data())
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_house_and_its_mirror_image_have_the_same_sticks_and_nets(houses, evaluated, data):
    design = data.draw(on_whole_spacings(data.draw(houses())))
    here, there = evaluated(design), evaluated(mirrored(design))
    for side, other in OTHER.items():
        sticks, images = (
            Counter(
                (m.use, round(m.length, 6)) for f in r.measured.wall_frames if f.side == s for m in f.members
            )
            for r, s in ((here, side), (there, other))
        )
        assert sticks == images
    roof, image = (
        Counter((m.use, round(m.length, 6)) for m in r.measured.roof_frame.members) for r in (here, there)
    )
    assert roof == image
    assert here.measured.framing_fraction == pytest.approx(there.measured.framing_fraction)
    # upright battens are set out from the left, and each corner belongs to the wall on its left
    set_out = ("batten", "corner")
    nets, image_nets = (
        {
            line.quantity.id: line.quantity.net
            for line in r.lines
            if not any(word in line.quantity.item.lower() for word in set_out)
        }
        for r in (here, there)
    )
    turned = {
        id.replace(".CL.left.", ".CL.turned.")
        .replace(".CL.right.", ".CL.left.")
        .replace("turned", "right"): net
        for id, net in image_nets.items()
    }
    assert nets == pytest.approx(turned)
