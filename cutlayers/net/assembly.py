"""All nets of one box folded up together, and what can be measured on them."""

from __future__ import annotations

from collections.abc import Iterable

from cutlayers.frozen import frozen
from cutlayers.net.faces import Face, faces
from cutlayers.net.folding import FoldedNet
from cutlayers.net.stacking import Stack, stacks


@frozen
class Assembly:
    """Folded nets, their faces in order, and the same faces sorted into planes."""

    boxes: tuple[FoldedNet, ...]
    faces: tuple[Face, ...]
    stacks: tuple[Stack, ...]


def together(folded: Iterable[FoldedNet]) -> Assembly:
    """Put folded nets together, each where it stands."""
    boxes = tuple(folded)
    found = faces(boxes)
    return Assembly(boxes, found, stacks(boxes, found))
