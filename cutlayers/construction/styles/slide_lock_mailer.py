"""A flat mailer with a slide lock: a thin box folded from one strip, held by a tongue in a slit.

Side flaps fold in first, the cover comes up from the front over them, and the tongue's panel
comes down from the back over the cover; its tongue bends down into a slot in the cover and lies
behind it. No glue. The slot has round ends, which do not tear as those of a straight cut do; where
layers are not stepped it is a slit, a shallow arc for the same reason.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import proportion, size
from cutlayers.construction.openings import hand_hole
from cutlayers.construction.refusing import refuse_above, refuse_below, refuse_small
from cutlayers.construction.spans import NAMED
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path, rounded
from cutlayers.geometry.segments import Segment
from cutlayers.net import Feature, Net, Role, Shape, Stand, Work
from cutlayers.net.bends import Ramp, bent, ramp_length, ramp_reach
from cutlayers.net.engagement import BRIDGE, PLAY, Engagement
from cutlayers.net.shapes import glue_tab, rectangle

LEAST_HOLD = 4.0
"""mm of the tongue that must lie behind the cover, beyond where it bends."""

SLIT_ROOM = 1.0
"""mm by which the slit is longer than the tongue is wide, at each end."""

SLIT_BULGE = 0.06
"""Of the slit's arc; an eighth of its length wide at most."""

LEAST_TONGUE = 6.0
"""mm; a narrower tongue tears off."""

LEAST_SHOULDER = 6.0
"""mm of the tongue's panel to each side of the tongue, or it turns in the slot (common practice, no
source)."""

LEAST_BODY = 6.0
"""mm; how deep the tongue's panel is before the tongue begins, at least."""


@frozen
class SlideLockMailer:
    """Dimensions of a slide-lock mailer."""

    length: float = size("along the front", example=110, minimum=30)
    width: float = size("from front to back", example=80, minimum=30)
    height: float = size("between base and cover", example=8, minimum=2, maximum=80)
    side_flap_depth: float | None = proportion(
        "depth of the side flaps; a quarter of the length if not given",
        example=27,
        minimum=4,
        formerly="side",
    )
    body: float | None = proportion(
        "how far the tongue's panel reaches before the tongue; a quarter of the width if not given",
        example=20,
        minimum=LEAST_BODY,
    )
    tongue_length: float | None = proportion(
        "length of the tongue, which slides in; 18 mm or what there is room for if not given",
        example=18,
        minimum=6,
        maximum=80,
        formerly="tongue",
    )
    tongue_width: float | None = proportion(
        "width of the tongue; a third of the length if not given",
        example=37,
        minimum=LEAST_TONGUE,
    )


