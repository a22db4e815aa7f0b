"""Rings of hinges on their way: what spherical trigonometry says, and what does not fold."""

from __future__ import annotations

import math

import pytest

from cutlayers.box import Box, build
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.net import Hinge
from cutlayers.net.rings import Settled, settled


def box(style: str, caliper: float, **dims: object) -> Box:
    found = style_named(style)
    return build(found, found.dimensions(**dims), Card(caliper))


def opened(whole: Box, share: float, first: str, second: str) -> tuple[Settled, dict[str, float]]:
    """A glued net between flat (0) and square (1), one hinge turned so far, and by their panels the
    angles that its hinges have then."""
    (folded,) = whole.assembly.boxes
    tabs = [panel.name for panel in folded.net.panels if panel.lands_on is not None]
    wanted = {hinge: _between(hinge, share) for hinge in folded.net.hinges}
    firm = {hinge for hinge in wanted if (hinge.first, hinge.second) == (first, second)}
    assert len(firm) == 1
    found = settled(folded, wanted, tabs, firm)
    return found, {f"{h.first} | {h.second}": angle for h, angle in found.angles.items()}


def _between(hinge: Hinge, share: float) -> float:
    flat = hinge.fold_deg if hinge.flat_deg is None else hinge.flat_deg
    return flat + share * (hinge.fold_deg - flat)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
def test_a_tube_of_thin_card_is_a_parallelogram(share: float) -> None:
    """Opposite angles are alike, and neighbours add up to 180°: Euclid, Elements I.29 and I.34."""
    found, angle = opened(box("tuck-carton", 0.001), share, "front", "left")

    assert found.gap < 0.01
    assert angle["front | left"] == pytest.approx(180 - 90 * share)
    assert angle["right | back"] == pytest.approx(angle["front | left"], abs=0.1)
    assert angle["front | right"] == pytest.approx(180 - angle["front | left"], abs=0.1)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
def test_a_crash_lock_corner_turns_as_spherical_trigonometry_says(share: float) -> None:
    """The walls of a corner stand at an angle β to each other inside; the panels below them reach
    the slanted crease at 45° both. On a sphere round the corner they are sides of 90°, so that the
    feet of the two lie β apart, and the crease is as far as 45° from either: by the law of cosines
    cos β = cos²45° + sin²45° cos φ, φ being the angle inside of the crease."""
    found, angle = opened(box("crash-lock-carton", 0.001), share, "front", "left")

    beta = math.radians(180 - angle["front | left"])
    inside = math.degrees(math.acos(2 * math.cos(beta) - 1))
    assert found.gap < 0.01
    assert angle["front bottom | front wing"] == pytest.approx(inside - 180, abs=0.5)
    assert angle["back bottom | back wing"] == pytest.approx(inside - 180, abs=0.5)


def test_a_bag_with_a_square_bottom_does_not_fold_without_bending() -> None:
    """Source: D. J. Balkcom, E. D. Demaine, M. L. Demaine, J. A. Ochsendorf and Z. You, "Folding
    Paper Shopping Bags", Origami 4 (2009): rigid panels can only be flat or square. From memory."""
    found, _ = opened(box("gusset-bag", 0.15), 0.7, "front", "front foot")

    assert found.gap > 2.0


@pytest.mark.parametrize("share", [0.25, 0.5, 0.75])
def test_a_bags_gussets_go_in_as_four_creases_in_a_point_do(share: float) -> None:
    """Around a gusset's apex lie 90°, 45°, 90° and 135°. Opposite creases turn alike, and between
    neighbours the tangents of half of the angles are as cos ½(90° − 45°) to cos ½(90° + 45°), which
    is 1 + √2: Huffman, "Curvature and creases" (1976), from memory."""
    whole = box("gusset-bag", 0.2)
    (folded,) = whole.assembly.boxes
    left, ring, _, _ = whole.motions[0].moves
    wanted = dict.fromkeys(folded.net.hinges, 0.0)
    wanted |= {turn.hinge: turn.to_deg for turn in left.turns}
    moving = {turn.hinge: share * turn.to_deg for turn in ring.turns}
    (foot,) = {hinge for hinge in moving if (hinge.first, hinge.second) == ("front", "front foot")}

    found = settled(folded, wanted | moving, firm=(wanted.keys() - moving.keys()) | {foot})

    assert found.gap < 0.01
    angle = {f"{h.first} | {h.second}": abs(deg) for h, deg in found.angles.items()}
    lead = angle["left front gusset | left front corner"]
    assert lead == pytest.approx(angle["left back gusset | left foot"], abs=0.1)
    for crease in ("left front corner | left foot", "left front gusset | left back gusset"):
        ratio = math.tan(math.radians(angle[crease]) / 2) / math.tan(math.radians(lead) / 2)
        assert ratio == pytest.approx(1 + math.sqrt(2), rel=0.001)


def test_what_hangs_together_in_no_ring_is_as_wanted() -> None:
    """A tray whose tabs are not glued yet."""
    (folded,) = box("tray", 0.3).assembly.boxes
    wanted = dict.fromkeys(folded.net.hinges, 30.0)

    assert settled(folded, wanted) == Settled(wanted, 0.0)
