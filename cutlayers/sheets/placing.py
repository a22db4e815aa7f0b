"""Pieces onto sheets: as few sheets as a simple method finds."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cutlayers.errors import PlacementError
from cutlayers.machine import Bed, Machine
from cutlayers.paths import Bounds
from cutlayers.sheets.model import Piece, Placed, RegisterMark, Sheet
from cutlayers.sheets.packing import FreeSpace, Spot
from cutlayers.sheets.register import register_marks
from cutlayers.stock import Stock
from cutlayers.transforms import Transform

DEFAULT_GAP = 4.0
"""mm between pieces: room for a blade's overcut and for card that stays in one piece."""


def place_pieces(
    pieces: Sequence[Piece],
    machine: Machine,
    gap: float = DEFAULT_GAP,
    progress: Callable[[int], None] = lambda _: None,
) -> tuple[Sheet, ...]:
    """Put every piece on a sheet of its stock, largest first, on the first sheet that has room.

    `progress` is told 1 after each piece. Sheets come stock by stock in the order in which the
    stocks first appear. Raises PlacementError for a sheet that the bed cannot take and for a
    piece that no empty sheet can hold, saying by how much.
    """
    sheets: list[Sheet] = []
    for stock in dict.fromkeys(piece.stock for piece in pieces):
        width, height = sheet_on_bed(stock, machine.bed)
        marks = register_marks(width, height, machine.register)
        area = _reach(width, height, machine.bed)
        bins: list[tuple[FreeSpace, list[Placed]]] = []
        mine = [piece for piece in pieces if piece.stock == stock]
        for piece in sorted(mine, key=_longest_side_first):
            placed = _into_first(bins, piece) or _into_new(bins, piece, area, marks, gap)
            if placed is None:
                raise PlacementError(_too_large(piece, area, marks))
            progress(1)
        for _, placed_pieces in bins:
            sheets.append(
                Sheet(stock, len(sheets) + 1, width, height, tuple(placed_pieces), marks)
            )
    return tuple(sheets)


def sheet_on_bed(stock: Stock, bed: Bed) -> tuple[float, float]:
    """Width and height of a sheet as it lies on the bed, turned if only that fits.

    Raises PlacementError when it fits neither way, with the size it must be trimmed to.
    """
    width, height = stock.sheet
    for wide, high in ((width, height), (height, width)):
        if wide <= bed.width and high <= bed.height:
            return wide, high
    raise PlacementError(
        f"stock {stock.name!r}: a sheet of {width:.1f} × {height:.1f} mm does not fit the bed of "
        f"{bed.width:.1f} × {bed.height:.1f} mm; trim it and give the new size as `sheet`"
    )


def _reach(width: float, height: float, bed: Bed) -> Bounds:
    return bed.margin, bed.margin, width - bed.margin, height - bed.margin


def _size(piece: Piece) -> tuple[float, float]:
    left, bottom, right, top = piece.bounds
    return right - left, top - bottom


def _longest_side_first(piece: Piece) -> tuple[float, float]:
    width, height = _size(piece)
    return -max(width, height), -width * height


def _into_first(bins: list[tuple[FreeSpace, list[Placed]]], piece: Piece) -> Placed | None:
    for space, content in bins:
        spot = space.place(*_size(piece))
        if spot:
            content.append(_placed(piece, spot))
            return content[-1]
    return None


def _into_new(
    bins: list[tuple[FreeSpace, list[Placed]]],
    piece: Piece,
    area: Bounds,
    marks: Sequence[RegisterMark],
    gap: float,
) -> Placed | None:
    space = FreeSpace(area, [mark.keep_out for mark in marks], gap)
    spot = space.place(*_size(piece))
    if spot is None:
        return None
    bins.append((space, [_placed(piece, spot)]))
    return bins[-1][1][-1]


def _placed(piece: Piece, spot: Spot) -> Placed:
    left, bottom, right, top = piece.bounds
    if spot.turned:
        # A quarter turn to the left carries the upper left corner to the lower left.
        turned = Transform.rotation(90.0)
        x, y = turned.apply((left, top))
        return Placed(piece, Transform.translation(spot.x - x, spot.y - y) @ turned)
    return Placed(piece, Transform.translation(spot.x - left, spot.y - bottom))


def _too_large(piece: Piece, area: Bounds, marks: Sequence[RegisterMark]) -> str:
    width, height = _size(piece)
    wide, high = area[2] - area[0], area[3] - area[1]
    lead = (
        f"{piece.name} is {width:.1f} × {height:.1f} mm; a sheet of {piece.stock.name!r} has "
        f"{wide:.1f} × {high:.1f} mm within the machine's reach"
    )
    over = min(
        (max(0.0, w - wide) + max(0.0, h - high), max(0.0, w - wide), max(0.0, h - high))
        for w, h in ((width, height), (height, width))
    )
    if over[0] > 0:
        ways = [f"{size:.1f} mm too {word}" for size, word in zip(over[1:], ("wide", "high"), strict=True) if size > 0]
        return f"{lead}, so it is {' and '.join(ways)} even in its better turn; use a larger sheet or a smaller box"
    if marks:
        return f"{lead}, but the register marks are in the way; use a larger sheet, or smaller marks or marks nearer to the edge in the profile"
    return f"{lead}; use a larger sheet or a smaller box"
