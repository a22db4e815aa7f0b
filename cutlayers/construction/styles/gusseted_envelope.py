"""A gusseted envelope: a flat box of paper whose sides and bottom fold in, so that it goes flat.

Front, bottom, back, top and flap hang in one strip; bottom and each side have a crease along
their middle that folds in as the envelope is pressed flat and lies open when it is filled. Sides
are hinged to the front and glued to the back; at the bottom corners they are not joined, so
that on the way the one bows past the other. The top folds over with the flap, which closes on
the front.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import proportion, size
from cutlayers.construction.refusing import refuse_above, refuse_small
from cutlayers.construction.style import Style
from cutlayers.construction.trays import deepest_tab
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.engagement import PLAY
from cutlayers.net.shapes import glue_tab, rectangle, taper_run, tuck_flap

LEAST_GUSSET = 1.0
"""mm of a gusset half beside the tab that it carries."""

CORNER = 10.0
"""mm; radius of the flap's corners."""


@frozen
class GussetedEnvelope:
    """Dimensions of a gusseted envelope."""

    length: float = size("along the front", example=110, minimum=30)
    width: float = size("from front to back, once it is filled", example=15, minimum=4)
    height: float = size("of the front", example=75, minimum=30)
    flap_depth: float | None = proportion(
        "depth of the closing flap; half the height if not given",
        example=38,
        minimum=8,
        formerly="flap",
    )
    tab: float = options.tab()


def build(dims: GussetedEnvelope, card: Card) -> tuple[Net, ...]:
    """One net; the front is the root.

    Raises StyleError for gussets too deep to fold in, a flap deeper than the front, and tabs
    without room.
    """
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    height = card.panel("size.height", dims.height, 2)
    least = 2 * (card.step + LEAST_GUSSET)
    refuse_small(card, "size.width", dims.width, 2, least, "too narrow for gussets")
    refuse_above(
        "size.width",
        dims.width,
        card.given(min(length, height) / 2, 2),
        "so the gussets do not fold in between front and back",
    )
    flap = height / 2 if dims.flap_depth is None else dims.flap_depth
    refuse_above("options.flap_depth", flap, height, "deeper than the front")
    half = width / 2
    # Front and sides end below the card of the top.
    low = height - card.inner_face
    # Front and back meet when flat, so what folds in and the tabs lie beside each other there.
    refuse_above(
        "options.tab",
        dims.tab,
        min(length / 2 - half - 1.0, deepest_tab(low, card.step)),
        "more than the back has room for",
    )
    net = Net.start("envelope", "front", rectangle(length, low), Role.WALL, caliper=card.step)
    for side in ("left", "right"):
        net = net.attach(
            f"{side} front gusset",
            rectangle(low, half),
            to=f"front.{side}",
            role=Role.WALL,
            flat_deg=180,
        )
        net = net.attach(
            f"{side} back gusset",
            rectangle(low, half),
            to=f"{side} front gusset.top",
            role=Role.WALL,
            fold_deg=0,
            flat_deg=-180,
        )
        net = net.attach(
            f"{side} tab",
            glue_tab(low, dims.tab, taper_run(dims.tab, options.TAB_TAPER_DEG), clear=card.step),
            to=f"{side} back gusset.top",
            role=Role.GLUE_TAB,
            lands_on="back",
            flat_deg=180,
        )
    # The bottom lies between the sides, which are not joined to it.
    between = length - 2 * card.inner_face - PLAY
    strip = (
        ("front bottom", "front.bottom", rectangle(between, half), Role.BASE, 90, 180, 0),
        ("back bottom", "front bottom.top", rectangle(between, half), Role.BASE, 0, -180, 0),
        ("back", "back bottom.top", rectangle(length, height), Role.WALL, 90, 180, 0),
        ("top", "back.top", rectangle(length, width), Role.LID, 90, 180, 0),
        # Outside of the front.
        ("flap", "top.top", _flap(length, flap), Role.LID, 90, 0, -1),
    )
    for name, to, shape, role, fold_deg, flat_deg, layer in strip:
        net = net.attach(
            name, shape, to=to, role=role, fold_deg=fold_deg, flat_deg=flat_deg, layer=layer
        )
    return (replace(net, stand=Stand("front")),)


def _flap(wide: float, deep: float) -> Shape:
    return tuck_flap(wide, deep, min(CORNER, deep / 2, wide / 4))


def volume(dims: GussetedEnvelope, card: Card) -> float:
    """Length × width × height, once it is filled."""
    length, width, height = _scores(dims, card)
    return length * width * height


def _scores(dims: GussetedEnvelope, card: Card) -> tuple[float, float, float]:
    return card.score(dims.length, 2), card.score(dims.width, 2), card.score(dims.height, 2)


STYLE = Style(
    name="gusseted-envelope",
    summary="an envelope whose sides and bottom open out to a flat box",
    dimensions=GussetedEnvelope,
    build=build,
    volume=volume,
    limp=True,
)
