"""Folds along which panels bend, so that no rigid panels fold up as the box does.

A crease turns two flat panels only if it is straight: along a curve both of them bend, and of two
panels that hang together by creases on different lines one does.

Source: J. Duncan and J. Duncan, "Folded developables", Proceedings of the Royal Society A 383
(1982): the surfaces on both sides of a curved crease are bent ones.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from cutlayers.bringing.right_angles import lines_of
from cutlayers.geometry.segments import Segment
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge


def bends(net: Net) -> tuple[Hinge, ...]:
    """The folds of a net along which its panels bend."""
    beside: dict[frozenset[str], list[Hinge]] = defaultdict(list)
    for hinge in net.hinges:
        beside[frozenset((hinge.first, hinge.second))].append(hinge)
    bent = [pair for pair, hinges in beside.items() if _is_bent(hinges)]
    return tuple(h for h in net.hinges if frozenset((h.first, h.second)) in bent)


def left_flat(net: Net) -> Net:
    """A net whose panels bend, lying flat: panels with straight borders between them stand for it
    wherever it would be folded."""
    hinges = tuple(
        replace(hinge, edge=Segment(hinge.edge.start, hinge.edge.end)) for hinge in net.hinges
    )
    return replace(net, facets=replace(net, hinges=hinges))


def _is_bent(hinges: list[Hinge]) -> bool:
    if any(hinge.edge.bulge for hinge in hinges):
        return True
    return len(hinges) > 1 and len(lines_of(hinges)) > 1
