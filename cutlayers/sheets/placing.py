"""Pieces onto sheets, stock by stock, clear of what the machine cannot reach and of the marks."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from cutlayers.geometry.paths import Bounds
from cutlayers.job.order import Job, SheetRules
from cutlayers.job.stock import Stock
from cutlayers.profile.machine import Bed, Machine
from cutlayers.sheets.boxes import box_plan, empty_space, laid_in
from cutlayers.sheets.laying import PieceKind, Regions, Room
from cutlayers.sheets.model import Piece, Placed, RegisterMark, Sheet
from cutlayers.sheets.nesting import (
    Search,
    TimeUpError,
    better_plans,
    more_sets,
    most_sets,
    quick_plan,
    sets_in,
)
from cutlayers.sheets.outlines import outline_of
from cutlayers.sheets.plans import Demand, SheetPlan, sheets_in
from cutlayers.sheets.register import register_marks
from cutlayers.sheets.rotations import allowed_turns
from cutlayers.sheets.strip_search import SearchFailedError
from cutlayers.telling.budget import ENDLESS, Budget
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.findings import Finding, Severity, Subject

Progress = Callable[[int], None]
Found = TypeVar("Found")

USUAL = SheetRules()


@dataclass(frozen=True, slots=True)
class Placing:
    """All sheets of a job, and what is worth knowing of how they were found."""

    sheets: tuple[Sheet, ...]
    findings: tuple[Finding, ...] = ()

    @property
    def count(self) -> int:
        """How many sheets of card there are, copies counted."""
        return sum(sheet.copies for sheet in self.sheets)


@dataclass(frozen=True, slots=True)
class Base:
    """An empty sheet of a stock as it lies on the bed."""

    stock: Stock
    width: float
    height: float
    marks: tuple[RegisterMark, ...]
    room: Room

    @property
    def turned(self) -> bool:
        """Whether the sheet lies turned by a quarter from how the stock gives its size."""
        return (self.width, self.height) != self.stock.sheet


def placing_steps(job: Job, *, quick: bool = False) -> int:
    """How many steps `place_pieces` tells its progress for a job: pieces, and seconds of search
    unless it is `quick`."""
    pieces = sum(order.count * (len(order.box.blanks) + len(order.facings)) for order in job.orders)
    thorough = job.sheets.mode == "thorough" and not quick
    stocks = {order.stock for order in job.orders}
    return pieces + (job.sheets.seconds * len(stocks) if thorough else 0)


def place_pieces(
    pieces: Sequence[Piece],
    machine: Machine,
    rules: SheetRules = USUAL,
    progress: Progress = lambda _: None,
    budget: Budget = ENDLESS,
) -> Placing:
    """Put every piece on a sheet of its stock.

    Sheets come stock by stock, in the order in which the stocks first appear; sheets that are alike
    in every line are one, with `copies`. In the thorough mode each stock gets the rules' seconds,
    or its share of what the budget has left, and an interruption by the user keeps the best that
    was found until then.

    Raises PlacementError for a sheet that the bed cannot take, for a piece that no empty sheet can
    hold, saying by how much, and where grain and rotation cannot both be had; Cancelled where the
    budget is called off.
    """
    sheets: list[Sheet] = []
    findings: list[Finding] = []
    stocks = dict.fromkeys(piece.stock for piece in pieces)
    for done, stock in enumerate(stocks):
        budget.check()
        share = _share(budget, len(stocks) - done)
        mine = [piece for piece in pieces if piece.stock == stock]
        border = print_border(mine, machine)
        try:
            wide = replace(rules, border=max(rules.border, border))
            base, content, found = _laid(stock, mine, machine, wide, progress, share)
        except PlacementError:
            if border <= rules.border:
                raise
            # What is printed may have to reach into the printer's border: the ink says where.
            base, content, found = _laid(stock, mine, machine, rules, progress, share)
        findings += found
        for placed in content:
            progress(len(placed))
            last = sheets[-1] if sheets else None
            if last is not None and _alike(last, stock, placed):
                sheets[-1] = replace(last, copies=last.copies + 1)
            else:
                number = len(sheets) + 1
                sheets.append(Sheet(stock, number, base.width, base.height, placed, base.marks))
    return Placing(tuple(sheets), tuple(findings))


def _share(budget: Budget, stocks: int) -> Budget:
    """What is left of a budget for one of the stocks that wait."""
    left = budget.left
    return budget if left is None else Budget(left / stocks, budget.cancel, budget.clock)


def print_border(pieces: Iterable[Piece], machine: Machine) -> float:
    """The edge of the sheet in mm that printed pieces keep free where there is room: what the
    printer leaves white, and the bleed. 0 where nothing is printed."""
    printed = any(piece.art for piece in pieces)
    return machine.printing.margin + machine.printing.bleed if printed else 0.0


def _laid(
    stock: Stock,
    pieces: Sequence[Piece],
    machine: Machine,
    rules: SheetRules,
    progress: Progress,
    budget: Budget,
) -> tuple[Base, list[tuple[Placed, ...]], list[Finding]]:
    """One stock's sheets, and what is worth knowing of the search for better ones."""
    base = empty_base(stock, machine, rules)
    search = None
    seconds = rules.seconds if budget.left is None else min(rules.seconds, budget.left)
    if rules.mode == "thorough" and seconds > 0.0:
        search = Search(Budget(seconds, budget.cancel, budget.clock), rules.seed, progress)
    placer = _Placer(base, pieces)
    content = list(placer.counted(search)) + list(placer.filled(search))
    if search is not None:
        search.finish()
    return base, content, placer.findings


