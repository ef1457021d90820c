"""The client paper says what the results say, rounded for an early design and in plain words."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pypdf
import pytest

from takeoff.compare.evaluate import Result, evaluate, evaluate_all
from takeoff.compare.parity import shortfalls_of_all
from takeoff.compare.savings import Savings, savings
from takeoff.compare.uncertainty import Uncertainty, draw
from takeoff.documents.charts.colours import ACCENT
from takeoff.documents.client import client_page
from takeoff.documents.client_looks import NEUTRAL, contrast, looks_of
from takeoff.documents.drawings.svg import INK
from takeoff.documents.pdf import page_to_pdf
from takeoff.documents.results_json import results_data
from takeoff.model.job import Job
from takeoff.workbook.reading import read_job

DEMOS = ("heron_bank", "dune_studio", "wharf_pair")
PAGES = [
    "At a glance",
    "Options side by side",
    "Where it goes",
    "What can change",
    "What this covers and does not",
]
# parts of the chart and the elements that each adds up
PARTS = {
    "foundations and floor": ("substructure",),
    "roof": ("roof",),
    "outside walls": ("external walls",),
    "windows and outside doors": ("windows", "external doors"),
    "inside walls and doors": ("internal walls", "internal doors"),
    "finishes inside": ("wall finishes", "floor finishes", "ceiling finishes"),
    "fittings and services": ("fitments", "services"),
    "site work and other": ("site works", "preliminaries"),
}


@dataclass(frozen=True)
class Paper:
    """A client paper with what it was made from and the text of each of its pages."""

    job: Job
    results: list[Result]
    ranges: Uncertainty
    saved: Savings
    html: str
    pdf: bytes
    texts: list[str]
    data: dict[str, Any]


def plain(text: str) -> str:
    """Return a text in one line, thin spaces left out, so that it can be searched."""
    return " ".join(text.replace("\u202f", "").replace("\u00ad", "").split())


def paper_of(job: Job) -> Paper:
    results = evaluate_all(job, planned=False)
    ranges = draw(job, results)
    saved = savings(
        job, results, ranges, evaluate_one=lambda job, option: evaluate(job, option, planned=False)
    )
    html = client_page(job, results, ranges, saved)
    pdf = page_to_pdf(html)
    texts = [plain(page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]
    return Paper(job, results, ranges, saved, html, pdf, texts, results_data(job, results, ranges))


@pytest.fixture(scope="module")
def papers(demo_folder: Path) -> Callable[[str], Paper]:
    made: dict[str, Paper] = {}

    def paper(name: str) -> Paper:
        if name not in made:
            made[name] = paper_of(read_job(demo_folder / f"{name}.xlsx"))
        return made[name]

    return paper


@pytest.fixture(params=DEMOS)
def paper(request: pytest.FixtureRequest, papers: Callable[[str], Paper]) -> Paper:
    return papers(request.param)


def to_nearest(amount: float, step: int) -> str:
    return f"{round(amount / step) * step:.0f}"


def tonnes(kilograms: float) -> str:
    """Two significant figures, no finer than a hundredth of a tonne."""
    amount = float(f"{abs(kilograms) / 1000:.2g}")
    if amount < 0.1:
        return f"{amount:.2f}"
    return f"{amount:.{max(0, 1 - math.floor(math.log10(amount)))}f}"


def test_it_has_five_pages_each_with_its_bookmark(paper):
    reader = pypdf.PdfReader(io.BytesIO(paper.pdf))
    assert len(reader.pages) == 5
    assert [entry.title for entry in reader.outline] == PAGES
    assert [reader.get_destination_page_number(entry) for entry in reader.outline] == [0, 1, 2, 3, 4]
    assert all(page.mediabox[2:] == pytest.approx((595.3, 841.9), abs=0.1) for page in reader.pages)


def test_it_is_tagged_titled_and_says_its_language(paper):
    reader = pypdf.PdfReader(io.BytesIO(paper.pdf))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert root["/Lang"] == "en"
    assert reader.metadata.title == f"{paper.job.project.name}: cost, carbon and choices"


def test_every_font_is_embedded(paper):
    found = set()
    for page in pypdf.PdfReader(io.BytesIO(paper.pdf)).pages:
        for entry in page["/Resources"]["/Font"].values():
            font = entry.get_object()
            inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
            descriptor = inner["/FontDescriptor"].get_object()
            found.add(font["/BaseFont"])
            assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor), font["/BaseFont"]
    assert len(found) == 2


def test_the_total_and_its_range_are_those_of_the_results(paper):
    base, text = paper.data["options"][0], paper.texts[0]
    total, low, high = (
        to_nearest(amount, 5000)
        for amount in (base["totals"]["total_inc_tax"], base["cost_range"]["low"], base["cost_range"]["high"])
    )
    assert f"Cost, tax included: about {total} AUD" in text
    assert f"between {low} and {high}" in text


def test_carbon_and_its_range_are_those_of_the_results(paper):
    base, text = paper.data["options"][0], paper.texts[0]
    upfront = base["totals"]["upfront_kgco2e"]
    assert f"Carbon of building it: about {tonnes(upfront)} tonnes" in text
    found = re.search(rf"{tonnes(upfront)} tonnes\s*between ([\d.]+) and ([\d.]+)", text)
    assert found, text
    within = paper.ranges.options[0].figures["upfront_kgco2e"]
    # sketch: 15 % for what is not designed, 7 % for quantities, up to 7 % for the data
    least, most = upfront * 1.22, upfront * 1.29
    assert found[1] == tonnes(min(upfront, within.p10))
    assert float(tonnes(least)) <= float(found[2]) <= float(tonnes(most))


def test_the_floor_goes_from_inside_the_walls_to_their_frames(paper):
    areas = paper.data["options"][0]["areas"]
    inside, outside = f"{areas['inside_floor_m2']:.0f}", f"{areas['outside_floor_m2']:.0f}"
    assert f"{inside}–{outside} m²" in paper.texts[0]
    assert f"{inside} m² inside the outside walls, {outside} m² to the outside" in paper.texts[4]


def test_stage_accuracy_date_and_issue_stand_on_the_first_page(paper):
    text = paper.texts[0]
    assert "Stage of the design sketch" in text
    assert "Accuracy of the cost 15 % below to 20 % above" in text
    assert "Date 1 September 2026" in text
    assert "Issue A" in text


def test_every_part_has_its_cost_and_carbon(paper):
    by_element, text = paper.data["options"][0]["by_element"], paper.texts[2]
    seen = 0
    for part, elements in PARTS.items():
        found = [by_element[name] for name in elements if name in by_element]
        if not found:
            assert f"{part} " not in text
            continue
        seen += 1
        cost = to_nearest(sum(each["cost"] for each in found), 1000)
        known = [each["upfront_kgco2e"] for each in found if each["upfront_kgco2e"] is not None]
        carbon = tonnes(sum(known)) if known else "not known"
        assert re.search(rf"{part} {cost} \d+ % {carbon}(?! tonnes)", text), (part, cost, carbon, text)
    assert seen == len({part for part, names in PARTS.items() if set(names) & set(by_element)})


def test_parts_with_what_stands_on_them_come_to_the_total(paper):
    base = paper.data["options"][0]
    ladder, text = base["cost_ladder"], paper.texts[2]
    total, tax = base["totals"]["total_inc_tax"], ladder[-1]["amount"]
    assert ladder[-1]["step"] == "Tax"
    before = total - tax - base["totals"]["works_and_sums"]
    assert f"site, builder, contingencies {to_nearest(before, 1000)} " in text
    assert f"tax {to_nearest(tax, 1000)} " in text
    assert f"all, rounded by itself {to_nearest(total, 5000)} " in text


def test_stored_carbon_is_told_apart(paper):
    stored = -paper.data["options"][0]["totals"]["stored_kgco2"]
    assert stored > 0
    assert f"−{tonnes(stored)} tonnes stored in the wood" in paper.texts[2]
    assert "not taken off the carbon of building" in paper.texts[2]


def expected_difference(figures: dict[str, Any], *, money: bool) -> str:
    """Return what the paper has to say of a difference, worked out from the results alone."""
    central = figures["central"]
    low, high = min(figures["p10"], central), max(figures["p90"], central)
    if low <= 0 <= high:
        return "too close to call"
    way = "less" if central < 0 else "more"
    if money:
        rounded = to_nearest(abs(central), 1000)
        return f"about {rounded} AUD {way}" if rounded != "0" else f"under 1000 AUD {way}"
    if abs(central) < 100:
        return f"under 0.1 tonnes {way}"
    return f"about {tonnes(central)} tonnes {way}"


def test_every_option_shown_has_its_differences(paper):
    by_name = {option.name: option for option in paper.ranges.options}
    heads = re.findall(r'<th scope="col">([^<]+?)</th>', paper.html.split('id="where"')[0])
    names = [head.removesuffix(" †") for head in heads]
    assert len(names) == 3
    for name in names:
        for key, money in (("total_inc_tax", True), ("upfront_kgco2e", False)):
            range_ = by_name[name].differences[key].range
            figures = {"central": range_.central, "p10": range_.p10, "p90": range_.p90}
            assert expected_difference(figures, money=money) in paper.texts[1], (name, key)


def test_every_option_stands_on_the_page_of_changes(paper):
    text = paper.texts[3]
    for option in paper.ranges.options[1:]:
        cells = []
        for key, money in (("total_inc_tax", True), ("upfront_kgco2e", False)):
            range_ = option.differences[key].range
            told = expected_difference(
                {"central": range_.central, "p10": range_.p10, "p90": range_.p90}, money=money
            )
            if told == "too close to call":
                cells.append("too close")
                continue
            amount = to_nearest(abs(range_.central), 1000) if money else tonnes(range_.central)
            sign = "−" if range_.central < 0 else "+"
            cells.append("0" if not float(amount) else f"{sign}{amount}")
        assert re.search(
            rf"{re.escape(option.name)}(?: †)? {re.escape(cells[0])} {re.escape(cells[1])}", text
        ), (option.name, cells)


def test_a_difference_that_spans_nought_is_too_close_to_call(papers, demo_folder):
    job = read_job(demo_folder / "heron_bank.xlsx")
    name = "Plant-fibre insulation"
    shown = paper_of(replace(job, project=replace(job.project, client_options=(name,))))
    within = shown.ranges.option(name).differences["upfront_kgco2e"].range
    assert within.p10 < 0 < within.p90
    assert "too close to call" in shown.texts[1]
    # both ends, each on its side: between 0.20 tonnes less and 0.37 more
    high = max(within.p90, within.central)
    assert f"between {tonnes(within.p10)} tonnes less and {tonnes(high)} more" in shown.texts[1]


def test_savings_are_told_in_their_order_with_what_each_adds(paper):
    text = paper.texts[3]
    at = text.index("What each adds to the saving")
    for step in paper.saved.steps:
        cost = to_nearest(abs(step.cost), 1000)
        row = f"{step.name} {'−' if step.cost < 0 else '+'}{cost} "
        found = text.find(row, at)
        assert found > at, row
        at = found
    together = paper.saved.together.ladder.total_inc_tax - paper.results[0].ladder.total_inc_tax
    assert f"all together −{to_nearest(abs(together), 1000)} " in text


def test_the_options_of_the_workbook_are_shown_in_its_order(demo_folder):
    job = read_job(demo_folder / "dune_studio.xlsx")
    names = ("Slab on ground", "all steel")
    shown = paper_of(replace(job, project=replace(job.project, client_options=names)))
    heads = re.findall(r'<th scope="col">([^<]+?)</th>', shown.html.split('id="where"')[0])
    assert heads == ["Slab on ground †", "All steel"]
    assert "Shown beside the base: Slab on ground † and All steel." in shown.texts[1]


def test_without_a_wish_those_that_say_most_are_shown(papers):
    text = papers("heron_bank").texts[1]
    assert (
        "Of the 7 options worked out, these say most: All steel costs least, All timber causes least carbon and Brick "
        "and panel changes cost and carbon most. All of them stand on page 4."
    ) in text


def test_a_fabric_that_falls_short_is_told_in_plain_words(papers):
    paper = papers("dune_studio")
    (floor, heat) = shortfalls_of_all(paper.job, paper.results)["Slab on ground"]
    assert (floor.of, heat.of) == ("floor", "heat loss")
    over, more = f"{floor.by / floor.target:.0%}", f"{heat.by / heat.target:.0%}"
    text = paper.texts[1].replace(" %", "%")
    assert f"the floor lets through {over} more heat than our target" in text.replace(
        "The floor", "the floor"
    )
    assert f"the whole house loses {more} more than it may" in text
    thickness = floor.remedies[0].more.deeper * 1000
    assert f"About {thickness:.0f} mm more insulation in the floor would mend that." in text


def test_the_mark_is_explained_on_every_page_that_bears_it(paper):
    for text in paper.texts:
        if "†" in text:
            assert "† Keeps heat in less well than we aim for." in text


def test_words_that_are_not_ours_to_use_are_absent(paper):
    text = " ".join(paper.texts).lower()
    for word in ("certified", "compliant", "net zero", "carbon neutral"):
        assert word not in text


def test_jargon_stands_in_the_small_print_alone(paper):
    jargon = re.compile(
        r"A1-A5|A1-A3|kgCO|tCO|P10|P50|P90|EN 15978|EN 16449|upfront|biogenic|embodied|U-value|W/\(?m|percentile|"
        r"tornado|provisional|prime-cost|undominated|dominated|parity|fabric",
        re.IGNORECASE,
    )
    before = " ".join(paper.texts[:4])
    assert not jargon.findall(before)
    last = paper.texts[4]
    glossary, cautions = last.index("Ten words"), last.index("Cautions")
    small_print = last[min(glossary, cautions) :]
    assert not jargon.findall(last.replace(small_print, ""))


def test_nothing_is_told_in_kilograms_or_cents(paper):
    text = " ".join(paper.texts)
    assert not re.search(r"\d\s?kg\b", text)
    assert not re.search(r"\d\.\d\d (?:AUD|m²)", text)


def test_ten_words_are_explained(paper):
    assert paper.html.count("<dt>", paper.html.index('class="words"')) == 10


def test_cautions_and_prices_stand_on_the_last_page(paper):
    last = paper.texts[4]
    assert "not a quotation and not a tender" in last
    assert "have the last word" in last
    assert "Prices of 1 September 2026, Tarnley Reach (invented); in AUD." in last


def test_open_questions_are_among_the_decisions(papers):
    last = papers("wharf_pair").texts[4]
    assert "To answer: Does the unit have meters of its own?" in last
    assert "Does the party wall go through the soffit" not in last
    assert "To draw and measure: deck and paths." in last


def test_the_page_needs_nothing_from_elsewhere(paper):
    addresses = re.findall(r"(?:src|href)=[\"']?([^\"' >]+)|url\(([^)]+)\)", paper.html)
    assert all("".join(pair).startswith("data:") for pair in addresses)


def test_two_runs_give_the_same_page(papers):
    paper = papers("dune_studio")
    assert client_page(paper.job, paper.results, paper.ranges, paper.saved) == paper.html


def test_the_paper_has_the_colour_and_logo_of_the_practice(papers):
    page = papers("wharf_pair").html
    assert "--area: #0f5e6b; --letters: #0f5e6b;" in page
    assert 'alt="Logo of Bracken and Tide (invented practice)"' in page
    assert ACCENT not in page
    reader = pypdf.PdfReader(io.BytesIO(papers("wharf_pair").pdf))
    assert [(image.image.width, image.image.height) for image in reader.pages[0].images] == [(240, 240)]


def test_without_a_colour_the_paper_is_neutral(papers):
    paper = papers("heron_bank")
    assert f"--area: {NEUTRAL}; --letters: {NEUTRAL};" in paper.html
    assert "<img" not in paper.html


def test_a_pale_colour_is_left_to_rules_and_areas(job):
    pale, deep = "#f2c94c", "#2f5d62"
    # yellow against white: (1 + 0.05) / (0.61 + 0.05) = 1.6, too little for lettering
    assert contrast(pale) < 4.5 < contrast(deep)
    looks = looks_of(replace(job.project, practice_colour=pale))
    assert (looks.area, looks.letters) == (pale, INK)
    assert looks_of(replace(job.project, practice_colour=deep)).letters == deep


def test_contrast_of_black_and_of_the_grey_just_legible():
    assert contrast("#000000") == pytest.approx(21)
    # #767676 is known as the lightest grey that reaches 4.5 : 1 on white
    assert contrast("#767676") >= 4.5 > contrast("#777777")
