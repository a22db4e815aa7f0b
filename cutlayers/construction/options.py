"""Options that several styles have, declared once so that they mean the same everywhere."""

from __future__ import annotations

from typing import Any

from cutlayers.construction.dimension import choice, count, option, proportion
from cutlayers.net.engagement import PLAY

TAB_TAPER_DEG = 15.0
"""Common practice: the ends of a glue tab lean in by 10–15°, so that they do not show."""

LEAST_TAB = 4.0
"""mm; a narrower glue tab has no hold."""

LEAST_TAB_END = 2.0
"""mm left of a tab's outer edge between its tapered ends; less is a spike that curls up."""

LEAST_FLAP = 4.0
"""mm; a smaller flap cannot be folded and held."""

THUMB = 14.0
"""mm; a finger tip wide."""

LEAST_THUMB = 2.0
"""mm; a smaller cut holds no finger nail."""

WALLS = ("front", "left", "right", "back")


def tab() -> Any:
    """Depth of glue tabs; common practice is 8 to 15 mm in card."""
    return option("how deep the glue tabs are", default=12, minimum=LEAST_TAB, maximum=60)


def fitting_tab(example: float = 12) -> Any:
    """Depth of glue tabs where slanting corners limit it; None is as deep as usual or as fits."""
    return proportion(
        "how deep the glue tabs are; 12 mm or what there is room for if not given",
        example=example,
        minimum=LEAST_TAB,
        maximum=60,
    )


def clearance() -> Any:
    """Room between two pieces that slide on each other, both sides together."""
    return option(
        "left between the two pieces, both sides together, once the card is taken up",
        default=1.0,
        maximum=10,
    )


def flap_clearance() -> Any:
    """Room for a flap in its opening, both sides together; common practice leaves half a
    millimetre."""
    return option(
        "left between flaps and the walls that they go between, both sides together, once the card "
        "is taken up",
        default=PLAY,
        maximum=3,
    )


def parts(what: str) -> Any:
    """In how many parts a strip round a box is cut."""
    return count(
        f"parts that the {what} is cut in; two are glued together first, for a sheet too small for "
        "one",
        default=1,
        minimum=1,
        maximum=2,
    )


def thumb(what: str = "diameter of the thumb cut", example: float = THUMB) -> Any:
    """Half-round cut where a finger gets hold of a flap or a drawer."""
    return proportion(
        f"{what}, 0 for none; 14 mm or what there is room for if not given",
        example=example,
        maximum=60,
    )


def tuck_depth() -> Any:
    """Depth of tuck flaps; None is the proportion of `ends.tucked_end`."""
    return proportion(
        "depth of the tuck flaps; 15 mm, or half the width or a third of the height where that "
        "is less, if not given",
        example=15,
        minimum=LEAST_FLAP,
        formerly="tuck",
    )


def dust_depth(example: float) -> Any:
    """Depth of dust flaps; None is the proportion of `ends.tucked_end`."""
    return proportion(
        "depth of the dust flaps; 0.6 of the width and at most half the length if not given",
        example=example,
        minimum=LEAST_FLAP,
        formerly="dust",
    )


def slit() -> Any:
    """Slits that the shoulders of the dust flaps catch in."""
    return option(
        "length of the slits that lock a tuck at both ends of its crease; 0 for none",
        default=0,
        maximum=30,
    )


def window(choices: tuple[str, ...] = WALLS) -> Any:
    """Which wall has a window."""
    return choice("the wall that a window is cut in", default="none", choices=("none", *choices))


def window_width(example: float) -> Any:
    """None is a proportion of the wall."""
    return proportion(
        "width of the window; 0.6 of the wall if not given", example=example, minimum=4
    )


def window_height(example: float) -> Any:
    """None is a proportion of the wall."""
    return proportion(
        "height of the window; 0.6 of the wall's free part if not given", example=example, minimum=4
    )


def window_radius() -> Any:
    """Corner radius of a window."""
    return proportion(
        "radius of the window's corners; 5 mm or what a small window allows if not given", example=5
    )


__all__ = [
    "LEAST_FLAP",
    "LEAST_TAB",
    "LEAST_TAB_END",
    "LEAST_THUMB",
    "TAB_TAPER_DEG",
    "THUMB",
    "WALLS",
    "clearance",
    "dust_depth",
    "fitting_tab",
    "flap_clearance",
    "parts",
    "slit",
    "tab",
    "thumb",
    "tuck_depth",
    "window",
    "window_height",
    "window_radius",
    "window_width",
]
