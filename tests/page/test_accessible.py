"""axe-core finds nothing serious on the page, wide and narrow.

axe.min.js is found by TAKEOFF_AXE, or in node_modules beside this file (`npm ci`). Skipped where there is none, unless
TAKEOFF_AXE names one.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from selenium.webdriver import Chrome

NAMED = os.environ.get("TAKEOFF_AXE")
AXE = Path(NAMED or Path(__file__).parent / "node_modules" / "axe-core" / "axe.min.js")
pytestmark = pytest.mark.skipif(not NAMED and not AXE.is_file(), reason="axe-core is not installed")

RUN = """
const done = arguments[arguments.length - 1];
axe.run(document, { resultTypes: ["violations"] }).then((found) => done(found.violations.map(
  (rule) => ({ id: rule.id, impact: rule.impact, nodes: rule.nodes.map((node) => node.html.slice(0, 200)) }))));
"""


def violations(browser: Chrome) -> list[dict[str, object]]:
    """Return what axe finds of impact serious or critical."""
    browser.execute_script(AXE.read_text())
    browser.set_script_timeout(240)
    found = browser.execute_async_script(RUN)
    return [rule for rule in found if rule["impact"] in ("serious", "critical")]


@pytest.mark.parametrize("width", [1200, 390])
def test_nothing_serious_is_found(studio, show: Callable[..., Chrome], width):
    assert violations(show(studio, width=width)) == []


def test_a_picture_without_words_would_be_found(studio, show: Callable[..., Chrome]):
    browser = show(studio)
    browser.execute_script("document.body.append(document.createElement('img'))")
    assert [rule["id"] for rule in violations(browser)] == ["image-alt"]
