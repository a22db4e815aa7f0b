"""Whether things fit, against distances worked by hand."""

from __future__ import annotations

import math

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.fitting import Item, item
from cutlayers.fitting.packing import Packing, pack
from cutlayers.net import Net
from tests.checks.boxes import CALIPER, square_lid, square_tray
from tests.net.standing import standing

INSIDE = 60 - CALIPER
"""Between the walls of a tray of 60 mm from score to score."""

RIM = 20 - CALIPER / 2
"""From its floor to its rim."""


def packed(thing: Item, *nets: Net) -> Packing:
    return pack(thing, standing(nets or (square_tray("tray", 60, 20),)), Card(CALIPER))


def bar(length: float, width: float, height: float) -> Item:
    return item("cuboid", {"length": length, "width": width, "height": height})


@pytest.mark.parametrize(
    ("thing", "fits"),
    [
        (bar(INSIDE, INSIDE, RIM), True),
        (bar(INSIDE + 0.01, 10, 10), False),
        (bar(10, INSIDE + 0.01, 10), False),
        (bar(10, 10, RIM + 0.01), False),
        (item("cylinder", {"diameter": INSIDE, "height": RIM}), True),
        (item("cylinder", {"diameter": INSIDE + 0.01, "height": 5}), False),
        (item("sphere", {"diameter": RIM}), True),
        (item("sphere", {"diameter": RIM + 0.01}), False),
        (item("egg", {"diameter": INSIDE, "length": RIM}), True),
        (item("egg", {"diameter": INSIDE + 0.01, "length": RIM}), False),
    ],
)
def test_an_open_tray_holds_what_is_as_large_as_its_inside(thing: Item, fits: bool) -> None:
    """Touching is allowed, a hundredth of a millimetre more is not."""
    assert packed(thing).fits == fits


def test_a_closed_lid_limits_the_height() -> None:
    """The lid's top lies 31 mm up, its inner face half a caliper lower."""
    nets = (square_tray("base", 60, 30), square_lid("lid", 62, 12, lift=19))
    room = 31 - CALIPER

    assert packed(bar(20, 20, room), *nets).fits
    (obstacle,) = packed(bar(20, 20, room + 1), *nets).walls
    assert obstacle.face.label == "lid: top"
    assert obstacle.amount == pytest.approx(1)
    assert obstacle.toward == pytest.approx((0, 0, 1))


@pytest.mark.parametrize("shape", ["sphere", "egg", "cylinder", "cuboid"])
def test_the_roof_is_met_where_geometry_says(shape: str) -> None:
    """Of a square gable lid whose layers share a plane: the roof's inner face is the plane through
    the wall's top, leaning by 90° less the wall's fold, half a caliper in. The largest
    height that stays below it is worked out from the thing's reach along the roof's normal."""
    caliper, card = 0.4, Card(0.4, "score", coarse=1.0)
    style = style_named("gable-carton")
    width, height, clearance = 60.0, 40.0, 1.0
    dims = style.dimensions(
        length=width, width=width, height=height, clearance=clearance, roof_depth=45, lid_height=20
    )
    box = standing(style.build(dims, card))
    lid = width + 2 * caliper + clearance
    c = lid / (2 * 45)
    normal = (0.0, -math.sqrt(1 - c * c), c)
    top = height + caliper / 2  # of the lid's walls, over the base's rigid plane
    # Plane: normal · (y, z) = normal · (−lid/2, top); inner face caliper/2 nearer.
    level = -normal[1] * lid / 2 + normal[2] * top - caliper / 2

    def thing(tall: float) -> Item:
        sizes = {
            "sphere": {"diameter": tall},
            "egg": {"diameter": 30.0, "length": tall},
            "cylinder": {"diameter": 30.0, "height": tall},
            # Short, so as not to reach the gussets, which lie one layer deeper under the roof.
            "cuboid": {"length": 20.0, "width": 30.0, "height": tall},
        }[shape]
        return item(shape, sizes)

    def free(tall: float) -> float:
        return level - normal[2] * (caliper / 2 + tall / 2) - thing(tall).reach(normal)

    low, high = 1.0, 200.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if free(middle) > 0 else (low, middle)
    if shape == "sphere":
        low = min(low, width - caliper)

    assert pack(thing(low - 0.01), box, card).fits
    assert not pack(thing(low + 0.01), box, card).fits


def test_a_thing_is_moved_over_where_one_side_is_in_its_way() -> None:
    """A post 5 mm inside of the left wall leaves 54.5 mm; in the middle only 49.5 would do."""
    from cutlayers.net import Role
    from cutlayers.net.shapes import rectangle

    net = square_tray("tray", 60, 20)
    net = net.attach("rim", rectangle(60, 5), to="left.top", role=Role.WALL, fold_deg=90)
    net = net.attach("post", rectangle(60, 10), to="rim.top", role=Role.WALL, fold_deg=90)
    room = 60 - 5 - CALIPER

    assert packed(bar(room - 0.01, 20, 20 - CALIPER), net).fits
    assert not packed(bar(room + 0.2, 20, 20 - CALIPER), net).fits
