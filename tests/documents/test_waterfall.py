"""The waterfall: bars that join, true lengths, figures beside them, nothing over the edge."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import combinations

import pytest

from takeoff.documents.charts import WaterfallStep, waterfall
from takeoff.documents.charts.colours import ACCENT
from takeoff.documents.charts.labels import Box
from takeoff.documents.drawings import Picture
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.wording import change, number

SVG = "{http://www.w3.org/2000/svg}"
# 373.9 - 6.2 - 2.3 + 1.0 = 366.4
STEPS = (
    WaterfallStep(name="Material-saving framing", change=-6.2, after=367.7),
    WaterfallStep(name="Pitch 3 deg", change=-2.3, after=365.4),
    WaterfallStep(name="Better doors", change=1.0, after=366.4),
)


def drawn(steps: tuple[WaterfallStep, ...] = STEPS, *, base: float = 373.9, width: float = 180.0) -> Picture:
    return waterfall(
        title="Savings in cost",
        desc="One upon another.",
        unit_label="cost including tax, change in thousand AUD",
        base_name="As drawn",
        base_value=base,
        steps=steps,
        total_name="All together",
        change_format=lambda value: change(value, 1),
        value_format=lambda value: number(value, 1),
        value_heading="then, thousand AUD",
        paper_width_mm=width,
        id_prefix="w",
    )


def by_id(picture: Picture) -> dict[str, ET.Element]:
    root = ET.fromstring(picture.svg)
    return {element.attrib["id"]: element for element in root.iter() if "id" in element.attrib}


def bar(elements: dict[str, ET.Element], row: int) -> tuple[float, float]:
    attributes = elements[f"w-bar-{row}"].attrib
    return float(attributes["x"]), float(attributes["x"]) + float(attributes["width"])


def test_each_bar_begins_where_the_one_above_ends():
    elements = by_id(drawn())
    zero = float(re.match(r"M([\d.]+)", elements["w-zero"].attrib["d"])[1])
    first, second, third, total = (bar(elements, row) for row in (2, 3, 4, 5))
    assert first[1] == pytest.approx(zero, abs=0.002)
    assert second[1] == pytest.approx(first[0], abs=0.002)
    assert third[0] == pytest.approx(second[0], abs=0.002)
    assert total == pytest.approx((third[1], zero), abs=0.002)


def test_lengths_are_as_the_changes():
    elements = by_id(drawn())
    lengths = [end - start for start, end in (bar(elements, row) for row in (2, 3, 4, 5))]
    per_unit = lengths[0] / 6.2
    # 6.2 + 2.3 - 1.0 = 7.5
    assert lengths == pytest.approx(
        [6.2 * per_unit, 2.3 * per_unit, 1.0 * per_unit, 7.5 * per_unit], abs=0.01
    )


def test_figures_say_the_change_and_what_there_is_then():
    elements = by_id(drawn())
    assert [elements[f"w-row-{row}-change"].text for row in (2, 3, 4, 5)] == ["−6.2", "−2.3", "+1.0", "−7.5"]
    assert [elements[f"w-row-{row}-after"].text for row in (1, 2, 3, 4, 5)] == [
        "373.9",
        "367.7",
        "365.4",
        "366.4",
        "366.4",
    ]


def test_what_raises_is_hatched_and_said_so():
    raises, lowers = drawn(), drawn(STEPS[:2])
    assert "hatched: more than before" in raises.svg
    assert "hatched" not in lowers.svg
    assert by_id(raises)["w-bar-5"].attrib["fill"] == ACCENT
    # one more path than bars that lower: the hatching
    rows = [len(by_id(raises)[f"w-row-{row}"].findall(f"{SVG}path")) for row in (2, 4)]
    assert rows == [0, 1]


def test_steps_that_do_not_join_are_refused():
    with pytest.raises(ValueError, match="Pitch 3 deg does not lead to what it says there is after it"):
        drawn((STEPS[0], WaterfallStep(name="Pitch 3 deg", change=-2.3, after=366.0)))
    with pytest.raises(ValueError, match="a waterfall needs at least one step"):
        drawn(())
    with pytest.raises(ValueError, match="As drawn has a value that is no number"):
        drawn(base=float("nan"))


@pytest.mark.parametrize(
    "steps",
    [
        STEPS,
        (WaterfallStep(name="Nothing", change=0.0, after=373.9),),
        tuple(
            WaterfallStep(
                name=f"{'A very long name of an option that says it all ' * 2}{i}",
                change=-0.01,
                after=373.9 - 0.01 * (i + 1),
            )
            for i in range(9)
        ),
        (WaterfallStep(name="All but everything", change=-373.8, after=0.1),),
    ],
)
@pytest.mark.parametrize("width", [180.0, 120.0])
def test_no_text_lies_on_another_or_leaves_the_paper(steps, width):
    picture = drawn(steps, width=width)
    boxes = []
    for text in ET.fromstring(picture.svg).iter(f"{SVG}text"):
        size = float(text.attrib["font-size"])
        wide = text_width(text.text or "", size, semibold=text.attrib.get("font-weight") == "600")
        anchor = text.attrib.get("text-anchor", "start")
        left = float(text.attrib["x"]) - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        base = float(text.attrib["y"])
        boxes.append((text.text, Box(left, base - 0.66 * size, left + wide, base)))
    frame = Box(0.0, 0.0, picture.width_mm, picture.height_mm)
    for words, box in boxes:
        assert box.outside(frame) < 0.05, words
    for (one, a), (other, b) in combinations(boxes, 2):
        assert a.overlap(b) < 0.02, (one, other)
