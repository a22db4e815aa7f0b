"""Does the lid go over the base?

Measured: the room between walls of lid and base that face the same way and stand beside each other:
the distance of their rigid planes less what the base's wall lies outside of its creases and the
lid's inside, a caliper where both are of one card, and less one more for every glue tab or flap
between them. Of a sleeve, the
room below and above what slides in it is measured alike. A facing piece that is glued on the base
takes its own caliper of the room. The lid may shift, so the room along an
axis is shared out evenly to its two sides. lid-tight: less than `lid_tight`; an error where it is
less than none. lid-loose: more than `lid_loose`.

Why: walls of card have a thickness, and glued corners have two or three. A lid without room must
be forced over and splits its corners; a tight one sucks at the base and is slow to open; a loose
one rattles and drops off when the box is lifted by it.

Cure: change the `clearance` of the box by the amount told, larger for a tight lid, smaller for a
loose one. If you like your lids otherwise, set `lid_tight` and `lid_loose` under [limits] in the
job. Thicker card needs no change: the styles take its caliper into account.

Source: folded panels lie as far outside of their creases as the crease does not take of their
caliper, so between two of one card it is a caliper; a lid needs two calipers, the room, and one
more caliper for each tab between (common practice 0.25–0.5 mm of room a side in card).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from cutlayers.box.facing import BARE, Faced
from cutlayers.construction.card import Card
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import common
from cutlayers.job.limits import Limits
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import Face, facing, height, seen_from
from cutlayers.net.panel import Role
from cutlayers.net.space import Vector, dot
from cutlayers.net.stacking import key
from cutlayers.telling.findings import Allowed, Finding, Severity, Subject, details
from cutlayers.telling.quantities import length

ROUNDING = 1e-6
"""mm; a measure this near to its limit has met it."""


@frozen
class Side:
    """Room on one side in mm: `outer` is the lid's wall, `inner` the base's, as they stand."""

    outer: Face
    inner: Face
    normal: Vector
    room: float


def check_lid(
    box: Assembly, card: Card, limits: Limits, faced: Faced = BARE
) -> tuple[Finding, ...]:
    """An error for a lid that does not go on, warnings for one that is tight or loose."""
    return tuple(
        finding
        for one, other in itertools.combinations([folded.net.name for folded in box.boxes], 2)
        for finding in _judged(
            (
                *sides(box, one, other, card, faced),
                *ends(box, one, other, card, faced),
                *ends(box, other, one, card, faced),
            ),
            limits,
        )
    )


def sides(box: Assembly, base: str, lid: str, card: Card, faced: Faced = BARE) -> tuple[Side, ...]:
    """The sides on which two nets have walls beside each other, and the room there.

    Which net is the outer one follows from the sum of all distances.
    """
    walls = {
        net: [f for f in box.faces if f.net == net and f.panel.role is Role.WALL]
        for net in (base, lid)
    }
    beside: dict[tuple[str, str], tuple[Face, Face, float]] = {}
    for inner in walls[base]:
        near = [
            (abs(height(inner, outer)), outer)
            for outer in walls[lid]
            if facing(inner, outer) == 1 and _overlap(inner, outer)
        ]
        if near:
            # Of several parallel walls it is the nearest that has to slide past.
            _, outer = min(near, key=lambda each: each[0])
            beside[inner.name, outer.name] = (inner, outer, height(inner, outer))
    pairs = list(beside.values())
    if sum(apart for *_, apart in pairs) < 0:
        pairs = [(outer, inner, -apart) for inner, outer, apart in pairs]
    return tuple(
        Side(
            outer,
            inner,
            inner.pose.normal,
            apart
            - card.of(inner.net).bulk
            - card.of(outer.net).take_up
            - _between(box, inner, outer, card)
            - faced.get(key(inner), 0.0),
        )
        for inner, outer, apart in pairs
    )


def ends(
    box: Assembly, inner: str, outer: str, card: Card, faced: Faced = BARE
) -> tuple[Side, ...]:
    """The room below and above a net that another goes round: a sleeve's base and roof, which
    have no walls beside them. Empty where the outer one has no two such panels, or the inner one
    lies elsewhere.

    A panel that lies along them reaches as far as its outer face and what is glued on it, one that
    ends there no farther than its border.
    """
    level = [f for f in box.faces if f.net == outer and f.panel.role in (Role.BASE, Role.LID)]
    within = [f for f in box.faces if f.net == inner]
    found = []
    for one, other in itertools.combinations(level, 2):
        if facing(one, other) != -1:
            continue
        reached = [_reach(face, within, card.of(inner).bulk, faced) for face in (one, other)]
        if all(far < abs(height(one, other)) / 2 for far, _ in reached):
            tabs = [
                any(f.panel.lands_on == face.name and f.net == outer for f in box.faces)
                for face in (one, other)
            ]
            own = card.of(outer)
            found += [
                Side(face, nearest, face.pose.normal, -far - own.take_up - own.caliper * tab)
                for face, (far, nearest), tab in zip((one, other), reached, tabs, strict=True)
            ]
    return tuple(found)


def _reach(level: Face, within: Sequence[Face], bulk: float, faced: Faced) -> tuple[float, Face]:
    """How far panels reach out past the middle of a level one in mm, and which reaches farthest;
    negative where all stay inside."""
    reaches = []
    for face in within:
        way = facing(level, face)
        thick = bulk if way else 0.0
        if way > 0:
            thick += faced.get(key(face), 0.0)
        highest = max(level.pose.flat(face.pose.place(corner))[2] for corner in face.ring)
        reaches.append((highest + thick, face))
    return max(reaches, key=lambda each: each[0])


def _overlap(one: Face, other: Face) -> bool:
    return bool(common(one.shape, seen_from(one.pose, other.pose, other.shape)).area > 1.0)


def _between(box: Assembly, inner: Face, outer: Face, card: Card) -> float:
    """How thick the tabs are on the inside of the outer wall and the outside of the inner one, in
    mm."""
    return sum(
        card.of(wall.net).caliper
        * any(
            face.net == wall.net
            and face.panel.lands_on == wall.name
            and face.panel.under == behind
            and facing(wall, face) == 1
            for face in box.faces
        )
        for wall, behind in ((outer, True), (inner, False))
    )


def _judged(found: Sequence[Side], limits: Limits) -> Iterator[Finding]:
    done: set[int] = set()
    for index, side in enumerate(found):
        if index in done:
            continue
        opposite = next(
            (
                other
                for other in range(index + 1, len(found))
                if other not in done and dot(found[other].normal, side.normal) < -1 + 1e-9
            ),
            None,
        )
        group = [side] if opposite is None else [side, found[opposite]]
        if opposite is not None:
            done.add(opposite)
        yield from _verdict(group, limits)


def _verdict(group: Sequence[Side], limits: Limits) -> Iterator[Finding]:
    room = sum(side.room for side in group) / len(group)
    first = group[0]
    outer, *rest = dict.fromkeys(side.outer.subject for side in group)
    others = (*rest, Subject(net=first.inner.net))
    sides = details(sides=len(group))
    right = Allowed((length(limits.lid_tight),), (length(limits.lid_loose),))
    if room < limits.lid_tight - ROUNDING:
        severity = Severity.ERROR if room < -ROUNDING else Severity.WARNING
        yield Finding("lid-tight", severity, outer, (length(room),), right, others, sides)
    elif room > limits.lid_loose + ROUNDING:
        yield Finding("lid-loose", Severity.WARNING, outer, (length(room),), right, others, sides)