def build(dims: SlideLockMailer, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root, cover and front wall lie below it.

    Raises StyleError for side flaps that meet, and for a tongue without room.
    """
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    height = card.panel("size.height", dims.height, 2)
    lock = _lock(card.step)
    side = length / 4 if dims.side_flap_depth is None else dims.side_flap_depth
    refuse_above("options.side_flap_depth", side, length / 2, "so the side flaps meet")
    # Body and tongue lie on the cover, and the slot stays clear of its fold.
    both = 0.8 * width
    shortest, least_body = lock.ramp + LEAST_HOLD, LEAST_BODY
    if card.step:
        least_body = max(LEAST_BODY, (BRIDGE + 1) * card.step + (lock.slot - lock.reach) / 2)
        # As it is named: a tongue that leaves less would leave no body that can be asked for.
        least_body = math.ceil(least_body * 10 - NAMED) / 10
    refuse_small(
        card, "size.width", dims.width, 2, (shortest + least_body) / 0.8, "too short for its lock"
    )
    usual = max(min(18.0, both / 2), shortest)
    deep = usual if dims.tongue_length is None else dims.tongue_length
    refuse_below("options.tongue_length", deep, shortest, "too short to lie behind the cover")
    refuse_above(
        "options.tongue_length", deep, both - least_body, "longer than the cover has room for"
    )
    usual = min(max(least_body, width / 4), both - deep)
    body = usual if dims.body is None else dims.body
    refuse_below("options.body", body, least_body, "which leaves too little card beside the slot")
    refuse_above("options.body", body, both - deep, "more than leaves room for the tongue")
    # Shoulders beside the tongue, and card beside its slot, which is longer.
    beside = max(2 * SLIT_ROOM + lock.slot + 2 * BRIDGE * card.step, 2 * LEAST_SHOULDER)
    widest = length - beside
    refuse_small(card, "size.length", dims.length, 2, LEAST_TONGUE + beside, "too short for it")
    wide = (
        min(max(LEAST_TONGUE, length / 3), widest)
        if dims.tongue_width is None
        else (dims.tongue_width)
    )
    refuse_above("options.tongue_width", wide, widest, "which leaves too little beside it")
    # Flaps that reach as far as the tongue may in its slot lie behind that too.
    layer = 1 if side + SLIT_ROOM + lock.slot / 2 < (length - wide) / 2 else 2
    refuse_small(
        card, "size.height", dims.height, 2, (layer + 1) * card.step, "too low for what lies inside"
    )
    net = Net.start("mailer", "base", rectangle(length, width), caliper=card.step)
    # The side walls stand between front and back, and so do the flaps on them.
    between = width - 2 * card.take_up - PLAY
    for wall, edge, long in (
        ("left", "right", between),
        ("right", "left", between),
        ("front", "bottom", length),
        ("back", "top", length),
    ):
        net = net.attach(wall, rectangle(long, height), to=f"base.{edge}", role=Role.WALL)
    for wall in ("left", "right"):
        flap = glue_tab(between, side, min(side / 3, width / 6))
        net = net.attach(f"{wall} flap", flap, to=f"{wall}.top", role=Role.FLAP, layer=layer)
    cover = rectangle(length, width - card.take_up - PLAY)
    net = net.attach("cover", cover, to="front.top", role=Role.LID)
    net = net.attach(
        "tongue",
        _tongue(length, body, wide, deep, lock.ramp),
        to="back.top",
        role=Role.LID,
        layer=-1,
    )
    net = replace(
        net.engage("tongue", "cover", lock.engagement), stand=Stand("front", up=(0.0, -1.0))
    )
    # Folded, the tongue's panel reaches `body` forward from the back wall: there it dives in.
    left, _, right, top = net.panel("cover").outline.bounds
    if not card.step:
        return (_with_slit(net, (left + right) / 2, top - (width - body), wide, body),)
    bottom = net.panel("cover").outline.bounds[1]
    at = (length / 2, top - (width - body - lock.reach / 2) - bottom)
    net = hand_hole(net, "cover", at, wide + 2 * SLIT_ROOM + lock.slot, lock.slot, "lock slot")
    return (replace(net, facets=bent(net, _dive(net, lock, card.step))),)


@frozen
class _Lock:
    """How long the tongue's ramp is on the flat, how far it reaches, how wide the slot is, and what
    that was made from."""

    ramp: float = 0.0
    reach: float = 0.0
    slot: float = 0.0
    engagement: Engagement = Engagement(0.0)


def _lock(caliper: float) -> _Lock:
    """The tongue goes from the outside of the cover to the inside, over two calipers."""
    if not caliper:
        return _Lock()
    ramp = ramp_length(2, caliper, 0.0)
    reach = ramp_reach(ramp, 2 * caliper)
    engagement = Engagement(caliper)
    return _Lock(ramp, reach, engagement.opening(2 * caliper / ramp), engagement)


def _dive(net: Net, lock: _Lock, caliper: float) -> Ramp:
    """Where the tongue bends, from its shoulders on."""
    panel = net.panel("tongue")
    right, left = panel.edge("tongue right"), panel.edge("tongue left")
    near, far = (
        Segment(right.point_at(share), left.point_at(1 - share))
        for share in (0.0, lock.ramp / right.chord)
    )
    return Ramp("tongue", near, far, 2 * caliper)


def _with_slit(net: Net, middle: float, y: float, wide: float, body: float) -> Net:
    """A slit in the cover that bows towards its free edge, by less than a third of what is left
    there."""
    half = wide / 2 + SLIT_ROOM
    bulge = min(SLIT_BULGE, body / 3 / half)
    slit = Path(((middle - half, y), (middle + half, y)), (bulge,), closed=False)
    return net.work("cover", Feature(Work.SLIT, slit, "lock slit"))


def _tongue(length: float, body: float, wide: float, deep: float, ramp: float) -> Shape:
    """A panel that narrows to a tongue with rounded corners."""
    middle, half, slant = length / 2, wide / 2, min(body / 2, (length - wide) / 4)
    radius = min(6.0, wide / 4, (deep - ramp) / 2)
    corners = (
        (0.0, 0.0),
        (length, 0.0),
        (length - slant, body),
        (middle + half, body),
        (middle + half, body + deep),
        (middle - half, body + deep),
        (middle - half, body),
        (slant, body),
    )
    outline = rounded(corners, (0.0, 0.0, 0.0, 0.0, radius, radius, 0.0, 0.0))
    names = (
        "bottom",
        "right end",
        "right shoulder",
        "tongue right",
        "right corner",
        "tip",
        "left corner",
        "tongue left",
        "left shoulder",
        "left end",
    )
    return Shape(outline, names)


def volume(dims: SlideLockMailer, card: Card) -> float:
    """Length × width × height."""
    length, width, height = _scores(dims, card)
    return length * width * height


def _scores(dims: SlideLockMailer, card: Card) -> tuple[float, float, float]:
    return card.score(dims.length, 2), card.score(dims.width, 2), card.score(dims.height, 2)


STYLE = Style(
    name="slide-lock-mailer",
    summary="a flat mailer held by a tongue in a slit, without glue",
    dimensions=SlideLockMailer,
    build=build,
    volume=volume,
)
