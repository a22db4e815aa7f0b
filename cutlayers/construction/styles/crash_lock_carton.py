"""A carton with a crash-lock bottom: glued flat, its bottom closes as the carton is squared up.

Front and back have bottom panels (majors), the sides have flaps (minors). Each major has a wing
at one end, beyond a crease from the box corner at 45°, glued on the outside of the minor there.

Geometry: round such a corner lie the front wall (90°), the side wall (90°), the minor up to the
crease (45°) and the major up to the crease (45°). Alternately added and taken off they give
90 − 90 + 45 − 45 = 0, so the corner goes flat (Kawasaki and Justin's theorem) with the side wall
folded right over the front; the crease then folds by 180° and lies open when the carton is up.
Only two opposite corners of a tube fold over, so each major has one wing, both at their left end.

Each major is W/2 deep along its winged half and reaches `lap` farther along the other; there it
rests on the other one, and the step between its halves hooks them together. So that it comes to
lie on the other's card, and on the minor that is glued to that, a reach bends up by two calipers
before the middle; a notch beside it lets it. The minors cover the half where they are glued: beyond
the middle a reach passes them.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.cartons import (
    CartonDims,
    carton_end,
    carton_tube,
    carton_volume,
    refuse_carton,
    with_carton_seam,
    with_carton_window,
    with_top,
)
from cutlayers.construction.dimension import proportion, size
from cutlayers.construction.ends import TuckedEnd
from cutlayers.construction.refusing import refuse_above, refuse_small
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.net import Net, Role, Stand
from cutlayers.net.bends import Ramp, bent, ramp_length, ramp_reach
from cutlayers.net.shapes import LEAST_GAP, Shape, polygon

WING_SLANT = 0.12
"""Share of the wing's side by which its tip keeps off the side wall."""

FLAP_SLANT = math.tan(math.radians(30))
"""How much a minor slants away from the wall beside its wing, or it would go through that on the
way. With the walls at β to each other inside, what lies at t from the minor's fold stays inside as
long as tan t ≤ 2 / cos β · cos²(β/2), which is never below 2: a slant of 26.6° would do."""

LEAST_REACH = 3.0
"""mm of a major, at least, before its reach bends up."""

LEAST_WING = 8.0
"""mm; a smaller triangle has not enough glue to pull the bottom shut."""


@frozen
class CrashLockCarton(CartonDims):
    """Dimensions of a carton with a crash-lock bottom."""

    length: float = size("along the front wall; more than the width", example=70)
    width: float = size("from front to back", example=45)
    height: float = size("from bottom to closure; at least the width", example=100)
    lap: float | None = proportion(
        "how far the bottom panels lie on each other; a quarter of the width if not given",
        example=11,
        minimum=3,
        maximum=200,
    )


def build(dims: CrashLockCarton, card: Card) -> tuple[Net, ...]:
    """One net; the front wall is the root, the seam lies at the back on the left.

    Raises StyleError for a bottom that is wider than long, for one too small to be glued or too
    deep to lie flat between the walls, and as tuck cartons do.
    """
    end = carton_end(dims, card)
    lap = end.width / 4 if dims.lap is None else dims.lap
    rise = _rise(card.step)
    _refuse(dims, end, lap, rise, card)
    refuse_carton(dims.tab, end)
    net = with_top(carton_tube(end), end)
    for wall, side in (("front", "left"), ("back", "right")):
        net = _with_bottom(net, wall, side, end, lap, rise, card)
    net = with_carton_seam(net, dims.tab)
    net = with_carton_window(net, dims, end, ("", "front"))
    net = replace(net, stand=Stand("front"))
    if not card.step:
        return (net,)
    ramps = (_ramp(net, f"{wall} bottom", rise, 2 * card.step) for wall in ("front", "back"))
    return (replace(net, facets=bent(net, *ramps)),)


@frozen
class _Rise:
    """How long the ramp of a reach is on the flat, and how far it goes once it is bent, in mm."""

    ramp: float = 0.0
    reach: float = 0.0


def _rise(caliper: float) -> _Rise:
    """Over the other major and the minor on it."""
    ramp = ramp_length(2, caliper, 0.0)
    return _Rise(ramp, ramp_reach(ramp, 2 * caliper))


