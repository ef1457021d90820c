"""Sums of money, mass and carbon recomputed in another way, and what may not change a result."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from takeoff.assess.conversion import convert
from takeoff.assess.ladder import climb
from takeoff.compare.evaluate import setting_out_problems
from takeoff.measure.cladding import cladding_regions, measure_cladding
from takeoff.measure.faces import face_dimensions
from takeoff.model.geometry import Face, Void, wall_face
from takeoff.model.house import SIDES, Band
from takeoff.model.library import LadderStep

FEW = settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))


def polygon(face: Face) -> Polygon:
    return Polygon(
        [(0, face.bottom), (face.width, face.bottom), (face.width, face.top_right), (0, face.top_left)]
    )


@given(data=st.data())
@FEW
def test_openings_in_any_order_give_the_same_result(houses, evaluated, data):
    design = data.draw(houses())
    shuffled = replace(design, openings=tuple(data.draw(st.permutations(design.openings))))
    here, there = evaluated(design).totals, evaluated(shuffled).totals
    for name in ("cost", "mass", "a1a3", "a4", "a5_wastage", "stored"):
        assert getattr(here, name) == pytest.approx(getattr(there, name))


@given(data=st.data(), factor=st.floats(0.2, 5.0))
@FEW
def test_dearer_materials_and_labour_raise_cost_in_proportion(job, houses, evaluated, data, factor):
    design, library = data.draw(houses()), job.library
    before = evaluated(design).totals
    prices = {
        n: replace(p, price=replace(p.price, value=p.price.value * factor)) for n, p in library.prices.items()
    }
    gangs = {n: replace(g, rate=g.rate * factor) for n, g in library.gangs.items()}
    supply = evaluated(design, replace(library, prices=prices)).totals
    labour = evaluated(design, replace(library, gangs=gangs)).totals
    assert supply.cost - before.cost == pytest.approx((factor - 1) * before.material_cost)
    assert labour.cost - before.cost == pytest.approx((factor - 1) * before.labour_cost)
    assert supply.upfront == labour.upfront == pytest.approx(before.upfront)


@given(data=st.data())
@FEW
def test_carbon_of_every_item_from_its_mass_and_its_factor(job, houses, evaluated, data):
    """A4 is mass x distance x factor; wastage is product stage, transport and C2 to C4 of what is not built in."""
    library = job.library
    result = evaluated(data.draw(houses()))
    allowed = {line.quantity.id for each in result.allowances for line in each.lines}
    for line in result.lines:
        if line.quantity.id in allowed:
            continue
        factor = library.carbon.get(line.quantity.material)
        if factor is None:
            assert line.carbon.a1a3 is None
            assert line.carbon.a4 is None
            continue
        if line.carbon.a4 is not None:
            mode = library.transport[factor.mode]
            assert line.carbon.a4 == pytest.approx(line.mass * factor.distance * mode.factor)
        share = line.ordered.order / line.quantity.required - 1
        built_in = line.carbon.a1a3 + (line.carbon.sum_of(("A4", "C2", "C3", "C4")) or 0.0)
        assert line.carbon.a5_wastage == pytest.approx(share * built_in, abs=1e-9)
        if line.mass is not None:
            assert line.mass_wastage == pytest.approx(share * line.mass, abs=1e-9)
        if factor.a1a3.per == "kg":
            assert line.carbon.a1a3 == pytest.approx(line.mass * factor.a1a3.value)


@given(data=st.data())
@FEW
def test_wood_stores_by_its_dry_mass(job, houses, evaluated, data):
    """44/12 x 0.5 x dry mass, and the dry mass is the mass less its water."""
    for line in evaluated(data.draw(houses())).lines:
        material = job.library.materials.get(line.quantity.material)
        if material is None or not material.wood_share or line.mass is None:
            assert line.carbon.stored == 0.0
            continue
        wood = line.mass * material.wood_share
        water = wood * material.moisture / (1 + material.moisture)
        assert line.carbon.stored == pytest.approx(-(wood - water) * 0.5 * 44 / 12)


@given(data=st.data())
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_band_parts_the_face_without_gap_or_overlap(houses, data):
    design = data.draw(houses())
    bottom = data.draw(st.floats(-0.5, 3.0))
    band = Band(
        build_up=design.palette.low, sides=SIDES, bottom=bottom, top=bottom + data.draw(st.floats(0.05, 2.5))
    )
    palette = replace(design.palette, band=band)
    design = replace(design, palettes={**design.palettes, palette.name: palette})
    if setting_out_problems(design) or band.top <= -design.house.cladding_drop:
        return
    for side in SIDES:
        whole = polygon(wall_face(design.house, side, bottom=-design.house.cladding_drop))
        parts = [polygon(face) for _, _, face in cladding_regions(design, side)]
        joined = Polygon()
        for part in parts:
            assert joined.intersection(part).area < 1e-9
            joined = joined.union(part)
        assert joined.symmetric_difference(whole).area < 1e-9
        assert sum(face.area for _, _, face in cladding_regions(design, side)) == pytest.approx(whole.area)


@given(data=st.data(), smallest=st.floats(0.0, 2.0))
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
def test_void_rule_against_polygons(data, smallest):
    """Net area = face less every void that is larger than the smallest, or touches an edge of the face."""
    face = Face(20.0, 0.0, data.draw(st.floats(2.2, 3.0)), data.draw(st.floats(2.2, 4.0)))
    voids = [
        Void(
            n * 4.0,
            data.draw(st.sampled_from([0.0, 0.01, 0.9])),
            data.draw(st.floats(0.1, 3.9)),
            data.draw(st.floats(0.1, 1.2)),
        )
        for n in range(data.draw(st.integers(0, 5)))
    ]
    expected = polygon(face)
    inner = polygon(face).buffer(-1e-9)
    for void in voids:
        shape = box(void.left, void.bottom, void.right, void.top)
        assume(abs(shape.area - smallest) > 1e-9)
        if shape.area > smallest or not inner.contains(shape):
            expected = expected.difference(shape)
    lines = face_dimensions(face, voids, smallest_void=smallest, note="face")
    assert sum(line.squaring for line in lines) == pytest.approx(expected.area)
    assert len(lines) == 1 + len(voids)


@given(
    works=st.floats(1_000, 2_000_000),
    share=st.floats(0.0, 0.6),
)
def test_a_margin_is_the_markup_that_gives_the_same_price(works, share):
    def price(kind: str, value: float) -> float:
        step = LadderStep(name="x", kind=kind, value=value, base="running total", note="")
        return climb(works, (step,)).total_ex_tax

    assert price("margin", share) == pytest.approx(price("markup", share / (1 - share)))
    assert price("margin", share) * (1 - share) == pytest.approx(works)


@given(
    density=st.floats(20, 8000),
    thickness=st.floats(0.0002, 0.4),
    width=st.floats(0.02, 1.2),
)
def test_units_convert_there_and_back(job, density, thickness, width):
    material = replace(next(iter(job.library.materials.values())), density=density, mass=None, joint=0.0)
    material = replace(material, length=None, height=None)
    size = {"thickness": thickness, "width": width}
    for start in ("m3", "m2", "m", "kg"):
        for end in ("m3", "m2", "m", "kg"):
            there = convert(material, start, end, **size)
            assert there * convert(material, end, start, **size) == pytest.approx(1.0)
    assert convert(material, "m", "kg", **size) == pytest.approx(width * thickness * density)
    assert convert(material, "m2", "kg", **size) == pytest.approx(thickness * density)


def test_a_band_below_the_foot_of_the_cladding_changes_nothing(job):
    """The workbook allows a band from 1 m below floor level; the cladding may end above it."""
    palette = job.design.palette
    band = Band(build_up=palette.low, sides=SIDES, bottom=-0.5, top=-0.2)
    design = replace(job.design, palettes={palette.name: replace(palette, band=band)})
    assert design.house.cladding_drop == 0.15
    for side in SIDES:
        whole = wall_face(design.house, side, bottom=-0.15)
        assert sum(face.area for _, _, face in cladding_regions(design, side)) == pytest.approx(whole.area)


def test_trim_round_an_opening_is_its_edge_once_whatever_claddings_meet_there(job):
    """The band crosses the doors: its trim and that of the main cladding share their jambs."""
    house = replace(job.design.house, palette="Steel with timber band")
    design = replace(job.design, house=house)
    assert (design.palette.band.bottom, design.palette.band.top) == (0.9, 2.1)
    rows = measure_cladding(design, job.library)
    for side in SIDES:
        round_openings = sum(
            q.net for q in rows if q.id.startswith(f"EW.CL.{side}.opening-trim") and q.unit == "m"
        )
        edges = sum(2 * o.height + o.width * (2 if o.sill > 0 else 1) for o in design.openings_in(side))
        assert round_openings == pytest.approx(edges), side
