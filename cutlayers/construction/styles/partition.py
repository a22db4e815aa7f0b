"""A partition: strips with slots that interlock, to divide a tray of given inside sizes.

Size it like the tray it goes in, with the same measure and card: strips are then as long as the
tray is inside, less the clearance. Slots are as wide as the strip that goes in is thick and the
slot's clearance, and half the height deep, from above in the strips along the length and from below
in those across. Where strips are of several cards, the tray counts as of the first one's.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import count, option, size
from cutlayers.construction.openings import notch
from cutlayers.construction.refusing import refuse_above, refuse_small
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.engagement import Engagement, least_bridge
from cutlayers.net.shapes import rectangle
from cutlayers.telling.errors import StyleError
from cutlayers.telling.refusals import Span

LEAST_CELLS = 2
"""Each way: where all strips run one way none has a slot, and nothing holds them upright."""

LEAST_CELL = 3.0
"""mm of card between slots and beyond their ends; less tears."""


@frozen
class Partition:
    """Dimensions of a partition; the size is that of its tray."""

    length: float = size("of the tray, along its front", example=90)
    width: float = size("of the tray, from front to back", example=60)
    height: float = size("of the tray's walls", example=30)
    columns: int = count("cells along the front", default=3, minimum=LEAST_CELLS, maximum=20)
    rows: int = count("cells from front to back", default=2, minimum=LEAST_CELLS, maximum=20)
    below_rim: float = option("how much lower than the tray's rim the partition is", default=0)
    clearance: float = option(
        "left between a strip and its tray, both ends together", default=1.0, maximum=10
    )
    slot_clearance: float = option(
        "how much wider than the card a slot is", default=0.15, minimum=0.05, maximum=2
    )


def build(dims: Partition, card: Card) -> tuple[Net, ...]:
    """One net a strip: those along the length first.

    Raises StyleError for cells too small for slots, and a partition without height.
    """
    long_names = [f"long strip {i}" for i in range(1, dims.rows)]
    cross_names = [f"cross strip {i}" for i in range(1, dims.columns)]
    calipers = {name: card.of(name).caliper for name in (*long_names, *cross_names)}
    card = card.of(long_names[0])
    bridge = least_bridge(max(calipers.values()), LEAST_CELL)
    for field in ("length", "width"):
        card.panel(f"size.{field}", getattr(dims, field), 2)
    card.panel("size.height", dims.height, 1)
    # A tray's floor and walls lie that much inside of their creases.
    walls = 2 * card.take_up
    length, width = (card.score(each, 2) - walls for each in (dims.length, dims.width))
    inside = card.score(dims.height, 1) - card.take_up
    refuse_small(
        card,
        "size.height",
        dims.height,
        1,
        2 * bridge + card.take_up,
        "too low for strips with slots",
    )
    refuse_above(
        "options.below_rim",
        dims.below_rim,
        inside - 2 * bridge,
        "which leaves too little of the strips for slots",
    )
    height = inside - dims.below_rim
    slots = {
        name: Engagement(caliper, dims.slot_clearance).opening()
        for name, caliper in calipers.items()
    }
    least = max(slots.values()) + bridge + dims.clearance
    for field, given, room, name, cells in (
        ("length", dims.length, length, "columns", dims.columns),
        ("width", dims.width, width, "rows", dims.rows),
    ):
        refuse_small(
            card,
            f"size.{field}",
            given,
            2,
            2 * least + walls + 0.1,
            "too small for cells between slots",
        )
        if cells * least > room + 1e-9:
            raise StyleError(
                f"options.{name}",
                f"is {cells}, so cells are {{}} wide, too small between slots",
                Span(most=int(room / least + 1e-9)),
                lengths=(room / cells,),
            )
    across = _places(length, dims.columns)
    along = _places(width, dims.rows)
    long, wide = (
        [(place, slots[name]) for place, name in zip(places, names, strict=True)]
        for places, names in ((along, long_names), (across, cross_names))
    )
    nets = [_strip(name, length - dims.clearance, height, wide, "top") for name in long_names]
    lift = card.take_up
    placed = [
        replace(net, stand=Stand(net.name, lift=lift, at=(0.0, y)))
        for net, y in zip(nets, along, strict=True)
    ]
    crossing = [
        _strip(name, width - dims.clearance, height, long, "bottom") for name in cross_names
    ]
    placed += [
        replace(
            net.catch(
                net.name,
                {
                    name: Engagement(calipers[name], dims.slot_clearance, calipers[net.name])
                    for name in long_names
                },
            ),
            stand=Stand(net.name, lift=lift, at=(x, 0.0), turn_deg=90.0),
        )
        for net, x in zip(crossing, across, strict=True)
    ]
    return tuple(replace(net, caliper=calipers[net.name]) for net in placed)


def _places(room: float, cells: int) -> list[float]:
    """Where strips stand, from the middle of the room."""
    return [room * (i / cells - 0.5) for i in range(1, cells)]


def _strip(
    name: str, long: float, height: float, slots: list[tuple[float, float]], edge: str
) -> Net:
    """A strip with slots, given by their places from its middle and their widths; it is alike from
    both sides."""
    shape: Shape = rectangle(long, height)
    left = edge
    for place, slot in slots:
        # Each slot leaves the rest of its edge, from the slot on, as "…-end".
        start = shape.outline.segments[shape.edges.index(left)].start[0]
        # The lower edge runs to the right, the upper one back to the left.
        at = long / 2 + place - start if edge == "bottom" else start - (long / 2 - place)
        shape = notch(shape, left, at, slot, height / 2)
        left = f"{left}-end"
    return Net.start(name, name, shape, Role.LINING)


STYLE = Style(
    name="partition",
    summary="slotted strips that divide a tray into cells",
    dimensions=Partition,
    build=build,
    like="FEFCO-ESBO family 09 (interior fitments)",
)
