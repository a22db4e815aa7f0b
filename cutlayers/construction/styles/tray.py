"""A tray: a base, four walls, and a glue tab at each corner."""

from __future__ import annotations

import math

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import angle, size
from cutlayers.construction.options import LEAST_TAB_END
from cutlayers.construction.refusing import refuse_small
from cutlayers.construction.spans import above, below
from cutlayers.construction.style import Style
from cutlayers.construction.trays import refuse_short_front, refuse_tab_on_side, tray_net
from cutlayers.frozen import frozen
from cutlayers.net import Net
from cutlayers.net.shapes import open_gap, taper_run
from cutlayers.telling.errors import StyleError
from cutlayers.telling.refusals import Span

LEAST_TAPER_DEG = 1.0
"""A tab with less has a sliver of waste beside it that no tool cuts cleanly."""


@frozen
class Tray:
    """Dimensions of a tray."""

    length: float = size("along the front wall", example=90)
    width: float = size("from front to back", example=60)
    height: float = size("of the walls", example=30)
    tab: float = options.tab()
    taper: float = angle(
        "how far the ends of a glue tab lean in, so that they do not show",
        default=options.TAB_TAPER_DEG,
        minimum=0,
        maximum=60,
    )


def build(dims: Tray, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root and the front wall lies below it.

    Raises StyleError where a tab is longer than half the wall it lands on, or tapers to nothing.
    """
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    refuse_short_front(dims.length, card)
    height = card.panel("size.height", dims.height, 1)
    refuse_tab_on_side(dims.tab, width, card)
    if dims.taper and below(dims.taper, LEAST_TAPER_DEG):
        raise StyleError(
            "options.taper",
            f"is {dims.taper:g}°, which leaves a sliver beside the tab",
            Span(LEAST_TAPER_DEG, unit="°", zero="makes square ends"),
        )
    edge = height - 2 * open_gap(card.step)
    if above(2 * taper_run(dims.tab, dims.taper), edge - LEAST_TAB_END):
        least = LEAST_TAB_END + 2 * open_gap(card.step)
        refuse_small(card, "size.height", dims.height, 1, least, "too low for a glue tab")
        most = math.degrees(math.atan(max(0.0, edge - LEAST_TAB_END) / 2 / dims.tab))
        most = 0.0 if most < LEAST_TAPER_DEG else math.floor(most * 10) / 10
        raise StyleError(
            "options.taper",
            f"is {dims.taper:g}°, which leaves too little of a tab {{}} deep on a wall {{}} high",
            Span(most=most, unit="°"),
            lengths=(dims.tab, height),
        )
    return (tray_net("tray", length, width, height, dims.tab, dims.taper, step=card.step),)


def volume(dims: Tray, card: Card) -> float:
    """Length × width × height."""
    length, width = card.score(dims.length, 2), card.score(dims.width, 2)
    return length * width * card.score(dims.height, 1)


STYLE = Style(
    name="tray",
    summary="four walls on a base, corners glued",
    dimensions=Tray,
    build=build,
    like="FEFCO-ESBO family 04 (folder-type boxes and trays)",
    volume=volume,
)
