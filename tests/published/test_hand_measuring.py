"""Hand calculation of single items of the 12.0 x 7.2 m house, written out as arithmetic (derived).

Tolerance 0.005 where figures are quoted to two places, otherwise that of floating point.
"""

import math
from dataclasses import replace

import pytest

from takeoff.assess.conversion import convert
from takeoff.assess.items import assess_lines
from takeoff.cutting.order import order_quantities
from takeoff.framing.openings import frame_opening, roof_width_carried
from takeoff.framing.walls import frame_wall
from takeoff.measure.cladding import measure_cladding
from takeoff.measure.inside import measure_inside
from takeoff.measure.openings import measure_openings
from takeoff.measure.walls import measure_walls, wall_inset
from takeoff.model.geometry import wall_face
from takeoff.model.house import SIDES
from takeoff.model.per_unit import PerUnit

TWO_PLACES = 0.005


def test_seen_from_outside_the_left_wall_falls_to_the_right(bare_house):
    # back to the low side, facing the high side, right is x = L: from outside, the left wall has the high
    # corner at its left-hand end, the right wall at its right-hand end
    house = bare_house().house
    left, right = wall_face(house, "left"), wall_face(house, "right")
    assert (left.top_left, left.top_right) == pytest.approx((3.330, 2.700), abs=TWO_PLACES)
    assert (right.top_left, right.top_right) == pytest.approx((2.700, 3.330), abs=TWO_PLACES)


def test_roof_carried_by_the_long_walls(bare_house):
    # a support line at 3.6: half of 3.6 and the overhang of 0.6; without it half of 7.2 and 0.6
    assert roof_width_carried(bare_house(support_lines=(3.6,)), "low") == pytest.approx(1.8 + 0.6)
    assert roof_width_carried(bare_house(support_lines=(3.6,)), "high") == pytest.approx(1.8 + 0.6)
    assert roof_width_carried(bare_house(support_lines=()), "low") == pytest.approx(3.6 + 0.6)
    assert roof_width_carried(bare_house(), "left") == 0


def test_a_lintel_bears_on_the_studs_under_it(bare_house, window):
    # 1.80 wide, one stud of 45 under each end: 1.80 + 2 x 0.045 = 1.89
    design = bare_house(openings=(window("A", "low", 3.0, 1.80, 1.00),), support_lines=(3.6,))
    framed = frame_opening(design, design.openings[0])
    assert framed.studs_under == 1
    plies = [m for m in frame_wall(design, "low", material="x").members if m.use == "lintel"]
    assert len(plies) == framed.lintel.plies
    assert [m.length for m in plies] == pytest.approx([1.89] * len(plies))


def test_raked_ceiling_between_the_linings(job, bare_house):
    design = bare_house()
    inset = wall_inset(design, job.library)
    # 170 stud, 45 service batten, 12.5 plasterboard = 227.5 mm: (12.0 - 0.455) x (7.2 - 0.455) / cos 5 = 78.17
    assert inset == pytest.approx(0.2275)
    sheets = next(
        q for q in measure_inside(design, job.library).quantities if q.id == "CF.ceiling.plasterboard-12.5"
    )
    assert sheets.net == pytest.approx(11.545 * 6.745 / math.cos(math.radians(5)))
    assert sheets.net == pytest.approx(78.17, abs=TWO_PLACES)


def test_flashings_round_a_window_and_a_door(job, bare_house, window):
    # window 1.80 x 1.20 with a sill, door 1.00 x 2.10 without: head 1.80, 1.00; jambs 2.40, 4.20; sill 1.80, none
    door = replace(window("D", "low", 6.0, 1.00, 2.10, 0.0), kind="door")
    design = bare_house(openings=(window("W", "low", 2.0, 1.80, 1.20), door), support_lines=(3.6,))
    nets = {(q.element, q.id.split(".")[1]): q.net for q in measure_openings(design, job.library)}
    assert nets["WN", "heads"] == pytest.approx(1.80)
    assert nets["WN", "jambs"] == pytest.approx(2 * 1.20)
    assert nets["WN", "sills"] == pytest.approx(1.80)
    assert nets["WN", "perimeter"] == pytest.approx(2 * (1.80 + 1.20))
    assert nets["ED", "heads"] == pytest.approx(1.00)
    assert nets["ED", "jambs"] == pytest.approx(2 * 2.10)
    assert ("ED", "sills") not in nets
    assert nets["ED", "perimeter"] == pytest.approx(2 * 2.10 + 1.00)


def test_tape_of_the_airtight_layer(job, bare_house):
    # the membrane lies inside the 170 stud: 11.66 x 6.86. Foot 2 x (11.66 + 6.86); head level 2 x 11.66 and on the
    # rake 2 x 6.86 / cos 5; corners 2 x (2.700 + 0.17 tan 5) + 2 x (3.330 - 0.17 tan 5) = 2 x (2.700 + 3.330)
    design = bare_house(stud_depth=0.17)
    frames = [frame_wall(design, side, material="Softwood framing, structural") for side in SIDES]
    tape = next(q for q in measure_walls(design, job.library, frames) if "airtight-tape" in q.id)
    rise = 7.2 * math.tan(math.radians(5))
    foot = 2 * (11.66 + 6.86)
    head = 2 * 11.66 + 2 * 6.86 / math.cos(math.radians(5))
    assert tape.net == pytest.approx(foot + head + 2 * (2.700 + 2.700 + rise))


