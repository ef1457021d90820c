"""Bars with whiskers, tornado, lines over time and bars of modules: true lengths, labels that keep apart."""

from __future__ import annotations

import random
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Mapping, Sequence
from itertools import combinations, pairwise
from typing import Any

import pytest

from takeoff.documents.charts import (
    ContextLine,
    ModuleRow,
    TornadoInput,
    WhiskerRow,
    module_bars,
    over_time,
    tornado,
    whisker_bars,
)
from takeoff.documents.charts.axes import Axis
from takeoff.documents.charts.colours import ACCENT, luminance
from takeoff.documents.charts.labels import Box
from takeoff.documents.charts.module_bars import STORED, TONES
from takeoff.documents.charts.over_time import STYLES
from takeoff.documents.charts.rows import fitted, hatching, in_lines, ticks_apart
from takeoff.documents.drawings import Picture
from takeoff.documents.drawings.letters import text_width

SVG = "{http://www.w3.org/2000/svg}"
LONG = "Longer by 1.2 m, steel on the weather sides"
NAMES = (
    "Base",
    LONG,
    "Timber all round",
    "Brick & <blocks>",
    "600 studs",
    "Least material",
    "Steel all round",
    "High side north",
    "Sheep wool in the walls and in the roof",
    "Painted softwood on the sheltered side",
    "Slab",
    "No finishes",
)
GROUPS = (
    "A1-A3 making of materials",
    "A4-A5 transport and site",
    "B2-B4 upkeep and renewal",
    "C1-C4 end of life",
)


def tenths(value: float) -> str:
    return f"{value:,.1f}".replace("-", "−").replace(",", "\u202f")


def signed(value: float) -> str:
    return f"{value:+.2f}".replace("-", "−")


def common(prefix: str, more: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "title": "Least material has the least carbon",
        "desc": "Each option with its range.",
        "unit_label": "whole-life carbon, tCO₂e",
        "number_format": tenths,
        "paper_width_mm": 180,
        "id_prefix": prefix,
        **more,
    }


def whiskers(rows: Sequence[WhiskerRow], **more: Any) -> Picture:
    return whisker_bars(rows=rows, **common("w", {"chosen": LONG, **more}))


def torn(inputs: Sequence[TornadoInput], **more: Any) -> Picture:
    return tornado(inputs=inputs, **common("t", {"central": 27.8, "correlation_format": signed, **more}))


def timed(courses: Sequence[tuple[str, Mapping[int, float]]], **more: Any) -> Picture:
    return over_time(courses=courses, **common("o", {"chosen": LONG, "period": 60, **more}))


def modules(rows: Sequence[ModuleRow], **more: Any) -> Picture:
    return module_bars(rows=rows, **common("m", {"chosen": LONG, "groups": GROUPS, **more}))


def option(name: str, value: float, low: float, high: float, note: str = "") -> WhiskerRow:
    return WhiskerRow(name=name, value=value, low=low, high=high, note=note)


OPTIONS = [option("Base", 27.0, 24.0, 33.0), option(LONG, 29.5, 26.0, 36.0), option("Slab", 33.0, 33.0, 33.0)]
CONTEXT = [
    ContextLine(label="like houses of one region, whole stock", value=31.0, low=26.0, high=44.0),
    ContextLine(label="target", value=22.0),
    ContextLine(label="target of the practice", value=22.3, low=20.0, high=23.0),
]
INPUTS = [
    TornadoInput(
        name="Wastage of structural timber on site",
        low_words="5 %",
        high_words="20 %",
        at_low=26.3,
        at_high=30.8,
        correlation=0.71,
    ),
    TornadoInput(
        name="Service life of the paint",
        low_words="6 years",
        high_words="12 years",
        at_low=29.3,
        at_high=26.8,
        correlation=-0.5,
    ),
    TornadoInput(
        name="Roof build-up", low_words="thin", high_words="thick", at_low=28.2, at_high=28.8, correlation=0.1
    ),
    TornadoInput(name="Door handles", low_words="few", high_words="many", at_low=27.8, at_high=27.8),
]
COURSES: list[tuple[str, Mapping[int, float]]] = [
    ("Base", {0: 25.0, 30: 30.0, 60: 36.0}),
    (LONG, {0: 28.0, 40: 31.0}),
    ("Slab", {10: 20.0}),
]
MODULES = [
    ModuleRow(name="Base", modules=dict(zip(GROUPS, (20.0, 4.0, 8.0, 6.0), strict=True)), stored=-12.0),
    ModuleRow(name=LONG, modules=dict(zip(GROUPS, (21.0, 5.0, 0.0, 6.0), strict=True)), stored=-15.0),
    ModuleRow(name="Slab", modules=dict(zip(GROUPS, (30.0, 4.0, 8.0, 2.0), strict=True))),
]


