"""Several boxes and cards, two ways to make a box side by side, kits: in a real browser."""

from __future__ import annotations

import re
import shutil
import tomllib

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from cutlayers import lay_out, plan, read_job, read_profile, report_of
from tests.browser.chromium import CHROMIUM
from tests.browser.served import ROOT, Served, job, ready
from tests.kits.test_interrupted import kit

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium")

RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}


def for_everyone(page: Page) -> None:
    """Names, roles and contrast as WCAG 2.2 AA asks, by axe-core; nothing runs out at the side."""
    found = Axe().run(page, options=RULES)
    assert found.response["violations"] == [], found.generate_report()
    width = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    assert width <= 0


def test_a_box_and_a_card_come_and_go(page: Page, served: Served) -> None:
    """By keys alone; the file is as it was before in the end."""
    ready(page, job(served, "several"))
    path = served.folder / "several.toml"
    before = path.read_text()

    page.get_by_role("button", name="Add a box").press("Enter")
    expect(page.get_by_label("Search the styles")).to_be_focused()
    page.get_by_label("Search the styles").fill("counter")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_label("Box", exact=True)).to_have_value("1")
    assert path.read_text().startswith(before)
    assert [each["style"] for each in tomllib.loads(path.read_text())["piece"]] == [
        "gable-carton",
        "counter-tray",
    ]
    page.get_by_label("Another card for this box").fill("gold card")
    page.keyboard.press("Enter")
    expect(page.get_by_label("Stock", exact=True)).to_have_value("gold card")
    card = page.locator("details.group", has_text=re.compile("^Card “gold card”"))
    expect(card).to_have_count(1)
    page.get_by_role("button", name="Copy this one").press("Enter")
    expect(page.get_by_label("Box", exact=True)).to_have_value("2")
    page.get_by_role("button", name="Remove", exact=True).press("Enter")
    expect(page.locator("#piece option")).to_have_count(2)
    page.get_by_role("button", name="Remove", exact=True).press("Enter")
    expect(page.locator(".boxes .one")).to_have_text("Box: favour")
    spare = page.get_by_role("button", name="Nothing is made of it: take it out")
    page.locator("summary", has_text="gold card").press("Enter")
    spare.press("Enter")
    expect(spare).to_have_count(0)
    assert path.read_text() == before


def test_two_sizes_stand_side_by_side(page: Page, served: Served) -> None:
    """Sheets, time, cost and weight are those of the library; nothing is written until one is
    taken, by the keyboard, and that is undone in one step."""
    address = job(served, "sides", **{"grammage = 270 ": "price = 0.4\ngrammage = 270 "})
    path = served.folder / "sides.toml"
    before = path.read_text()
    ready(page, address)
    page.get_by_role("button", name="Compare").press("Enter")
    dialog = page.get_by_role("dialog", name="Compare")
    rows = dialog.locator("#comparing-table tbody tr")
    expect(rows).to_have_count(8)
    take = dialog.get_by_role("button", name="Take it instead")
    expect(take).to_be_disabled()

    dialog.get_by_label("Length", exact=True).fill("none")
    expect(dialog.get_by_role("alert")).to_contain_text("length")
    expect(take).to_be_disabled()
    dialog.get_by_label("Length", exact=True).fill("61")
    expect(take).to_be_enabled()
    expect(rows.nth(1).locator("td").nth(1)).to_contain_text("length 61.0 mm")

    other = path.with_name("61.toml")
    other.write_text(before.replace("length = 60", "length = 61"))
    for column, file in enumerate((path, other)):
        machine = read_profile("drag-blade-340")
        report = report_of(plan(lay_out(read_job(file), machine, quick=True)))
        told = {
            row.locator("th").inner_text(): row.locator("td").nth(column).inner_text()
            for row in rows.all()
        }
        assert told["Sheets"] == "\n".join(f"{s.sheets} × {s.stock}" for s in report.stocks)
        wanted = {
            "Cutting": sum((row.minutes or 0) * row.copies for row in report.sheets),
            "Cost": sum(each.cost or 0 for each in report.stocks),
            "Weight of the sheets": sum(each.weight_g or 0 for each in report.stocks),
        }
        for words, amount in wanted.items():
            nearest = 0.005 if words == "Cost" else 0.5
            shown = float(told[words].removeprefix("about ").split()[0])
            assert shown == pytest.approx(amount, abs=nearest + 1e-9)
        assert told["Does it work?"] == "yes"
    other.unlink()
    for_everyone(page)
    assert path.read_text() == before
    take.press("Enter")
    expect(dialog).to_be_hidden()
    expect(page.locator("#form").get_by_label("Length", exact=True)).to_have_value("61")
    assert path.read_text() == before.replace("length = 60", "length = 61")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#form").get_by_label("Length", exact=True)).to_have_value("60")
    assert path.read_text() == before


