"""A coupon in the waste of a sheet: a square with a V and a hole, to be cut before all else."""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.profile.coupon import HOLE, SIDE
from cutlayers.telling.findings import Finding, Severity, Subject, at_least
from cutlayers.telling.quantities import length
from cutlayers.toolpaths.shared import is_outline

APART = 2.0
"""mm of card between the coupon and what lies beside it."""

WASTE_CHORD = 0.1
"""mm that a chord may stray from its arc where waste is looked for."""

VEE = ((7.2, 10.7), (9.2, 4.7), (11.2, 10.7))
"""A V of 37°, as sharp as tips of boxes are, that hangs by its open end."""


def coupon(at: Point) -> tuple[Stroke, ...]:
    """The lines of a coupon whose lower left corner is there."""
    shapes = (
        (Path.circle((3.7, 8.7), HOLE / 2).reversed(), Part.OPENING),
        (Path.polyline(VEE), Part.SLIT),
        (Path.rectangle(SIDE, SIDE), Part.OUTLINE),
    )
    move = Transform.translation(*at)
    return tuple(
        Stroke(Operation.CUT, path.transformed(move), part, "coupon") for path, part in shapes
    )


def coupon_box(at: Point) -> Bounds:
    """The square that a coupon takes of a sheet, with the card beside it."""
    x, y = at
    return x - APART, y - APART, x + SIDE + APART, y + SIDE + APART


def place_for_coupon(
    strokes: Sequence[Stroke], reach: Bounds, taken: Sequence[Bounds]
) -> Point | None:
    """Where the lower left corner of a coupon may lie, as near to the sheet's as can be; None where
    no waste is large enough. `strokes` are the sheet's, `taken` squares to keep out of."""
    import numpy as np
    import shapely

    from cutlayers.geometry.overlays import together
    from cutlayers.sheets.waste import Waste

    card = [
        shapely.Polygon(stroke.path.points(WASTE_CHORD)) for stroke in strokes if is_outline(stroke)
    ]
    waste = Waste(reach, together([*card, *(shapely.box(*box) for box in taken)]))
    spots = waste.spots(SIDE + 2 * APART, SIDE + 2 * APART)
    if not len(spots):
        return None
    x, y = spots[np.argmin(np.hypot(spots[:, 0], spots[:, 1]))]
    return float(x) + APART, float(y) + APART


def no_room(sheet: int) -> Finding:
    """A sheet has no waste for the coupon that is to be cut first.

    Measured: whether a square of the coupon's side, and as much card beside it as keeps it apart,
    lies anywhere on the sheet within reach, clear of pieces and register marks.

    Why: without a first cut you see only on the boxes whether blade, force and offset are right.

    Cure: cut the coupon of another sheet of the same card first, give the job a wider `border` or
    `gap` under [sheets], or a larger sheet.

    Source: none is needed.
    """
    side = math.ceil(SIDE + 2 * APART)
    return Finding(
        "no-room-for-coupon", Severity.NOTE, Subject(sheet=sheet), (), at_least(length(side))
    )