def nodes(picture: Picture) -> dict[str, ET.Element]:
    found = [(name, e) for e in ET.fromstring(picture.svg).iter() if (name := e.get("id"))]
    assert len(found) == len(dict(found)), "ids are not unique"
    return dict(found)


def texts(picture: Picture) -> list[str]:
    return [e.text or "" for e in ET.fromstring(picture.svg).iter(f"{SVG}text")]


def value(e: ET.Element, name: str) -> float:
    return float(e.get(name, ""))


def text_box(e: ET.Element) -> Box:
    size = value(e, "font-size")
    wide = text_width(e.text or "", size, semibold=bool(e.get("font-weight")))
    left = value(e, "x") - wide * {"end": 1.0, "middle": 0.5}.get(e.get("text-anchor", ""), 0.0)
    return Box(left, value(e, "y") - 0.66 * size, left + wide, value(e, "y"))


def assert_words_keep_apart(picture: Picture) -> None:
    """Every word stands within the picture and none on another."""
    drawn = list(ET.fromstring(picture.svg).iter(f"{SVG}text"))
    boxes = [text_box(e) for e in drawn]
    frame = Box(-0.01, -0.01, picture.width_mm + 0.01, picture.height_mm + 0.01)
    assert [e.text for e, box in zip(drawn, boxes, strict=True) if box.outside(frame)] == []
    pairs = combinations(zip(drawn, boxes, strict=True), 2)
    assert [(a.text, b.text) for (a, s), (b, t) in pairs if s.overlap(t) > 0.01] == []


def points(e: ET.Element) -> list[tuple[float, float]]:
    """Return the corners of a path of straight lines, level and upright ones written the short way among them."""
    corners: list[tuple[float, float]] = []
    for letter, words in re.findall(r"([MLHV])([-\d. ]+)", e.get("d", "")):
        numbers = [float(word) for word in words.split()]
        if letter == "H":
            corners.append((numbers[0], corners[-1][1]))
        elif letter == "V":
            corners.append((corners[-1][0], numbers[0]))
        else:
            corners.append((numbers[0], numbers[1]))
    return corners


ALL = {
    "whiskers": lambda **more: whiskers(OPTIONS, lines=CONTEXT, **more),
    "tornado": lambda **more: torn(INPUTS, **more),
    "over time": lambda **more: timed(COURSES, **more),
    "modules": lambda **more: modules(MODULES, **more),
}


# --- all of them -------------------------------------------------------------------------------------


@pytest.mark.parametrize("chart", ALL.values(), ids=ALL)
def test_a_chart_is_well_formed_named_and_true_in_mm(chart: Callable[..., Picture]) -> None:
    picture = chart()
    root = ET.fromstring(picture.svg)
    assert root.findtext(f"{SVG}title") == picture.title == "Least material has the least carbon"
    assert root.findtext(f"{SVG}desc") == "Each option with its range."
    assert root.get("width") == "180mm"
    assert root.get("viewBox") == f"0 0 180 {picture.height_mm:.3f}".rstrip("0").rstrip(".")
    assert len({name[0] for name in nodes(picture)}) == 1
    assert any("whole-life carbon, tCO₂e" in text for text in texts(picture))
    assert picture.svg == chart().svg


@pytest.mark.parametrize("width", [88, 130, 180])
@pytest.mark.parametrize("chart", ALL.values(), ids=ALL)
def test_words_keep_apart_on_any_paper(chart: Callable[..., Picture], width: float) -> None:
    assert_words_keep_apart(chart(paper_width_mm=width))


