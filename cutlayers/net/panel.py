"""Panels and the hinges between them: flat values that a net is made of.

Terms: a *panel* is one face of the folded box or a flap; a *hinge* is the edge that two panels
share and fold along. A fold angle is in degrees: 0 flat, positive a mountain (the panels turn away
from the viewer, as the walls of a box do), negative a valley, ±180 folded right over.
"""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Fold, Operation
from cutlayers.geometry.transforms import Point
from cutlayers.net.edges import shared_edge
from cutlayers.net.engagement import Held
from cutlayers.net.features import Feature
from cutlayers.telling.errors import NetError


class Role(StrEnum):
    """What a panel is for."""

    BASE = "base"
    WALL = "wall"
    LID = "lid"
    ROOF = "roof"
    RIDGE = "ridge"
    GUSSET = "gusset"
    FLAP = "flap"
    """A tuck, dust or closing flap: it is not glued."""
    GLUE_TAB = "glue tab"
    LINING = "lining"
    """A second layer inside another panel: a pocket, a shoulder, the inner half of a wall."""


SHOWN = (Role.WALL, Role.LID, Role.ROOF)
"""What a viewer of the closed box sees and artwork goes on."""


@frozen
class Panel:
    """One panel in its place on the flat net.

    `outline` is closed and counter-clockwise; `edges` names its edges in order. A glue tab
    names the panel it `lands_on`, its outside on that panel's inside (`under` is True) or its
    inside on that panel's outside. `layer` counts the calipers that it lies inside of where the
    box has its wall. A tongue names the panel that it `engages`: whose slit, slot
    or recess it goes into. A panel whose slits go over tongues that lie there already `catches`
    those. Both say what tongue and slit were made from.
    """

    name: str
    role: Role
    outline: Path
    edges: tuple[str, ...]
    features: tuple[Feature, ...] = ()
    lands_on: str | None = None
    under: bool = True
    layer: int = 0
    engages: Held | None = None
    catches: tuple[Held, ...] = ()

    def __post_init__(self) -> None:
        if not self.outline.closed or self.outline.area <= 0:
            raise NetError(f"panel {self.name!r} needs a closed counter-clockwise outline")
        if len(self.edges) != len(self.outline.bulges):
            raise NetError(f"panel {self.name!r} needs a name for each of its edges")
        if len(set(self.edges)) != len(self.edges):
            raise NetError(f"panel {self.name!r} has two edges of one name")

    def edge(self, name: str) -> Segment:
        """The edge of that name. Raises NetError with the names there are."""
        if name not in self.edges:
            raise NetError(
                f"panel {self.name!r} has no edge {name!r}; it has {', '.join(self.edges)}"
            )
        return self.outline.segment(self.edges.index(name))


@frozen
class Hinge:
    """Two panels folding along `edge`, which runs with `first` on its left.

    `flat_deg` is the angle once the glued box is pressed flat, 0 or ±180; None where the box
    does not go flat or the hinge keeps its angle. `strip` is how wide the card is, in mm, that
    stands between two panels folded right over on each other; `edge` is its middle on the flat,
    or leaves the first panel a `share` of it in mm where that is given.
    They lie `eased` mm farther apart than it is wide; once the strip is a panel of its own, as the
    second of a hinge, that is how far it moves away from the first.
    """

    first: str
    second: str
    edge: Segment
    fold_deg: float
    operation: Operation = Operation.SCORE
    flat_deg: float | None = None
    strip: float = 0.0
    eased: float = 0.0
    share: float | None = None

    @property
    def fold(self) -> Fold:
        """Mountain or valley, as the finished box has it; a hinge that lies open there but
        folds on the way flat goes by that, and one that never folds is worked like a mountain."""
        return Fold.VALLEY if (self.fold_deg or self.flat_deg or 0.0) < 0 else Fold.MOUNTAIN

    def along(self, panel: Panel) -> Hinge:
        """The hinge cut to the edges of one of its panels. Raises NetError where none is left."""
        if self.edge.bulge:
            return self
        edge = self.edge if self.first == panel.name else self.edge.reversed()
        for segment in panel.outline.segments:
            shared = None if segment.bulge else shared_edge(segment, edge.reversed())
            if shared is not None:
                return replace(self, edge=shared if edge is self.edge else shared.reversed())
        raise NetError(f"the hinge between {self.first!r} and {self.second!r} has no edge left")


@frozen
class Stand:
    """How the folded net stands: panel `front` faces the viewer, its flat direction `up` points
    up, and the lowest point is `lift` mm above the table. Where the front leans, `on` names the
    panel that lies on the table with its outside down instead; `up` is not looked at then.

    Then it is turned by `turn_deg`, left as seen from above, and the middle of its extent comes
    to stand `at` mm to the right of and behind the middle of the table.
    """

    front: str
    up: Point = (0.0, 1.0)
    lift: float = 0.0
    at: Point = (0.0, 0.0)
    turn_deg: float = 0.0
    on: str | None = None
