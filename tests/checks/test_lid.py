"""Lid over base. Score sizes s and S leave (S − s)/2 − t on each side between the faces: half of
each wall's thickness is taken up (sharp folds, creases at mid-thickness)."""

from __future__ import annotations

import pytest

from cutlayers.box import Box
from cutlayers.checks.gluing import check_gluing
from cutlayers.checks.lid import check_lid, ends, sides
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.job.limits import Limits
from cutlayers.net import Net, Role
from cutlayers.net.shapes import glue_tab
from cutlayers.telling.findings import Severity
from cutlayers.telling.words import place_of
from tests.checks.boxes import square_lid, square_tray
from tests.net.standing import standing

T = 0.3


def pair(lid_side: float) -> tuple[Net, Net]:
    return square_tray("base", 80.3, 30), square_lid("lid", lid_side, 12, lift=19)


def test_the_worked_example() -> None:
    """Base 80.3, card 0.3, gap 0.25 a side: the lid is 81.4, its inside 81.1, over an outside of
    80.6 (worked by hand)."""
    found = sides(standing(pair(81.4)), "base", "lid", Card(T))

    assert len(found) == 4
    assert [side.room for side in found] == pytest.approx([0.25] * 4)


@pytest.mark.parametrize(
    ("lid_side", "code", "severity"),
    [
        (81.4, None, None),
        (83.4, None, None),
        (81.3, "lid-tight", Severity.WARNING),
        (80.9, "lid-tight", Severity.WARNING),  # no room at all, but no squeeze
        (80.8, "lid-tight", Severity.ERROR),
        (83.5, "lid-loose", Severity.WARNING),
    ],
)
def test_tight_and_loose(lid_side: float, code: str | None, severity: Severity | None) -> None:
    """One finding for each axis; limits are inclusive."""
    found = check_lid(standing(pair(lid_side)), Card(T), Limits())

    assert [(each.code, each.severity) for each in found] == (
        [(code, severity)] * 2 if code else []
    )


def test_a_tab_between_takes_a_caliper_from_its_axis() -> None:
    """A seam tab inside of the lid's back wall leaves half a caliper less on front and back."""
    base, lid = pair(81.4)
    lid = lid.attach(
        "seam", glue_tab(12, 8, 1), to="left.right", role=Role.GLUE_TAB, lands_on="back"
    )
    box = standing((base, lid))
    room = {side.outer.name: side.room for side in sides(box, "base", "lid", Card(T))}

    assert check_gluing(box, Limits()) == ()
    assert room["front"] == pytest.approx(0.25)
    assert room["back"] == pytest.approx(0.25 - T)
    axes = [place_of(each) for each in check_lid(box, Card(T), Limits())]
    assert axes == ["lid: front and back"]


def test_a_drawer_is_measured_like_a_lid() -> None:
    """Which of the two is outside follows from where they stand."""
    base, lid = pair(81.4)
    found = sides(standing((lid, base)), "lid", "base", Card(T))

    assert {side.outer.net for side in found} == {"lid"}
    assert [side.room for side in found] == pytest.approx([0.25] * 4)


@pytest.mark.parametrize("caliper", [0.2, 0.3, 0.5, 1.0, 1.5, 2.0, 3.0])
@pytest.mark.parametrize("clearance", [1.0, 1.4])
def test_the_gable_carton_keeps_its_clearance(clearance: float, caliper: float) -> None:
    """Both sides together, past the seam's tab at the back too."""
    style = style_named("gable-carton")
    nets = style.build(style.dimensions(clearance=clearance), Card(caliper))
    found = sides(standing(nets), "base", "lid", Card(caliper))
    room = {side.outer.name: side.room for side in found}

    assert room["left"] + room["right"] == pytest.approx(clearance)
    assert room["front"] + room["back"] == pytest.approx(clearance)


@pytest.mark.parametrize("caliper", [0.2, 0.3, 0.5, 1.0, 1.5, 2.0, 3.0])
@pytest.mark.parametrize("clearance", [0.4, 1.0])
def test_a_drawer_keeps_its_play_in_height_in_any_card(caliper: float, clearance: float) -> None:
    """The drawer stands on the seam's tab, so all of the clearance is above it."""
    style = style_named("sleeve-and-drawer")
    nets = style.build(style.dimensions(clearance=clearance), Card(caliper))
    below, above = ends(Box.of(nets, Card(caliper)).assembly, "drawer", "sleeve", Card(caliper))

    assert (below.outer.name, above.outer.name) == ("bottom", "top")
    assert below.room == pytest.approx(0, abs=1e-9)
    assert above.room == pytest.approx(clearance)


def test_a_sleeve_too_low_for_its_drawer_is_an_error() -> None:
    """The sleeve of a drawer 1.5 mm lower: 0.4 − 1.5 mm are left, half of it on each side."""
    style = style_named("sleeve-and-drawer")
    (drawer, _), (_, sleeve) = (
        style.build(style.dimensions(clearance=0.4, height=height), Card(0.5))
        for height in (25.0, 23.5)
    )
    found = check_lid(Box.of((drawer, sleeve), Card(0.5)).assembly, Card(0.5), Limits())

    (tight,) = (each for each in found if each.subject.panel in ("bottom", "top"))
    assert (tight.code, tight.severity) == ("lid-tight", Severity.ERROR)
    assert tight.measured[0].value == pytest.approx(-0.55)
