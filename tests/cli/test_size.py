"""`cutlayers size` as a person types it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cutlayers.cli import main
from cutlayers.job.reading import read_job
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
        "like", BATH_BOMBS, "sphere", "diameter=70", "clearance=2", "--along", "wall", "-o", file
    )
    assert result.exit_code == 0, result.output
    old, new = (dims_of(read_job(each).orders[0].box) for each in (BATH_BOMBS, file))
    assert new.length == 72
    assert new.wall / old.wall == pytest.approx(72 / 60, abs=0.01)


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
        (("from-sheet", "tray", "length=3", "-p", "desktop-a4"), "needs a share for each"),
        (("from-sheet", "tray", "length=3", "width=2", "height=1"), "--profile"),
        ((*FROM_SHEET, "--set", "length=50"), "--set.length is a size"),
        ((*FROM_SHEET, "--set", "height=1", "--set", "tab=8"), "--set.height is a size"),
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
