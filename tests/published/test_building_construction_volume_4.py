"""*Building Construction*, volume 4 (about 1899 to 1905, public domain), "Carpentry-Estimating-Quantities".

Standing: rules and the counts of 46 and of two a return read; the total and the cover factor recomputed.
Counts are exact, the factor to its last digit.
"""

import pytest

from takeoff.framing.studs import stud_positions
from takeoff.measure.strips import level_strips
from takeoff.model.geometry import Face

FOOT = 0.3048
INCH = FOOT / 12


def test_sixty_feet_of_partition_at_16_in():
    # deduct a quarter, 45, and one more: 46; two more for each of four returns: 54
    studs = len(stud_positions(60 * FOOT, spacing=16 * INCH, thickness=1.5 * INCH))
    assert studs == 60 - 15 + 1 == 46
    assert studs + 4 * 2 == 54


def test_siding_cover_factor():
    # section 20: 6 in siding (5 5/8 in) lapped 1 in. The rule of thumb adds a quarter; the exact factor is
    # 5.625 / 4.625 = 1.216. A face of whole courses gives it to the last digit.
    width, cover = 5.625 * INCH, 4.625 * INCH
    face = Face(6.0, 0.0, 20 * cover, 20 * cover)
    boards = level_strips(face, (), cover=cover)
    assert len(boards) == 20
    required = sum(board.length for board in boards) * width
    assert required / face.area == pytest.approx(5.625 / 4.625) == pytest.approx(1.216, abs=0.0005)
    assert required / face.area < 1 + 1 / 4
