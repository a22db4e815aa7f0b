"""An envelope: a front, a back folded up over two side tabs, and a closing flap.

The back leaves a narrow throat open at the top; the flap is as wide as the front there, laps over
the back by `LAP` or more and is straight, with slanting ends, or pointed. A lining is a piece of
its own, glued in under the flap. Sizes are those of the front between its folds; all layers lie
flat on each other.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import choice, flag, proportion, size
from cutlayers.construction.refusing import refuse_above, refuse_below
from cutlayers.construction.style import Style
from cutlayers.construction.trays import deepest_tab
from cutlayers.construction.tubes import least_seam
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import rounded
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.shapes import glue_tab, open_gap, rectangle, taper_run

LAP = 8.0
"""mm by which the flap covers the back at least, in its middle (common practice 10–20)."""

SHOULDER = 2.0
"""mm by which a flap goes straight on below the upper edge of the back, before it narrows."""

FLAP_TAPER_DEG = 20.0
"""The ends of a straight flap slant, so that it slides in."""

TIP = 6.0
"""mm; radius of a pointed flap's tip."""

LINING_BORDER = 4.0
"""mm by which a lining is smaller all round; the flap's gum needs it."""


@frozen
class Envelope:
    """Dimensions of an envelope."""

    length: float = size("along the front", example=150, minimum=30)
    height: float = size("of the front", example=105, minimum=30)
    flap_shape: str = choice(
        "shape of the closing flap",
        default="pointed",
        choices=("straight", "pointed"),
        formerly="flap",
    )
    flap_depth: float | None = proportion(
        "depth of the closing flap; 0.55 of the height pointed, 0.35 straight, if not given",
        example=58,
        minimum=10,
    )
    back_height: float | None = proportion(
        "height of the back; 0.92 of the front's if not given",
        example=97,
        minimum=10,
        formerly="back",
    )
    tab: float = options.tab()
    lining: bool = flag("a lining for front and flap, to be cut from thin paper", default=False)


def build(dims: Envelope, card: Card) -> tuple[Net, ...]:
    """The envelope and its lining, each of its own card; the front is the root.

    Raises StyleError for a flap that does not reach the back or covers more than the front, for
    a back that is higher than the front, and for tabs without room.
    """
    card, of_lining = card.of("envelope"), card.of("lining")
    length = card.panel("size.length", dims.length, 2)
    height = card.panel("size.height", dims.height, 2)
    lined = of_lining.step if dims.lining else 0.0
    pointed = dims.flap_shape == "pointed"
    back = 0.92 * height if dims.back_height is None else dims.back_height
    most = height - (lined + card.inner_face)
    refuse_above("options.back_height", back, most, "higher than what the flap leaves of the front")
    refuse_below(
        "options.back_height", back, least_seam(card.inner_layer), "too low for tabs under it"
    )
    least = height - back + LAP
    usual = max((0.55 if pointed else 0.35) * height, least)
    deep = usual if dims.flap_depth is None else dims.flap_depth
    refuse_below("options.flap_depth", deep, least, "so the flap does not lap over the back")
    refuse_above("options.flap_depth", deep, height, "longer than the envelope is high")
    refuse_above(
        "options.tab",
        dims.tab,
        min(length / 2 - 1.0, deepest_tab(back, card.inner_layer)),
        "more than what stays under the back",
    )
    shoulder = height - back + SHOULDER
    flap = _flap(length - 2 * card.caliper, deep, shoulder, pointed)
    net = Net.start(
        "envelope",
        "front",
        rectangle(length, height),
        Role.WALL,
        caliper=card.step,
        eased=card.eased,
    )
    side = glue_tab(
        back, dims.tab, taper_run(dims.tab, options.TAB_TAPER_DEG), clear=card.inner_layer
    )
    clear = open_gap(card.inner_layer)
    # Within the front lies its lining, if it has one, then the tabs, the back, and the flap.
    inner = 1 + _in_layers(lined, card)
    for end in ("left", "right"):
        # The tab stands at the front's lower end; the edge on the left runs downwards.
        net = net.attach(
            f"{end} tab",
            side,
            to=f"front.{end}",
            role=Role.GLUE_TAB,
            fold_deg=180,
            lands_on="back",
            at=clear + (0.0 if end == "right" else height - back),
            apart=inner,
        )
    net = net.attach(
        "back",
        rectangle(length, back),
        to="front.bottom",
        role=Role.WALL,
        fold_deg=180,
        apart=inner + 1,
    )
    net = net.attach("flap", flap, to="front.top", role=Role.LID, fold_deg=180, apart=2 * inner + 1)
    # The back is what is seen with the flap; the front, the side that is written on, is outside.
    net = replace(net, stand=Stand("back", up=(0.0, -1.0)))
    if not dims.lining:
        return (net,)
    lining = _lining(length, height, deep, shoulder, pointed, card.step, of_lining)
    return (net, lining)


def _flap(wide: float, deep: float, shoulder: float, pointed: bool) -> Shape:
    """A flap as wide as the front for the depth of its shoulders, which cover the throat."""
    middle = wide / 2
    half = 0.0 if pointed else middle - min(taper_run(deep - shoulder, FLAP_TAPER_DEG), wide / 4)
    radius = min(TIP, (deep - shoulder) / 4, wide / 4) if pointed else 0.0
    corners = [(0.0, 0.0), (wide, 0.0), (wide, shoulder)]
    corners += [(middle, deep)] if pointed else [(middle + half, deep), (middle - half, deep)]
    corners.append((0.0, shoulder))
    radii = tuple(radius if x == middle else 0.0 for x, _ in corners)
    names = ("bottom", "right", "right slope", "tip", "left slope", "left")
    return Shape(rounded(corners, radii), names)


def _in_layers(thick: float, card: Card) -> float:
    """How many layers of a card something so thick takes up."""
    return thick / card.step if card.step else 0.0


def _lining(
    length: float,
    height: float,
    deep: float,
    shoulder: float,
    pointed: bool,
    step: float,
    card: Card,
) -> Net:
    """Front and flap once more, smaller all round, folded with them; between them lie the tabs and
    the back, of card that takes up `step` mm a layer."""
    inner = length - 2 * LINING_BORDER
    net = Net.start(
        "lining",
        "lining",
        # Its fold lies within that of the envelope.
        rectangle(inner, height - LINING_BORDER - (step + card.step) / 2),
        Role.LINING,
        caliper=card.step,
    )
    share = (deep - LINING_BORDER) / deep
    low = deep - 2 * LINING_BORDER
    flap = _flap(inner * share, low, min(shoulder, low / 2), pointed)
    net = net.attach(
        "flap lining",
        flap,
        to="lining.top",
        role=Role.LINING,
        fold_deg=180,
        apart=1 + _in_layers(2 * step, card),
    )
    return replace(net, stand=Stand("flap lining", up=(0.0, -1.0), lift=LINING_BORDER))


STYLE = Style(
    name="envelope",
    summary="an envelope with a straight or pointed flap, lined if wanted",
    dimensions=Envelope,
    build=build,
)
