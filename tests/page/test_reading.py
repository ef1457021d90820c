"""The page by keyboard, on a phone, without scripts, on paper, and on its own."""

from __future__ import annotations

import base64
import io
import json
import re
from collections.abc import Callable
from html import unescape
from typing import Any

import pytest
from pypdf import PdfReader
from selenium.webdriver import ActionChains, Chrome, Keys
from selenium.webdriver.common.by import By
from selenium.webdriver.support.select import Select

from takeoff.documents.charts import by_part
from takeoff.documents.pdf import page_to_pdf
from takeoff.documents.wording import number

Show = Callable[..., Chrome]


def tip(browser: Chrome) -> str:
    """Return the words of the tooltip, empty where none is seen."""
    found = browser.find_element(By.ID, "tip")
    return found.text if found.is_displayed() else ""


def press(browser: Chrome, *keys: str) -> None:
    ActionChains(browser).send_keys(*keys).perform()


def focus_is_seen(browser: Chrome) -> bool:
    style = browser.execute_script(
        "const style = getComputedStyle(document.activeElement); return [style.outlineStyle, style.outlineWidth]"
    )
    return style[0] != "none" and style[1] != "0px"


def tab_to(browser: Chrome, selector: str) -> None:
    """Go on with the tab key until an element has the focus; every stop before it must show its focus."""
    for _ in range(120):
        press(browser, Keys.TAB)
        active = browser.switch_to.active_element
        assert focus_is_seen(browser), active.get_attribute("outerHTML")[:200]
        if browser.execute_script("return arguments[0].matches(arguments[1])", active, selector):
            return
    raise AssertionError(f"the tab key does not reach {selector}")


def headings(browser: Chrome) -> list[str]:
    """Return the headings of the sections of the report, as they are seen."""
    found = browser.find_elements(By.CSS_SELECTOR, "main section:not(#explore) > h2")
    return [heading.text for heading in found if heading.is_displayed()]


def test_the_keyboard_alone_sorts_filters_picks_and_switches(studio, show: Show):
    browser = show(studio)
    press(browser, Keys.TAB)
    assert browser.switch_to.active_element.text == "Skip to the report"
    press(browser, Keys.ENTER)
    assert browser.execute_script("return document.activeElement.id") == "main"
    tab_to(browser, "#basis")
    press(browser, Keys.ARROW_DOWN)
    assert (
        Select(browser.find_element(By.ID, "basis")).first_selected_option.get_attribute("value") == "outside"
    )
    assert browser.find_element(By.CSS_SELECTOR, "#explore-table thead .unit:not(:empty)").text.endswith(
        "/m²"
    )
    tab_to(browser, "#explore-table th:nth-child(2) button")
    head = browser.find_element(By.CSS_SELECTOR, "#explore-table th:nth-child(2)")
    press(browser, Keys.ENTER)
    assert head.get_attribute("aria-sort") == "ascending"
    press(browser, Keys.SPACE)
    assert head.get_attribute("aria-sort") == "descending"
    tab_to(browser, "#explore-table tbody input")
    box = browser.switch_to.active_element
    before = box.is_selected()
    press(browser, Keys.SPACE)
    assert box.is_selected() is not before
    assert browser.switch_to.active_element == box
    tab_to(browser, "#bars [data-tip]")
    first = tip(browser)
    assert first
    press(browser, Keys.ARROW_DOWN)
    assert tip(browser)
    assert tip(browser) != first
    press(browser, Keys.ESCAPE)
    assert tip(browser) == ""


def test_a_part_of_a_bar_says_its_value_on_hover_and_on_focus(studio, show: Show):
    browser = show(studio)
    base = studio.results[0]
    parts = by_part({name: totals.upfront / 1000 for name, totals in base.by_element.items()})
    says = f"{base.option.name}, roof: {number(parts['roof'], 1)}"
    mark = next(
        mark
        for mark in browser.find_elements(By.CSS_SELECTOR, "#carbon-bars-row-1 [data-tip]")
        if mark.get_attribute("data-tip").startswith(says)
    )
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", mark)
    ActionChains(browser).move_to_element(mark).perform()
    assert tip(browser).split("\n")[0] == says
    ActionChains(browser).move_to_element(browser.find_element(By.TAG_NAME, "h1")).perform()
    assert tip(browser) == ""
    browser.execute_script("arguments[0].focus()", mark)
    assert tip(browser).split("\n")[0] == says
    assert mark.get_attribute("aria-label").startswith(says)


def test_every_chart_of_the_report_has_values_to_read(cottage, show: Show):
    browser = show(cottage)
    counts = browser.execute_script(
        "return Object.fromEntries([...document.querySelectorAll('main section:not(#explore) svg')]"
        ".map((svg) => [svg.id, svg.querySelectorAll('[data-tip]').length]))"
    )
    options = len(cottage.results)
    charts = ("savings-cost", "palettes-cost", "scatter", "module-bars", "carbon-over-time", "cost-bars")
    assert [name for name in charts if not counts[name]] == []
    assert counts["scatter"] == options
    assert counts["differences-upfront-kgco2e"] == options - 1
    # the line itself, and its value every ten years from 0 to 60
    assert counts["carbon-over-time"] == options * (1 + 7)


