"""A house: four walls with gables, a tucked bottom, and a roof whose back half opens.

Geometry, for a width W and a pitch θ: each half of the roof is s = W/(2·cos θ) long and leaves
its wall by 90° − θ; at the ridge, tan θ · W/2 above the walls, the halves turn by 2θ. The front
half is glued to tabs on the gables; the back half is the lid, and a tuck at its ridge goes under
the front half, between those tabs. The gables' back slopes have loose flaps that it lies on.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.cartons import refuse_carton
from cutlayers.construction.dimension import angle, proportion, size
from cutlayers.construction.ends import SEAM_LAYERS, TUCK_CORNER, tucked_end, with_tucked_end
from cutlayers.construction.openings import with_window
from cutlayers.construction.options import LEAST_FLAP
from cutlayers.construction.refusing import refuse_above, refuse_small
from cutlayers.construction.style import Style
from cutlayers.construction.tubes import tube, with_seam
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.engagement import PLAY
from cutlayers.net.shapes import glue_tab, open_gap, polygon, rectangle, tuck_flap

RIDGE_DEG = 50.0
"""Angle between a gable tab's hinge and its end at the ridge."""


@frozen
class HouseBox:
    """Dimensions of a house box."""

    length: float = size("along the front wall", example=60)
    width: float = size("from front to back, across the gables", example=50)
    height: float = size("of the walls, to the eaves", example=55)
    pitch: float = angle("slope of the roof from level", default=40, minimum=20, maximum=60)
    ridge_tuck_depth: float | None = proportion(
        "depth of the tuck at the ridge; half of a roof half up to 15 mm if not given",
        example=15,
        minimum=LEAST_FLAP,
        formerly="ridge",
    )
    gable_flap_depth: float | None = proportion(
        "depth of the gables' tabs and flaps; 10 mm or what there is room for if not given",
        example=10,
        minimum=LEAST_FLAP,
        maximum=60,
        formerly="gable",
    )
    tab: float = options.tab()
    tuck_depth: float | None = options.tuck_depth()
    dust_depth: float | None = options.dust_depth(30)
    slit: float = options.slit()
    clearance: float = options.flap_clearance()
    window: str = options.window()
    window_width: float | None = options.window_width(36)
    window_height: float | None = options.window_height(24)
    window_radius: float | None = options.window_radius()


def build(dims: HouseBox, card: Card) -> tuple[Net, ...]:
    """One net; the front wall is the root, the seam lies at the back on the left.

    Raises StyleError for flaps without room, and as tuck cartons do for the bottom.
    """
    end = tucked_end(
        card,
        (dims.length, dims.width, dims.height),
        clearance=dims.clearance,
        tuck=dims.tuck_depth,
        dust=dims.dust_depth,
        slit=dims.slit,
    )
    length, width, height = end.length, end.width, end.height
    refuse_carton(dims.tab, end)
    pitch = math.radians(dims.pitch)
    slope = width / 2 / math.cos(pitch)
    gable = _gable_depth(dims, slope, length, card)
    ridge = min(15.0, slope / 2) if dims.ridge_tuck_depth is None else dims.ridge_tuck_depth
    refuse_above(
        "options.ridge_tuck_depth", ridge, 0.9 * slope, "longer than what stays under the roof"
    )
    walls = {
        "left": _gable(width, height, pitch),
        "front": rectangle(length, height),
        "right": _gable(width, height, pitch),
        "back": rectangle(length, height),
    }
    net = with_tucked_end(tube("house", walls, "front", step=card.step), "bottom", "back", end)
    for side in ("front", "back"):
        net = net.attach(
            f"{side} roof",
            rectangle(length, slope),
            to=f"{side}.top",
            role=Role.ROOF,
            fold_deg=90.0 - dims.pitch,
            flat_deg=0.0,
        )
    # The tuck goes in between the tabs.
    wide = length - 2 * gable - PLAY
    net = with_seam(net, dims.tab, clear=SEAM_LAYERS * card.step)
    net = net.attach(
        "ridge tuck",
        tuck_flap(wide, ridge, min(TUCK_CORNER, ridge, wide / 2)),
        to="back roof.top",
        role=Role.FLAP,
        fold_deg=2 * dims.pitch,
        flat_deg=0.0,
        layer=1,
    )
    net = _with_gable_flaps(net, slope, gable, dims.pitch, _ridge_clear(dims.pitch, card))
    net = with_window(
        net,
        dims.window,
        dims.window_width,
        dims.window_height,
        dims.window_radius,
        _clear(dims, end.tuck, width, pitch),
    )
    # Glued at the gables, the house no longer goes flat.
    net = replace(net, hinges=tuple(replace(hinge, flat_deg=None) for hinge in net.hinges))
    return (replace(net, stand=Stand("front")),)


