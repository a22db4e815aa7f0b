"""A wrap band: a strip round a box or a bar of soap, its ends hooked into each other.

The ends lap by `lap` to both sides of the middle of the front. Each has a slit across half the
band at the middle, one from the lower edge and one from the upper: pushed into each other they
hold without glue.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import option, size
from cutlayers.construction.refusing import refuse_above
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path, rounded
from cutlayers.net import Feature, Net, Role, Shape, Stand, Work
from cutlayers.net.shapes import rectangle

CORNER = 4.0
"""mm; radius of the free ends' corners."""


@frozen
class WrapBand:
    """Dimensions of a wrap band."""

    length: float = size("of what is wrapped, along the front", example=75, minimum=16)
    width: float = size("of what is wrapped, from front to back", example=28)
    height: float = size("of the band", example=35, minimum=6)
    lap: float | None = option(
        "how far each end reaches past the middle; a quarter of the length up to 15 mm if not "
        "given",
        default=None,
        minimum=4,
    )
    clearance: float = option(
        "added each way round what is wrapped, so that the band slides on", default=1.0, maximum=10
    )


def build(dims: WrapBand, card: Card) -> tuple[Net, ...]:
    """One net; the back is the root.

    Raises StyleError for ends that reach past the front.
    """
    card.panel("size.length", dims.length, 2)
    card.panel("size.width", dims.width, 2)
    length, width, height = _scores(dims, card)
    lap = min(15.0, length / 4) if dims.lap is None else dims.lap
    refuse_above("options.lap", lap, length / 2 - 1.0, "more than the front has room for")
    long = length / 2 + lap
    radius = min(CORNER, height / 4, lap / 2)
    net = Net.start("band", "back", rectangle(length, height), Role.WALL)
    # Outside up, the strip runs front, right, back, left, front.
    for wall, to, own, shape in (
        ("right", "back.left", "right", rectangle(width, height)),
        ("left", "back.right", "left", rectangle(width, height)),
        ("front right end", "right.left", "right", _end(long, height, radius, free="left")),
        ("front left end", "left.right", "left", _end(long, height, radius, free="right")),
    ):
        net = net.attach(wall, shape, to=to, own=own, role=Role.WALL)
    for end, x, low in (("front right end", lap, True), ("front left end", length / 2, False)):
        left, bottom, _, top = net.panel(end).outline.bounds
        middle = (bottom + top) / 2
        # Begun at the edge, so that the slit is open there.
        ends = ((left + x, bottom if low else top), (left + x, middle))
        net = net.work(end, Feature(Work.SLIT, Path.line(*ends), "lock slit"))
    return (replace(net, stand=Stand("front left end")),)


def _end(long: float, height: float, radius: float, free: str) -> Shape:
    corners = ((0.0, 0.0), (long, 0.0), (long, height), (0.0, height))
    if free == "left":
        radii = (radius, 0.0, 0.0, radius)
        names = ("low corner", "bottom", "right", "top", "high corner", "left")
    else:
        radii = (0.0, radius, radius, 0.0)
        names = ("bottom", "low corner", "right", "high corner", "top", "left")
    return Shape(rounded(corners, radii), names)


def volume(dims: WrapBand, card: Card) -> float:
    """Length × width × height of what is inside the band."""
    length, width, height = _scores(dims, card)
    return length * width * height


def _scores(dims: WrapBand, card: Card) -> tuple[float, float, float]:
    return (
        card.score(dims.length, 2) + dims.clearance,
        card.score(dims.width, 2) + dims.clearance,
        card.score(dims.height, 0),
    )


STYLE = Style(
    name="wrap-band",
    summary="a band round a box or bar, its ends locked by two slits",
    dimensions=WrapBand,
    build=build,
    volume=volume,
)
