"""Bricks in one m2 of half-brick wall.

230 x 76 mm face with 10 mm joints: 1 / (0.240 x 0.086) = 48.45, the usual 48.5 (common practice, no source).
215 x 65 mm face with 10 mm joints: 1 / (0.225 x 0.075) = 59.26, given as 60 with rounding (reference.com, read).
450 x 215 mm blocks with 10 mm joints: 1 / (0.460 x 0.225) = 9.66, given as about 10 (a public teaching paper, read).
"""

from dataclasses import replace

import pytest

from takeoff.measure.face_layers import joint_share, units_per_m2


@pytest.mark.parametrize(
    ("length", "height", "number"), [(0.230, 0.076, 48.45), (0.215, 0.065, 59.26), (0.450, 0.215, 9.66)]
)
def test_units_per_m2(job, length, height, number):
    brick = next(m for m in job.library.materials.values() if m.length and m.height and m.family == "clay")
    brick = replace(brick, length=length, height=height, joint=0.010)
    assert units_per_m2(brick) == pytest.approx(number, abs=0.005)
    assert joint_share(brick) == pytest.approx(1 - length * height * number, abs=0.0002)


def test_mortar_is_what_the_bricks_leave_of_the_face(job):
    # 1 - 48.45 x 0.230 x 0.076 = 0.153 of the face
    brick = next(m for m in job.library.materials.values() if m.length and m.height and m.family == "clay")
    brick = replace(brick, length=0.230, height=0.076, joint=0.010)
    assert joint_share(brick) == pytest.approx(0.153, abs=0.0005)
