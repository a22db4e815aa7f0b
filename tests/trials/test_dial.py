"""Trials fit the card and the bed in use, and give what a dial can be set to, in plain words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from cutlayers.geometry.strokes import Operation
from cutlayers.telling.errors import TrialError
from cutlayers.trials import trial
from cutlayers.trials.files import set_up
from cutlayers.trials.ladder import setting_rungs
from cutlayers.trials.layout import draw_sheet
from cutlayers.trials.model import Setup
from cutlayers.trials.recording import in_plain_words, record
from tests.trials.machines import BLADE, machine

DAY = date(2026, 3, 1)

BLADE_SETUP = Setup(machine(BLADE), "mine", "kraft-270")

A4_BED = BLADE.replace("width = 305\nheight = 305", "width = 210\nheight = 297")

CARDS = {
    "A5": (148.0, 210.0),
    "A4": (210.0, 297.0),
    "letter": (215.9, 279.4),
    "8 in": (203.2, 203.2),
    "12 in": (304.8, 304.8),
}


@pytest.mark.parametrize("card", CARDS)
@pytest.mark.parametrize("steps", [3, 6, 8])
def test_the_score_trial_fits_the_card_in_use(card: str, steps: int) -> None:
    """Every strip within reach, none over another, each with its kind and setting beside it."""
    setup = replace(BLADE_SETUP, sheet=CARDS[card], setting="force", first=10.0, last=24.0)
    sheet = trial("score").sheet(replace(setup, steps=steps))
    drawing, _ = draw_sheet("t", sheet, setup.machine)

    assert (sheet.width, sheet.height) == CARDS[card]
    for layer in drawing.layers:
        for path in layer.paths:
            left, bottom, right, top = path.bounds
            assert min(left, bottom, sheet.width - right, sheet.height - top) >= 5.0
    boxes = [
        stroke.path.bounds
        for part in sheet.parts
        for stroke in part.strokes
        if stroke.operation is Operation.CUT and stroke.path.closed
    ]
    assert len(boxes) == 4 * steps
    for number, one in enumerate(boxes):
        for other in boxes[number + 1 :]:
            assert one[2] < other[0] or other[2] < one[0] or one[3] < other[1] or other[3] < one[1]


def test_without_a_card_the_smallest_that_holds_it_is_taken() -> None:
    """Six rungs fit A5, ten A4, on a bed of 12 in and on one of A4."""
    for text in (BLADE, A4_BED):
        setup = replace(BLADE_SETUP, machine=machine(text))
        sheet = trial("score").sheet(set_up(setup.machine, setup, trial("score")))
        assert (sheet.width, sheet.height) == CARDS["A5"]
        ten = replace(setup, setting="force", first=2.0, last=20.0, steps=10)
        sheet = trial("score").sheet(ten)
        assert (sheet.width, sheet.height) == CARDS["A4"]


@pytest.mark.parametrize("kind", ["settings", "perforation", "pen", "offset", "score"])
def test_a_card_lies_as_the_bed_takes_it(kind: str) -> None:
    """A4 is given upright; a bed of 305 × 215 takes it level."""
    text = BLADE.replace("height = 305", "height = 215")
    setup = replace(BLADE_SETUP, machine=machine(text), sheet=(210.0, 297.0))

    sheet = trial(kind).sheet(set_up(setup.machine, setup, trial(kind)))

    assert (sheet.width, sheet.height) == (297.0, 210.0)


def test_a_card_lies_as_the_trial_needs_it() -> None:
    """The strips of the fold trial need 182 × 115 mm: A5, turned."""
    setup = replace(BLADE_SETUP, sheet=CARDS["A5"])

    sheet = trial("fold").sheet(set_up(setup.machine, setup, trial("fold")))

    assert (sheet.width, sheet.height) == (210.0, 148.0)


def test_what_does_not_fit_says_what_would() -> None:
    """A6 has room for two rungs."""
    setup = replace(BLADE_SETUP, sheet=(105.0, 148.0), setting="force", first=10.0, last=24.0)

    with pytest.raises(TrialError, match="--steps 2"):
        trial("score").sheet(replace(setup, steps=8))


@pytest.mark.parametrize(
    ("first", "last", "steps", "dial", "rungs"),
    [
        # Whole numbers mean a dial of whole numbers; 10 + 15/7·n rounded.
        (10, 25, 8, None, (10, 12, 14, 16, 19, 21, 23, 25)),
        (10, 24, 8, None, (10, 12, 14, 16, 18, 20, 22, 24)),
        (1.5, 4.5, 4, None, (1.5, 2.5, 3.5, 4.5)),
        # A dial in fives, and one in halves.
        (10, 45, 8, 5.0, (10, 15, 20, 25, 30, 35, 40, 45)),
        (1, 3, 5, 0.5, (1, 1.5, 2, 2.5, 3)),
        # Nothing whole would be five different settings, so the dial is finer.
        (1, 3, 5, None, (1, 1.5, 2, 2.5, 3)),
    ],
)
def test_rungs_are_what_the_dial_takes(
    first: float, last: float, steps: int, dial: float | None, rungs: tuple[float, ...]
) -> None:
    """Worked by hand."""
    setup = replace(BLADE_SETUP, setting="force", first=first, last=last, steps=steps, dial=dial)

    assert setting_rungs(setup, Operation.CUT, 8)[1] == pytest.approx(rungs)


def test_rungs_round_a_known_setting_are_what_the_dial_takes() -> None:
    """Of force 3 the usual step would be 0.5 or less; the dial has whole numbers."""
    low = BLADE.replace("cut = { force = 20", "cut = { force = 3")
    _, rungs = setting_rungs(replace(BLADE_SETUP, machine=machine(low)), Operation.CUT, 8)

    assert rungs == tuple(rungs[0] + index for index in range(8))
    assert rungs[0] == int(rungs[0]) and 3.0 in rungs


def test_a_dial_too_coarse_for_so_many_steps() -> None:
    """From 10 to 20 in fives there are three."""
    setup = replace(BLADE_SETUP, setting="force", first=10.0, last=20.0, steps=8, dial=5.0)

    with pytest.raises(TrialError, match="3"):
        setting_rungs(setup, Operation.CUT, 8)


@pytest.mark.parametrize(
    ("dial", "words", "saved"),
    [
        # first 14, 14, 16 and last 18, 20, 20: middle of 14.667 and 19.333, 17.
        (None, "first=14 first=14 first=16 last=18 last=20 last=20", 17.0),
        # 16, 16, 16 and 20, 20, 22: 18.333.
        (None, "first=16 first=16 first=16 last=20 last=20 last=22", 18.0),
        (2.0, "first=14 first=14 first=16 last=18 last=20 last=20", 16.0),
    ],
)
def test_a_setting_is_what_the_dial_takes(dial: float | None, words: str, saved: float) -> None:
    """Rounded to the dial's step; 17 lies between 16 and 18 of a dial in twos, and the lower does
    less harm."""
    setup = replace(BLADE_SETUP, setting="force", first=10.0, last=24.0, steps=8, dial=dial)
    recorded = record(trial("settings"), setup, words.split(), DAY)

    assert recorded.edits[0].value == saved


def test_results_are_told_in_plain_words() -> None:
    """What to set, where, and how sure that is; no word of statistics."""
    setup = replace(BLADE_SETUP, setting="force", first=10.0, last=24.0, steps=8)
    words = "first=16 first=16 first=16 last=20 last=20 last=22"
    (result,) = record(trial("settings"), setup, words.split(), DAY).outcome.results

    said = in_plain_words(result)

    assert said.startswith("force to cut kraft-270: set it to 18. The readings say 18.33")
    assert "19 times in 20" in said

    (offset, overcut) = record(
        trial("offset"), BLADE_SETUP, ["offset=0.3", "overcut=0.2"], DAY
    ).outcome.results
    assert in_plain_words(offset).startswith("offset of blade: 0.3 mm, by these readings. 19")
    assert in_plain_words(overcut).startswith("overcut of blade: 0.2 mm")
