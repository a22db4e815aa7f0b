"""The page in a real browser: from the start page to files, and what happens on the way.

One server and one browser serve all tests; each test has jobs of its own.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from queue import Queue
from threading import Thread

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from cutlayers.page import running, serving
from tests.browser.chromium import CHROMIUM
from tests.browser.conftest import SLOW_MS
from tests.browser.served import ROOT, Served, job, ready

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium")


def test_from_the_start_page_to_files(page: Page, served: Served) -> None:
    """A gable carton round a 58 mm ball, dots on its walls: the files are those of the command."""
    page.goto(served.address)
    page.get_by_label("Your machine").select_option("drag-blade-340")
    page.get_by_label("Search the styles").fill("gable")
    page.get_by_role("button", name="Gable carton").click()
    expect(page.locator("#title")).to_have_text("My gable carton")
    page.get_by_role("button", name="By what goes in").click()
    page.get_by_label("Shape").select_option("sphere")
    page.get_by_label("Diameter", exact=True).fill("58")
    page.get_by_role("button", name="Pattern", exact=True).click()
    expect(page.get_by_text("Dots on every wall")).to_be_visible()
    # The lid covers much of each of the four walls of the base: that is told once.
    hidden = page.locator(".finding .where", has_text="hidden on the finished box")
    expect(hidden.locator("visible=true")).to_have_count(1)
    page.get_by_text("and 3 more like this").click()
    expect(hidden.locator("visible=true")).to_have_count(4)
    page.get_by_role("button", name="Make the files").click()
    expect(page.locator("#making-head")).to_have_text("Your files are ready")
    expect(page.locator(".files li").first).to_have_text("sheet-1-print.pdf to print")
    expect(page.get_by_role("button", name="Open the folder")).to_be_in_viewport()
    expect(page.get_by_text("box.html the box to turn and fold, for a friend")).to_be_visible()

    made = served.folder / "gable-carton"
    subprocess.run(
        [sys.executable, "-m", "cutlayers", "make", "gable-carton.toml", "-o", "by-command"],
        cwd=served.folder,
        env={"PYTHONPATH": str(ROOT), "PATH": "", "HOME": str(served.folder / "home")},
        check=True,
        capture_output=True,
    )
    by_command = served.folder / "by-command"
    names = sorted(each.name for each in by_command.iterdir() if each.is_file())
    assert sorted(each.name for each in made.iterdir() if each.is_file()) == names
    assert {"sheet-1.dxf", "sheet-1.svg", "guide.html", "sheet-1-print.pdf", "box.html"} <= {*names}
    for name in names:
        assert (made / name).read_bytes() == (by_command / name).read_bytes(), name
    piece = tomllib.loads((served.folder / "gable-carton.toml").read_text())["piece"][0]
    assert piece["holds"] == {"shape": "sphere", "diameter": 58, "clearance": 2}
    assert piece["art"][0]["roles"] == "wall"


def test_what_cannot_be_stands_beside_its_field(page: Page, served: Served) -> None:
    """With what is allowed; the file and the box on screen are the last that worked."""
    ready(page, job(served, "refused"))
    before = (served.folder / "refused.toml").read_text()
    shown = page.locator("#flat svg").first.inner_html()
    field = page.get_by_label("Length", exact=True)

    field.fill("5 ells")

    expect(field).to_have_attribute("aria-invalid", "true")
    expect(page.locator("[id='c--piece-0-size-length--wrong']")).to_contain_text("62 mm")
    assert (served.folder / "refused.toml").read_text() == before
    assert page.locator("#flat svg").first.inner_html() == shown
    field.fill("2 3/8 in")
    expect(field).not_to_have_attribute("aria-invalid", "true")
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()
    assert 'length = "2 3/8 in"' in (served.folder / "refused.toml").read_text()


def test_a_finding_leads_to_its_cure_and_back(page: Page, served: Served) -> None:
    ready(page, job(served, "cure", **{"ridge_height = 16": "ridge_height = 16, clearance = 0"}))
    before = (served.folder / "cure.toml").read_text()
    finding = page.locator(".finding", has_text="0.00 mm of room")
    expect(finding).to_have_count(2)  # front and back, left and right

    finding.first.get_by_role("button", name="Mend it").click()

    expect(finding).to_have_count(0)
    assert "clearance = 0.5" in (served.folder / "cure.toml").read_text()
    page.get_by_role("button", name="Undo").click()
    expect(finding).to_have_count(2)
    assert (served.folder / "cure.toml").read_text() == before


def test_a_finding_of_another_box_shows_that_box(page: Page, served: Served) -> None:
    """With the panels that the finding names lit, and its field reached."""
    address = job(served, "another")
    path = served.folder / "another.toml"
    path.write_text(
        f'{path.read_text()}\n[[piece]]\nstyle = "gable-carton"\nstock = "kraft"\n'
        'name = "tight"\nsize = { length = 60, width = 60, height = 62 }\n'
        "options = { clearance = 0 }\n"
    )
    ready(page, address)
    expect(page.get_by_role("button", name="Mend it").first).to_be_visible()

    page.locator(".finding .where", has_text="0.00 mm of room").first.click()

    expect(page.get_by_label("Box", exact=True)).to_have_value("1")
    expect(page.locator(".piece.is-lit")).not_to_have_count(0)
    expect(page.get_by_label("Clearance", exact=True)).to_be_focused()


def test_a_finding_without_a_cure_leads_to_its_place_and_its_control(
    page: Page, served: Served
) -> None:
    """Ink on a strip of the gusset, which the closed ridge hides: the strip is lit in both views,
    and the field of that art is reached in a section that was shut."""
    address = job(served, "hidden")
    path = served.folder / "hidden.toml"
    path.write_text(
        f'{path.read_text()}\n[[piece.art]]\nnet = "lid"\npanels = ["left front strip"]\n'
        'colour = "#0072B2"\n'
    )
    ready(page, address)
    finding = page.locator(".finding", has_text="hidden on the finished box")
    expect(finding.get_by_role("button", name="Mend it")).to_have_count(0)
    before = page.locator("#stage").screenshot()

    finding.locator(".where").click()

    expect(page.locator(".piece.is-lit", has_text="left front strip")).to_have_count(1)
    assert page.evaluate("document.activeElement.dataset.key").startswith('["piece",0,"art",0,')
    assert page.locator("#stage").screenshot() != before


def test_making_can_be_stopped(page: Page, served: Served) -> None:
    """In the midst of a search that would take ten minutes; nothing is written, and another one
    may be made after it."""
    address = job(served, "stopped", **{"count = 6": "count = 9"})
    path = served.folder / "stopped.toml"
    quick = path.read_text()
    path.write_text(f'{quick}\n[sheets]\nmode = "thorough"\nseconds = 600\n')
    ready(page, address)
    page.get_by_role("button", name="Make the files").click()
    expect(page.locator("#progress")).not_to_have_js_property("value", 0)

    page.get_by_role("button", name="Stop", exact=True).click()

    expect(page.locator("#making-head")).to_have_text("Stopped")
    assert not (served.folder / "stopped").exists()
    page.get_by_role("button", name="Done").click()
    path.write_text(quick)
    expect(page.get_by_label("Mode", exact=True)).to_have_value("")
    page.get_by_role("button", name="Make the files").click()
    expect(page.locator("#making-head")).to_have_text("Your files are ready")


def test_an_editor_and_two_pages_stay_in_step(page: Page, served: Served) -> None:
    address = job(served, "both")
    ready(page, address)
    other = page.context.new_page()
    ready(other, address)
    path = served.folder / "both.toml"

    path.write_text(path.read_text().replace("length = 60", "length = 70"))

    for each in (page, other):
        expect(each.get_by_label("Length", exact=True)).to_have_value("70")
    page.get_by_label("Length", exact=True).fill("72")
    expect(other.get_by_label("Length", exact=True)).to_have_value("72")
    path.write_text(path.read_text().replace("[[piece]]", "[[piece"))
    expect(other.locator("#notice")).to_contain_text("line 15")
    other.get_by_role("button", name="Back to what it was").click()
    expect(other.locator("#notice")).to_be_hidden()
    assert "[[piece]]" in path.read_text()
    other.close()


def test_the_keyboard_reaches_everything(page: Page, served: Served) -> None:
    """The box is turned and folded, a length stepped, a style's page opened without a pointer."""
    ready(page, job(served, "keys"))
    stage = page.locator("#stage")
    stage.focus()
    before = stage.screenshot()
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowUp")
    assert stage.screenshot() != before
    page.get_by_label("From flat to folded").focus()
    page.keyboard.press("Home")
    expect(page.locator("#step")).to_have_text("Flat, as it is cut.")
    page.get_by_label("Length", exact=True).focus()
    page.keyboard.press("ArrowUp")
    expect(page.get_by_label("Length", exact=True)).to_have_value("60.5")
    page.keyboard.press("Control+z")
    expect(page.get_by_label("Length", exact=True)).to_have_value("60")
    page.get_by_role("tab", name="Folded and flat").focus()
    page.keyboard.press("ArrowLeft")
    expect(page.get_by_role("tab", name="Sheets")).to_have_attribute("aria-selected", "true")
    expect(page.locator("#sheets img").first).to_be_visible()


