"""Solids that styles fold up to, held against published and hand-worked numbers."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named
from cutlayers.net.folding import fold
from cutlayers.net.space import dot
from tests.styles.measuring import room_inside

CARD = Card(0.3, "score")


def dihedral_deg(p: int, q: int) -> float:
    """The angle between two faces of p sides, q of which meet at each point."""
    half = math.cos(math.pi / q) / math.sin(math.pi / p)
    return math.degrees(2 * math.asin(half))


def build(style: Style, **dims: object) -> float:
    """The room inside the first net, in mm³."""
    return room_inside(style.build(style.dimensions(**dims), CARD)[0])


# Volume over a³, computed from the closed forms: F pyramids from the middle to the faces.
@pytest.mark.parametrize(
    ("solid", "share"),
    [
        ("tetrahedron", math.sqrt(2) / 12),
        ("cube", 1.0),
        ("octahedron", math.sqrt(2) / 3),
        ("dodecahedron", (15 + 7 * math.sqrt(5)) / 4),
        ("icosahedron", 5 * (3 + math.sqrt(5)) / 12),
    ],
)
@pytest.mark.parametrize("closure", ["tucked", "glued"])
def test_regular_solids_have_their_volume(solid: str, share: float, closure: str) -> None:
    """Edge 60; 216000 mm³ for the cube; without the steps that make room for flaps in thick card,
    and the points that are cut off where four or five faces meet."""
    style = style_named("platonic-solid")
    dims = style.dimensions(edge=60.0, solid=solid, closure=closure)
    room = room_inside(style.build(dims, replace(CARD, coarse=1.0))[0])

    assert room == pytest.approx(share * 60**3, rel=1e-5)


# Dihedral angles of {p, q}, computed: sin δ/2 = cos(π/q) / sin(π/p), from the right triangles
# between the middles of the solid, of a face and of an edge.
@pytest.mark.parametrize(
    ("solid", "angle_deg"),
    [
        ("tetrahedron", dihedral_deg(3, 3)),
        ("cube", 90.0),
        ("octahedron", dihedral_deg(3, 4)),
        ("dodecahedron", dihedral_deg(5, 3)),
        ("icosahedron", dihedral_deg(3, 5)),
    ],
)
def test_regular_solids_have_their_dihedral_angle(solid: str, angle_deg: float) -> None:
    """Between all faces that a fold joins, as they lie in space."""
    style = style_named("platonic-solid")
    (net,) = style.build(style.dimensions(edge=60.0, solid=solid), CARD)
    folded = fold(net)

    for hinge in net.hinges:
        between = dot(folded.normal(hinge.first), folded.normal(hinge.second))
        assert 180 - math.degrees(math.acos(between)) == pytest.approx(angle_deg, abs=1e-4)


def test_a_square_frustum_has_its_volume_and_slant() -> None:
    """100 to 60 over 80: h/3·(A + a + √(Aa)) = 522666.67 mm³, slant √(80² + 20²) = 82.462."""
    style = style_named("tapered-tray")
    dims = style.dimensions(side=60.0, rim_side=100.0, height=80.0, sides=4)
    (net,) = style.build(dims, CARD)

    assert room_inside(net) == pytest.approx(522666.6667)
    _, bottom, _, top = net.panel("front").outline.bounds
    assert top - bottom == pytest.approx(82.462113)
    # Base and wall enclose 180° less 75.963757° where the walls lean out.
    fold_deg = next(h.fold_deg for h in net.hinges if {h.first, h.second} == {"base", "front"})
    assert fold_deg == pytest.approx(75.963757)


def test_a_hexagonal_prism_has_its_volume() -> None:
    """Side 50, height 40: 6·50²/4 · cot 30° · 40 = 259807.62 mm³."""
    room = build(style_named("prism-box"), side=50.0, height=40.0, sides=6)

    assert room == pytest.approx(259807.621135)


def test_a_square_pyramid_has_its_volume_and_slant() -> None:
    """Side 60, height 80: 60²·80/3 = 96000 mm³, slant √(80² + 30²) = 85.440; without the steps
    that make room for flaps in thick card."""
    style = style_named("pyramid-box")
    card = replace(CARD, coarse=1.0)
    (net,) = style.build(style.dimensions(side=60.0, height=80.0, sides=4), card)

    assert room_inside(net) == pytest.approx(96000)
    assert net.panel("front").edge("bottom").chord == pytest.approx(60)
    assert net.panel("front").outline.area == pytest.approx(60 * 85.440037 / 2)


def test_a_pillow_pack_has_its_thickness_width_and_volume() -> None:
    """Crease an arc of sagitta 15 over 100, faces 160 long: thickness twice the sagitta, folded
    width ∫√(1 − f′²)du = 93.3166, volume ∫2f(L − 2f)dx = 265517.10, worked out numerically from
    the mirror rule of Mitani and Igarashi (Pacific Graphics 2011)."""
    style = style_named("pillow-pack")
    dims = style.dimensions(length=160.0, width=100.0, thickness=30.0)
    (net,) = style.build(dims, CARD)
    (left, front, _), (right, back, _) = fold(net).bounds

    assert net.panel("front").edge("bottom").radius == pytest.approx(90.833333)
    # The middle one of the flat strips lies a little inside of the arc.
    assert back - front == pytest.approx(30, rel=5e-3)
    # Chords on the flat are a little shorter than the arc's own projection.
    assert right - left == pytest.approx(93.316567, rel=2e-3)
    assert style.volume is not None
    assert style.volume(dims, CARD) == pytest.approx(265517.10, abs=0.01)


def test_a_house_has_the_room_of_its_walls_and_its_gable() -> None:
    """70 × 60 × 50 and a roof at 45°: 210000 below the eaves, 70·60·30/2 = 63000 above; without
    the steps that make room for flaps in thick card."""
    style = style_named("house-box")
    dims = style.dimensions(length=70.0, width=60.0, height=50.0, pitch=45.0)
    room = room_inside(style.build(dims, replace(CARD, coarse=1.0))[0])

    assert room == pytest.approx(273000)


def test_a_counter_tray_has_a_trapezium_for_a_side() -> None:
    """100 long, 80 deep, 30 and 70 high: 100 · 80 · 50."""
    room = build(
        style_named("counter-tray"), length=100.0, width=80.0, height=30.0, back_height=70.0
    )

    assert room == pytest.approx(400000)
