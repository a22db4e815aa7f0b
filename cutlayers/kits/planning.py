"""From the rows of a kit to sheets: which piece of which row lies where.

Pieces are taken in row order into a pool of limited size, and sheets are filled from the pool. So
memory does not grow with the number of rows, a row's pieces lie on sheets near each other, and a
layout that was found once serves all later sheets with the same kinds in the pool.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from itertools import islice

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.job.order import Job, SheetRules
from cutlayers.job.stock import Stock
from cutlayers.profile.machine import Machine
from cutlayers.sheets.base import Base, empty_base, print_border
from cutlayers.sheets.boxes import box_plan
from cutlayers.sheets.kinds import kind_of, likeness
from cutlayers.sheets.laying import LaidPiece, PieceKind, Regions, SheetLayout, pieces_area
from cutlayers.sheets.model import Piece
from cutlayers.sheets.nesting import quick_layout
from cutlayers.sheets.pieces import pieces_of
from cutlayers.sheets.strip_search import SearchFailedError
from cutlayers.sheets.thorough import Search, TimeUpError, fuller_layout
from cutlayers.telling.budget import Budget
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.refusals import in_unit

POOL = 150
"""Pieces from which a sheet is filled; several sheets' worth of small boxes."""


@frozen
class KitPiece:
    """A piece of a row by its number among all pieces of that row's job, and its kind."""

    row: int
    number: int
    kind: int


@frozen
class LaidKitPiece:
    """Where a piece of a row lies; (x, y) is where its net's origin comes to lie."""

    row: int
    number: int
    angle_deg: float
    x: float
    y: float


@frozen
class KitSheet:
    """One sheet of a kit: its number from 1, its stock, and what lies on it."""

    number: int
    stock: str
    pieces: tuple[LaidKitPiece, ...]


@frozen
class Ring:
    """The outline of a piece on a sheet, in mm, and a place inside it to write on."""

    points: tuple[Point, ...]
    inside: Point


class Sorter:
    """Takes the rows' jobs one by one and keeps of each piece no more than its kind."""

    def __init__(self, machine: Machine) -> None:
        self.kinds: list[PieceKind] = []
        self.pieces: dict[Stock, list[KitPiece]] = {}
        self.rules = SheetRules()
        self._machine = machine
        self._numbers: dict[Hashable, int] = {}
        self._bases: dict[Stock, Base] = {}
        self._kind_of: dict[tuple[int, int], int] = {}

    def take(self, row: int, job: Job) -> None:
        """Sort the pieces of a row's job. Raises PlacementError for a piece that is too large."""
        self.rules = job.sheets
        pieces = pieces_of(job)
        for number, piece in enumerate(pieces):
            try:
                base = self._base(piece.stock, pieces)
                kind = self._kind(piece, base)
            except PlacementError as error:
                raise PlacementError(*in_unit(job.unit, error.refusals)) from None
            self.pieces.setdefault(piece.stock, []).append(KitPiece(row, number, kind))
            self._kind_of[row, number] = kind

    def rings(self, sheet: KitSheet) -> tuple[Ring, ...]:
        """The outlines of what lies on a sheet, as they lie there, each with a place inside it."""
        return tuple(self._ring(laid) for laid in sheet.pieces)

    def size(self, stock: str) -> tuple[float, float]:
        """Width and height in mm of a sheet of this stock as it lies on the bed."""
        (base,) = (base for known, base in self._bases.items() if known.name == stock)
        return base.width, base.height

    def _ring(self, laid: LaidKitPiece) -> Ring:
        place = Transform.translation(laid.x, laid.y) @ Transform.rotation(laid.angle_deg)
        outline = self.kinds[self._kind_of[laid.row, laid.number]].outline
        return Ring(tuple(map(place.apply, outline.ring)), place.apply(outline.inside))

    def _base(self, stock: Stock, pieces: Sequence[Piece]) -> Base:
        if stock not in self._bases:
            mine = [piece for piece in pieces if piece.stock == stock]
            border = max(self.rules.border, print_border(mine, self._machine))
            rules = replace(self.rules, border=border)
            self._bases[stock] = empty_base(stock, self._machine, rules)
        return self._bases[stock]

    def _kind(self, piece: Piece, base: Base) -> int:
        key = (piece.stock, likeness(piece))
        if key not in self._numbers:
            kind = kind_of(piece, base)
            self._numbers[key] = len(self.kinds)
            self.kinds.append(kind)
        return self._numbers[key]

    def sheets(self, *, quick: bool = False) -> Iterator[KitSheet]:
        """All sheets, stock by stock. The thorough mode's seconds go for each stock; `quick` leaves
        that search out."""
        rules = replace(self.rules, mode="quick") if quick else self.rules
        number = 0
        for stock, pieces in self.pieces.items():
            for laid in _fewest(self.kinds, pieces, self._bases[stock], rules):
                number += 1
                yield KitSheet(number, stock.name, laid)


