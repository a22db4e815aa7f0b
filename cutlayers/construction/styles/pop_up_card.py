"""A pop-up card: two halves, and boxes cut across the fold that stand out when it opens.

Geometry of a parallel fold: a box of depth a and rise b is a strip between two slits from b above
the fold to a below it, creased at b − a. Its top stays parallel to the lower half and its front to
the upper one at every opening angle: the four creases turn by the card's own angle, one of them
the other way. Shut, its corner reaches a + b from the fold, which must stay on the card.

The net's outside is the side that is seen when the card is open.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import count, proportion, size
from cutlayers.construction.refusing import refuse_above
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.shapes import polygon, rectangle
from cutlayers.telling.errors import StyleError
from cutlayers.telling.refusals import Span

LEAST_BOX = 5.0
"""mm; a smaller pop-up box cannot be creased."""

MOST_REACH = 0.98
"""Share of a half that the largest box reaches over when the card is shut."""

GAP = 0.3
"""Share of the card's length that is left between and beside the boxes."""


@frozen
class PopUpCard:
    """Dimensions of a pop-up card."""

    length: float = size("along the fold", example=140, minimum=30)
    height: float = size("of each half", example=100, minimum=30)
    steps: int = count(
        "how many boxes, each larger than the one before", default=3, minimum=1, maximum=8
    )
    rise: float | None = proportion(
        "how high up the largest box begins; 0.45 of the height if not given",
        example=45,
        minimum=LEAST_BOX,
    )
    depth: float | None = proportion(
        "how far the largest box stands out; 0.4 of the height if not given",
        example=40,
        minimum=LEAST_BOX,
    )


def build(dims: PopUpCard, card: Card) -> tuple[Net, ...]:
    """One net, opened to a right angle; the upper half is the root.

    Raises StyleError for boxes that would show when the card is shut, or too small to crease.
    """
    length = card.panel("size.length", dims.length, 0)
    height = card.panel("size.height", dims.height, 1)
    why = "so the largest box shows when the card is shut"
    both = MOST_REACH * height
    if dims.depth is not None:
        refuse_above("options.depth", dims.depth, both - LEAST_BOX, why)
    rise = min(0.45 * height, both - (dims.depth or 0.0)) if dims.rise is None else dims.rise
    refuse_above("options.rise", rise, both - LEAST_BOX, why)
    depth = min(0.4 * height, both - rise) if dims.depth is None else dims.depth
    refuse_above("options.depth", depth, both - rise, why)
    wide = (1 - GAP) * length / dims.steps
    most = int(min((1 - GAP) * length, rise, depth) / LEAST_BOX + 1e-9)
    if dims.steps > most:
        raise StyleError(
            "options.steps",
            f"is {dims.steps}, so the smallest box is less than {{}} and cannot be creased",
            Span(most=max(1, most)),
            lengths=(LEAST_BOX,),
        )
    gap = GAP * length / (dims.steps + 1)
    lefts = [gap + i * (wide + gap) for i in range(dims.steps)]
    sizes = [((i + 1) / dims.steps * rise, (i + 1) / dims.steps * depth) for i in range(dims.steps)]
    boxes = [(x, x + wide, b, a) for x, (b, a) in zip(lefts, sizes, strict=True)]
    net = Net.start("card", "upper", _upper(length, height, boxes), Role.WALL)
    net = net.attach(
        "lower",
        _lower(length, height, boxes),
        to="upper.fold 1",
        own="fold 1",
        role=Role.WALL,
        fold_deg=-90,
        flat_deg=-180,
    )
    for index in range(2, dims.steps + 2):
        net = net.close(f"upper.fold {index}", f"lower.fold {index}", fold_deg=-90, flat_deg=-180)
    for index, (left, right, b, a) in enumerate(boxes, start=1):
        net = net.attach(
            f"box {index} top",
            rectangle(right - left, a),
            to=f"upper.box {index}",
            role=Role.LID,
            fold_deg=-90,
            flat_deg=-180,
        )
        net = net.attach(
            f"box {index} front",
            rectangle(right - left, b),
            to=f"box {index} top.top",
            role=Role.WALL,
            fold_deg=90,
            flat_deg=180,
        )
        net = net.close(f"box {index} front.top", f"lower.box {index}", fold_deg=-90, flat_deg=-180)
    return (replace(net, stand=Stand("upper")),)


_Box = tuple[float, float, float, float]
"""Left and right end along the fold, rise and depth."""


def _upper(length: float, height: float, boxes: list[_Box]) -> Shape:
    """Lies on the fold, with a notch of each box's rise in it."""
    corners: list[Point] = [(0.0, 0.0)]
    names: list[str] = []
    for index, (left, right, rise, _) in enumerate(boxes, start=1):
        corners += [(left, 0.0), (left, rise), (right, rise), (right, 0.0)]
        names += [f"fold {index}", f"slit {index} a", f"box {index}", f"slit {index} b"]
    corners += [(length, 0.0), (length, height), (0.0, height)]
    names += [f"fold {len(boxes) + 1}", "right", "top", "left"]
    return polygon(*corners, edges=tuple(names))


def _lower(length: float, height: float, boxes: list[_Box]) -> Shape:
    """Hangs from the fold, with a notch of each box's depth in it."""
    corners: list[Point] = [(0.0, -height), (length, -height), (length, 0.0)]
    names = ["bottom", "right"]
    for index, (left, right, _, depth) in reversed(list(enumerate(boxes, start=1))):
        corners += [(right, 0.0), (right, -depth), (left, -depth), (left, 0.0)]
        names += [f"fold {index + 1}", f"slit {index} b", f"box {index}", f"slit {index} a"]
    corners.append((0.0, 0.0))
    names += ["fold 1", "left"]
    return polygon(*corners, edges=tuple(names))


STYLE = Style(
    name="pop-up-card",
    summary="a card with boxes across its fold that stand out when it opens",
    dimensions=PopUpCard,
    build=build,
    limp=True,
)
