"""The rigid fold-up of a flat net: the angle of each hinge at which it closes.

Walls are brought together where their sides leave one corner of the sheet (`sides.py`,
`meeting_angles.py`); what then still hangs free, tabs and flaps, is laid on the panel that it
reaches. Where that does not close, other beginnings are tried: with lines of creases that stay flat
in the finished box and are there to press it flat by, and with all panels folded right over. An
answer is tested by what nobody arranged: sides far apart that come together, tabs that lie on
panels, and no panel that goes through another.

Which side of the card is the outside no drawing says: folds are taken to be mountains seen from the
drawn side, unless some are given.

This module needs shapely and numpy.
"""

from __future__ import annotations

import itertools
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
    Tree,
    astray,
    meeting_angles,
    tree_of,
    with_angles,
    with_rings,
)
from cutlayers.bringing.panels import FlatNet
from cutlayers.bringing.roles import with_roles
from cutlayers.bringing.sides import Meeting, Sheet, meetings, reach, sheet_of
from cutlayers.frozen import frozen
from cutlayers.net.model import Hinge, Net
from cutlayers.telling.errors import NetError

CLOSED = 3.0
"""mm; sides that are farther apart have not met, and rings that gape by more do not close: card of
a millimetre steps its creases by one or two."""

LEAST_UNSEEN = 0.02
"""mm; an angle that was solved is taken for a round one where that moves its panel less."""

MOST_UNSEEN = 0.5
"""mm; as far at most where the drawing is as inexact, as one drawn by hand is."""

BEGIN = (90.0, 45.0, 135.0)
"""Degrees that angles are solved from: those of boxes, and of solids with blunt and sharp edges."""

LONG = (0.0, 0.25, 0.6, math.inf)
"""Shares of the longest side from which sides are long, one attempt after the other."""

OVER = 165.0
"""Degrees; a fold by more lays one panel on another, which is no way for sides to meet."""

BETTER = 0.1
"""Share of a panel by which it has to lie better than at an angle that is nearer."""

ALIKE = 0.95
"""Share by which the halves of a card cover each other."""

SAME_SIZE = 0.8
"""Share of the largest panel that another one covers at least where all are folded over."""

EXACT = 1e-6
"""Degrees; what is nearer is the rounding of it."""

IN_LINE = 0.8
"""mm; creases that lie so near to one line are one, and fold alike."""

ASKEW = 1.5
"""Degrees by which a hinge that closes a ring may miss its angle."""

MOST_LINES = 10
"""Lines of creases of which all ways to stay flat are tried."""

MOST_FLAT = 3
"""Lines that stay flat at most where no ring of hinges rules most ways out."""

MOST_TURNED = 5
"""Lines of creases of which all ways to turn either way are tried."""

BETTER = 0.1
"""Share of a panel by which it has to lie better than at an angle that is nearer."""

ALIKE = 0.95
"""Share by which the halves of a card cover each other."""

SAME_SIZE = 0.8
"""Share of the largest panel that another one covers at least where all are folded over."""

EXACT = 1e-6
"""Degrees; what is nearer is the rounding of it."""

IN_LINE = 0.8
"""mm; creases that lie so near to one line are one, and fold alike."""

ASKEW = 1.5
"""Degrees by which a hinge that closes a ring may miss its angle."""

MOST_LINES = 10
"""Lines of creases of which all ways to stay flat are tried."""

MOST_FLAT = 3
"""Of more lines, or where no ring of hinges rules most ways out, so many stay flat at most."""


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
    """Angles of one attempt, how far in mm sides that meet lie apart, which hinges something
    tests, and whether rings close and nothing passes through anything."""

    angles: tuple[float, ...]
    gap: float
    tested: frozenset[int]
    fits: bool


@frozen
class _Case:
    """A net to be folded up, with its largest panel first, and what is given of its hinges."""

    net: Net
    tree: Tree
    sheet: Sheet
    shapes: Shapes
    given: tuple[float | None, ...]
    signs: tuple[int, ...]

    @property
    def fixed(self) -> tuple[bool, ...]:
        """Which hinges have their angle from the drawing."""
        return tuple(angle is not None for angle in self.given)

    def all_at(self, angle: float) -> list[float]:
        """An angle for all hinges but those given."""
        pairs = zip(self.given, self.signs, strict=True)
        return [sign * angle if given is None else given for given, sign in pairs]


def fold_up(flat: FlatNet) -> FoldUp | None:
    """The rigid fold-up that closes; None where none was found, as of a net that has to bend.

    A net without hinges is as flat as it was drawn.
    """
    if any(hinge.edge.bulge for hinge in flat.net.hinges):
        return None
    try:
        case = _case(flat)
    except NetError:
        return None
    best = _best(case)
    if best is None:
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
    signs = tuple(way or most for way in ways)
    return _Case(net, tree_of(net), sheet_of(net), shapes_of(net), given, signs)


def _way(given: float | str | None) -> int:
    """1 for a mountain, −1 for a valley, 0 where it is not said."""
    if isinstance(given, str):
        return {"mountain": 1, "valley": -1}.get(given, 0)
    return 0 if not given else int(math.copysign(1, given))


