"""The rigid fold-up of a flat net: the angle of each hinge at which it closes.

Walls are brought together where their sides leave one corner of the sheet (`sides.py`,
`meeting_angles.py`); what then still hangs free, tabs and flaps, is laid on the panel that it
reaches. Where that does not close, other beginnings are tried: creases that stay flat in the
finished box and are there to press it flat by, valleys, panels folded right over. An answer is
tested by what nobody arranged: sides far apart that come together, tabs that lie on panels, and no
panel that goes through another.

Which side of the card is the outside no drawing says: folds are taken to be mountains seen from the
drawn side, unless some are given.

This module needs shapely and numpy.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from cutlayers.bringing.landing import (
    ALONG,
    COVERED,
    Shapes,
    angle_onto,
    covered,
    landings,
    meets,
    passing,
    shapes_of,
)
from cutlayers.bringing.meeting_angles import (
    Pair,
    astray,
    meeting_angles,
    poses_of,
    ring_pairs,
    with_angles,
)
from cutlayers.bringing.panels import FlatNet
from cutlayers.bringing.roles import with_roles
from cutlayers.bringing.sides import Sheet, meetings, part_beyond, sheet_of
from cutlayers.frozen import frozen
from cutlayers.net.folding import folding_order
from cutlayers.net.model import Net
from cutlayers.telling.errors import NetError

CLOSED = 3.0
"""mm; sides that are farther apart have not met, and rings that gape by more do not close: card of
a millimetre steps its creases by one or two."""

SNAP = 1.5
"""Degrees by which an angle that was solved may miss a right one, or the half or third of one, and
be taken for it: lines are drawn by hands."""

OVER = 165.0
"""Degrees; a fold by more lays one panel on another, which is no way for sides to meet."""

EXACT = 1e-6
"""Degrees; what is nearer is the rounding of it."""


@frozen
class FoldUp:
    """A net folded up: its hinges have their angles, its panels roles and what they land on.

    `gap` is how far in mm sides that meet lie apart at most: about what layers of card step.
    `doubtful` names the hinges whose angle nothing tests, "panel 1 | panel 2".
    """

    net: Net
    gap: float
    doubtful: tuple[str, ...]


@frozen
class _Tried:
    """Angles of one attempt, how far in mm sides that meet lie apart, and which hinges something
    tests."""

    angles: tuple[float, ...]
    gap: float
    tested: frozenset[int]
    fits: bool
    """Rings close, and nothing passes through anything."""

    @property
    def worth(self) -> tuple[bool, int]:
        return (self.fits, len(self.tested))


@frozen
class _Case:
    """A net to be folded up, with its largest panel first, and what is given of its hinges."""

    net: Net
    sheet: Sheet
    shapes: Shapes
    given: tuple[float | None, ...]
    signs: tuple[int, ...]


def fold_up(flat: FlatNet) -> FoldUp | None:
    """The rigid fold-up that closes; None where none was found, as of a net that has to bend.

    A net without hinges is as flat as it was drawn.
    """
    if any(hinge.edge.bulge for hinge in flat.net.hinges):
        return None
    case = _case(flat)
    try:
        folding_order(case.net)
    except NetError:
        return None
    best: _Tried | None = None
    for begin in _beginnings(case):
        tried = _try(case, begin)
        if best is None or tried.worth > best.worth:
            best = tried
        if best.fits and len(best.tested) == len(case.net.hinges):
            break
    if best is None or not best.fits or (case.net.hinges and not best.tested):
        return None
    doubtful = dict.fromkeys(
        f"{hinge.first} | {hinge.second}"
        for index, hinge in enumerate(flat.net.hinges)
        if index not in best.tested and case.given[index] is None
    )
    net = with_roles(with_angles(flat.net, best.angles))
    return FoldUp(net, best.gap, tuple(doubtful))


def _case(flat: FlatNet) -> _Case:
    largest = max(flat.net.panels, key=lambda panel: panel.outline.area)
    panels = (largest, *(panel for panel in flat.net.panels if panel is not largest))
    net = replace(flat.net, panels=panels)
    given = tuple(float(each) if isinstance(each, int | float) else None for each in flat.given)
    ways = [_way(each) for each in flat.given]
    most = -1 if sum(ways) < 0 else 1
    return _Case(net, sheet_of(net), shapes_of(net), given, tuple(way or most for way in ways))


def _way(given: float | str | None) -> int:
    """1 for a mountain, −1 for a valley, 0 where it is not said."""
    if isinstance(given, str):
        return {"mountain": 1, "valley": -1}.get(given, 0)
    return 0 if not given else int(math.copysign(1, given))


def _beginnings(case: _Case) -> Iterator[tuple[float, ...]]:
    """Angles to begin with: all at right angles first, then with lines that stay flat or turn the
    other way, then all folded right over."""
    right = [90.0 * sign for sign in case.signs]
    for index, angle in enumerate(case.given):
        if angle is not None:
            right[index] = angle
    yield tuple(right)


def _try(case: _Case, begin: Sequence[float]) -> _Tried:
    """What comes of angles to begin with."""
    net = case.net
    pairs = [
        Pair(
            each.one.panel, each.one.start, each.one.end,
            each.other.panel, each.other.end, each.other.start,
        )
        for each in meetings(case.sheet)
    ]  # fmt: skip
    rings = ring_pairs(net)
    fixed = [angle is not None for angle in case.given]
    angles = list(meeting_angles(net, begin, [*rings, *pairs], fixed))
    held = _held(net, [*rings, *pairs])
    for index in range(len(angles)):
        if index in held and not fixed[index]:
            angles[index] = _snapped(angles[index])
    angles = _landed(case, angles, held)
    tried = _judged(case, angles, rings)
    over = [angle for index, angle in enumerate(angles) if case.given[index] is None]
    return replace(tried, fits=False) if any(abs(a) > OVER for a in over) else tried


def _held(net: Net, pairs: Sequence[Pair]) -> set[int]:
    """The hinges that pairs have a say in."""
    found: set[int] = set()
    paths = _Paths(net)
    for pair in pairs:
        found |= paths.between(pair.one, pair.other)
    return found


class _Paths:
    """The hinges of a net's tree between any two panels, and those that close rings with them."""

    def __init__(self, net: Net) -> None:
        tree, loops = folding_order(net)
        number = {id(hinge): index for index, hinge in enumerate(net.hinges)}
        self._up = {net.root.name: frozenset[int]()}
        for carrier, carried, hinge in tree:
            own = frozenset() if hinge is None else frozenset((number[id(hinge)],))
            self._up[carried] = self._up[carrier] | own
        self.loops = [(number[id(hinge)], hinge) for hinge in loops]

    def between(self, one: str, other: str) -> frozenset[int]:
        """The hinges of the tree on the way."""
        return self._up[one] ^ self._up[other]


