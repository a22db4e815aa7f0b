"""Names of folds on hidden panels."""

from __future__ import annotations

import pytest

from cutlayers.geometry.segments import union_bounds
from cutlayers.lettering.fold_names import with_fold_names
from cutlayers.net import Net, Role, Work
from cutlayers.net.shapes import rectangle


def named(fold_deg: float, depth: float = 10.0, role: Role = Role.FLAP) -> Net:
    """A flap on the upper edge of a wall 40 wide and 30 high, its names drawn."""
    net = Net.start("net", "wall", rectangle(40, 30), Role.WALL)
    net = net.attach("flap", rectangle(40, depth), to="wall.top", role=role, fold_deg=fold_deg)
    return with_fold_names(net, 0.3)


def test_a_flap_that_folds_towards_you_says_so() -> None:
    """Drawn, upright above the fold at y = 30, its middle at x = 20, and called by its word."""
    features = named(-90.0).panel("flap").features

    left, bottom, right, top = union_bounds(feature.path.bounds for feature in features)
    assert {(feature.work, feature.name) for feature in features} == {(Work.GUIDE, "valley")}
    assert (left + right) / 2 == pytest.approx(20, abs=0.5)
    # Feet 1.2 mm from the fold; capitals are 2 mm high and a y hangs below its line.
    assert bottom == pytest.approx(31.2, abs=0.8)
    assert top == pytest.approx(33.2, abs=0.2)


def test_nothing_is_said_of_folds_that_go_away_from_you() -> None:
    """As nearly all do: a word on each flap would show through thumb cuts."""
    assert not any(panel.features for panel in named(90.0).panels)


def test_what_is_seen_of_a_box_is_not_written_on() -> None:
    """Neither a lid nor the wall that it hangs on."""
    net = named(-90.0, role=Role.LID)

    assert not any(panel.features for panel in net.panels)


def test_a_name_without_room_is_left_out() -> None:
    """A flap 3 mm deep has none for letters of 2 mm that stand 1.2 mm off the fold."""
    assert not named(-90.0, depth=3.0).panel("flap").features
