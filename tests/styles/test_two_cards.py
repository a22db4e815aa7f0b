"""Boxes whose nets are of different cards: each net takes up room by its own."""

from __future__ import annotations

from typing import Any

import pytest

from cutlayers.box import Box, build
from cutlayers.checks import check_box
from cutlayers.checks.calipers import check_calipers
from cutlayers.checks.lid import ends, sides
from cutlayers.construction.card import Card, Measure
from cutlayers.construction.styles import style_named
from cutlayers.fitting.items import Item
from cutlayers.fitting.packing import pack
from cutlayers.net import Net
from cutlayers.net.slabs import allowed, shared_room
from cutlayers.telling.quantities import length

STRIPS = ("long strip 1", "cross strip 1", "cross strip 2")

BOXES: tuple[tuple[str, tuple[str, ...], dict[str, Any]], ...] = (
    ("telescope-box", ("base", "lid"), {}),
    ("telescope-box", ("base", "lid", "shoulder"), {"shoulder": 12}),
    ("sleeve-and-drawer", ("drawer", "sleeve"), {}),
    ("prism-box", ("base", "lid"), {}),
    ("prism-box", ("base", "lid"), {"sides": 3, "side": 80}),
    ("gable-carton", ("base", "lid"), {}),
    ("partition", STRIPS, {}),
    ("envelope", ("envelope", "lining"), {"lining": True}),
    ("gusset-bag", ("bag", "front patch", "back patch"), {"handle": "patch"}),
)
"""Every style of several nets, their names, and dimensions that are not its example's."""

CALIPERS = ((1.0, 0.3), (0.3, 1.0), (0.5, 1.5))
"""mm; the first net's, and the others'."""


def made(
    style: str,
    calipers: dict[str, float],
    share: float = 0.5,
    measure: Measure = "inside",
    **dims: Any,
) -> Box:
    """A box whose nets are of cards so thick; what is not named is of a card 9 mm thick."""
    found = style_named(style)
    others = tuple((net, Card(own, measure, share=share)) for net, own in calipers.items())
    return build(found, found.dimensions(**dims), Card(9.0, measure, others=others))


def size_of(net: Net, panel: str) -> tuple[float, float]:
    """Width and height of a panel on the flat in mm."""
    left, bottom, right, top = net.panel(panel).outline.bounds
    return right - left, top - bottom


def test_a_lid_of_card_on_a_tray_of_board() -> None:
    """Worked by hand. A soap set of 90 × 60 mm lies in a tray of board of 1.0 mm, whose creases
    take half of it: 91 × 61 between them, 92 × 62 outside. With 1.0 mm to slide, the lid of card
    of 0.3 mm is 93 × 63 inside of its walls; between the side walls the corner tabs take 2 · 0.3
    more, 93.6; its creases stand half of its own caliper farther out: 93.9 × 63.3."""
    box = made("telescope-box", {"base": 1.0, "lid": 0.3}, length=90, width=60, clearance=1.0)

    assert size_of(box.blank("base").net, "base") == pytest.approx((91.0, 61.0))
    assert size_of(box.blank("lid").net, "base") == pytest.approx((93.9, 63.3))


def test_a_lid_of_board_on_a_tray_of_card() -> None:
    """The other way round: 90.3 × 60.3 between the base's creases, 90.6 × 60.6 outside, 91.6 × 61.6
    with the clearance, 93.6 with the lid's own tabs of 2 · 1.0, 94.6 × 62.6 between its creases."""
    box = made("telescope-box", {"base": 0.3, "lid": 1.0}, length=90, width=60, clearance=1.0)

    assert size_of(box.blank("base").net, "base") == pytest.approx((90.3, 60.3))
    assert size_of(box.blank("lid").net, "base") == pytest.approx((94.6, 62.6))


def test_a_shoulder_fits_base_and_lid_alike() -> None:
    """90 × 60 inside of a base of 1.0 mm, 88 × 60 between its corner tabs: so the lid of 0.3 mm,
    whose creases stand 2 · 0.15 farther apart across and by its own tabs of 2 · 0.3 more along:
    88.9 × 60.3. With 1.0 mm to slide the shoulder of 0.5 mm is 87 × 59 outside, its creases a
    quarter of a millimetre inside of that."""
    calipers = {"base": 1.0, "lid": 0.3, "shoulder": 0.5}
    box = made("telescope-box", calipers, length=90, width=60, clearance=1.0, shoulder=12)
    shoulder = box.blank("shoulder").net

    assert size_of(box.blank("lid").net, "base") == pytest.approx((88.9, 60.3))
    assert size_of(shoulder, "front")[0] == pytest.approx(86.5)
    assert size_of(shoulder, "left")[0] == pytest.approx(58.5)