def test_a_pressed_panel_lights_up_in_both_views(page: Page, served: Served) -> None:
    ready(page, job(served, "press"))
    expect(page.locator(".piece.is-lit")).to_have_count(0)

    page.locator("#stage").click(position={"x": 240, "y": 330})

    expect(page.locator("#chosen h2")).to_have_text(re.compile(r"^(lid|base): \w+"))
    assert page.locator(".piece.is-lit").count() >= 1
    page.locator("#chosen").get_by_role("button", name="Colour").click()
    expect(page.get_by_text(re.compile("^Colour on "))).to_be_visible()


def test_a_sheet_is_worked_before_your_eyes(page: Page, served: Served) -> None:
    """By keys alone: seconds, lines, and near enough to see a quarter of a millimetre of blade; the
    time stays while the job changes. Names, roles and contrast by axe-core."""
    page.emulate_media(reduced_motion="reduce")
    ready(page, job(served, "worked"))
    page.get_by_role("tab", name="Sheets").click()
    page.get_by_role("button", name="See it worked").first.press("Enter")
    expect(page.get_by_role("button", name="Play")).to_be_focused()
    time = page.get_by_role("slider", name="Time")
    end = float(time.get_attribute("max") or 0)
    minutes = tuple(map(int, divmod(end, 60)))
    expect(time).to_have_attribute("aria-valuetext", re.compile(f"^0:00 of {minutes[0]}:"))
    done = page.locator(".worked .done:not([display])")
    expect(done).to_have_count(0)

    time.press("End")
    expect(time).to_have_attribute("aria-valuetext", re.compile("finished$"))
    lines = done.count()
    assert lines == page.locator(".worked .done").count() > 0
    page.get_by_role("button", name="The line before").press("Enter")
    expect(time).to_have_attribute("aria-valuetext", re.compile(f"cut, blade: line {lines} of"))
    expect(done).to_have_count(lines)
    for _ in range(4):
        time.press("Shift+ArrowRight")
    page.get_by_label("stay with the tool").check()
    blade = page.locator(".worked .blade")
    near = page.get_by_role("button", name="Nearer").last
    for _ in range(14):
        near.press("Enter")
    box, stage = blade.bounding_box(), page.locator("#sheets .sheet").bounding_box()
    assert box and stage
    assert max(box["width"], box["height"]) > 40
    assert stage["x"] < box["x"] and box["x"] + box["width"] < stage["x"] + stage["width"]
    assert stage["y"] < box["y"] and box["y"] + box["height"] < stage["y"] + stage["height"]
    rules = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
    found = Axe().run(page, options=rules)
    assert found.response["violations"] == [], found.generate_report()

    now = time.input_value()
    page.get_by_label("Length", exact=True).fill("61")
    expect(time).not_to_have_attribute("max", str(end))
    assert time.input_value() == now
    page.get_by_role("button", name="Back to the picture").click()
    expect(page.get_by_role("button", name="See it worked").first).to_be_focused()


