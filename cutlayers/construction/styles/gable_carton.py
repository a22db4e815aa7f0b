"""A gable carton: a base tray and a lid whose gusseted roof closes in a ridge.

The lid is a strip of four walls. Above the front and back walls stand roof panels with ridge
strips; above the side walls stand gussets, each a centre triangle between two side triangles
that fold flat under the roofs, with half ridge strips that fold flat between the ridge strips;
`gable_lid.py` has its geometry.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import option, proportion, size
from cutlayers.construction.gable_lid import GableLid, gable_lid
from cutlayers.construction.openings import PUNCH_BORDER, punched
from cutlayers.construction.options import LEAST_TAB_END, TAB_TAPER_DEG
from cutlayers.construction.refusing import (
    LEFT_OUT,
    NOTHING,
    refuse_above,
    refuse_below,
    refuse_small,
)
from cutlayers.construction.spans import above, at_least, at_most, below, between
from cutlayers.construction.style import Style
from cutlayers.construction.trays import refuse_tab_on_side, tray_net
from cutlayers.construction.tubes import least_seam
from cutlayers.frozen import frozen
from cutlayers.net import Net, Stand
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.shapes import open_gap, taper_run
from cutlayers.telling.errors import StyleError
from cutlayers.telling.refusals import Span

LEAST_WALL = 5.0
"""mm; a lower lid wall slips off its base."""

LEAST_STRIP = 3.0
"""mm of the strips that fold between the ridges, at least."""

LEAST_RISE = 0.5
"""mm the slope of a roof must be longer than half the lid's width. At exactly half the roof lies
flat and nothing pushes the ridges up."""

STEEPEST = 0.3
"""Sine of the least lean of a roof from upright, where its gussets have a thickness."""

SEAM_END = 0.1
"""Share of the lower wall or ridge that must be left at the outer end of the seam tab."""

LEAST_PUNCH = 1.0
"""mm; a smaller hole takes no ribbon, and few tools turn in it."""

NAMED = 0.1
"""mm to which limits are named."""

PLACE = 0.1
"""mm; the least play that counts as a place for a hole, so that it can be named to 0.1 mm."""


@frozen
class GableCarton:
    """Dimensions of a gable carton; the size is that of the base."""

    length: float = size("along the front", example=60)
    width: float = size("from front to back; at most the length", example=60)
    height: float = size("of the base", example=62)
    lid_height: float = option(
        "height of the lid's walls", default=25, minimum=LEAST_WALL, formerly="wall"
    )
    roof_depth: float | None = proportion(
        "depth of the roof along its slope, more than half the lid's width; "
        "three quarters of the lid's width if not given",
        example=47,
        minimum=3,
        formerly="roof",
    )
    ridge_height: float = option(
        "height of the ridge strips", default=16, minimum=3, formerly="ridge"
    )
    tab: float = options.tab()
    clearance: float = option(
        "left between lid and base, both sides together, once two thicknesses are taken up",
        default=1.0,
        maximum=10,
    )
    lid_parts: int = options.parts("lid")
    punch: float = option(
        "diameter of the closure holes through the ridge; 0 for none", default=0, maximum=40
    )
    punch_inset: float = option(
        "from the end of the ridge to the middle of a closure hole", default=20
    )


def build(dims: GableCarton, card: Card) -> tuple[Net, ...]:
    """Two nets: the base tray, and the lid that stands on it.

    Raises StyleError for a roof too short to close, gussets that collide, lid walls taller than
    the base, tabs too large for what they stand on or land on, and closure holes that meet the
    seam tab, the edge of a gusset strip or each other.
    """
    of_base, of_lid = card.of("base"), card.of("lid")
    length = of_base.panel("size.length", dims.length, 2)
    width = of_base.panel("size.width", dims.width, 2)
    height = of_base.panel("size.height", dims.height, 1)
    grow = 2 * (of_base.bulk + of_lid.take_up) + dims.clearance
    # The seam's tab lies between the back walls; for that of a second part between the front walls
    # the lid is a layer wider by itself.
    wide = width + grow + of_lid.step
    roof = 0.75 * wide if dims.roof_depth is None else dims.roof_depth
    lid = GableLid(
        length + grow,
        wide,
        dims.lid_height,
        roof,
        dims.ridge_height,
        dims.tab,
        of_lid.step,
        dims.lid_parts,
        of_lid.eased,
    )
    _refuse(dims, lid, width, height, of_base)
    base = tray_net("base", length, width, height, dims.tab, step=of_base.step)
    net = gable_lid(lid)
    # It rests on the base where the gussets fold in, and so is the lowest fold of its walls.
    lowest = min(net.panel(wall).outline.bounds[3] for wall in ("front", "left", "right", "back"))
    # There is as much room before the base as behind it, where a seam's tab lies.
    back = of_lid.step / 2 if dims.lid_parts == 1 else 0.0
    stand = Stand("front", lift=height + of_lid.take_up - lowest, at=(0.0, back))
    return base, replace(_with_holes(net, dims, lid), stand=stand)


def _refuse(dims: GableCarton, lid: GableLid, base_width: float, base: float, card: Card) -> None:
    """`base_width` and `base` are the width and height of the base, score to score, and `card` is
    what it is made of."""
    # Where creases meet a hole is cut beside the tab; the limits of what the tab stands and lands
    # on leave room for the least one, and for limits that are named to 0.1 mm.
    least_tab = 4 * lid.step
    run = taper_run(least_tab, TAB_TAPER_DEG)
    narrowest = max(2 * (least_tab + NAMED), 16 * lid.step + 1.0 + base_width - lid.width)
    refuse_small(card, "size.width", dims.width, 2, narrowest, "too narrow where creases meet")
    refuse_tab_on_side(dims.tab, base_width, card)
    if below(lid.length, lid.width - lid.step):
        raise StyleError(
            "size.length",
            "is {}, shorter than the width, so the two gussets collide",
            at_least(dims.width),
            lengths=(dims.length,),
        )
    if below(lid.roof, lid.width / 2 + LEAST_RISE):
        raise StyleError(
            "options.roof_depth",
            "is {}, so the roofs cannot reach each other over half the lid's width of {}",
            at_least(lid.width / 2 + LEAST_RISE),
            lengths=(lid.roof, lid.width / 2),
        )
    if lid.step:
        # The steeper a roof, the lower its gussets fold, and the larger are the holes there.
        flattest = max(STEEPEST, 8 * lid.step / lid.width)
        steep = (lid.width - 4 * lid.step) / 2 / flattest
        refuse_above(
            "options.roof_depth", lid.roof, steep, "too steep for its gussets in this card"
        )
    least_wall = LEAST_WALL + lid.lowest_fold
    if below(dims.lid_height, least_wall):
        raise StyleError(
            "options.lid_height",
            "is {}, of which the gussets' folds leave too little at the sides",
            at_least(least_wall),
            lengths=(dims.lid_height,),
        )
    if below(lid.length / 2 - 3 * lid.step, lid.width / 4):
        raise StyleError(
            "size.length",
            "is {}, where the card of the two gussets leaves too little of them",
            at_least(dims.length + lid.width / 2 + 6 * lid.step - lid.length),
            lengths=(dims.length,),
        )
    refuse_below(
        "options.ridge_height",
        dims.ridge_height,
        lid.drop + max(LEAST_STRIP, (run + lid.tab_in_by + NAMED) / (1 - SEAM_END)),
        "of which the layers below leave too little of the strips",
    )
    refuse_below("options.tab", dims.tab, least_tab, "too narrow where creases meet")
    lowest = max(least_wall, least_seam(max(lid.step, card.step)))
    if lid.step or card.step:
        on_base = 2 * (run + open_gap(card.step)) + LEAST_TAB_END
        lowest = max(lowest, least_wall + NAMED, on_base + NAMED)
    if below(base, lowest):
        raise StyleError(
            "size.height",
            "is {}, lower than the lowest lid wall, so the lid would stand on the table",
            at_least(card.given(lowest, 1)),
            lengths=(dims.height,),
        )
    if above(dims.lid_height, base):
        raise StyleError(
            "options.lid_height",
            "is {}, taller than the base, so the lid would stand on the table",
            at_most(base),
            lengths=(dims.lid_height,),
        )
    for what, height, left in (
        ("wall of the base", base, base / 2 - LEAST_TAB_END / 2 - open_gap(card.step)),
        ("wall of the lid", dims.lid_height, (1 - SEAM_END) * dims.lid_height - lid.tab_in_by),
        ("ridge", dims.ridge_height, (1 - SEAM_END) * lid.strip_height - lid.tab_in_by),
    ):
        if above(taper_run(dims.tab, TAB_TAPER_DEG), left):
            raise StyleError(
                "options.tab",
                f"is {{}}, so its tapered ends leave too little of it on a {what} {{}} high",
                at_most(left / taper_run(1, TAB_TAPER_DEG)),
                lengths=(dims.tab, height),
            )


def _with_holes(net: Net, dims: GableCarton, lid: GableLid) -> Net:
    """Closure holes near both ends of the ridge, through every layer that lies there."""
    radius, inset, half = dims.punch / 2, dims.punch_inset, lid.width / 2
    if not radius:
        return net
    if below(dims.punch, LEAST_PUNCH):
        raise StyleError(
            "options.punch",
            "is {}, too small for a hole",
            at_least(LEAST_PUNCH, zero=LEFT_OUT),
            lengths=(dims.punch,),
        )
    reach = radius + PUNCH_BORDER
    if above(2 * reach, lid.strip_height):
        raise StyleError(
            "options.punch",
            "is {}, too large for a ridge of {} with {} of card round the hole",
            _smaller_punch(lid.strip_height - 2 * PUNCH_BORDER),
            lengths=(dims.punch, lid.ridge, PUNCH_BORDER),
        )
    # Clear of the seam tab, where there would be five layers, at both ends alike, and of where the
    # strips fold over.
    strips = (lid.tab + reach + lid.step, half - reach - 2 * lid.step)
    middle = (half + reach + lid.step, lid.length / 2 - reach)
    room = max(high - low for low, high in (strips, middle)) + dims.punch - PLACE
    if above(dims.punch, room):
        raise StyleError(
            "options.punch",
            "is {}, for which there is no place between the seam tab and the gussets' edges",
            _smaller_punch(room),
            lengths=(dims.punch,),
        )
    in_strips, in_middle = (
        not below(inset, low) and not above(inset, high) for low, high in (strips, middle)
    )
    if not in_strips and not in_middle:
        raise StyleError(
            "options.punch_inset",
            "is {}, where the hole would meet the seam tab, the edge of a gusset strip "
            "or the other hole",
            tuple(
                between(low, high, f"{layers} layers")
                for (low, high), layers in ((strips, "four"), (middle, "two"))
                if not above(low + PLACE, high)
            ),
            lengths=(inset,),
        )
    folded = _folded(net)
    left, fold_at, right, _ = net.panel("front ridge").outline.bounds
    # In the middle, or where the strips begin above it.
    height = fold_at + max(lid.ridge / 2, lid.drop + reach)
    places = {
        name: folded.place("front ridge", (x, height))
        for name, x in (("left", left + inset), ("right", right - inset))
    }
    layers = [(ridge, name) for ridge in ("front ridge", "back ridge") for name in places]
    if in_strips:
        layers += [(f"{name} {side} strip", name) for name in places for side in ("back", "front")]
    for panel, name in layers:
        x, y, _ = folded.pose(panel).flat(places[name])
        low_x, low_y, *_ = net.panel(panel).outline.bounds
        at = (x - low_x, y - low_y)
        net = punched(net, panel, f"{name} closure hole", at, dims.punch, closes=True)
    return net


@lru_cache(8)
def _folded(net: Net) -> FoldedNet:
    """Of many heights that are tried for a thing the lids are often the same."""
    return fold(net)


def _smaller_punch(room: float) -> Span:
    return NOTHING if below(room, LEAST_PUNCH) else at_most(room, zero=LEFT_OUT)


def volume(dims: GableCarton, card: Card) -> float:
    """Of the base: length × width × height."""
    card = card.of("base")
    length, width = card.score(dims.length, 2), card.score(dims.width, 2)
    return length * width * card.score(dims.height, 1)


STYLE = Style(
    name="gable-carton",
    summary="a tray with a gusseted gable lid that closes in a ridge",
    dimensions=GableCarton,
    build=build,
    volume=volume,
    parts=(("lid", "lid_parts"),),
)
