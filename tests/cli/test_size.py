"""`cutlayers size` as a person types it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cutlayers.cli import main
from cutlayers.job.reading import read_job
from cutlayers.profile.search import FOLDER_VARIABLE
from tests.origins import dims_of

ROOT = Path(__file__).parents[2]
BATH_BOMBS = ROOT / "samples" / "bath-bombs.toml"


FROM_SHEET = ("from-sheet", "tray", "length=3", "width=2", "height=1", "-p", "desktop-a4")


def size(*words: str | Path) -> Result:
    return CliRunner().invoke(main, ["size", *(str(word) for word in words)])


def test_for_item_answers_in_mm_and_inches() -> None:
    """60 mm is 2 3/8 in rounded up to 1/16 in, so that the thing still fits."""
    result = size("for-item", "tray", "sphere", "diameter=58", "clearance=2")

    assert result.exit_code == 0, result.output
    assert "length        60.0 mm   2 3/8 in" in result.output


def test_inches_go_in_as_well() -> None:
    """2 1/4 in and 1/8 in of clearance make 60.325 mm."""
    result = size("for-item", "tray", "sphere", "diameter=2 1/4 in", "clearance=1/8 in", "--json")

    found = json.loads(result.output)["size_mm"]
    assert found["length"] == pytest.approx(2.375 * 25.4, abs=0.1)


def test_a_job_is_written_and_never_over_another(tmp_path: Path) -> None:
    """It holds the size that was printed."""
    file = tmp_path / "tray.toml"
    words = ("for-item", "tray", "sphere", "diameter=58", "--set", "tab=8", "-o", file)
    result = size(*words, "--json")

    assert result.exit_code == 0, result.output
    dims = dims_of(read_job(file).orders[0].box)
    assert json.loads(result.output)["size_mm"]["height"] == dims.height
    assert dims.tab == 8
    again = size(*words)
    assert again.exit_code == 2
    assert "is there already" in again.output


def test_from_sheet_rounds_inches_down() -> None:
    """So that the box still comes out of the sheet."""
    result = size(*FROM_SHEET, "--json")
    assert result.exit_code == 0, result.output
    mm = json.loads(result.output)["size_mm"]["length"]
    shown = size(*FROM_SHEET)
    line = next(line for line in shown.output.splitlines() if line.strip().startswith("length"))
    whole, fraction = line.split("mm")[1].removesuffix("in").split()
    top, bottom = fraction.split("/")
    assert 0 <= mm - (int(whole) + int(top) / int(bottom)) * 25.4 < 25.4 / 16


def test_like_scales_a_box_of_a_job(tmp_path: Path) -> None:
    """The sample's carton for a larger bath bomb, its walls scaled along."""
    file = tmp_path / "larger.toml"
    result = size(
        "like",
        BATH_BOMBS,
        "sphere",
        "diameter=70",
        "clearance=2",
        "--along",
        "lid_height",
        "-o",
        file,
    )
    assert result.exit_code == 0, result.output
    old, new = (dims_of(read_job(each).orders[0].box) for each in (BATH_BOMBS, file))
    assert new.length == 72
    assert new.lid_height / old.lid_height == pytest.approx(72 / 60, abs=0.01)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("for-item", "box", "sphere", "diameter=5"), "is no style"),
        (("for-item", "tray", "ball", "diameter=5"), 'holds.shape is "ball"'),
        (("for-item", "tray", "sphere", "radius=5"), "holds.radius is not a measure"),
        (("for-item", "tray", "sphere", "58"), "it must be NAME=VALUE"),
        (("for-item", "tray", "sphere", "diameter=5", "diameter=6"), "given twice"),
        (("for-item", "tray", "sphere", "diameter=wide"), "diameter is"),
        (("for-item", "tray", "sphere", "diameter=5", "--sheet", "B9"), "--sheet"),
        (("for-item", "tray", "sphere", "diameter=5", "--caliper", "0"), "--caliper"),
        (("for-item", "tray", "sphere", "diameter=5", "--set", "tba=3"), "Did you mean tab?"),
        (("for-item", "tray", "sphere", "diameter=5", "--set", "tab=300"), "tab is 300 mm"),
        (("for-item", "tray", "sphere", "diameter=5", "--set", f"tab={'[' * 50_000}"), "tab is"),
        (("for-item", "tray", "sphere", "diameter=5", "--set", f"tab={'9' * 5_000}"), "tab is"),
        (("for-item", "tray", "sphere", "diameter=5", "--set", "tab=5\nx=3"), "tab is"),
        (("from-sheet", "tray", "length=3", "-p", "desktop-a4"), "needs a share for each"),
        (("from-sheet", "tray", "length=3", "width=2", "height=1"), "--profile"),
        ((*FROM_SHEET, "--set", "length=50"), "--set.length has a share too"),
        ((*FROM_SHEET, "--set", "height=1", "--set", "tab=8"), "--set.height has a share too"),
        (
            ("from-sheet", "tray", "width=2", "-p", "desktop-a4", "--set", "length=9"),
            "height is missing; tray needs a share for each of width, height",
        ),
        (("like", BATH_BOMBS, "sphere", "diameter=5", "--piece", "x"), '--piece is "x"'),
        (("like", BATH_BOMBS, "sphere", "diameter=5", "--along", "x"), "options.x"),
    ],
)
def test_bad_input_is_one_clear_refusal(words: tuple[str | Path, ...], message: str) -> None:
    """Exit code 2, no traceback."""
    result = size(*words)

    assert result.exit_code == 2, result.output
    assert message in result.output
    assert "Traceback" not in result.output