@pytest.mark.parametrize(
    ("width", "scheme"), [(360, "light"), (360, "dark"), (1024, "dark"), (2560, "light")]
)
def test_it_is_for_everyone(page: Page, served: Served, width: int, scheme: str) -> None:
    """Nothing runs out at the side; names, roles and contrast as WCAG 2.2 AA asks, by axe-core."""
    page.emulate_media(color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]
    page.set_viewport_size({"width": width, "height": 900})
    rules = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
    for address in (served.address, job(served, "wide")):
        page.goto(address)
        page.wait_for_load_state()
        if "jobs" in address:
            expect(page.locator("#findings-head")).to_be_visible()
            expect(page.locator("#verdict")).not_to_be_empty()
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        found = Axe().run(page, options=rules)
        assert found.response["violations"] == [], found.generate_report()


def test_a_lost_connection_is_taken_up_again(driven: Browser, served: Served) -> None:
    """What an editor saved while nobody heard of it is shown then, and nothing has ended."""
    address = job(served, "lost")
    with driven.new_context() as context:
        found = context.new_page()
        asked = iter([True])
        found.route(
            "**/events",
            lambda route: route.abort() if next(asked, False) else route.continue_(),
        )
        ready(found, address)
        job(served, "lost", Bath="Wool")

        expect(found.locator("h1")).to_contain_text("Wool", timeout=SLOW_MS)
        expect(found.locator("body")).not_to_have_class(re.compile("is-ended"))


