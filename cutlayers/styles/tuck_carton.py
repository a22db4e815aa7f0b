"""A tuck carton: four walls round, with a tucked closure and dust flaps at both ends."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutlayers.errors import StyleError
from cutlayers.net import Feature, Net, Role, Stand, Work
from cutlayers.net.shapes import (
    Shape,
    dust_flap,
    polygon,
    rectangle,
    taper_run,
    tuck_flap,
)
from cutlayers.paths import Path
from cutlayers.style import Card, Style, choice, option, refuse_filled, size

TAB_TAPER_DEG = 15.0
"""Common practice: glue tabs taper 10–15° at each end."""

TUCK_CORNER = 8.0
"""mm; common practice rounds a tuck's corners with 5–10 mm."""


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
    tab: float = option("width of the glue tab", default=12, minimum=4, maximum=60)
    tuck: float | None = option(
        "depth of the tuck flaps; half the width up to 15 mm if not given, less where two tucks "
        "share a low wall",
        default=None,
        minimum=4,
    )
    dust: float | None = option(
        "depth of the dust flaps; 0.6 of the width and at most half the length if not given",
        default=None,
        minimum=4,
    )
    thumb: float = option("diameter of the thumb cuts; 0 for none", default=14, maximum=60)
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
    that would show past the tuck, or a tear strip outside the walls.
    """
    length, width, height = (card.score(size, 2) for size in (dims.length, dims.width, dims.height))
    refuse_filled(card, {"length": length, "width": width, "height": height})
    # A tuck that is as wide as its opening jams; common practice narrows it one to two calipers.
    ease = 2 * card.caliper
    for name, wide in (("length", length), ("width", width)):
        if wide <= 2 * ease:
            raise StyleError(
                f"size.{name}",
                f"is too small for a tuck eased by {ease:g} mm, two calipers; "
                f"more than {2 * ease:g} mm from score to score is needed",
            )
    # Two straight tucks share the inside of one wall, two reverse ones have a wall each.
    tuck_room = height / 2 if dims.ends == "straight" else height
    tuck = min(15.0, width / 2, tuck_room) if dims.tuck is None else dims.tuck
    dust = min(0.6 * width, length / 2) if dims.dust is None else dims.dust
    _refuse(dims, length, width, height, tuck, dust)
    if tuck > tuck_room:
        raise StyleError(
            "options.tuck",
            f"is {tuck:g} mm, so the tucks meet behind the front; at most {tuck_room:.1f} mm"
            if dims.ends == "straight"
            else f"is {tuck:g} mm, deeper than the carton; at most {tuck_room:.1f} mm",
        )

    top_thumb, bottom_thumb = "front", ("front" if dims.ends == "straight" else "back")
    walls = {
        name: _wall(
            wide,
            height,
            dims.thumb,
            top=name == top_thumb,
            bottom=name == bottom_thumb,
        )
        for name, wide in (("front", length), ("left", width), ("right", width), ("back", length))
    }
    net = Net.start("carton", "front", walls["front"], Role.WALL)
    for wall, to, own in (
        ("left", "front.left", "right"),
        ("right", "front.right", "left"),
        ("back", "right.right", "left"),
    ):
        net = net.attach(wall, walls[wall], to=to, own=own, role=Role.WALL)
    # The tab stands on the back wall and goes behind the left one.
    run = taper_run(dims.tab, TAB_TAPER_DEG)
    tab = polygon(
        (0, 0),
        (dims.tab, run),
        (dims.tab, height - run),
        (0, height),
        edges=("bottom", "outer", "top", "inner"),
    )
    net = net.attach(
        "glue tab", tab, to="back.right", own="inner", role=Role.GLUE_TAB, lands_on="left"
    )
    bottom_host = "back" if dims.ends == "straight" else "front"
    for end, host in (("top", "back"), ("bottom", bottom_host)):
        net = net.attach(end, rectangle(length, width), to=f"{host}.{end}", role=Role.LID)
        radius = min(TUCK_CORNER, tuck, (length - ease) / 2)
        net = net.attach(
            f"{end} tuck", tuck_flap(length - ease, tuck, radius), to=f"{end}.top", role=Role.FLAP
        )
        for side in ("left", "right"):
            # The shoulder stands away from the closing panel, where the tuck goes in.
            upright = end == "top" or host == "front"
            flap = dust_flap(
                width - ease,
                dust,
                shoulder=dust / 3,
                slope=min(dust, width) / 4,
                shoulder_at="left" if (side == "right") == upright else "right",
            )
            net = net.attach(f"{side} {end} dust flap", flap, to=f"{side}.{end}", role=Role.FLAP)
    if dims.tear:
        net = _with_tear_strip(net, dims, height)
    return (replace(net, stand=Stand("front")),)


def _refuse(
    dims: TuckCarton, length: float, width: float, height: float, tuck: float, dust: float
) -> None:
    if dims.tab > width:
        raise StyleError(
            "options.tab",
            f"is {dims.tab:g} mm, wider than the wall that it lands on; at most {width:.1f} mm",
        )
    if 2 * taper_run(dims.tab, TAB_TAPER_DEG) >= height:
        raise StyleError(
            "size.height", f"is {dims.height:g} mm, too low for a glue tab of {dims.tab:g} mm"
        )
    if dust > length / 2:
        raise StyleError(
            "options.dust",
            f"is {dust:g} mm, so the two dust flaps meet; at most {length / 2:.1f} mm, "
            f"half the length",
        )
    if dims.thumb / 2 >= tuck or dims.thumb > length / 2:
        raise StyleError(
            "options.thumb",
            f"is {dims.thumb:g} mm; less than {min(2 * tuck, length / 2):.1f} mm keeps it on the "
            f"tuck flap, 0 leaves it out",
        )
    if dims.tear:
        low = _tear_height(dims, height)
        if low < dims.thumb / 2 or low + dims.tear > height - max(tuck, dims.thumb / 2):
            raise StyleError(
                "options.tear_at",
                f"is {low:.4g} mm; a strip of {dims.tear:g} mm clear of the tucks lies between "
                f"{dims.thumb / 2:g} and {height - max(tuck, dims.thumb / 2) - dims.tear:.1f} mm",
            )


def _wall(wide: float, height: float, thumb: float, *, top: bool, bottom: bool) -> Shape:
    """A wall with half-round thumb cuts in the ends where a tuck goes in."""
    middle, half = wide / 2, thumb / 2
    points = [(0.0, 0.0), (wide, 0.0), (wide, height), (0.0, height)]
    bulges = [0.0] * 4
    names = ["bottom", "right", "top", "left"]
    if thumb and top:
        points[3:3] = [(middle + half, height), (middle - half, height)]
        bulges[3:3] = [-1.0, 0.0]
        names[2:3] = ["top-right", "thumb cut", "top-left"]
    if thumb and bottom:
        points[1:1] = [(middle - half, 0.0), (middle + half, 0.0)]
        bulges[1:1] = [-1.0, 0.0]
        names[0:1] = ["bottom-left", "bottom thumb cut", "bottom-right"]
    return Shape(Path(tuple(points), tuple(bulges), closed=True), tuple(names))


def _tear_height(dims: TuckCarton, height: float) -> float:
    return height * 2 / 3 if dims.tear_at is None else dims.tear_at


def _with_tear_strip(net: Net, dims: TuckCarton, height: float) -> Net:
    """Two perforated lines round the front and both sides; the back wall stays the hinge."""
    low = _tear_height(dims, height)
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
)
