"""Sizes rounded to a ruler so that the box still works: folded up again and checked.

The nearest rounding is tried first. Where it brings a fault that the exact box does not have (the
lid no longer goes on, a tab falls short), sizes next to it are tried (`search`), and what was
changed is told. Slanted panels (a hexagon on a square grid) cannot stay alike on any ruler; such a
box no longer closes to the last hair, so it is not judged but said to be so.
"""

from __future__ import annotations

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
from cutlayers.guide.interlocking import crossings, slotted, stood_in_slots
from cutlayers.guide.rounding import Grid
from cutlayers.guide.ruler import Ruler
from cutlayers.guide.search import Attempt, Choice, searched, weight
from cutlayers.net import Net
from cutlayers.telling.errors import NetError
from cutlayers.telling.findings import Finding, Severity, Subject

if TYPE_CHECKING:
    from cutlayers.box.facing import GluedOn

CLOSED = 1e-6
"""mm; a loop that misses by less is closed but for the rounding of numbers."""

MISSED = ("closure", "closure-angle", "tab-misses")
"""Codes of findings that say so."""

CARD_GIVES = 0.75
"""Of a division: corners that miss each other by less are pressed together without a crease."""

LEAN_DEG = 3.0
"""Degrees by which panels may meet off their fold angle; card folded by hand is no better."""


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
        return self.uneven, weight(self.left)


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


def _round(
    box: Box,
    ruler: Ruler,
    known: Sequence[Finding],
    item: Item | None,
    usual: Limits,
    glued_on: GluedOn,
) -> RoundedBox:
    through = slotted(box.nets)
    grids = [Grid.of(blank, ruler, through) for blank in box.wholes]
    crossed = crossings(box)
    limits = limits_by_hand(ruler, usual)
    accepted = {_key(finding) for finding in known}

    def tried(choices: Sequence[Choice]) -> Attempt:
        blanks = stood_in_slots(
            [_settled(grid.rounded(choice)) for grid, choice in zip(grids, choices, strict=True)],
            grids,
            choices,
            crossed,
        )
        if blanks == box.wholes:
            return Attempt(tuple(choices), box, ())
        rounded = Box(blanks, box.card, box.origin)
        found = check_box(rounded, item=item, limits=limits, glued_on=glued_on)
        return Attempt(tuple(choices), rounded, tuple(f for f in found if _key(f) not in accepted))

    def far(attempt: Attempt) -> tuple[Adjustment, ...]:
        pairs = zip(grids, attempt.choices, strict=True)
        return tuple(size for grid, choice in pairs for size in _far(grid, choice))

    nearest = tried([grid.best() for grid in grids])
    if _slanted(grids, nearest):
        # Angles that nearly close it may have turned a fold the other way: those of the style hold.
        blanks = tuple(g.rounded(c) for g, c in zip(grids, nearest.choices, strict=True))
        own = Box(blanks, box.card, box.origin)
        return RoundedBox(own, uneven=True, far=far(nearest))
    taken = searched(grids, nearest, tried)
    adjustments = tuple(
        adjustment
        for grid, one, other in zip(grids, nearest.choices, taken.choices, strict=True)
        for adjustment in _adjustments(grid, one, other)
    )
    remaining = {_key(finding) for finding in taken.faults}
    cured = tuple(finding for finding in nearest.faults if _key(finding) not in remaining)
    return RoundedBox(
        taken.box, adjustments=adjustments, reasons=cured, left=taken.faults, far=far(taken)
    )


def _adjustments(grid: Grid, nearest: Choice, taken: Choice) -> Iterator[Adjustment]:
    """The sizes in which two roundings differ."""
    before, after = grid.steps(nearest), grid.steps(taken)

    def differing(low: int, high: int) -> tuple[int, int] | None:
        one, other = before[high] - before[low], after[high] - after[low]
        return (one, other) if one != other else None

    return _told(grid, differing)


def _far(grid: Grid, taken: Choice) -> Iterator[Adjustment]:
    """The sizes that are more than a division off, the nearest beside them."""
    at, values, ruler = grid.steps(taken), grid.places.values, grid.ruler

    def off(low: int, high: int) -> tuple[int, int] | None:
        exact, own = values[high] - values[low], at[high] - at[low]
        is_off = abs(exact - ruler.length(own)) > ruler.step + CLOSED
        return (ruler.nearest(exact), own) if is_off else None

    return _told(grid, off)


def _told(grid: Grid, sizes: Callable[[int, int], tuple[int, int] | None]) -> Iterator[Adjustment]:
    """The widths and heights of panels of which `sizes` gives the nearest and the one taken, in
    divisions, for the places between which they lie; alike ones told once."""
    alike: dict[tuple[bool, int, int], list[str]] = defaultdict(list)
    for name, sides in grid.panel_extents:
        for axis, (low, high) in enumerate(sides):
            found = sizes(low, high)
            if found is not None:
                alike[axis == 1, *found].append(name)
    length = grid.ruler.length
    for (upright, nearest, taken), panels in alike.items():
        yield Adjustment(grid.net.name, tuple(panels), upright, length(nearest), length(taken))


def _slanted(grids: Sequence[Grid], trial: Attempt) -> bool:
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


def limits_by_hand(ruler: Ruler, usual: Limits) -> Limits:
    """The limits of a job, as far as hands and a ruler keep to them."""
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