@pytest.mark.parametrize("scale", [1e-6, 1.0, 1e7])
@pytest.mark.parametrize("count", [1, 2, 8, 12])
def test_words_keep_apart_for_any_count_and_size_of_values(count: int, scale: float) -> None:
    draw = random.Random(count)
    names = NAMES[:count]
    written = {"number_format": lambda v: f"{v:.3g}"} if scale < 1 else {}
    rows, kept, courses = [], [], []
    for name in names:
        central = draw.uniform(20, 40) * scale
        note = draw.choice(["", "too close to call", "too close to call against the base and two others"])
        rows.append(
            option(name, central, central * draw.uniform(0.7, 1), central * draw.uniform(1, 1.4), note)
        )
        kept.append(
            ModuleRow(
                name=name,
                modules={g: draw.uniform(0, 20) * scale for g in GROUPS},
                stored=-draw.uniform(0, 9) * scale,
            )
        )
        years = sorted(draw.sample(range(1, 61), 5))
        courses.append((name, {0: central, **{y: central * (1 + y / 50) for y in years}}))
    lines = [
        ContextLine(
            label=f"benchmark {i} of a scope told in many words",
            value=at * scale,
            low=0.9 * at * scale,
            high=1.2 * at * scale,
        )
        for i, at in enumerate(sorted(draw.uniform(0, 60) for _ in range(min(count, 5))))
    ]
    assert_words_keep_apart(whiskers(rows, lines=lines, **written))
    assert_words_keep_apart(modules(kept, **written))
    assert_words_keep_apart(timed(courses, **written))


def test_the_chosen_option_alone_has_the_accent_and_bold_type() -> None:
    for picture in (whiskers(OPTIONS), timed(COURSES), modules(MODULES)):
        bold = [e for e in ET.fromstring(picture.svg).iter(f"{SVG}text") if e.text == LONG]
        assert [(e.get("fill"), e.get("font-weight")) for e in bold] == [(ACCENT, "600")]
        names = [e for e in ET.fromstring(picture.svg).iter(f"{SVG}text") if e.text in ("Base", "Slab")]
        assert len(names) == 2
        assert all(e.get("fill") != ACCENT and not e.get("font-weight") for e in names)
    assert ACCENT not in whiskers(OPTIONS, chosen=None).svg
    assert ACCENT not in timed(COURSES, chosen=None).svg
    assert ACCENT not in modules(MODULES, chosen=None).svg
    assert ACCENT not in torn(INPUTS).svg


# --- bars with whiskers ------------------------------------------------------------------------------


def test_bars_whiskers_and_lines_stand_to_one_scale_from_zero() -> None:
    found = nodes(whiskers(OPTIONS, lines=CONTEXT))
    zero = points(found["w-zero"])[0][0]
    scale = value(found["w-bar-1"], "width") / 27.0
    for number, row in enumerate(OPTIONS, start=1):
        assert value(found[f"w-bar-{number}"], "x") == pytest.approx(zero, abs=0.002)
        assert value(found[f"w-bar-{number}"], "width") / scale == pytest.approx(row.value, rel=1e-3)
        ends = [(x - zero) / scale for x, _ in points(found[f"w-whisker-{number}"])]
        assert ends == pytest.approx([row.low, row.high], rel=1e-3)
    for number, context in enumerate(CONTEXT, start=1):
        assert (points(found[f"w-line-{number}"])[0][0] - zero) / scale == pytest.approx(
            context.value, rel=1e-3
        )
    # A band from 26 to 44 is 18 wide, and 44 is the greatest value of all.
    assert value(found["w-band-1"], "width") / scale == pytest.approx(18.0, rel=1e-3)
    assert (value(found["w-band-1"], "x") - zero) / scale == pytest.approx(26.0, rel=1e-3)
    assert "w-band-2" not in found
    # The axis reaches it before the figures begin.
    reach = value(found["w-band-1"], "x") + value(found["w-band-1"], "width")
    assert reach < text_box(found["w-row-1-value"]).left


def test_value_range_and_note_are_written() -> None:
    found = nodes(whiskers([option("Base", 27.0, 24.0, 33.0, "too close to call")]))
    assert found["w-row-1-value"].text == "27.0"
    assert found["w-row-1-range"].text == "24.0 to 33.0"
    assert found["w-row-1-note"].text == "too close to call"


