"""Sizes rounded to a ruler so that the box still works: folded up again and checked.

The nearest rounding is tried first. Where it brings a fault that the exact box does not have (the
lid no longer goes on, a tab falls short), sizes next to it are tried, the least changed first,
several together where one alone brings another fault, and what was changed is told. Slanted
panels (a hexagon on a square grid) cannot stay alike on any ruler; such a box no longer closes to
the last hair, so it is not judged but said to be so.
"""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlayers.box import Blank, Box
from cutlayers.checks import Limits, check_box
from cutlayers.fitting import Item
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.guide.angles import settled
from cutlayers.guide.coarse import with_whole_steps
from cutlayers.guide.rounding import Grid, changed
from cutlayers.guide.ruler import Ruler
from cutlayers.net import Net
from cutlayers.telling.errors import NetError
from cutlayers.telling.findings import Finding, Severity, Subject

if TYPE_CHECKING:
    from cutlayers.box.facing import GluedOn

CLOSED = 1e-6
"""mm; a loop that misses by less is closed but for the rounding of numbers."""

MISSED = ("closure", "closure-angle", "tab-misses")
"""Codes of findings that say so."""

MOST_TRIES = 130
"""Roundings checked before the best one so far is taken."""

CARD_GIVES = 0.75
"""Of a division: corners that miss each other by less are pressed together without a crease."""

LEAN_DEG = 3.0
"""Degrees by which panels may meet off their fold angle; card folded by hand is no better."""

_WEIGHT = {Severity.ERROR: 100, Severity.WARNING: 10, Severity.NOTE: 1}

FAULT = 2.0
"""Divisions squared; the misfit that the search goes through to be rid of a fault."""

Choice = dict[int, int]
Move = tuple[int, tuple[tuple[int, int], ...]]
"""Of which net, and which free amounts are changed by how many divisions."""


@frozen
class Adjustment:
    """A width or height that was not rounded to the nearest: of which panels of which net, what
    would have been nearest and what was taken, in mm."""

    net: str
    panels: tuple[str, ...]
    upright: bool
    nearest: float
    taken: float


@frozen
class RoundedBox:
    """A box on a ruler. `reasons` are the faults of the nearest rounding that the
    `adjustments` cure, `left` those that no rounding tried is free of, `far` the sizes that are
    more than a division off since equal ones stay equal.

    `uneven` says that edges which meet may differ by a division, since slanted panels cannot stay
    alike. `pointwise` says that panels could not even be kept whole: the box is then the exact
    one, and each point of their lines is to be rounded by itself.
    """

    box: Box
    uneven: bool = False
    pointwise: bool = False
    adjustments: tuple[Adjustment, ...] = ()
    reasons: tuple[Finding, ...] = ()
    left: tuple[Finding, ...] = ()
    far: tuple[Adjustment, ...] = ()

    @property
    def trouble(self) -> tuple[bool, int]:
        """How much is wrong with it, for comparing."""
        return self.uneven, _weight(self.left)


def _weight(faults: Sequence[Finding]) -> int:
    return sum(_WEIGHT[finding.severity] for finding in faults)


def round_box(
    box: Box,
    ruler: Ruler,
    known: Sequence[Finding],
    *,
    item: Item | None = None,
    limits: Limits | None = None,
    glued_on: GluedOn = (),
) -> RoundedBox:
    """Round a box to a ruler.

    `known` are the findings of the exact box, which rounding need not cure; `item` is the thing
    to be packed, which must still fit; `limits` are the job's, `glued_on` the facing pieces with
    their calipers. Where parts are too small for the ruler, as where a tab sits on a slanted edge,
    the box comes back exact and `pointwise`.
    """
    best: RoundedBox | None = None
    for stepped in with_whole_steps(box, ruler):
        try:
            found = _round(stepped, ruler, known, item, limits or Limits(), glued_on)
        except NetError:
            continue
        if best is None or found.trouble < best.trouble:
            best = found
        if not any(best.trouble):
            break
    return best or RoundedBox(box, uneven=True, pointwise=True)


@frozen
class _Attempt:
    """One rounding of all nets, and the faults it brings."""

    choices: tuple[Choice, ...]
    box: Box
    faults: tuple[Finding, ...]

    @property
    def weight(self) -> int:
        return _weight(self.faults)


