"""Sheets, kits and lettering as a person asks for them."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from cutlayers.cli import main

ROOT = Path(__file__).parents[2]

JOB = """
profile = "small-laser"
[stock.grey]
caliper = 0.5
grammage = 400
sheet = "A4"
grain = "short"
price = 1.2
[[piece]]
style = "tray"
stock = "grey"
size = { length = 80, width = 50, height = 20 }
"""


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def job(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(text)
    return path


def report(*words: str | Path) -> dict[str, Any]:
    result = run(*words, "--json")
    assert result.exit_code == 0, result.output
    told: dict[str, Any] = json.loads(result.stdout)
    return told


def test_the_report_adds_up_stock_weight_and_cost(tmp_path: Path) -> None:
    """A4 at 400 g/m² weighs 0.210 · 0.297 · 400 = 24.948 g; at 1.20 a sheet."""
    told = report("check", job(tmp_path, JOB + "count = 9\n"))
    sheets = sum(row["copies"] for row in told["sheets"])

    assert told["stocks"] == [
        {
            "stock": "grey",
            "sheets": sheets,
            "weight_g": round(24.948 * sheets, 1),
            "cost": round(1.2 * sheets, 2),
        }
    ]
    laid = sum(row["copies"] * sum(row["pieces"].values()) for row in told["sheets"])
    assert laid == 9


def test_sheets_alike_are_written_once(tmp_path: Path) -> None:
    """Forty trays: few files, and the report says how often to use them."""
    result = run("make", job(tmp_path, JOB + "count = 40\n"), "-o", tmp_path / "out")

    assert result.exit_code == 0, result.output
    assert "sheets from it" in result.output
    assert len(list((tmp_path / "out").glob("sheet-*-cut.dxf"))) <= 2


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        ("fill = true\ncount = 2\n", "piece[1].fill is true beside a count"),
        ('grain = "allong"\n', 'piece[1].grain is "allong"'),
        ('rotation = "thirds"\n', 'piece[1].rotation is "thirds"'),
        ("[sheets]\ngap = -1\n", "sheets.gap is -1 mm; it must be 0 mm to 100 mm"),
        ('[sheets]\nmode = "fast"\n', 'sheets.mode is "fast"; it must be "quick" or "thorough"'),
        ("[sheets]\nsecond = 3\n", "sheets.second is unknown"),
        (
            '[[piece.lettering]]\npanel = "lid"\ntext = "x"\n',
            'piece[1].lettering[1].panel is "lid"; it must be "base"',
        ),
        (
            '[[piece.lettering]]\npanel = "base"\ntext = "x"\nfile = "none.ttf"\n',
            '"none.ttf", which is not there',
        ),
    ],
)
def test_wrong_words_are_told_with_their_place(tmp_path: Path, lines: str, message: str) -> None:
    """One line, exit code 2."""
    result = run("check", job(tmp_path, JOB + lines))

    assert result.exit_code == 2
    assert message in result.output
    assert "Traceback" not in result.output


def test_grain_needs_a_known_grain(tmp_path: Path) -> None:
    """The stock's own key is named."""
    text = JOB.replace('grain = "short"\n', "") + 'grain = "along"\n'

    result = run("check", job(tmp_path, text))

    assert result.exit_code == 2
    assert 'piece[1].grain is "along", but stock.grey.grain is unknown' in result.output


TELLING = """
import signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # it is ignored in the background
from cutlayers.cli import main
from cutlayers.sheets import strip_search
ask = strip_search._answers

def told(*words):
    print("searching", file=sys.stderr, flush=True)
    yield from ask(*words)

strip_search._answers = told
main(sys.argv[1:])
"""
"""The command line that tells when the search begins."""


@pytest.mark.skipif(os.name == "nt", reason="interrupts are sent by POSIX signals here")
def test_an_interrupted_search_still_makes_the_files(tmp_path: Path) -> None:
    """Ctrl-C in the search: the best found until then is made, with a note, and nothing lingers."""
    text = JOB + 'count = 10\n[sheets]\nmode = "thorough"\nseconds = 300\n'
    process = subprocess.Popen(
        [sys.executable, "-c", TELLING, "make", job(tmp_path, text), "-o", tmp_path / "out"],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    assert process.stderr is not None
    assert "searching\n" in process.stderr  # waits for the line
    os.killpg(process.pid, signal.SIGINT)
    output, _ = process.communicate()

    assert process.returncode == 0
    assert "the search for better sheets was stopped" in output
    assert (tmp_path / "out" / "sheet-1-cut.dxf").exists()