def test_it_ends_when_the_page_is_closed(
    driven: Browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a grace in which a page may be loaded anew, here none."""
    monkeypatch.setattr(running, "GRACE_S", 0.0)
    shutil.copy(ROOT / "samples" / "bath-bombs.toml", tmp_path)
    addresses: Queue[str] = Queue()
    server = Thread(
        target=serving.serve,
        args=(tmp_path, "bath-bombs.toml", serving.listening(0), addresses.put),
        daemon=True,
    )
    server.start()
    context = driven.new_context()
    ready(context.new_page(), addresses.get(timeout=60))

    context.close()

    server.join(60)
    assert not server.is_alive()


def test_lines_and_folds_of_a_drawing_are_said_by_pressing_them(page: Page, served: Served) -> None:
    """A fold without an angle from its finding, a line in the drawing, a fold by the keyboard."""
    shutil.copy(ROOT / "samples" / "candle-tray.svg", served.folder)
    drawn = served.folder / "drawn.toml"
    drawn.write_text(DRAWN)
    ready(page, f"{served.address}jobs/drawn.toml/")
    said = page.locator("#chosen")

    page.get_by_role("button", name=re.compile("1 fold has no angle")).click()
    expect(said.get_by_role("heading")).to_have_text("Fold panel 6 | panel 8")
    expect(page.get_by_label("How far it turns")).to_be_focused()
    expect(page.locator(".mark.is-marked title")).to_have_text(re.compile("nobody has said"))
    page.keyboard.type("45")
    page.keyboard.press("Enter")
    expect(said).to_contain_text("45° away from you, a mountain")
    said.get_by_role("button", name="Towards you (valley)").click()
    expect(said).to_contain_text("45° towards you, a valley")
    assert tomllib.loads(drawn.read_text())["piece"][0]["folds"]["panel 6 | panel 8"] == -45
    axe = Axe().run(page)
    assert axe.response["violations"] == [], axe.generate_report()

    # The middle of line 6, the lower edge.
    page.locator('.mark[data-line="6"] .hold').click(force=True)
    expect(said.get_by_role("heading")).to_have_text("Line 6")
    expect(said.get_by_role("button", name="Cut")).to_have_attribute("aria-pressed", "true")
    said.get_by_role("button", name="Perforate").click()
    expect(said.get_by_role("button", name="Perforate")).to_have_attribute("aria-pressed", "true")
    assert tomllib.loads(drawn.read_text())["piece"][0]["lines"]["perforate"] == [{"numbers": [6]}]
    page.get_by_role("button", name="Undo").click()
    expect(said.get_by_role("button", name="Cut")).to_have_attribute("aria-pressed", "true")

    page.locator("#pick-fold").focus()
    page.keyboard.type("candles | panel 9")
    page.keyboard.press("Enter")
    expect(said.get_by_role("heading")).to_have_text("Fold candles | panel 9")


def test_a_drawing_in_the_folder_becomes_a_job(page: Page, served: Served) -> None:
    """One that does not say how large it is: that is asked for."""
    (served.folder / "from-ada.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 80">'
        '<g fill="none" stroke="#000"><path d="M10 10H100V60H10Z"/><path d="M40 10V60"/></g></svg>'
    )
    page.goto(served.address)
    page.get_by_role("button", name="from-ada.svg").click()
    page.get_by_label("from-ada.svg does not say how large it is").select_option("mm")
    page.get_by_role("button", name="Make a box of it").click()

    expect(page.locator("#title")).to_have_text("from-ada")
    expect(page.get_by_label("Unit")).to_have_value("mm")
    expect(page.locator(".mark.is-doubtful[data-fold]")).to_have_count(1)


DRAWN = """\
title = "Drawn"
profile = "drag-blade-340"

[stock.card]
caliper = 0.3
sheet = "A4"

[[piece]]
drawing = "candle-tray.svg"
stock = "card"

[piece.folds]
"panel 1 | panel 4" = 90
"panel 2 | candles" = 90
"panel 3 | panel 6" = 90
"panel 4 | candles" = 90
"panel 4 | panel 7" = 90
"candles | panel 6" = 90
"candles | panel 9" = 90
"""
"""The last fold of samples/candle-tray.svg is left to be said."""
