"""What a crease takes up, by the geometry of a hinge at some depth in the card.

Two panels that turn about a line at the depth t from the inside leave s − 2t between two walls
whose creases are s apart, and measure s + 2(c − t) outside, in card c thick: what the trial
measures on a strip. Here `really_…` does it for blanks whose true t is known, whatever their maker
assumed.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers import read_job
from cutlayers.box import Box, Origin, build
from cutlayers.checks import check_box
from cutlayers.checks.lid import ends
from cutlayers.construction.card import Card, Measure
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.fitting.items import Item
from cutlayers.fitting.packing import pack
from cutlayers.job.order import Job
from cutlayers.making.make import lay_out
from cutlayers.profile.machine import Machine
from cutlayers.profile.reading import profile_from
from cutlayers.reading.toml_file import parse_toml
from cutlayers.telling.errors import ProfileError
from cutlayers.telling.words import in_words

BOARD, BOARD_TAKES = 1.0, 0.2
"""mm, and what a crease of this board really takes of it."""

LID_CALIPER = 0.3

JOB = """\
[stock.board]
caliper = 1.0
sheet = "A3"
material = "grey-board"

[stock.card]
caliper = 0.3
sheet = "A3"

[[piece]]
style = "tray"
name = "base"
stock = "board"
size = { length = 90, width = 60, height = 35 }

