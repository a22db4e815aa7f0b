"""What cartons with a tucked top have in common: a tube, its top, and a window."""

from __future__ import annotations

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import size
from cutlayers.construction.ends import (
    SEAM_LAYERS,
    TuckedEnd,
    refuse_end,
    room_for_tuck,
    tucked_end,
    with_tucked_end,
)
from cutlayers.construction.openings import thumb_cut, with_window
from cutlayers.construction.tubes import refuse_seam, tube, with_seam
from cutlayers.frozen import frozen
from cutlayers.net import Net
from cutlayers.net.shapes import rectangle


@frozen
class CartonDims:
    """Dimensions that every such carton has; a style adds its own."""

    length: float = size("along the front wall", example=70)
    width: float = size("from front to back", example=45)
    height: float = size("of the walls, from bottom to closure", example=100)
    tab: float = options.tab()
    tuck_depth: float | None = options.tuck_depth()
    dust_depth: float | None = options.dust_depth(27)
    slit: float = options.slit()
    thumb: float | None = options.thumb()
    clearance: float = options.flap_clearance()
    window: str = options.window()
    window_width: float | None = options.window_width(42)
    window_height: float | None = options.window_height(52)
    window_radius: float | None = options.window_radius()


def carton_end(dims: CartonDims, card: Card, *, at_seam: bool = False) -> TuckedEnd:
    """The sizes of a carton and its end, with the trade's proportions for what is not given;
    `at_seam` says that one of its tucks goes behind the wall with the seam's tab.

    Raises StyleError for sizes too small for its flaps.
    """
    return tucked_end(
        card,
        (dims.length, dims.width, dims.height),
        clearance=dims.clearance,
        tuck=dims.tuck_depth,
        dust=dims.dust_depth,
        slit=dims.slit,
        thumb=dims.thumb,
        at_seam=at_seam,
    )


def refuse_carton(tab: float, end: TuckedEnd) -> None:
    """Raise StyleError for a seam, tuck, dust flaps, slits or a thumb cut without room."""
    step = end.card.step
    refuse_seam(tab, end.width, end.height, SEAM_LAYERS * step, step=2 * step)
    refuse_end(end, room_for_tuck(end.height, step))


def carton_tube(end: TuckedEnd, *, top_thumb: str = "front", bottom_thumb: str = "") -> Net:
    """Four walls with thumb cuts in those named; the front is the root, and the seam, which lies
    at the back on the left, is closed by `with_carton_seam`."""
    walls = {
        name: rectangle(wide, end.height)
        for name, wide in (
            ("left", end.width),
            ("front", end.length),
            ("right", end.width),
            ("back", end.length),
        )
    }
    walls[top_thumb] = thumb_cut(walls[top_thumb], "top", end.thumb)
    if bottom_thumb:
        walls[bottom_thumb] = thumb_cut(walls[bottom_thumb], "bottom", end.thumb)
    return tube("carton", walls, "front", step=end.card.step)


def with_carton_seam(net: Net, tab: float, layers: int = SEAM_LAYERS) -> Net:
    """The glue tab, clear of the flaps that lie in `layers` inside of the ends of the back."""
    return with_seam(net, tab, clear=layers * net.caliper)


def with_top(net: Net, end: TuckedEnd) -> Net:
    """The tucked top, hinged on the back."""
    return with_tucked_end(net, "top", "back", end)


def with_carton_window(
    net: Net, dims: CartonDims, end: TuckedEnd, tucks_behind: tuple[str, str]
) -> Net:
    """A window clear of the tucks; `tucks_behind` names the walls that those of bottom and top
    go behind, "" for none."""
    bottom, top = (end.tuck if wall == dims.window else 0.0 for wall in tucks_behind)
    return with_window(
        net, dims.window, dims.window_width, dims.window_height, dims.window_radius, (bottom, top)
    )


def carton_volume(dims: CartonDims, card: Card) -> float:
    """Length × width × height."""
    length, width = card.score(dims.length, 2), card.score(dims.width, 2)
    return length * width * card.score(dims.height, 2)
