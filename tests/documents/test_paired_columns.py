"""Two columns of the same parts: true heights, one order and colour, what is stored below zero and apart."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from takeoff.documents.charts.colours import part_colours
from takeoff.documents.charts.columns import Below, ColumnPart, paired_columns

PARTS = (
    ColumnPart(
        name="foundations",
        colour_of="substructure",
        left=14.0,
        right=5.0,
        left_text="14",
        right_text="5.0",
    ),
    ColumnPart(name="roof", colour_of="roof", left=26.0, right=3.0, left_text="26", right_text="3.0"),
    ColumnPart(name="tax", colour_of="", left=40.0, right=None, left_text="40", right_text="none"),
)


STORED = Below(value=4.0, text="4 t", words="stored in the wood, not taken off")


def drawn(parts=PARTS, below=STORED):
    picture = paired_columns(
        title="Where it goes",
        desc="Cost and carbon.",
        left_heading="Cost",
        left_total="80",
        right_heading="Carbon",
        right_total="8",
        parts=parts,
        below=below,
        paper_width_mm=160.0,
        id_prefix="c",
    )
    return {e.attrib["id"]: e.attrib for e in ET.fromstring(picture.svg).iter() if "id" in e.attrib}


def height(found, name: str) -> float:
    return float(found[name]["height"])


def test_parts_are_as_tall_as_their_share_of_a_column():
    found = drawn()
    whole = sum(height(found, f"c-left-{n}") for n in (1, 2, 3))
    # 14 + 26 + 40 = 80
    assert [height(found, f"c-left-{n}") / whole for n in (1, 2, 3)] == pytest.approx(
        [14 / 80, 26 / 80, 40 / 80], abs=1e-4
    )
    assert height(found, "c-right-1") / height(found, "c-right-2") == pytest.approx(5 / 3, abs=1e-3)
    # both columns are equally tall, so that shares compare across
    assert height(found, "c-right-1") + height(found, "c-right-2") == pytest.approx(whole, abs=0.01)
    assert "c-right-3" not in found


def test_parts_keep_their_order_and_colour_in_both_columns():
    found = drawn()
    colours = part_colours(["substructure", "roof"])
    for number, part in enumerate(("substructure", "roof"), start=1):
        for side in ("left", "right"):
            assert found[f"c-{side}-{number}"]["fill"] == colours[part]
    for side in ("left", "right"):
        assert float(found[f"c-{side}-1"]["y"]) > float(found[f"c-{side}-2"]["y"])


def test_what_is_stored_hangs_below_zero_at_the_scale_of_its_column():
    found = drawn()
    zero = float(found["c-right-1"]["y"]) + height(found, "c-right-1")
    # set off by a little white, as it is apart
    assert 0.0 < float(found["c-below"]["y"]) - zero < 1.0
    # 4 against 5 + 3
    column = height(found, "c-right-1") + height(found, "c-right-2")
    bottom = float(found["c-below"]["y"]) + height(found, "c-below")
    assert bottom - zero == pytest.approx(column * 4 / 8, abs=0.01)
    assert "c-below" not in drawn(below=None)


def test_no_parts_and_parts_below_zero_are_refused():
    with pytest.raises(ValueError, match="a chart of columns needs at least one part"):
        drawn(())
    wrong = ColumnPart(name="x", colour_of="roof", left=-1.0, right=1.0, left_text="", right_text="")
    with pytest.raises(ValueError, match="what is below zero hangs apart"):
        drawn((wrong,))
