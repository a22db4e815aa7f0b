"""The page of a kit in a real browser: printed on both papers, and ticked on a phone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser import chromium
from tests.browser.test_job_sheet import PAPER_MM, SIDE_MARGINS, TEXTS, Paper, prints_whole
from tests.kits.test_guide import JOB, made

pytestmark = pytest.mark.skipif(
    chromium.CHROMIUM is None, reason="no chromium here; .ci/run installs it"
)

BOXES = [(f"Guest {number} of the evening", 1 + number % 2, 80 + number % 3) for number in range(8)]
BOXES += [("W" * 40, 1, 80)]
"""The last is a word that has no place to be broken at."""

UNITS: dict[Paper, str] = {"A4": "mm", "letter": "in"}
"""A job in inches is printed on letter paper."""


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[chromium.Browser]:
    """One browser for all tests."""
    with chromium.browser(tmp_path_factory.mktemp("browser")) as started:
        yield started


@pytest.fixture(scope="module", params=["A4", "letter"])
def page(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a kit; its paper is the name of its folder."""
    folder = tmp_path_factory.mktemp(request.param, numbered=False)
    job = JOB.replace('title = "Guests"', f'title = "Guests"\nunits = "{UNITS[request.param]}"')
    sizes = 'length = "{length} mm", width = "60 mm", height = "30 mm"'
    job = job.replace('length = "{length}", width = 60, height = 30', sizes)
    job = job.replace("caliper = 0.3", 'caliper = "0.3 mm"')
    return made(folder, job, BOXES) / "guide.html"


def paper_of(page: Path) -> Paper:
    return "letter" if page.parent.parent.name == "letter" else "A4"


def test_it_prints_whole(page: Path, browser: chromium.Browser) -> None:
    """Every word is on the paper that a reader of its units has."""
    prints_whole(page, paper_of(page), browser)


def test_nothing_runs_out(page: Path, browser: chromium.Browser) -> None:
    """At the width of the paper, not even a long word without a gap."""
    browser.open(page)
    found = browser.measure(TEXTS, PAPER_MM[paper_of(page)][0] - SIDE_MARGINS)

    assert (found["crossing"], found["outside"], found["wide"]) == ([], [], [])


def test_no_list_is_broken_over_two_pages(page: Path, browser: chromium.Browser) -> None:
    """A sheet's list is taken to the bench whole: the browser breaks none that one page can hold,
    and its boxes to tick are at least 4 mm wide."""
    browser.open(page)
    script = """
      return [...document.querySelectorAll('section.list')].map(list =>
        [getComputedStyle(list).breakInside, list.getBoundingClientRect().height,
         ...[...list.querySelectorAll('input')].map(box => box.getBoundingClientRect().width)]);
    """
    lists = browser.measure(script, PAPER_MM[paper_of(page)][0] - SIDE_MARGINS)

    assert lists
    for how, height, *boxes in lists:
        assert how == "avoid" and height < 250 * chromium.PX_PER_MM
        assert min(boxes) >= 4 * chromium.PX_PER_MM


def test_a_phone_can_scroll_it(page: Path, browser: chromium.Browser) -> None:
    """On a narrow screen nothing but tables that scroll by themselves is wider than it."""
    browser.open(page)
    script = "return [document.documentElement.scrollWidth, innerWidth]"
    wide, screen = browser.measure(script, 95, printing=False)

    assert wide <= screen