def test_a_bar_says_its_value_when_it_is_tapped(studio, show: Show):
    browser = show(studio, width=390)
    mark = browser.find_element(By.CSS_SELECTOR, "#bars [data-tip]")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", mark)
    place = browser.execute_script(
        "const box = arguments[0].getBoundingClientRect(); return [box.x + 40, box.y + box.height / 2]", mark
    )
    touch = {"x": place[0], "y": place[1]}
    browser.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": True})
    try:
        browser.execute_cdp_cmd("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [touch]})
        browser.execute_cdp_cmd("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    finally:
        browser.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": False})
    assert tip(browser).startswith(studio.names[0])


@pytest.mark.parametrize("width", [390, 768, 1200])
def test_the_page_never_scrolls_sideways(cottage, show: Show, width):
    browser = show(cottage, width=width)
    assert browser.execute_script("return document.documentElement.scrollWidth") <= width


def test_the_contents_lead_to_every_section(cottage, show: Show):
    browser = show(cottage)
    links = browser.find_elements(By.CSS_SELECTOR, "nav li a")
    sections = browser.find_elements(By.CSS_SELECTOR, "main section > h2")
    assert [link.text for link in links] == [section.text for section in sections]
    for link in links:
        target = browser.find_element(By.CSS_SELECTOR, link.get_dom_attribute("href"))
        assert target.find_element(By.TAG_NAME, "h2").text == link.text


def test_the_page_asks_for_nothing_and_the_console_is_empty(cottage, show: Show):
    browser = show(cottage)
    # what earlier pages left is taken away first
    browser.get_log("performance")
    browser.get_log("browser")
    browser.refresh()
    for id in ("basis", "scope", "reference", "bars-of"):
        for option in Select(browser.find_element(By.ID, id)).options:
            option.click()
    events = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    asked = [
        event["params"]["request"]["url"]
        for event in events
        if event["method"] == "Network.requestWillBeSent"
    ]
    assert asked
    assert [url for url in asked if not url.startswith(("file:", "data:"))] == []
    assert browser.get_log("browser") == []


def test_the_page_has_no_handlers_in_its_elements_and_points_nowhere_else(cottage, show: Show):
    browser = show(cottage)
    found = browser.execute_script(
        "const all = [...document.querySelectorAll('*')].flatMap((node) => [...node.attributes]);"
        "return [all.length, all.filter(({ name, value }) => name.startsWith('on')"
        " || (['src', 'href', 'xlink:href', 'action'].includes(name) && !/^(#|data:)/.test(value)))"
        ".map(({ name, value }) => `${name}=${value}`)]"
    )
    assert found[0] > 1000
    assert found[1] == []


def test_without_scripts_the_report_is_complete_and_has_no_dead_controls(
    studio, show: Show, new_browser: Callable[..., Chrome]
):
    with_scripts = show(studio)
    expected = headings(with_scripts)
    tables = len(with_scripts.find_elements(By.CSS_SELECTOR, "main section:not(#explore) table"))
    browser = new_browser(scripts=False)
    browser.get(studio.path.as_uri())
    assert browser.find_element(By.CSS_SELECTOR, "#explore-table thead tr").get_attribute("innerHTML") == ""
    assert headings(browser) == expected
    found = browser.find_elements(By.CSS_SELECTOR, "main section:not(#explore) table")
    assert len([table for table in found if table.is_displayed()]) == tables
    controls = browser.find_elements(By.CSS_SELECTOR, "button, select, input, #explore, #tip")
    assert len(controls) > 5
    assert [control for control in controls if control.is_displayed()] == []
    links = browser.find_elements(By.CSS_SELECTOR, "nav li a")
    assert [link.text for link in links if link.is_displayed()] == expected


@pytest.fixture(scope="module")
def pdf(studio) -> bytes:
    return page_to_pdf(studio.text)


def alternatives(node: Any) -> list[str]:
    """Return the words that stand for the figures of a tagged PDF, in their order."""
    node = node.get_object()
    if isinstance(node, list):
        return [words for each in node for words in alternatives(each)]
    if not isinstance(node, dict):
        return []
    own = [str(node["/Alt"])] if node.get("/S") == "/Figure" else []
    return own + (alternatives(node["/K"]) if "/K" in node else [])


def test_in_the_pdf_a_chart_is_told_by_its_own_title_alone(studio, pdf):
    titles = re.findall(r"<svg\b[^>]*><title\b[^>]*>([^<]*)</title>", studio.text)
    assert len(titles) > 10
    found = alternatives(PdfReader(io.BytesIO(pdf)).trailer["/Root"]["/StructTreeRoot"])
    own = [unescape(title) for title in titles]
    # the description follows the title
    told = [title for words in found for title in own if words == title or words.startswith(f"{title}: ")]
    assert told == own
    assert [words for words in found if "\n" in words] == []


def squeezed(text: str) -> str:
    """Return a text without spaces and soft hyphens, which line breaks move."""
    return re.sub(r"[\s\u00ad]+", "", text)


def pdf_text(data: bytes) -> str:
    return squeezed("".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages))


def test_paper_shows_the_same_from_the_browser_as_in_the_pdf(studio, pdf, show: Show):
    browser = show(studio)
    expected = headings(browser)
    rows = browser.execute_script(
        "return [...document.querySelectorAll('main section:not(#explore) tbody tr')].map((row) =>"
        " [...row.cells].map((cell) => cell.textContent).join(''))"
    )
    # what the reader has done to the page stays on the screen
    browser.find_element(By.ID, "find").send_keys("no such option")
    browser.find_element(By.CSS_SELECTOR, "#explore-table th:nth-child(2) button").click()
    printed = browser.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True, "printBackground": True})
    from_browser, as_pdf = pdf_text(base64.b64decode(printed["data"])), pdf_text(pdf)
    assert len(rows) > 200
    for text in (from_browser, as_pdf):
        assert [heading for heading in expected if squeezed(heading) not in text] == []
        assert [row for row in rows if squeezed(row) not in text] == []
        for control in ("Explore the options", "Side by side", "Skip to the report", "Only where the fabric"):
            assert squeezed(control) not in text
