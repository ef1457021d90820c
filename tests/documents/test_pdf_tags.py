"""The comparison report as PDF/UA: tags, words for pictures, headings, bookmarks, fonts.

Source: ISO 14289-1, clause 7.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from html import unescape
from itertools import pairwise

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream, DictionaryObject

from takeoff.compare.evaluate import evaluate_all
from takeoff.compare.uncertainty import draw
from takeoff.documents.comparison import comparison_page
from takeoff.documents.pdf import page_to_pdf
from takeoff.workbook.reading import read_job

HEADINGS = ("/H1", "/H2", "/H3", "/H4", "/H5", "/H6")


@pytest.fixture(scope="module")
def page(demo_folder):
    job = read_job(demo_folder / "dune_studio.xlsx")
    results = evaluate_all(job)
    return comparison_page(job, results, draw(job, results))


@pytest.fixture(scope="module")
def pdf(page):
    return PdfReader(io.BytesIO(page_to_pdf(page)))


@pytest.fixture(scope="module")
def root(pdf):
    return pdf.root_object["/StructTreeRoot"]


def children(tag: DictionaryObject) -> list[DictionaryObject]:
    """The tags right below a tag, without marked content and references to annotations."""
    below = tag.get("/K", [])
    below = below.get_object() if not isinstance(below, list) else below
    kids = [kid.get_object() for kid in (below if isinstance(below, list) else [below])]
    return [kid for kid in kids if isinstance(kid, DictionaryObject) and "/S" in kid]


def walk(tag: DictionaryObject) -> Iterator[DictionaryObject]:
    """All tags below a tag, in the order they are read."""
    for child in children(tag):
        yield child
        yield from walk(child)


@pytest.fixture(scope="module")
def tags(root):
    return list(walk(root))


def tagged(tags, *names: str) -> list[DictionaryObject]:
    found = [tag for tag in tags if tag["/S"] in names]
    assert found
    return found


def test_the_file_says_that_it_is_tagged_and_in_what_language(pdf):
    catalog = pdf.root_object
    assert catalog["/MarkInfo"]["/Marked"].value is True
    assert catalog["/Lang"] == "en"


def test_a_reader_shows_the_title_and_not_the_file_name(pdf):
    assert pdf.root_object["/ViewerPreferences"]["/DisplayDocTitle"].value is True
    assert pdf.metadata.title.endswith("comparison of options")


def test_the_metadata_claims_part_one_of_the_standard(pdf):
    metadata = pdf.root_object["/Metadata"].get_data().decode()
    assert "http://www.aiim.org/pdfua/ns/id/" in metadata
    part = re.search(r"pdfuaid:part(?:=\"|>)(\d)", metadata)
    assert part is not None
    assert part[1] == "1"


def test_the_tags_begin_with_one_document(root):
    assert [tag["/S"] for tag in children(root)] == ["/Document"]
    assert len(children(children(root)[0])) > 10


def test_every_page_is_found_from_the_tags_and_all_its_content_is_marked(pdf, root):
    by_number = dict(zip(root["/ParentTree"]["/Nums"][::2], root["/ParentTree"]["/Nums"][1::2], strict=True))
    for page in pdf.pages:
        assert page["/Tabs"] == "/S"
        assert len(by_number[page["/StructParents"]].get_object()) > 0
        depth = 0
        for _, operator in ContentStream(page.get_contents(), pdf).operations:
            if operator in (b"BDC", b"BMC"):
                depth += 1
            elif operator == b"EMC":
                depth -= 1
            elif operator in (b"Tj", b"TJ", b"Do"):
                assert depth > 0
        assert depth == 0


def test_each_marked_content_of_a_page_leads_to_a_tag(pdf, root):
    by_number = dict(zip(root["/ParentTree"]["/Nums"][::2], root["/ParentTree"]["/Nums"][1::2], strict=True))
    for page in pdf.pages:
        parents = by_number[page["/StructParents"]].get_object()
        marks = [
            operands[1]["/MCID"]
            for operands, operator in ContentStream(page.get_contents(), pdf).operations
            if operator == b"BDC" and len(operands) > 1 and "/MCID" in operands[1]
        ]
        assert sorted(marks) == list(range(len(parents)))
        assert all("/S" in parent.get_object() for parent in parents)


def test_each_figure_says_in_words_what_it_shows(tags, page):
    figures = tagged(tags, "/Figure")
    titles = [
        unescape(title) for title in re.findall(r"<svg\b[^>]*><title[^>]*>(.*?)</title>", page, re.DOTALL)
    ]
    assert [figure["/Alt"].split(": ")[0] for figure in figures] == [title.split(": ")[0] for title in titles]
    # title and description, as on the screen
    assert all(len(figure["/Alt"]) > 20 for figure in figures)


def test_each_table_has_heads_and_each_cell_names_its_own(tags):
    for table in tagged(tags, "/Table"):
        cells = list(walk(table))
        heads = [cell for cell in cells if cell["/S"] == "/TH"]
        assert heads
        ids = {bytes(head["/ID"].original_bytes) for head in heads}
        assert len(ids) == len(heads)
        for cell in cells:
            if cell["/S"] != "/TD":
                continue
            named = [bytes(name.original_bytes) for name in cell["/A"].get_object().get("/Headers", [])]
            assert named
            assert set(named) <= ids


def test_heads_of_columns_and_of_rows_say_which_they_are(tags):
    for table in tagged(tags, "/Table"):
        for part in children(table):
            for row in children(part):
                for place, cell in enumerate(children(row)):
                    if cell["/S"] != "/TH":
                        continue
                    looks = cell["/A"].get_object()
                    heads_rows = part["/S"] == "/TBody" and place == 0 and "/ColSpan" not in looks
                    assert looks["/Scope"] == ("/Row" if heads_rows else "/Column")


def test_headings_do_not_skip_a_level(tags):
    levels = [HEADINGS.index(tag["/S"]) + 1 for tag in tagged(tags, *HEADINGS)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_bookmarks_follow_the_headings_in_order(pdf, page):
    printed = re.sub(r"<section[^>]* hidden.*?</section>", "", page, flags=re.DOTALL)
    headings = [
        unescape(re.sub(r"<[^>]*>", "", text)).strip() for text in re.findall(r"<h2[^>]*>(.*?)</h2>", printed)
    ]
    top = [entry for entry in pdf.outline if not isinstance(entry, list)]
    assert [entry.title for entry in top] == [
        heading for heading in headings if heading in {e.title for e in top}
    ]
    assert len(top) > 10
    places = [pdf.get_destination_page_number(entry) for entry in top]
    assert places == sorted(places)


def fonts_of(resources: DictionaryObject) -> Iterator[DictionaryObject]:
    """The fonts of a page and of the drawings on it."""
    for font in resources.get("/Font", {}).values():
        yield font.get_object()
    for drawing in resources.get("/XObject", {}).values():
        inner = drawing.get_object().get("/Resources")
        if inner is not None:
            yield from fonts_of(inner.get_object())


def test_every_font_is_embedded_and_can_be_read_back(pdf):
    fonts = {font["/BaseFont"]: font for font in fonts_of(pdf.pages[0]["/Resources"].get_object())}
    # two weights in the text, two in the drawings
    assert len(fonts) == 2 + 2
    for name, font in fonts.items():
        assert re.match(r"/[A-Z]{6}\+Source-?Sans", name)
        assert "/ToUnicode" in font
        descendant = font["/DescendantFonts"][0].get_object()
        assert "/FontFile2" in descendant["/FontDescriptor"]
        assert "/CIDToGIDMap" in descendant


def test_no_picture_of_dots_is_left_where_a_drawing_belongs(pdf):
    drawings = pdf.pages[0]["/Resources"]["/XObject"].values()
    kinds = [drawing.get_object()["/Subtype"] for drawing in drawings]
    assert kinds.count("/Form") > 20
    assert all(drawing.get_object().get("/Height") != 1 for drawing in drawings)
