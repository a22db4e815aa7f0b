"""The tucked end of a carton: a closing panel with its tuck flap, and two dust flaps.

Common practice: a tuck 12–20 mm deep with corners rounded by 5–10 mm; dust flaps 0.5–0.75 of
their wall's width and at most half the opening's length, their shoulders beside the tuck's
crease; flaps narrower than what they hang on, lest they jam; lock slits 4–10 mm long. A flap that
goes between two walls leaves what these have inside of their creases, and the clearance to both
sides together. The dust flaps lie a layer inside of the closing panel, so the side walls end a
caliper lower; the tuck lies a layer inside of the wall it goes behind, so the closing panel is a
caliper less deep.
"""

from __future__ import annotations

from typing import Literal

from cutlayers.construction.card import Card
from cutlayers.construction.options import LEAST_FLAP, LEAST_THUMB, THUMB
from cutlayers.construction.refusing import refuse_above, refuse_small, refuse_unless_none
from cutlayers.construction.tubes import least_seam
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role
from cutlayers.net.engagement import LEAST_HOLD, Engagement, least_bridge
from cutlayers.net.shapes import LEAST_GAP, dust_flap, rectangle, tuck_flap

SEAM_LAYERS = 3
"""Layers that flaps take up at the ends of a seam, at most."""

TUCK_CORNER = 8.0
"""mm; common practice rounds a tuck's corners with 5–10 mm."""

LARGEST_TUCK = 15.0
"""mm; deeper tucks are asked for, not assumed."""

THUMB_COVER = 1.0
"""mm of tuck flap that must lie behind a thumb cut, all round."""

LEAST_HEIGHT = 10.0
"""mm; the walls of a lower carton are too low to hold a tuck."""

LEAST_CREASE = 4.0
"""mm of crease that lock slits must leave, or the tuck tears off."""


@frozen
class TuckedEnd:
    """Sizes in mm, score to score, of a carton with a tucked end of some card, and of that end: how
    deep its flaps are, the lock slits at the tuck's crease, and the thumb cut in the wall that the
    tuck goes behind. `clearance` is left to both sides of the tuck together."""

    length: float
    width: float
    height: float
    card: Card
    clearance: float
    tuck: float
    dust: float
    slit: float
    thumb: float

    @property
    def flap_length(self) -> float:
        """Width of the tuck flap."""
        return self.length - 2 * self.beside_tuck

    @property
    def beside_tuck(self) -> float:
        """How far the tuck keeps off the crease of a side wall."""
        return self.card.take_up + self.clearance / 2

    @property
    def dust_width(self) -> float:
        """Width of a dust flap."""
        return self.width - sum(self.beside_dust)

    @property
    def beside_dust(self) -> tuple[float, float]:
        """How far a dust flap keeps off the wall that the tuck goes behind, and off the other."""
        return _beside_dust(self.card)

    @property
    def closing_depth(self) -> float:
        """Depth of the closing panel, before it is stepped for its tuck."""
        return self.width - self.card.caliper + self.card.step

    @property
    def shoulder(self) -> float:
        """How far the dust flaps run straight up beside the tuck; a slit catches there."""
        return max(self.dust / 3, self.slit)

    @property
    def lock(self) -> Engagement:
        """A dust flap in its slit."""
        return Engagement(self.card.step)

    @property
    def slit_gap(self) -> float:
        """How far from the crease the lock slits reach: to the inner face of the end's card, and
        what a dust flap that lies on it takes up, with play."""
        return self.card.inner_face + self.lock.opening() if self.card.step else 0.0

    @property
    def shortest_slit(self) -> float:
        """What holds a dust flap: it ends with play, and begins beside the tuck, which at the seam
        is a layer narrower."""
        return self.lock.slit(LEAST_HOLD) + self.beside_tuck + self.card.step

    @property
    def longest_slit(self) -> float:
        """As far as the dust flaps' shoulders may reach, and the tuck keeps its crease; 0 where it
        is not deep enough for any."""
        if self.tuck < self.slit_gap + LEAST_FLAP:
            return 0.0
        bridge = least_bridge(self.card.step, LEAST_CREASE)
        return min(0.8 * self.dust, (self.flap_length - bridge) / 2)


def _beside_dust(card: Card) -> tuple[float, float]:
    """It lies between the inner faces of that tuck, a layer inside of the one wall, and of the
    other wall."""
    if not card.step:
        return card.caliper, card.caliper
    return max(card.inner_layer, LEAST_GAP), max(card.inner_face, LEAST_GAP)


def tucked_end(
    card: Card,
    size: tuple[float, float, float],
    *,
    clearance: float,
    tuck: float | None,
    dust: float | None,
    slit: float = 0.0,
    thumb: float | None = 0.0,
    at_seam: bool = False,
) -> TuckedEnd:
    """An end with the proportions of the trade for what is not given.

    `size` is the carton's length, width and height, as the card measures; `at_seam` says that one
    tuck goes behind the wall with the seam's tab. Raises StyleError for a size that is too small
    for tucked ends.
    """
    length, width, height = (
        card.panel(f"size.{name}", given, 2)
        for name, given in zip(("length", "width", "height"), size, strict=True)
    )
    _refuse_size(card, size, clearance, dust, at_seam=at_seam)
    deep = min(LARGEST_TUCK, width / 2, height / 3) if tuck is None else tuck
    return TuckedEnd(
        length,
        width,
        height,
        card,
        clearance,
        deep,
        min(0.6 * width, length / 2) if dust is None else dust,
        slit,
        min(THUMB, length / 2, deep) if thumb is None else thumb,
    )


