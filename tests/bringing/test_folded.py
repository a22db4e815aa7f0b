"""Nets drawn for thick card: their layers, and how a lid with a gable stands."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlayers.bringing.angles import fold_up
from cutlayers.bringing.folded import folded_at
from cutlayers.net import Net, Role
from cutlayers.net.folding import fold
from tests.bringing.stripped import nets, stripped

LID = "gable-carton: lid"


def about_lines(net: Net) -> Net:
    """A net each of whose creases is a line, as a drawing has them."""
    return replace(net, hinges=tuple(replace(each, strip=0.0) for each in net.hinges))


@pytest.mark.parametrize("caliper", [0.2, 0.6, 1.0])
def test_a_drawing_for_thick_card_closes_about_the_strips_that_it_was_drawn_with(
    caliper: float,
) -> None:
    """The four layers of a gable's ridge lie calipers apart: folded about lines they miss each
    other, about strips as wide as they lie apart they meet. Where nothing lies between two panels
    the strip is one caliper; how a ring of three shares its four calipers out it does not tell."""
    net = nets(caliper)[LID]
    angles = [hinge.fold_deg for hinge in net.hinges]

    assert fold(about_lines(net)).closure_error > 2 * caliper
    found = folded_at(stripped(net).net, angles)
    assert fold(found).closure_error < 1e-6
    strips = [hinge.strip / caliper for hinge in found.hinges if hinge.strip]
    assert len(strips) == sum(abs(angle) == 180 for angle in angles) == 10
    assert min(strips) == pytest.approx(1.0)
    drawn = [hinge.strip / caliper for hinge in net.hinges]
    assert sum(strips) == pytest.approx(sum(drawn))


def test_a_drawing_that_closes_about_lines_has_no_strips() -> None:
    """In card without thickness all layers of the ridge share a plane."""
    net = nets(0.0)[LID]

    found = folded_at(stripped(net).net, [hinge.fold_deg for hinge in net.hinges])

    assert not any(hinge.strip for hinge in found.hinges)


def test_a_lid_with_a_gable_stands_on_its_rim() -> None:
    """It has nothing that it could lie on opposite to its opening: its four walls stand on the
    table, its roofs and gussets lean together over it, and the ridge stands up on the roofs."""
    net = nets(0.3)[LID]
    roles = {panel.name: panel.role for panel in net.panels}
    names = {f"panel {number}": panel.name for number, panel in enumerate(net.panels, 1)}

    found = fold_up(stripped(net))

    assert found is not None
    folded = fold(found.net)
    low = {
        names[panel.name]: min(z for _, _, z in folded.outline(panel.name, 0.1))
        for panel in found.net.panels
    }
    walls = {name for name, role in roles.items() if role is Role.WALL}
    assert {name for name, z in low.items() if z < 1.0} == {*walls, "wall tab"}
    ridge = [low[name] for name, role in roles.items() if role is Role.RIDGE]
    assert min(ridge) > max(z for name, z in low.items() if roles[name] is not Role.RIDGE) - 20
    told = {names[panel.name]: panel.role for panel in found.net.panels}
    upright = (Role.WALL, Role.ROOF, Role.RIDGE)
    assert {n: r for n, r in told.items() if roles[n] in upright} == {
        n: r for n, r in roles.items() if r in upright
    }
