"""The tucked end of a carton: a closing panel with its tuck flap, and two dust flaps.

Common practice: a tuck 12–20 mm deep with corners rounded by 5–10 mm; dust flaps 0.5–0.75 of
their wall's width and at most half the opening's length, their shoulders beside the tuck's
crease; the tuck one to two calipers narrower than its panel; lock slits 4–10 mm long.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cutlayers.errors import StyleError
from cutlayers.net import Net, Role
from cutlayers.net.shapes import dust_flap, rectangle, tuck_flap

TUCK_CORNER = 8.0
"""mm; common practice rounds a tuck's corners with 5–10 mm."""

LEAST_CREASE = 10.0
"""mm of crease that lock slits must leave, or the tuck tears off."""


@dataclass(frozen=True, slots=True)
class TuckedEnd:
    """Sizes of an end in mm, score to score: the opening, how deep its flaps are, the lock slits
    at the tuck's crease, and by how much flaps are narrower than what they hang on."""

    length: float
    width: float
    tuck: float
    dust: float
    slit: float
    ease: float

    @property
    def shoulder(self) -> float:
        """How far the dust flaps run straight up beside the tuck; a slit catches there."""
        return max(self.dust / 3, min(self.slit, 0.8 * self.dust))


def tucked_end(
    length: float, width: float, caliper: float, tuck: float | None, dust: float | None, slit: float
) -> TuckedEnd:
    """An end with the proportions of the trade for what is not given."""
    return TuckedEnd(
        length,
        width,
        min(15.0, width / 2) if tuck is None else tuck,
        min(0.6 * width, length / 2) if dust is None else dust,
        slit,
        2 * caliper,
    )


def refuse_end(end: TuckedEnd, height: float) -> None:
    """Raise StyleError for flaps that meet, are deeper than the carton, or tear at their slits."""
    if end.dust > end.length / 2:
        raise StyleError(
            "options.dust",
            f"is {end.dust:g} mm, so the two dust flaps meet; at most {end.length / 2:.1f} mm, "
            f"half the length",
        )
    if end.tuck > height:
        raise StyleError(
            "options.tuck", f"is {end.tuck:g} mm, deeper than the carton; at most {height:.1f} mm"
        )
    if end.ease * 4 > min(end.length, end.width):
        raise StyleError(
            "size.width" if end.width < end.length else "size.length",
            f"leaves an opening of {end.length:.1f} × {end.width:.1f} mm, too small for card "
            f"{end.ease / 2:g} mm thick; at least {end.ease * 4:.1f} mm can be tucked",
        )
    most = min(0.8 * end.dust, (end.length - end.ease - LEAST_CREASE) / 2)
    if end.slit > max(most, 0.0):
        raise StyleError(
            "options.slit",
            f"is {end.slit:g} mm; at most {max(most, 0.0):.1f} mm stays on the shoulders of the "
            f"dust flaps and leaves {LEAST_CREASE:g} mm of crease",
        )


def refuse_thumb(thumb: float, tuck: float, length: float) -> None:
    """Raise StyleError for a thumb cut that would show past the tuck behind it."""
    if thumb / 2 >= tuck or thumb > length / 2:
        raise StyleError(
            "options.thumb",
            f"is {thumb:g} mm; less than {min(2 * tuck, length / 2):.1f} mm keeps it on the "
            f"tuck flap, 0 leaves it out",
        )


def with_tucked_end(net: Net, end: Literal["top", "bottom"], host: str, sizes: TuckedEnd) -> Net:
    """Close one end of a tube with walls front, left, right and back.

    The closing panel, named like the end, hinges on `host`, front or back; the dust flaps on the
    side walls. Pressed flat, all flaps stay open.
    """
    length, width, ease = sizes.length, sizes.width, sizes.ease
    net = net.attach(end, rectangle(length, width), to=f"{host}.{end}", role=Role.LID, flat_deg=0.0)
    wide = length - ease
    radius = min(TUCK_CORNER, sizes.tuck, wide / 2)
    net = net.attach(
        f"{end} tuck",
        tuck_flap(wide, sizes.tuck, radius, slit=sizes.slit),
        to=f"{end}.top",
        role=Role.FLAP,
        flat_deg=0.0,
    )
    for side in ("left", "right"):
        # The shoulder stands away from the closing panel's hinge, where the tuck goes in.
        upright = (end == "top") == (host == "back")
        flap = dust_flap(
            width - ease,
            sizes.dust,
            shoulder=sizes.shoulder,
            slope=min(sizes.dust, width) / 4,
            shoulder_at="left" if (side == "right") == upright else "right",
        )
        net = net.attach(
            f"{side} {end} dust flap", flap, to=f"{side}.{end}", role=Role.FLAP, flat_deg=0.0
        )
    return net
