"""The guide in a real browser: it loads without a network, and prints with nothing clipped."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Literal

import pypdfium2
import pytest

from cutlayers import names_kit
from cutlayers.guide.sheet import guide_page
from cutlayers.job.order import Job
from cutlayers.job.reading import read_job
from cutlayers.making.make import lay_out, plan, report_of
from cutlayers.profile.machine import Machine
from cutlayers.profile.reading import read_profile
from cutlayers.profile.search import find_profile
from cutlayers.report.report import Report
from tests.browser import chromium

pytestmark = pytest.mark.skipif(
    chromium.CHROMIUM is None, reason="no chromium here; .ci/run installs it"
)

Paper = Literal["A4", "letter"]

PAPER_MM: dict[Paper, tuple[float, float]] = {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""ISO 216:2007; ASME Y14.1 size A."""

SIDE_MARGINS = 32.0
"""mm; what the page's print styles leave free left and right together."""

SAMPLES = [
    path
    for path in sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))
    if not names_kit(path)
]
"""A kit has a row for every box, so its boxes have no page in common."""

TEXTS = """
  const found = {crossing: [], outside: [], wide: []};
  for (const svg of document.querySelectorAll('svg.blank')) {
    const frame = svg.getBoundingClientRect();
    const boxes = [...svg.querySelectorAll('text')].map(t => [t.textContent,
      t.getBoundingClientRect()]);
    boxes.forEach(([one, a], i) => {
      if (a.left < frame.left - 0.5 || a.right > frame.right + 0.5
          || a.top < frame.top - 0.5 || a.bottom > frame.bottom + 0.5)
        found.outside.push(one);
      for (const [other, b] of boxes.slice(i + 1)) {
        // A line of text is taller than its letters: a quarter of it is empty.
        const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        const slack = 0.3 * Math.min(a.height, b.height, a.width, b.width);
        if (wide > slack && high > slack) found.crossing.push([one, other]);
      }
    });
  }
  const limit = document.documentElement.clientWidth + 0.5;
  for (const each of document.querySelectorAll('main *')) {
    const box = each.getBoundingClientRect();
    if (!each.closest('svg') && box.width && (box.right > limit || box.left < -0.5))
      found.wide.push(each.tagName + ' ' + each.textContent.slice(0, 40));
    if (!each.closest('svg') && each.scrollWidth > each.clientWidth + 1 && each.clientWidth)
      found.wide.push('inner ' + each.tagName + ' ' + each.textContent.slice(0, 40));
  }
  found.texts = document.querySelectorAll('svg.blank text').length;
  return found;
"""

MUG = """
title = "Mug"
units = "in"
profile = "drag-blade-340"
stock.card = { caliper = 0.012, sheet = "12x12 in", grammage = 250 }
stock.paper = { caliper = 0.005, sheet = "12x12 in", grammage = 120 }

[[piece]]
name = "mug"
style = "gable-carton"
stock = "card"
size = { length = 3, width = 3, height = "3 1/2" }
options = { lid_parts = 2 }
art = [{ roles = "all", pattern = "dots" }]
lettering = [{ panel = "base.left", text = "Soap", height = "1/4" }]
facing = [{ panels = ["left", "right"], net = "base", stock = "paper" }]
"""

WORDS = """
  const found = [];
  const walker = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    if (!walker.currentNode.parentElement.closest('title, desc'))
      found.push(...walker.currentNode.textContent.split(/\\s+/).filter(word => word));
  }
  return found;
"""


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[chromium.Browser]:
    """One browser for all tests."""
    with chromium.browser(tmp_path_factory.mktemp("browser")) as started:
        yield started


@cache
def made(sample: Path, machine: bool) -> tuple[Job, Machine | None, Report | None]:
    """A sample laid out once for all its pages."""
    job = read_job(sample)
    if not machine:
        return job, None, None
    found = read_profile(find_profile(job.profile or ""))
    return job, found, report_of(plan(lay_out(job, found)))


def page_of(sample: Path, paper: Paper, folder: Path, *, machine: bool) -> Path:
    page = folder / "guide.html"
    page.write_bytes(guide_page(*made(sample, machine), paper=paper))
    return page


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_it_prints_whole(
    sample: Path, paper: Paper, tmp_path: Path, browser: chromium.Browser
) -> None:
    """On the paper asked for, every letter lies within the page, and every word is there."""
    prints_whole(page_of(sample, paper, tmp_path, machine=True), paper, browser)


