"""A belly band: a strip round a box or a bar of soap, its ends hooked into each other.

The ends lap by `lap` to both sides of the middle of the front. Each has a slot across half the
band at the middle, one from the lower edge and one from the upper: pushed into each other they
hold without glue. Beside its slot each end bends inward through that of the other, so that both
tips lie behind the front.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import option, proportion, size
from cutlayers.construction.refusing import refuse_above, refuse_below, refuse_small
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path, rounded
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net import Feature, Net, Role, Shape, Stand, Work
from cutlayers.net.bends import Ramp, bent, ramp_length, ramp_reach
from cutlayers.net.engagement import PLAY, Engagement
from cutlayers.net.shapes import rectangle

CORNER = 4.0
"""mm; radius of the free ends' corners."""

LEAST_TIP = 2.5
"""mm that an end reaches past the other's slot, at least."""


@frozen
class BellyBand:
    """Dimensions of a belly band."""

    length: float = size("of what is wrapped, along the front", example=75, minimum=16)
    width: float = size("of what is wrapped, from front to back", example=28)
    height: float = size("of the band", example=35, minimum=6)
    lap: float | None = proportion(
        "how far each end reaches past the middle; a quarter of the length up to 15 mm if not "
        "given",
        example=15,
        minimum=4,
    )
    clearance: float = option(
        "left round what is wrapped, both sides together, so that the band slides on",
        default=1.0,
        maximum=10,
    )


def build(dims: BellyBand, card: Card) -> tuple[Net, ...]:
    """One net; the back is the root.

    Raises StyleError for ends that reach past the front.
    """
    card.panel("size.length", dims.length, 2)
    card.panel("size.width", dims.width, 2)
    length, width, height = _scores(dims, card)
    ramp = ramp_length(1, card.step, 0.0)
    # Both ends bend from one layer to the other within the slot, which is longer by its play.
    slot = ramp + PLAY if card.step else 0.0
    reach = ramp_reach(ramp, card.step) + slot - ramp
    least = reach / 2 + LEAST_TIP
    lap = max(min(15.0, length / 4), least) if dims.lap is None else dims.lap
    most = length / 2 - max(1.0, card.step)
    refuse_small(card, "size.length", dims.length, 2, 2 * least + 2.0, "too short for its hooks")
    refuse_above("options.lap", lap, most, "more than the front has room for")
    refuse_below("options.lap", lap, least, "too short to hook into the other end")
    body = (length - reach) / 2
    # Two slots, from both edges, are as long together as the band is high, and play.
    lock = Engagement(card.step)
    end = _end(body, slot, lap - reach / 2, height, lock.slit(height) / 2)
    net = Net.start("band", "back", rectangle(length, height), Role.WALL, caliper=card.step)
    # Outside up, the strip runs front, right, back, left, front.
    for wall, to, own, shape in (
        ("right", "back.left", "right", rectangle(width, height)),
        ("left", "back.right", "left", rectangle(width, height)),
        ("front right end", "right.left", "right", end),
        ("front left end", "left.right", "right", end),
    ):
        net = net.attach(wall, shape, to=to, own=own, role=Role.WALL)
    net = net.engage("front left end", "front right end", lock)
    net = replace(net, stand=Stand("front left end"))
    return (replace(net, facets=bent(net, *_ramps(net, ramp, card.step))) if card.step else net,)


def _end(body: float, slot: float, tip: float, height: float, deep: float) -> Shape:
    """One end, hinged by its right edge: the part up to the middle of the front, the slot from
    below, and the tip beyond. A slot without width is a slit."""
    long = body + slot + tip
    radius = min(CORNER, height / 4, tip / 2)
    free, low = ((0.0, height), (0.0, 0.0)), (long, 0.0)
    if not slot:
        outline = rounded((*free, low, (long, height)), (radius, radius, 0.0, 0.0))
        slit = Path.line((tip, 0.0), (tip, height / 2))
        edges = ("high corner", "left", "low corner", "bottom", "right", "top")
        return Shape(outline, edges, (Feature(Work.SLIT, slit, "lock slit"),))
    notch = ((tip, 0.0), (tip, deep), (tip + slot, deep), (tip + slot, 0.0))
    outline = rounded((*free, *notch, low, (long, height)), (radius, radius, *[0.0] * 6))
    names = (
        *("high corner", "left", "low corner", "tip bottom", "slot tip", "slot end", "slot body"),
        *("bottom", "right", "top"),
    )
    return Shape(outline, names)


def _ramps(net: Net, long: float, caliper: float) -> Iterator[Ramp]:
    """Beside the middle of its slot each end bends inward."""
    for name in ("front right end", "front left end"):
        panel = net.panel(name)
        top, slot = panel.edge("top"), panel.edge("slot end")
        aside = long / 2 / slot.chord
        near, far = (
            Segment(_across(at, top), at)
            for at in (slot.point_at(0.5 + aside), slot.point_at(0.5 - aside))
        )
        yield Ramp(name, near, far, caliper)


def _across(point: Point, edge: Segment) -> Point:
    """The foot of a point on an edge."""
    ux, uy = edge.direction_at(0.5)
    ahead = (point[0] - edge.start[0]) * ux + (point[1] - edge.start[1]) * uy
    return (edge.start[0] + ahead * ux, edge.start[1] + ahead * uy)


def volume(dims: BellyBand, card: Card) -> float:
    """Length × width × height of what is inside the band."""
    length, width, height = _scores(dims, card)
    return length * width * height


def _scores(dims: BellyBand, card: Card) -> tuple[float, float, float]:
    # The tips lie between the front and what is wrapped.
    return (
        card.score(dims.length, 2) + dims.clearance,
        card.score(dims.width, 2) + dims.clearance + card.caliper,
        card.score(dims.height, 0),
    )


STYLE = Style(
    name="belly-band",
    summary="a band round a box or bar, its ends locked by two slits",
    dimensions=BellyBand,
    build=build,
    volume=volume,
    limp=True,
    goes="round what it holds",
)
