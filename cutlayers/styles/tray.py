"""A tray: a base, four walls, and a glue tab at each corner."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutlayers.errors import StyleError
from cutlayers.net import Net, Role, Stand
from cutlayers.net.shapes import glue_tab, rectangle, taper_run
from cutlayers.style import Card, Style, angle, option, refuse_filled, size


@dataclass(frozen=True, slots=True)
class Tray:
    """Dimensions of a tray."""

    length: float = size("along the front wall", example=90)
    width: float = size("from front to back", example=60)
    height: float = size("of the walls", example=30)
    tab: float = option("how deep the glue tabs are", default=12, minimum=4, maximum=60)
    taper: float = angle(
        "how far the ends of a glue tab lean in, so that they do not show",
        default=15,
        minimum=0,
        maximum=60,
    )


def build(dims: Tray, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root and the front wall lies below it.

    Raises StyleError where a tab is longer than the wall it lands on, or tapers to nothing.
    """
    length, width = card.score(dims.length, 2), card.score(dims.width, 2)
    height = card.score(dims.height, 1)
    refuse_filled(card, {"length": length, "width": width, "height": height})
    return (tray_net("tray", length, width, height, dims.tab, dims.taper),)


def tray_net(
    name: str, length: float, width: float, height: float, tab: float, taper_deg: float
) -> Net:
    """A tray from its panels' score-to-score sizes in mm.

    The tabs stand on the ends of the front and back walls and go behind the side walls.
    """
    if tab > width / 2:
        raise StyleError(
            "options.tab",
            f"is {tab:g} mm, longer than half the side wall that it lands on; "
            f"at most {width / 2:.4g} mm fits a wall of {width:.4g} mm",
        )
    run = taper_run(tab, taper_deg)
    if 2 * run >= height:
        raise StyleError(
            "options.taper",
            f"is {taper_deg:g}°, which leaves nothing of a tab on a wall {height:.4g} mm high; "
            f"lower it or make the tab shorter than {tab * height / (2 * run):.4g} mm",
        )
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
