"""A hang tag: one piece or two folded together, its upper corners cut off, a hole for a string."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import flag, option, proportion, size
from cutlayers.construction.openings import PUNCH_BORDER, punched
from cutlayers.construction.refusing import refuse_above, refuse_below, refuse_unless_none
from cutlayers.construction.spans import at_most
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.shapes import polygon
from cutlayers.telling.errors import StyleError

LEAST_CORNER = 0.5
"""mm; less of a cut is not seen."""

PLACE = 0.1
"""mm; the least play that counts as a place for the hole, so that it can be named to 0.1 mm."""

STEP = 0.05
"""mm in which a hole that works is looked for, half of what is named."""


@frozen
class HangTag:
    """Dimensions of a hang tag."""

    length: float = size("of the lower edge", example=45, minimum=15)
    height: float = size("from the lower edge to the top", example=80, minimum=20)
    corner: float | None = proportion(
        "cut off both upper corners, 0 for none; a quarter of the length if not given, and no more "
        "than half of the height",
        example=11,
    )
    punch: float = option("diameter of the hole", default=4, minimum=1.5, maximum=20)
    punch_inset: float | None = proportion(
        "from the top to the middle of the hole; one and a half diameters and 2 mm if not given",
        example=8,
    )
    double: bool = flag("two tags folded together at the lower edge", default=False)


def build(dims: HangTag, card: Card) -> tuple[Net, ...]:
    """One net; the front is the root.

    Raises StyleError for corners that leave no top, and for a hole that leaves no card round it.
    """
    length = card.panel("size.length", dims.length, 0)
    height = card.panel("size.height", dims.height, 1 if dims.double else 0)
    corner = min(length / 4, height / 2) if dims.corner is None else dims.corner
    refuse_unless_none(
        "options.corner",
        corner,
        LEAST_CORNER,
        min(length / 2 - 2, height / 2),
        ("too little to be cut", "which leaves no top or less than half of the sides"),
    )
    if not _room(dims.punch, length, height, corner):
        smaller = dims.punch
        while not _room(smaller, length, height, corner):
            smaller -= STEP
        raise StyleError(
            "options.punch",
            "is {}, too large for card to stay round the hole",
            at_most(smaller),
            lengths=(dims.punch,),
        )
    low, high = _insets(dims.punch, length, height, corner)
    usual = min(max(1.5 * dims.punch + 2, low), high)
    inset = usual if dims.punch_inset is None else dims.punch_inset
    refuse_below("options.punch_inset", inset, low, "too near the upper edges")
    refuse_above("options.punch_inset", inset, high, "too near the lower edge")
    shape = _shape(length, height, corner)
    net = Net.start("tag", "front", shape, Role.WALL, caliper=card.step, eased=card.eased)
    net = punched(net, "front", "hole", (length / 2, height - inset), dims.punch)
    if dims.double:
        net = net.attach("back", shape, to="front.bottom", role=Role.WALL, fold_deg=180)
        net = punched(net, "back", "hole", (length / 2, inset), dims.punch)
    return (replace(net, stand=Stand("front")),)


def _insets(punch: float, length: float, height: float, corner: float) -> tuple[float, float]:
    """Nearest and farthest from the top that the hole's middle may lie.

    Seen from the hole, a cut corner is nearest along its slope of 45°.
    """
    reach = punch / 2 + PUNCH_BORDER
    return max(reach, 2**0.5 * reach - length / 2 + corner), height - reach


def _room(punch: float, length: float, height: float, corner: float) -> bool:
    low, high = _insets(punch, length, height, corner)
    return punch + 2 * PUNCH_BORDER <= length and low + PLACE <= high


def _shape(length: float, height: float, corner: float) -> Shape:
    if not corner:
        return polygon((0, 0), (length, 0), (length, height), (0, height))
    return polygon(
        (0, 0),
        (length, 0),
        (length, height - corner),
        (length - corner, height),
        (corner, height),
        (0, height - corner),
    )


STYLE = Style(
    name="hang-tag",
    summary="a tag with a hole for a string, single or double",
    dimensions=HangTag,
    build=build,
)