def test_differences_stand_on_both_sides_of_zero() -> None:
    rows = [option("a", 1.2, -0.4, 2.8), option("b", -2.1, -3.0, -1.0), option("c", 0.0, 0.0, 0.0)]
    found = nodes(whiskers(rows, number_format=signed))
    zero = points(found["w-zero"])[0][0]
    scale = value(found["w-bar-1"], "width") / 1.2
    assert value(found["w-bar-1"], "x") == pytest.approx(zero, abs=0.002)
    assert value(found["w-bar-2"], "x") + value(found["w-bar-2"], "width") == pytest.approx(zero, abs=0.002)
    assert value(found["w-bar-2"], "width") / scale == pytest.approx(2.1, rel=1e-3)
    assert value(found["w-bar-3"], "width") == 0.0
    low, high = [(x - zero) / scale for x, _ in points(found["w-whisker-1"])]
    assert (low, high) == pytest.approx((-0.4, 2.8), rel=2e-3)


@pytest.mark.parametrize("width", [88, 180])
@pytest.mark.parametrize("seed", range(8))
def test_no_context_line_runs_through_a_label(seed: int, width: float) -> None:
    draw = random.Random(seed)
    lines = [
        ContextLine(
            label=f"benchmark {i} of houses like this one", value=draw.choice([draw.uniform(0, 45), 30.0])
        )
        for i in range(draw.randint(1, 6))
    ]
    picture = whiskers(OPTIONS, lines=lines, paper_width_mm=width)
    assert_words_keep_apart(picture)
    found = nodes(picture)
    boxes = [text_box(e) for name, e in found.items() if "-line-label-" in name]
    drawn = [points(found[f"w-line-{i + 1}"]) for i in range(len(lines))]
    assert len(boxes) >= len(lines)
    assert sum(box.length_within((*a, *b)) for box in boxes for a, b in drawn) == 0.0
    # Each line reaches up to its own label.
    for i, (upper, _) in enumerate(drawn, start=1):
        label = text_box(found[f"w-line-label-{i}-1"])
        assert label.top > upper[1]
        assert min(abs(label.left - upper[0]), abs(label.right - upper[0])) < 1.0


def test_a_label_of_a_line_carries_its_figures() -> None:
    words = " ".join(texts(whiskers(OPTIONS, lines=CONTEXT)))
    assert "target: 22.0" in words
    assert "target of the practice: 22.3 (20.0 to 23.0)" in words


def test_ranges_the_wrong_way_round_are_refused() -> None:
    with pytest.raises(ValueError, match="Base has a range the wrong way round: from 3 to 2"):
        option("Base", 2.5, 3.0, 2.0)
    with pytest.raises(ValueError, match="target has a range the wrong way round: from 9 to 8"):
        ContextLine(label="target", value=8.5, low=9.0, high=8.0)
    with pytest.raises(ValueError, match="target has one end of a range only"):
        ContextLine(label="target", value=8.5, low=8.0)
    with pytest.raises(ValueError, match="Base has a value that is no number"):
        option("Base", float("nan"), 1.0, 2.0)
    with pytest.raises(ValueError, match="at least one row"):
        whiskers([])


def test_bars_of_nothing_still_stand() -> None:
    picture = whiskers([option("Base", 0.0, 0.0, 0.0)])
    assert nodes(picture)["w-row-1-value"].text == "0.0"
    assert_words_keep_apart(picture)


# --- tornado -----------------------------------------------------------------------------------------


def test_bars_of_a_tornado_run_from_the_central_value_to_both_ends() -> None:
    found = nodes(torn(INPUTS))
    centre = points(found["t-central"])[0][0]
    scale = value(found["t-high-1"], "width") / (30.8 - 27.8)
    for number, row in enumerate(INPUTS, start=1):
        for kind, result in (("low", row.at_low), ("high", row.at_high)):
            bar = found[f"t-{kind}-{number}"]
            left, right = value(bar, "x"), value(bar, "x") + value(bar, "width")
            assert (min(left - centre, 0) + max(right - centre, 0)) / scale == pytest.approx(
                result - 27.8, abs=2e-3
            )
            assert min(abs(left - centre), abs(right - centre)) < 0.002
    assert found["t-central-words"].text == "central 27.8"


def test_ends_that_move_the_result_one_way_share_the_height() -> None:
    found = nodes(torn(INPUTS))
    low, high = found["t-low-3"], found["t-high-3"]
    assert value(low, "y") + value(low, "height") == pytest.approx(value(high, "y"))
    assert value(low, "height") == pytest.approx(value(found["t-low-1"], "height") / 2)


