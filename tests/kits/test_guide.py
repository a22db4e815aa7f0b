"""The page of a kit: what is cut from what, what comes after what, and the lists to tick."""

from __future__ import annotations

import csv
import json
from collections import Counter
from pathlib import Path

import pytest
from click.testing import CliRunner
from lxml import html

from cutlayers.cli import main
from cutlayers.guide.kit_words import numbers
from cutlayers.kits import kinds

JOB = """
title = "Guests"
profile = "drag-blade-340"
kit.file = "guests.csv"
[stock.ivory]
caliper = 0.3
grammage = 250
sheet = "12x12 in"
[stock.blue]
caliper = 0.3
grammage = 250
sheet = "A4"
[[piece]]
name = "{name}"
style = "telescope-box"
stock = { base = "ivory", lid = "blue" }
count = "{boxes}"
size = { length = "{length}", width = 60, height = 30 }
"""

BOXES = [("Ida", 2, 80), ("Vit & <b>Zoë</b>", 1, 80), ("Ann", 3, 90), ("Bo", 1, 80)]
"""Name, boxes, length: four boxes of 80 mm and three of 90."""


def made(folder: Path, job: str = JOB, boxes: list[tuple[str, int, int]] = BOXES) -> Path:
    """A kit's folder of files."""
    folder.mkdir(exist_ok=True)
    with (folder / "guests.csv").open("w", newline="") as file:
        csv.writer(file).writerows([("name", "boxes", "length"), *boxes])
    (folder / "job.toml").write_text(job)
    words = ["make", str(folder / "job.toml"), "-o", str(folder / "out"), "--overwrite"]
    result = CliRunner().invoke(main, words)
    assert result.exit_code == 0, result.output
    return folder / "out"


def page_of(out: Path) -> html.HtmlElement:
    return html.document_fromstring((out / "guide.html").read_text(encoding="utf-8"))


def lists_of(page: html.HtmlElement) -> dict[int, list[tuple[str, ...]]]:
    """The cells of each list's rows, by the sheet's number; a cell to tick is empty."""
    found = {}
    for part in page.xpath("//section[@class='list']"):
        number = int(part.xpath("h3")[0].text_content().split()[1])
        rows = part.xpath(".//tbody/tr")
        found[number] = [tuple(cell.text_content() for cell in row) for row in rows]
        for row in rows:
            names = row.xpath(".//input[@type='checkbox']/@aria-label")
            assert len(set(names)) == 2
    return found


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return made(tmp_path_factory.mktemp("kit"))


def test_every_piece_is_on_the_list_of_its_sheet(out: Path) -> None:
    """Each once, under its number there, as the table of the pieces has it; names are text."""
    with (out / "manifest.csv").open(newline="") as file:
        wanted = Counter(
            (
                int(each["sheet"]),
                each["position"],
                f"{each['name']}, {each['boxes']}, {each['length']}",
            )
            for each in csv.DictReader(file)
        )
    told = Counter(
        (sheet, row[0], row[1]) for sheet, rows in lists_of(page_of(out)).items() for row in rows
    )

    assert told == wanted
    assert sum(told.values()) == 14


def test_the_rest_of_a_row_is_told(out: Path) -> None:
    """A lid and its base are of two cards, so of every row there is more on another sheet."""
    lists = lists_of(page_of(out))
    on = {row[1]: {n for n, rows in lists.items() for r in rows if r[1] == row[1]}
          for rows in lists.values() for row in rows}  # fmt: skip
    for sheet, rows in lists.items():
        for row in rows:
            others = on[row[1]] - {sheet}
            assert row[3] == f"sheet{'s' if len(others) > 1 else ''} {numbers(sorted(others))}"


def test_a_plan_numbers_what_the_list_does(out: Path) -> None:
    """As many numbers as pieces on the little picture of the sheet."""
    for part in page_of(out).xpath("//section[@class='list']"):
        (plan,) = part.xpath(".//svg")
        written = [text.text_content() for text in plan.xpath(".//text")]
        assert written == [row[0].text_content() for row in part.xpath(".//tbody/tr")]


def test_kinds_of_box_are_counted_and_pictured(out: Path) -> None:
    """Two lengths of one piece are two kinds, under the name that the job has for all rows.

    By hand: 2 + 1 + 1 boxes of 80 mm and 3 of 90.
    """
    page = page_of(out)
    kinds_told = [each.text_content() for each in page.xpath("//ul[@class='boxes']/li/b")]
    captions = [each.text_content() for each in page.xpath("//header//figcaption")]

    assert [each.split(" (")[0] for each in kinds_told] == [
        "4 × {name}, length 80 mm",
        "3 × {name}, length 90 mm",
    ]
    assert captions == ["{name}, length 80 mm", "{name}, length 90 mm"]
    assert "Guide for 7 boxes from 4 rows of a table" in page.text_content()


def test_the_order_of_work_adds_up(out: Path) -> None:
    """Sheets and pieces of each card are those of the files; both cards have a setup sheet."""
    page = page_of(out)
    sheets = json.loads((out / "manifest.json").read_text())["sheets"]
    (table,) = page.xpath("//h2[text()='Order of work']/..//table")
    told = {row[0].text: (row[1].text, row[3].text) for row in table.xpath("tbody/tr")}

    assert told == {
        stock: (
            str(sum(sheet["stock"] == stock for sheet in sheets)),
            f"7 × {{name}}: {part}",
        )
        for stock, part in (("ivory", "base"), ("blue", "lid"))
    }
    headings = [each.text_content() for each in page.xpath("//h3")]
    assert {"For ivory", "For blue"} <= set(headings)
    assert "setup sheet for blue" in (out / "report.txt").read_text()


def test_boxes_that_go_together_alike_are_told_once(out: Path) -> None:
    """Under both names."""
    (together,) = page_of(out).xpath("//section[@class='together']")

    assert [each.text_content() for each in together.xpath("h3")] == [
        "{name}, length 80 mm and {name}, length 90 mm"
    ]


def test_many_sizes_are_told_as_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Beyond so many kinds each piece has one place on the page, of the size that is made most
    often, which the page says."""
    monkeypatch.setattr(kinds, "MOST_KINDS", 3)
    boxes = [(f"Guest {n}", 1 + (n == 3), 60 + n) for n in range(5)]
    page = page_of(made(tmp_path, boxes=boxes))

    (told,) = page.xpath("//ul[@class='boxes']/li")
    assert told.text_content().startswith("6 × {name} (telescope-box")
    assert "length 63 mm" in told.text_content()
    assert "{name} comes in 5 sizes" in page.text_content()


def test_one_kind_has_no_needless_words(tmp_path: Path) -> None:
    """One row, one box, one card: nothing is gathered from other sheets, no size tells it apart."""
    plain = JOB.replace('name = "{name}"', 'name = "tray"').replace("telescope-box", "tray")
    plain = plain.replace('{ base = "ivory", lid = "blue" }', '"ivory"')
    page = page_of(made(tmp_path, plain, [("Ida", 1, 80)]))

    assert lists_of(page) == {1: [("1", "1, 80", "tray", "", "")]}
    text = page.text_content()
    assert "more of it on" not in text and "belongs to one row" not in text
    assert "1 × tray: four walls" in text


@pytest.mark.parametrize(
    ("found", "words"),
    [
        ([1], "1"),
        ([1, 2], "1 and 2"),
        ([1, 2, 3], "1 to 3"),
        ([7, 1, 2, 3, 9, 10], "1 to 3, 7, 9 and 10"),
    ],
)
def test_numbers_in_words(found: list[int], words: str) -> None:
    """Runs of three and more by their ends."""
    assert numbers(found) == words
