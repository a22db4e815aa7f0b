"""Glue tabs: on their panel, inside its borders, deep enough."""

from __future__ import annotations

import pytest

from cutlayers.checks.gluing import check_gluing
from cutlayers.job.limits import Limits
from cutlayers.net import Net, Role
from cutlayers.net.shapes import glue_tab, rectangle
from cutlayers.telling.findings import Finding, Severity
from cutlayers.telling.words import place_of, sentence_of
from tests.checks.boxes import square_tray, with_tab
from tests.net.standing import standing


def found(net: Net) -> tuple[Finding, ...]:
    return check_gluing(standing([net]), Limits())


def shifted() -> Net:
    """A tab that a strip of 7 mm keeps from the wall it is for."""
    net = square_tray("tray", 60, 20)
    net = net.attach("strip", rectangle(20, 7), to="front.left", role=Role.FLAP, fold_deg=0)
    return net.attach("tab", rectangle(20, 10), to="strip.top", role=Role.GLUE_TAB, lands_on="left")


def test_a_tab_that_lies_on_its_panel_is_fine() -> None:
    """Folded by 90° behind the wall beside it."""
    assert found(with_tab()) == ()


@pytest.mark.parametrize(
    ("net", "words"),
    [
        (with_tab(fold_deg=80), "stand at an angle to 'left'"),
        (with_tab(fold_deg=-90), "turns the wrong face to 'left'"),
        (with_tab(lands_on="right"), "turns the wrong face to 'right'"),
        (with_tab(lands_on="base"), "stand at an angle to 'base'"),
        (with_tab(lands_on=None), "names no panel"),
        (with_tab(lands_on="lid"), "which the net does not have"),
        (shifted(), "comes to lie 7.0 mm away from 'left'"),
    ],
)
def test_a_tab_that_misses_is_an_error(net: Net, words: str) -> None:
    """Wrong angle, wrong side, wrong panel, no panel."""
    (finding,) = found(net)

    assert (finding.severity, finding.code) == (Severity.ERROR, "tab-misses")
    assert place_of(finding) == "tray: tab"
    assert sentence_of(finding).cure
    assert words in sentence_of(finding).found


def test_a_tab_that_sticks_out_tells_by_how_much() -> None:
    """A tab 70 mm deep on a wall of 60 mm."""
    (finding,) = found(with_tab(shape=rectangle(20, 70)))

    assert (finding.severity, finding.code) == (Severity.WARNING, "tab-overhangs")
    assert "10.0 mm" in sentence_of(finding).found


@pytest.mark.parametrize(("depth", "codes"), [(4.0, []), (3.9, ["tab-small"])])
def test_a_shallow_tab_does_not_hold(depth: float, codes: list[str]) -> None:
    """The limit itself is enough."""
    assert [each.code for each in found(with_tab(shape=glue_tab(20, depth, 0.5)))] == codes