def test_inputs_ends_and_correlations_are_written_in_their_places() -> None:
    found = nodes(torn(INPUTS))
    assert found["t-correlation-1"].text == "+0.71"
    assert found["t-correlation-2"].text == "−0.50"
    assert "t-correlation-4" not in found
    for number, row in enumerate(INPUTS, start=1):
        for kind, words in (("low", row.low_words), ("high", row.high_words)):
            bar, label = found[f"t-{kind}-{number}"], found[f"t-{kind}-words-{number}"]
            assert label.text == words
            box = text_box(label)
            left, right = value(bar, "x"), value(bar, "x") + value(bar, "width")
            assert min(abs(box.right - left), abs(box.left - right)) == pytest.approx(1.0, abs=0.01)


def test_without_correlations_there_is_no_column_for_them() -> None:
    assert "correlation" in texts(torn(INPUTS))
    picture = torn(INPUTS[3:])
    assert "correlation" not in texts(picture)
    assert_words_keep_apart(picture)


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("width", [88, 180])
def test_words_of_a_tornado_keep_apart(seed: int, width: float) -> None:
    draw = random.Random(seed)
    scale = draw.choice([1.0, 1e6])
    rows = [
        TornadoInput(
            name=draw.choice(["Wastage", "Carbon factor of the concrete of the foundation", "Word" * 14]),
            low_words=draw.choice(["5 %", "95 kgCO₂e/t", "20 km by lorry and ferry, one way"]),
            high_words=draw.choice(["20 %", "140 kgCO₂e/t", "300 km by lorry and ferry, one way"]),
            at_low=scale * draw.choice([27.8, draw.uniform(20, 36)]),
            at_high=scale * draw.choice([27.8, draw.uniform(20, 36)]),
            correlation=draw.uniform(-1, 1),
        )
        for _ in range(8)
    ]
    assert_words_keep_apart(torn(rows, central=27.8 * scale, paper_width_mm=width))


def test_the_two_ends_differ_without_colour() -> None:
    picture = torn(INPUTS[:1])
    found = nodes(picture)
    light = [luminance(found[f"t-{kind}-1"].get("fill", "")) for kind in ("low", "high")]
    # Contrast of at least 3 to 1 for graphics: WCAG 2.1, success criterion 1.4.11, from memory.
    assert (light[1] + 0.05) / (light[0] + 0.05) > 3
    row = list(found["t-row-1"].iter())
    hatched = row[row.index(found["t-high-1"]) + 1]
    assert hatched.tag == f"{SVG}path"
    assert len(points(hatched)) > 20
    assert "result where the input is at its low end" in texts(picture)
    assert "result where it is at its high end" in texts(picture)


def test_a_tornado_of_none_or_too_many_or_no_numbers_is_refused() -> None:
    with pytest.raises(ValueError, match="one to 8 inputs, not 0"):
        torn([])
    with pytest.raises(ValueError, match="one to 8 inputs, not 9"):
        torn(INPUTS[:1] * 9)
    with pytest.raises(ValueError, match=r"x has a rank correlation beyond one: 1\.5"):
        TornadoInput(name="x", low_words="", high_words="", at_low=1.0, at_high=2.0, correlation=1.5)
    with pytest.raises(ValueError, match="x has a value that is no number"):
        TornadoInput(name="x", low_words="", high_words="", at_low=float("inf"), at_high=2.0)


# --- over time ---------------------------------------------------------------------------------------


def test_lines_are_level_between_years_and_to_scale_from_zero() -> None:
    found = nodes(timed(COURSES))
    base = points(found["o-1-line"])
    zero = points(found["o-zero"])[0][1]
    left, right = points(found["o-zero"])[0][0], points(found["o-zero"])[1][0]
    up = (zero - base[0][1]) / 25.0
    years = [(x - left) / (right - left) * 60 for x, _ in base]
    assert years == pytest.approx([0, 30, 30, 60, 60, 60], abs=0.01)
    assert [(zero - y) / up for _, y in base] == pytest.approx([25, 25, 30, 30, 36, 36], abs=0.01)
    slab = points(found["o-3-line"])
    # Nothing before the first year given.
    assert [(zero - y) / up for _, y in slab] == pytest.approx([0, 0, 20, 20], abs=0.01)
    assert all(a[0] == b[0] or a[1] == b[1] for line in (base, slab) for a, b in pairwise(line))


