"""Lock slits hold a tuck: a dust flap catches in them, all through the card."""

from __future__ import annotations

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.net.folding import fold

CALIPERS = (0.2, 0.3, 0.5, 1.0, 2.0, 3.0)


@pytest.mark.parametrize("style", ["tuck-carton", "snap-lock-carton", "house-box"])
@pytest.mark.parametrize("caliper", CALIPERS)
def test_a_lock_slit_bites_a_whole_caliper(style: str, caliper: float) -> None:
    """The tuck's middle lies a caliper behind its wall, so its card is half a caliper to one and a
    half behind; the tongues of both dust flaps reach as near to the wall as half a caliper."""
    kind = style_named(style)
    dims = kind.dimensions(length=90, width=60, height=120, slit=10)
    (net,) = kind.build(dims, Card(caliper))
    folded, end = fold(net), "bottom" if style == "house-box" else "top"
    wall = folded.pose("front")

    for side in ("left", "right"):
        flap = net.panel(f"{side} {end} dust flap")
        tongue = flap.edge("tongue")
        depths = [-wall.flat(folded.place(flap.name, at))[2] for at in (tongue.start, tongue.end)]
        assert min(depths) == pytest.approx(caliper / 2)
        # As long as the slit less play, which is left at its end.
        assert flap.edge("catch").length >= caliper


@pytest.mark.parametrize("caliper", CALIPERS)
def test_a_lock_slit_is_as_wide_as_what_goes_in(caliper: float) -> None:
    """From the middle of the closing panel's card, 0.5 to 1.5 calipers, and half a millimetre."""
    kind = style_named("tuck-carton")
    (net,) = kind.build(kind.dimensions(length=90, width=60, height=120, slit=10), Card(caliper))

    bite = net.panel("top tuck").edge("right-bite")
    assert bite.length == pytest.approx(1.5 * caliper + 0.5)
