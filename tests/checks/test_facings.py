"""A facing piece is card of its own: in what slides over it, in what goes in, at holes, in weight.

Its thickness comes between two panels, so room is less by it: arithmetic, worked by hand.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlayers.artwork.model import Spot
from cutlayers.box import Box
from cutlayers.box.blank import Blank
from cutlayers.box.facing import Facing, GluedOn, facing_net, thickness
from cutlayers.checks import check_box
from cutlayers.checks.lid import check_lid, ends, sides
from cutlayers.checks.punching import check_punching
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.fitting.items import Item
from cutlayers.fitting.packing import pack
from cutlayers.guide.material import box_needs
from cutlayers.job.limits import Limits
from cutlayers.job.stock import Stock
from cutlayers.net import Net, Role
from cutlayers.net.shapes import rectangle
from cutlayers.telling.words import sentence_of
from tests.checks.boxes import CALIPER, folded_strip, square_lid, square_tray
from tests.net.standing import standing

T = 0.3


def facing(net: Net, panel: str, border: float = 1.0) -> Facing:
    """A piece for one panel of a net."""
    return Facing(Blank(facing_net(Blank(net), panel, border)), Spot(net.name, panel), "gold")


def glued(net: Net, *panels: str, caliper: float, border: float = 1.0) -> GluedOn:
    return [(facing(net, panel, border), caliper) for panel in panels]


def test_two_pieces_on_one_panel_are_as_thick_as_both() -> None:
    tray = square_tray("base", 60, 20)

    assert thickness(glued(tray, "front", "front", "back", caliper=0.2)) == pytest.approx(
        {("base", "front"): 0.4, ("base", "back"): 0.2}
    )


def test_a_facing_on_the_base_takes_room_from_the_lid() -> None:
    """The worked example: 0.25 mm a side; faced with 0.2, front and back have 0.05 left."""
    base, lid = square_tray("base", 80.3, 30), square_lid("lid", 81.4, 12, lift=19)
    box = standing((base, lid))
    faced = thickness(glued(base, "front", "back", caliper=0.2))
    room = {side.outer.name: side.room for side in sides(box, "base", "lid", Card(T), faced)}

    assert room == pytest.approx({"front": 0.05, "back": 0.05, "left": 0.25, "right": 0.25})
    tight = check_lid(box, Card(T), Limits(), faced)
    assert [(each.code, each.measured[0].value) for each in tight] == [("lid-tight", 0.05)]


def test_a_facing_on_the_lid_takes_none() -> None:
    """It is outside."""
    base, lid = square_tray("base", 80.3, 30), square_lid("lid", 81.4, 12, lift=19)
    faced = thickness(glued(lid, "front", "back", "left", "right", caliper=1.0))

    assert check_lid(standing((base, lid)), Card(T), Limits(), faced) == ()


def test_a_facing_under_a_drawer_takes_room_from_its_sleeve() -> None:
    """Glued under the drawer's base it lies on the sleeve's bottom."""
    style = style_named("sleeve-and-drawer")
    box = Box.of(style.build(style.dimensions(clearance=1.0), Card(0.5)), Card(0.5))
    drawer = box.nets[0]
    faced = thickness(glued(drawer, "base", caliper=0.2))
    without, with_it = (
        ends(box.assembly, "drawer", "sleeve", Card(0.5), each) for each in ({}, faced)
    )

    taken = [one.room - other.room for one, other in zip(without, with_it, strict=True)]
    assert taken == pytest.approx([0.2, 0.0])


def lined(side: float) -> Net:
    """A tray whose front wall is folded in over its rim: a lining with its outside inwards."""
    tray = square_tray("tray", side, 20)
    return tray.attach(
        "front lining",
        rectangle(side, 20),
        to="front.top",
        role=Role.LINING,
        fold_deg=180.0,
    )


def test_a_facing_on_a_lining_takes_room_from_what_goes_in() -> None:
    """60 mm between the creases, less half a caliper of one wall, and of the other that and the
    lining's whole: 58.99 goes in and with 1 mm on the lining 57.99 does."""
    net = lined(60)
    box, card = standing([net]), Card(CALIPER)
    faced = thickness(glued(net, "front lining", caliper=1.0))
    room = 60 - 2 * CALIPER

    assert pack(Item("cuboid", 40, room - 0.01, 10), box, card).fits
    assert not pack(Item("cuboid", 40, room - 0.01, 10), box, card, faced).fits
    assert pack(Item("cuboid", 40, room - 1.01, 10), box, card, faced).fits


def test_a_facing_outside_of_a_wall_takes_none_of_it() -> None:
    tray = square_tray("tray", 60, 20)
    faced = thickness(glued(tray, "front", "back", "left", "right", "base", caliper=1.0))

    thing = Item("cuboid", 59.49, 59.49, 10)
    assert pack(thing, standing([tray]), Card(CALIPER), faced).fits


@pytest.mark.parametrize(("border", "layers"), [(0.0, 4), (2.0, 3)])
def test_a_facing_is_a_layer_at_a_hole_unless_its_own_is_wider(border: float, layers: int) -> None:
    """Three layers of card, and a piece on the outermost whose hole is as large, or wider all
    round: the punch does not touch that one."""
    pile = folded_strip(3, holes=(0, 1, 2))
    found = check_punching(
        standing([pile]),
        Card(CALIPER),
        Limits(layers=2),
        glued(pile, "layer 0", caliper=0.2, border=border),
    )

    assert [(each.code, each.measured[0].value) for each in found] == [("layers", layers)]


def test_a_facing_without_a_hole_shuts_one() -> None:
    """The inner layer's own piece has no hole, since that layer has none of its own."""
    pile = folded_strip(2, holes=(0,))
    found = check_punching(
        standing([pile]), Card(CALIPER), Limits(), glued(pile, "layer 1", caliper=0.2)
    )

    told = [sentence_of(each).found for each in found if each.code == "hole-covered"]
    assert told == [
        "100% of it is covered by layer 1",
        "100% of it is covered by the pile layer 1 facing",
    ]


def test_a_facing_is_weighed_with_its_box() -> None:
    """A base of 100 × 100 mm and four walls of 100 × 20 are 18,000 mm², at 300 g/m² 5.4 g; a piece
    of 98 × 18 mm on one wall at 250 g/m² is 0.441 g more. Where one is not known, nothing is."""
    net = square_tray("tray", 100, 20)
    card = Stock("card", 0.3, (300.0, 300.0), grammage=300.0)
    gold = Stock("gold", 0.3, (300.0, 300.0), grammage=250.0)
    piece = facing(net, "front").net

    needs = box_needs(Box.of((net,), Card(0.3)), {net.name: card}, [(piece, gold)])
    assert needs.weight_g == pytest.approx(5.4 + 0.441)
    assert needs.area_mm2 == pytest.approx(18_000)
    unknown = box_needs(
        Box.of((net,), Card(0.3)), {net.name: card}, [(piece, replace(gold, grammage=None))]
    )
    assert unknown.weight_g is None


def test_all_checks_of_a_box_know_its_facings() -> None:
    """Through the one door: a telescope's base, faced with more than its lid has room for."""
    style = style_named("telescope-box")
    nets = style.build(style.dimensions(clearance=1.0), Card(0.3))
    box = Box.of(nets, Card(0.3))
    codes = {each.code for each in check_box(box)}
    faced = glued(nets[0], "front", "back", caliper=0.8)

    assert "lid-tight" not in codes
    assert "lid-tight" in {each.code for each in check_box(box, glued_on=faced)}
