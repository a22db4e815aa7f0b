"""Can the creases round a point that is folded flat be mountains and valleys as they are?

Measured: at a point inside the card where every crease ends folded right over, how many of the
creases are mountains (folded away from you) and how many are valleys (towards you). The one has
to outnumber the other by exactly two; else this is an error.

Why: any other mix cannot lie flat. The card wrinkles round the point or tears there, whatever its
thickness.

Cure: fold one of these creases the other way, so that there are two more of the one kind than of
the other. In a style of the catalogue it does not happen; there it is a fault worth reporting.

Source: the theorem of Maekawa and Justin (T. C. Hull, "The combinatorics of flat folds: a
survey", 2002). That the sectors allow it at all (Kawasaki and Justin) shows as closure.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutlayers.geometry.transforms import Point
from cutlayers.net.chains import Nodes
from cutlayers.net.edges import COINCIDENT
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge
from cutlayers.net.stacking import FOLDED_OVER
from cutlayers.telling.findings import Finding, Severity, Subject
from cutlayers.telling.quantities import count


def check_flat(net: Net) -> tuple[Finding, ...]:
    """An error for each inner point that is folded flat with a mix of creases that cannot be."""
    return tuple(_impossible(net))


def _impossible(net: Net) -> Iterator[Finding]:
    for point, creases in _inner_points(net):
        if all(abs(abs(crease.fold_deg) - 180.0) <= FOLDED_OVER for crease in creases):
            mountains = sum(crease.fold_deg > 0 for crease in creases)
            valleys = len(creases) - mountains
            if abs(mountains - valleys) != 2:
                yield Finding(
                    "flat-point",
                    Severity.ERROR,
                    Subject(net=net.name, panel=creases[0].first, at=point),
                    (count(mountains), count(valleys)),
                )


def _inner_points(net: Net) -> Iterator[tuple[Point, list[Hinge]]]:
    """Points with as many creases as panels round them: no border ends there."""
    nodes = Nodes(COINCIDENT)
    meeting: dict[int, list[Hinge]] = {}
    for hinge in net.hinges:
        for end in (hinge.edge.start, hinge.edge.end):
            meeting.setdefault(nodes.find(end), []).append(hinge)
    for node, creases in meeting.items():
        panels = {name for crease in creases for name in (crease.first, crease.second)}
        if len(panels) == len(creases) > 2:
            yield nodes.points[node], creases
