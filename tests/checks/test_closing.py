"""Loops that do not close."""

from __future__ import annotations

from cutlayers.checks.closing import check_closing
from cutlayers.job.limits import Limits
from cutlayers.net import Net, Role
from cutlayers.net.shapes import rectangle
from cutlayers.telling.words import place_of, sentence_of
from tests.net.standing import standing


def four_round_a_point(*folds_deg: float) -> Net:
    """Four squares with four hinges; the last is the one between c and d."""
    square = rectangle(10, 10)
    right, upper_left, upper_right, last = folds_deg
    net = Net.start("window", "a", square)
    net = net.attach("b", square, to="a.right", own="left", role=Role.WALL, fold_deg=right)
    net = net.attach("d", square, to="a.top", role=Role.WALL, fold_deg=upper_left)
    net = net.attach("c", square, to="b.top", role=Role.WALL, fold_deg=upper_right)
    return net.close("c.left", "d.right", fold_deg=last)


def codes(net: Net) -> list[str]:
    return [each.code for each in check_closing(standing([net]), Limits())]


def test_a_closed_loop_is_silent() -> None:
    """A sheet folded along one straight line."""
    assert codes(four_round_a_point(30, 0, 0, 30)) == []


def test_a_gap_is_an_error_with_its_size() -> None:
    """One half folded by 10° about a line 10 mm away: 2·10·sin 5° = 1.74 mm."""
    (finding,) = check_closing(standing([four_round_a_point(0, 0, 10, 0)]), Limits())

    assert finding.code == "closure"
    assert "1.74 mm" in sentence_of(finding).found
    assert set(place_of(finding).removeprefix("window: ").split(" | ")) == {"c", "d"}


def test_a_wrong_angle_is_an_error_though_the_edges_meet() -> None:
    """The sheet is folded by 30°, the last hinge says 20°."""
    assert codes(four_round_a_point(30, 0, 0, 20)) == ["closure-angle"]
