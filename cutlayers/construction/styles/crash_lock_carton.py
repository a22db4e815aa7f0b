"""A carton with a crash-lock bottom: glued flat, its bottom closes as the carton is squared up.

Front and back have bottom panels (majors), the sides have flaps (minors). Each major has a wing
at one end, beyond a crease from the box corner at 45°, glued on the outside of the minor there.

Geometry: round such a corner lie the front wall (90°), the side wall (90°), the minor up to the
crease (45°) and the major up to the crease (45°). Alternately added and taken off they give
90 − 90 + 45 − 45 = 0, so the corner goes flat (Kawasaki and Justin's theorem) with the side wall
folded right over the front; the crease then folds by 180° and lies open when the carton is up.
Only two opposite corners of a tube fold over, so each major has one wing, both at their left end.

Each major is W/2 deep along its winged half and reaches `lap` farther along the other; so each
half of either rests on the other one, and the step between them hooks them together.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.cartons import (
    CartonBody,
    CartonDims,
    carton_body,
    carton_tube,
    carton_volume,
    refuse_body,
    with_carton_seam,
    with_carton_window,
    with_top,
)
from cutlayers.construction.dimension import option, size
from cutlayers.construction.refusing import refuse_above, refuse_small
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Stand
from cutlayers.net.shapes import Shape, polygon

WING_SLANT = 0.12
"""Share of the wing's side by which its tip keeps off the side wall."""

LEAST_WING = 8.0
"""mm; a smaller triangle has not enough glue to pull the bottom shut."""


@frozen
class CrashLockCarton(CartonDims):
    """Dimensions of a carton with a crash-lock bottom."""

    length: float = size("along the front wall; more than the width", example=70)
    width: float = size("from front to back", example=45)
    height: float = size("from bottom to closure; at least the width", example=100)
    lap: float | None = option(
        "how far the bottom panels lie on each other; a quarter of the width if not given",
        default=None,
        minimum=3,
        maximum=200,
    )


def build(dims: CrashLockCarton, card: Card) -> tuple[Net, ...]:
    """One net; the front wall is the root, the seam lies at the back on the left.

    Raises StyleError for a bottom that is wider than long, for one too small to be glued or too
    deep to lie flat between the walls, and as tuck cartons do.
    """
    body = carton_body(dims, card)
    lap = body.width / 4 if dims.lap is None else dims.lap
    _refuse(dims, body, lap, card)
    refuse_body(dims, body)
    net = with_top(carton_tube(body), body)
    for wall, side in (("front", "left"), ("back", "right")):
        net = _with_bottom(net, wall, side, body, lap)
    net = with_carton_seam(net, dims.tab)
    net = with_carton_window(net, dims, body, ("", "front"))
    return (replace(net, stand=Stand("front")),)


def _refuse(dims: CrashLockCarton, body: CartonBody, lap: float, card: Card) -> None:
    refuse_small(
        card, "size.width", dims.width, 2, 2 * LEAST_WING, "too narrow for a bottom to be glued"
    )
    # The step between the halves must lie beside the end of the crease.
    refuse_small(
        card,
        "size.length",
        dims.length,
        2,
        body.width + 4 * card.caliper + 1.0,
        "no more than the width, so the side flaps meet",
    )
    refuse_above("options.lap", lap, body.width / 2, "more than half the width")
    refuse_small(
        card,
        "size.height",
        dims.height,
        2,
        body.width / 2 + lap,
        "too low for the bottom to lie flat between the walls",
    )


def _with_bottom(net: Net, wall: str, side: str, body: CartonBody, lap: float) -> Net:
    """A major, its wing, and the minor that the wing is glued to.

    Shapes lie on their fold here and hang from it on the net, so that their right end, where the
    wing is, comes to lie at the wall's left end.
    """
    length, width, ease = body.length, body.width, 2 * body.end.caliper
    half = width / 2
    net = net.attach(
        f"{wall} bottom",
        _major(length, half, lap, ease),
        to=f"{wall}.bottom",
        role=Role.BASE,
        flat_deg=180.0,
    ).attach(
        f"{side} bottom flap",
        polygon(
            (ease / 2, 0), (width - ease / 2, 0), (0.85 * width - ease / 2, half), (ease / 2, half)
        ),
        to=f"{side}.bottom",
        role=Role.FLAP,
        flat_deg=180.0,
        layer=1,
    )
    # Two sides as long as the crease's shadow on the walls, the outer one drawn in a little.
    crease = half * math.sqrt(2)
    tip = crease / 2 * (1 - WING_SLANT)
    return net.attach(
        f"{wall} wing",
        polygon((0, 0), (crease - 1.5 * body.end.step, 0), (tip, tip)),
        # Clear of the corner, as the flap that it is glued to.
        at=1.5 * body.end.step,
        to=f"{wall} bottom.crease",
        role=Role.GLUE_TAB,
        fold_deg=0.0,
        flat_deg=-180.0,
        lands_on=f"{side} bottom flap",
        under=False,
    )


def _major(length: float, half: float, lap: float, ease: float) -> Shape:
    middle = length / 2
    return polygon(
        (0, 0),
        (length, 0),
        (length - half, half),
        (middle + ease, half),
        (middle, half + lap),
        (0.1 * half, half + lap),
        edges=("fold", "crease", "rest", "step", "reach", "end"),
    )


STYLE = Style(
    name="crash-lock-carton",
    summary="a tuck carton whose glued bottom closes as it is squared up",
    dimensions=CrashLockCarton,
    build=build,
    volume=carton_volume,
)
