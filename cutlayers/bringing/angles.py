"""The rigid fold-up of a flat net: the angle of each hinge at which it closes.

Walls are brought together where their sides leave one corner of the sheet (`sides.py`,
`meeting_angles.py`); what then still hangs free, tabs and flaps, is laid on the panel that it
reaches. Where that does not close, other beginnings are tried: with lines of creases that stay flat
in the finished box and are there to press it flat by, and with all panels folded right over. An
answer is tested by what nobody arranged: sides far apart that come together, tabs that lie on
panels, and no panel that goes through another.

Which side of the card is the outside few drawings say: folds are taken to be mountains seen from
the drawn side, unless more of those that are given are valleys.

This module needs shapely and numpy.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Literal

from cutlayers.bringing.attempts import (
    EXACT,
    LEAST_UNSEEN,
    OVER,
    Case,
    Tried,
    case_of,
    judged,
    landed,
    mostly,
    snapped,
)
from cutlayers.bringing.bends import bends
from cutlayers.bringing.closing_ends import closing_ends
from cutlayers.bringing.corners import Meeting, meetings
from cutlayers.bringing.folded import folded_at
from cutlayers.bringing.landing import ALONG, covered
from cutlayers.bringing.meeting_angles import (
    Pair,
    astray,
    meeting_angles,
    with_rings,
)
from cutlayers.bringing.panels import FlatNet
from cutlayers.bringing.right_angles import at_right_angles
from cutlayers.bringing.rules import Shows
from cutlayers.frozen import frozen
from cutlayers.net.folding import fold
from cutlayers.net.model import Net
from cutlayers.telling.errors import NetError

MOST_HINGES = 100
"""Of a net that is tried: time grows with more than their square, a hundred take some seconds."""

MOST_UNSEEN = 0.5
"""mm by which an angle that is taken for a round one moves its panel at most: as much as in a
drawing that is made by hand."""

BEGIN = (90.0, 45.0, 135.0)
"""Degrees that angles are solved from: those of boxes, and of solids with blunt and sharp edges."""

MOST_OPEN = 4
"""Attempts at right angles whose open ends are tried to close."""

LONG = (0.0, 0.25, 0.6, math.inf)
"""Shares of the longest side from which sides are long, one attempt after the other."""

ALIKE = 0.95
"""Share by which the halves of a card cover each other."""

SAME_SIZE = 0.8
"""Share of the largest panel that another one covers at least where all are folded over."""


Outside = Literal["drawn", "behind"]

SIDES: Mapping[Shows, Outside] = {"outside": "drawn", "inside": "behind"}
"""Which side of a drawing is out, by what it shows."""


@frozen
class FoldUp:
    """A net folded up: its hinges have their angles, its panels roles and what they land on.

    `gap` is how far in mm sides that meet lie apart at most: about what layers of card step, or
    less where the drawing leaves room for them.
    `outside` is the side of the drawing that is out, and `outside_reason` what speaks for that.
    `doubtful` names the hinges whose angle nothing tests, "panel 1 | panel 2", and creases that
    stay flat with those that run beside them.
    """

    net: Net
    gap: float
    doubtful: tuple[str, ...]
    outside: Outside
    outside_reason: str


def fold_up(flat: FlatNet, shows: Shows | None = None) -> FoldUp | None:
    """The rigid fold-up that closes; None where none was found, as of a net that has to bend or has
    too many creases to try.

    A net without hinges is as flat as it was drawn. `shows` is the side that the drawing is said to
    show; an inside has been turned over.
    """
    hinges = flat.net.hinges
    if len(hinges) > MOST_HINGES or bends(flat.net):
        return None
    outside, reason = _outside(flat) if shows is None else (SIDES[shows], "said under shows")
    try:
        case = case_of(flat, -1 if shows is None and outside == "behind" else 1)
    except NetError:
        return None
    best = judged(case, tuple(case.all_at(0.0))) if all(case.fixed) else _best(case)
    if best is None:
        return None
    doubtful = dict.fromkeys(
        f"{hinge.first} | {hinge.second}"
        for index, hinge in enumerate(flat.net.hinges)
        if index not in best.tested and case.given[index] is None
    )
    net = folded_at(flat.net, best.angles)
    layered = any(hinge.strip for hinge in net.hinges)
    gap = fold(net).closure_error if layered else best.gap
    return FoldUp(net, gap, tuple(doubtful), outside, reason)


def _outside(flat: FlatNet) -> tuple[Outside, str]:
    more = mostly(flat)
    if not more:
        return "drawn", "nothing says which side is out, so folds are taken for mountains"
    if more > 0:
        return "drawn", "most folds of which the drawing says the way are mountains"
    return "behind", "most folds of which the drawing says the way are valleys"


def _best(case: Case) -> Tried | None:
    """The attempt of which most is tested; the likelier ones come first."""
    # Rings of hinges close at many angles; what does at right ones is meant so.
    found = _squarely(case) if case.tree.rings else None
    if found is None:
        found = _standing_up(case)
        if not case.tree.rings and (found is None or len(found.tested) < len(case.given)):
            found = _squarely(case) or found
    return found or _folded_over(case) or _two_halves(case)


def _standing_up(case: Case) -> Tried | None:
    """The first attempt of walls brought together that is tested as a whole, or else the one of
    which most is."""
    partly: list[Tried] = []
    for tried in _standing(case):
        if tried.fits and len(tried.tested) == len(case.given):
            return tried
        if tried.fits and tried.tested:
            partly.append(tried)
    return max(partly, key=lambda each: len(each.tested), default=None)


def _squarely(case: Case) -> Tried | None:
    """The first attempt at right angles that is tested as a whole; where that leaves creases flat
    in doubt, one that closes its ends by them, if there is one."""
    whole = len(case.given)
    fitting = (each for each in at_right_angles(case) if each.fits and len(each.tested) == whole)
    first: Tried | None = None
    for tried in itertools.islice(fitting, MOST_OPEN):
        sure = _doubting_flat_lines(case, tried)
        first = first or sure
        if len(first.tested) == whole:
            break
        closed = closing_ends(case, tried)
        if closed is not None:
            return closed
    return first


def _doubting_flat_lines(case: Case, tried: Tried) -> Tried:
    """With creases that stay flat in doubt, those that run beside them, of which others might stay
    flat as well, and the rings that they are in: a bag's are meant to be flat, others wait for a
    last fold. What hangs at an end and lies on a panel is not in doubt."""
    flat = {
        index
        for index, hinge in enumerate(case.net.hinges)
        if abs(tried.angles[index]) < EXACT
        and all(len(case.net.hinges_of([name])) > 1 for name in (hinge.first, hinge.second))
    }
    ways = [hinge.edge.direction_at(0.5) for hinge in case.net.hinges]
    doubt = {
        index
        for index, (x, y) in enumerate(ways)
        if any(abs(x * ways[each][1] - y * ways[each][0]) < ALONG for each in flat)
    }
    for index, pair in zip(case.tree.rings, case.tree.ring_pairs, strict=True):
        ring = {index, *case.tree.between(pair.one, pair.other)}
        doubt |= ring if ring & flat else set()
    return replace(tried, tested=tried.tested - doubt)


def _standing(case: Case) -> Iterator[Tried]:
    """Walls brought together by all sides that may meet, then by long ones, then by none."""
    meeting = meetings(case.sheet)
    tried = []
    for long in LONG:
        some = [each for each in meeting if each.one.length > long * case.sheet.longest]
        if some not in tried:
            tried.append(some)
            for begin in BEGIN if some else BEGIN[:1]:
                yield _brought_together(case, some, begin)


def _brought_together(case: Case, meeting: Sequence[Meeting], begin: float) -> Tried:
    """Sides that meet brought together, the hinges between them solved from an angle; what hangs
    free is laid on what it reaches."""
    pairs = [
        Pair(
            each.one.panel, each.one.start, each.one.end,
            each.other.panel, each.other.end, each.other.start,
        )
        for each in meeting
    ]  # fmt: skip
    pairs += case.tree.ring_pairs
    held = frozenset(index for pair in pairs for index in case.tree.between(pair.one, pair.other))
    starts = [
        case.all_at(begin if index in held else 90.0)[index] for index in range(len(case.given))
    ]
    angles = list(meeting_angles(case.tree, starts, pairs, case.fixed))
    unseen = min(MOST_UNSEEN, max(LEAST_UNSEEN, 3 * _inexact(case, angles, pairs)))
    for index in held | {*case.tree.rings}:
        if not case.fixed[index]:
            angles[index] = snapped(case, index, angles[index], unseen)
    tried = judged(case, landed(case, angles, held, unseen))
    solved = zip(tried.angles, case.fixed, strict=True)
    if any(abs(angle) > OVER for angle, fixed in solved if not fixed):
        return replace(tried, fits=False)
    return tried


def _inexact(case: Case, angles: Sequence[float], pairs: Sequence[Pair]) -> float:
    """By how many mm sides that meet miss each other's direction at their ends: how inexact a
    drawing is, where it says more than angles can fulfil."""
    poses = case.tree.poses(angles)
    return max((astray(poses, pair)[1] * pair.length for pair in pairs), default=0.0)


def _folded_over(case: Case) -> Tried | None:
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
    tried = judged(case, angles)
    return tried if tried.fits and tried.tested else None


def _two_halves(case: Case) -> Tried | None:
    """Two panels of one shape are the halves of a card; nothing tests how far it is closed."""
    if len(case.net.panels) != 2 or len(case.net.hinges) != 1:
        return None
    angles = case.all_at(180.0)
    poses = case.tree.poses(angles)
    one, other = (panel.name for panel in case.net.panels)
    if min(covered(case.shapes, poses, *pair) for pair in ((one, other), (other, one))) < ALIKE:
        return None
    return Tried(tuple(angles), 0.0, frozenset(), True)
