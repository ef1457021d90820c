"""The comparison report on paper: the report itself, and an appendix for whoever frames, orders and checks.

Both are cut out of the one page, so that screen and paper say the same.
"""

from __future__ import annotations

import re
from collections.abc import Callable

APPENDIX = ("framing-drawings", "whole-life-figures", "ordering", "cutting-plans", "build-ups", "sources")
_SECTION = re.compile(r'<section id="([\w-]+)".*?</section>\n?', re.DOTALL)
_FOR_SCREEN = re.compile(r"<script\b.*?</script>\n?|<nav\b.*?</nav>\n?", re.DOTALL)
_CAUTION = re.compile(r'<p class="caution">.*?</p>', re.DOTALL)
_LINK = re.compile(r'<a href="#([\w-]+)">(.*?)</a>', re.DOTALL)
_TITLE = re.compile(r"</title>")
_SUBTITLE = re.compile(r'<p class="subtitle">.*?</p>', re.DOTALL)


def on_paper(page: str) -> str:
    """Return a page without what only a screen shows: nothing of it is printed, but it takes time to read."""
    return _FOR_SCREEN.sub("", _SECTION.sub(lambda found: "" if found[1] == "explore" else found[0], page))


def report_volume(page: str) -> str:
    """Return the report on paper, without its appendix; what it says of the appendix stays without a link."""
    return _kept(on_paper(page), lambda name: name not in APPENDIX)


def appendix_volume(page: str) -> str:
    """Return the appendix on paper, under a title of its own and with the cautions of the first page in short."""
    paper = on_paper(page)
    caution = _CAUTION.search(paper)
    own = _kept(paper, lambda name: name in APPENDIX)
    own = _TITLE.sub(", appendix</title>", own, count=1)
    own = _SUBTITLE.sub(
        '<p class="subtitle">Appendix to the comparison of options: framing, carbon and upkeep in figures, orders '
        "and cutting plans, build-ups, factors with their sources</p>",
        own,
        count=1,
    )
    # the first section begins below the title, not on the next page
    own = own.replace(' class="new-page"', "", 1)
    words = _LINK.sub(r"\2 in the report", caution[0]) if caution else ""
    return own.replace("</header>", f"</header>\n{words}", 1)


def _kept(paper: str, is_kept: Callable[[str], bool]) -> str:
    """Return a page with some of its sections only; links to the others become words."""
    kept = _SECTION.sub(lambda found: found[0] if is_kept(found[1]) else "", paper)
    names = {found[1] for found in _SECTION.finditer(kept)}
    return _LINK.sub(lambda found: found[0] if found[1] in names else found[2], kept)
