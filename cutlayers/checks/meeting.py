"""Do flaps or glue tabs that come to lie in one plane overlap there?

Measured: the width of the overlap of two flaps or glue tabs of one net that come to lie in the same
plane, though neither is glued to the other nor hinged to it. A width up to 0.05 mm is a touch. A
net that is folded quite flat, such as an envelope, is made of layers and is left out.

Why: one of the two has to go under the other, so it no longer folds to its angle: the bottom bulges
by a thickness of card, a lid will not shut square, or a tab is not glued where it should be.

Cure: make the two together shorter by the overlap, so that they lie beside each other; or make the
box larger in that direction.

Source: common practice, no source.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import shapely

from cutlayers.geometry.overlays import common
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import TOUCHING, Face, facing, height, seen_from
from cutlayers.net.panel import Hinge, Role
from cutlayers.telling.findings import Finding, Severity
from cutlayers.telling.quantities import length

LOOSE = (Role.FLAP, Role.GLUE_TAB)

OVERLAP = 0.05
"""mm; an overlap narrower than this on a side is a touch."""


def check_meeting(box: Assembly) -> tuple[Finding, ...]:
    """An error for each pair of flaps or glue tabs of a net that lie on each other unasked.

    Two that are hinged together, and a tab on the flap that it is glued to, belong there. A net
    that is folded quite flat, such as an envelope, is made of layers and is left out.
    """
    found = []
    for folded in box.boxes:
        if all(hinge.fold_deg in (0.0, 180.0, -180.0) for hinge in folded.net.hinges):
            continue
        loose = [
            face for face in box.faces if face.net == folded.net.name and face.panel.role in LOOSE
        ]
        for one, other in itertools.combinations(loose, 2):
            over = _overlap(one, other)
            if over > OVERLAP and not _belong(one, other, folded.net.hinges):
                found.append(
                    Finding(
                        "flaps-meet",
                        Severity.ERROR,
                        one.subject,
                        (length(over),),
                        others=(other.subject,),
                    )
                )
    return tuple(found)


def _overlap(one: Face, other: Face) -> float:
    """The shorter side of what two faces in one plane share."""
    if not facing(one, other) or abs(height(one, other)) > TOUCHING:
        return 0.0
    shared = common(one.shape, seen_from(one.pose, other.pose, other.shape))
    if shared.area <= 0:
        return 0.0
    left, bottom, right, top = shapely.oriented_envelope(shared).bounds
    narrow = min(right - left, top - bottom)
    # A slanted sliver has a wide box round it; its area over its length is its true width.
    return float(min(narrow, 2 * shared.area / max(right - left, top - bottom)))


def _belong(one: Face, other: Face, hinges: Sequence[Hinge]) -> bool:
    pair = {one.name, other.name}
    return (
        one.panel.lands_on == other.name
        or other.panel.lands_on == one.name
        or any({hinge.first, hinge.second} == pair for hinge in hinges)
    )
