"""Small nets that the checks are tried on."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.net import Feature, Net, Role, Stand, Work
from cutlayers.net.shapes import Shape, glue_tab, rectangle

CALIPER = 0.5


def square_tray(name: str, side: float, height: float, *, lift: float = 0.0) -> Net:
    """A base and four walls without tabs, standing open side up."""
    net = Net.start(name, "base", rectangle(side, side))
    for wall, edge in (("front", "bottom"), ("left", "right"), ("back", "top"), ("right", "left")):
        net = net.attach(wall, rectangle(side, height), to=f"base.{edge}", role=Role.WALL)
    return replace(net, stand=Stand("front", up=(0.0, -1.0), lift=lift))


def square_lid(name: str, side: float, height: float, *, lift: float) -> Net:
    """A lid: four walls hanging from a top."""
    net = Net.start(name, "top", rectangle(side, side), Role.LID)
    for wall, edge in (("front", "bottom"), ("right", "right"), ("back", "top"), ("left", "left")):
        net = net.attach(wall, rectangle(side, height), to=f"top.{edge}", role=Role.WALL)
    return replace(net, stand=Stand("front", up=(0.0, 1.0), lift=lift))


def with_tab(
    *,
    shape: Shape | None = None,
    fold_deg: float = 90.0,
    lands_on: str | None = "left",
    under: bool = True,
) -> Net:
    """A 60 mm tray, 20 mm high, whose front wall has one glue tab for the left wall."""
    net = square_tray("tray", 60, 20)
    return net.attach(
        "tab",
        shape or glue_tab(20, 10, 2),
        to="front.left",
        role=Role.GLUE_TAB,
        fold_deg=fold_deg,
        lands_on=lands_on,
        under=under,
    )


def folded_strip(count: int, *, hole: float = 4.0, holes: tuple[int, ...] = (0,)) -> Net:
    """`count` panels of 30 × 20 mm folded to and fro onto one another, so many layers.

    The holes lie 10 mm from the left end of the pile and in the middle of its height.
    """
    net = Net.start("pile", "layer 0", rectangle(30, 20), Role.WALL)
    for index in range(1, count):
        net = net.attach(
            f"layer {index}",
            rectangle(30, 20),
            to=f"layer {index - 1}.right",
            own="left",
            role=Role.WALL,
            fold_deg=180 if index % 2 else -180,
        )
    for index in holes:
        left = net.panel(f"layer {index}").outline.bounds[0]
        x = left + (10 if index % 2 == 0 else 20)
        punch = Feature(Work.PUNCH, Path.circle((x, 10), hole / 2), "hole")
        net = net.work(f"layer {index}", punch)
    return replace(net, stand=Stand("layer 0"))
