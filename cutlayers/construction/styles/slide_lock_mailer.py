"""A flat mailer with a slide lock: a thin box folded from one strip, held by a tongue in a slit.

Side flaps fold in first, the cover comes up from the front over them, and the tongue's panel
comes down from the back over the cover; its tongue slides into a slit in the cover. No glue.
The slit is a shallow arc, whose ends do not tear as those of a straight one do.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import option, size
from cutlayers.construction.refusing import refuse_above
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path, rounded
from cutlayers.net import Feature, Net, Role, Shape, Stand, Work
from cutlayers.net.shapes import glue_tab, rectangle

SLIT_ROOM = 1.0
"""mm by which the slit is longer than the tongue is wide, at each end."""

SLIT_BULGE = 0.06
"""Of the slit's arc; an eighth of its length wide at most."""

LEAST_TONGUE = 6.0
"""mm; a narrower tongue tears off."""

LEAST_BODY = 6.0
"""mm; how deep the tongue's panel is before the tongue begins, at least."""


@frozen
class SlideLockMailer:
    """Dimensions of a slide-lock mailer."""

    length: float = size("along the front", example=110, minimum=30)
    width: float = size("from front to back", example=80, minimum=30)
    height: float = size("between base and cover", example=8, minimum=2, maximum=80)
    side: float | None = option(
        "depth of the side flaps; a quarter of the length if not given", default=None, minimum=4
    )
    body: float | None = option(
        "how far the tongue's panel reaches before the tongue; a quarter of the width if not given",
        default=None,
        minimum=LEAST_BODY,
    )
    tongue: float | None = option(
        "how far the tongue slides in; 18 mm or what there is room for if not given",
        default=None,
        minimum=6,
        maximum=80,
    )
    tongue_width: float | None = option(
        "width of the tongue; a third of the length if not given",
        default=None,
        minimum=LEAST_TONGUE,
    )


def build(dims: SlideLockMailer, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root, cover and front wall lie below it.

    Raises StyleError for side flaps that meet, and for a tongue without room.
    """
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    height = card.panel("size.height", dims.height, 2)
    caliper = card.caliper
    side = length / 4 if dims.side is None else dims.side
    refuse_above("options.side", side, length / 2, "so the side flaps meet")
    # Body and tongue lie on the cover, and the slit stays clear of its fold.
    both = 0.8 * width
    deep = min(18.0, both / 2) if dims.tongue is None else dims.tongue
    refuse_above("options.tongue", deep, both - LEAST_BODY, "longer than the cover has room for")
    usual = min(max(LEAST_BODY, width / 4), both - deep)
    body = usual if dims.body is None else dims.body
    refuse_above("options.body", body, both - deep, "more than leaves room for the tongue")
    widest = length - 4 * caliper - 12.0
    wide = (
        min(max(LEAST_TONGUE, length / 3), widest)
        if dims.tongue_width is None
        else (dims.tongue_width)
    )
    refuse_above("options.tongue_width", wide, widest, "which leaves no shoulders beside it")
    net = Net.start("mailer", "base", rectangle(length, width))
    for wall, edge, long in (
        ("left", "right", width),
        ("right", "left", width),
        ("front", "bottom", length),
        ("back", "top", length),
    ):
        net = net.attach(wall, rectangle(long, height), to=f"base.{edge}", role=Role.WALL)
    for wall in ("left", "right"):
        flap = glue_tab(width - 2 * caliper, side, min(side / 3, width / 6))
        net = net.attach(f"{wall} flap", flap, to=f"{wall}.top", role=Role.FLAP)
    cover = rectangle(length - 2 * caliper, width - caliper)
    net = net.attach("cover", cover, to="front.top", role=Role.LID)
    net = net.attach(
        "tongue",
        _tongue(length - 4 * caliper, body, wide, deep),
        to="back.top",
        role=Role.LID,
    )
    # Folded, the tongue's panel reaches `body` forward from the back wall: there it dives in.
    left, _, right, top = net.panel("cover").outline.bounds
    middle, half = (left + right) / 2, wide / 2 + SLIT_ROOM
    y = top - (width - body)
    # The arc bows towards the cover's free edge, by less than a third of what is there.
    bulge = min(SLIT_BULGE, body / 3 / half)
    slit = Path(((middle - half, y), (middle + half, y)), (bulge,), closed=False)
    net = net.work("cover", Feature(Work.SLIT, slit, "lock slit"))
    return (replace(net, stand=Stand("front", up=(0.0, -1.0))),)


def _tongue(length: float, body: float, wide: float, deep: float) -> Shape:
    """A panel that narrows to a tongue with rounded corners."""
    middle, half, slant = length / 2, wide / 2, min(body / 2, (length - wide) / 4)
    radius = min(6.0, wide / 4, deep / 2)
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
