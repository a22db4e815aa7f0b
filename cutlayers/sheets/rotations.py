"""How a piece may be turned on the sheet: the maker's choice, and the grain of the card.

Fibres run along one side of a sheet. A fold along the grain is crisp and stays closed, a fold
across it springs back and may crack; walls of a tube bow unless the grain runs round it (common
practice in the card trade). So a piece may ask that its *main folds* run along or across the grain:
those of their directions that has the greatest length in all.

Angles are degrees from the net as its style draws it, positive to the left.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import assert_never

from cutlayers.job.order import GrainWay, Rotation
from cutlayers.job.stock import Stock
from cutlayers.net import Hinge, Net
from cutlayers.net.main_folds import main_folds
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.refusals import Refusal
from cutlayers.telling.written import shown

FREE_STEP_DEG = 30
"""Turns tried by the quick method where any angle is allowed; time grows in proportion to their
number. The search heuristic turns freely."""

SAME_LENGTH = 0.01
"""Share by which two directions' folds may differ and still both be the main ones."""

SAME_DIRECTION_DEG = 0.01


def main_fold_directions(net: Net) -> tuple[float, ...]:
    """Directions of most of the main folds, 0 ≤ angle < 180 degrees from the net's x axis.

    More than one where folds of several directions are equally long together; none for a net
    without folds.
    """
    lengths: dict[float, float] = {}
    for hinge in main_folds(net):
        angle = _direction(hinge)
        near = next((known for known in lengths if _apart(known, angle) < SAME_DIRECTION_DEG), None)
        key = angle if near is None else near
        lengths[key] = lengths.get(key, 0.0) + hinge.edge.chord
    longest = max(lengths.values(), default=0.0)
    return tuple(
        sorted(angle for angle, sum_ in lengths.items() if sum_ >= longest * (1 - SAME_LENGTH))
    )


def _direction(hinge: Hinge) -> float:
    (x0, y0), (x1, y1) = hinge.edge.start, hinge.edge.end
    angle = math.degrees(math.atan2(y1 - y0, x1 - x0)) % 180.0
    return 0.0 if _apart(angle, 0.0) < SAME_DIRECTION_DEG else angle


def _apart(one: float, other: float) -> float:
    return abs(math.remainder(one - other, 180.0))


def turns(rotation: Rotation) -> tuple[float, ...]:
    """The angles to try; where any angle is allowed, every FREE_STEP_DEG."""
    match rotation:
        case "none":
            return (0.0,)
        case "half":
            return (0.0, 180.0)
        case "quarter":
            return (0.0, 90.0, 180.0, 270.0)
        case "free":
            return tuple(float(angle) for angle in range(0, 360, FREE_STEP_DEG))
    assert_never(rotation)


def allowed_turns(
    net: Net, rotation: Rotation, way: GrainWay, stock: Stock, bed_turned: bool
) -> tuple[float, ...]:
    """The angles a piece may have on a sheet of `stock`, which lies turned on the bed or not.

    Where the grain decides, the main folds take the one direction it asks for, either way round;
    `rotation` "none" and "half" still hold. Raises PlacementError where nothing is left, and where
    the stock's grain is unknown.
    """
    if way == "any":
        return turns(rotation)
    along_height = {"height": True, "width": False, None: None}[stock.grain_side]
    if along_height is None:
        raise PlacementError(
            Refusal(
                ("stock", stock.name, "grain"),
                f"is unknown, but the folds of {net.name} are to run {way} the grain",
                "value",
                found="unknown",
                allowed=("long", "short"),
            )
        )
    grain_deg = 90.0 if along_height != bed_turned else 0.0
    goal = grain_deg if way == "along" else grain_deg + 90.0
    angles = sorted(
        {
            round((goal - direction + half) % 360.0, 9)
            for direction in main_fold_directions(net)
            for half in (0.0, 180.0)
        }
    )
    if not angles:
        return turns(rotation)
    kept = _only(angles, (0.0, 180.0) if rotation == "half" else (0.0,))
    if rotation not in ("none", "half"):
        return tuple(angles)
    if not kept:
        raise PlacementError(
            Refusal(
                ("piece", net.name, "rotation"),
                f"is {shown(rotation)}, but the main folds would have to turn to run {way} the "
                f"grain of stock {shown(stock.name)}",
                "value",
                found=rotation,
                allowed=("quarter",),
            )
        )
    return kept


def _only(angles: Sequence[float], wanted: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(angle for angle in angles if angle in wanted)
