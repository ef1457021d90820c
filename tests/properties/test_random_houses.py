"""Sums that must agree on random houses; areas and volumes against shapely and trimesh as references."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
import trimesh
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from takeoff.compare.evaluate import Result, evaluate
from takeoff.framing.openings import frame_opening, opening_problems
from takeoff.framing.studs import stud_positions
from takeoff.measure.strips import level_strips, upright_strips
from takeoff.model import geometry
from takeoff.model.house import SIDES, Design, Option
from takeoff.model.job import Job

RANDOM = settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
KINDS = ("Mixed", "All steel", "All timber", "Brick and panel", "Steel with timber band")


@st.composite
def designs(draw: st.DrawFn, job: Job) -> Design:
    """Draw a house of any size, pitch and overhangs, with up to two openings a side that fit."""

    def metres(low: float, high: float) -> float:
        return round(draw(st.floats(low, high)), 3)

    span = metres(4.0, 9.0)
    house = replace(
        job.design.house,
        length=metres(6.0, 20.0),
        span=span,
        low_height=metres(2.5, 3.2),
        pitch=metres(1.5, 20.0),
        overhang_low=metres(0.0, 1.0),
        overhang_high=metres(0.0, 1.0),
        overhang_left=draw(st.sampled_from([0.0, 0.3, 0.6])),
        overhang_right=draw(st.sampled_from([0.0, 0.3, 0.6])),
        stud_spacing=draw(st.sampled_from([0.4, 0.45, 0.6])),
        support_lines=draw(st.sampled_from([(), (span / 2,)])),
        framing_practice=draw(st.sampled_from(["Usual", "Material-saving"])),
        palette=draw(st.sampled_from(KINDS)),
        cladding_drop=metres(0.0, 0.3),
    )
    bare = {"rooms": (), "bulkheads": (), "wall_choices": (), "internal_doors": ()}
    design = replace(job.design, house=house, openings=(), **bare)
    sample = job.design.openings[0]
    for side in SIDES:
        wide = geometry.side_length(house, side)
        for number in range(draw(st.integers(0, 2))):
            half = wide / 2
            opening = replace(
                sample,
                mark=f"{side}{number}",
                side=side,
                kind=draw(st.sampled_from(["window", "sliding door"])),
                width=metres(0.4, max(half - 1.2, 0.41)),
                height=metres(0.4, 1.2),
                sill=draw(st.sampled_from([0.0, 0.6, 0.9])),
                position=number * half + 0.55,
                number=1,
                shutter=None,
            )
            trial = replace(design, openings=(*design.openings, opening))
            if not opening_problems(trial):
                design = trial
    return design


def result_of(job: Job, design: Design) -> Result:
    plain = replace(job, design=design, options=(Option(name="base", changes={}),))
    return evaluate(plain, plain.base, planned=False)


def polygon(face: geometry.Face) -> Polygon:
    return Polygon(
        [(0, face.bottom), (face.width, face.bottom), (face.width, face.top_right), (0, face.top_left)]
    )


@given(data=st.data())
@RANDOM
def test_faces_roof_and_volume_agree_with_general_geometry(job, data):
    house = data.draw(designs(job)).house
    faces = {side: geometry.wall_face(house, side) for side in SIDES}
    for face in faces.values():
        assert face.area == pytest.approx(polygon(face).area)
    perimeter = 2 * (house.length + house.span)
    mean = (house.low_height + geometry.height_at(house, house.span)) / 2
    assert geometry.gross_wall_area(house) == pytest.approx(perimeter * mean)
    cosine = math.cos(math.radians(house.pitch))
    assert geometry.roof_plan_area(house) == pytest.approx(geometry.roof_area(house) * cosine)
    # the body under the roof: the right-hand face, pushed along the eaves
    body = trimesh.creation.extrude_polygon(polygon(faces["right"]), house.length, engine="earcut")
    assert geometry.enclosed_volume(house) == pytest.approx(body.volume)


@given(data=st.data())
@RANDOM
def test_cladding_and_openings_make_the_gross_face(job, data):
    design = data.draw(designs(job))
    none_left = {name: replace(rule, smallest_void=0.0) for name, rule in job.library.measurement.items()}
    result = result_of(replace(job, library=replace(job.library, measurement=none_left)), design)
    ways = {"boards by cover", "profiled sheet by cover", "panels", "masonry units"}
    for side in SIDES:
        face = geometry.wall_face(design.house, side, bottom=-design.house.cladding_drop)
        voids = [box(o.position, o.sill, o.right, o.head) for o in result.design.openings_in(side)]
        expected = polygon(face)
        for void in voids:
            expected = expected.difference(void)
        names = {
            layer.material
            for name in (
                result.design.palette.build_up_for(side),
                *(
                    [result.design.palette.band.build_up]
                    if result.design.palette.band and side in result.design.palette.band.sides
                    else []
                ),
            )
            for layer in design.build_ups[name].layers
            if layer.measured_by in ways
        }
        net = sum(
            line.quantity.net
            for line in result.lines
            if line.quantity.id.startswith(f"EW.CL.{side}.")
            and line.quantity.material in names
            and line.quantity.unit == "m2"
        )
        assert net == pytest.approx(expected.area)
        assert net + sum(void.area for void in voids) == pytest.approx(polygon(face).area)


@given(data=st.data())
@RANDOM
def test_strips_cover_the_face(job, data):
    design = data.draw(designs(job))
    side = data.draw(st.sampled_from(SIDES))
    cover = data.draw(st.floats(0.08, 1.0))
    face = geometry.wall_face(design.house, side)
    voids = [geometry.Void(o.position, o.sill, o.width, o.height) for o in design.openings_in(side)]
    visible = polygon(face)
    for void in voids:
        visible = visible.difference(box(void.left, void.bottom, void.right, void.top))
    upright = [
        box(s.place, s.start, s.place + cover, s.end) for s in upright_strips(face, voids, cover=cover)
    ]
    level = [box(s.start, s.place, s.end, s.place + cover) for s in level_strips(face, voids, cover=cover)]
    for pieces in (upright, level):
        uncovered = visible
        for piece in pieces:
            uncovered = uncovered.difference(piece.buffer(1e-9))
        assert uncovered.area < 1e-6
        assert sum(piece.area for piece in pieces) >= visible.area - 1e-6


@given(data=st.data())
@RANDOM
def test_stick_metres_times_section_are_the_timber(job, data):
    result = result_of(job, data.draw(designs(job)))
    framing = [line.quantity for line in result.lines if ".FR." in line.quantity.id]
    volume = sum(quantity.net * quantity.section for quantity in framing)
    assert volume == pytest.approx(sum(member.volume for member in result.measured.members))
    pieces = sum(piece.count for quantity in framing for piece in quantity.pieces)
    assert pieces == len(result.measured.members)


@given(data=st.data())
@RANDOM
def test_trades_and_elements_and_items_make_the_same_total(job, data):
    result = result_of(job, data.draw(designs(job)))
    for name in ("cost", "mass", "upfront", "stored"):
        whole = getattr(result.totals, name)
        assert sum(getattr(t, name) for t in result.by_element.values()) == pytest.approx(whole)
        assert sum(getattr(t, name) for t in result.by_trade.values()) == pytest.approx(whole)
    assert sum(line.cost for line in result.lines) == pytest.approx(result.totals.cost)
    sums = sum(line.cost for line in result.lines if line.sum_kind)
    assert result.ladder.measured_works + sums == pytest.approx(result.totals.cost)


@given(data=st.data())
@RANDOM
def test_every_quantity_is_squared_from_its_dimensions(job, data):
    result = result_of(job, data.draw(designs(job)))
    ids = [line.quantity.id for line in result.lines]
    assert len(ids) == len(set(ids))
    for line in result.lines:
        quantity = line.quantity
        assert quantity.net == pytest.approx(sum(d.squaring for d in quantity.dimensions))
        assert quantity.net > 0
        assert line.ordered.order >= quantity.required - 1e-9


@given(data=st.data())
@RANDOM
def test_every_opening_is_deducted_framed_supplied_and_flashed(job, data):
    result = result_of(job, data.draw(designs(job)))
    notes = {line.quantity.id: " ".join(d.note for d in line.quantity.dimensions) for line in result.lines}
    for opening in result.design.openings:
        mark = opening.mark
        assert any(f"opening {mark}" in note for id, note in notes.items() if f"EW.CL.{opening.side}." in id)
        assert any(
            f"ddt opening {mark}" in note for id, note in notes.items() if "EW.IN.glass-wool-batts" in id
        )
        assert any(id in (f"WN.{mark}", f"ED.{mark}") for id in notes)
        assert any(f"opening {mark}" in note for id, note in notes.items() if ".heads." in id)
        assert any(f"opening {mark}" in note for id, note in notes.items() if ".jambs." in id)
        frame = next(f for f in result.measured.wall_frames if f.side == opening.side)
        framed = next(f for f in frame.openings if f.opening.mark == mark)
        over = "lintel" if framed.lintel else "head trimmer"
        centre = framed.opening.position + framed.opening.width / 2
        assert any(m.use == over and abs(m.s - centre) < 1e-9 for m in frame.members)
        jambs = [m for m in frame.members if m.use == "jamb stud" and framed.left < m.s < framed.right]
        assert len(jambs) == 2 * framed.jamb_studs


@given(data=st.data())
@RANDOM
def test_sticks_stand_in_their_wall_and_clear_of_each_other(job, data):
    result = result_of(job, data.draw(designs(job)))
    for frame in result.measured.wall_frames:
        uprights = sorted(
            (m.s, m.use) for m in frame.members if m.use in ("stud", "corner stud", "jamb stud")
        )
        half = result.design.house.stud_thickness / 2
        for s, _ in uprights:
            assert half - 1e-9 <= s <= frame.face.width - half + 1e-9
        for (left, _), (right, _) in pairwise(uprights):
            assert right - left >= 2 * half - 1e-9
        for member in frame.members:
            assert member.length > 0
            if member.run == "upright":
                foot, head = member.z - member.length / 2, member.z + member.length / 2
                assert foot >= -1e-9
                assert (
                    head <= max(frame.face.top_at(member.s - half), frame.face.top_at(member.s + half)) + 1e-9
                )
        # a grid stud gives way to a jamb or corner stud that it would overlap: by less than its thickness
        for (left, _), (right, _) in pairwise(uprights):
            in_opening = any(left < f.opening.right and right > f.opening.position for f in frame.openings)
            assert in_opening or right - left < result.design.stud_spacing + 2 * half
        assert 0 < frame.framing_fraction < 1


@given(data=st.data(), factor=st.floats(0.5, 2.0))
@RANDOM
def test_scaling_the_house_scales_areas_and_volumes(job, data, factor):
    house = data.draw(designs(job)).house
    lengths = (
        "length",
        "span",
        "low_height",
        "overhang_low",
        "overhang_high",
        "overhang_left",
        "overhang_right",
    )
    scaled = replace(house, **{name: getattr(house, name) * factor for name in lengths})
    assert geometry.gross_wall_area(scaled) == pytest.approx(factor**2 * geometry.gross_wall_area(house))
    assert geometry.roof_area(scaled) == pytest.approx(factor**2 * geometry.roof_area(house))
    assert geometry.enclosed_volume(scaled) == pytest.approx(factor**3 * geometry.enclosed_volume(house))


@given(data=st.data())
@RANDOM
def test_a_mirrored_house_measures_the_same(job, data):
    # the usual practice only: openings on the grid are moved from the left-hand end of each wall
    design = data.draw(designs(job))
    house = replace(design.house, framing_practice="Usual", palette="Brick and panel")
    design = replace(design, house=house)
    other = {"left": "right", "right": "left", "low": "low", "high": "high"}
    openings = tuple(
        replace(o, side=other[o.side], position=geometry.side_length(house, o.side) - o.right)
        for o in design.openings
    )
    palettes = {**design.palettes}
    own = palettes[house.palette]
    palettes[house.palette] = replace(own, left=own.right, right=own.left)
    mirrored = replace(
        design,
        house=replace(house, overhang_left=house.overhang_right, overhang_right=house.overhang_left),
        openings=openings,
        palettes=palettes,
    )
    if opening_problems(design) or opening_problems(mirrored):
        return
    here, there = result_of(job, design), result_of(job, mirrored)
    for measure in ("wall_gross", "roof_slope", "enclosed_volume", "air_volume", "openings"):
        assert getattr(here.measured.areas, measure) == pytest.approx(getattr(there.measured.areas, measure))
    # rafters and outriggers are set out from the left-hand end, so what hangs on them may differ
    set_out = (".FR.", "wool", "fixings")
    net = {
        line.quantity.id: line.quantity.net
        for line in here.lines
        if line.quantity.id.startswith(("RF", "SB", "WF", "CF"))
        and not any(part in line.quantity.id for part in set_out)
    }
    assert net == pytest.approx(
        {line.quantity.id: line.quantity.net for line in there.lines if line.quantity.id in net}
    )


@given(data=st.data())
@RANDOM
def test_more_wastage_never_costs_or_emits_less(job, data):
    design = data.draw(designs(job))
    more = {n: replace(m, wastage=min(m.wastage + 0.05, 0.6)) for n, m in job.library.materials.items()}
    before = result_of(job, design)
    after = result_of(replace(job, library=replace(job.library, materials=more)), design)
    assert after.totals.cost > before.totals.cost
    assert after.totals.a5_wastage > before.totals.a5_wastage
    assert after.totals.a1a3 == pytest.approx(before.totals.a1a3)


@given(
    length=st.floats(0.5, 25.0),
    spacing=st.sampled_from([0.3, 0.4, 0.45, 0.6]),
    thickness=st.sampled_from([0.035, 0.045]),
)
def test_studs_never_stand_further_apart_than_their_centres(length, spacing, thickness):
    centres = stud_positions(length, spacing=spacing, thickness=thickness)
    gaps = [right - left for left, right in pairwise(centres)]
    assert max(gaps) <= spacing + 1e-6
    assert min(gaps) >= thickness - 1e-9
    assert centres[0] == thickness / 2
    assert centres[-1] == length - thickness / 2


def test_an_opening_takes_the_first_lintel_that_is_wide_enough(job):
    for opening in job.design.openings:
        row = frame_opening(job.design, opening).lintel
        assert row is not None
        assert row.opening_width >= opening.width
        narrower = [
            r
            for r in job.design.lintels
            if r.load_width == row.load_width and r.opening_width < row.opening_width
        ]
        assert all(r.opening_width < opening.width for r in narrower)
