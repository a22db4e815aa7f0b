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
    """Put every piece on a sheet of its stock, on the first that has room.

    Largest area first or longest side first, whichever takes fewer sheets.

    `progress` is told how many more pieces lie. Sheets come stock by stock, in the order in which
    the stocks first appear. Raises PlacementError for a sheet that the bed cannot take and for a
    piece that no empty sheet can hold, saying by how much.
    """
    sheets: list[Sheet] = []
    for stock in dict.fromkeys(piece.stock for piece in pieces):
        mine = [piece for piece in pieces if piece.stock == stock]
        width, height = sheet_on_bed(stock, machine.bed)
        marks = register_marks(width, height, machine.register)
        area = _reach(width, height, machine.bed)
        fillings = [
            _fill(sorted(mine, key=order), area, marks, gap) for order in (_by_area, _by_side)
        ]
        for content in min(fillings, key=len):
            sheets.append(Sheet(stock, len(sheets) + 1, width, height, tuple(content), marks))
            progress(len(content))
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


def _by_area(piece: Piece) -> float:
    width, height = _size(piece)
    return -width * height


def _by_side(piece: Piece) -> float:
    return -max(_size(piece))


def _fill(
    pieces: Sequence[Piece], area: Bounds, marks: Sequence[RegisterMark], gap: float
) -> list[list[Placed]]:
    """Sheets of pieces, each piece on the first sheet that has room for it."""
    keep_out = [mark.keep_out for mark in marks]
    sheets: list[tuple[FreeSpace, list[Placed]]] = []
    for piece in pieces:
        size = _size(piece)
        found = ((spot, content) for space, content in sheets if (spot := space.place(*size)))
        spot, content = next(found, (None, []))
        if spot is None:
            space = FreeSpace(area, keep_out, gap)
            spot = space.place(*size)
            if spot is None:
                raise PlacementError(_too_large(piece, area, marks))
            sheets.append((space, content))
        content.append(_placed(piece, spot))
    return [content for _, content in sheets]


def _placed(piece: Piece, spot: Spot) -> Placed:
    left, bottom, _, top = piece.bounds
    if spot.turned:
        # A quarter turn to the left carries the upper left corner to the lower left.
        turned = Transform.rotation(90.0)
        x, y = turned.apply((left, top))
        return Placed(piece, Transform.translation(spot.x - x, spot.y - y) @ turned)
    return Placed(piece, Transform.translation(spot.x - left, spot.y - bottom))


def _too_large(piece: Piece, area: Bounds, marks: Sequence[RegisterMark]) -> str:
    """Why an empty sheet cannot hold a piece, in its better turn."""
    width, height = _size(piece)
    wide, high = area[2] - area[0], area[3] - area[1]
    lead = (
        f"{piece.name} is {width:.1f} × {height:.1f} mm; a sheet of {piece.stock.name!r} has "
        f"{wide:.1f} × {high:.1f} mm within the machine's reach"
    )
    turns = ((width, height), (height, width))
    over_wide, over_high = min(
        ((max(0.0, w - wide), max(0.0, h - high)) for w, h in turns), key=sum
    )
    excess = [
        f"{over:.1f} mm too {word}"
        for over, word in ((over_wide, "wide"), (over_high, "high"))
        if over > 0
    ]
    if excess:
        return (
            f"{lead}: {' and '.join(excess)}, even in its better turn; "
            "use a larger sheet or a smaller box"
        )
    if marks:
        return (
            f"{lead}, but the register marks are in the way; use a larger sheet, "
            "or smaller marks or marks nearer to the edge in the profile"
        )
    return f"{lead}; use a larger sheet or a smaller box"