def prints_whole(page: Path, paper: Paper, browser: chromium.Browser) -> None:
    """Every letter of a page is printed, none nearer to the edge than its margins are."""
    loading = browser.open(page)
    pdf, printing = browser.pdf()

    assert loading + printing == []
    document = pypdfium2.PdfDocument(pdf)
    text = ""
    for leaf in document:
        width, height = leaf.get_size()
        # Points of 1/72 inch; browsers round paper to a whole one.
        assert (width * 25.4 / 72, height * 25.4 / 72) == pytest.approx(PAPER_MM[paper], abs=0.4)
        words = leaf.get_textpage()
        for index in range(words.count_chars()):
            left, bottom, right, top = words.get_charbox(index)
            if right > left and top > bottom:
                assert left >= 28 and right <= width - 28, words.get_text_range(index, 30)
                assert bottom >= 28 and top <= height - 28, words.get_text_range(index, 30)
        text += words.get_text_bounded()
    shown = browser.measure(WORDS, 200)
    assert len(shown) > 200
    # A dash may be set otherwise in print; letters and digits may not get lost.
    letters = "".join(filter(str.isalnum, text)).casefold()
    assert [
        word for word in shown if "".join(filter(str.isalnum, word)).casefold() not in letters
    ] == []


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_the_guide_of_a_box_is_two_pages(
    paper: Paper, tmp_path: Path, browser: chromium.Browser
) -> None:
    """Sheet, settings and what is needed on the one; how it goes together, with pictures, on the
    other."""
    (sample,) = (path for path in SAMPLES if path.stem == "bath-bombs")
    browser.open(page_of(sample, paper, tmp_path, machine=True))
    pdf, _ = browser.pdf()
    first, second = pypdfium2.PdfDocument(pdf)

    assert "Setup sheet" in first.get_textpage().get_text_bounded()
    assert "Putting it together" in second.get_textpage().get_text_bounded()


def test_the_guide_of_a_box_with_all_on_it_is_two_pages(
    tmp_path: Path, browser: chromium.Browser
) -> None:
    """Art everywhere, most of it hidden, words, two facings and a lid in two parts."""
    sample = tmp_path / "mug.toml"
    sample.write_text(MUG)
    browser.open(page_of(sample, "letter", tmp_path, machine=True))
    pdf, _ = browser.pdf()
    first, second = pypdfium2.PdfDocument(pdf)

    assert "Sheets and time" in first.get_textpage().get_text_bounded()
    assert "more like these" in second.get_textpage().get_text_bounded()


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize("machine", [True, False], ids=["machine", "hand"])
def test_nothing_overlaps_or_runs_out(
    sample: Path, paper: Paper, machine: bool, tmp_path: Path, browser: chromium.Browser
) -> None:
    """At the width of the paper no two texts of a drawing lie on each other, none leaves its
    drawing, and nothing is wider than the page."""
    browser.open(page_of(sample, paper, tmp_path, machine=machine))
    found = browser.measure(TEXTS, PAPER_MM[paper][0] - SIDE_MARGINS)

    # The page of a machine's work has no drawings with words in them.
    assert machine or found["texts"] > 5
    assert (found["crossing"], found["outside"], found["wide"]) == ([], [], [])


@pytest.mark.parametrize("printing", [True, False])
def test_a_phone_can_scroll_it(tmp_path: Path, browser: chromium.Browser, printing: bool) -> None:
    """On a narrow screen only tables that scroll by themselves are wider than it."""
    browser.open(page_of(SAMPLES[0], "A4", tmp_path, machine=True))
    script = "return [document.documentElement.scrollWidth, innerWidth]"
    wide, screen = browser.measure(script, 135, printing=printing)

    assert wide <= screen


def test_the_measure_can_fail(tmp_path: Path, browser: chromium.Browser) -> None:
    """Two texts put on each other, and a table too wide, are found."""
    page = page_of(SAMPLES[0], "A4", tmp_path, machine=False)
    text = page.read_text(encoding="utf-8")
    doubled = '<text x="20" y="20" font-size="4">over</text>' * 2
    broken = text.replace("</svg><figcaption>", f"{doubled}</svg><figcaption>", 1)
    broken = broken.replace("<h1>", '<div style="width: 400mm">wide</div><h1>')
    page.write_text(broken, encoding="utf-8")
    browser.open(page)
    found = browser.measure(TEXTS, 178)

    assert ["over", "over"] in found["crossing"]
    assert found["wide"]


def test_a_fetch_would_be_noticed(tmp_path: Path, browser: chromium.Browser) -> None:
    """A page that asks for a picture elsewhere shows on the console; the policy says no."""
    page = page_of(SAMPLES[0], "A4", tmp_path, machine=False)
    text = page.read_text(encoding="utf-8")
    page.write_text(text.replace("<h1>", '<img src="http://example.com/x.png"><h1>'))

    assert browser.open(page)
    assert browser.open(page_of(SAMPLES[0], "A4", tmp_path, machine=False)) == []