def _refuse_size(
    card: Card,
    size: tuple[float, float, float],
    clearance: float,
    dust: float | None,
    *,
    at_seam: bool,
) -> None:
    """`dust` is the depth asked for, if one is."""
    length, width, height = size
    least = LEAST_FLAP + 2 * card.take_up + clearance + (2 * card.step if at_seam else 0.0)
    # Given dust flaps need twice the least flap between the side walls.
    least_length = least if dust is None else max(least, 2 * LEAST_FLAP)
    least_width = LEAST_FLAP + sum(_beside_dust(card))
    refuse_small(card, "size.length", length, 2, least_length, "too short for its flaps")
    refuse_small(card, "size.width", width, 2, least_width, "too narrow for its flaps")
    lowest = max(LEAST_HEIGHT, least_seam(SEAM_LAYERS * card.step))
    refuse_small(card, "size.height", height, 2, lowest, "too low for a tuck to hold")


def room_for_tuck(height: float, step: float) -> float:
    """The deepest tuck in mm that stays clear of what lies in layers on the other end."""
    return height - SEAM_LAYERS * step


def refuse_end(end: TuckedEnd, deepest_tuck: float, why: str = "deeper than the box") -> None:
    """Raise StyleError for flaps that meet, a tuck deeper than there is room for, slits that
    tear, and a thumb cut that would show past the tuck."""
    refuse_above(
        "options.dust_depth",
        end.dust,
        end.length / 2,
        "so the two dust flaps meet at half the length",
    )
    refuse_above("options.tuck_depth", end.tuck, deepest_tuck, why)
    refuse_unless_none(
        "options.slit",
        end.slit,
        end.shortest_slit,
        end.longest_slit,
        (
            "too short for a flap to catch in",
            "longer than the shoulders of the dust flaps or the tuck's crease allow",
        ),
    )
    refuse_thumb(end.thumb, end.tuck, end.length)


def refuse_thumb(thumb: float, tuck: float, length: float) -> None:
    """Raise StyleError for a thumb cut that would show past the tuck behind it."""
    refuse_unless_none(
        "options.thumb",
        thumb,
        LEAST_THUMB,
        min(2 * (tuck - THUMB_COVER), length / 2),
        ("too small for a nail", "larger than what keeps it on the tuck flap"),
    )


def with_tucked_end(
    net: Net, end: Literal["top", "bottom"], host: str, sizes: TuckedEnd, *, at_seam: bool = False
) -> Net:
    """Close one end of a tube with walls front, left, right and back.

    The closing panel, named like the end, hinges on `host`, front or back; the dust flaps on the
    side walls. Pressed flat, all flaps stay open. `at_seam` says that the tuck goes behind the wall
    that the seam's tab stands on, which it then keeps clear of at both ends.
    """
    closing = rectangle(sizes.length, sizes.closing_depth)
    net = net.attach(end, closing, to=f"{host}.{end}", role=Role.LID, flat_deg=0.0)
    wide = sizes.flap_length - (2 * sizes.card.step if at_seam else 0.0)
    gap = sizes.slit_gap if sizes.slit else 0.0
    # Where there are slits, sides are left between them and the corners.
    beside = sizes.tuck - gap - (LEAST_CREASE / 2 if gap else 0.0)
    radius = min(TUCK_CORNER, beside, wide / 4)
    net = net.attach(
        f"{end} tuck",
        tuck_flap(wide, sizes.tuck, radius, slit=sizes.slit, gap=gap),
        to=f"{end}.top",
        role=Role.FLAP,
        flat_deg=0.0,
        layer=1,
    )
    # The shoulder stands away from the closing panel's hinge, where the tuck goes in.
    upright = (end == "top") == (host == "back")
    near, far = sizes.beside_dust
    # It bites through the whole thickness of the tuck, up to the wall.
    bite = near - sizes.card.inner_face if gap else 0.0
    for side in ("left", "right"):
        shoulder_left = (side == "right") == upright
        flap = dust_flap(
            sizes.dust_width,
            sizes.dust,
            shoulder=sizes.shoulder,
            slope=min(sizes.dust, sizes.dust_width) / 4,
            shoulder_at="left" if shoulder_left else "right",
            tongue=(sizes.lock.tongue(sizes.slit), bite) if bite else (0.0, 0.0),
        )
        net = net.attach(
            f"{side} {end} dust flap",
            flap,
            to=f"{side}.{end}",
            role=Role.FLAP,
            flat_deg=0.0,
            # Walked along the wall's edge, a flap's right end comes first.
            at=far if shoulder_left else near - bite,
            layer=1,
        )
    if gap:
        flaps = [f"{side} {end} dust flap" for side in ("left", "right")]
        net = net.catch(f"{end} tuck", dict.fromkeys(flaps, sizes.lock))
    return net