def _clear(dims: HouseBox, tuck: float, width: float, pitch: float) -> tuple[float, float]:
    """What a window keeps clear of: the bottom's tuck behind the front, and a gable's slopes."""
    if dims.window in ("left", "right"):
        return 0.0, width / 2 * math.tan(pitch)
    return (tuck if dims.window == "front" else 0.0), 0.0


def _eaves_deg(pitch_deg: float) -> float:
    """A gable tab's end at the eaves stays clear of the roof half beside it on the flat."""
    return min(75.0, 0.85 * (90.0 - pitch_deg))


def _gable_depth(dims: HouseBox, slope: float, length: float, card: Card) -> float:
    runs = sum(1 / math.tan(math.radians(a)) for a in (_eaves_deg(dims.pitch), RIDGE_DEG))
    # The tuck between the tabs is half as long as the roof at least.
    refuse_small(
        card, "size.length", dims.length, 2, 4 * LEAST_FLAP, "too short for two gable tabs"
    )
    clear = 2 * open_gap(_ridge_clear(dims.pitch, card))
    least = (LEAST_FLAP * runs / 0.95 + clear) * 2 * math.cos(math.radians(dims.pitch))
    refuse_small(card, "size.width", dims.width, 2, least, "too narrow for gable tabs")
    deepest = min(0.95 * (slope - clear) / runs, length / 4)
    gable = min(10.0, deepest) if dims.gable_flap_depth is None else dims.gable_flap_depth
    refuse_above(
        "options.gable_flap_depth", gable, deepest, "deeper than what stays under the roof"
    )
    return gable


def _ridge_clear(pitch_deg: float, card: Card) -> float:
    """How far tabs and flaps of a gable keep off the ridge, in mm: both lie 0.5 to 1.5 layers
    inside of their half of the roof, and the halves stand at δ = 180° − 2·pitch."""
    inner = math.radians(180.0 - 2 * pitch_deg)
    inside = (1.5 if inner < math.pi / 2 else 0.5) * math.cos(inner)
    return card.step * max(1.0, (1.5 + inside) / math.sin(inner))


def _gable(width: float, height: float, pitch: float) -> Shape:
    peak = height + width / 2 * math.tan(pitch)
    return polygon(
        (0, 0),
        (width, 0),
        (width, height),
        (width / 2, peak),
        (0, height),
        edges=("bottom", "right", "right slope", "left slope", "left"),
    )


def _with_gable_flaps(net: Net, slope: float, deep: float, pitch_deg: float, clear: float) -> Net:
    """Tabs on the slopes towards the front, loose flaps on those towards the back."""
    eaves = deep / math.tan(math.radians(_eaves_deg(pitch_deg)))
    ridge = deep / math.tan(math.radians(RIDGE_DEG))
    for wall, front_side in (("left", "right"), ("right", "left")):
        for side in ("left", "right"):
            # Lying on a right-hand slope, a flap begins at the ridge; on a left-hand one at the
            # eaves.
            runs = (eaves, ridge) if side == "right" else (ridge, eaves)
            glued = side == front_side
            name = "roof tab" if glued else "roof flap"
            net = net.attach(
                f"{wall} {name}",
                glue_tab(slope, deep, *runs, clear=clear),
                to=f"{wall}.{side} slope",
                role=Role.GLUE_TAB if glued else Role.FLAP,
                lands_on="front roof" if glued else None,
                layer=1,
            )
    return net


def volume(dims: HouseBox, card: Card) -> float:
    """Length × (width × height + the gable's triangle)."""
    length, width, height = _scores(dims, card)
    return length * width * (height + width / 4 * math.tan(math.radians(dims.pitch)))


def _scores(dims: HouseBox, card: Card) -> tuple[float, float, float]:
    return card.score(dims.length, 2), card.score(dims.width, 2), card.score(dims.height, 2)


STYLE = Style(
    name="house-box",
    summary="a house with gables and a roof that opens",
    dimensions=HouseBox,
    build=build,
    volume=volume,
)
