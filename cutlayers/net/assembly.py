"""All nets of one box folded up together, and what can be measured on them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from itertools import chain

from shapely.geometry.base import BaseGeometry

from cutlayers.frozen import frozen
from cutlayers.net.faces import Face, faces, pierced
from cutlayers.net.folding import FoldedNet
from cutlayers.net.stacking import Key, Stack, key, stacks


@frozen(slots=False)
class Assembly:
    """Folded nets, their faces in order, and the same faces sorted into planes."""

    boxes: tuple[FoldedNet, ...]
    faces: tuple[Face, ...]
    stacks: tuple[Stack, ...]

    @cached_property
    def cards(self) -> Mapping[Key, BaseGeometry]:
        """What is left of each panel beside its punches, windows and relief holes, in its own
        coordinates."""
        shapes = (pierced(each.net.panels, each.holes) for each in self.boxes)
        return dict(zip(map(key, self.faces), chain.from_iterable(shapes), strict=True))


def together(folded: Iterable[FoldedNet]) -> Assembly:
    """Put folded nets together, each where it stands."""
    boxes = tuple(folded)
    found = faces(boxes)
    return Assembly(boxes, found, stacks(boxes, found))
