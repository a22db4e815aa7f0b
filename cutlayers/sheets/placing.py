"""Pieces onto sheets, stock by stock, clear of what the machine cannot reach and of the marks."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from typing import TypeVar

from cutlayers.frozen import frozen
from cutlayers.job.order import Job, SheetRules
from cutlayers.job.stock import Stock
from cutlayers.profile.machine import Machine
from cutlayers.sheets.base import Base, empty_base, within_border
from cutlayers.sheets.boxes import box_plan
from cutlayers.sheets.kinds import kind_of, likeness
from cutlayers.sheets.laying import PieceKind, Regions
from cutlayers.sheets.model import Piece, Placed, Sheet
from cutlayers.sheets.nesting import most_sets, quick_plan, sets_in
from cutlayers.sheets.plans import Demand, SheetPlan, sheets_in
from cutlayers.sheets.strip_search import SearchFailedError
from cutlayers.sheets.thorough import Search, TimeUpError, better_plans, more_sets
from cutlayers.telling.budget import ENDLESS, Budget
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.findings import Finding, Severity, Subject
from cutlayers.telling.refusals import Refusal
from cutlayers.telling.written import shown

Progress = Callable[[int], None]
Found = TypeVar("Found")

USUAL = SheetRules()


@frozen
class Placing:
    """All sheets of a job, and what is worth knowing of how they were found."""

    sheets: tuple[Sheet, ...]
    findings: tuple[Finding, ...] = ()

    @property
    def count(self) -> int:
        """How many sheets of card there are, copies counted."""
        return sum(sheet.copies for sheet in self.sheets)


def placing_steps(job: Job, *, quick: bool = False) -> int:
    """How many steps `place_pieces` tells its progress for a job: pieces, and seconds of search
    unless it is `quick`."""
    pieces = sum(order.count * (len(order.box.blanks) + len(order.facings)) for order in job.orders)
    thorough = job.sheets.mode == "thorough" and not quick
    stocks = {stock for order in job.orders for stock in order.stocks}
    return pieces + (job.sheets.seconds * len(stocks) if thorough else 0)


def place_pieces(
    pieces: Sequence[Piece],
    machine: Machine,
    rules: SheetRules = USUAL,
    progress: Progress = lambda _: None,
    budget: Budget = ENDLESS,
    as_many: bool = False,
) -> Placing:
    """Put every piece on a sheet of its stock.

    Sheets come stock by stock, in the order in which the stocks first appear; sheets that are alike
    in every line are one, with `copies`. In the thorough mode each stock gets the rules' seconds,
    or its share of what the budget has left, and an interruption by the user keeps the best that
    was found until then. `as_many` fills the sheets as where there are many kinds, which takes
    little time.

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
        laying = partial(_laid, stock, mine, machine, progress, share, as_many)
        base, content, found = within_border(mine, machine, rules, laying)
        findings += found
        for placed in content:
            progress(len(placed))
            last = sheets[-1] if sheets else None
            if last is not None and _alike(last, stock, placed):
                sheets[-1] = replace(last, copies=last.copies + 1)
            else:
                number = len(sheets) + 1
                marks = base.marks_beside(placed)
                sheets.append(Sheet(stock, number, base.width, base.height, placed, marks))
    return Placing(tuple(sheets), tuple(findings))


def _share(budget: Budget, stocks: int) -> Budget:
    """What is left of a budget for one of the stocks that wait."""
    left = budget.left
    return budget if left is None else Budget(left / stocks, budget.cancel, budget.clock)


def _laid(
    stock: Stock,
    pieces: Sequence[Piece],
    machine: Machine,
    progress: Progress,
    budget: Budget,
    as_many: bool,
    rules: SheetRules,
) -> tuple[Base, list[tuple[Placed, ...]], list[Finding]]:
    """One stock's sheets, and what is worth knowing of the search for better ones."""
    base = empty_base(stock, machine, rules)
    search = None
    seconds = rules.seconds if budget.left is None else min(rules.seconds, budget.left)
    if rules.mode == "thorough" and seconds > 0.0:
        search = Search(Budget(seconds, budget.cancel, budget.clock), rules.seed, progress)
    placer = _Placer(base, pieces, as_many)
    content = list(placer.counted(search)) + list(placer.filled(search))
    if search is not None:
        search.finish()
    return base, content, placer.findings


class _Placer:
    """The pieces of one stock, sorted into kinds."""

    def __init__(self, base: Base, pieces: Sequence[Piece], as_many: bool) -> None:
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
        self._base, self._as_many = base, as_many
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
            layout = most_sets(self._regions, one_set, len(self._sets))
            if not layout:
                raise PlacementError(
                    Refusal(
                        ("piece", order, "fill"),
                        "is true, but not even one box with all its pieces fits on a sheet of "
                        f"{shown(self._base.stock.name)}",
                        "value",
                        found=True,
                        advice="write count in place of fill",
                    )
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
        plan = quick_plan(self._regions, demand, as_many=self._as_many)
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
