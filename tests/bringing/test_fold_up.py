"""Flat nets fold up to what they were drawn as.

The expected angles, roles and landings are those that our styles give their nets, which know
nothing of how they are found again here.
"""

from __future__ import annotations

import pytest

from cutlayers.bringing.angles import fold_up
from tests.bringing.stripped import nets, same_angles, stripped

CALIPERS = (0.0, 0.3)

NOT_FOUND = {
    "envelope: envelope": "all panels lie on each other",
    "folder: folder": "two panels: nothing tests the angle between them",
    "header-card: header": "two panels: nothing tests the angle between them",
    "pillow-pack: pillow": "its panels bend along curved creases",
    "gusset-bag: bag": "most of its creases stay flat in the open bag",
    "gusseted-envelope: envelope": "creases that press it flat stay flat in the open one",
    "gable-carton: lid": "its ends fold in between the roofs",
}
"""Nets without a rigid fold-up that tells itself, and why."""

GAPES = {"hinged-lid-tray: tray": 2.0}
"""mm; its lid is drawn with play, wider than the walls that it meets."""

EVERY = sorted(nets(0.3))


@pytest.mark.parametrize("caliper", CALIPERS)
@pytest.mark.parametrize("name", [name for name in EVERY if name not in NOT_FOUND])
def test_every_hinge_gets_the_angle_that_the_style_gives_it(name: str, caliper: float) -> None:
    """And none is doubtful, and sides that meet lie a step of the card apart at most."""
    net = nets(caliper)[name]

    found = fold_up(stripped(net))

    assert found is not None
    assert same_angles(net, found.net) == len(net.hinges)
    assert found.doubtful == ()
    assert found.gap <= GAPES.get(name, 4 * caliper + 1e-9)


@pytest.mark.parametrize("name", sorted(NOT_FOUND))
def test_what_does_not_tell_itself_is_not_made_up(name: str) -> None:
    """Either there is no answer, or each hinge that has not the style's angle is doubtful."""
    net = nets(0.3)[name]

    found = fold_up(stripped(net))

    assert found is None
