"""How long the comparison report of the largest demo takes: the page, its drawings lifted, and the PDF.

Outside the default run:
python -m pytest -q --override-ini addopts=--import-mode=importlib tests/benchmarks/bench_documents.py
"""

from __future__ import annotations

from pathlib import Path

import pytest

from takeoff.compare.evaluate import evaluate_all
from takeoff.compare.uncertainty import draw
from takeoff.documents import fonts
from takeoff.documents.comparison import comparison_page
from takeoff.documents.pdf import page_to_pdf
from takeoff.documents.pdf_drawings import lift_drawings
from takeoff.workbook.reading import read_job

HOUSE = Path(__file__).resolve().parents[2] / "demo_projects" / "wharf_pair.xlsx"


@pytest.fixture(scope="module")
def evaluated():
    job = read_job(HOUSE)
    results = evaluate_all(job)
    return job, results, draw(job, results)


@pytest.fixture(scope="module")
def page(evaluated):
    return comparison_page(*evaluated)


def forget_fonts() -> None:
    """Cut every font afresh."""
    fonts._address.cache_clear()
    fonts.cut_font.cache_clear()


def test_comparison_page(benchmark, evaluated):
    page = benchmark.pedantic(comparison_page, args=evaluated, setup=forget_fonts, rounds=3)
    assert page.startswith("<!DOCTYPE html>")


def test_fonts_cut_for_the_page(benchmark, page):
    assert benchmark.pedantic(fonts.embedded_fonts, args=(page,), setup=forget_fonts, rounds=3)


def test_drawings_lifted_out_of_the_page(benchmark, page):
    lifted = benchmark.pedantic(lift_drawings, args=(page,), rounds=3)
    assert len(lifted.drawings) == page.count("<svg")


def test_page_to_pdf(benchmark, page):
    assert benchmark.pedantic(page_to_pdf, args=(page,), setup=forget_fonts, rounds=3).startswith(b"%PDF-")
