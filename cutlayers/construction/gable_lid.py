"""A lid of four walls whose gusseted roof closes in a ridge.

Geometry, for a lid `width` deep (score to score) and a roof slope s: the roofs lean in by
width/2 each, so the ridge stands H = √(s² − width²/4) above the walls and s > width/2 must hold.
The gusset closes only if its apex lies at s above the wall, in the middle; it folds to width/2
inward, so the two apices collide unless length ≥ width. Roof and gusset lean alike, at
acos(width/2s) from level. With c = width/2s the outside normals are (0, −√(1 − c²), c) for the
roof and (√(1 − c²), 0, c) for the gusset; the side triangle lies turned over under the roof, so
the angle it makes with the gusset is acos(−c²).

In card of caliper t four layers lie in the ridge, and a fifth beside the seam, so the middles of
its two strips stand 4t apart and a roof leans in by width/2 − 2t only. The lid is drawn as a sheet
whose roofs are as much longer as keeps that lean, and `net/meeting_creases.py` moves its creases
to where the layers meet; then the roof has its slope.

Panels that lie a layer apart and bend about one crease, as roof and side triangle into ridge and
strip, slide along each other by 2t·tan(φ/2); held together at their ends by a crease folded right
over they cannot, at any caliper: the normals before and after the bend and what the two creases can
give stand at right angles to each other. Thin card is crushed by as much. So gusset and strips are
cut apart, inside of the ridge where nobody sees it, and a gap is left there for the gusset's top.
"""

from __future__ import annotations

import math
from functools import lru_cache

from cutlayers.construction.options import TAB_TAPER_DEG
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role
from cutlayers.net.meeting_creases import in_card
from cutlayers.net.parts import cut_apart, joined
from cutlayers.net.shapes import polygon, rectangle, taper_run

FRONT = ("front", "front roof", "front ridge")
"""The panels that the second part is glued on."""

KEPT = 16
"""Lids last asked for that are kept: boxes of one height after another have the same one."""


@frozen
class _Seam:
    """A seam: the side wall that its tabs hang on, and what the names of these begin with."""

    wall: str
    tabs: str


@frozen
class GableLid:
    """Panel sizes of the lid, score to score."""

    length: float
    width: float
    wall: float
    roof: float
    ridge: float
    tab: float
    step: float = 0.0
    """How far two layers lie apart."""
    parts: int = 1
    """1, or 2: with a seam at the right end of the front too. Then the front is a layer farther
    from the back than the lid is wide."""
    eased: float = 0.0
    """By how much two layers folded right over lie farther apart than their strip is wide."""

    @property
    def seams(self) -> dict[str, _Seam]:
        """The seams, by the long wall that a tab is glued behind at its right end."""
        back, front = _Seam("left", ""), _Seam("right", "front ")
        return {"back": back, "front": front} if self.parts == 2 else {"back": back}

    @property
    def sheet_roof(self) -> float:
        """The slope of a sheet's roof that leans as that of the card."""
        return self.roof * self.width / (self.width - (5 - self.parts) * self.step)

    @property
    def drop(self) -> float:
        """How far the ridge's strips stand above its fold."""
        return self.sheet_roof - self.roof

    @property
    def strip_height(self) -> float:
        """Of the half strips; also how much of the ridge its tab can be glued to."""
        return self.ridge - self.drop

    @property
    def tab_in_by(self) -> float:
        """How much shorter the slanting ends of the seam's tab make it, a layer farther in."""
        return taper_run(self.step, TAB_TAPER_DEG)

    @property
    def lowest_fold(self) -> float:
        """How far below the roof's a gusset's fold lies at most: so that a side triangle which it
        carries lies a layer inside of the roof, cot(φ/2) layers for a lean by φ from upright; on
        the left tan(φ/2) more, for the tab."""
        return 2 * self.step / self.sine

    @property
    def sine(self) -> float:
        """Of the lean of roof and gusset from upright."""
        return self.width / (2 * self.sheet_roof)

    @property
    def gusset_top(self) -> float:
        """How far up the roof's slope the gussets reach: so far that those of both ends do not meet
        inside, where each leans in from a fold two layers over the sine of that below the roof's;
        and two layers below its end, above which none of the ridge's folds comes to lie."""
        return min(self.roof - 2 * self.step, (self.length / 2 - 3 * self.step) / self.sine)

    @property
    def beyond(self) -> float:
        """How far the ridge reaches beyond the roof at both ends, so that the strips of both ends
        do not meet: of a square lid, which is a layer wider than long for its seam."""
        return max(0.0, (self.width + self.step / 2 - self.length) / 4) if self.step else 0.0

    @property
    def wall_fold_deg(self) -> float:
        """From upright wall to leaning roof: 90° less the lean acos(width/2s)."""
        return 90.0 - math.degrees(math.acos(self.sine))

    @property
    def gusset_fold_deg(self) -> float:
        """From the gusset's centre to a side triangle, a valley."""
        return -math.degrees(math.acos(-(self.sine**2)))