def test_a_price_that_allows_for_wastage_is_not_raised_again(job, bare_house):
    """10 % wastage on net: paid once in what is bought, or in the price, never in both."""
    design = bare_house()
    sheets = next(
        q for q in measure_inside(design, job.library).quantities if q.id == "CF.ceiling.plasterboard-12.5"
    )
    material = replace(job.library.materials[sheets.material], wastage=0.10, wastage_base="net")
    rates = {}
    for in_price in (True, False):
        price = replace(job.library.prices[sheets.material], wastage_in_price=in_price)
        library = replace(
            job.library,
            materials={**job.library.materials, material.name: material},
            prices={**job.library.prices, material.name: price},
            stock={},
        )
        lines, problems = assess_lines(order_quantities([sheets], library), library)
        assert not problems
        rates[in_price] = lines[0].rate.material
        # what is lost emits either way
        assert lines[0].ordered.order == pytest.approx(1.10 * sheets.required)
    assert rates[False] == pytest.approx(1.10 * rates[True])


def test_counted_items_are_bought_whole(job, bare_house, window):
    # 3 openings at 1 set and 5 %: 3.15, so 4 are bought
    openings = tuple(
        window(mark, "low", left, 0.9, 0.9) for mark, left in (("A", 2.0), ("B", 5.0), ("C", 8.0))
    )
    design = bare_house(openings=openings, support_lines=(3.6,))
    sets = next(q for q in measure_openings(design, job.library) if q.unit == "Nr")
    material = replace(job.library.materials[sets.material], wastage=0.05, wastage_base="net")
    library = replace(job.library, materials={material.name: material})
    ordered = order_quantities([replace(sets, net=3.0, required=3.0)], library)[0]
    assert ordered.order == 4


def test_one_metre_of_a_flashing_by_its_girth(job):
    # 200 mm girth of sheet at 4 kg/m2: 0.2 m2 and 0.8 kg a metre
    sheet = replace(
        next(iter(job.library.materials.values())), density=None, mass=None, length=None, height=None
    )
    assert convert(sheet, "m", "m2", width=0.200) == pytest.approx(0.200)
    sheet = replace(sheet, mass=PerUnit(4.0, "m2"))
    assert convert(sheet, "m", "kg", width=0.200) == pytest.approx(0.8)


def test_laps_of_a_membrane(job, bare_house):
    # every roll 1.50 wide covers 1.35 with laps of 0.15: 115.77 m2 of wall takes 115.774 x 1.50 / 1.35 = 128.64
    design = bare_house()
    wrap = next(
        layer
        for layer in design.build_ups[design.house.external_wall].layers
        if layer.measured_by == "membrane with laps"
    )
    material = replace(job.library.materials[wrap.material], width=1.50, lap=0.15)
    library = replace(job.library, materials={**job.library.materials, material.name: material})
    frames = [frame_wall(design, side, material="Softwood framing, structural") for side in SIDES]
    rows = measure_walls(design, library, frames)
    outside = next(q for q in rows if q.id.startswith("EW.OUT.") and q.material == material.name)
    assert outside.net == pytest.approx(115.77, abs=TWO_PLACES)
    assert outside.required == pytest.approx(128.64, abs=TWO_PLACES)


def test_wall_lining_on_its_finished_face(job, bare_house):
    # 227.5 mm inside the frame: 11.545 x 6.745, perimeter 36.58; mean height 2.700 + 3.6 tan 5 = 3.015 less the
    # ceiling, 35 batten and 12.5 plasterboard on the rake, 0.0475 / cos 5 = 0.0477: 36.58 x 2.967 = 108.54
    design = bare_house()
    board = next(
        q for q in measure_inside(design, job.library).quantities if q.id == "WF.IN.plasterboard-12.5"
    )
    tangent, cosine = math.tan(math.radians(5)), math.cos(math.radians(5))
    mean = 2.700 + 3.6 * tangent - 0.0475 / cosine
    assert board.net == pytest.approx(2 * (11.545 + 6.745) * mean)
    assert board.net == pytest.approx(108.54, abs=TWO_PLACES)


def test_mortar_of_a_brick_side(job, bare_house):
    # low side 12.00 x (2.700 + 0.150) = 34.20 m2, joints 15.3 % of it (230 x 76 face, 10 mm), 110 mm thick: 0.576 m3
    design = bare_house(palette="Brick and panel", cladding_drop=0.150)
    mortar = next(q for q in measure_cladding(design, job.library) if q.id.startswith("EW.CL.low.mortar"))
    joints = 1 - 0.230 * 0.076 / (0.240 * 0.086)
    assert mortar.net == pytest.approx(34.20 * joints * 0.110) == pytest.approx(0.576, abs=0.0005)
