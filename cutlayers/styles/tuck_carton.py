"""A tuck carton: four walls round, with a tucked closure and dust flaps at both ends.

The tucks hinge on the same wall (straight tuck) or on opposite ones (reverse tuck). The seam
lies at the back on the left; the glued carton goes flat.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutlayers.errors import StyleError
from cutlayers.net import Feature, Net, Stand, Work
from cutlayers.net.shapes import rectangle
from cutlayers.parts import options
from cutlayers.parts.ends import (
    TuckedEnd,
    refuse_end,
    refuse_thumb,
    tucked_end,
    with_tucked_end,
)
from cutlayers.parts.openings import thumb_cut, with_window
from cutlayers.parts.tubes import refuse_seam, tube
from cutlayers.paths import Path
from cutlayers.style import Card, Style, choice, option, size


@dataclass(frozen=True, slots=True)
class TuckCarton:
    """Dimensions of a tuck carton."""

    length: float = size("along the front wall", example=60)
    width: float = size("from front to back", example=30)
    height: float = size("from closure to closure", example=90)
    ends: str = choice(
        "straight: both tucks hinge on the back wall; reverse: one on the back, one on the front",
        default="reverse",
        choices=("straight", "reverse"),
    )
    tab: float = options.tab()
    tuck: float | None = options.tuck()
    dust: float | None = options.dust()
    slit: float = options.slit()
    thumb: float = options.thumb("diameter of the thumb cuts; 0 for none")
    window: str = options.window()
    window_width: float | None = options.window_width()
    window_height: float | None = options.window_height()
    window_radius: float | None = options.window_radius()
    tear: float = option(
        "width of a perforated tear strip round front and sides; 0 for none",
        default=0,
        maximum=60,
    )
    tear_at: float | None = option(
        "height of the strip's lower line above the bottom; two thirds of the height if not given",
        default=None,
    )


def build(dims: TuckCarton, card: Card) -> tuple[Net, ...]:
    """One net; the front wall is the root, the seam lies at the back on the left.

    Raises StyleError for flaps that meet, a glue tab longer than what it lands on, a thumb cut
    that would show past the tuck, a window or a tear strip without room.
    """
    length, width, height = _scores(dims, card)
    end = tucked_end(length, width, card.caliper, dims.tuck, dims.dust, dims.slit)
    refuse_seam(dims.tab, width, height)
    refuse_end(end, height)
    if dims.ends == "straight" and 2 * end.tuck > height:
        raise StyleError(
            "options.tuck",
            f"is {end.tuck:g} mm, so the two tucks meet behind the front wall; at most "
            f'{height / 2:.1f} mm, or options.ends = "reverse"',
        )
    refuse_thumb(dims.thumb, end.tuck, length)
    bottom_host = "back" if dims.ends == "straight" else "front"
    bottom_thumb = "front" if dims.ends == "straight" else "back"
    walls = {
        name: rectangle(wide, height)
        for name, wide in (("left", width), ("front", length), ("right", width), ("back", length))
    }
    walls["front"] = thumb_cut(walls["front"], "top", dims.thumb)
    walls[bottom_thumb] = thumb_cut(walls[bottom_thumb], "bottom", dims.thumb)
    net = tube("carton", walls, "front", dims.tab)
    net = with_tucked_end(net, "top", "back", end)
    net = with_tucked_end(net, "bottom", bottom_host, end)
    # Tucks hide behind the walls that they do not hinge on.
    clear_bottom = end.tuck if dims.window == bottom_thumb else 0.0
    clear_top = end.tuck if dims.window == "front" else 0.0
    net = with_window(
        net,
        dims.window,
        dims.window_width,
        dims.window_height,
        dims.window_radius,
        (clear_bottom, clear_top),
    )
    if dims.tear:
        net = _with_tear_strip(net, dims, height, end)
    return (replace(net, stand=Stand("front")),)


def volume(dims: TuckCarton, card: Card) -> float:
    """Length × width × height."""
    length, width, height = _scores(dims, card)
    return length * width * height


def _scores(dims: TuckCarton, card: Card) -> tuple[float, float, float]:
    return card.score(dims.length, 2), card.score(dims.width, 2), card.score(dims.height, 2)


def _with_tear_strip(net: Net, dims: TuckCarton, height: float, end: TuckedEnd) -> Net:
    """Two perforated lines round the front and both sides; the back wall stays the hinge."""
    low = height * 2 / 3 if dims.tear_at is None else dims.tear_at
    least, most = dims.thumb / 2, height - max(end.tuck, dims.thumb / 2) - dims.tear
    if most < least:
        raise StyleError(
            "options.tear",
            f"is {dims.tear:g} mm; a carton {height:.1f} mm high has at most "
            f"{max(most + dims.tear - least, 0.0):.1f} mm free for a strip, 0 leaves it out",
        )
    if not least <= low <= most:
        raise StyleError(
            "options.tear_at",
            f"is {low:.4g} mm; a strip of {dims.tear:g} mm clear of the tucks lies between "
            f"{least:.1f} and {most:.1f} mm",
        )
    if dims.window in ("left", "front", "right"):
        raise StyleError(
            "options.window",
            f'is {dims.window!r}, which the tear strip crosses; use "back", "none" or no strip',
        )
    for wall in ("left", "front", "right"):
        left, bottom, right, _ = net.panel(wall).outline.bounds
        for name, y in (("lower tear line", low), ("upper tear line", low + dims.tear)):
            line = Path.line((left, bottom + y), (right, bottom + y))
            net = net.work(wall, Feature(Work.TEAR, line, name))
    return net


STYLE = Style(
    name="tuck-carton",
    summary="four walls with tucked ends and dust flaps",
    dimensions=TuckCarton,
    build=build,
    volume=volume,
)
