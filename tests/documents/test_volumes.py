"""The report and its appendix on paper: together they are the page, and neither leads nowhere."""

from __future__ import annotations

import re

from takeoff.documents.volumes import APPENDIX, appendix_volume, on_paper, report_volume

PAGE = """<html lang="en"><head><title>House: comparison of options</title>
<script>var a = "<section id='x'>";</script></head>
<body><header><h1>House</h1><p class="subtitle">Comparison of options</p></header>
<nav class="contents"><a href="#glance">At a glance</a></nav>
<main>
<section id="glance"><h2>At a glance</h2>
<p class="caution">Not a quotation. See <a href="#cautions">Cautions</a>.</p></section>
<section id="explore" class="screen-only" hidden><h2>Explore the options</h2></section>
<section id="ordering" class="new-page"><h2>Ordering</h2>
<p>Drawn in the <a href="#cutting-plans">appendix</a>.</p></section>
<section id="cutting-plans"><h2>Cutting plans</h2></section>
<section id="cautions"><h2>Cautions</h2><p>Orders: see <a href="#ordering">Ordering</a>.</p></section>
</main>
<script type="application/json">{"a": 1}</script></body></html>"""


def sections(page: str) -> list[str]:
    return re.findall(r'<section id="([\w-]+)"', page)


def test_paper_has_nothing_of_the_screen():
    paper = on_paper(PAGE)
    assert "<script" not in paper
    assert "<nav" not in paper
    assert "Explore" not in paper
    assert sections(paper) == ["glance", "ordering", "cutting-plans", "cautions"]


def test_every_section_stands_in_one_volume():
    report, appendix = sections(report_volume(PAGE)), sections(appendix_volume(PAGE))
    assert report == ["glance", "cautions"]
    assert appendix == ["ordering", "cutting-plans"]
    assert set(appendix) < set(APPENDIX)


def test_links_to_the_other_volume_become_words():
    for page in (report_volume(PAGE), appendix_volume(PAGE)):
        names = set(sections(page))
        assert all(target in names for target in re.findall(r'href="#([\w-]+)"', page))
    assert "Orders: see Ordering." in report_volume(PAGE)
    assert 'in the <a href="#cutting-plans">appendix</a>' in appendix_volume(PAGE)


def test_the_appendix_has_its_own_title_and_the_cautions_in_short():
    appendix = appendix_volume(PAGE)
    assert "<title>House: comparison of options, appendix</title>" in appendix
    assert '<p class="subtitle">Appendix to the comparison of options: framing' in appendix
    assert '<p class="caution">Not a quotation. See Cautions in the report.</p>' in appendix
    assert "<h1>House</h1>" in appendix
    assert '<section id="ordering"><h2>' in appendix
    assert '<section id="ordering" class="new-page"><h2>' in PAGE
