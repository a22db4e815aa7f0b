"""What card adds to a pillow pack, worked by hand."""

from __future__ import annotations

import math

import pytest

from cutlayers.box import build
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.net import Net
from cutlayers.net.folding import fold

CARD = Card(1.0, "score")
LEAN = math.asin(0.6 / 0.91)
"""Of the faces at their side edges: an arc of sagitta 15 over 100 has the slope 2b / (1 − b²) at
its ends, b = 0.3."""


def pack() -> Net:
    """100 mm wide, 30 thick, 160 long, of 1 mm card."""
    style = style_named("pillow-pack")
    (net,) = style.build(style.dimensions(length=160.0, width=100.0, thickness=30.0), CARD)
    return net


def test_the_back_s_creases_stand_a_caliper_over_the_cosine_farther_in() -> None:
    net = pack()
    (front,) = [h.edge for h in net.hinges if h.second == "front top flap"]
    (back,) = [h.edge for h in net.hinges if h.second == "back top flap"]

    assert math.cos(LEAN) == pytest.approx(0.7518, abs=1e-4)
    inset = front.bounds()[1] - back.bounds()[1]
    assert inset == pytest.approx(1 / math.cos(LEAN))
    assert back.radius == pytest.approx(front.radius)


def test_the_inner_flap_ends_bluntly_and_clear_of_the_front_face() -> None:
    """Below its middle by (1 + sin²φ)·t/2·cos φ, 0.954 mm, and half a caliper for a hand."""
    net = pack()
    flap = net.panel("back top flap")
    (crease,) = [h.edge for h in net.hinges if h.second == flap.name]
    low, high = crease.bounds()[1], flap.outline.bounds[3]
    clear = (1 + math.sin(LEAN) ** 2) / 2 / math.cos(LEAN) + 0.5

    assert clear == pytest.approx(1.454, abs=1e-3)
    assert high - low == pytest.approx(30 - clear)
    assert flap.edge("left").chord == pytest.approx(1.0)
    assert flap.edge("right").chord == pytest.approx(1.0)


def test_the_tab_lies_a_caliper_inside_of_the_front_face() -> None:
    folded = fold(pack())
    tab = folded.pose("glue tab")
    landed = folded.pose(folded.net.panel("glue tab").lands_on or "")
    corners = [
        landed.flat(tab.place(corner))[2]
        for corner in folded.net.panel("glue tab").outline.vertices
    ]

    assert corners == pytest.approx([-1.0] * 4)


@pytest.mark.parametrize(
    ("sizes", "caliper"),
    [
        ({"length": 104.0, "width": 186.0, "thickness": 72.0, "tab": 19.0}, 3.0),
        ({"length": 160.0, "width": 186.2, "tab": 30.1}, 3.0),
        ({"length": 201.2, "width": 72.6, "thickness": 27.5}, 2.0),
    ],
)
def test_flat_strips_of_flaps_end_before_their_borders_cross(
    sizes: dict[str, float], caliper: float
) -> None:
    """A strip's crease is a chord of the true one and lies nearer to the end line; a flap drawn as
    far as on the true one would end in two borders that cross."""
    style = style_named("pillow-pack")
    card = Card(caliper, "outside")
    box = build(style, style.dimensions(**sizes), card)

    assert [face.label for face in box.assembly.faces if not face.shape.is_valid] == []
