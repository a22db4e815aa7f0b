"""What cartons with a tucked top have in common: a tube, its top, and a window."""

from __future__ import annotations

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import size
from cutlayers.construction.ends import (
    SEAM_LAYERS,
    TuckedEnd,
    refuse_end,
    refuse_opening,
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
    tuck: float | None = options.tuck()
    dust: float | None = options.dust(27)
    slit: float = options.slit()
    thumb: float | None = options.thumb()
    clearance: float = options.flap_clearance()
    window: str = options.window()
    window_width: float | None = options.window_width(42)
    window_height: float | None = options.window_height(52)
    window_radius: float | None = options.window_radius()


@frozen
class CartonBody:
    """Sizes of a carton, score to score, and its tucked end."""

    length: float
    width: float
    height: float
    end: TuckedEnd


def carton_body(dims: CartonDims, card: Card) -> CartonBody:
    """The sizes of a carton, with the trade's proportions for what is not given.

    Raises StyleError for sizes too small for its flaps.
    """
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    height = card.panel("size.height", dims.height, 2)
    refuse_opening(
        card, dims.length, dims.width, dims.height, clearance=dims.clearance, dust=dims.dust
    )
    end = tucked_end(
        (length, width, height),
        card,
        clearance=dims.clearance,
        tuck=dims.tuck,
        dust=dims.dust,
        slit=dims.slit,
        thumb=dims.thumb,
    )
    return CartonBody(length, width, height, end)


def refuse_body(dims: CartonDims, body: CartonBody) -> None:
    """Raise StyleError for a seam, tuck, dust flaps, slits or a thumb cut without room."""
    step = body.end.step
    refuse_seam(dims.tab, body.width, body.height, SEAM_LAYERS * step, step=2 * step)
    refuse_end(body.end, room_for_tuck(body.height, step))


def carton_tube(body: CartonBody, *, top_thumb: str = "front", bottom_thumb: str = "") -> Net:
    """Four walls with thumb cuts in those named; the front is the root, and the seam, which lies
    at the back on the left, is closed by `with_carton_seam`."""
    walls = {
        name: rectangle(wide, body.height)
        for name, wide in (
            ("left", body.width),
            ("front", body.length),
            ("right", body.width),
            ("back", body.length),
        )
    }
    walls[top_thumb] = thumb_cut(walls[top_thumb], "top", body.end.thumb)
    if bottom_thumb:
        walls[bottom_thumb] = thumb_cut(walls[bottom_thumb], "bottom", body.end.thumb)
    return tube("carton", walls, "front", step=body.end.step)


def with_carton_seam(net: Net, tab: float, layers: int = SEAM_LAYERS) -> Net:
    """The glue tab, clear of the flaps that lie in `layers` inside of the ends of the back."""
    return with_seam(net, tab, clear=layers * net.caliper)


def with_top(net: Net, body: CartonBody) -> Net:
    """The tucked top, hinged on the back."""
    return with_tucked_end(net, "top", "back", body.end)


def with_carton_window(
    net: Net, dims: CartonDims, body: CartonBody, tucks_behind: tuple[str, str]
) -> Net:
    """A window clear of the tucks; `tucks_behind` names the walls that those of bottom and top
    go behind, "" for none."""
    bottom, top = (body.end.tuck if wall == dims.window else 0.0 for wall in tucks_behind)
    return with_window(
        net, dims.window, dims.window_width, dims.window_height, dims.window_radius, (bottom, top)
    )


def carton_volume(dims: CartonDims, card: Card) -> float:
    """Length × width × height."""
    length, width = card.score(dims.length, 2), card.score(dims.width, 2)
    return length * width * card.score(dims.height, 2)