@lru_cache(KEPT)
def gable_lid(lid: GableLid) -> Net:
    """The lid's net, closed but for its seams: a tab on the left wall holds that at the back, and
    in two parts one on the right wall that at the front."""
    lean = lid.wall_fold_deg
    net = Net.start("lid", "front", rectangle(lid.length, lid.wall), Role.WALL)
    for wall, wide, to, own in (
        ("left", lid.width, "front.left", "right"),
        ("right", lid.width, "front.right", "left"),
        ("back", lid.length, "right.right", "left"),
    ):
        net = net.attach(wall, rectangle(wide, lid.wall), to=to, own=own, role=Role.WALL)
    high, seams = lid.strip_height, lid.seams
    for side in ("front", "back"):
        roof, ridge = f"{side} roof", f"{side} ridge"
        # Not at the one seam, where the tab's end is folded over.
        ends_there = side in seams and len(seams) == 1
        net = net.attach(
            roof,
            rectangle(lid.length, lid.sheet_roof),
            to=f"{side}.top",
            role=Role.ROOF,
            fold_deg=lean,
        ).attach(
            ridge,
            rectangle(lid.length + lid.beyond * (1 if ends_there else 2), high),
            to=f"{roof}.top",
            at=0.0 if ends_there else -lid.beyond,
            role=Role.RIDGE,
            fold_deg=-lean,
        )
    if lid.parts == 2:
        net = cut_apart(net, "front", "right")
    net = _with_gussets(net, lid)
    for side, seam in seams.items():
        net = _with_seam_tab(net, lid, side, seam)
    if lid.parts == 2:
        net = joined(net, *(panel.name for panel in net.panels if panel.lands_on in FRONT))
    for side, right, left in (("front", "right", "left"), ("back", "left", "right")):
        beside = f"{seams[side].tabs}roof tab" if side in seams else f"{side} roof"
        net = net.close(f"{side} roof.left", f"{left} {side} side.outer", fold_deg=180)
        net = net.close(f"{beside}.right", f"{right} {side} side.outer", fold_deg=180)
    net = _with_strips(net, lid)
    if not lid.step:
        for side in ("left back", "left front", "right front", "right back"):
            net = net.close(f"{side} side.top", f"{side} strip.bottom", fold_deg=lean)
        return net
    # What the lid measures: its length and width, its wall in front, and so its roof.
    keep = {("front", "left"), ("front", "right"), ("right", "back"), ("front", "front roof")}
    if "front" in seams:
        # The second part is as the first.
        keep |= {("right", "front wall tab"), ("back", "back roof")}
    return in_card(
        net,
        lid.step,
        keep=keep,
        # Without a seam no tab lies between the strips on the right; that of the roof moves the
        # gusset's side.
        apart={} if "front" in seams else {("right front strip", "right back strip"): 2},
        loose=[
            (f"{far} roof", f"{seams[side].wall} {far} side")
            for side, far in (("back", "front"), ("front", "back"))
            if side in seams
        ],
        eased=lid.eased,
    )


