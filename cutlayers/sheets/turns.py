"""Each way in which a piece can lie on a sheet, known before any sheet is laid."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from cutlayers.geometry.transforms import Point, Transform
from cutlayers.job.order import SheetRules
from cutlayers.job.stock import Stock
from cutlayers.profile.machine import Machine
from cutlayers.sheets.base import empty_base, within_border
from cutlayers.sheets.kinds import kind_of
from cutlayers.sheets.model import Piece, Placed

Lying = tuple[Placed, Point | None]
"""A piece as it lies, and the direction of the fibres of its sheet where that is known."""


def each_turned(pieces: Sequence[Piece], machine: Machine, rules: SheetRules) -> list[Lying]:
    """Each piece by itself, in every turn that it may have on its stock, about its own origin.

    Raises PlacementError as `place_pieces` does, but where an order that fills a sheet finds no
    room there for a whole box.
    """
    found: list[Lying] = []
    for stock in dict.fromkeys(piece.stock for piece in pieces):
        # Copies are one and the same.
        mine = list({id(piece): piece for piece in pieces if piece.stock == stock}.values())
        found += within_border(mine, machine, rules, partial(_turned, stock, mine, machine))
    return found


def _turned(
    stock: Stock, pieces: Sequence[Piece], machine: Machine, rules: SheetRules
) -> list[Lying]:
    base = empty_base(stock, machine, rules)
    grain = stock.grain_on(turned=base.turned)
    return [
        (Placed(piece, Transform.rotation(angle)), grain)
        for piece in pieces
        for angle in kind_of(piece, base).angles_deg
    ]