def empty_base(stock: Stock, machine: Machine, rules: SheetRules) -> Base:
    """An empty sheet of a stock on a machine's bed. Raises PlacementError where it does not fit."""
    width, height = sheet_on_bed(stock, machine.bed)
    marks = register_marks(width, height, machine.register)
    edge = max(machine.bed.margin, rules.border)
    area = (edge, edge, width - edge, height - edge)
    if area[2] <= area[0] or area[3] <= area[1]:
        raise PlacementError(
            f"stock {stock.name!r}: a border of {edge:.1f} mm leaves nothing of a sheet of "
            f"{width:.1f} × {height:.1f} mm; use a larger sheet or a smaller border"
        )
    room = Room(area, tuple(mark.keep_out for mark in marks), rules.gap)
    return Base(stock, width, height, marks, room)


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
            raise PlacementError(_too_large(piece, kind, base))
    return kind


class _Placer:
    """The pieces of one stock, sorted into kinds."""

    def __init__(self, base: Base, pieces: Sequence[Piece]) -> None:
        self.findings: list[Finding] = []
        self._kinds: list[PieceKind] = []
        self._waiting: list[deque[Piece]] = []
        self._sets: dict[str, list[tuple[int, Piece]]] = {}
        numbers: dict[Hashable, int] = {}
        for piece in pieces:
            key = likeness(piece)
            if key not in numbers:
                numbers[key] = len(self._kinds)
                self._kinds.append(kind_of(piece, base))
                self._waiting.append(deque())
            if piece.fill:
                self._sets.setdefault(piece.order, []).append((numbers[key], piece))
            else:
                self._waiting[numbers[key]].append(piece)
        self._base = base
        self._regions = Regions(self._kinds, base.room)

    def counted(self, search: Search | None) -> Iterator[tuple[Placed, ...]]:
        """Sheets of the pieces that are wanted in a number."""
        demand = {kind: len(queue) for kind, queue in enumerate(self._waiting) if queue}
        for repeated in self._plan(demand, search):
            for _ in range(repeated.sheets):
                yield tuple(
                    Placed(self._waiting[piece.kind].popleft(), piece.place)
                    for piece in repeated.layout
                )

    def filled(self, search: Search | None) -> Iterator[tuple[Placed, ...]]:
        """A sheet for each order that fills one."""
        for order, members in self._sets.items():
            one_set = Counter(kind for kind, _ in members)
            layout = most_sets(self._regions, one_set)
            if not layout:
                raise PlacementError(
                    f"{order}: not even one box with all its pieces fits on a sheet of "
                    f"{self._base.stock.name!r}; write count in place of fill"
                )
            if search is not None:
                layout = self._last(more_sets(self._regions, one_set, layout, search), layout)
            whole = sets_in(layout, one_set)
            waiting = {kind: deque[Piece]() for kind in one_set}
            for kind, piece in members * whole:
                waiting[kind].append(piece)
            yield tuple(
                Placed(waiting[piece.kind].popleft(), piece.place)
                for piece in layout
                if waiting[piece.kind]
            )

    def _plan(self, demand: Demand, search: Search | None) -> SheetPlan:
        if not demand:
            return ()
        boxes = box_plan(self._kinds, demand, self._base.room)
        if boxes is not None and self._one_on_each_sheet(demand):
            return boxes
        plan = quick_plan(self._regions, demand)
        if boxes is not None and sheets_in(boxes) < sheets_in(plan):
            plan = boxes
        if search is not None:
            plan = self._last(better_plans(self._regions, demand, plan, search), plan)
        return plan

    def _one_on_each_sheet(self, demand: Demand) -> bool:
        """Whether one piece a sheet is all there can be, by number or by area."""
        areas = sorted(self._kinds[kind].outline.area for kind in Counter(demand).elements())
        return len(areas) == 1 or areas[0] + areas[1] > self._base.room.area_mm2

    def _last(self, found: Iterator[Found], before: Found) -> Found:
        """The last and best that was found until the time was over or the user stopped it."""
        try:
            for each in found:
                before = each
        except TimeUpError:
            pass
        except SearchFailedError:
            self.findings.append(_failed(self._base.stock))
        except KeyboardInterrupt:
            self.findings.append(_stopped(self._base.stock))
        return before


