"""All nets of one box folded up together, and what can be measured on them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from cutlayers.net.faces import Face, faces
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.model import Net
from cutlayers.net.stacking import Stack, stacks


@dataclass(frozen=True, slots=True)
class Assembly:
    """Folded nets, their faces in order, and the same faces sorted into planes."""

    boxes: tuple[FoldedNet, ...]
    faces: tuple[Face, ...]
    stacks: tuple[Stack, ...]


def assemble(nets: Iterable[Net]) -> Assembly:
    """Fold the nets of one box and put them together, each where its stand says.

    Raises NetError where a net cannot be folded.
    """
    boxes = tuple(fold(net) for net in nets)
    found = faces(boxes)
    return Assembly(boxes, found, stacks(boxes, found))
