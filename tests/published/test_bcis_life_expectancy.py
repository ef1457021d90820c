"""*Typical life expectancy of building components*, survey by BCIS, 2006, one page of a copy (read).

Typical years: steel sheet on pitched roofs 37; plastic and aluminium gutters 30 and 40; foundations 110; timber
frame 69; timber pitched roof 84; timber joists 90; decking of chipboard and softwood on joists 51 and 71. Names and
numbers stand in two columns of the copy and were paired in order (derived). Held: the starter's lives are these, or lie
between the two read. No tolerance.
"""

import pytest


@pytest.mark.parametrize(
    ("material", "low", "high"),
    [
        ("Profiled steel roof sheet 0.42, colour coated", 37, 37),
        ("Gutter, colour coated steel", 30, 40),
        ("Downpipe, colour coated steel", 30, 40),
        ("Concrete 25 MPa", 110, 110),
        ("Softwood framing, structural", 69, 69),
        ("Softwood rafters, structural", 84, 84),
        ("Softwood floor joists, structural", 90, 90),
        ("Plywood flooring 19, structural", 51, 71),
    ],
)
def test_lives_of_new_workbooks(job, material, low, high):
    row = job.library.lives[material]
    for years in (row.sheltered, row.moderate, row.exposed):
        assert low <= years <= high


def test_steel_sheet_on_an_exposed_wall_lasts_as_on_a_roof(job):
    """A roof takes all the weather; that a sheltered wall lasts longer is not in the survey."""
    row = job.library.lives["Profiled steel wall sheet 0.42, colour coated"]
    assert row.exposed == 37
    assert row.exposed <= row.moderate <= row.sheltered
