"""A tray: a base, four walls, and a glue tab at each corner."""

from __future__ import annotations

from dataclasses import dataclass

from cutlayers.net import Net
from cutlayers.parts import options
from cutlayers.parts.trays import tray_net
from cutlayers.style import Card, Style, angle, size


@dataclass(frozen=True, slots=True)
class Tray:
    """Dimensions of a tray."""

    length: float = size("along the front wall", example=90)
    width: float = size("from front to back", example=60)
    height: float = size("of the walls", example=30)
    tab: float = options.tab()
    taper: float = angle(
        "how far the ends of a glue tab lean in, so that they do not show",
        default=options.TAB_TAPER_DEG,
        minimum=0,
        maximum=60,
    )


def build(dims: Tray, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root and the front wall lies below it.

    Raises StyleError where a tab is longer than the wall it lands on, or tapers to nothing.
    """
    length, width, height = _scores(dims, card)
    return (tray_net("tray", length, width, height, dims.tab, dims.taper),)


def volume(dims: Tray, card: Card) -> float:
    """Length × width × height."""
    length, width, height = _scores(dims, card)
    return length * width * height


def _scores(dims: Tray, card: Card) -> tuple[float, float, float]:
    return card.score(dims.length, 2), card.score(dims.width, 2), card.score(dims.height, 1)


STYLE = Style(
    name="tray",
    summary="four walls on a base, corners glued",
    dimensions=Tray,
    build=build,
    like="FEFCO-ESBO family 04 (folder-type boxes and trays)",
    volume=volume,
)
