"""Which way the grain is to run: round a tube, along a single fold, along a tray's long folds."""

from __future__ import annotations

import pytest

from cutlayers.checks.grain import check_grain
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.transforms import Point
from cutlayers.net import Net
from cutlayers.net.tube import tube_creases
from cutlayers.telling.words import sentence_of
from tests.checks.boxes import square_tray

UP, ACROSS = (0.0, 1.0), (1.0, 0.0)
"""As the styles draw their blanks: a tube's creases stand upright."""

TUBES = {
    ("crash-lock-carton", "carton"),
    ("gable-carton", "lid"),
    ("house-box", "house"),
    ("sleeve-and-drawer", "sleeve"),
    ("snap-lock-carton", "carton"),
    ("tuck-carton", "carton"),
}
"""Nets that are a ring of stiff panels closed by a glue tab, by the looks of their pictures."""

TRAYS = {("tray", "tray"), ("telescope-box", "lid"), ("gable-carton", "base"), ("folder", "folder"),
         ("envelope", "envelope"), ("pillow-pack", "pillow"), ("gusset-bag", "bag"),
         ("belly-band", "band"), ("sleeve-and-drawer", "drawer")}  # fmt: skip
"""Nets that are none: trays, cards of one fold, and what lies flat or bows."""


def net_of(style_name: str, net: str, **dims: float) -> Net:
    style = style_named(style_name)
    values = {name: default for name, (_, default) in style.table.items()} | dims
    nets = style.build(style.dimensions(**values), Card(0.3))
    return next(each for each in nets if each.name == net)


def codes(net: Net, grain: Point) -> list[str]:
    return [finding.code for finding in check_grain(net, grain)]


@pytest.mark.parametrize(("style", "net"), sorted(TUBES))
def test_a_tube_wants_its_grain_round_it(style: str, net: str) -> None:
    """Across the upright creases, so that its panels do not bow. Common practice for folding
    cartons, from memory."""
    assert codes(net_of(style, net), ACROSS) == []
    assert codes(net_of(style, net), UP) == ["grain-of-tube"]


@pytest.mark.parametrize(("style", "net"), sorted(TRAYS))
def test_what_is_no_tube_is_not_taken_for_one(style: str, net: str) -> None:
    assert tube_creases(net_of(style, net)) == ()


def test_how_much_runs_up_is_told() -> None:
    """Three creases between four walls, 90.3 mm each less a caliper of 0.3 mm at both ends, where
    the side walls end a layer inside, and that of the glue tab, as long as the fourth wall is high
    less the gaps that keep the tab off the ends."""
    (finding,) = check_grain(net_of("tuck-carton", "carton"), UP)

    along, across = finding.measured
    tab = along.value - 3 * (90.3 - 2 * 0.3)
    assert 80 < tab <= 90.3 and across.value == pytest.approx(0.0, abs=1e-9)
    said = sentence_of(finding)
    assert f"{along.value:.0f} mm of the creases round the tube run along the grain" in said.found
    assert "bow" in said.right


def test_one_long_fold_wants_its_grain_along_it() -> None:
    """A folder's spine; the header's fold lies across."""
    assert codes(net_of("folder", "folder"), UP) == []
    assert codes(net_of("folder", "folder"), ACROSS) == ["grain"]
    assert codes(net_of("header-card", "header"), ACROSS) == []
    assert codes(net_of("header-card", "header"), UP) == ["grain"]


def test_a_long_tray_wants_its_grain_along_its_long_folds() -> None:
    """90 mm twice one way against 40 mm twice the other."""
    tray = net_of("tray", "tray", length=90.0, width=40.0)

    assert codes(tray, ACROSS) == []
    assert codes(tray, UP) == ["grain"]


@pytest.mark.parametrize("grain", [(1.0, 0.0), (0.0, 2.0)])
def test_a_square_tray_is_the_same_either_way(grain: Point) -> None:
    """As much fold along as across: turning does not help, so nothing is said."""
    assert check_grain(square_tray("tray", 60, 20), grain) == ()