def test_a_slot_is_as_wide_as_the_strip_that_goes_in() -> None:
    """Strips of 0.3 mm across one of 1.0 mm, with 0.2 mm of play: slots of 0.5 mm in this, of
    1.2 mm in those. The strips' card is what the outline lacks of its rectangle: two slots half of
    29 mm deep, 30 mm being the tray's height inside and 1 mm of the strips lower."""
    calipers = {"long strip 1": 1.0, "cross strip 1": 0.3, "cross strip 2": 0.3}
    box = made("partition", calipers, slot_clearance=0.2, height=30, below_rim=1)

    for net, slots in (("long strip 1", 2 * 0.5), ("cross strip 1", 1.2)):
        wide, tall = size_of(box.blank(net).net, net)
        assert tall == pytest.approx(29.0)
        lacking = wide * tall - box.blank(net).net.panels[0].outline.area
        assert lacking == pytest.approx(slots * 29.0 / 2)


@pytest.mark.parametrize(("first", "others"), CALIPERS)
@pytest.mark.parametrize(("style", "nets", "dims"), BOXES)
@pytest.mark.parametrize("share", [0.5, 0.7])
def test_nets_of_two_cards_go_together(
    style: str,
    nets: tuple[str, ...],
    dims: dict[str, Any],
    share: float,
    first: float,
    others: float,
) -> None:
    """No two panels share more room than the thinner card gives, and what slides has its play; each
    net's layers are as thick as its own card, and a net without a fold has none."""
    calipers = {net: others if index else first for index, net in enumerate(nets)}
    box = made(style, calipers, share, **dims)
    assert all(net.caliper in (calipers[net.name], 0.0) for net in box.nets)
    assert all(net.caliper for net in box.nets if net.hinges)

    if share == 0.5:  # elsewhere panels are not folded to the middle of their card
        most = allowed(min(first, others))
        deep = [each for each in shared_room(box.assembly, calipers) if each.depth > most]
        assert [(each.one.label, each.other.label) for each in deep] == []
    codes = ("lid-tight", "lid-loose", "collision", "lock-shallow", "lock-tight", "closure")
    assert [str(each) for each in check_box(box) if each.code in codes] == []


SLIDING = ("telescope-box", "sleeve-and-drawer", "gable-carton", "prism-box")


@pytest.mark.parametrize("style", SLIDING)
@pytest.mark.parametrize(("first", "others"), CALIPERS)
def test_what_slides_has_its_play(style: str, first: float, others: float) -> None:
    """The default of 1 mm a pair is half a millimetre a side, whatever the cards; so it is above
    and below a drawer."""
    one, other = next(nets for name, nets, _ in BOXES if name == style)
    box = made(style, {one: first, other: others})

    found = (
        *sides(box.assembly, one, other, box.card),
        *ends(box.assembly, one, other, box.card),
    )
    assert len(found) >= 4
    assert sum(side.room for side in found) / len(found) == pytest.approx(0.5)


def test_the_first_net_packs_by_its_own_card() -> None:
    """A thing as large as the drawer inside goes between its walls, whatever the sleeve is of. Its
    floor lies on what the sleeve's bottom takes up, half of 0.3, on the seam's tab of 0.3 and half
    of its own 1.0: there the thing stands on half of that."""
    box = made("sleeve-and-drawer", {"drawer": 1.0, "sleeve": 0.3}, length=90, width=60, height=25)

    packing = pack(Item("cuboid", 90, 60, 25), box.assembly, box.card)
    assert packing.floor == pytest.approx(0.15 + 0.3 + 1.0)
    assert not packing.walls
    assert pack(Item("cuboid", 90.1, 60, 25), box.assembly, box.card).walls


def test_each_net_is_told_which_card_it_takes() -> None:
    """Board of 2 mm is too thick to be creased; the lid of 0.3 mm card beside it is not told."""
    box = made("telescope-box", {"base": 2.0, "lid": 0.3})

    (found,) = [each for each in check_calipers(box) if each.code == "card-too-thick"]
    assert found.subject.net == "base" and found.measured == (length(2.0),)
