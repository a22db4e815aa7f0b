"""A tray: four walls on a base, corners glued."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.errors import StyleError
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.shapes import glue_tab, rectangle, taper_run
from cutlayers.parts.options import TAB_TAPER_DEG


def tray_net(
    name: str,
    length: float,
    width: float,
    height: float,
    tab: float,
    taper_deg: float = TAB_TAPER_DEG,
    *,
    upside_down: bool = False,
    front: Shape | None = None,
) -> Net:
    """A tray from its panels' score-to-score sizes in mm, `upside_down` for a lid.

    The tabs stand on the ends of the front and back walls and go behind the side walls. `front`
    stands in for the rectangle of the front wall, whose bottom edge is the fold.
    Raises StyleError where a tab is longer than the wall it lands on, or tapers to nothing.
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
            "options.taper" if taper_deg != TAB_TAPER_DEG else "options.tab",
            f"leaves nothing of a tab {tab:g} mm deep with ends at {taper_deg:g}° on a wall "
            f"{height:.4g} mm high; make the tab shorter than {tab * height / (2 * run):.4g} mm",
        )
    net = Net.start(name, "base", rectangle(length, width), Role.LID if upside_down else Role.BASE)
    # The net shows the box from below, so the wall that stands left of the front lies right.
    for wall, edge, wide in (
        ("front", "bottom", length),
        ("left", "right", width),
        ("back", "top", length),
        ("right", "left", width),
    ):
        shape = front if front is not None and wall == "front" else rectangle(wide, height)
        net = net.attach(wall, shape, to=f"base.{edge}", role=Role.WALL)
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
    return replace(net, stand=Stand("front", up=(0.0, 1.0 if upside_down else -1.0)))
