"""howtobuildplans.com, plasterboard for 135 ft of wall 8 ft high (read, recomputed; exact).

135 x 8 = 1080 sq ft, of sheets of 32: 33.75, so 34.
"""

from takeoff.measure.strips import strip_count
from takeoff.model.geometry import Face


def test_sheets_by_area():
    assert strip_count(Face(135.0, 0.0, 8.0, 8.0).area, 32) == 34
