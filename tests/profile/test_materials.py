"""Which material a stock takes, what it changes, and what is loaded for it."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from datetime import date

import pytest

from cutlayers.geometry.strokes import Operation
from cutlayers.job.stock import Stock
from cutlayers.profile.cautions import cautions
from cutlayers.profile.machine import Machine
from cutlayers.profile.materials import material_for, refuse_hazards, tuned
from cutlayers.profile.operations import Perforation
from cutlayers.profile.reading import profile_from
from cutlayers.profile.setup_sheet import card_findings, setup_sheet
from cutlayers.profile.tools import ToolType
from cutlayers.telling.errors import JobError
from cutlayers.telling.findings import Severity
from cutlayers.telling.words import sentence_of

PROFILE = """\
title = "Garage"
[bed]
width = 300
height = 300
[tools.beam]
type = "laser"
kerf = 0.2
holder = "head"
[tools.fine]
type = "laser"
kerf = 0.1
[tools.pen]
type = "pen"
holder = "left"
[operations.score]
as = "perforate"
[operations.cut]
tool = "beam"
passes = 2
[materials.grey-400]
grammage = 400
[materials.kraft-270]
grammage = 270
draw = { speed = 30 }
score = { perforation = { cut = 1, tie = 2, minimum_tie = 1 } }
cut = { tool = "fine", passes = 3, kerf = 0.12, tested_on = 2026-03-01, note = "dry card", \
power = 45, air = "on" }
[materials.white-160]
grammage = 160
[materials.film]
contains = ["pvc"]
"""


def garage(text: str = PROFILE) -> Machine:
    return profile_from(tomllib.loads(text), "garage.toml", "garage")


def card(name: str, grammage: float | None = None, material: str | None = None) -> Stock:
    return Stock(name, 0.3, (210, 297), grammage, material=material)


@pytest.mark.parametrize(
    ("stock", "material", "how"),
    [
        (card("kraft-270"), "kraft-270", "named"),
        (card("kraft-270", 160), "kraft-270", "named"),
        (card("shop card", 160, "kraft-270"), "kraft-270", "named"),
        (card("shop card", 250), "kraft-270", "nearest"),
        (card("shop card", 1000), "grey-400", "nearest"),
        (card("shop card", 80), "white-160", "nearest"),
        # 208 is nearer to 160 in ratio (1.30) than to 270 (1.298 the other way): 270/208 = 1.298.
        (card("shop card", 208), "kraft-270", "nearest"),
        (card("shop card", 207), "white-160", "nearest"),  # 207/160 = 1.294 < 270/207 = 1.304
        (card("shop card"), None, "none"),
    ],
)
def test_a_stock_finds_its_material(stock: Stock, material: str | None, how: str) -> None:
    """Its own word, then its own name, then the nearest in weight by ratio."""
    choice = material_for(garage(), stock)

    assert (choice.material.name if choice.material else None, choice.how) == (material, how)


def test_an_unknown_material_is_refused() -> None:
    """What the stock names must be there; the nearest is told."""
    with pytest.raises(JobError, match="Did you mean kraft-270"):
        material_for(garage(), card("shop card", 270, "kraft-27"))


def test_a_guess_is_marked() -> None:
    """A guess says so, with both weights, in the card and as a warning that names the cure."""
    load = setup_sheet(garage(), card("shop card", 250), [Operation.CUT])
    (finding,) = card_findings([load])

    assert load.in_words.startswith("nearest by weight: settings of kraft-270, 270 g/m²")
    assert "250 g/m²" in load.in_words
    assert finding.severity is Severity.WARNING
    assert 'material = "kraft-270" in [stock.shop card]' in sentence_of(finding).cure


def test_a_material_brings_its_tool_passes_kerf_and_rows() -> None:
    """Where the material says nothing, the operation's own holds."""
    machine = garage()
    fit = tuned(machine, machine.materials["kraft-270"])
    plain = tuned(machine, machine.materials["white-160"])

    cut, score = fit.operations[Operation.CUT], fit.operations[Operation.SCORE]
    assert (cut.tool, cut.passes, fit.tools["fine"].kerf) == ("fine", 3, 0.12)
    assert score.perforation == Perforation(1, 2, 1)
    assert fit.tools["beam"].kerf == 0.2
    assert plain == machine
    assert tuned(machine, None) == machine


def test_the_setup_sheet_says_what_goes_where_in_which_order() -> None:
    """Working order, tool, holder, passes, settings, day and note; folds use perforate's tool."""
    load = setup_sheet(
        garage(), card("kraft-270"), [Operation.CUT, Operation.DRAW, Operation.SCORE]
    )

    assert load.rows == (
        ("1", "draw", "pen", "left", "1", "speed 30", "-", "-"),
        ("2", "score", "beam", "head", "1", "-", "-", "-"),
        ("3", "cut", "fine", "-", "3", "power 45, air on", "2026-03-01", "dry card"),
    )
    assert load.cautions == cautions([ToolType.LASER])
    assert load.by_hand == ()


def test_work_left_to_the_hand_is_told() -> None:
    """An operation without a tool has no step."""
    by_hand = garage(
        PROFILE.replace('as = "perforate"', 'as = "by hand"').replace(
            "score = { perforation = { cut = 1, tie = 2, minimum_tie = 1 } }\n", ""
        )
    )
    load = setup_sheet(by_hand, card("white-160"), [Operation.SCORE, Operation.CUT])

    assert load.by_hand == ("score",)
    assert [step.operation for step in load.steps] == ["cut"]


@pytest.mark.parametrize(
    "stock",
    [
        replace(card("red sheet"), contains=("vinyl",)),
        replace(card("red sheet"), contains=("unknown coating",)),
        card("Red Vinyl 3"),
        card("pvc_film"),
        card("red sheet", material="film"),
    ],
)
def test_a_laser_is_kept_from_chlorine(stock: Stock) -> None:
    """A mark on the stock or on its material refuses it for any laser, and so does such a name."""
    blade = garage(
        PROFILE.replace('type = "laser"\nkerf = 0.2', 'type = "wheel"\nkerf = 0.2').replace(
            'type = "laser"\nkerf = 0.1', 'type = "wheel"\nkerf = 0.1'
        )
    )

    with pytest.raises(JobError, match="hydrogen chloride"):
        refuse_hazards(garage(), stock)
    refuse_hazards(blade, stock)
    refuse_hazards(garage(), card("viny-like kraft", 270))


def test_cautions_go_by_tool() -> None:
    """Blades and lasers have their own; the machine's manual always comes first of all."""
    blade, laser = cautions([ToolType.DRAG_BLADE]), cautions([ToolType.LASER])
    both = cautions([ToolType.LASER, ToolType.WHEEL])

    assert any("Blades are sharp" in each for each in blade)
    assert not any("laser" in each.lower() for each in blade)
    for word in ("lid", "Never leave", "fumes", "PVC", "coating", "extinguisher"):
        assert any(word in each for each in laser), word
    assert set(blade) | set(laser) == set(both)
    assert all("manual" in each[-1] for each in (blade, laser, both, cautions([ToolType.PEN])))


def test_dates_are_days() -> None:
    """TOML's own date and a text both come out as a day."""
    text = PROFILE.replace("tested_on = 2026-03-01", 'tested_on = "2026-03-01"')

    for each in (PROFILE, text):
        use = garage(each).materials["kraft-270"].uses[Operation.CUT]
        assert use.tested_on == date(2026, 3, 1)
