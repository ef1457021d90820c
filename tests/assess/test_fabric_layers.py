"""Layers of build-ups as thermal layers, and U-values of the parts of a house from them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.assess.fabric.air_layers import still_air, surface
from takeoff.assess.fabric.combined_method import ThermalPart, bridged, combined, homogeneous
from takeoff.assess.fabric.elements import envelope
from takeoff.assess.fabric.heat_loss import airtight_area, house_fabric
from takeoff.assess.fabric.layers_of import LayerReader, Sticks
from takeoff.compare.evaluate import evaluate
from takeoff.measure.house import measure_house
from takeoff.model.house import BuildUp, Layer
from takeoff.model.library import Material


@pytest.fixture(scope="module")
def reader(job):
    return LayerReader(job.library.materials, job.library.resistances, "horizontal")


def layer(number: int, material: str, way: str, thickness: float | None = None, spacing: float | None = None):
    return Layer(
        number=number,
        material=material,
        thickness=thickness,
        measured_by=way,
        direction=None,
        spacing=spacing,
        rate=1.0,
    )


def shown(path):
    return [
        [(part.name, round(part.share, 4), round(part.resistance, 4)) for part in each.parts]
        for each in path.layers
    ]


def test_membranes_coats_and_trims_have_no_resistance(job, reader):
    wall = job.design.build_ups["Stud 170, glass wool"]
    path = reader.path([wall], Sticks(depth=0.17, fraction=0.2))
    assert shown(path) == [
        # 170 mm of 0.035 and of timber 0.13
        [("Softwood framing, structural", 0.2, 1.3077), ("Glass wool batts", 0.8, 4.8571)],
        # battens 45 wide at 600: 7.5 %
        [("Service batten, softwood 45 x 45", 0.075, 0.3462), ("Glass wool batts", 0.925, 1.2857)],
        # 12.5 mm of 0.21
        [("Plasterboard 12.5", 1.0, 0.0595)],
    ]
    assert path.insulation is not None
    assert (path.insulation.material, path.insulation.thickness) == ("Glass wool batts", 0.17)
    assert path.unknown == ()


def test_what_lies_outside_a_cladding_on_battens_does_not_count(job, reader):
    wall, boards = (
        job.design.build_ups["Stud 170, glass wool"],
        job.design.build_ups["Timber boards, horizontal"],
    )
    sticks = Sticks(depth=0.17, fraction=0.2)
    clad = reader.path([boards, wall], sticks)
    assert clad.ventilated
    assert clad.layers == reader.path([wall], sticks).layers


def test_brick_on_a_still_cavity_counts(job, reader):
    wall, brick = job.design.build_ups["Stud 170, glass wool"], job.design.build_ups["Clay brick veneer"]
    path = reader.path([brick, wall], Sticks(depth=0.17, fraction=0.2))
    assert not path.ventilated
    assert shown(path)[:2] == [
        # 110 mm of 0.68, then 40 mm of air: 0.18 at 25 and at 50 mm
        [("Clay brick 230 x 110 x 76", 1.0, 0.1618)],
        [("still air", 1.0, 0.18)],
    ]


def test_a_ventilated_air_layer_drops_what_lies_outside_it(job, reader):
    brick = job.design.build_ups["Clay brick veneer"]
    layers = (*brick.layers[:-1], layer(5, "Air space", "ventilated air layer", 0.04))
    path = reader.path([replace(brick, layers=layers)], None)
    assert path.ventilated
    assert path.layers == ()


def test_insulation_thinner_than_the_sticks_leaves_still_air(job):
    up = LayerReader(job.library.materials, job.library.resistances, "upwards")
    path = up.path([job.design.build_ups["Steel roof, glass wool"]], Sticks(depth=0.24, fraction=0.1))
    assert shown(path) == [
        # 210 mm of 0.035; 30 mm of timber and of air, 0.16 upwards from 15 mm on
        [("Softwood rafters, structural", 0.1, 1.6154), ("Glass wool batts", 0.9, 6.0)],
        [("Softwood rafters, structural", 0.1, 0.2308), ("still air", 0.9, 0.16)],
    ]


def test_insulation_thicker_than_the_sticks_is_pressed_into_them(reader):
    build_up = BuildUp(
        "thick",
        "external wall",
        (
            layer(1, "Softwood framing, structural", "frame"),
            layer(2, "Glass wool batts", "between studs", 0.3),
        ),
    )
    path = reader.path([build_up], Sticks(depth=0.09, fraction=0.15))
    assert len(path.layers) == 1
    assert path.layers[0].parts[1].resistance == pytest.approx(0.09 / 0.035)


def test_two_layers_of_batts_between_the_same_studs_are_as_good_as_one(job, reader):
    frame = layer(1, "Softwood framing, structural", "frame")
    one, two = (
        reader.path([BuildUp("wall", "external wall", (frame, *batts))], Sticks(depth=0.14, fraction=0.2))
        for batts in (
            (layer(2, "Glass wool batts", "between studs", 0.14),),
            (
                layer(2, "Glass wool batts", "between studs", 0.07),
                layer(3, "Glass wool batts", "between studs", 0.07),
            ),
        )
    )
    assert shown(two) == shown(one)
    assert two.insulation == one.insulation


def test_a_stick_goes_through_all_that_lies_beside_it(reader):
    """90 mm of wool and 50 mm of air beside one stud: two paths by hand, not four."""
    build_up = BuildUp(
        "part filled",
        "external wall",
        (
            layer(1, "Softwood framing, structural", "frame"),
            layer(2, "Glass wool batts", "between studs", 0.09),
        ),
    )
    path = reader.path([build_up], Sticks(depth=0.14, fraction=0.2))
    limits = combined(path.layers, inside_surface=0.13, outside_surface=0.04)
    stud, beside = 0.14 / 0.13, 0.09 / 0.035 + 0.18
    assert limits.upper == pytest.approx(1 / (0.2 / (0.17 + stud) + 0.8 / (0.17 + beside)), rel=1e-12)


def test_layers_of_the_same_sticks_have_the_same_shares():
    layers = [
        bridged(
            "a",
            ThermalPart(name="stick", share=share, resistance=1.0),
            ThermalPart(name="wool", share=1 - share, resistance=3.0),
            sticks="studs",
        )
        for share in (0.1, 0.2)
    ]
    with pytest.raises(ValueError, match="layers of the same sticks, studs, have other shares"):
        combined(layers, inside_surface=0.13, outside_surface=0.04)


def test_insulation_on_edge_beams_counts_below_ground_alone(job, base):
    """500 mm of beam from the top of the slab, floor 300 mm above ground: 200 mm; none where it stands higher."""
    (floor,) = base.fabric.of("floor")
    assert floor.ground is not None
    assert floor.ground.edge_depth == pytest.approx(0.2)
    # the independent recalculation from the cells of the workbook: 0.400
    assert floor.u_value == pytest.approx(0.400, abs=0.0005)
    high = replace(base.design, house=replace(base.design.house, floor_above_ground=0.6))
    fabric = house_fabric(high, job.library, base.measured, job.fabric)
    assert fabric.of("floor")[0].ground.edge_depth == 0
    assert fabric.u_value("floor") > floor.u_value


def test_each_layer_between_battens_goes_to_the_nearest_battens(job, reader):
    build_up = BuildUp(
        "two rows",
        "external wall",
        (
            layer(1, "Cavity batten, treated softwood 45 x 20", "battens at spacing", spacing=0.45),
            layer(2, "Softwood framing, structural", "frame"),
            layer(3, "Service batten, softwood 45 x 45", "battens at spacing", spacing=0.6),
            layer(4, "Glass wool batts", "between battens"),
        ),
    )
    path = reader.path([build_up], Sticks(depth=0.09, fraction=0.15))
    # the outer battens have nothing between them, so moving air; the inner ones are filled whole
    assert path.ventilated
    assert [each.name for each in path.layers] == ["still air", "Glass wool batts"]


def test_a_material_without_conductivity_is_named(job):
    bare = replace(job.library.materials["Plasterboard 12.5"], conductivity=None)
    materials = {**job.library.materials, "Plasterboard 12.5": bare}
    reader = LayerReader(materials, job.library.resistances, "horizontal")
    path = reader.path([job.design.build_ups["Stud 170, glass wool"]], Sticks(depth=0.17, fraction=0.2))
    assert path.unknown == ("Plasterboard 12.5",)


@pytest.mark.parametrize(
    ("thickness", "expected"),
    [(0.0, 0.0), (0.0025, 0.055), (0.005, 0.11), (0.020, 0.175), (0.025, 0.18), (1.0, 0.18)],
)
def test_still_air_is_interpolated_between_its_rows(job, thickness, expected):
    # 20 mm lies halfway from 15 mm (0.17) to 25 mm (0.18)
    assert still_air(job.library.resistances, thickness, "horizontal") == pytest.approx(expected)


@pytest.mark.parametrize(
    ("flow", "inside", "air"),
    [("horizontal", 0.13, 0.18), ("upwards", 0.10, 0.16), ("downwards", 0.17, 0.19)],
)
def test_surfaces_and_air_are_those_of_the_standard(job, flow, inside, air):
    """EN ISO 6946 as quoted in two UK articles (read): 0.13, 0.10, 0.17 and 0.04; 25 mm of air 0.18 level;
    0.16 up and 0.19 down from memory.
    """
    rows = job.library.resistances
    assert surface(rows, "inside surface", flow) == inside
    assert surface(rows, "outside surface", flow) == 0.04
    assert still_air(rows, 0.025, flow) == pytest.approx(air)


def test_without_rows_nothing_is_made_up():
    with pytest.raises(LookupError, match="a row of the kind still air layer"):
        still_air((), 0.02, "horizontal")
    with pytest.raises(LookupError, match="a row of the kind inside surface"):
        surface((), "inside surface", "upwards")


# --- the parts of the demo house ---


@pytest.fixture(scope="module")
def base(job):
    return evaluate(job, job.base, planned=False)


def test_the_low_wall_by_hand(base):
    """Cladding on battens, so 0.13 on both sides. Every figure but the share of timber is written out here."""
    part = next(each for each in base.fabric.parts if each.name == "low wall")
    share = next(frame for frame in base.measured.wall_frames if frame.side == "low").framing_fraction
    stud, wool = 0.17 / 0.13, 0.17 / 0.035
    batten, between, board = 0.045 / 0.13, 0.045 / 0.035, 0.0125 / 0.21
    plain = 0.13 + board + 0.13
    through = sum(
        a * b / (plain + one + other)
        for a, one in ((share, stud), (1 - share, wool))
        for b, other in ((0.075, batten), (0.925, between))
    )
    lower = plain + 1 / (share / stud + (1 - share) / wool) + 1 / (0.075 / batten + 0.925 / between)
    assert part.limits is not None
    assert part.limits.upper == pytest.approx(1 / through, rel=1e-12)
    assert part.limits.lower == pytest.approx(lower, rel=1e-12)
    assert part.u_value == pytest.approx(2 / (1 / through + lower), rel=1e-12)
    assert part.fraction == share
    assert part.assumed_fraction == 0.15


def test_areas_are_to_the_outside_face_of_the_frame_without_openings(base):
    # low wall 12.0 x 2.7 = 32.4 less W06 1.62, D03 2.142, W07 0.54, W08 0.36 = 27.738
    part = next(each for each in base.fabric.parts if each.name == "low wall")
    assert part.area == pytest.approx(32.4 - 1.62 - 2.142 - 0.54 - 0.36)
    roof = sum(each.area for each in base.fabric.of("roof"))
    assert roof == pytest.approx(base.measured.roof_frame.outline_area)
    assert base.fabric.area("floor") == pytest.approx(12.0 * 7.2)


def test_openings_and_walls_make_up_the_gross_walls(base):
    fabric = base.fabric
    made_up = fabric.area("external walls") + fabric.area("windows") + fabric.area("external doors")
    assert made_up == pytest.approx(base.measured.areas.wall_gross)


def test_the_house_loses_what_its_parts_lose(base, job):
    fabric = base.fabric
    faces = sum(part.u_value * part.area for part in fabric.parts)
    # installation 0.04 W/(m K) round timber units, 0.05 round the sliding door, 2 (w + h) each
    round_timber = 2 * sum(o.width + o.height for o in job.design.openings if o.kind != "sliding door")
    installation = 0.04 * round_timber + 0.05 * 2 * (3.6 + 2.1)
    bridges = 0.02 * fabric.envelope_area
    assert fabric.installation == pytest.approx(installation)
    assert fabric.transmission == pytest.approx(faces + installation + bridges)
    assert fabric.ventilation == pytest.approx(0.33 * 0.5 * base.measured.areas.air_volume)
    assert fabric.total == pytest.approx(fabric.transmission + fabric.ventilation)
    assert fabric.mean_u == pytest.approx(fabric.transmission / fabric.envelope_area)
    # 1,800 K d, 24 h, 1,000 Wh
    assert fabric.degree_day_demand == pytest.approx(fabric.total * 1800 * 24 / 1000)


def test_framing_costs_what_lies_between_measured_and_assumed(base):
    framed = [part for part in base.fabric.parts if part.fraction is not None]
    assert {part.element for part in framed} == {"external walls", "roof"}
    cost = sum((part.u_value - part.assumed_u) * part.area for part in framed)
    assert base.fabric.cost_of_framing == pytest.approx(cost)
    walls = [part for part in framed if part.element == "external walls"]
    assert all(part.fraction > 0.15 and part.u_value > part.assumed_u for part in walls)


def test_the_roof_is_parted_by_the_ceilings_under_it(base):
    names = [part.name for part in base.fabric.of("roof")]
    assert "roof over Acoustic ceiling, raked" in names
    assert "roof over Wet-area ceiling, flat" in names
    acoustic = next(p for p in base.fabric.of("roof") if p.name == "roof over Acoustic ceiling, raked")
    plain = next(p for p in base.fabric.of("roof") if p.name == "roof over Raked plasterboard ceiling")
    assert acoustic.u_value < plain.u_value


def test_a_flat_ceiling_has_still_air_over_it(base):
    flat = next(p for p in base.fabric.of("roof") if p.name == "roof over Flat plasterboard on joists")
    assert flat.path is not None
    # 0.16 m2 K/W upwards, once for the void
    assert flat.path.layers[-2] == homogeneous("still air", 0.16)
    assert flat.path.layers[-1].name == "Plasterboard 12.5"


def test_windows_to_wall_by_side(base):
    # high wall 12.0 x (2.7 + 7.2 tan 5) = 39.96; windows 2.16 + 1.08 + 7.56 + 1.80 = 12.60
    assert base.fabric.windows_to_wall["high"] == pytest.approx(12.60 / 39.959, rel=1e-4)
    # the doors of the low and right wall are no windows
    assert base.fabric.windows_to_wall["low"] == pytest.approx((1.62 + 0.54 + 0.36) / 32.4)


def test_the_airtight_layer_by_hand(bare_house, job):
    """Inside faces 170 + 45 + 12.5 = 227.5 in: 11.545 x 6.745; floor, four walls to the rafters, the slope."""
    design = bare_house()
    tan, sec = 0.0874887, 1.0038198
    floor = 11.545 * 6.745
    low, high = 2.7 + 0.2275 * tan, 2.7 + (7.2 - 0.2275) * tan
    walls = 11.545 * (low + high) + 2 * 6.745 * (low + high) / 2
    assert airtight_area(design, job.library) == pytest.approx(floor + walls + floor * sec, rel=1e-6)


def test_a_declared_floor_takes_the_place_of_ours(job, base):
    settings = replace(job.fabric, declared_floor=0.25)
    fabric = house_fabric(base.design, job.library, base.measured, settings)
    (floor,) = fabric.of("floor")
    assert (floor.name, floor.u_value, floor.ground) == ("ground floor, declared", 0.25, None)


def test_a_band_of_another_cladding_parts_its_side(job):
    design = job.design_of(job.base)
    house = replace(design.house, palette="Steel with timber band")
    brick = replace(
        design.palettes["Steel with timber band"],
        low="Clay brick veneer",
    )
    design = replace(design, house=house, palettes={**design.palettes, brick.name: brick})
    parts = [
        part
        for part in envelope(design, job.library, measure_house(design, job.library), job.fabric)
        if part.name.startswith("low wall")
    ]
    assert [part.name for part in parts] == [
        "low wall, Clay brick veneer",
        "low wall, Timber boards, horizontal",
    ]
    # the band goes from 0.9 to 2.1 m of 2.7 m
    assert parts[1].area / (parts[0].area + parts[1].area) == pytest.approx(1.2 / 2.7)
    assert parts[0].u_value < parts[1].u_value


def test_without_the_sheet_of_resistances_only_declared_values_are_known(job, base):
    library = replace(job.library, resistances=())
    fabric = house_fabric(base.design, library, base.measured, job.fabric)
    assert fabric.transmission is None
    assert fabric.total is None
    assert fabric.degree_day_demand is None
    assert {part.element for part in fabric.parts if part.u_value is not None} == {
        "windows",
        "external doors",
    }
    assert "low wall: the factors workbook has no sheet Thermal resistances" in fabric.not_assessed


def test_a_unit_without_a_declared_value_is_told(job, base):
    name = "External door set, timber"
    door = replace(job.library.materials[name], u_value=None, installation=None)
    library = replace(job.library, materials={**job.library.materials, name: door})
    fabric = house_fabric(base.design, library, base.measured, job.fabric)
    assert fabric.not_assessed == (f"{name}: no declared U-value of {name}",)
    assert fabric.heat_loss("external doors") is None
    assert fabric.installation is None


def test_air_gaps_add_their_correction(job, base):
    def u_of(level: int):
        settings = replace(job.fabric, air_gaps=level)
        fabric = house_fabric(base.design, job.library, base.measured, settings)
        return next(part for part in fabric.parts if part.name == "low wall")

    none, some = u_of(0), u_of(1)
    # 0.01 x (4.857 / RT)2
    expected = 0.01 * (0.17 / 0.035 / none.limits.total) ** 2
    assert some.u_value - none.u_value == pytest.approx(expected)


def test_the_published_wall_comes_through_a_house(job, base):
    """The timber-framed wall of annex 6.B of the Scottish standards as build-ups, 15 % timber assumed: 0.297."""

    def made_of(
        name: str, conductivity: float, thickness: float | None = None, family: str = "clay"
    ) -> Material:
        return Material(
            name=name,
            description=name,
            family=family,
            trade="carpentry",
            item_class="cladding",
            conductivity=conductivity,
            thickness=thickness,
        )

    materials = {
        m.name: m
        for m in (
            made_of("brick", 0.77, 0.102),
            made_of("air", 0.0, None, "work only"),
            made_of("sheathing", 0.13, 0.009),
            made_of("wool", 0.04, None, "mineral insulation"),
            made_of("timber", 0.12),
            made_of("board", 0.21, 0.0125),
        )
    }
    cladding = BuildUp(
        "brick",
        "cladding",
        (layer(1, "brick", "area"), layer(2, "air", "still air layer", 0.05)),
    )
    wall = BuildUp(
        "wall",
        "external wall",
        (
            layer(1, "sheathing", "sheets"),
            layer(2, "timber", "frame"),
            layer(3, "wool", "between studs"),
            layer(4, "board", "sheets"),
        ),
    )
    design = base.design
    palette = replace(
        design.palettes[design.house.palette],
        low="brick",
        high="brick",
        left="brick",
        right="brick",
        band=None,
    )
    design = replace(
        design,
        house=replace(design.house, external_wall="wall", stud_depth=0.14),
        palettes={**design.palettes, palette.name: palette},
        build_ups={**design.build_ups, "brick": cladding, "wall": wall},
    )
    library = replace(job.library, materials={**job.library.materials, **materials})
    part = next(
        each
        for each in envelope(design, library, base.measured, replace(job.fabric, assumed_wall_fraction=0.15))
        if each.name == "high wall"
    )
    assert part.assumed_u == pytest.approx(0.297, abs=0.0005)
    assert part.u_value > part.assumed_u