def test_another_style_stands_beside_and_is_taken(page: Page, served: Served) -> None:
    ready(page, job(served, "instead"))
    page.get_by_role("button", name="Compare").click()
    dialog = page.get_by_role("dialog", name="Compare")
    rows = dialog.locator("#comparing-table tbody tr")
    dialog.get_by_role("button", name="Another style").click()
    page.get_by_role("button", name=re.compile("^Tuck carton")).click()
    expect(rows.first.locator("td").last).to_have_text("tuck carton")

    dialog.get_by_role("button", name="Take it instead").click()

    expect(page.locator("#flat svg").first).to_be_visible()
    expect(page.locator(".piece title", has_text="glue tab").first).to_have_count(1)
    piece = tomllib.loads((served.folder / "instead.toml").read_text())["piece"][0]
    assert piece["style"] == "tuck-carton"
    assert {key: piece["size"][key] for key in ("length", "width", "height")} == {
        "length": 60,
        "width": 60,
        "height": 62,
    }


def test_a_kit_is_seen_row_by_row(page: Page, served: Served) -> None:
    """By keys, and by the sheet that a row lies on."""
    folder = served.folder
    shutil.copy(kit(folder / "kit", "Ida", "Vit", "Zoe"), folder / "names.toml")
    shutil.copy(folder / "kit" / "guests.csv", folder)
    ready(page, f"{served.address}jobs/names.toml/")
    rows = page.get_by_role("region", name="Rows of the kit")
    expect(rows).to_contain_text("Row 1 of 3")
    expect(rows.get_by_role("button", name="Row before")).to_be_disabled()
    stage = page.locator("#flat").inner_html()

    rows.get_by_role("button", name="Next row").press("Enter")
    expect(rows).to_contain_text("Row 2 of 3")
    assert page.locator("#flat").inner_html() != stage
    rows.get_by_role("button", name="Zoe").press("Enter")
    expect(rows.get_by_role("button", name="Zoe")).to_have_attribute("aria-pressed", "true")
    expect(rows.get_by_role("button", name="Zoe")).to_be_focused()
    expect(page.locator("#verdict")).to_contain_text("all 3 rows fold and close, 3 pieces on")
    page.get_by_role("tab", name="Sheets").click()
    expect(page.locator("#sheets")).to_contain_text("3 rows make 3 pieces on 3 sheets.")
    for_everyone(page)
    page.locator("#sheets").get_by_role("button", name="Vit").click()
    expect(rows).to_contain_text("Row 2 of 3")


def test_what_a_drawing_lacks_is_told_and_its_angles_are_found(page: Page, served: Served) -> None:
    """The sides of samples/candle-tray.svg stand upright: at 90° each it closes."""
    shutil.copy(ROOT / "samples" / "candle-tray.svg", served.folder)
    path = served.folder / "angles.toml"
    path.write_text(
        'profile = "drag-blade-340"\n[stock.card]\ncaliper = 0.3\nsheet = "A4"\n\n'
        '[[piece]]\ndrawing = "candle-tray.svg"    # from Ada\nstock = "card"\n'
    )
    ready(page, f"{served.address}jobs/angles.toml/")
    expect(page.locator("#verdict")).to_contain_text("This box was not folded: 8 folds have no")

    page.get_by_role("button", name="Find the angles").click()

    expect(page.get_by_role("button", name="Find the angles")).to_have_count(0)
    folds = tomllib.loads(path.read_text())["piece"][0]["folds"]
    assert len(folds) == 8 and {abs(each) for each in folds.values()} == {90}
    assert "# from Ada" in path.read_text()
    expect(page.locator("#verdict")).not_to_contain_text("not folded")


@pytest.mark.parametrize(("width", "scheme"), [(360, "dark"), (2560, "light")])
def test_dialogs_are_for_everyone(page: Page, served: Served, width: int, scheme: str) -> None:
    """The gallery closes with Escape, and the focus is where it came from."""
    page.emulate_media(color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]
    page.set_viewport_size({"width": width, "height": 900})
    ready(page, job(served, f"dialogs-{width}"))
    add = page.get_by_role("button", name="Add a box")
    add.press("Enter")
    expect(page.get_by_label("Search the styles")).to_be_focused()
    for_everyone(page)
    page.keyboard.press("Escape")
    expect(add).to_be_focused()
    page.get_by_role("button", name="Compare").press("Enter")
    expect(page.locator("#comparing-table table")).to_be_visible()
    for_everyone(page)
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="Compare")).to_be_focused()
