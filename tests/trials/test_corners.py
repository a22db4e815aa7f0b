"""Who leads a trailing blade round its corners: shown by two stars, whichever it is.

Both machines are simulated from outside: a tip that trails its axis like a castor
(`tests/toolpaths/tractrix.py`), and a machine that leads it, by the geometry of a trailing wheel
alone: the axis runs one offset ahead along each line and swings about the tip at its end.
"""

from __future__ import annotations

import itertools
import math
from datetime import date

import pytest
import shapely

from cutlayers.geometry.transforms import Point
from cutlayers.profile.editing import Edit
from cutlayers.telling.errors import TrialError
from cutlayers.toolpaths import ordered, work_out
from cutlayers.trials import trial
from cutlayers.trials.model import Setup
from cutlayers.trials.recording import record
from tests.toolpaths.tractrix import trail
from tests.trials.machines import BLADE, machine

DAY = date(2026, 3, 1)

CHORD = 1e-3
SHARP, SEEN = 0.02, 0.1
"""mm that a tip may stray of a star that counts as sharp, and what a reading glass shows."""

BY_FILE = Setup(machine(BLADE), "mine", "kraft-270")
BY_MACHINE = Setup(
    machine(BLADE.replace("offset = 0.25", 'offset = 0.25\nswivel = "machine"')), "mine"
)


def led(lines: list[Point], offset: float) -> list[Point]:
    """The way of an axis that leads its tip along straight lines."""
    axis: list[Point] = []
    before: float | None = None
    for (x0, y0), (x1, y1) in itertools.pairwise(lines):
        way = math.atan2(y1 - y0, x1 - x0)
        if before is not None:
            turn = math.remainder(way - before, math.tau)
            steps = max(1, math.ceil(abs(turn) / 0.05))
            swing = [before + turn * step / steps for step in range(1, steps + 1)]
            axis += [(x0 + offset * math.cos(a), y0 + offset * math.sin(a)) for a in swing]
        else:
            axis.append((x0 + offset * math.cos(way), y0 + offset * math.sin(way)))
        axis.append((x1 + offset * math.cos(way), y1 + offset * math.sin(way)))
        before = way
    return axis


def strays(setup: Setup, offset: float, leads: bool) -> list[float]:
    """How far the tip strays from the two large stars, on a machine that leads or does not."""
    found = []
    for part in trial("offset").sheet(setup).parts:
        star = part.strokes[0]
        if star.name != "corners":
            continue
        (way,) = ordered(work_out(part.strokes, part.machine)).toolpaths
        written = way.path.points(CHORD) + ([way.path.start] if way.path.closed else [])
        axis = led(written, offset) if leads else written
        # At rest the blade points to the right, as the profile says; a machine that leads turns it.
        first = math.atan2(axis[1][1] - axis[0][1], axis[1][0] - axis[0][0]) if leads else 0.0
        tips = shapely.linestrings(trail(axis, offset, first))
        ring = shapely.linearrings(star.path.points(CHORD))
        found.append(float(shapely.hausdorff_distance(tips, ring)))
    return found


@pytest.mark.parametrize("setup", [BY_FILE, BY_MACHINE], ids=["profile: file", "profile: machine"])
def test_the_sharp_star_tells_who_leads(setup: Setup) -> None:
    """One star is sharp and the other visibly is not, whatever the profile thinks."""
    bare, by_file = strays(setup, 0.25, leads=False)
    assert by_file < SHARP < SEEN < bare

    bare, by_file = strays(setup, 0.25, leads=True)
    assert bare < SHARP < SEEN < by_file


def edits(setup: Setup, words: str) -> list[Edit]:
    return list(record(trial("offset"), setup, words.split(), DAY).edits)


def test_what_the_stars_say_is_kept() -> None:
    """Either way, and with what to set on the machine."""
    assert Edit(("tools", "blade", "swivel"), "machine") in edits(BY_FILE, "corners=1")
    assert Edit(("tools", "blade", "swivel"), "path") in edits(BY_FILE, "corners=2 offset=0.3")
    assert Edit(("tools", "blade", "swivel"), "path") in edits(BY_MACHINE, "corners=2")
    (said, again) = record(trial("offset"), BY_MACHINE, ["corners=2"], DAY).outcome.remarks
    assert "switch the machine's own blade compensation off" in said
    assert "run the trial again" in again
    (said,) = record(trial("offset"), BY_FILE, ["corners=1"], DAY).outcome.remarks
    assert "compensation on" in said


def test_a_blade_that_the_file_leads_has_an_offset() -> None:
    """Star 2 is led by 0.25 mm where the profile has none; if it is sharp that is what is kept."""
    text = BLADE.replace("offset = 0.25", 'offset = 0\nswivel = "machine"')

    kept = edits(Setup(machine(text), "mine"), "corners=2")

    assert Edit(("tools", "blade", "offset"), 0.25) in kept


def test_an_offset_that_was_read_is_the_one_that_is_kept_and_told() -> None:
    """Whatever the profile had, 0 among it."""
    setup = Setup(machine(BLADE.replace("offset = 0.25", "offset = 0")), "mine")

    recorded = record(trial("offset"), setup, ["corners=2", "offset=0.3"], DAY)

    kept = [edit.value for edit in recorded.edits if edit.key[-1] == "offset"]
    assert kept == [0.3]
    assert "an offset of 0.3 mm" in recorded.outcome.remarks[0]


@pytest.mark.parametrize(
    ("setup", "words", "reason"),
    [
        (BY_FILE, "corners=1 offset=0.3", "leads the blade round its corners by itself"),
        (BY_FILE, "corners=1 corners=2", "contradicts"),
        (BY_FILE, "corners=3", "which the sheet does not have"),
        (BY_MACHINE, "offset=0.3", "is no reading of this trial"),
        (BY_MACHINE, "", "corners=…"),
    ],
)
def test_stars_that_say_nothing(setup: Setup, words: str, reason: str) -> None:
    """Small stars say nothing of a blade that the machine leads."""
    with pytest.raises(TrialError) as caught:
        record(trial("offset"), setup, words.split(), DAY)

    assert reason in str(caught.value)


def test_a_sheet_for_a_machine_that_leads_has_no_small_stars() -> None:
    """They would all come out wrong."""
    names = {
        stroke.name for part in trial("offset").sheet(BY_MACHINE).parts for stroke in part.strokes
    }

    assert {"corners", "square"} <= names
    assert "star" not in names
