"""Art is upright as seen on the finished box: proven from the folded model of every style."""

from __future__ import annotations

import math

import pytest

from cutlayers.artwork.ink import Contour, Figure, Paint, Stamp
from cutlayers.artwork.model import Art, Picture, Spot
from cutlayers.artwork.panel_ink import panel_ink
from cutlayers.artwork.regions import Regions
from cutlayers.box import Blank
from cutlayers.box.facing import facing_net
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.net import Net
from cutlayers.net.space import Vector, cross, dot, minus
from cutlayers.telling.errors import StyleError

FIGURE = Figure(2.0, 1.0, (Paint((Contour.polygon(((0, 0), (2, 0), (2, 1))),), fill="#000000"),))
PICTURE = Picture("flag.svg", FIGURE, aspect=2.0)


def unit(v: Vector) -> Vector:
    size = math.sqrt(dot(v, v))
    return (v[0] / size, v[1] / size, v[2] / size)


def corners(net: Net, panel: str, rotation_deg: float = 0.0) -> tuple[Vector, Vector, Vector]:
    """Lower left, lower right and upper left corner of a picture on a panel, in space."""
    art = Art(PICTURE, (Spot(net.name, panel),), "here", rotation_deg)
    areas = Regions(net, (panel,), frozenset(), 3.0)
    ink = panel_ink(art, Blank(net).uprights[panel], areas, panel, 0.5)
    (stamp,) = ink.items
    assert isinstance(stamp, Stamp)
    box = Blank(net).seen
    origin, right, top = (
        box.place(panel, stamp.places[0].apply(corner)) for corner in ((0, 0), (1, 0), (0, 1))
    )
    return origin, right, top


def steepest(normal: Vector) -> Vector:
    """The way up within a plane: the vertical less its part along the normal. On a level panel,
    away from the viewer, who stands in front of the box (y = −∞)."""
    vertical: Vector = (0.0, 0.0, 1.0) if abs(normal[2]) < 1 - 1e-9 else (0.0, 1.0, 0.0)
    along = dot(vertical, normal)
    x, y, z = (v - along * n for v, n in zip(vertical, normal, strict=True))
    return unit((x, y, z))


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_upright_on_every_panel(style: Style) -> None:
    """The picture's up is the steepest way up, and it is not seen as in a mirror from outside."""
    for net in style.build(style.dimensions(), Card(0.3)):
        box = Blank(net).seen
        for panel in net.panels:
            origin, right, top = corners(net, panel.name)
            normal = box.normal(panel.name)
            up, across = unit(minus(top, origin)), unit(minus(right, origin))

            where = f"{net.name}: {panel.name}"
            assert dot(up, steepest(normal)) == pytest.approx(1.0, abs=1e-9), where
            assert dot(cross(across, up), normal) == pytest.approx(1.0, abs=1e-9), where


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_facings_are_upright(style: Style) -> None:
    """A facing, glued on its panel, shows its art the same way up as the panel would."""
    for net in style.build(style.dimensions(), Card(0.3)):
        for panel in net.panels:
            try:
                facing = facing_net(Blank(net), panel.name, 1.0)
            except StyleError:
                continue  # a panel too narrow for a border

            on_panel, on_facing = (
                Blank(net).uprights[panel.name],
                Blank(facing).uprights[facing.root.name],
            )

            assert on_facing == pytest.approx(on_panel, abs=1e-9), f"{net.name}: {panel.name}"


@pytest.mark.parametrize("angle", [90.0, 180.0, -30.0])
def test_rotation_turns_left_as_seen(angle: float) -> None:
    """A positive rotation turns to the left for the viewer, on a panel that hangs upside down on
    the flat net as well."""
    (net,) = next(s for s in styles() if s.name == "tray").build(
        next(s for s in styles() if s.name == "tray").dimensions(), Card(0.3)
    )
    for panel in ("front", "back", "left", "right"):
        origin, right, _ = corners(net, panel, angle)
        normal, across = Blank(net).seen.normal(panel), unit(minus(right, origin))
        level = cross(steepest(normal), normal)  # to the right as seen from outside

        turned = math.degrees(math.atan2(dot(across, steepest(normal)), dot(across, level)))

        assert math.remainder(turned - angle, 360) == pytest.approx(0.0, abs=1e-6)


def test_the_back_roof_is_not_upside_down() -> None:
    """On the flat lid both roofs stand above their walls, so both read upwards there too."""
    style = next(s for s in styles() if s.name == "gable-carton")
    lid = style.build(style.dimensions(), Card(0.3))[1]

    up = Blank(lid).uprights

    assert up["front roof"] == pytest.approx((0.0, 1.0), abs=1e-9)
    assert up["back roof"] == pytest.approx((0.0, 1.0), abs=1e-9)
