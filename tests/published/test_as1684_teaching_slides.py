"""Published class exercises and teaching slides on AS 1684 (the standard itself was not read).

Standing: the eaves exercise read and recomputed (0.7886, printed 0.788); rows of noggings at 1350 mm centres at
most, clause 6.2.1.5 of AS 1684.2, as quoted in slides. Tolerance: the mm; counts are exact.
"""

import pytest

from takeoff.framing.wall_setting_out import nogging_rows
from takeoff.framing.walls import frame_wall
from takeoff.model.geometry import slope_length


def test_eaves_at_18_degrees(bare_house):
    # (0.150 + 0.600) / cos 18 = 0.788: the overhang on the slope is what it adds to the rafter
    longer, shorter = (
        slope_length(bare_house(pitch=18.0, overhang_low=eaves).house) for eaves in (0.150 + 0.600, 0.0)
    )
    assert longer - shorter == pytest.approx(0.788, abs=0.001)


@pytest.mark.parametrize(
    ("clear", "rows"), [(1.350, 0), (1.351, 1), (2.565, 1), (2.700, 1), (2.710, 2), (4.0, 2), (4.051, 3)]
)
def test_nogging_rows_at_1350_mm_at_most(clear, rows):
    assert nogging_rows(clear, 1.350) == rows


def test_noggings_of_a_row_are_about_as_many_as_the_studs(bare_house):
    # "about the same number as common studs" (a book on straw-bale building, read): one a bay
    frame = frame_wall(bare_house(stud_spacing=0.6), "low", material="x")
    row = [m for m in frame.members if m.use == "nogging"]
    studs = [m for m in frame.members if m.use == "stud"]
    assert len({round(m.z, 6) for m in row}) == 1
    assert abs(len(row) - len(studs)) <= 4
