"""The page on explanations shows the sections and the figures of the demo."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from takeoff.compare.evaluate import Result
from takeoff.documents.explain import explanation
from takeoff.documents.explain_parts import Line
from takeoff.documents.explain_settings import settings_behind
from takeoff.guide import page_text
from takeoff.model.job import Job

Table = list[list[str]]
# lines that a row of the page takes its figures and cells from besides the one of its name
BESIDE = {
    "low side": ("settings",),
    "required": ("pieces", "how"),
    "order": ("share", "buys"),
    "supply": ("price",),
    "labour": ("labour constant",),
}
BOARDS = "EW.CL.low.ship"


@pytest.fixture(scope="module")
def shown(job: Job, base: Result) -> dict[str, list[Line]]:
    """Return the lines of the example by section."""
    behind = settings_behind(job, base)
    return {section.heading: list(section.lines) for section in explanation(job, base, BOARDS, behind=behind)}


def test_the_sections_are_those_of_an_explanation(shown, table_headed):
    sections = [row[0] for row in table_headed("explain", "section", "what")]
    sections.remove("Overrides")
    assert sections == list(shown)


def test_the_sums_and_cells_of_the_example_are_those_told(
    shown, table_headed: Callable[..., Table], holds: Callable[[str, str], bool]
):
    for what, sum_text, places in table_headed("explain", "what", "sum"):
        left, right = sum_text.split(" = ")
        assert holds(left, right), what
        lines = [line for section in shown.values() for line in section if line.label == what]
        beside = BESIDE.get(what, ())
        lines += [line for section in shown.values() for line in section if line.label in beside]
        text = plain(" ".join(line.text for line in lines))
        assert right.split()[0].replace(",", "") in text, what
        cells = {cell.place.split(" ", 1)[1] for line in lines for cell in line.cells}
        assert set(filter(None, places.split(", "))) <= cells, what


def test_what_is_said_below_the_example_is_so(shown):
    said = page_text("explain").replace("\n", " ")
    assert "445.5 m for this side and the right one together" in said
    order = {line.label: line.text for line in shown["Order"]}
    assert order["buys"].startswith("445.5 m of ")
    assert order["plan"].endswith("for 2 items together")
    assert "= 0.59939" in order["share"]
    assert "of which this side pays 59.9 %" in said
    carbon = {line.label: line.text for line in shown["Carbon by module"]}
    assert carbon["service life"] == "60 years, sheltered, counted in B4"
    assert carbon["renewals"] == "0 over 60 years, whole renewals; none within it"


def plain(text: str) -> str:
    """Return a text without the space that sets off thousands."""
    return text.replace("\u202f", "").replace("\u2212", "-")
