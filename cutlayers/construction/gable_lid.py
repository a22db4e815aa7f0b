"""A lid of four walls whose gusseted roof closes in a ridge.

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

from cutlayers.construction.options import TAB_TAPER_DEG
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role
from cutlayers.net.shapes import Shape, polygon, rectangle, taper_run


@frozen
class GableLid:
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


def gable_lid(lid: GableLid) -> Net:
    """The lid's net, closed but for its seam, which a tab on the left wall holds."""
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
    net: Net, lid: GableLid, wall: str, end: str, neighbour: str, corner: float
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


def _with_seam(net: Net, lid: GableLid) -> Net:
    """The seam tab on the left wall, which goes behind the back wall, its roof and its ridge.

    It stands on the gusset's side of the seam: there it lands on plain panels, while on the
    other side it would bridge the gusset's crease.
    """
    lean, tab, run = lid.wall_fold_deg, lid.tab, taper_run(lid.tab, TAB_TAPER_DEG)
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
