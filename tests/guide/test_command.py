"""`cutlayers guide` as a person types it."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cutlayers.cli import main
from tests.folders import files_in

BATH_BOMBS = Path(__file__).parents[2] / "samples" / "bath-bombs.toml"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def test_it_writes_where_it_is_told(tmp_path: Path) -> None:
    """One page, for the machine that the job names."""
    result = run("guide", BATH_BOMBS, "-o", tmp_path / "sheet.html")

    assert result.exit_code == 0, result.output
    assert list(files_in(tmp_path)) == ["sheet.html"]
    text = (tmp_path / "sheet.html").read_text(encoding="utf-8")
    assert "Setup sheet" in text and "210mm 297mm" in text


def test_its_own_name_is_the_job_s(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without -o the page lies where the person is."""
    monkeypatch.chdir(tmp_path)

    assert run("guide", BATH_BOMBS, "--by-hand").exit_code == 0
    assert list(files_in(tmp_path)) == ["bath-bombs-guide.html"]


def test_by_hand_needs_no_machine(tmp_path: Path) -> None:
    """A job that names no profile, or one that is not there, still gets its page."""
    job = tmp_path / "job.toml"
    job.write_text(BATH_BOMBS.read_text().replace('"drag-blade-340"', '"sold-last-year"'))
    page = tmp_path / "page.html"

    assert run("guide", job, "-o", page).exit_code == 2 and not page.exists()
    result = run("guide", job, "--by-hand", "--paper", "letter", "--ruler", "1/16in", "-o", page)
    assert result.exit_code == 0, result.output
    text = page.read_text(encoding="utf-8")
    assert "Setup sheet" not in text and "215.9mm" in text and "rounded to 1/16 in" in text


def test_bad_input_writes_nothing(tmp_path: Path) -> None:
    """A ruler that does not exist, a job that is wrong: one line each, exit code 2."""
    job = tmp_path / "job.toml"
    job.write_text(BATH_BOMBS.read_text().replace("roof_depth = 45", "roof_depth = 20"))
    page = tmp_path / "page.html"

    for words in (("guide", BATH_BOMBS, "--ruler", "1/7in"), ("guide", job)):
        result = run(*words, "-o", page)
        assert result.exit_code == 2
        assert "Traceback" not in result.output and not page.exists()


def test_make_writes_it_too(tmp_path: Path) -> None:
    """The page lies among the files for the machine."""
    result = run("make", BATH_BOMBS, "-o", tmp_path / "out")

    assert result.exit_code == 0, result.output
    assert "Putting it together" in (tmp_path / "out" / "guide.html").read_text(encoding="utf-8")


MEASURED = """\
title = "Kitchen table"
bed = { width = 500, height = 500 }
tools.blade = { type = "drag-blade", offset = 0.25 }
operations.cut.tool = "blade"
materials.board.fold = { take_up = 0.2, tested_on = 2026-03-01 }
"""

TRAY = """\
profile = "kitchen.toml"
[stock.board]
caliper = 1.0
sheet = "A3"
[[piece]]
style = "tray"
stock = "board"
size = { length = 90, width = 60, height = 35 }
"""


def test_by_hand_the_blank_is_of_card_as_it_was_measured(tmp_path: Path) -> None:
    """90 mm inside and two walls whose creases take 0.2 of 1 mm make a base of 90.4 mm, and walls
    of 35.2; to half millimetres 90.5 and twice 35. By half a caliper they would be 91 and twice
    35.5, 162 mm."""
    job, page = tmp_path / "job.toml", tmp_path / "page.html"
    job.write_text(TRAY)
    (tmp_path / "kitchen.toml").write_text(MEASURED)

    result = run("guide", job, "--by-hand", "--ruler", "0.5mm", "-o", page)

    assert result.exit_code == 0, result.output
    text = page.read_text(encoding="utf-8")
    assert "Trim the card to 160.5 mm × 130.5 mm" in text


def test_by_hand_a_profile_that_is_asked_for_must_be_there(tmp_path: Path) -> None:
    """And nothing is written without."""
    page = tmp_path / "page.html"

    assert run("guide", BATH_BOMBS, "--by-hand", "-p", "sold-last-year", "-o", page).exit_code == 2
    assert not page.exists()