def _best(case: _Case) -> _Tried | None:
    """The attempt of which most is tested; the likelier ones come first."""
    whole = len(case.net.hinges)
    partly: list[_Tried] = []
    attempts = [_standing(case), _with_flat_lines(case)]
    # Rings of hinges close at many angles; what does at right ones is meant so.
    for attempt in reversed(attempts) if case.tree.rings else attempts:
        for tried in attempt:
            if tried.fits and len(tried.tested) == whole:
                return tried
            if tried.fits and tried.tested and attempt is attempts[0]:
                partly.append(tried)
    if partly:
        return max(partly, key=lambda each: len(each.tested))
    return _folded_over(case) or _two_halves(case)


def _standing(case: _Case) -> Iterator[_Tried]:
    """Walls brought together by all sides that may meet, then by long ones, then by none."""
    meeting = meetings(case.sheet)
    tried = []
    for long in LONG:
        some = [each for each in meeting if each.one.length > long * case.sheet.longest]
        if some not in tried:
            tried.append(some)
            for begin in BEGIN if some else BEGIN[:1]:
                yield _brought_together(case, some, begin)


def _brought_together(case: _Case, meeting: Sequence[Meeting], begin: float) -> _Tried:
    pairs = [
        Pair(
            each.one.panel, each.one.start, each.one.end,
            each.other.panel, each.other.end, each.other.start,
        )
        for each in meeting
    ]  # fmt: skip
    pairs += case.tree.ring_pairs
    held = frozenset[int]().union(*(case.tree.between(pair.one, pair.other) for pair in pairs))
    starts = [
        case.all_at(begin if index in held else 90.0)[index] for index in range(len(case.given))
    ]
    angles = list(meeting_angles(case.tree, starts, pairs, case.fixed))
    unseen = min(MOST_UNSEEN, max(LEAST_UNSEEN, 3 * _inexact(case, angles, pairs)))
    for index in held | {*case.tree.rings}:
        if not case.fixed[index]:
            angles[index] = _snapped(case, index, angles[index], unseen)
    tried = _judged(case, _landed(case, angles, held, unseen))
    solved = zip(tried.angles, case.fixed, strict=True)
    if any(abs(angle) > OVER for angle, fixed in solved if not fixed):
        return replace(tried, fits=False)
    return tried


def _with_flat_lines(case: _Case) -> Iterator[_Tried]:
    """With some lines of creases flat and the others at right angles, the fewest first; what hangs
    at an end by one crease is laid on what it reaches."""
    leaves = {
        index
        for index, hinge in enumerate(case.net.hinges)
        if any(len(case.net.hinges_of([name])) == 1 for name in (hinge.first, hinge.second))
    }
    lines = [
        line
        for line in _lines(case.net.hinges)
        if not leaves.issuperset(line) and not any(case.fixed[index] for index in line)
    ]
    for ways in _ways(len(lines), rings=bool(case.tree.rings)):
        angles = case.all_at(90.0)
        for line, way in zip(lines, ways, strict=True):
            for index in line:
                angles[index] *= way
        if _rings_close(case, angles):
            held = frozenset(range(len(angles))) - leaves
            yield _judged(case, _landed(case, angles, held))


def _ways(lines: int, *, rings: bool) -> Iterator[tuple[int, ...]]:
    """What lines of creases may do: 1 for a right angle, 0 for none, −1 for the other way, those
    with most right angles first. Where no ring of hinges rules most out, few are flat."""
    if not rings:
        most = MOST_FLAT if lines <= MOST_LINES else 0
    else:
        most = lines if lines <= MOST_LINES else 2
    others = (0, -1) if rings and lines <= MOST_TURNED else (0,)
    for count in range(1, most + 1):
        for some in itertools.combinations(range(lines), count):
            for turns in itertools.product(others, repeat=count):
                ways = [1] * lines
                for index, way in zip(some, turns, strict=True):
                    ways[index] = way
                yield tuple(ways)


def _lines(hinges: Sequence[Hinge]) -> list[list[int]]:
    """The hinges by the straight line that their creases lie on."""
    lines: list[list[int]] = []
    # The longest first: its direction is the surest.
    for index in sorted(range(len(hinges)), key=lambda index: -hinges[index].edge.chord):
        for line in lines:
            edge = hinges[line[0]].edge
            ux, uy = edge.direction_at(0.5)
            off = [
                ux * (y - edge.start[1]) - uy * (x - edge.start[0])
                for x, y in (hinges[index].edge.start, hinges[index].edge.end)
            ]
            if max(map(abs, off)) < IN_LINE:
                line.append(index)
                break
        else:
            lines.append([index])
    return lines


def _rings_close(case: _Case, angles: Sequence[float]) -> bool:
    poses = case.tree.poses(angles)
    free = [False] * len(angles)
    found = with_rings(case.tree, angles, free)
    return all(
        off <= CLOSED and turned <= ALONG and abs(found[index] - angles[index]) < ASKEW
        for index, pair in zip(case.tree.rings, case.tree.ring_pairs, strict=True)
        for off, turned in (astray(poses, pair),)
    )


