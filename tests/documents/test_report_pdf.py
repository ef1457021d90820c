"""The comparison report as PDF, read back by PDFium and pypdf: figures of results.json, nothing on anything else."""

from __future__ import annotations

import io
import json
import re
from dataclasses import dataclass
from html.parser import HTMLParser
from typing import Any

import pytest
from pdf_signs import Sheet, plain, sheets_of, text_of
from pypdf import PdfReader

from takeoff.compare.evaluate import evaluate_all
from takeoff.compare.savings import savings
from takeoff.compare.uncertainty import draw
from takeoff.documents.comparison import comparison_page
from takeoff.documents.pdf import page_to_pdf
from takeoff.documents.results_json import results_data
from takeoff.documents.volumes import appendix_volume, report_volume
from takeoff.workbook.reading import read_job

# of the report and of its appendix
MOST_PAGES = {"dune_studio": (40, 40), "heron_bank": (45, 45)}


@dataclass(frozen=True)
class Volume:
    """A report or its appendix as PDF, with the page it was made of."""

    html: str
    pdf: bytes
    sheets: list[Sheet]


@dataclass(frozen=True)
class Report:
    """A report with its appendix, and the results it was made from."""

    demo: str
    volumes: list[Volume]
    data: dict[str, Any]

    @property
    def sheets(self) -> list[Sheet]:
        return [sheet for volume in self.volumes for sheet in volume.sheets]


def volume_of(html: str) -> Volume:
    pdf = page_to_pdf(html)
    return Volume(html, pdf, sheets_of(pdf))


@pytest.fixture(scope="module", params=["dune_studio", "heron_bank"])
def report(request, demo_folder):
    job = read_job(demo_folder / f"{request.param}.xlsx")
    results = evaluate_all(job)
    ranges = draw(job, results)
    saved = savings(job, results, ranges)
    html = comparison_page(job, results, ranges, saved)
    data = json.loads(json.dumps(results_data(job, results, ranges, saved)))
    return Report(request.param, [volume_of(report_volume(html)), volume_of(appendix_volume(html))], data)


def grouped(value: float, places: int = 0) -> str:
    """A figure as printed: a true minus sign, nothing between the thousands once spaces are out."""
    text = f"{value:.{places}f}"
    return text.replace("-", "−") if any(c in "123456789" for c in text) else text.removeprefix("-")


def signed(value: float, places: int) -> str:
    text = grouped(value, places)
    return text if text.startswith("−") or not any(c in "123456789" for c in text) else f"+{text}"


def section(report: Report, heading: str, after: str) -> str:
    """The text of the pages from one heading to another, without spaces."""
    text = text_of(report.sheets)
    return text[text.index(plain(heading)) : text.index(plain(after))]


# key in results.json, decimals, factor: the rounding that the report states by its units
OPTION_FIGURES: tuple[tuple[str, int, float], ...] = (
    ("total_inc_tax", 0, 1.0),
    ("total_inc_tax_per_m2_outside", 0, 1.0),
    ("upfront_kgco2e", 0, 1.0),
    ("upfront_kgco2e_per_m2_outside", 1, 1.0),
    ("life_cycle_kgco2e", 0, 1.0),
    ("stored_kgco2", 0, 1.0),
    ("whole_life_cost", 0, 1.0),
    ("mass_kg", 0, 1.0),
    ("wastage_share", 1, 100.0),
    ("frame_timber_m3", 2, 1.0),
    ("frame_pieces", 0, 1.0),
    ("framing_fraction", 1, 100.0),
    ("mean_u", 3, 1.0),
    ("heat_loss_w_per_k", 1, 1.0),
)


def test_every_figure_and_difference_is_that_of_the_results(report):
    text = section(report, "Options, each with its difference from the base", "More figures of every option")
    at = 0
    for option in report.data["options"]:
        cells = []
        for key, places, by in OPTION_FIGURES:
            cells.append(grouped(option["totals"][key] * by, places))
            if not option["is_base"]:
                cells.append(signed(option["difference_from_base"][key] * by, places))
        at = text.index("".join(cells), at)


