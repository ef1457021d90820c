"""Ritter, *Lebensdauer von Bauteilen und Bauelementen*, dissertation, TU Darmstadt 2011, windows.

As quoted on schadenseminar.de, 16 April 2018 (read), low, mean and high [years]: timber windows with double glazing 15,
32, 57; aluminium ones 24, 44, 71. Held: the starter's lives lie within what was read, the moderate one is its mean.
Tolerance: the whole years that shares of a life round to.
"""

import pytest

TIMBER, ALUMINIUM = (15, 32, 57), (24, 44, 71)


@pytest.mark.parametrize(
    ("material", "published"),
    [
        ("Window unit, timber frame, double glazed", TIMBER),
        ("Window unit, aluminium frame, double glazed", ALUMINIUM),
        # proxies: what is fitted with the window
        ("Sliding door unit, aluminium, double glazed", ALUMINIUM),
        ("External door set, timber", TIMBER),
        ("Head flashing, colour coated steel", TIMBER),
        ("Sealing tape, expanding foam", TIMBER),
    ],
)
def test_lives_of_new_workbooks(job, material, published):
    low, mean, high = published
    row = job.library.lives[material]
    assert row.moderate == mean
    assert low <= row.exposed <= row.moderate <= row.sheltered <= high
    # the ends of its range, shares of the life, are those read against the mean
    assert row.low * mean == pytest.approx(low, abs=1.0)
    assert row.high * mean == pytest.approx(high, abs=1.0)
