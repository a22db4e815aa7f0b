"""Does every glue tab lie on what it is to be glued to, and is it large enough to hold?

Measured: where each glue tab comes to lie in the folded box. tab-misses: it stands at an angle to
the panel that it is glued to, turns the wrong face to it, lies beside it, or lies by more than the
overhang allows (0.1 mm) nearer or farther than face to face, one thickness of card from middle to
middle; in a box made from a drawing two thicknesses more, which the glue pulls flat, since layers
lie there where somebody drew them. tab-overhangs: how far its farthest point sticks out beside that
panel, its crease left out. tab-small: the depth of the strip that is really glued, straight away
from the tab's fold.

Why: a tab that does not lie flat on its panel cannot be glued at all. One that sticks out shows at
the edge and catches on lids and fingers. A strip that is too shallow peels open when the box is
filled, and there is hardly room to spread glue or lay a tape.

Cure: make the tab deeper (the option `tab` of most styles), or, where one sticks out, smaller on
that side. A tab that misses wants a fold angle or a panel between the two put right. If your glue
holds a shallower strip, set `tab_depth` under [limits] in the job.

Source: common practice, no source: 8 to 15 mm of depth are usual, 4 mm is the least that this
check lets pass.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.geometry.overlays import common, together, without
from cutlayers.job.limits import Limits
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import FACE_CHORD, Face, facing, height, seen_from
from cutlayers.net.folding import FoldedNet
from cutlayers.net.layers import FLAT_SINE
from cutlayers.net.model import Net
from cutlayers.net.panel import Role
from cutlayers.telling.findings import Finding, Severity, Subject, at_least, at_most, details
from cutlayers.telling.quantities import length

ROUNDING = 1e-6
"""mm; a measure this near to its limit has met it."""


def check_gluing(box: Assembly, limits: Limits, play: float = 0.0) -> tuple[Finding, ...]:
    """An error for a glue tab that misses its panel, warnings for one that hangs over or is
    too shallow; `play` is how much nearer or farther than face to face in mm one may lie that is
    pulled flat."""
    faces = {(face.net, face.name): face for face in box.faces}
    return tuple(
        finding
        for folded in box.boxes
        for panel in folded.net.panels
        if panel.role is Role.GLUE_TAB
        for finding in _tab(folded, faces[folded.net.name, panel.name], faces, limits, play)
    )


def _tab(
    folded: FoldedNet,
    tab: Face,
    faces: dict[tuple[str, str], Face],
    limits: Limits,
    play: float,
) -> Iterator[Finding]:
    target = faces.get((tab.net, tab.panel.lands_on or ""))
    if target is None:
        yield Finding(
            "tab-misses",
            Severity.ERROR,
            tab.subject,
            others=_wanted(tab),
            details=details(how="unknown" if tab.panel.lands_on else "nowhere"),
        )
        return
    way, off = facing(tab, target), abs(height(target, tab) - _glued_height(folded.net, tab))
    if way != 1 or off > limits.overhang + play:
        yield Finding(
            "tab-misses",
            Severity.ERROR,
            tab.subject,
            (length(off),) if way == 1 else (),
            at_most(length(limits.overhang + play)),
            (target.subject,),
            details(how={0: "askew", -1: "wrong-face", 1: "away"}[way]),
        )
        return
    landed = seen_from(target.pose, tab.pose, tab.shape)
    glued = common(landed, target.shape)
    if glued.area <= ROUNDING:
        yield Finding(
            "tab-misses",
            Severity.ERROR,
            tab.subject,
            (length(float(landed.distance(target.shape))),),
            others=(target.subject,),
            details=details(how="beside"),
        )
        return
    creases = _crease_zones(folded.net, tab)
    uncreased = without(tab.shape, creases) if creases else tab.shape
    over = _overhang(seen_from(target.pose, tab.pose, uncreased), target.shape)
    if over > limits.overhang:
        yield Finding(
            "tab-overhangs",
            Severity.WARNING,
            tab.subject,
            (length(over),),
            at_most(length(limits.overhang)),
            (target.subject,),
        )
    depth = _depth(folded, tab, seen_from(tab.pose, target.pose, target.shape))
    if depth < limits.tab_depth - ROUNDING:
        yield Finding(
            "tab-small",
            Severity.WARNING,
            tab.subject,
            (length(depth),),
            at_least(length(limits.tab_depth)),
        )


def _glued_height(net: Net, tab: Face) -> float:
    """How far in front of its target a glued tab lies, in mm, from middle to middle of card."""
    return -net.caliper if tab.panel.under else net.caliper


def _crease_zones(net: Net, tab: Face) -> BaseGeometry | None:
    """What a tab stands before the edge of its target at its folds, where the corner is blunt.

    Its crease lies where the middle of the wall that it hangs on crosses a plane one caliper t
    inside of the target's. Seen straight at the target, that is t·cot φ before the corner for a
    fold by φ below 90°: behind the wall that it hangs on, and never seen. At a right angle and
    beyond there is nothing to leave out, and None. Where two tabs bend about one crease, each
    inside of a panel of its own, t·tan(φ/2) may be more."""
    zones = []
    for hinge in net.hinges_of([tab.name]) if net.caliper else ():
        turn = math.radians(hinge.fold_deg)
        if not FLAT_SINE < abs(math.tan(turn)) < 1 / FLAT_SINE:
            continue
        reach = net.caliper / math.tan(abs(turn))
        if all(net.panel(name).lands_on for name in (hinge.first, hinge.second)):
            reach = max(reach, net.caliper * math.tan(abs(turn) / 2))
        if reach <= 0:
            continue
        edge = shapely.LineString([hinge.edge.start, hinge.edge.end])
        zones.append(edge.buffer(reach + FACE_CHORD, cap_style="square"))
    return together(zones) if zones else None


def _wanted(tab: Face) -> tuple[Subject, ...]:
    """The panel that a tab names, whether there is one of that name or not."""
    name = tab.panel.lands_on
    return () if name is None else (Subject(net=tab.net, panel=name),)


def _overhang(tab: BaseGeometry, target: BaseGeometry) -> float:
    """How far the farthest point of a tab lies beside its target."""
    beside = without(tab, target.buffer(FACE_CHORD, join_style="mitre"))
    if beside.is_empty:
        return 0.0
    return float(
        max(target.distance(shapely.Point(at)) for at in shapely.get_coordinates(beside).tolist())
    )


def _depth(folded: FoldedNet, tab: Face, target: BaseGeometry) -> float:
    """How far the glued part reaches away from the fold on which the tab stands."""
    glued = common(tab.shape, target)
    # A long tab may be parted by folds of its own; it stands on what is no tab itself.
    edge = min(
        folded.net.hinges_of([tab.name]),
        key=lambda hinge: sum(
            folded.net.panel(n).role is Role.GLUE_TAB for n in (hinge.first, hinge.second)
        ),
    ).edge
    (x0, y0), (ux, uy) = edge.start, edge.direction_at(0.5)
    reach = [abs(ux * (y - y0) - uy * (x - x0)) for x, y in shapely.get_coordinates(glued).tolist()]
    return float(max(reach) - min(reach))
