"""A gable carton: a base tray and a lid whose gusseted roof closes in a ridge.

The lid is a strip of four walls. Above the front and back walls stand roof panels with ridge
strips; above the side walls stand gussets, each a centre triangle between two side triangles
that fold flat under the roofs, with half ridge strips that fold flat between the ridge strips.

Geometry, for a lid `width` deep (score to score) and a roof slope s: the roofs lean in by
width/2 each, so the ridge stands H = √(s² − width²/4) above the walls and s > width/2 must hold.
The gusset closes only if its apex lies at s above the wall, in the middle; it folds to width/2
inward, so the two apices collide unless length ≥ width. Roof and gusset lean alike, at
acos(width/2s) from level. With c = width/2s the outside normals are (0, −√(1 − c²), c) for the
roof and (√(1 − c²), 0, c) for the gusset; the side triangle lies turned over under the roof, so
the angle it makes with the gusset is acos(−c²).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from cutlayers.errors import StyleError
from cutlayers.net import Net, Role, Stand
from cutlayers.net.shapes import Shape, polygon, rectangle, taper_run
from cutlayers.parts import options
from cutlayers.parts.openings import PUNCH_BORDER, punched
from cutlayers.parts.options import TAB_TAPER_DEG
from cutlayers.parts.trays import tray_net
from cutlayers.style import Card, Style, option, size


@dataclass(frozen=True, slots=True)
class GableCarton:
    """Dimensions of a gable carton; the size is that of the base."""

    length: float = size("along the front", example=60)
    width: float = size("from front to back; at most the length", example=60)
    height: float = size("of the base", example=62)
    wall: float = option("height of the lid's walls", default=25, minimum=5)
    roof: float = option(
        "slope length of the roof, more than half the lid's width; "
        "three quarters of the lid's width if not given",
        default=None,
        minimum=3,
    )
    ridge: float = option("height of the ridge strips", default=16, minimum=3)
    tab: float = options.tab()
    clearance: float = option(
        "left between lid and base, both sides together, once two thicknesses are taken up",
        default=1.0,
        maximum=10,
    )
    punch: float = option(
        "diameter of the closure holes through the ridge; 0 for none", default=0, maximum=40
    )
    punch_inset: float = option(
        "from the end of the ridge to the middle of a closure hole", default=20
    )


@dataclass(frozen=True, slots=True)
class _Lid:
    """Panel sizes of the lid, score to score."""

    length: float
    width: float
    wall: float
    roof: float
    ridge: float
    tab: float

    @property
    def wall_fold_deg(self) -> float:
        """From upright wall to leaning roof: 90° less the lean acos(width/2s)."""
        return 90.0 - math.degrees(math.acos(self.width / (2 * self.roof)))

    @property
    def gusset_fold_deg(self) -> float:
        """From the gusset's centre to a side triangle, a valley."""
        return -math.degrees(math.acos(-((self.width / (2 * self.roof)) ** 2)))


def build(dims: GableCarton, card: Card) -> tuple[Net, ...]:
    """Two nets: the base tray, and the lid that stands on it.

    Raises StyleError for a roof too short to close, gussets that collide, lid walls taller than
    the base, and closure holes that meet the seam tab or the edge of a gusset strip.
    """
    length, width = card.score(dims.length, 2), card.score(dims.width, 2)
    height = card.score(dims.height, 1)
    grow = 2 * card.caliper + dims.clearance
    lid = _Lid(
        length + grow,
        width + grow,
        dims.wall,
        0.75 * (width + grow) if dims.roof is None else dims.roof,
        dims.ridge,
        dims.tab,
    )
    _refuse(dims, lid, height)
    stand = Stand("front", lift=height + card.caliper / 2 - dims.wall)
    base = tray_net("base", length, width, height, dims.tab, TAB_TAPER_DEG)
    return base, replace(_with_holes(_lid_net(lid), dims, lid), stand=stand)


