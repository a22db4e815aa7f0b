"""A net whose every corner lies on a line of the ruler.

Places that must stay equally far apart do (see `alike`); among all such roundings the one is
taken whose panels, and the steps within them, differ least from the net's own.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from cutlayers.box import Blank
from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Fold, Operation, Part
from cutlayers.geometry.transforms import Point
from cutlayers.guide.alike import Ties, tied
from cutlayers.guide.on_divisions import net_on_divisions
from cutlayers.guide.places import (
    EXTENT_WEIGHT,
    GAP_WEIGHT,
    Places,
    borders,
    extents,
    gaps,
    hinge_weight,
    slots,
)
from cutlayers.guide.ruler import Ruler
from cutlayers.net import COINCIDENT, Net
from cutlayers.telling.errors import CutlayersError, NetError

SWAP_PENALTY = 1e3
"""Divisions squared; as bad as no wanted rounding ever is, for places that change their order."""

LEAST_GAIN = 1e-9
"""Divisions squared; what is better by less is as good."""

NEARLY = 1e-6
"""Divisions; a slot that lacks less is wide enough."""

NOTHING: Mapping[str, float] = MappingProxyType({})

STAY_WEIGHT = 1e-3
"""Of the distance from a place's own value; it settles what nothing else does."""


@frozen
class _Term:
    low: int
    high: int
    steps: float
    weight: float
    least: int = 0
    """Divisions that a slot needs."""

    def misfit(self, size: float) -> float:
        """How bad it is when two places are `size` divisions apart."""
        found = self.weight * (size - self.steps) ** 2
        least = self.least or (1 if self.steps > 1 else 0)
        if size < least:
            found += SWAP_PENALTY * (max(least, 1) - size)
        return found


@frozen
class _Move:
    """A small change of the free places, and all that it changes: places with how far they go,
    and terms with what their sizes grow by, in divisions."""

    choice: dict[int, int]
    places: tuple[tuple[int, int], ...]
    terms: tuple[tuple[_Term, int], ...]

    def gain(self, at: Sequence[int], wanted: Sequence[float]) -> float:
        """How much better the move makes places that are `at` so many divisions."""
        gain = 0.0
        for term, by in self.terms:
            size = at[term.high] - at[term.low]
            gain += term.misfit(size) - term.misfit(size + by)
        for place, by in self.places:
            off = at[place] - wanted[place]
            gain += STAY_WEIGHT * (off**2 - (off + by) ** 2)
        return gain


