"""A sleeve and a drawer: a tray that slides out of a tube open at both ends.

The drawer slides out along its length, to the left or the right of the front. Sizes: the sleeve
goes round the drawer, so its creases stand farther apart across by what the drawer's walls have
outside of theirs and the sleeve's inside, and by the clearance; in height, where the drawer has
only one fold and stands on the sleeve's seam tab, by that tab, what the creases of bottom and top
take up, what the drawer's floor has outside, and the clearance. The sleeve is as long as the drawer
outside. In two parts the sleeve has a tab inside its front and one inside its back instead, and is
as much deeper. Glued, it goes flat.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import size
from cutlayers.construction.openings import thumb_cut, with_window
from cutlayers.construction.options import LEAST_THUMB, THUMB
from cutlayers.construction.refusing import refuse_small, refuse_unless_none
from cutlayers.construction.style import Style
from cutlayers.construction.trays import (
    deepest_tab,
    refuse_tab_on_side,
    refuse_tab_on_wall,
    tray_net,
)
from cutlayers.construction.tubes import in_two_parts, tube, with_seam
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Stand
from cutlayers.net.shapes import rectangle

LEAST_SIDE = 16.0
"""mm; a shorter wall of the sleeve has no room for a seam beside a thumb cut."""


@frozen
class SleeveAndDrawer:
    """Dimensions of a sleeve and drawer; the size is that of the drawer."""

    length: float = size("along the front, the way the drawer slides", example=90)
    width: float = size("from front to back", example=60)
    height: float = size("of the drawer's walls", example=25)
    thumb: float | None = options.thumb("diameter of the thumb cuts at the sleeve's right end")
    tab: float = options.tab()
    clearance: float = options.clearance()
    sleeve_parts: int = options.parts("sleeve")
    window: str = options.window(("top", "front", "bottom"))
    window_width: float | None = options.window_width(36)
    window_height: float | None = options.window_height(52)
    window_radius: float | None = options.window_radius()


def build(dims: SleeveAndDrawer, card: Card) -> tuple[Net, ...]:
    """The drawer and the sleeve round it.

    Raises StyleError for tabs, a thumb cut or a window that a wall has no room for.
    """
    of_drawer, of_sleeve = card.of("drawer"), card.of("sleeve")
    length = of_drawer.panel("size.length", dims.length, 2)
    width = of_drawer.panel("size.width", dims.width, 2)
    height = of_drawer.panel("size.height", dims.height, 1)
    refuse_small(of_drawer, "size.length", dims.length, 2, LEAST_SIDE, "too short for a seam")
    refuse_small(of_drawer, "size.width", dims.width, 2, LEAST_SIDE, "too narrow for a seam")
    refuse_tab_on_side(dims.tab, width, of_drawer)
    refuse_tab_on_wall(dims.tab, height, dims.height, 1, of_drawer)
    between = of_drawer.bulk + of_sleeve.take_up
    drawer = tray_net("drawer", length, width, height, dims.tab, step=of_drawer.step)
    # In one part the drawer stands on the seam's tab; of two the tabs lie before and behind it.
    in_two = dims.sleeve_parts == 2
    under, beside = (0.0, 2 * of_sleeve.step) if in_two else (of_sleeve.step, 0.0)
    drawer = replace(drawer, stand=Stand("front", up=(0.0, -1.0), lift=between + under))
    across = width + 2 * between + beside + dims.clearance
    tall = height + between + of_sleeve.take_up + under + dims.clearance
    long = length + 2 * of_drawer.bulk
    widest = min(long, across) / 2
    thumb = min(THUMB, widest) if dims.thumb is None else dims.thumb
    refuse_unless_none(
        "options.thumb",
        thumb,
        LEAST_THUMB,
        widest,
        ("too small for a nail", "more than half of the sleeve"),
    )
    # The seam lies beside the thumb cut of the wall that it is glued to.
    seam = min(dims.tab, tall - of_sleeve.step, (across - thumb) / 2)
    seam = min(seam, deepest_tab(long, of_sleeve.step))
    # The strip runs upwards round the drawer; the walls' ends, left and right of the front,
    # lie at the bottom and the top of the flat sleeve.
    walls = {
        "bottom": thumb_cut(rectangle(across, long), "bottom", thumb),
        "front": rectangle(tall, long),
        "top": thumb_cut(rectangle(across, long), "bottom", thumb),
        "back": rectangle(tall, long),
    }
    roles = {"bottom": Role.BASE, "top": Role.LID}
    if in_two:
        # No end of a wall is seen from the front: that of the front looks down, the back's up.
        walls = {name: walls[name] for name in ("back", "bottom", "front", "top")}
    sleeve = tube("sleeve", walls, "front", step=of_sleeve.step, roles=roles)
    if in_two:
        sleeve = in_two_parts(sleeve, seam, on="bottom", behind="front")
        sleeve = with_seam(sleeve, seam, on="top", behind="back")
    else:
        sleeve = with_seam(sleeve, seam, behind="bottom")
    sleeve = with_window(
        sleeve,
        dims.window,
        dims.window_width,
        dims.window_height,
        dims.window_radius,
        (0.0 if dims.window == "front" else thumb / 2, 0.0),
    )
    return drawer, replace(sleeve, stand=Stand("front", up=(1.0, 0.0)))


def volume(dims: SleeveAndDrawer, card: Card) -> float:
    """Of the drawer: length × width × height."""
    length, width, height = _scores(dims, card.of("drawer"))
    return length * width * height


def _scores(dims: SleeveAndDrawer, card: Card) -> tuple[float, float, float]:
    return card.score(dims.length, 2), card.score(dims.width, 2), card.score(dims.height, 1)


STYLE = Style(
    name="sleeve-and-drawer",
    summary="a drawer that slides in a sleeve, with a thumb cut",
    dimensions=SleeveAndDrawer,
    build=build,
    like="FEFCO-ESBO family 05 (slide-type boxes)",
    volume=volume,
    parts=(("sleeve", "sleeve_parts"),),
)
