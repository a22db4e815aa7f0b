"""A counter display tray: a low front, a high back, and sides that slope between them."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import proportion, size
from cutlayers.construction.options import LEAST_TAB
from cutlayers.construction.refusing import refuse_above, refuse_below, refuse_small
from cutlayers.construction.style import Style
from cutlayers.construction.trays import refuse_short_front
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Stand
from cutlayers.net.shapes import glue_tab, open_gap, polygon, rectangle, taper_run


@frozen
class CounterTray:
    """Dimensions of a counter tray."""

    length: float = size("along the front", example=110)
    width: float = size("from front to back", example=80)
    height: float = size("of the front", example=30)
    back_height: float | None = proportion(
        "height of the back; two and a half times the front's if not given",
        example=75,
        formerly="back",
    )
    tab: float | None = options.fitting_tab()


def build(dims: CounterTray, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root and the front lies below it.

    Raises StyleError for a back lower than the front, and for tabs without room.
    """
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    refuse_short_front(dims.length, card)
    card.panel("size.height", dims.height, 1)
    refuse_small(card, "size.width", dims.width, 2, LEAST_TAB / 0.45, "too short for tabs")
    run = taper_run(1.0, options.TAB_TAPER_DEG)
    least = LEAST_TAB * run / 0.45 + 2 * open_gap(card.step)
    refuse_small(card, "size.height", dims.height, 1, least, "too low for tabs")
    if dims.back_height is not None:
        refuse_below("options.back_height", dims.back_height, dims.height, "lower than the front")
    _, _, front, back = _scores(dims, card)
    slope = (back - front) / width
    # At the rim the back's tab falls at least as steeply as the side that it lies on.
    rim = slope + run
    clear = 2 * open_gap(card.step)
    deepest = min(0.45 * width, 0.45 * (front - clear) / run, 0.9 * (back - clear) / (rim + run))
    tab = min(12.0, deepest) if dims.tab is None else dims.tab
    refuse_above("options.tab", tab, deepest, "more than stays on the side walls")
    net = Net.start("tray", "base", rectangle(length, width), caliper=card.step)
    # The net shows the tray from below, so its left side lies right.
    net = net.attach("front", rectangle(length, front), to="base.bottom", role=Role.WALL)
    net = net.attach(
        "left",
        polygon(
            (0, 0), (width, 0), (width, front), (0, back), edges=("bottom", "right", "rim", "left")
        ),
        to="base.right",
        role=Role.WALL,
    )
    net = net.attach("back", rectangle(length, back), to="base.top", role=Role.WALL)
    net = net.attach(
        "right",
        polygon(
            (0, 0), (width, 0), (width, back), (0, front), edges=("bottom", "right", "rim", "left")
        ),
        to="base.left",
        role=Role.WALL,
    )
    base_run = run * tab
    # A tab's x runs from base to rim on a wall's left end as drawn, the other way on its right.
    for wall, tall, rim_run, left, right in (
        ("front", front, base_run, "left", "right"),
        ("back", back, rim * tab, "right", "left"),
    ):
        for end, target in (("left", left), ("right", right)):
            runs = (rim_run, base_run) if end == "left" else (base_run, rim_run)
            net = net.attach(
                f"{wall} {target} tab",
                glue_tab(tall, tab, *runs, clear=card.step),
                to=f"{wall}.{end}",
                role=Role.GLUE_TAB,
                lands_on=target,
            )
    return (replace(net, stand=Stand("front", up=(0.0, -1.0))),)


def volume(dims: CounterTray, card: Card) -> float:
    """Length × the sides' area, width × the mean of front and back."""
    length, width, front, back = _scores(dims, card)
    return length * width * (front + back) / 2


def _scores(dims: CounterTray, card: Card) -> tuple[float, float, float, float]:
    back = 2.5 * dims.height if dims.back_height is None else dims.back_height
    return (
        card.score(dims.length, 2),
        card.score(dims.width, 2),
        card.score(dims.height, 1),
        card.score(back, 1),
    )


STYLE = Style(
    name="counter-tray",
    summary="a display tray with a low front and a high back",
    dimensions=CounterTray,
    build=build,
    volume=volume,
)
