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
from cutlayers.style import Card, Style, above, at_least, at_most, below, choice, option, size

TAB_TAPER_DEG = 15.0
"""Common practice: glue tabs taper 10–15° at each end."""

LEAST_FLAP = 4.0
"""mm; a smaller flap or tab cannot be folded and held."""

LEAST_TAB_END = 2.0
"""mm left of the glue tab's outer edge between its tapered ends."""

LEAST_HEIGHT = 10.0
"""mm; the walls of a lower carton are too low to hold a tuck at both ends."""

LARGEST_TUCK = 15.0
"""mm; common practice makes tucks 12–20 mm deep."""

TUCK_CORNER = 8.0
"""mm; common practice rounds a tuck's corners with 5–10 mm."""

THUMB = 14.0
"""mm; a finger tip wide."""

LEAST_THUMB = 2.0
"""mm; a smaller cut holds no finger nail."""

THUMB_COVER = 1.0
"""mm of tuck flap that must lie behind a thumb cut, all round."""

LEAST_TEAR = 3.0
"""mm; a narrower strip tears off before it tears open."""

PLACE = 0.1
"""mm; the least play that counts as a place for the strip, so that it can be named to 0.1 mm."""

TEAR_BORDER = 5.0
"""mm between a tear line and the fold of a closure, so that the tear does not run into it."""


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
    tab: float = option("width of the glue tab", default=12, minimum=LEAST_FLAP, maximum=60)
    tuck: float | None = option(
        "depth of the tuck flaps; 15 mm, or half the width or a third of the height where that "
        "is less, if not given",
        default=None,
        minimum=LEAST_FLAP,
    )
    dust: float | None = option(
        "depth of the dust flaps; 0.6 of the width and at most half the length if not given",
        default=None,
        minimum=LEAST_FLAP,
    )
    thumb: float | None = option(
        "diameter of the thumb cuts, 0 for none; 14 mm, or half the length or the depth of the "
        "tucks where that is less, if not given",
        default=None,
        maximum=60,
    )
    tear: float = option(
        "width of a perforated tear strip round front and sides; 0 for none",
        default=0,
        maximum=60,
    )
    tear_at: float | None = option(
        "height of the strip's lower line above the bottom; two thirds of the height, or as much "
        "as the tuck leaves, if not given",
        default=None,
    )


@dataclass(frozen=True, slots=True)
class _Carton:
    """Sizes of a carton, score to score, its proportions settled."""

    length: float
    width: float
    height: float
    caliper: float
    tab: float
    tuck: float
    dust: float
    thumb: float
    tear: float
    straight: bool

    @property
    def flap_length(self) -> float:
        """Width of a tuck flap: common practice narrows it by one to two calipers, lest it jam."""
        return self.length - 2 * self.caliper

    @property
    def dust_width(self) -> float:
        """Width of a dust flap, narrowed alike."""
        return self.width - 2 * self.caliper

    @property
    def closing_depth(self) -> float:
        """Depth of a closing panel: its tuck goes behind a wall, one caliper farther in."""
        return self.width - self.caliper

    @property
    def tear_range(self) -> tuple[float, float]:
        """Lowest place of the strip's lower line, highest of its upper one, clear of the tucks."""
        low = max(TEAR_BORDER, self.tuck) if self.straight else TEAR_BORDER
        return low, self.height - max(TEAR_BORDER, self.tuck)


def build(dims: TuckCarton, card: Card) -> tuple[Net, ...]:
    """One net; the front wall is the root, the seam lies at the back on the left.

    Raises StyleError for flaps that meet, a glue tab longer than what it lands on, a thumb cut
    that would show past the tuck, or a tear strip outside the walls.
    """
    carton = _proportioned(dims, card)
    _refuse(dims, carton, card)
    net = _with_closures(_tube(carton), carton)
    if carton.tear:
        net = _with_tear_strip(net, carton, _tear_place(dims, carton))
    return (replace(net, stand=Stand("front")),)


def _proportioned(dims: TuckCarton, card: Card) -> _Carton:
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    height = card.panel("size.height", dims.height, 2)
    tuck = min(LARGEST_TUCK, width / 2, height / 3) if dims.tuck is None else dims.tuck
    return _Carton(
        length,
        width,
        height,
        card.caliper,
        tab=dims.tab,
        tuck=tuck,
        dust=min(0.6 * width, length / 2) if dims.dust is None else dims.dust,
        thumb=min(THUMB, length / 2, tuck) if dims.thumb is None else dims.thumb,
        tear=dims.tear,
        straight=dims.ends == "straight",
    )