def _refuse(dims: GableCarton, lid: _Lid, base_height: float) -> None:
    if lid.length < lid.width:
        raise StyleError(
            "size.length",
            f"is {dims.length:g} mm, shorter than the width, so the two gussets collide; "
            f"at least {dims.width:g} mm closes",
        )
    if lid.roof <= lid.width / 2:
        raise StyleError(
            "options.roof",
            f"is {lid.roof:g} mm, so the roofs cannot reach each other; "
            f"it must be more than {lid.width / 2:.1f} mm, half the lid's width",
        )
    if dims.wall > base_height:
        raise StyleError(
            "options.wall",
            f"is {dims.wall:g} mm, taller than the base, so the lid would stand on the table; "
            f"at most {base_height:.1f} mm",
        )
    if lid.tab > lid.width / 2:
        raise StyleError(
            "options.tab",
            f"is {lid.tab:g} mm, wider than half the wall that it lands on; "
            f"at most {lid.width / 2:.1f} mm",
        )


def _lid_net(lid: _Lid) -> Net:
    lean, half = lid.wall_fold_deg, lid.width / 2
    net = Net.start("lid", "front", rectangle(lid.length, lid.wall), Role.WALL)
    for wall, wide, to, own in (
        ("left", lid.width, "front.left", "right"),
        ("right", lid.width, "front.right", "left"),
        ("back", lid.length, "right.right", "left"),
    ):
        net = net.attach(wall, rectangle(wide, lid.wall), to=to, own=own, role=Role.WALL)
    for side in ("front", "back"):
        roof, ridge = f"{side} roof", f"{side} ridge"
        net = net.attach(
            roof, rectangle(lid.length, lid.roof), to=f"{side}.top", role=Role.ROOF, fold_deg=lean
        ).attach(
            ridge,
            rectangle(lid.length, lid.ridge),
            to=f"{roof}.top",
            role=Role.RIDGE,
            fold_deg=-lean,
        )
    centre = polygon((0, 0), (lid.width, 0), (half, lid.roof), edges=("bottom", "right", "left"))
    for wall, at_left, at_right in (("left", "back", "front"), ("right", "front", "back")):
        net = net.attach(
            f"{wall} gusset", centre, to=f"{wall}.top", role=Role.GUSSET, fold_deg=lean
        )
        for end, neighbour, corner in (("left", at_left, 0.0), ("right", at_right, lid.width)):
            net = _attach_gusset_side(net, lid, wall, end, neighbour, corner)
        net = net.close(
            f"{wall} {at_left} strip.right", f"{wall} {at_right} strip.left", fold_deg=-180
        )
    for wall, neighbour, edge in (
        ("left", "front", "left"),
        ("right", "front", "right"),
        ("right", "back", "left"),
    ):
        own = "left" if wall == "right" and neighbour == "front" else "right"
        net = net.close(f"{neighbour} roof.{edge}", f"{wall} {neighbour} side.outer", fold_deg=180)
        net = net.close(
            f"{neighbour} ridge.{edge}", f"{wall} {neighbour} strip.{own}", fold_deg=180
        )
    return _with_seam(net, lid)


def _attach_gusset_side(
    net: Net, lid: _Lid, wall: str, end: str, neighbour: str, corner: float
) -> Net:
    """A side triangle beside the gusset's centre, and the half ridge strip above it."""
    apex, top = (lid.width / 2, lid.roof), (corner, lid.roof)
    if end == "left":
        side = polygon((corner, 0), apex, top, edges=("crease", "top", "outer"))
    else:
        side = polygon((corner, 0), top, apex, edges=("outer", "top", "crease"))
    name = f"{wall} {neighbour} side"
    return net.attach(
        name,
        side,
        to=f"{wall} gusset.{end}",
        own="crease",
        role=Role.GUSSET,
        fold_deg=lid.gusset_fold_deg,
    ).attach(
        f"{wall} {neighbour} strip",
        rectangle(lid.width / 2, lid.ridge),
        to=f"{name}.top",
        role=Role.RIDGE,
        fold_deg=lid.wall_fold_deg,
    )