INCHES = """# Twelve for the stall
title = "Stall"
units = "in"
profile = "drag-blade-340"
[stock.card]
caliper = "0.3 mm"
sheet = "12x12 in"
[stock.paper]
caliper = "0.1 mm"
sheet = "12x12 in"
[[piece]]
name = "plain"
style = "tray"
stock = "card"
size = { length = 3, width = 2, height = 1 }
[[piece]]
name = "favour"  # the one with the band
style = "tray"
stock = "card"
count = 12
guides = true
size = { length = "2 1/2", width = "2 1/2", height = 1 }
[[piece.art]]
panels = "base"
colour = "#E69F00"
[[piece.facing]]
panels = "front"
stock = "paper"
border = "1/8"
art = [{ colour = "#56B4E9" }]
[[piece.lettering]]
panel = "base"
text = "Lavender"
height = "1/4"
"""


SOAP = ("cylinder", "diameter=3", "height=1")


def test_like_reads_bare_numbers_as_the_job_does(tmp_path: Path) -> None:
    """A soap ⌀ 3 in with 1/16 in to spare takes a box of 3 1/16 in, and 25.4 mm to the inch."""
    job = tmp_path / "stall.toml"
    job.write_text(INCHES)
    words = ("--piece", "favour", "cylinder", "diameter=3", "height=1", "clearance=1/16")
    result = size("like", job, *words, "--json")

    assert result.exit_code == 0, result.output
    assert json.loads(result.output)["size_mm"]["length"] == pytest.approx(3.0625 * 25.4)


def test_like_keeps_all_of_the_job_but_the_size(tmp_path: Path) -> None:
    """Only the line of its size changes, to sixteenths; elsewhere it is the same file."""
    job, file = tmp_path / "stall.toml", tmp_path / "larger" / "stall.toml"
    job.write_text(INCHES)
    result = size("like", job, "--piece", "favour", *SOAP, "-o", file)

    assert result.exit_code == 0, result.output
    changed = [line for line in file.read_text().splitlines() if line not in INCHES.splitlines()]
    assert changed == ['size = { length = 3, width = 3, height = "1 1/4" }']
    order = read_job(file).orders[1]
    assert (order.name, order.count, len(order.facings)) == ("favour", 12, 1)
    assert read_job(file).unit == "in"


def test_like_tells_what_finds_no_place_any_more(tmp_path: Path) -> None:
    """Letters of 1/4 in, eight of them, are wider than a base of 1 1/4 in."""
    job, file = tmp_path / "stall.toml", tmp_path / "smaller.toml"
    job.write_text(INCHES)
    result = size(
        "like", job, "--piece", "favour", "cylinder", "diameter=1 1/4", "height=1/2", "-o", file
    )

    assert result.exit_code == 0, result.output
    assert "left out of it: " in result.output
    assert "lettering" in result.output
    kept = read_job(file).orders[1]
    assert len(kept.facings) == 1
    assert "Lavender" not in file.read_text()