def _folded_over(case: _Case) -> _Tried | None:
    """All panels folded right over onto the largest, as those of an envelope, if they lie on it and
    cover it and each other."""
    angles = with_rings(case.tree, case.all_at(180.0), case.fixed)
    poses = case.tree.poses(angles)
    largest, *others = (panel.name for panel in case.net.panels)
    on = [covered(case.shapes, poses, other, largest) for other in others]
    under = [covered(case.shapes, poses, largest, other) for other in others]
    star = all(largest in (hinge.first, hinge.second) for hinge in case.net.hinges)
    if not others or not star or min(on) < ALIKE or max(under) < SAME_SIZE:
        return None
    tried = _judged(case, angles)
    return tried if tried.fits and tried.tested else None


def _two_halves(case: _Case) -> _Tried | None:
    """Two panels of one shape are the halves of a card; nothing tests how far it is closed."""
    if len(case.net.panels) != 2 or len(case.net.hinges) != 1:
        return None
    angles = case.all_at(180.0)
    poses = case.tree.poses(angles)
    one, other = (panel.name for panel in case.net.panels)
    if min(covered(case.shapes, poses, *pair) for pair in ((one, other), (other, one))) < ALIKE:
        return None
    return _Tried(tuple(angles), 0.0, frozenset(), True)


def _inexact(case: _Case, angles: Sequence[float], pairs: Sequence[Pair]) -> float:
    """By how many mm sides that meet miss each other's direction at their ends: how inexact a
    drawing is, where it says more than angles can fulfil."""
    poses = case.tree.poses(angles)
    return max((astray(poses, pair)[1] * pair.length for pair in pairs), default=0.0)


def _snapped(case: _Case, hinge: int, angle: float, unseen: float) -> float:
    """An angle, or the multiple of 15° that moves the panel beyond the hinge by no more than so
    many mm."""
    near = round(angle / 15.0) * 15.0
    each = case.net.hinges[hinge]
    far = min(reach(case.net.panel(name), each) for name in (each.first, each.second))
    return near if math.radians(abs(angle - near)) * far < unseen else angle


def _landed(
    case: _Case, angles: Sequence[float], held: frozenset[int], unseen: float = LEAST_UNSEEN
) -> tuple[float, ...]:
    """The angles with what hangs free laid on the panel that it reaches, from the inside outwards;
    what reaches none stays as it was."""
    found = list(angles)
    for carrier, carried, index, _, _ in case.tree.branches:
        if index in held or index in case.tree.rings or case.fixed[index]:
            continue
        if len(case.sheet.beyond[index, carrier]) > 1:
            continue
        others = [p.name for p in case.net.panels if p.name not in (carrier, carried)]
        poses = case.tree.poses(found)
        hinge = case.net.hinges[index]
        turns = [angle_onto(poses, hinge, carrier, other) for other in others]
        ways = [
            math.remainder(turn + half, 360.0)
            for turn in turns
            if turn is not None
            for half in (0.0, 180.0)
        ]
        ways = sorted(dict.fromkeys(ways), key=lambda way: abs(way - angles[index]))
        best = 0.0
        for way in (*ways, angles[index]):
            if way * case.signs[index] < -EXACT or abs(way) > OVER:
                continue
            turned = case.tree.poses([*found[:index], way, *found[index + 1 :]])
            share = max((covered(case.shapes, turned, carried, q) for q in others), default=0.0)
            if share >= COVERED and share > best + BETTER:
                best, found[index] = share, _snapped(case, index, way, unseen)
    return tuple(found)


def _judged(case: _Case, angles: tuple[float, ...]) -> _Tried:
    """What comes together at these angles, and what passes through what.

    That a ring closes says little, since most can at many angles; at right ones it is no chance.
    """
    tree = case.tree
    poses = tree.poses(angles)
    gap, fits = 0.0, True
    tested: set[int] = set()
    for index, ring in zip(tree.rings, tree.ring_pairs, strict=True):
        off, turned = astray(poses, ring)
        gap = max(gap, off)
        fits = fits and off <= CLOSED and turned <= ALONG
        round_it = {index, *tree.between(ring.one, ring.other)}
        right = all(abs(math.remainder(angles[each], 90.0)) < EXACT for each in round_it)
        if right and any(abs(angles[each]) > EXACT for each in round_it):
            tested |= round_it
    for one, other, _, off in meets(case.sheet, poses):
        between = tree.between(one, other)
        halves = len(between) == 1 and all(abs(angles[index]) > OVER for index in between)
        if off <= CLOSED and not halves:
            gap = max(gap, off)
            tested |= between
    for one, other, _ in landings(case.shapes, poses):
        tested |= tree.between(one, other)
    for index, ring in zip(tree.rings, tree.ring_pairs, strict=True):
        round_it = {index, *tree.between(ring.one, ring.other)}
        if len(round_it - tested) == 1:
            tested |= round_it
    fits = fits and not passing(case.net, poses, case.shapes)
    return _Tried(angles, gap, frozenset(tested), fits)
