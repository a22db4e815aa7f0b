"""What a job file may not say, as facts: the place, what was found, what is allowed, what was
meant. The limits are those of the table of dimensions in `test_reading.py` and of the job file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from cutlayers.cli import main
from cutlayers.job.reading import read_job
from cutlayers.telling.errors import JobError
from cutlayers.telling.refusals import Span
from tests.job.test_reading import JOB, STYLES, written

SIZE, OPTIONS, KRAFT = ("piece", 0, "size"), ("piece", 0, "options"), ("stock", "kraft")
PIECE = ("piece", 0)
LENGTH, CALIPER = Span(12, 2000, "mm"), Span(0.02, 5, "mm")
WHOLE, LEAN = Span(3, 12, whole=True), Span(0, 60, "degrees")
COUNT, ENDS = Span(1, 10000, whole=True), ("open", "tuck", "lock")
ONE_LINE = "a text on one line without control characters"

# What is replaced in JOB, by what, then place, found, allowed, nearest.
REFUSED: list[tuple[str, str, tuple[str | int, ...], Any, Any, str | None]] = [
    ("length = 60", "length = 4", (*SIZE, "length"), 4, LENGTH, None),
    ("length = 60", "length = -60", (*SIZE, "length"), -60, LENGTH, None),
    ("length = 60", "length = true", (*SIZE, "length"), True, LENGTH, None),
    ("length = 60", 'length = "1 mm"', (*SIZE, "length"), "1 mm", LENGTH, None),
    ("length = 60", 'length = "wide"', (*SIZE, "length"), "wide", None, None),
    ("sides = 4", "sides = 2", (*SIZE, "sides"), 2, WHOLE, None),
    ("sides = 4", "sides = 4.5", (*SIZE, "sides"), 4.5, WHOLE, None),
    ("tab = 10", "tab = 61", (*OPTIONS, "tab"), 61, Span(4, 60, "mm"), None),
    ("tab = 10", "lean = 61", (*OPTIONS, "lean"), 61, LEAN, None),
    ("tab = 10", 'lean = "15"', (*OPTIONS, "lean"), "15", LEAN, None),
    ("tab = 10", 'ends = "tack"', (*OPTIONS, "ends"), "tack", ENDS, "tuck"),
    ("tab = 10", "ends = 1", (*OPTIONS, "ends"), 1, ENDS, None),
    ("tab = 10", "slots = 5", (*OPTIONS, "slots"), 5, Span(most=4), None),
    ("count = 6", "count = 0", (*PIECE, "count"), 0, COUNT, None),
    ("count = 6", "count = 1.5", (*PIECE, "count"), 1.5, COUNT, None),
    ("count = 6", r'name = "a\nb"', (*PIECE, "name"), "a\nb", ONE_LINE, None),
    ('style = "sleeve"', 'style = "sleve"', (*PIECE, "style"), "sleve", ("sleeve",), "sleeve"),
    ('stock = "kraft"', 'stock = "craft"', (*PIECE, "stock"), "craft", ("kraft",), "kraft"),
    ("0.32", "0.001", (*KRAFT, "caliper"), 0.001, CALIPER, None),
    ("0.32", "nan", (*KRAFT, "caliper"), "nan", CALIPER, None),
    ('"A4"', "[10, 300]", (*KRAFT, "sheet"), 10, Span(20, 2000, "mm"), None),
]


@pytest.mark.parametrize(
    ("old", "new", "place", "found", "allowed", "nearest"), REFUSED, ids=[row[1] for row in REFUSED]
)
def test_a_refusal_is_facts(
    old: str,
    new: str,
    place: tuple[str | int, ...],
    found: object,
    allowed: object,
    nearest: str | None,
    tmp_path: Path,
) -> None:
    """One refusal with all of them, in the file that was read."""
    file = written(tmp_path, JOB.replace(old, new, 1))

    with pytest.raises(JobError) as caught:
        read_job(file, STYLES)

    (refusal,) = caught.value.refusals
    assert (refusal.file, refusal.place) == (str(file), place)
    assert str(refusal.found) == str(found)  # nan is not equal to itself
    assert (refusal.allowed, refusal.nearest) == (allowed, nearest)


@pytest.mark.parametrize(
    ("old", "new", "fault", "place", "nearest"),
    [
        ("caliper = 0.32", "", "missing", (*KRAFT, "caliper"), None),
        ("sides = 4", "sides = 4, lenght = 3", "unknown", (*SIZE, "lenght"), "length"),
        ("count = 6", "cuont = 6", "unknown", (*PIECE, "cuont"), "count"),
        ("title", "titel", "unknown", ("titel",), "title"),
    ],
)
def test_a_key_too_many_or_too_few(
    old: str, new: str, fault: str, place: object, nearest: str | None, tmp_path: Path
) -> None:
    """It is the key that is told, and the one that was meant."""
    with pytest.raises(JobError) as caught:
        read_job(written(tmp_path, JOB.replace(old, new, 1)), STYLES)

    (refusal,) = caught.value.refusals
    assert (refusal.fault, refusal.place, refusal.nearest) == (fault, place, nearest)


def test_a_slip_of_the_file_has_its_line_and_column(tmp_path: Path) -> None:
    """Counted from 1, as editors do."""
    with pytest.raises(JobError) as caught:
        read_job(written(tmp_path, "a = 1\nb = x\n"), STYLES)

    (refusal,) = caught.value.refusals
    assert (refusal.line, refusal.column) == (2, 5)


def test_scripts_get_refusals_as_data(tmp_path: Path) -> None:
    """On standard output, beside the line for people on the other; the code is 2."""
    file = written(tmp_path, JOB.replace('"sleeve"', '"trey"').replace("0.32", "9"))

    result = CliRunner().invoke(main, ["check", str(file), "--json"])

    assert result.exit_code == 2
    caliper, style = json.loads(result.stdout)["refusals"]
    assert caliper["place"] == ["stock", "kraft", "caliper"]
    assert caliper["allowed"] == [{"least": 0.02, "most": 5, "unit": "mm", "whole": False}]
    assert (style["found"], style["nearest"]) == ("trey", "tray")
    assert result.stderr.splitlines() == [caliper["told"], style["told"]]
