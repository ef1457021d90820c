"""Small published counts and trade calculations, each with its own source in its test.

Standing: read in the source named, recomputed by hand. Counts are exact; lengths to the mm.
"""

import math
from dataclasses import replace

import pytest

from takeoff.cutting.order import order_factor
from takeoff.framing.studs import stud_positions
from takeoff.framing.walls import frame_wall, nogging_rows
from takeoff.measure.strips import strip_count, upright_strips
from takeoff.model.geometry import Face, slope_factor

FOOT = 0.3048
INCH = FOOT / 12


def test_sixty_feet_of_partition_at_16_in():
    """*Building Construction* v. 4 (about 1900, public domain), "Carpentry-Estimating-Quantities":
    deduct a quarter, 45, and one more: 46."""
    assert len(stud_positions(60 * FOOT, spacing=16 * INCH, thickness=1.5 * INCH)) == 60 - 15 + 1 == 46


def test_a_length_that_is_no_multiple_of_the_centres_needs_its_last_stud():
    """Common practice, no source: ceil(length / centres) + 1; floor(...) + 1 is one short."""
    assert len(stud_positions(3.7, spacing=0.6, thickness=0.045)) == math.ceil(3.7 / 0.6) + 1 == 8


def test_stud_of_a_2400_ceiling(bare_house):
    """An apprentice's site diary, 2011: 2400 + 20 for linings - two 45 mm plates = 2330 mm."""
    design = bare_house(low_height=2.420)
    practice = replace(design.practice, top_plates=1)
    design = replace(design, practices={practice.name: practice})
    frame = frame_wall(design, "low", material="x")
    lengths = {round(m.length, 6) for m in frame.members if m.use == "stud"}
    assert lengths == {2.330}


def test_plates_of_a_14_340_by_7_270_m_house(bare_house):
    """Course text for the Australian unit CPCPCM4012 *Estimate and cost work*, p. 182: one bottom and one top
    plate, 2 x 2 x (14.340 + 7.270) = 86.440 m. It measures round the outside; our side walls stand between
    the through walls: 4 plates x 2 ends x the stud depth less."""
    design = bare_house(length=14.340, span=7.270, pitch=1.0)
    practice = replace(design.practice, top_plates=1, bottom_plates=1)
    design = replace(design, practices={practice.name: practice})
    level = 0.0
    for side in ("low", "high", "left", "right"):
        for member in frame_wall(design, side, material="x").members:
            if member.use.endswith("plate"):
                level += member.length / (slope_factor(design.house) if member.run == "rake" else 1.0)
    assert pytest.approx(86.440) == 2 * 2 * (14.340 + 7.270)
    assert level == pytest.approx(86.440 - 8 * design.house.stud_depth)


@pytest.mark.parametrize(
    ("clear", "rows"), [(1.350, 0), (1.351, 1), (2.565, 1), (2.700, 1), (2.710, 2), (4.0, 2)]
)
def test_nogging_rows_at_1350_mm_at_most(clear, rows):
    """AS 1684.2 clause 6.2.1.5 as quoted in published teaching slides: rows at 1350 mm centres at most."""
    assert nogging_rows(clear, 1.350) == rows


def test_sheets_of_a_single_pitch_shed():
    """Public tutorial *Calculating the number of roofing sheets required for a shed*, 2020: plan 8 x 10 ft, rise
    1 ft; 1.75 ft added at both ends along the slope, 1 ft at each side, cover 1015 mm: 12 ft long and
    12 / 3.33 = 3.60, so 4 sheets."""
    slope = math.sqrt(8**2 + 1**2)
    assert slope == pytest.approx(8.062, abs=0.0005)
    length = slope + 2 * 1.75
    assert length == pytest.approx(11.562, abs=0.0005)
    roof = Face((10 + 2) * FOOT, 0.0, length * FOOT, length * FOOT)
    sheets = upright_strips(roof, (), cover=1.015)
    assert len(sheets) == 4
    assert {round(sheet.length / FOOT, 3) for sheet in sheets} == {11.562}


def test_sheets_of_1060_square_feet():
    """*Modern Carpentry* (Goodheart-Willcox, 2022), p. 270: 1060 / 32 = 33.1, so 34 sheets of 4 x 8 ft."""
    assert strip_count(1060, 32) == 34


def test_drywall_of_135_ft():
    """howtobuildplans.com: 135 x 8 = 1080 sq ft / 32 = 33.75, so 34."""
    assert strip_count(135 * 8, 32) == 34


def test_siding_cover_factor():
    """*Building Construction* v. 4, section 20: 6 in siding (5 5/8 in) lapped 1 in. The rule of thumb adds a
    quarter; the exact factor is 5.625 / 4.625 = 1.216. A face of whole courses gives it to the last digit."""
    from takeoff.measure.strips import level_strips

    width, cover = 5.625 * INCH, 4.625 * INCH
    face = Face(6.0, 0.0, 20 * cover, 20 * cover)
    boards = level_strips(face, (), cover=cover)
    assert len(boards) == 20
    required = sum(board.length for board in boards) * width
    assert required / face.area == pytest.approx(5.625 / 4.625) == pytest.approx(1.216, abs=0.0005)


def test_eaves_of_an_as_1684_class_exercise(bare_house):
    """Published class exercise on AS 1684: at 18 deg, (0.150 + 0.600) / cos 18 = 0.788 m."""
    factor = slope_factor(bare_house(pitch=18.0).house)
    assert 0.750 * factor == pytest.approx(0.788, abs=0.001)


@pytest.mark.parametrize(
    ("run", "rise_in_12", "depth", "published"), [(16.5, 6, 7.25, 19), (10.0, 4, 5.5, 11)]
)
def test_rafters_of_peterson_chapter_8(run, rise_in_12, depth, published):
    """Peterson, chapter 8 exercises with their key: run x slope factor plus the plumb cut, to the next foot.
    Our rafters leave the plumb cut out; it is added here."""
    slope = rise_in_12 / 12
    length = run * math.hypot(1, slope) + depth / 12 * slope
    assert math.ceil(length) == published


def test_wastage_as_a_divisor():
    """US Army EN01136, lesson 5: 106 in / 5.5 in / 0.85 = 22.7, so 23 boards: 15 % of what is delivered."""
    boards = 106 / 5.5 * order_factor(0.15, "delivered")
    assert boards == pytest.approx(106 / 5.5 / 0.85)
    assert math.ceil(boards) == 23


def test_painted_walls_of_a_room():
    """Public study cards for builders' arithmetic: 12.5 x 8.7 m, 2.6 m high, less 2.3 x 1.8 and two of 1.9 x 1.5:
    110.24 - 9.84 = 100.40 m2."""
    from takeoff.measure.faces import face_dimensions
    from takeoff.model.geometry import Void

    walls = Face(2 * (12.5 + 8.7), 0.0, 2.6, 2.6)
    voids = [Void(5, 0.5, 2.3, 1.8), Void(15, 0.5, 1.9, 1.5), Void(25, 0.5, 1.9, 1.5)]
    lines = face_dimensions(walls, voids, smallest_void=0.5, note="walls")
    assert lines[0].squaring == pytest.approx(110.24)
    assert sum(line.squaring for line in lines) == pytest.approx(100.40)
