"""Card too thick or too thin for a net, by what sets it."""

from __future__ import annotations

import pytest

from cutlayers.box import Box
from cutlayers.checks.calipers import check_calipers
from cutlayers.construction.card import Card
from cutlayers.net import Net, Role
from cutlayers.net.calipers import folds_up_to
from cutlayers.net.shapes import rectangle
from cutlayers.telling.findings import Finding
from cutlayers.telling.words import sentence_of
from tests.checks.boxes import square_tray, with_tab


def found(net: Net, caliper: float) -> list[Finding]:
    return list(check_calipers(Box.of((net,), Card(caliper))))


@pytest.mark.parametrize(
    ("angle", "most"), [(45, 1.65), (90, 1.65), (135, 1.125), (-135, 1.125), (180, 0.6)]
)
def test_a_fold_takes_less_the_farther_it_turns(angle: float, most: float) -> None:
    """1.65 mm where the trade's table of grooves ends, 0.6 mm folded right over, half way between
    half way."""
    assert folds_up_to(angle) == pytest.approx(most)


@pytest.mark.parametrize(
    ("caliper", "codes"),
    [
        (0.1, ["card-too-thin"]),
        (0.11, ["card-too-thin"]),
        (0.12, []),
        (1.65, []),
        (1.66, ["card-too-thick"]),
        (3.0, ["card-too-thick"]),
    ],
)
def test_a_tray_takes_what_is_creased_and_does_not_sag(caliper: float, codes: list[str]) -> None:
    """60 mm are 500 × 0.12 mm."""
    assert [each.code for each in found(square_tray("tray", 60, 20), caliper)] == codes


def test_a_narrow_tab_says_how_much_is_wanting() -> None:
    """In card 1.5 mm thick two grooves are 5.9 mm."""
    net = with_tab(shape=rectangle(20, 4.9))

    (finding,) = found(net, 1.5)

    assert finding.subject.panel == "tab"
    assert finding.detail("reason") == "narrow"
    assert finding.detail("wanting").value == pytest.approx(1.0)
    assert "1.0 mm deeper" in sentence_of(finding).cure


def test_greyboard_is_not_creased_and_the_cure_says_what_to_do() -> None:
    """2 mm greyboard: cut apart and hinged with tape."""
    (finding,) = found(square_tray("tray", 60, 20), 2.0)

    sentence = sentence_of(finding)
    assert "folds by 90°" in sentence.found and "2 mm" in sentence.found
    assert "hinge them with tape" in sentence.cure


def test_what_is_only_cut_takes_any_board() -> None:
    """Nothing to fold, nothing to sag."""
    net = Net.start("strip", "strip", rectangle(300, 200), Role.LINING)

    assert found(net, 0.1) == [] and found(net, 3.0) == []


def test_a_carton_that_is_glued_flat_is_a_warning_where_it_would_split() -> None:
    """Two creases go right over; 0.6 mm does, 0.7 mm does not."""
    net = square_tray("tray", 60, 20).attach(
        "tab",
        rectangle(20, 10),
        to="front.left",
        role=Role.GLUE_TAB,
        flat_deg=180.0,
        lands_on="left",
    )

    assert [each.code for each in found(net, 0.6)] == []
    assert [each.code for each in found(net, 0.7)] == ["card-too-thick-to-press"]


def test_what_nobody_glues_goes_flat_to_be_shut_so_it_has_to() -> None:
    """A card that opens to a right angle and shuts flat."""
    net = Net.start("card", "upper", rectangle(60, 60), Role.WALL).attach(
        "lower",
        rectangle(60, 60),
        to="upper.bottom",
        role=Role.WALL,
        fold_deg=-90.0,
        flat_deg=-180.0,
    )

    assert [each.code for each in found(net, 0.6)] == []
    (finding,) = found(net, 0.7)
    assert finding.code == "card-too-thick" and finding.detail("reason") == "flat"
