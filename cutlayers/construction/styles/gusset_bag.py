"""A gusset bag: four walls, a folded bottom glued from inside, and side gussets to fold it flat.

Geometry of the flat bag: the bottom lies folded up against the front, so the front has a crease
at half the bottom's width W from which its foot folds up outside of it. Each side wall has a crease
up its middle from an apex at W/2 above the table, two creases from the apex to the bottom corners
at 45°, and one from the apex to the front edge at the height of the front's crease. At the apex
lie the angles 90, 45, 90 and 135°, at a bottom corner 90, 45, 45 and 90°: added and taken off in
turn they give 0, so all go flat (Kawasaki and Justin's theorem). These creases lie open while the
bag stands. Mountains and valleys follow the layers: bottom, front foot and corners, front, gusset
halves, back; at every flat vertex they differ by two (Maekawa and Justin's theorem).
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import choice, option, proportion, size
from cutlayers.construction.openings import PUNCH_BORDER, hand_hole, punched
from cutlayers.construction.options import LEAST_TAB, LEAST_TAB_END
from cutlayers.construction.refusing import refuse_above, refuse_below, refuse_small
from cutlayers.construction.spans import below
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Stand
from cutlayers.net.shapes import glue_tab, open_gap, polygon, rectangle, taper_run
from cutlayers.telling.errors import StyleError

FOOT_TAPER = 1.05
"""Ends of the tabs on the bottom run in by a little more than 45°, so that they do not meet."""

HAND = 80.0, 24.0
"""mm; length and height of a hand hole that four fingers go through."""

LEAST_HEIGHT = 12.0
"""mm; a lower bag has no seam to speak of."""

LEAST_PUNCH, LEAST_SPREAD = 2.0, 10.0
"""mm; diameter of the least cord hole, and the least between the middles of two."""

LEAST_BETWEEN = 2.0
"""mm of card between two holes."""

PLACE = 0.1
"""mm; the least play that counts as a place for a hole, so that it can be named to 0.1 mm."""

PATCH_HEIGHT = 40.0
"""mm of a patch that a twisted handle is glued under."""


@frozen
class GussetBag:
    """Dimensions of a gusset bag."""

    length: float = size("along the front", example=85)
    width: float = size("from front to back", example=40)
    height: float = size("from table to rim; at least the width", example=120)
    tab: float | None = options.fitting_tab()
    handle: str = choice(
        "holes for cord, one hand hole, or a patch to glue a twisted handle under",
        default="holes",
        choices=("none", "holes", "hand hole", "patch"),
    )
    punch: float = option("diameter of the cord holes", default=5, minimum=LEAST_PUNCH, maximum=20)
    punch_inset: float | None = proportion(
        "from the rim to the middle of a hole; 20 mm or as far as there is room if not given",
        example=20,
    )
    spread: float | None = proportion(
        "between the middles of two cord holes; 0.4 of the length if not given",
        example=34,
        minimum=LEAST_SPREAD,
    )


def build(dims: GussetBag, card: Card) -> tuple[Net, ...]:
    """The bag, and two patches if its handle has them; the front is the root.

    Raises StyleError for a bag too low to lie flat, tabs and handles without room.
    """
    whole, card = card, card.of("bag")
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    height = card.panel("size.height", dims.height, 1)
    beside = 2 * open_gap(2 * card.step) + LEAST_TAB_END
    least = max(LEAST_TAB / 0.4, 2 * FOOT_TAPER * LEAST_TAB + beside)
    refuse_small(card, "size.length", dims.length, 2, least, "too short for tabs")
    refuse_small(card, "size.width", dims.width, 2, least, "too narrow for tabs")
    refuse_small(
        card,
        "size.height",
        dims.height,
        1,
        max(1.2 * width, LEAST_HEIGHT),
        "too low for the bottom to lie flat against the front",
    )
    smaller = min(width, length)
    deepest = min(0.4 * smaller, (smaller - beside) / (2 * FOOT_TAPER))
    tab = min(12.0, deepest) if dims.tab is None else dims.tab
    refuse_above("options.tab", tab, deepest, "more than stays on bottom and gusset")
    net = Net.start(
        "bag", "front", rectangle(length, height - width / 2), Role.WALL, caliper=card.step
    )
    net = net.attach(
        "front foot",
        rectangle(length, width / 2),
        to="front.bottom",
        own="top",
        role=Role.WALL,
        fold_deg=0,
        flat_deg=-180,
    )
    net = _with_side(net, "left", width / 2, height, card.step)
    net = _with_side(net, "right", width / 2, height, card.step)
    net = net.attach(
        "back",
        rectangle(length, height),
        to="right back gusset.side",
        own="left",
        role=Role.WALL,
        flat_deg=180,
        at=-card.step,
    )
    net = net.attach(
        "glue tab",
        glue_tab(
            height,
            tab,
            FOOT_TAPER * tab,
            taper_run(tab, options.TAB_TAPER_DEG),
            clear=2 * card.step,
        ),
        to="back.right",
        role=Role.GLUE_TAB,
        lands_on="left back gusset",
        flat_deg=180,
    )
    net = net.attach(
        "bottom",
        rectangle(length, width),
        to="back.bottom",
        role=Role.BASE,
        flat_deg=180,
        # The back is shorter at its other end, where the seam lies.
        at=0.0,
    )
    for host, wide in (("front foot", length), ("left foot", width), ("right foot", width)):
        net = net.attach(
            f"{host} tab",
            glue_tab(wide, tab, FOOT_TAPER * tab, clear=2 * card.step),
            to=f"{host}.bottom",
            role=Role.GLUE_TAB,
            lands_on="bottom",
            flat_deg=180,
        )
    net = replace(net, stand=Stand("front"))
    if dims.handle == "patch":
        return net, *_patches(length, width, height, whole)
    return (_with_handle(net, dims, length, width, height),)


def _with_side(net: Net, side: str, half: float, height: float, step: float) -> Net:
    """A side wall in its four parts, mirrored for the right one, hinged to front and foot. Their
    lower tips are cut off, as far up as the tabs lie on the bottom."""
    left = side == "left"
    front_gusset, back_gusset = f"{side} front gusset", f"{side} back gusset"
    corner, foot = f"{side} front corner", f"{side} foot"
    tip = ("tip",) if step else ()
    if left:
        back = polygon(
            *((0, step), (step, step)) if step else ((0, 0),),
            (half, half),
            (half, height),
            (0, height),
            edges=(*tip, "diagonal", "centre", "top", "side"),
        )
        triangle = polygon(
            (0, 0),
            *((half - step, step - half), (half, step - half)) if step else ((half, -half),),
            (half, 0),
            edges=("diagonal", *tip, "side", "top"),
        )
    else:
        back = polygon(
            (0, half),
            *((half - step, step), (half, step)) if step else ((half, 0),),
            (half, height),
            (0, height),
            edges=("diagonal", *tip, "side", "top", "centre"),
        )
        triangle = polygon(
            (0, 0),
            *((0, step - half), (step, step - half)) if step else ((0, -half),),
            (half, 0),
            edges=("side", *tip, "diagonal", "top"),
        )
    near, far = ("right", "left") if left else ("left", "right")
    net = net.attach(
        front_gusset,
        rectangle(half, height - half),
        to=f"front.{side}",
        own=near,
        role=Role.WALL,
        flat_deg=180,
    )
    net = net.attach(
        corner,
        triangle,
        to=f"{front_gusset}.bottom",
        own="top",
        role=Role.WALL,
        fold_deg=0,
        flat_deg=180,
    )
    net = net.attach(
        back_gusset,
        back,
        to=f"{front_gusset}.{far}",
        own="centre",
        role=Role.WALL,
        fold_deg=0,
        flat_deg=-180,
    )
    net = net.attach(
        foot,
        polygon((0, 0), (2 * half, 0), (half, half), edges=("bottom", "right", "left")),
        to=f"{corner}.diagonal",
        own=near,
        role=Role.WALL,
        fold_deg=0,
        flat_deg=-180,
        at=0.0 if left else -math.sqrt(2) * step,
    )
    net = net.close(f"{back_gusset}.diagonal", f"{foot}.{far}", fold_deg=0, flat_deg=-180)
    return net.close(f"front foot.{side}", f"{corner}.side", fold_deg=90, flat_deg=180)


def _with_handle(net: Net, dims: GussetBag, length: float, width: float, height: float) -> Net:
    """Holes or a hand hole in front and back, measured from the rim."""
    if dims.handle == "none":
        return net
    holes = dims.handle == "holes"
    most = (height - width) / 2
    if holes:
        # Clear of rim and folded bottom, of both edges of the front, and of each other.
        largest = min(
            2 * (most - PUNCH_BORDER - PLACE),
            length - 2 * PUNCH_BORDER - LEAST_SPREAD,
            (length - 2 * PUNCH_BORDER - LEAST_BETWEEN) / 2,
        )
        room = not below(largest, LEAST_PUNCH)
    else:
        room = length >= HAND[0] + LEAST_SPREAD and most >= HAND[1] / 2 + PUNCH_BORDER + PLACE
    if not room:
        raise StyleError(
            "options.handle",
            f'is "{dims.handle}", for which a bag of this size has no room',
            works="none",
        )
    if holes:
        refuse_above("options.punch", dims.punch, largest, "too large for the front")
    long, tall = (dims.punch, dims.punch) if holes else HAND
    least = tall / 2 + PUNCH_BORDER
    widest = length - dims.punch - 2 * PUNCH_BORDER
    usual = min(max(0.4 * length, dims.punch + LEAST_BETWEEN), widest)
    spread = usual if dims.spread is None else dims.spread
    if holes:
        refuse_above("options.spread", spread, widest, "more than there is of the front")
        refuse_below("options.spread", spread, dims.punch + LEAST_BETWEEN, "so the two holes meet")
    inset = dims.punch_inset
    if inset is None:
        inset = min(max(20.0, least), most)
    refuse_below("options.punch_inset", inset, least, "too near the rim")
    refuse_above("options.punch_inset", inset, most, "too near to the folded bottom")
    for panel in ("front", "back"):
        left, bottom, right, top = net.panel(panel).outline.bounds
        y = top - bottom - inset
        if dims.handle == "hand hole":
            net = hand_hole(net, panel, ((right - left) / 2, y), long, tall)
            continue
        for name, x in (("left", (length - spread) / 2), ("right", (length + spread) / 2)):
            net = punched(net, panel, f"{name} cord hole", (x, y), dims.punch)
    return net


def _patches(length: float, width: float, height: float, card: Card) -> tuple[Net, ...]:
    """Two strips glued inside the rim, over the ends of twisted handles."""
    if height - PATCH_HEIGHT < width:
        raise StyleError(
            "options.handle",
            'is "patch", which needs {} above the bottom\'s fold',
            works="none",
            lengths=(PATCH_HEIGHT,),
        )
    nets = []
    for name, side in (("front patch", -1), ("back patch", 1)):
        net = Net.start(name, name, rectangle(0.6 * length, PATCH_HEIGHT), Role.LINING)
        inside = width / 2 - (card.of("bag").step + card.of(name).step) / 2
        stand = Stand(name, lift=height - PATCH_HEIGHT, at=(0.0, side * inside))
        nets.append(replace(net, stand=stand))
    return tuple(nets)


def volume(dims: GussetBag, card: Card) -> float:
    """Length × width × height."""
    length, width, height = _scores(dims, card.of("bag"))
    return length * width * height


def _scores(dims: GussetBag, card: Card) -> tuple[float, float, float]:
    return card.score(dims.length, 2), card.score(dims.width, 2), card.score(dims.height, 1)


STYLE = Style(
    name="gusset-bag",
    summary="a bag with a folded bottom that goes flat, and holes or a patch for its handles",
    dimensions=GussetBag,
    build=build,
    volume=volume,
    limp=True,
)
