"""A header card: folded over the top of a bag and stapled there, with a hole to hang by.

The bag's top lies between the halves below the hole, which misses it by that.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import choice, option, proportion, size
from cutlayers.construction.openings import PUNCH_BORDER, hand_hole, punched
from cutlayers.construction.refusing import refuse_above, refuse_below
from cutlayers.construction.spans import below
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Stand
from cutlayers.net.folds_over import shares
from cutlayers.net.shapes import rectangle
from cutlayers.telling.errors import StyleError

GRIP = 10.0
"""mm below the hole for the bag's top and its staples, so that the hole does not go through the bag
(common practice, no source)."""

LONGER = 1.0
"""mm by which a slot is longer than high at least."""

LEAST_PUNCH = 2.0
"""mm; the smallest hole that hangs on anything."""

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
        "diameter of the round hole, height of the slot", default=7, minimum=LEAST_PUNCH, maximum=30
    )
    slot: float | None = proportion(
        "length of the slot; 32 mm or what there is room for if not given",
        example=32,
        maximum=200,
    )
    punch_inset: float | None = proportion(
        "from the fold to the middle of the hole; a third of the height if not given", example=15
    )


def build(dims: HeaderCard, card: Card) -> tuple[Net, ...]:
    """One net, the fold on top; the front is the root.

    Raises StyleError for a hole that leaves no card round it.
    """
    length = card.panel("size.length", dims.length, 0)
    height = card.panel("size.height", dims.height, 1)
    net = Net.start(
        "header", "front", rectangle(length, height), Role.WALL, caliper=card.step, eased=card.eased
    )
    net = net.attach(
        "back", rectangle(length, height), to="front.top", role=Role.WALL, fold_deg=180
    )
    if dims.hole != "none":
        net = _with_hole(net, dims, length, height, shares(card.step)[1])
    return (replace(net, stand=Stand("front")),)


def _with_hole(net: Net, dims: HeaderCard, length: float, height: float, over: float) -> Net:
    """`over` is how much of the back goes over the fold."""
    slot = dims.hole == "slot"
    most = min(height - PUNCH_BORDER - GRIP - PLACE, length - 2 * PUNCH_BORDER - LONGER)
    if below(most, LEAST_PUNCH):
        raise StyleError(
            "options.hole",
            f'is "{dims.hole}", which leaves no room for the bag below it',
            works="none",
        )
    refuse_above(
        "options.punch", dims.punch, most, "too large for card round it and the bag below it"
    )
    if slot:
        usual = min(32.0, length - 2 * PUNCH_BORDER)
        long = max(usual, dims.punch + LONGER) if dims.slot is None else dims.slot
        refuse_below("options.slot", long, dims.punch + LONGER, "no longer than it is high")
        refuse_above(
            "options.slot", long, length - 2 * PUNCH_BORDER, "more than leaves card beside it"
        )
    least, most = dims.punch / 2 + PUNCH_BORDER, height - dims.punch / 2 - GRIP
    usual = min(max(height / 3, least), most)
    inset = usual if dims.punch_inset is None else dims.punch_inset
    refuse_below("options.punch_inset", inset, least, "too near the fold")
    refuse_above(
        "options.punch_inset", inset, most, "so near the lower edge that it goes through the bag"
    )
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
