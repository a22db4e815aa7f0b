"""A header card: folded over the top of a bag and stapled there, with a hole to hang by."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import choice, option, size
from cutlayers.construction.openings import PUNCH_BORDER, hand_hole, punched
from cutlayers.construction.refusing import refuse_above, refuse_below
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Stand
from cutlayers.net.folds_over import shares
from cutlayers.net.shapes import rectangle

LONGER = 1.0
"""mm by which a slot is longer than high at least."""

PLACE = 0.1
"""mm; the least play that counts as a place for the hole, so that it can be named to 0.1 mm."""


@frozen
class HeaderCard:
    """Dimensions of a header card, folded."""

    length: float = size("along the fold: the width of the bag", example=100, minimum=15)
    height: float = size("of each half", example=45, minimum=12)
    hole: str = choice(
        "a round hole for a peg, or a slot with round ends",
        default="slot",
        choices=("none", "round", "slot"),
    )
    punch: float = option(
        "diameter of the round hole, height of the slot", default=7, minimum=2, maximum=30
    )
    slot: float | None = option(
        "length of the slot; 32 mm or what there is room for if not given",
        default=None,
        maximum=200,
    )
    punch_inset: float | None = option(
        "from the fold to the middle of the hole; a third of the height if not given", default=None
    )


def build(dims: HeaderCard, card: Card) -> tuple[Net, ...]:
    """One net, the fold on top; the front is the root.

    Raises StyleError for a hole that leaves no card round it.
    """
    length = card.panel("size.length", dims.length, 0)
    height = card.panel("size.height", dims.height, 1)
    net = Net.start("header", "front", rectangle(length, height), Role.WALL, caliper=card.step)
    net = net.attach(
        "back", rectangle(length, height), to="front.top", role=Role.WALL, fold_deg=180
    )
    if dims.hole != "none":
        net = _with_hole(net, dims, length, height, shares(card.step)[1])
    return (replace(net, stand=Stand("front")),)


def _with_hole(net: Net, dims: HeaderCard, length: float, height: float, over: float) -> Net:
    """`over` is how much of the back goes over the fold."""
    slot = dims.hole == "slot"
    refuse_above(
        "options.punch",
        dims.punch,
        min(height - 2 * PUNCH_BORDER - PLACE, length - 2 * PUNCH_BORDER - LONGER),
        "too large for card to stay round the hole",
    )
    if slot:
        usual = min(32.0, length - 2 * PUNCH_BORDER)
        long = max(usual, dims.punch + LONGER) if dims.slot is None else dims.slot
        refuse_below("options.slot", long, dims.punch + LONGER, "no longer than it is high")
        refuse_above(
            "options.slot", long, length - 2 * PUNCH_BORDER, "more than leaves card beside it"
        )
    least, most = dims.punch / 2 + PUNCH_BORDER, height - dims.punch / 2 - PUNCH_BORDER
    usual = min(max(height / 3, least), most)
    inset = usual if dims.punch_inset is None else dims.punch_inset
    refuse_below("options.punch_inset", inset, least, "too near the fold")
    refuse_above("options.punch_inset", inset, most, "too near the lower edge")
    for panel, y in (("front", height - inset), ("back", inset + over)):
        if slot:
            net = hand_hole(net, panel, (length / 2, y), long, dims.punch, "hanging slot")
        else:
            net = punched(net, panel, "hanging hole", (length / 2, y), dims.punch)
    return net


STYLE = Style(
    name="header-card",
    summary="a folded card for the top of a bag, with a hole or slot to hang by",
    dimensions=HeaderCard,
    build=build,
    goes="over the top of the filled bag",
)