def test_final_values_stand_before_the_names_in_their_order() -> None:
    found = nodes(timed(COURSES))
    assert [found[f"o-{i}-final"].text for i in (1, 2, 3)] == ["36.0", "31.0", "20.0"]
    heights = [value(found[f"o-{i}-final"], "y") for i in (1, 2, 3)]
    assert heights == sorted(heights)


def test_the_chosen_line_is_thick_and_the_others_differ_by_grey_or_dash() -> None:
    courses = [(name, {0: 10.0 + i, 30: 14.0 + 2 * i}) for i, name in enumerate(NAMES)]
    found = nodes(timed(courses))
    styles = []
    for number, name in enumerate(NAMES, start=1):
        drawn, key = found[f"o-{number}-line"], found[f"o-{number}-key"]
        style = (drawn.get("stroke"), drawn.get("stroke-dasharray"))
        assert style == (key.get("stroke"), key.get("stroke-dasharray"))
        if name == LONG:
            assert style == (ACCENT, None)
            assert value(drawn, "stroke-width") > 2 * value(found["o-1-line"], "stroke-width")
        else:
            styles.append(style)
    assert len(set(styles)) == len(styles) == 11
    assert len(set(STYLES)) == 12


def test_the_chosen_line_lies_on_top() -> None:
    svg = timed(COURSES).svg
    assert svg.index('id="o-2-line"') > max(svg.index('id="o-1-line"'), svg.index('id="o-3-line"'))


def test_equal_ends_are_labelled_apart() -> None:
    picture = timed([(name, {0: 5e6, 30: 1.2e7}) for name in NAMES])
    assert_words_keep_apart(picture)
    assert set(NAMES) <= set(texts(picture))


def test_a_course_may_run_below_zero() -> None:
    picture = timed([("stored", {0: -4.0, 60: 6.0})])
    found = nodes(picture)
    assert points(found["o-1-line"])[0][1] > points(found["o-zero"])[0][1]
    assert_words_keep_apart(picture)


def test_courses_that_cannot_be_drawn_are_refused() -> None:
    with pytest.raises(ValueError, match="at least one course"):
        timed([])
    with pytest.raises(ValueError, match="Base has no value in any year"):
        timed([("Base", {})])
    with pytest.raises(ValueError, match="Base has values outside year 0 to 60: year 61"):
        timed([("Base", {0: 1.0, 61: 2.0})])
    with pytest.raises(ValueError, match="Base has a value that is no number"):
        timed([("Base", {0: float("nan")})])


# --- modules -----------------------------------------------------------------------------------------


def test_modules_are_stacked_to_scale_and_stored_carbon_is_apart() -> None:
    found = nodes(modules(MODULES))
    zero = points(found["m-zero"])[0][0]
    scale = value(found["m-bar-1-1"], "width") / 20.0
    for number, row in enumerate(MODULES, start=1):
        bars = [e for name, e in found.items() if re.fullmatch(rf"m-bar-{number}-\d+", name)]
        wanted = [row.modules[g] for g in GROUPS if row.modules[g]]
        assert [value(e, "width") / scale for e in bars] == pytest.approx(wanted, rel=2e-3)
        assert value(bars[0], "x") == pytest.approx(zero, abs=0.002)
        for a, b in pairwise(bars):
            assert value(b, "x") == pytest.approx(value(a, "x") + value(a, "width"), abs=0.003)
        # The total leaves out what is stored: 20 + 4 + 8 + 6 = 38 for the base.
        assert found[f"m-total-{number}"].text == tenths(sum(wanted))
    assert found["m-total-1"].text == "38.0"
    stored = found["m-stored-1"]
    assert value(stored, "width") / scale == pytest.approx(12.0, rel=1e-3)
    assert value(stored, "x") + value(stored, "width") == pytest.approx(zero, abs=0.003)
    assert value(stored, "height") < value(found["m-bar-1-1"], "height")
    assert found["m-stored-words-1"].text == "−12.0"
    assert "m-stored-3" not in found


