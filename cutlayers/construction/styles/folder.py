"""A folder: pages side by side, folded once, as a gate, or in a zigzag, with pockets if wanted.

A gate has a middle page and two doors of half its length that meet in front of it. Pages that
fold inside others are one caliper shorter for each fold they lie in. A pocket is folded up from
the foot of a page and glued at its outer end, or at both.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import choice, count, option, size
from cutlayers.construction.refusing import refuse_above, refuse_unless_none
from cutlayers.construction.style import Style
from cutlayers.construction.trays import deepest_tab
from cutlayers.construction.tubes import least_seam
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Stand
from cutlayers.net.engagement import PLAY
from cutlayers.net.shapes import glue_tab, rectangle, taper_run

LEAST_POCKET = 8.0
"""mm; a lower pocket holds nothing."""

POCKET_SHORT = 1.5
"""mm by which a pocket is shorter than its page at each end, so that it does not jam in a fold."""


@frozen
class Folder:
    """Dimensions of a folder, closed."""

    length: float = size("along the front", example=105, minimum=20)
    height: float = size("of the pages", example=148, minimum=20)
    fold: str = choice(
        "single: two pages; gate: two doors before a page; zigzag: pages to and fro",
        default="single",
        choices=("single", "gate", "zigzag"),
    )
    pages: int = count("how many pages a zigzag has", default=4, minimum=3, maximum=12)
    pocket: float = option("height of the pockets; 0 for none", default=0, maximum=300)
    tab: float = options.tab()


def build(dims: Folder, card: Card) -> tuple[Net, ...]:
    """One net, folded shut.

    Single: front and back have a pocket each; a gate's is on the middle page and glued at both
    ends, a zigzag's on the first page. Raises StyleError for pockets higher than half the pages
    and for tabs without room.
    """
    length = card.panel("size.length", dims.length, 1)
    height = card.panel("size.height", dims.height, 0)
    if dims.pocket:
        _refuse_pocket(dims, length, height, card.inner_layer)
    # A pocket and its tab lie between the pages.
    inside = 2 if dims.pocket else 0
    sheet = rectangle(length, height)
    pockets: list[tuple[str, tuple[str, ...]]]
    match dims.fold:
        case "gate":
            net = _gate(length, height, card, inside)
            pockets = [("middle", ("left", "right"))]
        case "zigzag":
            net = _zigzag(length, height, dims.pages, card, inside)
            pockets = [("page 1", ("left",))]
        case _:
            net = Net.start(
                "folder", "front", sheet, Role.WALL, caliper=card.step, eased=card.eased
            )
            net = net.attach(
                "back",
                sheet,
                to="front.left",
                own="right",
                role=Role.WALL,
                fold_deg=180,
                apart=1 + 2 * inside,
            )
            pockets = [("front", ("right",)), ("back", ("left",))]
    for page, glued in pockets if dims.pocket else ():
        net = _with_pocket(net, page, glued, dims, card.inner_layer)
    return (replace(net, stand=Stand(net.root.name if dims.fold != "gate" else "left door")),)


def _refuse_pocket(dims: Folder, length: float, height: float, clear: float) -> None:
    refuse_unless_none(
        "options.pocket",
        dims.pocket,
        max(LEAST_POCKET, least_seam(clear)),
        height / 2,
        ("too low to hold anything", "more than half the height of the pages"),
    )
    refuse_above(
        "options.tab",
        dims.tab,
        min(length / 4, deepest_tab(dims.pocket, clear)),
        "more than the pocket and the page have room for",
    )


def _gate(length: float, height: float, card: Card, inside: int) -> Net:
    sheet = rectangle(length, height)
    net = Net.start("folder", "middle", sheet, Role.WALL, caliper=card.step, eased=card.eased)
    door = rectangle((length - PLAY) / 2, height)
    for side, own in (("left", "right"), ("right", "left")):
        # Doors are short of the middle by half of their play each, so that they do not jam.
        net = net.attach(
            f"{side} door",
            door,
            to=f"middle.{'right' if side == 'left' else 'left'}",
            own=own if side == "right" else "left",
            role=Role.WALL,
            fold_deg=180,
            apart=1 + inside,
        )
    return net


def _zigzag(length: float, height: float, pages: int, card: Card, inside: int) -> Net:
    sheet = rectangle(length, height)
    net = Net.start("folder", "page 1", sheet, Role.WALL, caliper=card.step, eased=card.eased)
    for index in range(2, pages + 1):
        net = net.attach(
            f"page {index}",
            sheet,
            to=f"page {index - 1}.right",
            own="left",
            role=Role.WALL,
            fold_deg=180 if index % 2 == 0 else -180,
            apart=1 + inside if index == 2 else 1,
        )
    return net


def _with_pocket(net: Net, page: str, glued: tuple[str, ...], dims: Folder, clear: float) -> Net:
    """A pocket at a page's foot, glued at the ends given."""
    wide = net.panel(page).edge("bottom").chord - 2 * max(POCKET_SHORT, clear)
    name = f"{page} pocket"
    net = net.attach(
        name,
        rectangle(wide, dims.pocket),
        to=f"{page}.bottom",
        role=Role.LINING,
        fold_deg=180,
        apart=2,
    )
    for end in glued:
        # Hung upside down from the page's foot, the pocket has its right end on the left.
        net = net.attach(
            f"{name} {end} tab",
            glue_tab(
                dims.pocket, dims.tab, taper_run(dims.tab, options.TAB_TAPER_DEG), clear=clear
            ),
            to=f"{name}.{'left' if end == 'right' else 'right'}",
            role=Role.GLUE_TAB,
            fold_deg=180,
            lands_on=page,
        )
    return net


STYLE = Style(
    name="folder",
    summary="a card folded once, as a gate or in a zigzag, with pockets if wanted",
    dimensions=Folder,
    build=build,
)
