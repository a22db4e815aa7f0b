"""What an envelope shuts."""

from __future__ import annotations

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.overlays import together, without
from cutlayers.net.faces import seen_from
from tests.net.standing import standing


@pytest.mark.parametrize("flap", ["straight", "pointed"])
@pytest.mark.parametrize("caliper", [0.12, 0.3, 1.0])
def test_no_corner_gapes_between_back_and_flap(flap: str, caliper: float) -> None:
    """Default size: the throat is 0.08 of the front's height deep. Looked at from behind, nothing
    of the front is seen but beside the flap, which is a caliper narrower than the front at both
    ends so that it goes in."""
    style = style_named("envelope")
    (net,) = style.build(style.dimensions(flap_shape=flap), Card(caliper))
    (front, *others) = (face for face in standing([net]).faces if face.name in FACES)
    covered = together(seen_from(front.pose, each.pose, each.shape) for each in others)
    open_ = without(front.shape, covered)

    throat = 0.08 * (105 + caliper)
    assert open_.area == pytest.approx(2 * caliper * throat, rel=0.01)


FACES = ("front", "back", "flap")
