"""A hang tag: one piece or two folded together, its upper corners cut off, a hole for a string."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutlayers.errors import StyleError
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.shapes import polygon
from cutlayers.parts.openings import PUNCH_BORDER, punched
from cutlayers.style import Card, Style, flag, option, size


@dataclass(frozen=True, slots=True)
class HangTag:
    """Dimensions of a hang tag."""

    length: float = size("of the lower edge", example=45, minimum=10)
    height: float = size("from the lower edge to the top", example=80, minimum=12)
    corner: float | None = option(
        "cut off both upper corners; a quarter of the length if not given", default=None
    )
    punch: float = option("diameter of the hole", default=4, minimum=1.5, maximum=20)
    punch_inset: float | None = option(
        "from the top to the middle of the hole; one and a half diameters and 2 mm if not given",
        default=None,
    )
    double: bool = flag("two tags folded together at the lower edge", default=False)


def build(dims: HangTag, card: Card) -> tuple[Net, ...]:
    """One net; the front is the root.

    Raises StyleError for corners that leave no top, and for a hole that leaves no card round it.
    """
    ends = 1 if dims.double else 0
    length, height = card.score(dims.length, 0), card.score(dims.height, ends)
    corner = length / 4 if dims.corner is None else dims.corner
    reach = dims.punch / 2 + PUNCH_BORDER
    inset = 1.5 * dims.punch + 2 if dims.punch_inset is None else dims.punch_inset
    if corner > min(length / 2 - 2, height / 2):
        raise StyleError(
            "options.corner",
            f"is {corner:g} mm; at most {min(length / 2 - 2, height / 2):.1f} mm leaves a top and "
            f"half of the sides",
        )
    # Seen from the hole, a cut corner is nearest along its slope of 45°.
    slope = (length / 2 - corner + inset) / 2**0.5
    if min(inset, slope, length / 2, height - inset) < reach:
        least = max(reach, 2**0.5 * reach - length / 2 + corner)
        if 2 * reach > length or least > height - reach:
            raise StyleError(
                "options.punch", f"is {dims.punch:g} mm, too large for a tag of this size"
            )
        raise StyleError(
            "options.punch_inset",
            f"is {inset:g} mm; {least:.1f} to {height - reach:.1f} mm leaves {PUNCH_BORDER:g} mm "
            f"of card round the hole",
        )
    shape = _shape(length, height, corner)
    net = Net.start("tag", "front", shape, Role.WALL)
    net = punched(net, "front", "hole", (length / 2, height - inset), dims.punch)
    if dims.double:
        net = net.attach("back", shape, to="front.bottom", role=Role.WALL, fold_deg=180)
        net = punched(net, "back", "hole", (length / 2, inset), dims.punch)
    return (replace(net, stand=Stand("front")),)


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