def _snapped(angle: float) -> float:
    near = round(angle / 15.0) * 15.0
    return near if abs(angle - near) < (SNAP if near % 90 == 0 else SNAP / 3) else angle


def _landed(case: _Case, angles: Sequence[float], held: set[int]) -> list[float]:
    """The angles with what hangs free laid on the panel that it reaches, from the inside outwards;
    what reaches none stays as it was."""
    net, found = case.net, list(angles)
    tree, _ = folding_order(net)
    number = {id(hinge): index for index, hinge in enumerate(net.hinges)}
    for carrier, carried, hinge in tree:
        if hinge is None:
            continue
        index = number[id(hinge)]
        if index in held or case.given[index] is not None:
            continue
        poses = poses_of(with_angles(net, found))
        beyond = part_beyond(net, index, carried)
        others = [p.name for p in net.panels if p.name != carrier and p.name not in beyond]
        ways = [found[index]]
        for other in others:
            turn = angle_onto(poses, hinge, carrier, other)
            if turn is not None:
                ways += [turn, turn + 180.0]
        ways = [math.remainder(way, 360.0) for way in ways]
        best = 0.0
        for way in sorted(dict.fromkeys(ways), key=lambda way: abs(way - angles[index])):
            if way * case.signs[index] < -EXACT or abs(way) > OVER:
                continue
            turned = poses_of(with_angles(net, [*found[:index], way, *found[index + 1 :]]))
            share = max((covered(case.shapes, turned, carried, q) for q in others), default=0.0)
            if share >= COVERED and share > best + 0.1:
                best, found[index] = share, _snapped(way)
    return found


def _judged(case: _Case, angles: Sequence[float], rings: Sequence[Pair]) -> _Tried:
    """What comes together at these angles, and what passes through what.

    That a ring closes says little, since most can at many angles; at right ones it is no chance.
    """
    net = with_angles(case.net, angles)
    poses = poses_of(net)
    paths = _Paths(net)
    gap = 0.0
    tested: set[int] = set()
    fits = True
    for (index, hinge), ring in zip(paths.loops, rings, strict=True):
        off, turned = astray(poses, ring)
        gap = max(gap, off)
        fits = fits and off <= CLOSED and turned <= ALONG
        round_it = {index, *paths.between(hinge.first, hinge.second)}
        if all(abs(math.remainder(angles[each], 90.0)) < EXACT for each in round_it):
            tested |= round_it
    for one, other, _, off in meets(case.sheet, poses):
        if off <= CLOSED:
            gap = max(gap, off)
            tested |= paths.between(one, other)
    for one, other, _ in landings(case.shapes, poses):
        tested |= paths.between(one, other)
    fits = fits and not passing(net, poses, case.shapes)
    return _Tried(tuple(angles), gap, frozenset(tested), fits)