def test_like_finds_pictures_from_the_new_folder(tmp_path: Path) -> None:
    """A font or picture named from where the job is, is named anew from where the new one is."""
    (tmp_path / "wave.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm">'
        '<rect width="5" height="5" fill="#000"/></svg>'
    )
    job, file = tmp_path / "stall.toml", tmp_path / "there" / "stall.toml"
    job.write_text(INCHES.replace('colour = "#E69F00"', 'file = "wave.svg"'))
    result = size("like", job, "--piece", "favour", *SOAP, "-o", file)

    assert result.exit_code == 0, result.output
    assert 'file = "../wave.svg"' in file.read_text()
    assert read_job(file).orders[1].art


def test_a_box_that_is_too_large_for_the_sheet_is_told(tmp_path: Path) -> None:
    """300 × 200 mm inside is more than A4 once its walls of 90 mm lie flat beside it."""
    words = ("for-item", "tray", "cuboid", "length=300", "width=200", "height=90")
    for profile in ((), ("-p", "desktop-a4")):
        result = size(*words, *profile, "-o", tmp_path / f"tray{len(profile)}.toml")
        assert result.exit_code == 0, result.output
        assert "but it does not come out of such sheets" in result.output
    assert "does not come out" not in size(*words, "--sheet", "1 x 1 m").output


def test_a_lid_that_is_too_large_for_the_sheet_is_cut_in_parts(tmp_path: Path) -> None:
    """Round a mug of 82 mm the lid is more than 344 mm long, and its half 184: the sheet has 304.8.
    Whoever says how many parts gets those."""
    mug = ("cylinder", "diameter=82 mm", "height=92 mm")
    words = ("for-item", "gable-carton", *mug, "--sheet", "12x12 in")
    result = size(*words, "--units", "in", "-o", tmp_path / "mug.toml")
    kept = size(*words, "--units", "in", "--set", "lid_parts=1")

    assert "with lid_parts = 2, since the lid in one is larger than a sheet" in result.output
    assert "does not come out" not in result.output
    assert "lid_parts = 2" in (tmp_path / "mug.toml").read_text()
    said = (
        r"but it does not come out of such sheets: lid is 13 13/16 in × .* sheet of 12 in × 12 in"
    )
    assert re.search(said, kept.output)


def test_a_thing_is_told_in_the_unit_of_bare_numbers() -> None:
    """⌀ 3 in and 1/16 in are what was said; 82 mm is 3 15/64 in (3.2283) to a sixty-fourth."""
    told = size("for-item", "tray", *SOAP, "clearance=1/16", "--units", "in").output
    mixed = size("for-item", "tray", "sphere", "diameter=82 mm", "--units", "in").output
    metric = size("for-item", "tray", "sphere", "diameter=82").output

    assert told.startswith("the smallest tray for a cylinder ⌀ 3 × 1 in and 1/16 in of clearance,")
    assert mixed.startswith("the smallest tray for a sphere ⌀ 3 15/64 in,")
    assert metric.startswith("the smallest tray for a sphere ⌀ 82.0 mm,")


def test_like_says_that_a_lid_in_two_parts_comes_out_of_the_sheet(tmp_path: Path) -> None:
    """The lid for ⌀ 82 mm is longer than 12 in, and half of it is not."""
    job = tmp_path / "mug.toml"
    job.write_text(
        'title = "Mug"\nunits = "in"\nstock.card = { caliper = 0.012, sheet = "12x12 in" }\n'
        '[[piece]]\nstyle = "gable-carton"\nstock = "card"\n'
        "size = { length = 2, width = 2, height = 2 }\n"
    )
    told = size("like", job, "cylinder", "diameter=82 mm", "height=92 mm").output

    assert "but it does not come out of such sheets: lid is 1" in told
    assert "or cut the lid in parts: options.lid_parts = 2" in told


def test_sixteenths_are_written_where_bare_numbers_are_inches(tmp_path: Path) -> None:
    """3 1/8 in is 79.375 mm, which in 0.3 mm card is no sixteenth before it is rounded up."""
    file = tmp_path / "tray.toml"
    words = ("tray", "cuboid", "length=3", "width=2", "height=1", "clearance=0.11")
    result = size("for-item", *words, "--units", "in", "--sheet", "12x12", "-o", file)

    assert result.exit_code == 0, result.output
    dims = dims_of(read_job(file).orders[0].box)
    for length in (dims.length, dims.width, dims.height):
        assert length / 25.4 * 16 == pytest.approx(round(length / 25.4 * 16), abs=1e-9)
    assert dims.length >= 3.11 * 25.4