def _fewest(
    kinds: Sequence[PieceKind], pieces: Sequence[KitPiece], base: Base, rules: SheetRules
) -> Iterable[tuple[LaidKitPiece, ...]]:
    """The sheets of one stock. What a search finds is taken only where it saves a sheet: fuller
    sheets at first may leave pieces that fit together badly for the last ones."""
    if rules.mode == "quick":
        return _sheets(kinds, pieces, base, None)
    quick = list(_sheets(kinds, pieces, base, None))
    search = Search(Budget(rules.seconds), rules.seed, lambda _: None)
    searched = list(islice(_sheets(kinds, pieces, base, search), len(quick)))
    found = sum(map(len, searched)) == len(pieces)
    return searched if found and len(searched) < len(quick) else quick


def _sheets(
    kinds: Sequence[PieceKind], pieces: Sequence[KitPiece], base: Base, search: Search | None
) -> Iterator[tuple[LaidKitPiece, ...]]:
    coming = iter(pieces)
    pool: dict[int, deque[KitPiece]] = {}
    known: dict[tuple[tuple[int, int], ...], SheetLayout] = {}
    regions = Regions(kinds, base.room)
    inside = 0
    while True:
        for piece in coming:
            pool.setdefault(piece.kind, deque()).append(piece)
            inside += 1
            if inside == POOL:
                break
        if not inside:
            return
        key = _key(kinds, pool, base)
        if key not in known:
            if len(known) > POOL:  # sizes differ from row to row: old layouts never come again
                known.clear()
                regions = Regions(kinds, base.room)
            known[key] = _layout(regions, dict(key), search)
        layout = known[key]
        yield tuple(_taken(pool, laid) for laid in layout)
        inside -= len(layout)
        pool = {kind: queue for kind, queue in pool.items() if queue}


def _key(
    kinds: Sequence[PieceKind], pool: Mapping[int, deque[KitPiece]], base: Base
) -> tuple[tuple[int, int], ...]:
    """What is in the pool, no kind counted beyond what a sheet could hold by area."""
    most = {kind: int(base.room.area_mm2 / kinds[kind].outline.area) for kind in pool}
    return tuple(sorted((kind, min(len(queue), most[kind])) for kind, queue in pool.items()))


def _taken(pool: Mapping[int, deque[KitPiece]], laid: LaidPiece) -> LaidKitPiece:
    piece = pool[laid.kind].popleft()
    return LaidKitPiece(piece.row, piece.number, laid.angle_deg, laid.x, laid.y)


def _layout(regions: Regions, demand: dict[int, int], search: Search | None) -> SheetLayout:
    boxes = box_plan(regions.kinds, demand, regions.room) or ()
    layouts = [quick_layout(regions, demand), *(repeated.layout for repeated in boxes)]
    layout = max(layouts, key=lambda each: pieces_area(regions.kinds, each))
    if search is not None:
        with suppress(TimeUpError, SearchFailedError):
            layout = fuller_layout(regions, demand, layout, search)
    return layout
