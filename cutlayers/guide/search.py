"""A rounding without faults, looked for next to the nearest one: the least changed first, several
sizes together where one alone brings another fault."""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import replace

from cutlayers.box import Box
from cutlayers.frozen import frozen
from cutlayers.guide.rounding import Grid, changed
from cutlayers.telling.errors import NetError
from cutlayers.telling.findings import Finding, Severity

MOST_TRIES = 130
"""Roundings checked before the best one so far is taken."""

_WEIGHT = {Severity.ERROR: 100, Severity.WARNING: 10, Severity.NOTE: 1}

FAULT = 2.0
"""Divisions squared; the misfit that the search goes through to be rid of a fault."""

Choice = dict[int, int]
Move = tuple[int, tuple[tuple[int, int], ...]]
"""Of which net, and which free amounts are changed by how many divisions."""


@frozen
class Attempt:
    """One rounding of all nets, and the faults it brings."""

    choices: tuple[Choice, ...]
    box: Box
    faults: tuple[Finding, ...]

    @property
    def weight(self) -> int:
        """Of all its faults."""
        return weight(self.faults)


def weight(faults: Sequence[Finding]) -> int:
    """How much faults weigh together, for comparing."""
    return sum(_WEIGHT[finding.severity] for finding in faults)


def searched(
    grids: Sequence[Grid], nearest: Attempt, tried: Callable[[Sequence[Choice]], Attempt]
) -> Attempt:
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
    grids: Sequence[Grid], trial: Attempt
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


def _frozen(choices: Sequence[Choice]) -> tuple[tuple[tuple[int, int], ...], ...]:
    return tuple(tuple(sorted(choice.items())) for choice in choices)
