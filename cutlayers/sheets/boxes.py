"""Pieces placed by their bounding boxes: quick, and all that a sheet with one piece needs."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.sheets.laying import LaidPiece, PieceKind, Room, SheetLayout, pieces_area
from cutlayers.sheets.packing import FreeSpace
from cutlayers.sheets.plans import Demand, Repeated, SheetPlan

MOST_PIECES = 300
"""Beyond this, trying every sheet for every piece takes longer than laying true outlines."""


def laid_in(kinds: Sequence[PieceKind], kind: int, space: FreeSpace) -> LaidPiece | None:
    """Put one piece where its box fits the free space best, upright or in a quarter turn."""
    upright = [angle for angle in kinds[kind].angles_deg if angle % 180.0 == 0.0]
    quarter = [angle for angle in kinds[kind].angles_deg if angle % 180.0 == 90.0]
    turns = [turned for turned, found in ((False, upright), (True, quarter)) if found]
    if not turns:
        return None
    left, bottom, right, top = kinds[kind].boxes[(upright or quarter)[0]]
    wide, high = right - left, top - bottom
    if not upright:
        wide, high = high, wide
    spot = space.place(wide, high, turns)
    if spot is None:
        return None
    angle = quarter[0] if spot.turned else upright[0]
    box = kinds[kind].boxes[angle]
    return LaidPiece(kind, angle, spot.x - box[0], spot.y - box[1])


def box_plan(kinds: Sequence[PieceKind], demand: Demand, room: Room) -> SheetPlan | None:
    """A plan by bounding boxes, each piece on the first sheet that has room for its box.

    Largest area first or longest side first, whichever takes fewer sheets. None where a box does
    not fit an empty sheet, or there are too many pieces for this method.
    """
    if sum(demand.values()) > MOST_PIECES:
        return None
    plans = [_first_fit(kinds, demand, room, by_side) for by_side in (False, True)]
    found = [plan for plan in plans if plan is not None]
    return min(found, key=len) if found else None


def box_layout(kinds: Sequence[PieceKind], demand: Demand, room: Room) -> SheetLayout:
    """One sheet filled by bounding boxes; empty where no box fits.

    Largest area first or longest side first, whichever holds more area.
    """
    layouts = [_first_sheet(kinds, demand, room, by_side) for by_side in (False, True)]
    return max(layouts, key=lambda layout: pieces_area(kinds, layout))


def _first_sheet(
    kinds: Sequence[PieceKind], demand: Demand, room: Room, by_side: bool
) -> SheetLayout:
    space = empty_space(room)
    laid: list[LaidPiece] = []
    for kind in _by_size(kinds, demand, by_side):
        for _ in range(demand[kind]):
            piece = laid_in(kinds, kind, space)
            if piece is None:
                break
            laid.append(piece)
    return tuple(laid)


def _by_size(kinds: Sequence[PieceKind], demand: Demand, by_side: bool) -> list[int]:
    def size(kind: int) -> tuple[float, int]:
        left, bottom, right, top = next(iter(kinds[kind].boxes.values()))
        wide, high = right - left, top - bottom
        return -(max(wide, high) if by_side else wide * high), kind

    return sorted(demand, key=size)


def _first_fit(
    kinds: Sequence[PieceKind], demand: Demand, room: Room, by_side: bool
) -> SheetPlan | None:
    sheets: list[tuple[FreeSpace, list[LaidPiece]]] = []
    for kind in [each for each in _by_size(kinds, demand, by_side) for _ in range(demand[each])]:
        found = ((piece, on) for space, on in sheets if (piece := laid_in(kinds, kind, space)))
        piece, on = next(found, (None, []))
        if piece is None:
            space = empty_space(room)
            piece = laid_in(kinds, kind, space)
            if piece is None:
                return None
            sheets.append((space, on))
        on.append(piece)
    return tuple(Repeated(tuple(on), 1) for _, on in sheets)


def empty_space(room: Room) -> FreeSpace:
    """The free space of an empty sheet."""
    return FreeSpace(room.area, room.keep_outs, room.gap)