def test_the_savings_are_those_of_the_results(report):
    text = text_of(report.sheets)
    steps = report.data["savings"]["steps"]
    assert steps
    for step in steps:
        figures = (
            signed(step["total_inc_tax_change_alone"] / 1000, 1),
            signed(step["total_inc_tax_change"] / 1000, 1),
            grouped(step["total_inc_tax_then"] / 1000, 1),
            signed(step["upfront_kgco2e_change_alone"] / 1000, 2),
            signed(step["upfront_kgco2e_change"] / 1000, 2),
            grouped(step["upfront_kgco2e_then"] / 1000, 2),
        )
        assert "".join(figures) in text
    for left in report.data["savings"]["left_out"]:
        assert plain(left["reason"]) in text


def test_the_ranges_are_those_of_the_results(report):
    text = text_of(report.sheets)
    for option in report.data["ranges"]["options"].values():
        within = option["totals"]["total_inc_tax"]
        assert "".join(grouped(within[key] / 1000, 1) for key in ("p10", "p50", "p90")) in text


def test_the_pages_are_as_many_as_a_reader_bears(report):
    for volume, most in zip(report.volumes, MOST_PAGES[report.demo], strict=True):
        assert 15 <= len(volume.sheets) <= most


def test_nothing_stands_outside_a_page_or_on_anything_else(report):
    for sheet in report.sheets:
        assert sheet.outside(margin=14.0) == [], sheet.number
        assert sheet.overlapping() == [], sheet.number


class _Headings(HTMLParser):
    """The headings of the page below the title."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self._open = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("h2", "h3"):
            self._open = True
            self.found.append("")

    def handle_endtag(self, tag: str) -> None:
        if tag in ("h2", "h3"):
            self._open = False

    def handle_data(self, data: str) -> None:
        if self._open:
            self.found[-1] += data


def body(sheet: Sheet) -> list[str]:
    """The lines of a page without its foot and its running head."""
    foot = ("Early-design estimate; not a quotation or tender", f"Page {sheet.number} of ")
    return [line for line in sheet.lines if not any(words in line for words in foot)]


def test_no_page_ends_with_a_heading_or_holds_nothing_else(report):
    headings = _Headings()
    for volume in report.volumes:
        headings.feed(volume.html)
    known = {plain(heading) for heading in headings.found}
    for sheet in report.sheets:
        name = plain(report.data["project"]["name"])
        lines = [words for line in body(sheet) if (words := plain(line)) not in known | {name}]
        assert lines, sheet.number
        low = [s for s in sheet.signs if s.bottom > 50]
        last = min(s.bottom for s in low)
        lowest = "".join(s.text for s in sorted(low, key=lambda s: s.left) if s.bottom - last < 3)
        assert lowest not in known, (sheet.number, lowest)


def test_bookmarks_title_and_language(report):
    name = report.data["project"]["name"]
    titles = (f"{name}: comparison of options", f"{name}: comparison of options, appendix")
    for volume, title in zip(report.volumes, titles, strict=True):
        reader = PdfReader(io.BytesIO(volume.pdf))
        assert reader.metadata is not None
        assert reader.metadata.title == title
        assert reader.trailer["/Root"]["/Lang"] == "en"
        marks = [entry.title for entry in reader.outline if not isinstance(entry, list)]
        assert marks == re.findall(r"<h2[^>]*>([^<]*)</h2>", volume.html)
    first, second = (re.findall(r"<h2[^>]*>([^<]*)</h2>", v.html) for v in report.volumes)
    assert first[:2] == ["At a glance", "Decisions"]
    assert first[-1] == "Cautions"
    assert second[0] == "Framing of roof, floor and walls"


def test_every_page_says_which_it_is_of_how_many(report):
    for volume in report.volumes:
        for sheet in volume.sheets:
            assert f"Page{sheet.number}of{len(volume.sheets)}" in text_of([sheet])


def test_the_appendix_carries_the_cautions_in_short(report):
    assert plain("An early-design estimate; not a quotation or tender.") in text_of(
        report.volumes[1].sheets[:1]
    )
