"""Readings: which are taken, which are refused, and what is saved."""

from __future__ import annotations

from datetime import date

import pytest

from cutlayers.profile.editing import Edit
from cutlayers.telling.errors import TrialError
from cutlayers.trials import trial
from cutlayers.trials.recording import record
from tests.trials.machines import SETUPS

DAY = date(2026, 3, 1)

REFUSED = [
    ("kerf", "A", "is no reading; write name=value"),
    ("kerf", "Q=1", "known are A, B, C, S"),
    ("kerf", "A=-1", "it must be 0 mm to 22 mm"),
    ("kerf", "A=40", "it must be 0 mm to 22 mm"),
    ("kerf", "A=wide", "is not a length"),
    ("kerf", "A=nan", "is not a length"),
    ("kerf", "S=0.17", "0.15 works"),
    ("kerf", "A=0", "were the strips pushed together?"),
    ("kerf", "A=1.65 B=6.5", "contradicts the others"),
    ("kerf", "A=1.65 B=3.15 S=0.45", "contradicts the gaps"),
    ("kerf", "S=0.1 S=0.4", "more than 2 steps apart"),
    ("offset", "offset=0.1 offset=0.45", "contradict each other"),
    ("offset", "overcut=0.25", "0.2 works"),
    ("settings", "last=20", "first is missing"),
    ("settings", "first=13", "12 works"),
    ("settings", "first=12 first=26", "contradict each other"),
    ("settings", "first=24 last=14", "no force both cuts and does no harm"),
    ("score", "MA=12 MA=22", "contradict each other"),
    ("fold", "A1=21 A2=24 A3=27", "S is missing"),
    ("fold", "S=10 A1=21 A2=24", "A3 is missing; measure at least 3 strips"),
    ("fold", "S=10 A1=21 A2=24 A3=30", "lies"),
    ("fold", "S=1 A1=21.4 A2=24.5 A3=27.6", "measure the pile of all 10 strips"),
    ("fold", "S=10 A1=60", "it must be 10 mm to 40 mm"),
    ("perforation", "holds=1.4 tears=0.6", "no tie does both"),
    ("perforation", "holds=0.8", "tears is missing"),
    ("register", "x1=0.1 y1=0.1", "three places at least"),
    ("register", "x1=0.1 y1=0.1 x2=0.1", "needs both, x2=… and y2=…"),
    ("register", "x1=0 y1=0 x2=0 y2=0 x3=0 y3=0 x4=2.5 y4=0 x5=0 y5=0", "lies"),
    ("register", "x1=-3 y1=-3 x2=3 y2=-3 x3=-3 y3=3", "fit to page"),
    ("pen", "solid=0.3 solid=0.9", "contradict each other"),
    ("pen", "letters=4", "3.5 works"),
    ("squareness", "bottom=270 left=270", "read both diagonals"),
    ("squareness", "bottom=240 left=270", "it must be 256.5 mm to 283.5 mm"),
    ("squareness", "bottom=270 left=270 rising=382 falling=390", "contradicts the other lengths"),
    ("squareness", "rising=381.8 falling=381.8", "read a side each way"),
]


@pytest.mark.parametrize(("kind", "words", "reason"), REFUSED)
def test_refuses(kind: str, words: str, reason: str) -> None:
    """Impossible and contradictory readings are refused with the reason, in one line."""
    found = trial(kind)
    setup = found.resolve(SETUPS[kind])

    with pytest.raises(TrialError) as caught:
        record(found, setup, words.split(), DAY)

    assert reason in str(caught.value)
    assert "\n" not in str(caught.value)


def test_inches_are_understood() -> None:
    """1/16 in over 11 cuts: 1.5875 / 11 = 0.1443 mm."""
    found = trial("kerf")
    (result,) = record(found, SETUPS["kerf"], ["a=1/16 in"], DAY).outcome.results

    assert result.value == pytest.approx(1.5875 / 11)


SAVED = [
    (
        "kerf",
        "A=1.65 B=3.15",
        [Edit(("materials", "kraft-270", "cut", "kerf"), 0.15)],
        ("materials", "kraft-270", "cut", "tested_on"),
    ),
    (
        "offset",
        "offset=0.3 offset=0.3 offset=0.3 overcut=0.2 overcut=0.3",
        [Edit(("tools", "blade", "offset"), 0.3), Edit(("tools", "blade", "overcut"), 0.3)],
        ("tools", "blade", "tested_on"),
    ),
    (
        "settings",
        "first=16 first=16 last=24 last=24",
        [Edit(("materials", "kraft-270", "cut", "force"), 20.0)],
        ("materials", "kraft-270", "cut", "tested_on"),
    ),
    (
        "fold",
        "S=10 A1=21.4 A2=24.5 A3=27.6",
        [Edit(("materials", "kraft-270", "fold", "take_up"), 0.3)],
        ("materials", "kraft-270", "fold", "tested_on"),
    ),
    (
        "perforation",
        "holds=0.6 tears=1.2",
        [
            Edit(("materials", "kraft-270", "perforate", "perforation", "tie"), 0.9),
            Edit(("materials", "kraft-270", "perforate", "perforation", "cut"), 3.0),
            Edit(("materials", "kraft-270", "perforate", "perforation", "minimum_tie"), 0.6),
        ],
        ("materials", "kraft-270", "perforate", "tested_on"),
    ),
    (
        "register",
        "x1=0.3 y1=-0.2 x2=0.3 y2=-0.2 x3=0.3 y3=-0.2",
        [Edit(("register", "shift_x"), 0.3), Edit(("register", "shift_y"), -0.2)],
        ("register", "tested_on"),
    ),
    (
        "pen",
        "solid=0.4 solid=0.4 solid=0.4 letters=2.5 letters=3.5",
        [
            Edit(("tools", "pen", "line_width"), 0.45),
            Edit(("tools", "pen", "smallest_letters"), 3.5),
        ],
        ("tools", "pen", "tested_on"),
    ),
]


@pytest.mark.parametrize(("kind", "words", "edits", "dated"), SAVED)
def test_what_is_saved(kind: str, words: str, edits: list[Edit], dated: tuple[str, ...]) -> None:
    """Values go to their keys, with the day beside them."""
    found = trial(kind)
    recorded = record(found, found.resolve(SETUPS[kind]), words.split(), DAY)

    assert list(recorded.edits) == [*edits, Edit(dated, DAY)]
    assert recorded.diary["readings"] == words.split()


def test_a_ladder_is_spelled_out_for_recording() -> None:
    """The options that the page prints describe the ladder in full, so a changed profile does not
    move it."""
    setup = trial("settings").resolve(SETUPS["settings"])

    assert setup.options == (
        "--profile mine --material kraft-270 --setting force --from 12 --to 26 --steps 8 --dial 1"
    )
