"""The file with a box for a friend, opened from the disk without any network."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from cutlayers import draw, lay_out, plan, read_job, read_profile, render
from tests.browser.chromium import CHROMIUM
from tests.browser.conftest import SLOW_MS

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium")

JOB = """
title = "Salt & <b>soap</b>"
[stock.kraft]
caliper = 0.3
sheet = "12x12 in"
colour = "#C8A06A"
[[piece]]
name = "favour"
style = "gable-carton"
stock = "kraft"
size = { length = 60, width = 60, height = 62 }
[[piece.art]]
roles = "wall"
pattern = "dots"
ink = "#0072B2"
repeat = 8
[[piece]]
name = "tray"
style = "tray"
stock = "kraft"
size = { length = 60, width = 40, height = 20 }
"""


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """As `make` writes it."""
    folder = tmp_path_factory.mktemp("friend")
    (folder / "job.toml").write_text(JOB)
    layout = lay_out(read_job(folder / "job.toml"), read_profile("drag-blade-340"), quick=True)
    found = folder / "box.html"
    found.write_bytes(render(draw(plan(layout)))["box.html"])
    return found


@pytest.fixture
def page(driven: Browser, file: Path) -> Iterator[Page]:
    """On a phone that is off line; it says nothing on the console and asks for nothing."""
    context = driven.new_context(
        viewport={"width": 360, "height": 740}, has_touch=True, offline=True
    )
    context.set_default_timeout(SLOW_MS)
    found = context.new_page()
    said: list[str] = []
    found.on("pageerror", lambda error: said.append(str(error)))
    found.on("console", lambda m: None if "GL Driver Message" in m.text else said.append(m.text))
    asked: list[str] = []
    found.on("request", lambda request: asked.append(request.url))
    found.goto(file.as_uri())
    expect(found.locator("#step")).to_have_text("Finished.")
    yield found
    context.close()
    assert said == []
    assert [url for url in asked if not url.startswith("data:")] == [file.as_uri()]


def test_it_folds_by_the_slider_and_by_its_steps(page: Page) -> None:
    stage = page.locator("#stage")
    finished = stage.screenshot()
    page.get_by_label("From flat to folded").focus()

    page.keyboard.press("Home")

    expect(page.locator("#step")).to_have_text("Flat, as it is cut.")
    flat = stage.screenshot()
    assert flat != finished
    page.get_by_role("button", name="Set the lid over the base.").tap()
    expect(page.locator("#step")).to_have_text("Set the lid over the base.")
    expect(page.locator("[aria-current=step]")).to_have_text("Set the lid over the base.")
    assert stage.screenshot() not in (flat, finished)


def test_it_turns_by_finger_and_by_key(page: Page) -> None:
    stage = page.locator("#stage")
    before = stage.screenshot()
    box = stage.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 100, box["y"] + 150)
    page.mouse.down()
    page.mouse.move(box["x"] + 180, box["y"] + 190)
    page.mouse.up()
    turned = stage.screenshot()
    assert turned != before

    page.get_by_role("button", name="First view").tap()
    assert stage.screenshot() == before
    stage.focus()
    page.keyboard.press("ArrowUp")

    assert stage.screenshot() != before


def test_who_wants_less_motion_sees_none(page: Page) -> None:
    """It is flat at once, and opens by itself only otherwise."""
    page.emulate_media(reduced_motion="reduce")

    page.get_by_role("button", name="Open it").tap()

    assert page.locator("#step").text_content() == "Flat, as it is cut."


def test_each_box_of_a_job_is_there(page: Page) -> None:
    page.get_by_label("Box", exact=True).select_option("tray")

    expect(page.get_by_role("heading", name="tray")).to_be_visible()
    expect(page.get_by_role("heading", name="favour")).to_be_hidden()
    expect(page.get_by_text("length 60 mm, width 40 mm, height 20 mm")).to_be_visible()
    expect(page.locator("h1")).to_have_text("Salt & <b>soap</b>")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_is_for_everyone(page: Page, scheme: str) -> None:
    """Nothing runs out at the side; names, roles and contrast as WCAG 2.2 AA asks, by axe-core."""
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    rules = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}

    found = Axe().run(page, options=rules)

    assert found.response["violations"] == [], found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_without_scripts_there_is_a_picture_and_all_that_is_told(
    driven: Browser, file: Path
) -> None:
    """As a mail program may show it."""
    with driven.new_context(java_script_enabled=False) as context:
        found = context.new_page()
        found.goto(file.as_uri())

        expect(found.locator("#still svg").first).to_be_visible()
        expect(found.get_by_role("heading", name=re.compile("^(favour|tray)$"))).to_have_count(2)
        expect(found.locator("#time")).to_be_hidden()
