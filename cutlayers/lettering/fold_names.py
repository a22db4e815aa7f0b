"""Which folds go towards you, written beside them where nobody sees it once the box is made.

Folds go away from you unless something is said: nearly all of a box do, and words on every flap
would only hide the few that matter.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation
from cutlayers.geometry.transforms import Transform
from cutlayers.lettering.single_stroke import letter, text_width
from cutlayers.net import Feature, Hinge, Net, Panel, Role, Work

HIDDEN = (Role.FLAP, Role.GLUE_TAB, Role.LINING)
"""Panels that lie inside once the box is closed."""

WORD = Fold.VALLEY.value

CAP = 2.0
"""mm; height of the capitals: small, and still read at arm's length."""

OFF = 1.2
"""mm between a fold and the feet of its name, more where creases are broader than in thin card."""

BELOW = CAP / 3 + 0.2
"""mm between the feet of a name and a crease; a y hangs a third of the capitals' height down."""

PANEL_CHORD = 0.05
"""mm; how far the chords of a curved edge may lie beside it."""

CLEAR = 0.5
"""mm between a name and the panel's edges."""


def with_fold_names(net: Net, caliper: float) -> Net:
    """The net, of card of that `caliper` in mm, with "valley" beside each valley of a hidden panel.

    A name stands on the hidden panel, its feet to the fold; one that the panel has no room for is
    left out, and so are those of curved folds.
    """
    for hinge in net.hinges:
        if hinge.fold is not Fold.VALLEY or hinge.operation is Operation.DRAW:
            continue
        for name, edge in ((hinge.second, hinge.edge.reversed()), (hinge.first, hinge.edge)):
            panel = net.panel(name)
            if panel.role in HIDDEN and not edge.bulge:
                net = net.work(name, *_name(panel, replace(hinge, edge=edge), caliper))
                break
    return net


def _name(panel: Panel, hinge: Hinge, caliper: float) -> tuple[Feature, ...]:
    """The strokes of a name; the hinge's edge has the panel on its left."""
    from cutlayers.geometry.overlays import polygons

    ux, uy = hinge.edge.direction_at(0.5)
    x, y = hinge.edge.point_at(0.5)
    off, clear = max(OFF, max(caliper, hinge.strip / 2) + BELOW), max(CLEAR, caliper)
    place = Transform.translation(x - off * uy, y + off * ux) @ Transform.rotation(
        math.degrees(math.atan2(uy, ux))
    )
    half = text_width(WORD, CAP) / 2 + clear
    frame = Path.rectangle(2 * half, CAP + 2 * clear, (-half, -clear)).transformed(place)
    outline, framed = polygons([panel.outline.points(PANEL_CHORD), frame.vertices])
    if not outline.contains(framed):
        return ()
    return tuple(Feature(Work.GUIDE, path.transformed(place), WORD) for path in _strokes())


@cache
def _strokes() -> tuple[Path, ...]:
    """The word, the middle of its feet at the origin."""
    return letter(WORD, CAP, anchor="middle")
