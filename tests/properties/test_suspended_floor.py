"""Suspended floors of any size and section, with and without party walls: what must always hold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from takeoff.framing.floor import FloorFrame, frame_floor
from takeoff.framing.floor_parts import floor_parts
from takeoff.framing.member import Member
from takeoff.measure.floor import floor_frame, measure_floor
from takeoff.model.geometry import Gap
from takeoff.model.house import BuildUp, Design, House, Layer
from takeoff.model.job import Job

SOME = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
TIMBER, WOOL = "Softwood framing, structural", "Insulation board, EPS"
NEAR = 1e-6
Box = tuple[float, float, float, float]


def _millimetres(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda mm: mm / 1000)


@st.composite
def floors(draw: st.DrawFn, house: House) -> House:
    """Draw the plan and every setting of the floor."""
    span = draw(_millimetres(3.0, 9.0))
    return replace(
        house,
        length=draw(_millimetres(4.0, 20.0)),
        span=span,
        support_lines=draw(st.sampled_from([(), (span / 2,), (span / 3, span * 2 / 3), (0.2,)])),
        floor_joist_thickness=draw(st.sampled_from([0.035, 0.045, 0.1])),
        floor_joist_spacing=draw(st.sampled_from([0.2, 0.3, 0.4, 0.45, 0.6])),
        bearer_thickness=draw(st.sampled_from([0.03, 0.045, 0.09, 0.14])),
        bearer_spacing=draw(_millimetres(0.6, 6.0)),
        stump_spacing=draw(_millimetres(0.6, 6.0)),
        longest_length=draw(st.sampled_from([2.4, 4.8, 6.0, 13.0])),
        floor="Timber",
        origin={},
    )


def on_timber(design: Design, house: House) -> Design:
    """Return a design with a suspended floor of joists, insulation and bearers."""
    layers = tuple(
        Layer(
            number=number,
            material=material,
            thickness=None,
            measured_by=way,
            direction=None,
            spacing=None,
            rate=1.0,
        )
        for number, material, way in (
            (1, TIMBER, "floor joists"),
            (2, WOOL, "between joists"),
            (3, TIMBER, "bearers"),
        )
    )
    timber = BuildUp("Timber", "floor", layers)
    return replace(design, house=house, build_ups={**design.build_ups, "Timber": timber})


@st.composite
def party_walls(draw: st.DrawFn, house: House) -> tuple[Gap, ...]:
    """Draw no gap, one from wall to wall, or two to three round corners, by their middle lines."""
    x, y = house.length * draw(st.floats(0.3, 0.4)), house.span * draw(st.floats(0.4, 0.6))
    other = house.length * draw(st.floats(0.6, 0.7))
    half = draw(st.sampled_from([0.0, 0.01, 0.03, 0.05]))
    ends = draw(st.sampled_from([-half, 0.0, half]))
    up, low, high = (0.0, house.span), (0.0, y), (y, house.span)

    def upright(at: float, reach: tuple[float, float]) -> Gap:
        foot = reach[0] - ends if reach[0] else 0.0
        head = reach[1] + ends if reach[1] < house.span else house.span
        return Gap(from_x=at - half, to_x=at + half, from_y=foot, to_y=head)

    def level(left: float, right: float) -> Gap:
        # the corner square goes to the one gap, the other, or to both by half
        start = left + ends if left else 0.0
        stop = right - ends if right < house.length else house.length
        return Gap(from_x=start, to_x=stop, from_y=y - half, to_y=y + half)

    return draw(
        st.sampled_from(
            [
                (),
                (upright(x, up),),
                (level(0.0, house.length),),
                (level(0.0, x), upright(x, high)),
                (upright(x, low), level(0.0, x)),
                (level(x, house.length), upright(x, high)),
                (level(x, house.length), upright(x, low)),
                (upright(x, high), level(x, other), upright(other, high)),
                (upright(x, low), level(x, other), upright(other, high)),
                (level(0.0, house.length), upright(x, high)),
                (upright(x, up), level(x, house.length)),
                (upright(x, up), level(0.0, house.length)),
                (upright(x, high),),
            ]
        )
    )


def framed(house: House, gaps: tuple[Gap, ...]) -> FloorFrame:
    return frame_floor(house, joist_material=TIMBER, bearer_material=TIMBER, gaps=gaps)


def box(member: Member) -> Box:
    """Return left, right, foot and head of a stick in plan."""
    along, across = member.length / 2, member.seen_width / 2
    dx, dy = (along, across) if member.run == "eaves" else (across, along)
    return (member.s - dx, member.s + dx, member.z - dy, member.z + dy)


def overlap(one: Box, other: Box) -> bool:
    return (
        min(one[1], other[1]) - max(one[0], other[0]) > NEAR
        and min(one[3], other[3]) - max(one[2], other[2]) > NEAR
    )


def crosses(gap: Gap, stick: Box) -> bool:
    """Whether a stick crosses a gap, also one without width."""
    return (
        min(stick[1], gap.to_x) - max(stick[0], gap.from_x) > (NEAR if gap.to_x > gap.from_x else -NEAR)
        and min(stick[3], gap.to_y) - max(stick[2], gap.from_y) > (NEAR if gap.to_y > gap.from_y else -NEAR)
        and not any(
            abs(edge - line) < NEAR
            for edge, line in (
                (stick[1], gap.from_x),
                (stick[0], gap.to_x),
                (stick[3], gap.from_y),
                (stick[2], gap.to_y),
            )
        )
    )


@pytest.fixture(scope="module")
def a_floor(job: Job) -> Callable[[st.DataObject], tuple[House, tuple[Gap, ...]]]:
    """Return a function that draws a house with a suspended floor and its party walls."""

    def draw(data: st.DataObject) -> tuple[House, tuple[Gap, ...]]:
        house = data.draw(floors(job.design.house))
        return house, data.draw(party_walls(house))

    return draw


@given(data=st.data())
@SOME
def test_no_stick_crosses_a_gap_or_another_or_leaves_the_outline(a_floor, data):
    house, gaps = a_floor(data)
    frame = framed(house, gaps)
    for sticks in (frame.joists, frame.bearers):
        boxes = [box(member) for member in sticks]
        for stick in boxes:
            assert stick[0] > -NEAR
            assert stick[1] < house.length + NEAR
            assert stick[2] > -NEAR
            assert stick[3] < house.span + NEAR
            assert not any(crosses(gap, stick) for gap in gaps)
        assert not any(overlap(one, other) for one, other in combinations(boxes, 2))


@given(data=st.data())
@SOME
def test_every_bay_is_within_its_spacing_and_its_end_joists_are_flush(a_floor, data):
    house, gaps = a_floor(data)
    boxes = [box(m) for m in framed(house, gaps).members if m.use == "floor joist"]
    parts = floor_parts(length=house.length, span=house.span, gaps=gaps)
    for part in parts:
        for y in (part.foot + 0.001, (part.foot + part.head) / 2, part.head - 0.001):
            inside = sorted(
                b
                for b in boxes
                if b[2] - NEAR <= y <= b[3] + NEAR and part.left - NEAR < b[0] and b[1] < part.right + NEAR
            )
            assert inside[0][0] == pytest.approx(part.left, abs=NEAR)
            assert inside[-1][1] == pytest.approx(part.right, abs=NEAR)
            for one, other in pairwise(inside):
                assert other[0] - one[0] <= house.floor_joist_spacing + NEAR
    # what the parts leave is the gaps: they overlap each other at corners only
    taken = house.length * house.span - sum(part.area for part in parts)
    assert taken <= sum((g.to_x - g.from_x + 0.1) * (g.to_y - g.from_y + 0.1) for g in gaps) + NEAR


@given(data=st.data())
@SOME
def test_every_joist_bears_on_bearers_and_every_bearer_on_stumps(a_floor, data):
    house, gaps = a_floor(data)
    frame = framed(house, gaps)
    bearers = [box(member) for member in frame.bearers]
    for joist in (m for m in frame.members if m.use == "floor joist"):
        left, right, foot, head = box(joist)
        lines = sorted(
            {
                round((b[2] + b[3]) / 2, 9)
                for b in bearers
                if b[0] - NEAR < joist.s < b[1] + NEAR and b[2] < head and b[3] > foot
            }
        )
        half = house.bearer_thickness / 2
        assert lines, "a joist without a bearer"
        assert lines[0] - half <= foot + NEAR
        assert lines[-1] + half >= head - NEAR
        for one, other in pairwise(lines):
            assert other - one <= house.bearer_spacing + NEAR
    for left, right, foot, head in bearers:
        y, half = (foot + head) / 2, house.bearer_thickness / 2
        under = sorted(x for x, at in frame.stumps if abs(at - y) < NEAR and left - NEAR <= x <= right + NEAR)
        assert under[0] <= left + half + NEAR
        assert under[-1] >= right - half - NEAR
        for one, other in pairwise(under):
            assert other - one <= house.stump_spacing + NEAR


@given(data=st.data())
@SOME
def test_support_lines_have_a_bearer_within_a_bearers_thickness(a_floor, data):
    house, _ = a_floor(data)
    lines = {m.z for m in framed(house, ()).bearers}
    for line in house.support_lines:
        assert min(abs(line - y) for y in lines) <= house.bearer_thickness


@given(data=st.data())
@SOME
def test_no_piece_is_longer_than_can_be_bought_where_the_bays_allow_it(a_floor, data):
    house, gaps = a_floor(data)
    frame = framed(house, gaps)
    longest = house.longest_length
    for member in frame.too_long:
        assert member.length > longest
        # it spans one bay, with its bearing at the outside face of the last one
        spacing = house.bearer_spacing if member.use == "floor joist" else house.stump_spacing
        assert member.length <= spacing + house.bearer_thickness + NEAR
    if max(house.bearer_spacing, house.stump_spacing) + house.bearer_thickness <= longest:
        assert not frame.too_long
        assert max(member.length for member in frame.members) <= longest + NEAR


@given(data=st.data())
@SOME
def test_metres_times_section_is_the_timber_and_insulation_fills_what_is_left(job, a_floor, data):
    house, gaps = a_floor(data)
    design = on_timber(job.design, house)
    frame = floor_frame(design, gaps)
    assert frame is not None
    rows = measure_floor(design, job.library, frame)
    sticks = [q for q in rows if q.section]
    assert sum(q.net * (q.section or 0.0) for q in sticks) == pytest.approx(
        sum(m.volume for m in frame.members)
    )
    assert sum(p.count for q in sticks for p in q.pieces) == len(frame.members)
    wool = next(q for q in rows if q.material == WOOL)
    timber = sum(q.net for q in sticks if q.element == "SB" and ".bearers." not in q.id)
    face = timber * house.floor_joist_thickness
    parts = floor_parts(length=house.length, span=house.span, gaps=gaps)
    assert wool.net + face == pytest.approx(sum(part.area for part in parts))
    assert wool.net > 0
    assert len({m.mark for m in frame.members}) == len(frame.members)


def _from_wall_to_wall(gap: Gap, house: House) -> bool:
    return (gap.from_y, gap.to_y) == (0.0, house.span) or (gap.from_x, gap.to_x) == (0.0, house.length)


@given(data=st.data())
@SOME
def test_a_mirrored_floor_has_the_same_sticks(a_floor, data):
    """Left and right changed over, or low and high: the same sticks. Joists are set out from the left, so with a
    corner in the party wall one bay of blocking more or less may lie over the gap: metres of joist must agree."""
    house, gaps = a_floor(data)
    turned = tuple(replace(g, from_x=house.length - g.to_x, to_x=house.length - g.from_x) for g in gaps)
    other = replace(house, support_lines=tuple(house.span - line for line in house.support_lines))
    tipped = tuple(replace(g, from_y=house.span - g.to_y, to_y=house.span - g.from_y) for g in gaps)
    here = framed(house, gaps)
    for there in (framed(house, turned), framed(other, tipped)):
        assert len(there.stumps) == len(here.stumps)
        for use in ("floor joist", "bearer"):
            one, two = ([m.length for m in f.members if m.use == use] for f in (here, there))
            assert len(one) == len(two)
            assert sum(one) == pytest.approx(sum(two))
    if all(_from_wall_to_wall(gap, house) for gap in gaps):
        counts = [
            Counter((m.use, round(m.length, 6)) for m in f.members if m.use == "floor blocking")
            for f in (here, framed(house, turned), framed(other, tipped))
        ]
        assert counts[0] == counts[1] == counts[2]


@given(data=st.data())
@SOME
def test_outside_the_range_of_a_gap_joists_stand_as_without_it(a_floor, data):
    house, _ = a_floor(data)
    x, y = house.length / 2, house.span / 2
    gap = Gap(from_x=x - 0.03, to_x=x + 0.03, from_y=y, to_y=house.span)
    plain, parted = framed(house, ()), framed(house, (gap,))
    below = sorted(m.s for m in parted.members if m.use == "floor joist" and m.z + m.length / 2 <= NEAR + y)
    rows = len(below) // len({round(c, 9) for c in below})
    assert below[::rows] == pytest.approx(sorted({m.s for m in plain.members if m.use == "floor joist"}))
