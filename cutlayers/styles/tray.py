"""A tray: a base, four walls, and a glue tab at each corner."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from cutlayers.errors import StyleError
from cutlayers.net import Net, Role, Stand
from cutlayers.net.shapes import glue_tab, rectangle, taper_run
from cutlayers.style import Card, Style, above, angle, at_least, at_most, below, option, size

LEAST_TAB = 4.0
"""mm; a narrower glue tab has no hold."""

LEAST_TAB_END = 2.0
"""mm left of a tab's outer edge between its tapered ends; less is a spike that curls up."""


@dataclass(frozen=True, slots=True)
class Tray:
    """Dimensions of a tray."""

    length: float = size("along the front wall", example=90)
    width: float = size("from front to back", example=60)
    height: float = size("of the walls", example=30)
    tab: float = option("how deep the glue tabs are", default=12, minimum=LEAST_TAB, maximum=60)
    taper: float = angle(
        "how far the ends of a glue tab lean in, so that they do not show",
        default=15,
        minimum=0,
        maximum=60,
    )


def build(dims: Tray, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root and the front wall lies below it.

    Raises StyleError where a tab is longer than half the wall it lands on, or tapers to nothing.
    """
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    height = card.panel("size.height", dims.height, 1)
    refuse_tab_on_side(dims.tab, width, card)
    if above(2 * taper_run(dims.tab, dims.taper), height - LEAST_TAB_END):
        if below(height, LEAST_TAB_END):
            raise StyleError(
                "size.height",
                f"is {dims.height:g} mm, too low for a glue tab; "
                f"{at_least(card.given(LEAST_TAB_END, 1))}",
            )
        most = math.degrees(math.atan(max(0.0, height - LEAST_TAB_END) / 2 / dims.tab))
        raise StyleError(
            "options.taper",
            f"is {dims.taper:g}°, which leaves too little of a tab {dims.tab:g} mm deep on a wall "
            f"{height:.4g} mm high; at most {math.floor(most * 10) / 10:g}° does, or a smaller tab",
        )
    return (tray_net("tray", length, width, height, dims.tab, dims.taper),)


def refuse_tab_on_side(tab: float, width: float, card: Card) -> None:
    """Raise StyleError where the two tabs behind a side wall `width` mm long would meet."""
    if below(width, 2 * LEAST_TAB):
        raise StyleError(
            "size.width",
            f"leaves a side wall of {width:.4g} mm, too short for two glue tabs; "
            f"{at_least(card.given(2 * LEAST_TAB, 2))}",
        )
    if above(tab, width / 2):
        raise StyleError(
            "options.tab",
            f"is {tab:g} mm, longer than half the side wall that it lands on; "
            f"{at_most(width / 2)} fits a wall of {width:.4g} mm",
        )


def tray_net(
    name: str, length: float, width: float, height: float, tab: float, taper_deg: float
) -> Net:
    """A tray from its panels' score-to-score sizes in mm, known to fit each other.

    The tabs stand on the ends of the front and back walls and go behind the side walls.
    """
    run = taper_run(tab, taper_deg)
    net = Net.start(name, "base", rectangle(length, width))
    # The net shows the box from below, so the wall that stands left of the front lies right.
    for wall, edge, wide in (
        ("front", "bottom", length),
        ("left", "right", width),
        ("back", "top", length),
        ("right", "left", width),
    ):
        net = net.attach(wall, rectangle(wide, height), to=f"base.{edge}", role=Role.WALL)
    # A wall's edges are named as it was drawn; the front wall hangs upside down from the base.
    for wall, at_left, at_right in (("front", "left", "right"), ("back", "right", "left")):
        for end, target in (("left", at_left), ("right", at_right)):
            net = net.attach(
                f"{wall} {target} tab",
                glue_tab(height, tab, run),
                to=f"{wall}.{end}",
                role=Role.GLUE_TAB,
                lands_on=target,
            )
    return replace(net, stand=Stand("front", up=(0.0, -1.0)))


STYLE = Style(
    name="tray",
    summary="four walls on a base, corners glued",
    dimensions=Tray,
    build=build,
    like="FEFCO-ESBO family 04 (folder-type boxes and trays)",
)
