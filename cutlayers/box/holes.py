"""Punched holes of the folded box: those that lie on each other are one."""

from __future__ import annotations

from cutlayers.box.box import ROOMY_LID
from cutlayers.box.layers import layers_at
from cutlayers.construction.card import Card
from cutlayers.frozen import frozen
from cutlayers.net import Work
from cutlayers.net.assembly import Assembly
from cutlayers.net.stacking import key


@frozen
class Hole:
    """One hole through a pile of panels, as it lies in the folded box."""

    net: str
    panels: tuple[str, ...]
    diameter: float
    closure: bool


def holes(box: Assembly, card: Card) -> tuple[Hole, ...]:
    """Punched holes of the folded box, those that lie on each other counted as one."""
    found: list[Hole] = []
    done: set[tuple[str, str]] = set()
    reach = card.thickest(folded.net.name for folded in box.boxes) + ROOMY_LID
    for face in box.faces:
        for feature in face.panel.features:
            if feature.work is not Work.PUNCH or (key(face)[1], feature.name) in done:
                continue
            x0, y0, x1, y1 = feature.path.bounds
            pile = layers_at(box, face.net, face.name, ((x0 + x1) / 2, (y0 + y1) / 2), reach)
            names = tuple(layer.name for layer in pile)
            done |= {(name, feature.name) for name in names}
            found.append(Hole(face.net, names, x1 - x0, feature.closes))
    return tuple(found)