def test_from_sheet_takes_the_default_profile_and_a_size_that_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A tray 10 mm high: its blank is as long and as wide as its base and two walls."""
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    assert CliRunner().invoke(main, ["profile", "default", "desktop-a4"]).exit_code == 0
    result = size("from-sheet", "tray", "length=3", "width=2", "--set", "height=10", "--json")

    assert result.exit_code == 0, result.output
    found = json.loads(result.output)["size_mm"]
    assert found["height"] == 10
    assert found["length"] / found["width"] == pytest.approx(1.5, abs=0.01)
    assert 150 < found["length"] < 270


MEASURED = """\
title = "Kitchen table"
bed = { width = 500, height = 500 }
tools.blade = { type = "drag-blade", offset = 0.25 }
operations.cut.tool = "blade"
tools.stylus = { type = "stylus" }
operations.score.tool = "stylus"
materials.board.fold = { take_up = 0.2, tested_on = 2026-03-01 }
"""


@pytest.mark.parametrize(("words", "share"), [((), 0.5), (("--material", "board"), 0.2)])
def test_the_largest_box_counts_creases_as_they_were_measured(
    tmp_path: Path, words: tuple[str, ...], share: float
) -> None:
    """A tray of a sheet is largest where its blank fills it, base and two walls. 1 mm board whose
    creases take a fifth instead of half leaves it 4 · 0.3 mm less of blank for the same inside, so
    the box is larger; and the written job makes that box."""
    (tmp_path / "mine.toml").write_text(MEASURED)
    file = tmp_path / "tray.toml"
    asked = ("from-sheet", "tray", "length=3", "width=2", "height=1", "--caliper", "1")
    result = size(*asked, "-p", tmp_path / "mine.toml", *words, "-o", file, "--json")

    assert result.exit_code == 0, result.output
    found = json.loads(result.output)["size_mm"]
    job = read_job(file, take_up={"board": 0.2})
    left, _, right, _ = job.orders[0].box.nets[0].bounds
    folded = 2 * 2 * share * 1.0
    assert right - left == pytest.approx(found["length"] + 2 * found["height"] + folded, abs=0.02)
    assert job.stocks["card"].material == (words[1] if words else None)


def test_a_material_must_be_the_profile_s(tmp_path: Path) -> None:
    """The nearest one is named; and without a profile there is none to know it."""
    (tmp_path / "mine.toml").write_text(MEASURED)
    thing = ("for-item", "tray", "sphere", "diameter=58", "--material", "bord")

    wrong = size(*thing, "-p", tmp_path / "mine.toml")
    assert wrong.exit_code == 2 and "board" in wrong.output
    assert size(*thing).exit_code == 2


def test_the_smallest_box_for_a_thing_is_of_card_as_it_was_measured(tmp_path: Path) -> None:
    """A snug cuboid takes the same inside whatever its creases take; the blank is 4 · 0.3 mm
    shorter."""
    (tmp_path / "mine.toml").write_text(MEASURED)
    blanks = []
    for words in ((), ("--material", "board")):
        file = tmp_path / f"tray{len(words)}.toml"
        asked = ("for-item", "tray", "cuboid", "length=80", "width=50", "height=30")
        result = size(*asked, "--caliper", "1", "-p", tmp_path / "mine.toml", *words, "-o", file)
        assert result.exit_code == 0, result.output
        job = read_job(file, take_up={"board": 0.2})
        left, _, right, _ = job.orders[0].box.nets[0].bounds
        dims = dims_of(job.orders[0].box)
        blanks.append(right - left - dims.length - 2 * dims.height)

    assert blanks == pytest.approx([2.0, 0.8], abs=0.02)


def test_like_takes_the_new_thing_into_a_job_that_is_made_for_one(tmp_path: Path) -> None:
    """A piece that holds a ball and has no size of its own gets both."""
    job, file = tmp_path / "ball.toml", tmp_path / "larger.toml"
    job.write_text(
        INCHES.partition("[[piece]]")[0]
        + """[[piece]]
style = "tray"
stock = "card"
holds = { shape = "sphere", diameter = 2 }
"""
    )
    result = size("like", job, "sphere", "diameter=3", "clearance=1/16", "-o", file)

    assert result.exit_code == 0, result.output
    (order,) = read_job(file).orders
    assert order.holds is not None
    assert order.holds.extents == pytest.approx((76.2, 76.2, 76.2))
    assert dims_of(order.box).length >= 3.0625 * 25.4
