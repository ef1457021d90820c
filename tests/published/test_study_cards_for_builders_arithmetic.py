"""Public study cards for builders' arithmetic: the wall area of a room to be painted.

Standing: read, recomputed. Tolerance: the second decimal.
"""

import pytest

from takeoff.measure.faces import face_dimensions
from takeoff.model.geometry import Face, Void


def test_painted_walls_of_a_room():
    # 2 x (12.5 + 8.7) x 2.6 = 110.24, less 2.3 x 1.8 and two of 1.9 x 1.5 = 9.84: 100.40
    walls = Face(2 * (12.5 + 8.7), 0.0, 2.6, 2.6)
    voids = [Void(5, 0.5, 2.3, 1.8), Void(15, 0.5, 1.9, 1.5), Void(25, 0.5, 1.9, 1.5)]
    lines = face_dimensions(walls, voids, smallest_void=0.5, note="walls")
    assert lines[0].squaring == pytest.approx(110.24)
    assert -sum(line.squaring for line in lines[1:]) == pytest.approx(9.84)
    assert sum(line.squaring for line in lines) == pytest.approx(100.40)
