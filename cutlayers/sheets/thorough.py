"""More pieces onto a sheet than the quick method lays, as long as time is left for a search."""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Callable, Iterator

from cutlayers.sheets.laying import (
    RULES,
    Regions,
    SheetLayout,
    is_sound,
    lay_pieces,
)
from cutlayers.sheets.nesting import quick_layout, quick_plan, sets_in, times, used_up
from cutlayers.sheets.plans import Demand, Repeated, SheetPlan, fewest_sheets, sheets_in
from cutlayers.telling.budget import Budget
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.refusals import Refusal

SHUFFLES = 24
"""Random orders that the thorough method tries before it starts the search heuristic."""

FULLEST = 0.97
"""Share of a sheet beyond which pieces other than boxes never lie on it together."""


class TimeUpError(Exception):
    """The thorough method's time is over; never leaves this module's callers."""


class Search:
    """What the thorough method may spend, and the seed of its chance.

    `budget` has an end. Raises PlacementError where the search heuristic is not installed.
    """

    def __init__(self, budget: Budget, seed: int, progress: Callable[[int], None]) -> None:
        _need_spyrrow()
        self.seed = seed
        self._budget = budget
        self._progress = progress
        self._seconds = math.ceil(budget.seconds or 0.0)
        self._told = 0

    @property
    def left_s(self) -> float:
        """Seconds left."""
        return self._budget.left or 0.0

    def tick(self) -> None:
        """Tell the progress of whole seconds gone by.

        Raises TimeUpError when none is left, Cancelled where the work was called off.
        """
        self._tell(self._seconds - math.ceil(self.left_s))
        if self._budget.spent:
            raise TimeUpError

    def finish(self) -> None:
        """Tell what is left of the time as done."""
        self._tell(self._seconds)

    def _tell(self, seconds: int) -> None:
        if seconds > self._told:
            self._progress(seconds - self._told)
            self._told = seconds


def _need_spyrrow() -> None:
    try:
        import spyrrow  # noqa: F401
    except ImportError:
        raise PlacementError(
            Refusal(
                ("sheets", "mode"),
                'is "thorough", which needs spyrrow, and that is not installed',
                found="thorough",
                advice="get it with: pip install 'cutlayers[thorough]', or write mode = \"quick\"",
            )
        ) from None


def better_plans(
    regions: Regions, demand: Demand, plan: SheetPlan, search: Search
) -> Iterator[SheetPlan]:
    """Plans of fewer sheets than `plan` and than each other, as they are found.

    Ends when the areas show that no sheet can be saved. Raises TimeUpError when the time is over.
    """
    best = plan
    left = dict(demand)
    done: list[Repeated] = []
    while left:
        bound = sheets_in(tuple(done)) + fewest_sheets(regions.kinds, left, regions.room)
        if bound >= sheets_in(best):
            return
        layout = fuller_layout(regions, left, quick_layout(regions, left), search)
        repeated, left = used_up(layout, left)
        done.append(repeated)
        candidate = (*done, *(quick_plan(regions, left) if left else ()))
        if sheets_in(candidate) < sheets_in(best):
            best = candidate
            yield best


def more_sets(
    regions: Regions, one_set: Demand, layout: SheetLayout, search: Search
) -> Iterator[SheetLayout]:
    """Layouts with ever more complete sets on one sheet than `layout` has.

    Raises TimeUpError when the time is over.
    """
    number = sets_in(layout, one_set) + 1
    while True:
        found = fits(regions, times(one_set, number), search)
        if found is None:
            return
        yield found
        number += 1


def fits(regions: Regions, demand: Demand, search: Search) -> SheetLayout | None:
    """All of the demand on one sheet, or None if not found in a third of the time left."""
    from cutlayers.sheets.strip_search import fits_on_one

    kinds, room = regions.kinds, regions.room
    total = sum(demand.values())
    area = sum(kinds[kind].outline.area * count for kind, count in demand.items())
    if area > room.area_mm2:
        return None
    search.tick()
    quick = quick_layout(regions, demand)
    if len(quick) == total:
        return quick
    chance = random.Random(search.seed)
    sequence = [kind for kind, count in sorted(demand.items()) for _ in range(count)]
    for number in range(SHUFFLES if total <= 2 * SHUFFLES else 0):
        chance.shuffle(sequence)
        layout = lay_pieces(regions, sequence, RULES[number % len(RULES)])
        if len(layout) == total and is_sound(kinds, layout, room):
            return layout
        search.tick()
    if all(kinds[kind].outline.is_box for kind in demand) or area <= FULLEST * room.area_mm2:
        seconds = max(1, math.ceil(search.left_s / 3))
        return fits_on_one(regions, demand, seconds, search.seed, search.tick)
    return None


def fuller_layout(
    regions: Regions, demand: Demand, layout: SheetLayout, search: Search
) -> SheetLayout:
    """The layout with more of the demand on the same sheet, as long as there is time."""
    total = sum(demand.values())
    if len(layout) < total and (everything := fits(regions, demand, search)):
        return everything
    while len(layout) < total:
        laid = Counter(piece.kind for piece in layout)
        more = sorted(
            (kind for kind, count in demand.items() if count > laid[kind]),
            key=lambda kind: -regions.kinds[kind].outline.area,
        )
        for kind in more:
            found = fits(regions, laid + Counter([kind]), search)
            if found is not None:
                layout = found
                break
        else:
            return layout
    return layout
