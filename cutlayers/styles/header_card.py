"""A header card: folded over the top of a bag and stapled there, with a hole to hang by."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutlayers.errors import StyleError
from cutlayers.net import Net, Role, Stand
from cutlayers.net.shapes import rectangle
from cutlayers.parts.openings import PUNCH_BORDER, hand_hole, punched
from cutlayers.style import Card, Style, choice, option, size


@dataclass(frozen=True, slots=True)
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
    slot: float = option("length of the slot", default=32, minimum=6, maximum=120)
    punch_inset: float | None = option(
        "from the fold to the middle of the hole; a third of the height if not given", default=None
    )


def build(dims: HeaderCard, card: Card) -> tuple[Net, ...]:
    """One net, the fold on top; the front is the root.

    Raises StyleError for a hole that leaves no card round it.
    """
    length, height = card.score(dims.length, 0), card.score(dims.height, 1)
    net = Net.start("header", "front", rectangle(length, height), Role.WALL)
    net = net.attach(
        "back", rectangle(length, height), to="front.top", role=Role.WALL, fold_deg=180
    )
    if dims.hole != "none":
        net = _with_hole(net, dims, length, height)
    return (replace(net, stand=Stand("front")),)


def _with_hole(net: Net, dims: HeaderCard, length: float, height: float) -> Net:
    wide = dims.slot if dims.hole == "slot" else dims.punch
    if dims.hole == "slot" and dims.slot <= dims.punch:
        raise StyleError(
            "options.slot",
            f"is {dims.slot:g} mm; a slot is longer than high, more than {dims.punch:g} mm",
        )
    if wide + 2 * PUNCH_BORDER > length:
        raise StyleError(
            "options.slot" if dims.hole == "slot" else "options.punch",
            f"is {wide:g} mm; at most {length - 2 * PUNCH_BORDER:.1f} mm leaves card beside it",
        )
    inset = height / 3 if dims.punch_inset is None else dims.punch_inset
    least = dims.punch / 2 + PUNCH_BORDER
    if 2 * least > height:
        raise StyleError(
            "options.punch",
            f"is {dims.punch:g} mm; at most {height - 2 * PUNCH_BORDER:.1f} mm leaves card above "
            f"and below",
        )
    if not least <= inset <= height - least:
        raise StyleError(
            "options.punch_inset",
            f"is {inset:.1f} mm; {least:.1f} to {height - least:.1f} mm leaves {PUNCH_BORDER:g} mm "
            f"of card round the hole",
        )
    for panel, y in (("front", height - inset), ("back", inset)):
        if dims.hole == "slot":
            net = hand_hole(net, panel, (length / 2, y), dims.slot, dims.punch, "hanging slot")
        else:
            net = punched(net, panel, "hanging hole", (length / 2, y), dims.punch)
    return net


STYLE = Style(
    name="header-card",
    summary="a folded card for the top of a bag, with a hole or slot to hang by",
    dimensions=HeaderCard,
    build=build,
)