def _tube(carton: _Carton) -> Net:
    """Four walls in a row and the glue tab."""
    length, width, height = carton.length, carton.width, carton.height
    top_thumb, bottom_thumb = "front", ("front" if carton.straight else "back")
    walls = {
        name: _wall(
            wide,
            height,
            carton.thumb,
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
    run = taper_run(carton.tab, TAB_TAPER_DEG)
    tab = polygon(
        (0, 0),
        (carton.tab, run),
        (carton.tab, height - run),
        (0, height),
        edges=("bottom", "outer", "top", "inner"),
    )
    return net.attach(
        "glue tab", tab, to="back.right", own="inner", role=Role.GLUE_TAB, lands_on="left"
    )


def _with_closures(net: Net, carton: _Carton) -> Net:
    """At each end a closing panel with its tuck, and two dust flaps."""
    tuck = tuck_flap(
        carton.flap_length, carton.tuck, min(TUCK_CORNER, carton.tuck, carton.flap_length / 4)
    )
    closing = rectangle(carton.length, carton.closing_depth)
    for end, host in (("top", "back"), ("bottom", "back" if carton.straight else "front")):
        net = net.attach(end, closing, to=f"{host}.{end}", role=Role.LID)
        net = net.attach(f"{end} tuck", tuck, to=f"{end}.top", role=Role.FLAP)
        for side in ("left", "right"):
            # The shoulder stands away from the closing panel, where the tuck goes in.
            upright = end == "top" or host == "front"
            flap = dust_flap(
                carton.dust_width,
                carton.dust,
                shoulder=carton.dust / 3,
                slope=min(carton.dust, carton.dust_width) / 4,
                shoulder_at="left" if (side == "right") == upright else "right",
            )
            net = net.attach(f"{side} {end} dust flap", flap, to=f"{side}.{end}", role=Role.FLAP)
    return net


def _refuse(dims: TuckCarton, carton: _Carton, card: Card) -> None:
    _refuse_sizes(dims, carton, card)
    if above(carton.tab, carton.width):
        raise StyleError(
            "options.tab",
            f"is {carton.tab:g} mm, wider than the wall that it lands on; {at_most(carton.width)}",
        )
    run = taper_run(carton.tab, TAB_TAPER_DEG)
    if above(2 * run, carton.height - LEAST_TAB_END):
        most = (carton.height - LEAST_TAB_END) / 2 / taper_run(1, TAB_TAPER_DEG)
        raise StyleError(
            "options.tab",
            f"is {carton.tab:g} mm, so its tapered ends leave too little of it on a wall "
            f"{carton.height:.4g} mm high; {at_most(most)}",
        )
    if above(carton.dust, carton.length / 2):
        raise StyleError(
            "options.dust",
            f"is {carton.dust:g} mm, so the two dust flaps meet; {at_most(carton.length / 2)}, "
            f"half the length",
        )
    deepest = carton.height / 2 if carton.straight else carton.height
    if above(carton.tuck, deepest):
        why = "so the two tucks meet behind the front" if carton.straight else "deeper than the box"
        raise StyleError("options.tuck", f"is {carton.tuck:g} mm, {why}; {at_most(deepest)}")
    if dims.thumb and below(dims.thumb, LEAST_THUMB):
        raise StyleError(
            "options.thumb",
            f"is {dims.thumb:g} mm, too small for a nail; {at_least(LEAST_THUMB)}, or 0 for none",
        )
    widest = min(2 * (carton.tuck - THUMB_COVER), carton.length / 2)
    if dims.thumb and above(carton.thumb, widest):
        raise StyleError(
            "options.thumb",
            f"is {carton.thumb:g} mm; {at_most(widest)} keeps it on the tuck flap, and 0 leaves "
            f"it out",
        )
    if carton.tear:
        _refuse_tear_strip(dims, carton, card)


def _refuse_sizes(dims: TuckCarton, carton: _Carton, card: Card) -> None:
    # Given dust flaps need twice the least flap between the side walls.
    least_length = max(LEAST_FLAP + 2 * card.caliper, 2 * LEAST_FLAP if dims.dust else 0.0)
    for field, given, score, least, what in (
        ("size.length", dims.length, carton.length, least_length, "short for its flaps"),
        ("size.width", dims.width, carton.width, LEAST_FLAP + 2 * card.caliper, "narrow"),
        ("size.height", dims.height, carton.height, LEAST_HEIGHT, "low for a tuck to hold"),
    ):
        if below(score, least):
            raise StyleError(
                field, f"is {given:g} mm, too {what}; {at_least(card.given(least, 2))}"
            )


def _refuse_tear_strip(dims: TuckCarton, carton: _Carton, card: Card) -> None:
    if below(carton.tear, LEAST_TEAR):
        raise StyleError(
            "options.tear",
            f"is {carton.tear:g} mm, too narrow to tear; {at_least(LEAST_TEAR)}, or 0 for none",
        )
    low, high = carton.tear_range
    if below(high - low, LEAST_TEAR + PLACE):
        least = carton.height + LEAST_TEAR + PLACE - (high - low)
        raise StyleError(
            "size.height",
            f"is {dims.height:g} mm, which leaves no room for a tear strip clear of the tucks; "
            f"{at_least(card.given(least, 2))}",
        )
    if above(carton.tear, high - low - PLACE):
        raise StyleError(
            "options.tear",
            f"is {carton.tear:g} mm; {at_most(high - low - PLACE)} is clear of the tucks",
        )
    place = _tear_place(dims, carton)
    if below(place, low) or above(place, high - carton.tear):
        raise StyleError(
            "options.tear_at",
            f"is {place:.4g} mm; a strip of {carton.tear:g} mm clear of the tucks lies "
            f"{at_least(low)} and {at_most(high - carton.tear)} above the bottom",
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


def _tear_place(dims: TuckCarton, carton: _Carton) -> float:
    _, high = carton.tear_range
    if dims.tear_at is not None:
        return dims.tear_at
    return min(carton.height * 2 / 3, high - carton.tear)


def _with_tear_strip(net: Net, carton: _Carton, low: float) -> Net:
    """Two perforated lines round the front and both sides; the back wall stays the hinge."""
    for wall in ("left", "front", "right"):
        left, bottom, right, _ = net.panel(wall).outline.bounds
        for name, y in (("lower tear line", low), ("upper tear line", low + carton.tear)):
            line = Path.line((left, bottom + y), (right, bottom + y))
            net = net.work(wall, Feature(Work.TEAR, line, name))
    return net


STYLE = Style(
    name="tuck-carton",
    summary="four walls with tucked ends and dust flaps",
    dimensions=TuckCarton,
    build=build,
)