def _with_gussets(net: Net, lid: GableLid) -> Net:
    """The gussets' centres and the two triangles beside each, which end at the roof's slope."""
    half, top = lid.width / 2, lid.gusset_top
    tip = half * top / lid.sheet_roof
    low, high = ((0.0, 0.0), (lid.width, 0.0)), ((lid.width - tip, top), (tip, top))
    if lid.step:
        centre = polygon(*low, *high, edges=("bottom", "right", "top", "left"))
    else:
        centre = polygon(*low, (half, top), edges=("bottom", "right", "left"))
    left = polygon((0, 0), (tip, top), (0, top), edges=("crease", "top", "outer"))
    right = polygon((0, 0), (0, top), (-tip, top), edges=("outer", "top", "crease"))
    for wall, at_left, at_right in (("left", "back", "front"), ("right", "front", "back")):
        net = net.attach(
            f"{wall} gusset", centre, to=f"{wall}.top", role=Role.GUSSET, fold_deg=lid.wall_fold_deg
        )
        for end, neighbour, shape in (("left", at_left, left), ("right", at_right, right)):
            net = net.attach(
                f"{wall} {neighbour} side",
                shape,
                to=f"{wall} gusset.{end}",
                own="crease",
                role=Role.GUSSET,
                fold_deg=lid.gusset_fold_deg,
            )
    return net


def _with_strips(net: Net, lid: GableLid) -> Net:
    """The half strips that fold between the ridges, on these and on the tab."""
    strip = rectangle(lid.width / 2 - lid.beyond, lid.strip_height)
    for side, left, right in (("front", "left", "right"), ("back", "right", "left")):
        # On a tab from the fold up; the tab's edge is a little shorter.
        seam = lid.seams.get(side)
        to, at = (
            (f"{side} ridge.right", None) if seam is None else (f"{seam.tabs}ridge tab.inner", 0.0)
        )
        for name, on, own, start in (
            (f"{left} {side}", f"{side} ridge.left", "right", None),
            (f"{right} {side}", to, "left", at),
        ):
            net = net.attach(
                f"{name} strip", strip, to=on, own=own, at=start, role=Role.RIDGE, fold_deg=180
            )
    for one, other in (("left back", "left front"), ("right front", "right back")):
        net = net.close(f"{one} strip.right", f"{other} strip.left", fold_deg=-180)
    return net


def _with_seam_tab(net: Net, lid: GableLid, side: str, seam: _Seam) -> Net:
    """The tab of a seam, which goes behind a long wall, its roof and its ridge.

    It stands on the gusset's side of the seam: there it lands on plain panels, while on the
    other side it would bridge the gusset's crease.
    """
    # A fold right over takes up to half a layer of it, or a whole one where both seams do.
    tab = lid.tab + lid.parts * lid.step / 2
    lean, run = lid.wall_fold_deg, taper_run(tab, TAB_TAPER_DEG)
    ridge, end = lid.strip_height, lid.beyond
    names = ("bottom", "inner", "top", "outer")
    low = polygon((-tab, run), (0, 0), (0, lid.wall), (-tab, lid.wall), edges=names)
    high = polygon((-tab, 0), (end, 0), (end, ridge), (-tab, ridge - run), edges=names)
    net = net.attach(
        f"{seam.tabs}wall tab",
        low,
        to=f"{seam.wall}.left",
        own="inner",
        at=0.0,
        role=Role.GLUE_TAB,
        lands_on=side,
    )
    net = net.attach(
        f"{seam.tabs}roof tab",
        rectangle(tab, lid.sheet_roof),
        to=f"{seam.tabs}wall tab.top",
        role=Role.GLUE_TAB,
        fold_deg=lean,
        lands_on=f"{side} roof",
    )
    return net.attach(
        f"{seam.tabs}ridge tab",
        high,
        to=f"{seam.tabs}roof tab.top",
        at=-end,
        role=Role.GLUE_TAB,
        fold_deg=-lean,
        lands_on=f"{side} ridge",
    )