def _alike(sheet: Sheet, stock: Stock, placed: tuple[Placed, ...]) -> bool:
    return (
        sheet.stock == stock
        and len(sheet.placed) == len(placed)
        and all(
            one.place == other.place and one.piece == other.piece
            for one, other in zip(sheet.placed, placed, strict=True)
        )
    )


def _stopped(stock: Stock) -> Finding:
    """The search for better sheets was stopped before its time was over.

    Measured: nothing. You stopped the thorough placing; the best sheets found until then are used.

    Why: a longer search may put the same pieces on fewer sheets, or leave a larger piece of card
    over.

    Cure: none is needed: the sheets are right as they are. Run it again for the full search.

    Source: none is needed.
    """
    return Finding("search-stopped", Severity.NOTE, Subject(stock=stock.name))


def _failed(stock: Stock) -> Finding:
    """The search for better sheets could not work with these outlines.

    Measured: nothing. The thorough placing broke down over the outlines of this stock, and the
    sheets of the quick placing are used.

    Why: the sheets are right, but may be more than a thorough search would have needed.

    Cure: none is needed. Another size, another gap between pieces or another `rotation` often lets
    the search go through.

    Source: none is needed.
    """
    return Finding("search-failed", Severity.WARNING, Subject(stock=stock.name))


def _too_large(piece: Piece, kind: PieceKind, base: Base) -> str:
    """Why an empty sheet cannot hold a piece, in its best turn."""
    left, bottom, right, top = piece.bounds
    area = base.room.area
    wide, high = area[2] - area[0], area[3] - area[1]
    lead = (
        f"{piece.name} is {right - left:.1f} × {top - bottom:.1f} mm; a sheet of "
        f"{piece.stock.name!r} has {wide:.1f} × {high:.1f} mm within the machine's reach"
    )
    over_wide, over_high = min(
        (_excess(box, wide, high) for box in kind.boxes.values()),
        key=sum,
    )
    excess = [
        f"{over:.1f} mm too {word}"
        for over, word in ((over_wide, "wide"), (over_high, "high"))
        if over > 0
    ]
    if excess:
        turn = ", even in its best turn" if len(kind.angles_deg) > 1 else ""
        return f"{lead}: {' and '.join(excess)}{turn}; use a larger sheet or a smaller box"
    return (
        f"{lead}, but the register marks are in the way; use a larger sheet, "
        "or smaller marks or marks nearer to the edge in the profile"
    )


def _excess(box: Bounds, wide: float, high: float) -> tuple[float, float]:
    left, bottom, right, top = box
    return max(0.0, right - left - wide), max(0.0, top - bottom - high)