def _round(
    box: Box,
    ruler: Ruler,
    known: Sequence[Finding],
    item: Item | None,
    usual: Limits,
    glued_on: GluedOn,
) -> RoundedBox:
    grids = [Grid.of(blank, ruler) for blank in box.wholes]
    limits = _limits(ruler, usual)
    accepted = {_key(finding) for finding in known}

    def tried(choices: Sequence[Choice]) -> _Attempt:
        blanks = tuple(
            _settled(grid.rounded(choice)) for grid, choice in zip(grids, choices, strict=True)
        )
        if blanks == box.wholes:
            return _Attempt(tuple(choices), box, ())
        rounded = Box(blanks, box.card, box.origin)
        found = check_box(rounded, item=item, limits=limits, glued_on=glued_on)
        return _Attempt(tuple(choices), rounded, tuple(f for f in found if _key(f) not in accepted))

    nearest = tried([grid.best() for grid in grids])
    if _slanted(grids, nearest):
        # Angles that nearly close it may have turned a fold the other way: those of the style hold.
        blanks = tuple(g.rounded(c) for g, c in zip(grids, nearest.choices, strict=True))
        own = Box(blanks, box.card, box.origin)
        return RoundedBox(own, uneven=True, far=_far(grids, nearest))
    taken = _searched(grids, nearest, tried)
    adjustments = tuple(
        adjustment
        for grid, one, other in zip(grids, nearest.choices, taken.choices, strict=True)
        for adjustment in _adjustments(grid, one, other)
    )
    remaining = {_key(finding) for finding in taken.faults}
    cured = tuple(finding for finding in nearest.faults if _key(finding) not in remaining)
    return RoundedBox(
        taken.box, adjustments=adjustments, reasons=cured, left=taken.faults, far=_far(grids, taken)
    )


def _searched(
    grids: Sequence[Grid], nearest: _Attempt, tried: Callable[[Sequence[Choice]], _Attempt]
) -> _Attempt:
    """The rounding with the fewest faults, and of those the one least changed.

    Best first: what has the least misfit and the fewest faults so far is changed next, by one move
    at a time. A move that leaves all faults as they were leads nowhere, and is not tried again
    where there are no others.
    """
    best = nearest
    start = _misfit(grids, nearest.choices)
    waiting = [(0.0, 0, nearest)]
    seen = {_frozen(nearest.choices)}
    idle: dict[Move, set[Finding]] = defaultdict(set)
    tries = 0
    while waiting and best.faults:
        _, _, trial = heapq.heappop(waiting)
        faults = {_plain(fault) for fault in trial.faults}
        for misfit, move, choices in _neighbours(grids, trial):
            if _frozen(choices) in seen or faults <= idle[move]:
                continue
            seen.add(_frozen(choices))
            tries += 1
            if tries > MOST_TRIES:
                return best
            try:
                found = tried(choices)
            except NetError:
                continue
            if found.weight < best.weight:
                best = found
            if not found.faults:
                return found
            now = {_plain(fault) for fault in found.faults}
            idle[move] |= faults & now
            if now != faults:
                heapq.heappush(waiting, (misfit - start + FAULT * len(now), tries, found))
    return best


def _neighbours(
    grids: Sequence[Grid], trial: _Attempt
) -> list[tuple[float, Move, tuple[Choice, ...]]]:
    """Roundings one move away that change a panel which a fault names, or one next to it, or any of
    a net that it names as a whole.

    Those come first whose changed sizes stay nearest to the exact ones, then those with the
    least misfit.
    """
    choices = trial.choices
    subjects = [subject for finding in trial.faults for subject in finding.named]
    faulty = {(subject.net, panel) for subject in subjects for panel in subject.panels}
    whole = {subject.net for subject in subjects if not subject.panels}
    own = [grid.misfit(choice) for grid, choice in zip(grids, choices, strict=True)]
    found = []
    for index, grid in enumerate(grids):
        net = grid.net.name
        named = [p.name for p in grid.net.panels if net in whole or (net, p.name) in faulty]
        hinges = grid.net.hinges_of(named)
        concerned = {*named, *(h.first for h in hinges), *(h.second for h in hinges)}
        for move in grid.moves():
            choice = changed(choices[index], move)
            resized = _resized(grid, choices[index], choice)
            if not resized.keys() & concerned:
                continue
            misfit = sum(own) - own[index] + grid.misfit(choice)
            off = round(max(resized.values()), 6)
            named_move = (index, tuple(sorted(move.items())))
            found.append(
                (off, misfit, named_move, (*choices[:index], choice, *choices[index + 1 :]))
            )
    found.sort(key=lambda each: each[:2])
    return [(misfit, move, tried) for _, misfit, move, tried in found]


def _misfit(grids: Sequence[Grid], choices: Sequence[Choice]) -> float:
    return sum(grid.misfit(choice) for grid, choice in zip(grids, choices, strict=True))


