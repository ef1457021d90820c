"""The comparison page of two demo houses in a browser: Debian's Chromium, headless, driven by Selenium.

Tests with a browser are skipped where none is installed, unless TAKEOFF_BROWSER is set to "demanded".
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest
from selenium.webdriver import Chrome, ChromeOptions
from selenium.webdriver.chrome.service import Service

from takeoff.compare.evaluate import Result, evaluate_all
from takeoff.compare.uncertainty import Uncertainty, draw
from takeoff.documents.comparison import comparison_page
from takeoff.model.job import Job
from takeoff.workbook.reading import read_job

BROWSER, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")
DEMANDED = os.environ.get("TAKEOFF_BROWSER") == "demanded"
FLAGS = (
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
NO_SCRIPTS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoPage:
    """The page of a demo house with what it was made of."""

    job: Job
    results: Sequence[Result]
    ranges: Uncertainty
    text: str
    path: Path

    @property
    def names(self) -> list[str]:
        return [result.option.name for result in self.results]


def made(demo: str, demo_folder: Path, folder: Path) -> DemoPage:
    """Return the page of a demo house; nothing is planned, as what is tested is the page."""
    job = read_job(demo_folder / f"{demo}.xlsx")
    results = evaluate_all(job, planned=False)
    ranges = draw(job, results)
    text = comparison_page(job, results, ranges)
    path = folder / f"{demo}.html"
    path.write_text(text)
    return DemoPage(job=job, results=results, ranges=ranges, text=text, path=path)


@pytest.fixture(scope="session")
def studio(demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> DemoPage:
    return made("dune_studio", demo_folder, tmp_path_factory.mktemp("page"))


@pytest.fixture(scope="session")
def cottage(demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> DemoPage:
    return made("heron_bank", demo_folder, tmp_path_factory.mktemp("page"))


@pytest.fixture(scope="session")
def new_browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[..., Chrome]]:
    """Return a maker of browsers with a profile of their own; all are closed at the end."""
    if BROWSER is None or DRIVER is None:
        words = "chromium and chromedriver are not installed"
        if DEMANDED:
            pytest.fail(words)
        pytest.skip(words)
    browsers: list[Chrome] = []

    def start(*, scripts: bool = True) -> Chrome:
        options = ChromeOptions()
        options.binary_location = BROWSER
        for flag in (*FLAGS, f"--user-data-dir={tmp_path_factory.mktemp('profile')}"):
            options.add_argument(flag)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
        if not scripts:
            options.add_experimental_option(
                "prefs", {"profile.managed_default_content_settings.javascript": NO_SCRIPTS}
            )
        browsers.append(Chrome(options=options, service=Service(DRIVER)))
        return browsers[-1]

    yield start
    for browser in browsers:
        browser.quit()


@pytest.fixture(scope="session")
def browser(new_browser: Callable[..., Chrome]) -> Chrome:
    return new_browser()


@pytest.fixture
def show(browser: Chrome) -> Callable[..., Chrome]:
    """Return an opener of a page at a width [px]."""

    def opened(page: DemoPage, *, width: int = 1200) -> Chrome:
        set_width(browser, width)
        browser.get(page.path.as_uri())
        return browser

    return opened


def set_width(browser: Chrome, width: int) -> None:
    """Set the width of the window, below what a desktop window allows too."""
    browser.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride",
        {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False},
    )