def _refuse(dims: CrashLockCarton, end: TuckedEnd, lap: float, rise: _Rise, card: Card) -> None:
    least = max(2 * LEAST_WING, 2 * (rise.reach + LEAST_REACH))
    refuse_small(card, "size.width", dims.width, 2, least, "too narrow for a bottom to be glued")
    # The step between the halves must lie beside the end of the crease.
    refuse_small(
        card,
        "size.length",
        dims.length,
        2,
        end.width + 4 * card.caliper + 1.0,
        "no more than the width, so the side flaps meet",
    )
    # A reach ends before it comes to the other wall.
    most = end.width / 2 - 2 * card.step
    refuse_above("options.lap", lap, most, "more than half the width has room for")
    refuse_small(
        card,
        "size.height",
        dims.height,
        2,
        end.width / 2 + lap + rise.ramp - rise.reach,
        "too low for the bottom to lie flat between the walls",
    )


def _with_bottom(
    net: Net, wall: str, side: str, end: TuckedEnd, lap: float, rise: _Rise, card: Card
) -> Net:
    """A major, its wing, and the minor that the wing is glued to.

    Shapes lie on their fold here and hang from it on the net, so that their right end, where the
    wing is, comes to lie at the wall's left end.
    """
    length, width, apart = end.length, end.width, 2 * card.caliper
    half = width / 2
    short = end.beside_tuck
    # At 45° to the flap that it is glued to, the wing's side is clear of the corner as that is.
    corner = 1.5 * short if card.step else 0.0
    net = net.attach(
        f"{wall} bottom",
        _major(length, half, lap, apart, short, rise),
        to=f"{wall}.bottom",
        role=Role.BASE,
        flat_deg=180.0,
    ).attach(
        f"{side} bottom flap",
        _minor(half, short),
        to=f"{side}.bottom",
        at=half,
        role=Role.FLAP,
        flat_deg=180.0,
        layer=1,
    )
    # Two sides as long as the crease's shadow on the walls, the outer one drawn in a little.
    crease = half * math.sqrt(2)
    tip = crease / 2 * (1 - WING_SLANT)
    return net.attach(
        f"{wall} wing",
        polygon((0, 0), (crease - corner, 0), (tip, tip)),
        at=corner,
        to=f"{wall} bottom.crease",
        role=Role.GLUE_TAB,
        fold_deg=0.0,
        flat_deg=-180.0,
        lands_on=f"{side} bottom flap",
        under=False,
    )


def _minor(half: float, short: float) -> Shape:
    """A minor that ends `short` of the box's corner, where it slants, and of the middle."""
    return polygon(
        (0, 0),
        (half - short, 0),
        (half - short, half),
        (FLAP_SLANT * half - short, half),
        (0, short / FLAP_SLANT),
    )


def _ramp(net: Net, name: str, rise: _Rise, inward: float) -> Ramp:
    """Where the reach of a major bends up, from the bottom of its notch on."""
    panel = net.panel(name)
    hook, end = panel.edge("hook"), panel.edge("end")
    near, far = (
        Segment(hook.point_at(at / hook.chord), end.point_at(1 - at / hook.chord))
        for at in (0.0, rise.ramp)
    )
    return Ramp(name, near, far, inward)


def _major(
    length: float, half: float, lap: float, apart: float, short: float, rise: _Rise
) -> Shape:
    """Where its reach rises it keeps off the side wall as the flaps do."""
    middle = length / 2
    far, begins = half + lap + rise.ramp - rise.reach, half - rise.reach
    gap = max(apart, LEAST_GAP)
    slant = 0.1 * half
    clear = max(slant * begins / far, short)
    return polygon(
        (0, 0),
        (length, 0),
        (length - half, half),
        (middle + gap, half),
        *(((middle + gap, begins), (middle, begins)) if rise.ramp else ()),
        (middle, far),
        (max(slant, clear), far),
        *(((clear, begins),) if rise.ramp else ()),
        edges=(
            *("fold", "crease", "rest"),
            *(("notch side", "notch") if rise.ramp else ()),
            *("hook", "reach", "end"),
            *(("low end",) if rise.ramp else ()),
        ),
    )


STYLE = Style(
    name="crash-lock-carton",
    summary="a tuck carton whose glued bottom closes as it is squared up",
    dimensions=CrashLockCarton,
    build=build,
    volume=carton_volume,
)
