"""Which pieces are alike for placing, and in which turns an empty sheet holds them."""

from __future__ import annotations

import math
from collections.abc import Hashable

from cutlayers.geometry.segments import Bounds
from cutlayers.sheets.base import Base, to_tenths
from cutlayers.sheets.boxes import empty_space, laid_in
from cutlayers.sheets.laying import PieceKind, Regions
from cutlayers.sheets.model import Piece
from cutlayers.sheets.outlines import outline_of
from cutlayers.sheets.rotations import allowed_turns
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.refusals import Refusal, verbatim
from cutlayers.telling.written import shown

Size = tuple[float, float]
"""Width and height in mm."""


class TooLargeError(PlacementError):
    """A blank that an empty sheet cannot hold in any turn: the `size` of the `piece` in mm in its
    best one, and the `room` there is."""

    def __init__(self, refusal: Refusal, piece: Piece, size: Size, room: Size) -> None:
        super().__init__(refusal)
        self.piece, self.size, self.room = piece, size, room


def likeness(piece: Piece) -> Hashable:
    """Equal for pieces that are alike in all that matters for placing."""
    silhouette = tuple(panel.outline for panel in piece.net.panels)
    return silhouette, piece.rotation, piece.grain


def kind_of(piece: Piece, base: Base) -> PieceKind:
    """A piece's outline and turns. Raises PlacementError where an empty sheet cannot hold it."""
    angles = allowed_turns(piece.net, piece.rotation, piece.grain, base.stock, base.turned)
    any_turn = piece.rotation == "free" and piece.grain == "any"
    kind = PieceKind(outline_of(piece.net), angles, any_turn)
    if laid_in([kind], 0, empty_space(base.room)) is None:
        regions = Regions([kind], base.room)
        if all(regions.empty_sheet(0, angle).is_empty for angle in angles):
            raise _too_large(piece, kind, base)
    return kind


def _too_large(piece: Piece, kind: PieceKind, base: Base) -> TooLargeError:
    """Why an empty sheet cannot hold a piece, in its best turn."""
    left, bottom, right, top = piece.bounds
    area = base.room.area
    wide, high = area[2] - area[0], area[3] - area[1]
    size = (right - left, top - bottom)
    name, stock = verbatim(piece.name), verbatim(shown(piece.stock.name))
    lead = f"{name} is {{}} × {{}}; a sheet of {stock} has {{}} × {{}} within the machine's reach"
    best = min(kind.boxes.values(), key=lambda box: sum(_excess(box, wide, high)))
    over_wide, over_high = _excess(best, wide, high)
    excess = {word: over for word, over in (("wide", over_wide), ("high", over_high)) if over > 0}
    if excess:
        turn = ", even in its best turn" if len(kind.angles_deg) > 1 else ""
        over = " and ".join(f"{{}} too {word}" for word in excess)
        reason = f"{lead}: {over}{turn}"
        smaller = min(_smaller(box, wide, high) for box in kind.boxes.values())
        advice = f"use a larger sheet, or make the box {smaller} % smaller"
    else:
        reason = f"{lead}, but the register marks are in the way"
        advice = "use a larger sheet, or smaller marks or marks nearer to the edge in the profile"
    found = [round(each, 3) for each in size]
    lengths = to_tenths(*size, wide, high, *excess.values())
    refusal = Refusal(reason=reason, fault="value", found=found, advice=advice, lengths=lengths)
    return TooLargeError(refusal, piece, (best[2] - best[0], best[3] - best[1]), (wide, high))


def _smaller(box: Bounds, wide: float, high: float) -> int:
    """Whole per cent by which the sides of a blank must shrink to fit."""
    left, bottom, right, top = box
    return math.ceil(100 * (1 - min(wide / (right - left), high / (top - bottom))) - 1e-6)


def _excess(box: Bounds, wide: float, high: float) -> tuple[float, float]:
    left, bottom, right, top = box
    return max(0.0, right - left - wide), max(0.0, top - bottom - high)
