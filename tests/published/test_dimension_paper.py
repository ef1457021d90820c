"""Worked example of dimension paper for a wall with openings (derived; the void rule is common practice, no source).

High side 12.00 x 3.33 with two of 1.80 x 1.20, one of 2.40 x 2.10, one of 0.60 x 0.60; smallest void 0.50 m2.
"""

import pytest

from takeoff.measure.faces import face_dimensions
from takeoff.model.geometry import Face, Void

FACE = Face(12.00, 0.0, 3.33, 3.33)
LARGE = [Void(1.0, 0.9, 1.80, 1.20, "A"), Void(4.0, 0.9, 1.80, 1.20, "B"), Void(7.0, 0.3, 2.40, 2.10, "C")]


def net(*voids: Void, smallest: float = 0.50) -> float:
    return sum(
        line.squaring for line in face_dimensions(FACE, voids, smallest_void=smallest, note="high side")
    )


def test_a_small_void_within_the_face_is_not_deducted():
    assert (
        net(*LARGE, Void(10.5, 1.5, 0.60, 0.60, "D"))
        == pytest.approx(39.96 - 2 * 2.16 - 5.04)
        == pytest.approx(30.60)
    )


def test_a_small_void_at_the_edge_is_deducted():
    assert (
        net(*LARGE, Void(10.5, 0.0, 0.60, 0.60, "D")) == pytest.approx(30.60 - 0.36) == pytest.approx(30.24)
    )
    assert net(*LARGE, Void(11.4, 1.5, 0.60, 0.60, "D")) == pytest.approx(30.24)
    assert net(*LARGE, Void(10.5, 2.73, 0.60, 0.60, "D")) == pytest.approx(30.24)


def test_the_rule_looks_at_each_void_by_itself():
    four = [Void(x, 1.0, 0.90, 0.50, "E") for x in (1.0, 3.0, 5.0, 7.0)]
    assert sum(void.area for void in four) == pytest.approx(1.80)
    assert net(*four) == pytest.approx(39.96)
    assert net(*four, smallest=0.44) == pytest.approx(39.96 - 4 * 0.45)


def test_a_nil_void_is_written_down():
    lines = face_dimensions(FACE, [Void(10.5, 1.5, 0.60, 0.60, "D")], smallest_void=0.50, note="high side")
    assert lines[1].nil
    assert lines[1].squaring == 0
    assert lines[1].note == "ddt opening D, 0.36 m2, not over 0.50, within the face"
