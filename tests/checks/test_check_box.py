"""All checks in one call."""

from __future__ import annotations

import pytest

from cutlayers.box import Box, build
from cutlayers.checks import check_box
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.fitting import item
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.net import Hinge, Net, Panel, Role
from cutlayers.telling.findings import Severity
from tests.checks.boxes import square_lid, square_tray


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
@pytest.mark.parametrize("caliper", [0.2, 0.32, 0.45])
def test_every_style_s_example_is_without_fault(style: Style, caliper: float) -> None:
    """Nothing to be said of a box as `cutlayers new` proposes it."""
    assert check_box(build(style, style.dimensions(), Card(caliper))) == ()


def test_errors_come_first() -> None:
    """A lid that does not go on (error), a bar without its clearance (warning)."""
    bar = item("cuboid", {"length": 59, "width": 20, "height": 20}, 3)
    nets = (square_tray("base", 60, 30), square_lid("lid", 60.2, 12, lift=19))
    found = check_box(Box.of(nets, Card(0.3)), item=bar)

    severities = [each.severity for each in found]
    assert Severity.ERROR in severities
    assert Severity.WARNING in severities
    assert severities == sorted(severities, key=list(Severity).index)


def test_curved_folds_are_told_and_not_guessed() -> None:
    """Two panels that share an arc."""
    lower = Path(((0, 0), (20, 0), (20, 10), (0, 10)), (0, 0, 0.3, 0), closed=True)
    upper = Path(((20, 10), (20, 30), (0, 30), (0, 10)), (0, 0, 0, -0.3), closed=True)
    names = ("a", "b", "c", "d")
    net = Net(
        "pillow",
        (Panel("low", Role.WALL, lower, names), Panel("high", Role.WALL, upper, names)),
        (Hinge("low", "high", Segment((20, 10), (0, 10), 0.3), 90),),
    )
    (finding,) = check_box(Box.of([net], Card(0.3)))

    assert (finding.severity, finding.code) == (Severity.NOTE, "curved")