[[piece]]
style = "tray"
name = "lid"
stock = "card"
# 90 and 60 inside, two walls of board, and 0.5 mm to slide
size = { length = 92.5, width = 62.5, height = 20 }
"""

MACHINE = """\
title = "Kitchen table"
bed = { width = 500, height = 500 }
tools.blade = { type = "drag-blade", offset = 0.25 }
operations.cut.tool = "blade"
"""

TRIED = "materials.grey-board.fold = { take_up = 0.2, tested_on = 2026-03-01 }\n"


def machine(more: str) -> Machine:
    """A machine, with what is known of its card."""
    return profile_from(parse_toml(MACHINE + more, "mine.toml", ProfileError), "mine.toml", "mine")


def job(folder: Path, take_up: Mapping[str, float]) -> Job:
    path = folder / "board-box.toml"
    path.write_text(JOB)
    return read_job(path, take_up=take_up)


def base_panel(found: Job, piece: str) -> tuple[float, float]:
    """Length and width of the base of a tray, crease to crease, on its blank."""
    (order,) = (each for each in found.orders if each.name == piece)
    left, bottom, right, top = order.box.nets[0].panel("base").outline.bounds
    return right - left, top - bottom


def really_outside(score: float, caliper: float, takes: float) -> float:
    return score + 2 * (1 - takes) * caliper


def really_inside(score: float, caliper: float, takes: float) -> float:
    return score - 2 * takes * caliper


def test_a_lid_of_card_goes_over_a_base_of_board_once_its_creases_were_measured(
    tmp_path: Path,
) -> None:
    """The lid is 92.5 × 62.5 inside. By half a caliper the creases of the base are 91 apart, and
    the base really measures 91 + 2 · 0.8 = 92.6 outside: the lid does not go on. By 0.2 they are
    90.4 apart, and it measures 92: half a millimetre to slide."""
    for known, room in (({}, -0.1), ({"grey-board": BOARD_TAKES}, 0.5)):
        found = job(tmp_path, known)
        for base, lid in zip(base_panel(found, "base"), base_panel(found, "lid"), strict=True):
            over = really_outside(base, BOARD, BOARD_TAKES)
            assert really_inside(lid, LID_CALIPER, 0.5) - over == pytest.approx(room)


def test_a_job_gets_what_was_measured_on_its_machine(tmp_path: Path) -> None:
    """The stock names its material; the other stock's is not known, so half of it is taken. The
    report says so."""
    tried = machine(TRIED)
    found = job(tmp_path, tried.take_up)
    notes = [
        in_words(each)
        for each in lay_out(found, tried, quick=True).findings
        if each.code == "creases-measured"
    ]

    without = lay_out(job(tmp_path, {}), tried, quick=True).findings
    assert "creases-measured" not in [each.code for each in without]
    assert found.stocks["board"].card("inside") == Card(1.0, share=0.2, relief=1.0)
    assert found.stocks["card"].card("inside") == Card(0.3)
    assert len(notes) == 1
    assert "takes 0.2 mm of its 1.0 mm, as measured of grey-board" in notes[0]


def test_a_job_on_a_machine_without_trials_is_as_it_was(tmp_path: Path) -> None:
    """No note, and half of the caliper."""
    bare = machine("materials.grey-board.grammage = 600\n")
    found = job(tmp_path, bare.take_up)

    assert found.stocks["board"].card("inside") == Card(1.0, relief=1.0)
    findings = lay_out(found, bare, quick=True).findings
    assert [each.code for each in findings if each.code == "creases-measured"] == []


@pytest.mark.parametrize(("drawn_by", "goes"), [(0.5, False), (0.8, True)])
def test_a_sleeve_of_board_goes_over_its_drawer_once_its_creases_were_measured(
    drawn_by: float, goes: bool
) -> None:
    """Board that is cut half through from the inside takes 0.8 of its millimetre. The sleeve turns
    over two creases in height and the drawer over one: drawn by half, 0.3 mm of its 0.2 mm of play
    are gone; drawn by what was measured, all of it is there."""
    style = style_named("sleeve-and-drawer")
    dims = style.dimensions(clearance=0.2)
    nets = style.build(dims, Card(1.0, share=drawn_by))
    box = Box.of(nets, Card(1.0, share=0.8), Origin(style, dims, Card(1.0, share=0.8)))
    below, above = ends(box.assembly, "drawer", "sleeve", box.card)
    errors = [
        each
        for each in check_box(box)
        if each.code == "lid-tight"
        and each.severity == "error"
        and each.subject.panel in ("bottom", "top")
    ]

    assert below.room + above.room == pytest.approx(0.2 if goes else -0.1)
    assert bool(errors) is not goes


@given(
    st.floats(0.1, 3.0),
    st.floats(-0.5, 1.0),
    st.floats(20.0, 200.0),
    st.sampled_from([0, 1, 2]),
)
def test_a_size_means_what_it_says(
    caliper: float, share: float, length: float, folded_ends: int
) -> None:
    """Inside, score and outside of one panel differ by what lies to either side of the creases,
    and together by the whole thickness of its walls."""
    inside, score, outside = (
        Card(caliper, measure, share=share).score(length, folded_ends)
        for measure in ("inside", "score", "outside")
    )

    assert score == length
    assert inside - score == pytest.approx(share * caliper * folded_ends, abs=1e-9)
    assert inside - outside == pytest.approx(caliper * folded_ends, abs=1e-9)
    card = Card(caliper, "outside", share=share)
    assert card.given(outside, folded_ends) == pytest.approx(length)


@pytest.mark.parametrize("share", [-0.2, 0.2, 0.5, 0.8])
@pytest.mark.parametrize("caliper", [0.3, 1.0])
def test_a_tray_holds_what_it_says_whatever_its_creases_take(caliper: float, share: float) -> None:
    """A thing as large as the inside goes between the walls, and one a tenth longer does not; its
    corner tabs would press on either."""
    style = style_named("tray")
    box = build(
        style, style.dimensions(length=90, width=60, height=30, tab=8), Card(caliper, share=share)
    )

    assert not pack(Item("cuboid", 90, 60, 30), box.assembly, box.card).walls
    assert pack(Item("cuboid", 90.1, 60, 30), box.assembly, box.card).walls


@pytest.mark.parametrize("measure", ["inside", "score", "outside"])
def test_strips_fit_into_the_tray_of_the_same_size(measure: Measure) -> None:
    """Between walls whose creases take 0.2 of 1 mm, whatever the size is measured to."""
    card, size = Card(1.0, measure, share=0.2), {"length": 120.0, "width": 80.0, "height": 40.0}
    tray = style_named("tray")
    (net,) = tray.build(tray.dimensions(**size), card)
    partition = style_named("partition")
    strips = partition.build(partition.dimensions(**size, rows=2, clearance=0.6), card)
    left, _, right, _ = net.panel("base").outline.bounds
    low, _, high, _ = strips[0].bounds

    assert high - low == pytest.approx(really_inside(right - left, 1.0, 0.2) - 0.6)


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_no_style_fails_for_what_its_creases_take(style: Style) -> None:
    """At its own sizes in 1 mm board, what is found is the same for creases that take a fifth or
    four fifths as for half."""
    found = [
        {
            (each.code, each.severity, each.subject)
            for each in check_box(build(style, style.dimensions(), Card(1.0, share=share)))
        }
        for share in (0.5, 0.2, 0.8)
    ]

    assert found[1] == found[0]
    assert found[2] == found[0]


@pytest.mark.parametrize("takes", [0.2, 0.5, 0.8])
def test_an_end_leaves_room_for_the_card_inside_of_its_creases(takes: float) -> None:
    """In 1 mm board whose creases take t. Between the crease of the one side wall's end and a dust
    flap lies the wall's inner face, t inside; on the other side the tuck, 1 mm thick, lies on that.
    The tuck leaves 0.5 mm between the inner faces of both side walls, whatever the caliper.
    A lock slit ends below the top's inner face at t, the dust flap of 1 mm, and 0.5 mm of play."""
    card = Card(1.0, "score", share=takes)
    style = style_named("tuck-carton")
    sizes = {"length": 90, "width": 60, "height": 120}

    (plain,) = style.build(style.dimensions(**sizes), card)
    (locked,) = style.build(style.dimensions(**sizes, slit=10), card)

    wall, flap = (plain.panel(name).outline.bounds for name in ("left", "left top dust flap"))
    beside = sorted((flap[0] - wall[0], wall[2] - flap[2]))
    assert beside == pytest.approx([max(takes, 0.5), 1 + takes])
    tuck = plain.panel("top tuck").outline.bounds
    assert tuck[2] - tuck[0] == pytest.approx(90 - 2 * takes - 0.5)
    bite = locked.panel("top tuck").edge("right-bite")
    assert bite.length == pytest.approx(takes + 1 + 0.5)


@pytest.mark.parametrize("takes", [0.2, 0.5, 0.8])
def test_a_wing_is_clear_of_the_corner_as_the_flap_that_it_is_glued_to(takes: float) -> None:
    """The flap ends inside of the wall's inner face, which lies t from the corner, and half of the
    0.5 mm that are left to both sides. At 45° the wing's side has to begin √2 times as far along
    its crease, or it would reach past the flap; it begins no more than a tenth farther."""
    style = style_named("crash-lock-carton")
    short = takes + 0.25

    (net,) = style.build(style.dimensions(), Card(1.0, share=takes))

    wall, flap = (net.panel(name).outline.bounds for name in ("left", "left bottom flap"))
    assert min(flap[0] - wall[0], wall[2] - flap[2]) == pytest.approx(short)
    crease = net.panel("front bottom").edge("crease")
    wing = next(hinge for hinge in net.hinges if hinge.second == "front wing").edge
    assert 2**0.5 * short <= crease.chord - wing.chord <= 1.1 * 2**0.5 * short