def _plain(fault: Finding) -> Finding:
    """A fault wherever it lies on the card."""
    return replace(fault, subject=replace(fault.subject, at=None))


def _resized(grid: Grid, one: Choice, other: Choice) -> dict[str, float]:
    """The panels whose width or height differs between two roundings, and by how many divisions
    the other's is off at most."""
    before, after = grid.steps(one), grid.steps(other)
    values, step = grid.places.values, grid.ruler.step
    found: dict[str, float] = {}
    for name, sides in grid.panel_extents:
        for low, high in sides:
            size = after[high] - after[low]
            if size != before[high] - before[low]:
                off = abs(float(size) - (values[high] - values[low]) / step)
                found[name] = max(off, found.get(name, 0.0))
    return found


def _adjustments(grid: Grid, nearest: Choice, taken: Choice) -> Iterator[Adjustment]:
    """The widths and heights of panels in which two roundings differ, alike ones told once."""
    before, after = grid.steps(nearest), grid.steps(taken)
    alike: dict[tuple[bool, int, int], list[str]] = defaultdict(list)
    for name, sides in grid.panel_extents:
        for axis, (low, high) in enumerate(sides):
            one, other = before[high] - before[low], after[high] - after[low]
            if one != other:
                alike[axis == 1, one, other].append(name)
    for (upright, one, other), panels in alike.items():
        ruler = grid.ruler
        yield Adjustment(
            grid.net.name, tuple(panels), upright, ruler.length(one), ruler.length(other)
        )


def _far(grids: Sequence[Grid], taken: _Attempt) -> tuple[Adjustment, ...]:
    """The widths and heights of panels that are more than a division off, the nearest beside
    them, alike ones told once."""
    found = []
    for grid, choice in zip(grids, taken.choices, strict=True):
        at, values, ruler = grid.steps(choice), grid.places.values, grid.ruler
        alike: dict[tuple[bool, int, int], list[str]] = defaultdict(list)
        for name, sides in grid.panel_extents:
            for axis, (low, high) in enumerate(sides):
                exact, own = values[high] - values[low], at[high] - at[low]
                if abs(exact - ruler.length(own)) > ruler.step + CLOSED:
                    alike[axis == 1, ruler.nearest(exact), own].append(name)
        found += [
            Adjustment(grid.net.name, tuple(panels), up, ruler.length(near), ruler.length(own))
            for (up, near, own), panels in alike.items()
        ]
    return tuple(found)


def _slanted(grids: Sequence[Grid], trial: _Attempt) -> bool:
    """Whether rounding left panels that no longer meet as those of the exact box do: loops that
    do not close, tabs off their panels, or folds that were equally long and are not."""
    return (
        any(finding.code in MISSED for finding in trial.faults)
        or any(
            blank.folded().closure_error > CLOSED for blank in trial.box.wholes if not blank.curved
        )
        or any(_unequal(grid.net, net) for grid, net in zip(grids, trial.box.nets, strict=True))
    )


def _unequal(exact: Net, rounded: Net) -> bool:
    """Whether folds of one length, a slanted one among them, came out with several."""
    pairs = list(zip(exact.hinges, rounded.hinges, strict=True))
    slanted = [pair for pair in pairs if _leans(pair[0].edge)]
    return any(
        abs(one.edge.chord - other.edge.chord) <= CLOSED
        and abs(one_rounded.edge.chord - other_rounded.edge.chord) > CLOSED
        for one, one_rounded in slanted
        for other, other_rounded in pairs
    )


def _leans(edge: Segment) -> bool:
    return abs(edge.start[0] - edge.end[0]) > CLOSED and abs(edge.start[1] - edge.end[1]) > CLOSED


def _limits(ruler: Ruler, usual: Limits) -> Limits:
    gives = CARD_GIVES * ruler.step
    return replace(
        usual,
        closure=max(usual.closure, gives),
        closure_deg=max(usual.closure_deg, LEAN_DEG),
        overhang=max(usual.overhang, gives),
    )


def _settled(blank: Blank) -> Blank:
    if blank.curved:
        return blank
    net = settled(blank.net)
    return blank if net is blank.net else Blank(net, blank.relief)


def _key(finding: Finding) -> tuple[str, Subject, Severity]:
    return finding.code, replace(finding.subject, at=None), finding.severity


def _frozen(choices: Sequence[Choice]) -> tuple[tuple[tuple[int, int], ...], ...]:
    return tuple(tuple(sorted(choice.items())) for choice in choices)