@frozen
class Grid:
    """A net's places on a ruler: how each hangs on the free ones, and what is wanted of them."""

    blank: Blank
    ruler: Ruler
    places: Places
    ties: Ties
    terms: tuple[_Term, ...]

    @staticmethod
    def of(blank: Blank, ruler: Ruler, through: Mapping[str, float] = NOTHING) -> Grid:
        """Study a net. `through` is by panel how thick in mm the card is that goes into its slots,
        which no ruler makes narrower."""
        net = blank.net
        places = Places.of(net)
        wide = extents(net, places)
        anchors = (0, places.across)
        alike = [*wide, *borders(net, places)]
        ties = tied(places.values, anchors, alike, hinge_weight(net, places), alike=COINCIDENT)
        step = ruler.step
        terms = [_Term(e.low, e.high, e.length / step, EXTENT_WEIGHT) for e in wide]
        terms += [_Term(e.low, e.high, e.length / step, GAP_WEIGHT) for e in gaps(net, places)]
        terms += [
            _Term(e.low, e.high, e.length / step, GAP_WEIGHT, math.ceil(thick / step - NEARLY))
            for e, thick in slots(net, places, through)
        ]
        return Grid(blank, ruler, places, ties, tuple(terms))

    @property
    def net(self) -> Net:
        """The exact net."""
        return self.blank.net

    @property
    def panel_extents(self) -> tuple[tuple[str, tuple[tuple[int, int], tuple[int, int]]], ...]:
        """For each panel its name, and its lowest and highest place across and down."""
        found = []
        for panel in self.net.panels:
            across, down = zip(*map(self.places.find, panel.outline.vertices), strict=True)
            found.append((panel.name, ((min(across), max(across)), (min(down), max(down)))))
        return tuple(found)

    @property
    def free(self) -> tuple[int, ...]:
        """The places to be chosen, rising."""
        return tuple(self.ties.values)

    def steps(self, chosen: Mapping[int, int]) -> list[int]:
        """All places in divisions, for the free amounts chosen; what is not is nothing."""
        return [
            sum(c * chosen.get(amount, 0) for amount, c in each.items()) for each in self.ties.sums
        ]

    def misfit(self, chosen: dict[int, int]) -> float:
        """How far a choice is from the net, in weighted squares of divisions."""
        at = self.steps(chosen)
        total = sum(term.misfit(at[term.high] - at[term.low]) for term in self.terms)
        for value, steps in zip(self.places.values, at, strict=True):
            total += STAY_WEIGHT * (steps - value / self.ruler.step) ** 2
        return total

    def moved(self, chosen: dict[int, int], point: Point) -> Point:
        """Where a flat point of the exact net comes to lie: between the same places, as far from
        the one as from the other as it was, or beyond the last one as far."""
        at = [self.ruler.length(steps) for steps in self.steps(chosen)]
        left, top = self.places.origin
        across = self.places.across
        return (
            left + _between(self.places.values[:across], at[:across], point[0] - left),
            top - _between(self.places.values[across:], at[across:], top - point[1]),
        )

    def moves(self) -> list[dict[int, int]]:
        """Small changes to try: a free place alone, or with all that lie beyond it."""
        moves = []
        for place in self.free:
            across = place < self.places.across
            beyond = [f for f in self.free if (f < self.places.across) == across and f >= place]
            for by in (1, -1):
                moves.append({place: by})
                if len(beyond) > 1:
                    moves.append(dict.fromkeys(beyond, by))
        return moves

    def best(self, start: dict[int, int] | None = None) -> dict[int, int]:
        """The choice that no small change makes better."""
        chosen = start or {
            amount: self.ruler.nearest(value) for amount, value in self.ties.values.items()
        }
        wanted = [value / self.ruler.step for value in self.places.values]
        at = self.steps(chosen)
        moves = [self._studied(move) for move in self.moves()]
        while True:
            better, most = None, LEAST_GAIN
            for move in moves:
                gain = move.gain(at, wanted)
                if gain > most:
                    better, most = move, gain + LEAST_GAIN
            if better is None:
                return chosen
            chosen = changed(chosen, better.choice)
            at = self.steps(chosen)

    def _studied(self, choice: dict[int, int]) -> _Move:
        by = self.steps(choice)
        return _Move(
            choice,
            tuple((place, way) for place, way in enumerate(by) if way),
            tuple(
                (term, by[term.high] - by[term.low])
                for term in self.terms
                if by[term.high] != by[term.low]
            ),
        )

    def rounded(self, chosen: dict[int, int]) -> Blank:
        """The net with its corners and the sizes of its circles where a choice puts them.

        Drawn guide lines are left out. Raises NetError where a panel or fold would vanish, or
        the net would have other lines than before.
        """
        at = self.steps(chosen)
        try:
            net = net_on_divisions(self.net, self.places, at, self.ruler)
            blank = self.blank if net == self.net else Blank(net, self.blank.relief)
            sound = _sound(blank, self.blank)
        except (CutlayersError, ZeroDivisionError):
            sound = False
        if not sound:
            raise NetError(
                f"net {self.net.name!r} has parts too small for a ruler of "
                f"{self.ruler.written(self.ruler.step)}"
            )
        return blank


def changed(chosen: dict[int, int], move: dict[int, int]) -> dict[int, int]:
    """A choice with a move made."""
    return {place: steps + move.get(place, 0) for place, steps in chosen.items()}


def _between(values: Sequence[float], at: Sequence[float], value: float) -> float:
    above = bisect_left(values, value)
    if above in (0, len(values)):
        end = min(above, len(values) - 1)
        return at[end] + value - values[end]
    share = (value - values[above - 1]) / (values[above] - values[above - 1])
    return at[above - 1] + share * (at[above] - at[above - 1])


def _sound(blank: Blank, original: Blank) -> bool:
    """Whether every fold is still there over its whole length, and every contour with it.

    Lines may have become one where they only just missed each other before.
    """
    net, lines = blank.net, blank.borders
    folds: dict[tuple[Operation, Fold], float] = defaultdict(float)
    for hinge in net.hinges:
        folds[hinge.operation, hinge.fold] += hinge.edge.length
    for stroke in lines:
        if stroke.part is Part.FOLD and stroke.fold is not None:
            folds[stroke.operation, stroke.fold] -= stroke.path.length
    contours = [
        sum(stroke.part in (Part.OUTLINE, Part.OPENING) for stroke in each)
        for each in (lines, original.borders)
    ]
    return contours[0] == contours[1] and all(abs(rest) < 1e-3 for rest in folds.values())
