"""Flaps and tabs that come to lie on one another."""

from __future__ import annotations

import pytest

from cutlayers.checks.meeting import check_meeting
from cutlayers.net import Net, Role
from cutlayers.net.shapes import rectangle
from cutlayers.telling.words import sentence_of
from tests.checks.boxes import square_tray
from tests.net.standing import standing


def with_flaps(depth: float, role: Role = Role.FLAP) -> Net:
    """A 60 mm tray with a flap on its left and its right wall, both turned in over the top."""
    net = square_tray("tray", 60, 20)
    for wall in ("left", "right"):
        net = net.attach(f"{wall} flap", rectangle(60, depth), to=f"{wall}.top", role=role)
    return net


@pytest.mark.parametrize(("depth", "over"), [(29.9, None), (30, None), (32, "4.0 mm"), (45, "30")])
def test_two_flaps_share_the_opening(depth: float, over: str | None) -> None:
    """Up to half the opening each; beyond, the overlap is told."""
    found = check_meeting(standing([with_flaps(depth)]))

    assert len(found) == (over is not None)
    if over is not None:
        assert found[0].code == "flaps-meet"
        assert over in sentence_of(found[0]).found


def test_a_tab_may_lie_on_the_flap_that_it_is_glued_to() -> None:
    """It names the flap."""
    net = with_flaps(28)
    net = net.attach(
        "tab",
        rectangle(60, 12),
        to="left flap.top",
        role=Role.GLUE_TAB,
        fold_deg=0,
        lands_on="right flap",
    )
    assert check_meeting(standing([net])) == ()