def _with_seam(net: Net, lid: _Lid) -> Net:
    """The seam tab on the left wall, which goes behind the back wall, its roof and its ridge.

    It stands on the gusset's side of the seam: there it lands on plain panels, while on the
    other side it would bridge the gusset's crease.
    """
    lean, tab, run = lid.wall_fold_deg, lid.tab, taper_run(lid.tab, TAB_TAPER_DEG)
    if run >= min(lid.wall, lid.ridge):
        raise StyleError(
            "options.tab",
            f"is {tab:g} mm, so its tapered ends run in by {run:.1f} mm, more than a wall or "
            f"ridge of {min(lid.wall, lid.ridge):g} mm; make the tab narrower",
        )
    names = ("bottom", "inner", "top", "outer")
    low: Shape = polygon((-tab, run), (0, 0), (0, lid.wall), (-tab, lid.wall), edges=names)
    high = polygon((-tab, 0), (0, 0), (0, lid.ridge), (-tab, lid.ridge - run), edges=names)
    net = net.attach(
        "wall tab", low, to="left.left", own="inner", role=Role.GLUE_TAB, lands_on="back"
    )
    net = net.attach(
        "roof tab",
        rectangle(tab, lid.roof),
        to="wall tab.top",
        role=Role.GLUE_TAB,
        fold_deg=lean,
        lands_on="back roof",
    )
    net = net.attach(
        "ridge tab",
        high,
        to="roof tab.top",
        role=Role.GLUE_TAB,
        fold_deg=-lean,
        lands_on="back ridge",
    )
    net = net.close("left back side.outer", "roof tab.right", fold_deg=180)
    return net.close("left back strip.left", "ridge tab.inner", fold_deg=180)


def _with_holes(net: Net, dims: GableCarton, lid: _Lid) -> Net:
    """Closure holes near both ends of the ridge, through every layer that lies there."""
    radius, inset, half = dims.punch / 2, dims.punch_inset, lid.width / 2
    if not radius:
        return net
    if dims.punch + 2 * PUNCH_BORDER > lid.ridge:
        raise StyleError(
            "options.punch",
            f"is {dims.punch:g} mm; a ridge of {lid.ridge:g} mm holds at most "
            f"{lid.ridge - 2 * PUNCH_BORDER:g} mm with {PUNCH_BORDER:g} mm of card around it",
        )
    nearest = lid.tab + radius + PUNCH_BORDER
    in_strips = inset + radius + PUNCH_BORDER <= half and inset >= nearest
    between = half + radius + PUNCH_BORDER <= inset <= lid.length / 2
    if not in_strips and not between:
        raise StyleError("options.punch_inset", _allowed_insets(dims, lid, nearest))
    ridges = (("front ridge", True), ("back ridge", False))
    for ridge, starts_left in ridges:
        for name, from_left in (("left", starts_left), ("right", not starts_left)):
            x = inset if from_left else lid.length - inset
            net = punched(net, ridge, f"{name} closure hole", (x, lid.ridge / 2), dims.punch)
    if in_strips:
        for wall, first, second in (("left", "back", "front"), ("right", "front", "back")):
            for neighbour, x in ((first, inset), (second, half - inset)):
                strip = f"{wall} {neighbour} strip"
                net = punched(net, strip, f"{wall} closure hole", (x, lid.ridge / 2), dims.punch)
    return net


def _allowed_insets(dims: GableCarton, lid: _Lid, nearest: float) -> str:
    reach = dims.punch / 2 + PUNCH_BORDER
    ranges = []
    if nearest <= lid.width / 2 - reach:
        ranges.append(f"{nearest:.1f} to {lid.width / 2 - reach:.1f} mm (four layers)")
    if lid.width / 2 + reach <= lid.length / 2:
        ranges.append(f"{lid.width / 2 + reach:.1f} to {lid.length / 2:.1f} mm (two layers)")
    allowed = " or ".join(ranges) or "none for this size; make the hole or the tab smaller"
    return (
        f"is {dims.punch_inset:g} mm, where the hole would meet the seam tab or the edge of a "
        f"gusset strip; allowed is {allowed}"
    )


def volume(dims: GableCarton, card: Card) -> float:
    """Of the base: length × width × height."""
    length, width = card.score(dims.length, 2), card.score(dims.width, 2)
    return length * width * card.score(dims.height, 1)


STYLE = Style(
    name="gable-carton",
    summary="a tray with a gusseted gable lid that closes in a ridge",
    dimensions=GableCarton,
    build=build,
    volume=volume,
)