def test_negative_modules_stand_left_of_zero_before_what_is_stored() -> None:
    picture = modules([ModuleRow(name="a", modules={GROUPS[0]: 6.0, GROUPS[3]: -2.0}, stored=-3.0)])
    found = nodes(picture)
    zero = points(found["m-zero"])[0][0]
    scale = value(found["m-bar-1-1"], "width") / 6.0
    assert (value(found["m-bar-1-2"], "x") - zero) / scale == pytest.approx(-2.0, rel=1e-3)
    assert (value(found["m-stored-1"], "x") - zero) / scale == pytest.approx(-5.0, rel=1e-3)
    assert found["m-total-1"].text == "4.0"
    assert any("less the plain parts left of it" in text for text in texts(picture))


def test_every_group_is_named_and_stored_carbon_only_where_there_is_some() -> None:
    assert texts(modules(MODULES))[:5] == [*GROUPS, STORED]
    assert STORED not in texts(modules(MODULES[2:]))


def test_neighbouring_modules_differ_in_grey() -> None:
    for a, b in pairwise(TONES):
        light, dark = max(luminance(a), luminance(b)), min(luminance(a), luminance(b))
        assert (light + 0.05) / (dark + 0.05) > 2.5


def test_modules_that_would_not_be_drawn_are_refused() -> None:
    with pytest.raises(ValueError, match="a has modules that the chart does not draw: D"):
        modules([ModuleRow(name="a", modules={"D": -1.0})])
    with pytest.raises(ValueError, match="a has stored carbon above nought: 2"):
        ModuleRow(name="a", modules={}, stored=2.0)
    with pytest.raises(ValueError, match="needs rows, and one to 6 groups"):
        modules([])
    with pytest.raises(ValueError, match="needs rows, and one to 6 groups"):
        modules(MODULES, groups=[f"group {i}" for i in range(7)])


def test_modules_of_nothing_still_stand() -> None:
    assert nodes(modules([ModuleRow(name="a", modules={})]))["m-total-1"].text == "0.0"


# --- what they are made of ---------------------------------------------------------------------------


def test_hatching_fills_a_rectangle_and_stays_within() -> None:
    lines = hatching(10.0, 20.0, 7.0, 3.0, spacing=1.0)
    assert all(
        10 - 1e-9 <= x <= 17 + 1e-9 and 20 - 1e-9 <= y <= 23 + 1e-9
        for x1, y1, x2, y2 in lines
        for x, y in ((x1, y1), (x2, y2))
    )
    # At 45 degrees, one for each mm of width and height together.
    assert all(x2 - x1 == pytest.approx(y1 - y2) for x1, y1, x2, y2 in lines)
    assert len(lines) == 10
    assert hatching(0.0, 0.0, 0.0, 3.0) == []


def test_a_word_too_long_is_set_smaller_and_then_broken() -> None:
    assert fitted("short words", 40.0).lines == ("short words",)
    smaller = fitted("unbreakable", 10.0)
    assert smaller.lines == ("unbreakable",)
    assert smaller.size < 2.5
    broken = fitted("unbreakable" * 4, 10.0)
    assert "".join(broken.lines) == "unbreakable" * 4
    assert all(text_width(words, broken.size) <= 10.0 for words in broken.lines)


def test_ticks_whose_figures_would_touch_or_repeat_are_thinned() -> None:
    assert ticks_apart(Axis(0, 10, 0, 100), 0, 10, lambda v: f"{v:.0f}") == (0, 2, 4, 6, 8, 10)
    # A figure of four signs is some 4 mm wide: in 8 mm only the ends stand apart.
    assert ticks_apart(Axis(0, 10, 0, 8), 0, 10, lambda v: f"{v:.2f}") == (0, 10)
    # Figures without places are not repeated.
    assert ticks_apart(Axis(0, 2, 0, 100), 0, 2, lambda v: f"{v:.0f}") == (0, 1, 2)
    assert ticks_apart(Axis(0, 10, 0, 2), 0, 10, lambda v: f"{v:.2f}") == (0.0,)
    assert ticks_apart(Axis(5, 15, 0, 2), 5, 15, lambda v: f"{v:.2f}") == (10,)


def test_pieces_are_set_in_lines_in_their_order() -> None:
    assert in_lines([30, 30, 50], 70, 5) == [(0.0, 0), (35.0, 0), (0.0, 1)]
