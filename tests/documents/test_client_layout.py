"""The client paper keeps to its five pages, and nothing lies on anything else, whatever the house is called."""

from __future__ import annotations

import logging
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from takeoff.compare.evaluate import evaluate, evaluate_all
from takeoff.compare.savings import savings
from takeoff.compare.uncertainty import draw
from takeoff.documents.client import client_page
from takeoff.documents.drawings.letters import text_width
from takeoff.model.bill import Query, ToTake
from takeoff.model.job import Job
from takeoff.workbook.reading import read_job

weasyprint = pytest.importorskip("weasyprint")

# CSS pixels in a millimetre
PX = 96 / 25.4
LONG = "Timber boards on the weather side and profiled steel wherever the sun stands high "
SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Box:
    """Where a run of text stands [mm of paper]."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box) -> bool:
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.bottom, other.bottom) - max(self.top, other.top)
        return wide > 0.2 and high > 0.2


def page_of(job: Job) -> str:
    results = evaluate_all(job, planned=False)
    ranges = draw(job, results)
    saved = savings(
        job, results, ranges, evaluate_one=lambda job, option: evaluate(job, option, planned=False)
    )
    return client_page(job, results, ranges, saved)


def demo(folder: Path, name: str) -> Job:
    return read_job(folder / f"{name}.xlsx")


def crowded(job: Job, *, name: str = LONG * 2) -> Job:
    """Return a house of twelve options with names of eighty signs, and more of everything than a page holds."""
    changes: list[dict[str, object]] = [
        {},
        {"pitch": 3.0},
        {"stud_spacing": 0.6},
        {"palette": "All steel"},
        {"palette": "All timber"},
        {"palette": "Brick and panel"},
        {"overhang_low": 0.45},
        {"overhang_high": 0.45},
        {"low_height": 2.6},
        {"external_wall": "Stud 170, plant fibre"},
        {"roof": "Steel roof, plant fibre"},
        {"external_wall": "Stud 170, plant fibre", "pitch": 3.0},
    ]
    first = job.options[0]
    options = tuple(
        replace(first, name=f"{i} {name}"[:80].strip(), description=LONG * 4, changes=change, origin={})
        for i, change in enumerate(changes)
    )
    project = replace(
        job.project,
        name=("WWWWW MMMMM " * 20)[:120],
        description=LONG * 5,
        practice=LONG * 2,
        place=LONG * 2,
        author=LONG * 2,
        issue=LONG,
        exclusions=tuple(f"{i} {LONG * 3}" for i in range(20)),
    )
    query = Query(reference="1", question=LONG * 3, asked_by="", asked_on="")
    return replace(
        job,
        options=options,
        project=project,
        queries=(query,) * 8,
        to_take=(ToTake(item=LONG * 3, element="", reason="", who=""),) * 8,
        allowances=tuple(replace(each, name=f"{i} {LONG[:70]}") for i, each in enumerate(job.allowances * 2)),
    )


def savings_only(job: Job) -> Job:
    """Return a crowded house in which nearly every option is a saving."""
    job = crowded(job)
    spare: list[dict[str, object]] = [{"overhang_left": 0.3}, {"overhang_right": 0.3}, {"pitch": 4.0}]
    more = tuple(replace(o, changes=c) for o, c in zip(job.options[9:], spare, strict=True))
    return replace(job, options=(*job.options[:9], *more))


def with_the_last_three(job: Job) -> Job:
    """Return a job that shows its last three options."""
    names = tuple(option.name for option in job.options[-3:])
    return replace(job, project=replace(job.project, client_options=names))


def bare(job: Job) -> Job:
    """Return a house without rooms, allowances, queries and exclusions."""
    design = replace(job.design, rooms=(), bulkheads=(), wall_choices=(), internal_doors=())
    project = replace(job.project, exclusions=(), practice="", place="", author="", issue="", date="")
    return replace(
        job, design=design, allowances=(), queries=(), to_take=(), project=project, options=job.options[:3]
    )


def no_palettes_but_one(job: Job) -> Job:
    """Return a house that has one palette and so no options of cladding."""
    kept = {job.design.house.palette: job.design.palettes[job.design.house.palette]}
    options = tuple(option for option in job.options if "palette" not in option.changes)
    return replace(job, design=replace(job.design, palettes=kept), options=options)


CASES = {
    "heron_bank": lambda folder: demo(folder, "heron_bank"),
    "dune_studio": lambda folder: demo(folder, "dune_studio"),
    "wharf_pair": lambda folder: demo(folder, "wharf_pair"),
    "crowded": lambda folder: crowded(demo(folder, "heron_bank")),
    "unbroken": lambda folder: crowded(demo(folder, "heron_bank"), name="Weatherboarding" * 10),
    "those that fall short": lambda folder: with_the_last_three(crowded(demo(folder, "heron_bank"))),
    "savings only": lambda folder: savings_only(demo(folder, "heron_bank")),
    "one option": lambda folder: replace(
        demo(folder, "heron_bank"), options=demo(folder, "heron_bank").options[:1]
    ),
    "bare": lambda folder: bare(demo(folder, "heron_bank")),
    "one palette": lambda folder: no_palettes_but_one(demo(folder, "heron_bank")),
    "no accuracy": lambda folder: replace(
        demo(folder, "dune_studio"), library=replace(demo(folder, "dune_studio").library, accuracy={})
    ),
    "dear": lambda folder: replace(
        demo(folder, "dune_studio"),
        library=replace(
            demo(folder, "dune_studio").library,
            ladder=tuple(
                replace(step, value=step.value * 40 if step.kind == "percentage" else step.value)
                for step in demo(folder, "dune_studio").library.ladder
            ),
        ),
    ),
}


@pytest.fixture(scope="module", params=CASES)
def page(request: pytest.FixtureRequest, demo_folder: Path) -> str:
    return page_of(CASES[request.param](demo_folder))


@pytest.fixture(scope="module")
def layout(page: str) -> tuple[Any, list[str]]:
    """Return the pages as laid out, and what the layout could not make sense of."""
    said: list[str] = []

    class Listener(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            said.append(record.getMessage())

    handler = Listener()
    logger = logging.getLogger("weasyprint")
    logger.addHandler(handler)
    try:
        return weasyprint.HTML(string=page).render(), said
    finally:
        logger.removeHandler(handler)


@pytest.fixture(scope="module")
def laid_out(layout: tuple[Any, list[str]]) -> Any:
    return layout[0]


def boxes(page: Any) -> list[Box]:
    """Return the runs of text of a page without the white above and below the letters."""
    found = []
    for box in page._page_box.descendants():
        if type(box).__name__ != "TextBox" or not box.text.strip():
            continue
        size = box.style["font_size"]
        # a line of text is taller than its letters: from the ascenders, 0.73 of the size, to the descenders, 0.2
        base = box.position_y + box.baseline
        found.append(
            Box(
                box.text,
                box.position_x / PX,
                (base - 0.73 * size) / PX,
                (box.position_x + box.width) / PX,
                (base + 0.2 * size) / PX,
            )
        )
    return found


def pictures(page: Any) -> Iterator[Box]:
    """Yield where the pictures of a page stand."""
    for box in page._page_box.descendants():
        if "Replaced" in type(box).__name__:
            x, y = box.content_box_x(), box.content_box_y()
            yield Box("picture", x / PX, y / PX, (x + box.width) / PX, (y + box.height) / PX)


def test_it_has_five_pages(laid_out):
    assert len(laid_out.pages) == 5


def test_nothing_leaves_the_page(laid_out):
    for page in laid_out.pages:
        for box in (*boxes(page), *pictures(page)):
            # margins of 25 mm at the sides, 20 at the head; the foot stands within the 22 below
            assert box.left >= 24.9, box
            assert box.right <= 210 - 24.9, box
            assert box.top >= 19.0, box
            assert box.bottom <= 297 - 5, box


def test_the_text_of_a_page_ends_above_its_foot(laid_out):
    for page in laid_out.pages:
        lowest = max((box for box in (*boxes(page), *pictures(page))), key=lambda box: box.bottom)
        body = [box for box in (*boxes(page), *pictures(page)) if box.top < 297 - 22]
        assert max(box.bottom for box in body) <= 297 - 22 + 0.1, lowest


def test_no_text_lies_on_other_text_or_on_a_picture(laid_out):
    for page in laid_out.pages:
        texts = boxes(page)
        for one, other in combinations(texts, 2):
            assert not one.overlaps(other), (one, other)
        drawn = list(pictures(page))
        for picture in drawn:
            for text in texts:
                assert not text.overlaps(picture), (text, picture)
        for one, other in combinations(drawn, 2):
            assert not one.overlaps(other), (one, other)


def test_no_page_ends_with_a_heading(laid_out):
    for page in laid_out.pages:
        tags = [
            box.element_tag
            for box in page._page_box.descendants()
            if type(box).__name__ == "TextBox" and box.text.strip() and box.position_y / PX < 297 - 22
        ]
        assert tags[-1] not in ("h1", "h2", "h3", "figcaption", "caption")


def test_pages_hold_what_they_are_named_after(laid_out):
    headings = [[label for _, label, *_ in page.bookmarks] for page in laid_out.pages]
    assert headings == [
        ["At a glance"],
        ["Options side by side"],
        ["Where it goes"],
        ["What can change"],
        ["What this covers and does not"],
    ]


def test_the_style_sheet_has_nothing_that_is_not_understood(layout):
    assert layout[1] == []


def lettering(svg: str) -> tuple[list[Box], float, float]:
    """Return the lines of lettering of a picture where they stand, and its width and height [mm]."""
    root = ElementTree.fromstring(svg)
    _, _, width, height = (float(part) for part in root.get("viewBox", "").split())
    found = []
    for text in root.iter(f"{SVG}text"):
        content, size = "".join(text.itertext()), float(text.get("font-size", ""))
        if "transform" in text.attrib:
            continue
        x, y = float(text.get("x", "")), float(text.get("y", ""))
        wide = text_width(content, size, semibold=text.get("font-weight") == "600")
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[text.get("text-anchor", "start")]
        found.append(Box(content, left, y - 0.66 * size, left + wide, y + 0.1 * size))
    return found, width, height


def test_lettering_in_charts_stays_apart_and_within(page):
    charts = re.findall(r"<svg.*?</svg>", page, flags=re.S)
    assert charts
    for svg in charts:
        texts, width, height = lettering(svg)
        for text in texts:
            assert text.left >= -0.1, text
            assert text.right <= width + 0.1, text
            assert text.top >= -0.1, text
            assert text.bottom <= height + 0.1, text
        if 'id="house' in svg:
            continue
        for one, other in combinations(texts, 2):
            assert not one.overlaps(other), (one, other)


def test_every_picture_has_title_and_description(page):
    for svg in re.findall(r"<svg.*?</svg>", page, flags=re.S):
        root = ElementTree.fromstring(svg)
        assert (root.findtext(f"{SVG}title") or "").strip()
        assert (root.findtext(f"{SVG}desc") or "").strip()


def test_ids_stand_once(page):
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
