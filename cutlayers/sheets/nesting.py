"""Many pieces onto few sheets of one stock, by their true outlines.

The quick method fills one sheet as well as a few dozen orders and rules can, repeats that layout
as long as there are pieces for it, and goes on with what is left. Each pair of kinds in each turn
costs a no-fit region, so of many kinds only a short list is tried on each sheet, without their
small notches: those that would lie there by their bounding boxes, and the largest of the others.
`thorough.py` asks a search heuristic for sheets that hold more.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence

from cutlayers.sheets.boxes import box_layout
from cutlayers.sheets.laying import (
    RULES,
    PieceKind,
    Regions,
    Rule,
    SheetLayout,
    is_sound,
    lay_pieces,
    pieces_area,
    used_box,
)
from cutlayers.sheets.plans import Demand, Repeated, SheetPlan, fewest_sheets, sheets_in

EFFORT = 800
"""Turns tried, all in all, for one sheet by the quick method: a tenth of a second or two."""

EFFORT_OF_MANY = 50
"""The same where there are many kinds, and so many sheets."""

MOST_FILLED_IN_FULL = 8
"""Orders that fill a sheet each with all of the effort; where there are more, they share what so
many would take."""

MOST_REGIONS = 800
"""No-fit regions between kinds of which each may lie beside each; a few milliseconds each. With
quarter turns that is fourteen kinds."""

MOST_OF_MANY = 144
"""The same between the kinds of a short list, so what a sheet costs does not grow with a job."""


Angles = Mapping[int, Sequence[float]]


def quick_plan(regions: Regions, demand: Demand, *, as_many: bool = False) -> SheetPlan:
    """A plan for the whole demand. Every kind must fit an empty sheet.

    Tried are layouts that hold as much area as possible and, unless there are many kinds, layouts
    that hold kinds in the proportion in which they are wanted; the plan with fewer sheets is taken.
    `as_many` fills the sheets as those of many kinds are, which takes little time.
    """
    if as_many or _are_many(regions, demand):
        return _repeated(regions, demand, layout_of_many)
    plans = [_repeated(regions, demand, quick_layout)]
    if len(demand) > 1 and sheets_in(plans[0]) > fewest_sheets(regions.kinds, demand, regions.room):
        plans.append(_repeated(regions, demand, proportionate_layout))
    return min(plans, key=sheets_in)


def quick_layout(regions: Regions, demand: Demand) -> SheetLayout:
    """One sheet with as much of the demand on it, by area, as the quick method finds.

    Where all of it fits, the layout whose pieces lie closest together.
    """

    if _are_many(regions, demand):
        return layout_of_many(regions, demand)
    return _best(regions, demand, _area_worth(regions))


def layout_of_many(regions: Regions, demand: Demand) -> SheetLayout:
    """The same from a short list of the kinds, whose small notches stay empty; or by boxes."""
    boxes = box_layout(regions.kinds, demand, regions.room)
    few = _short_list(regions, demand, boxes)
    worth = _area_worth(regions)
    layout = _best(regions.rough, few, worth, EFFORT_OF_MANY)
    return max(layout, boxes, key=worth) if boxes else layout


def _area_worth(regions: Regions) -> Callable[[SheetLayout], tuple[float, float]]:
    """The larger area of pieces is the better, and of the same area that which lies closest."""
    return lambda layout: (
        round(pieces_area(regions.kinds, layout), 3),
        -_spread(regions, layout),
    )


def _are_many(regions: Regions, demand: Demand) -> bool:
    return len(demand) > _most_kinds(regions, demand, MOST_REGIONS)


def _most_kinds(regions: Regions, demand: Demand, most_regions: int) -> int:
    """How many kinds have so many regions: each lies beside each, in each of its turns."""
    turns = max((len(regions.kinds[kind].angles_deg) for kind in demand), default=1)
    return max(2, math.isqrt(most_regions // turns))


def _short_list(regions: Regions, demand: Demand, boxes: SheetLayout) -> Demand:
    """The kinds that lie on a sheet by their boxes, and then the largest of the others."""
    most = _most_kinds(regions, demand, MOST_OF_MANY)
    laid = {piece.kind for piece in boxes}

    def rank(kind: int) -> tuple[bool, float, int]:
        return kind not in laid, -regions.kinds[kind].outline.area, kind

    return {kind: demand[kind] for kind in sorted(demand, key=rank)[:most]}


def proportionate_layout(regions: Regions, demand: Demand, effort: int = EFFORT) -> SheetLayout:
    """One sheet that uses up the demand evenly: the kind that lags behind most counts."""

    def worth(layout: SheetLayout) -> tuple[float, float, float]:
        laid = Counter(piece.kind for piece in layout)
        share = min(laid[kind] / count for kind, count in demand.items())
        return share, round(pieces_area(regions.kinds, layout), 3), -_spread(regions, layout)

    return _best(regions, demand, worth, effort)


def most_sets(regions: Regions, one_set: Demand, orders: int = 1) -> SheetLayout:
    """One sheet with as many complete sets as the quick method finds; empty if not even one.

    `orders` is how many there are of which each fills a sheet.
    """
    effort = EFFORT * min(MOST_FILLED_IN_FULL, orders) // orders
    room, kinds = regions.room, regions.kinds
    area = sum(kinds[kind].outline.area * count for kind, count in one_set.items())
    bound = int(room.area_mm2 / area + 1e-9)
    plenty = {kind: count * bound for kind, count in one_set.items()}
    sets = sets_in(proportionate_layout(regions, plenty, effort), one_set) if bound else 0
    best: SheetLayout = ()
    for number in range(max(1, sets), bound + 1):
        layout = proportionate_layout(regions, times(one_set, number), effort)
        if sets_in(layout, one_set) < number:
            break
        best = layout
    return best


def sets_in(layout: SheetLayout, one_set: Demand) -> int:
    """How many complete sets a layout holds."""
    laid = Counter(piece.kind for piece in layout)
    return min(laid[kind] // count for kind, count in one_set.items())


def _repeated(
    regions: Regions, demand: Demand, fill: Callable[[Regions, Demand], SheetLayout]
) -> SheetPlan:
    plan = []
    left = dict(demand)
    while left:
        repeated, left = used_up(fill(regions, left), left)
        plan.append(repeated)
    return tuple(plan)


def used_up(layout: SheetLayout, demand: Demand) -> tuple[Repeated, dict[int, int]]:
    """The layout as often as the demand allows, and the demand that is left."""
    laid = Counter(piece.kind for piece in layout)
    if not laid:
        raise ValueError("a kind does not fit an empty sheet")
    sheets = min(demand[kind] // count for kind, count in laid.items())
    left = {kind: count - sheets * laid[kind] for kind, count in demand.items()}
    return Repeated(layout, sheets), {kind: count for kind, count in left.items() if count}


def _best(
    regions: Regions,
    demand: Demand,
    worth: Callable[[SheetLayout], tuple[float, ...]],
    most_effort: int = EFFORT,
) -> SheetLayout:
    effort = 0
    best: tuple[tuple[float, ...], SheetLayout] | None = None
    for sequence, rule, angles in _ways(regions, demand):
        layout = _laid(regions, sequence, rule, angles)
        if layout:
            value = worth(layout)
            # Whatever the geometry library made of the regions, only what is checked is used.
            better = best is None or value > best[0]
            if better and is_sound(regions.kinds, layout, regions.room):
                best = value, layout
        tried = len(angles[sequence[0]] if angles else regions.kinds[sequence[0]].angles_deg)
        effort += max(1, len(layout)) * tried
        if effort > most_effort:
            break
    if best is None:  # then one piece, for which no other is in the way
        return next(filter(None, (lay_pieces(regions, [kind], RULES[0]) for kind in demand)), ())
    return best[1]


def _laid(
    regions: Regions, sequence: Sequence[int], rule: Rule, angles: Angles | None
) -> SheetLayout:
    """One sheet as `lay_pieces` lays it, once for each way."""
    way = (tuple(sequence), rule, angles and tuple((kind, *angles[kind]) for kind in angles))
    return regions.kept_layout(way, lambda: lay_pieces(regions, sequence, rule, angles))


def _ways(regions: Regions, demand: Demand) -> Iterator[tuple[list[int], Rule, Angles | None]]:
    """Orders, rules and turns to fill one sheet by, the most promising first."""
    kinds, room = regions.kinds, regions.room
    most = {
        kind: min(count, int(room.area_mm2 / kinds[kind].outline.area + 1e-9))
        for kind, count in demand.items()
    }
    by_area = sorted(most, key=lambda kind: (-kinds[kind].outline.area, kind))
    by_side = sorted(most, key=lambda kind: (-_longest(kinds[kind]), kind))
    woven = sorted(
        ((number + 0.5) / count, by_area.index(kind), kind)
        for kind, count in most.items()
        for number in range(count)
    )
    sequences = [_in_order(by_area, most)]
    for sequence in ([kind for *_, kind in woven], _in_order(by_side, most)):
        if sequence not in sequences:
            sequences.append(sequence)
    turns: list[Angles | None] = [None]
    if any(len(kinds[kind].angles_deg) > 2 for kind in most):
        turns += [{kind: _pair(kinds[kind], which) for kind in most} for which in (0, 1)]
    for angles in turns:
        for sequence in sequences:
            if sequence:
                for rule in RULES:
                    yield sequence, rule, angles


def _pair(kind: PieceKind, which: int) -> Sequence[float]:
    """One of a kind's angles and its half turn: rows of alike pieces often lie closest."""
    halves = sorted({angle % 180.0 for angle in kind.angles_deg})
    chosen = halves[(which * len(halves) // 2) % len(halves)]
    return [angle for angle in kind.angles_deg if angle % 180.0 == chosen]


def _in_order(order: Sequence[int], counts: Demand) -> list[int]:
    return [kind for kind in order for _ in range(counts[kind])]


def _longest(kind: PieceKind) -> float:
    left, bottom, right, top = next(iter(kind.boxes.values()))
    return max(right - left, top - bottom)


def _spread(regions: Regions, layout: SheetLayout) -> float:
    left, bottom, right, top = used_box(regions.kinds, layout)
    return round((right - left) * (top - bottom), 3)


def times(one_set: Demand, number: int) -> dict[int, int]:
    """The demand of a number of sets."""
    return {kind: count * number for kind, count in one_set.items()}
