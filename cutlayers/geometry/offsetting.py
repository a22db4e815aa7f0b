"""Closed paths moved sideways, with their arcs kept as arcs.

The *side* is the right of the walking direction: for a counter-clockwise outline the outside,
for a clockwise opening the inside of the hole. Either way a positive distance leads away from
the material.

The way: every edge is moved on its own and convex corners are joined by arcs about the corner;
all of that is split wherever it crosses, which leaves *slices* that keep the full distance from
the path all along or nowhere; those that keep it are chained again. So what lies too close to
another part of the path drops out by itself, and we know which part of the path that was.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.crossings import distance_to
from cutlayers.geometry.nearness import Nearness
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.slices import (
    MEETING,
    TOO_CLOSE,
    Slice,
    moved_edges,
    slices_of,
)
from cutlayers.geometry.transforms import Point, turn_between
from cutlayers.telling.errors import CollapseError, PathError


@frozen
class Loss:
    """A stretch of the path that the moved path does not follow.

    `path` is the stretch itself, `edges` the numbers of the edges it lies on, `whole` those of
    them that are lost from end to end. `depth` is how far its farthest point is from being
    reached by a disc of the offset's radius rolling along the moved path, in mm: infinite where
    nothing is left to roll along, and not worked out (0) for an inner corner.
    """

    path: Path
    edges: tuple[int, ...]
    whole: tuple[int, ...]
    depth: float

    @property
    def is_corner(self) -> bool:
        """Whether it is no more than an inner corner, which a disc can never fill."""
        return len(self.edges) == 2 and not self.whole

    @property
    def middle(self) -> Point:
        """A point in the middle of the stretch."""
        return self.path.point_at(self.path.length / 2.0)


@frozen
class Offset:
    """A path moved sideways: what became of it, and what was lost.

    `loops` are closed and run the same way as the path; none where all was swallowed. One of
    opposite sense is a pocket that was shut off from the rest.
    """

    loops: tuple[Path, ...]
    losses: tuple[Loss, ...]


def offset(path: Path, distance: float) -> Path:
    """Move a closed path sideways by `distance` mm.

    Positive is to the right of the walking direction: outward for a counter-clockwise path
    (y up). Arcs stay arcs, convex corners are joined by an arc about the corner, concave ones
    are trimmed. Distance 0 returns the path itself.

    Raises PathError for an open path. A part narrower than 2·|distance| is not mended:
    CollapseError names its place.
    Source: the offset of an arc of radius r is an arc of radius r ± d about the same centre.
    """
    moved = offset_parts(path, distance)
    swallowed = [loss for loss in moved.losses if loss.whole or not loss.is_corner]
    if len(moved.loops) == 1 and not swallowed:
        return moved.loops[0]
    worst = max(swallowed or moved.losses, key=lambda loss: (loss.depth, loss.path.length))
    x, y = worst.middle
    raise CollapseError(
        f"moving a path sideways by {abs(distance):g} mm swallows what lies near "
        f"({x:.2f}, {y:.2f}) mm; it needs to be wider than {2 * abs(distance):g} mm",
        worst.middle,
    )


def offset_parts(path: Path, distance: float) -> Offset:
    """Move a closed path sideways by `distance` mm, and say what that swallows.

    Directions as for `offset`. Raises PathError for an open path.
    """
    if not path.closed:
        raise PathError("only a closed path can be moved sideways")
    if not distance:
        return Offset((path,), ())
    if distance < 0:
        turned = offset_parts(path.reversed(), -distance)
        count = len(path.bulges)
        return Offset(
            tuple(loop.reversed() for loop in turned.loops),
            tuple(
                Loss(
                    loss.path.reversed(),
                    tuple(count - 1 - edge for edge in reversed(loss.edges)),
                    tuple(count - 1 - edge for edge in reversed(loss.whole)),
                    loss.depth,
                )
                for loss in turned.losses
            ),
        )
    edges = path.segments
    slices = slices_of(moved_edges(edges, distance))
    kept = _clear(slices, edges, distance)
    chains = _loops(kept)
    loops = tuple(_closed(chain) for chain in chains)
    followed = {id(each) for chain in chains for each in chain}
    lost = [each for each in slices if each.edge >= 0 and id(each) not in followed]
    return Offset(loops, tuple(_losses(path, distance, lost, loops)))


def _clear(slices: Sequence[Slice], edges: Sequence[Segment], distance: float) -> list[Slice]:
    """The slices whose middles keep a distance from every edge."""
    if not slices:
        return []
    close: set[int] = set()
    middles = [each.middle for each in slices]
    for number, edge in Nearness(edges, distance).beside(middles):
        if number not in close and distance_to(edge, middles[number]) < distance - TOO_CLOSE:
            close.add(number)
    return [each for number, each in enumerate(slices) if number not in close]


def _loops(slices: Sequence[Slice]) -> list[list[Slice]]:
    """Chain slices end to end into closed rounds; what does not close is left out."""
    alive = dict.fromkeys(range(len(slices)))
    leaving: dict[int, list[int]] = {}
    arriving: dict[int, list[int]] = {}
    for index, each in enumerate(slices):
        leaving.setdefault(each.tail, []).append(index)
        arriving.setdefault(each.head, []).append(index)
    # Two slices that run the same line both ways bound nothing.
    for index, each in enumerate(slices):
        for other in leaving.get(each.head, ()):
            twin = slices[other]
            if index in alive and other in alive and other != index and twin.head == each.tail:
                middle, its = each.segment.point_at(0.5), twin.segment.point_at(0.5)
                if math.dist(middle, its) <= 2 * MEETING:
                    alive.pop(index)
                    alive.pop(other)
    doubtful = list(alive)
    while doubtful:
        index = doubtful.pop()
        after = leaving.get(slices[index].head, ())
        before = arriving.get(slices[index].tail, ())
        if index in alive and not all(
            any(other in alive for other in others) for others in (after, before)
        ):
            alive.pop(index)
            doubtful += (*after, *before)
    rounds: list[list[Slice]] = []
    for first in range(len(slices)):
        if first not in alive:
            continue
        chain = [first]
        alive.pop(first)
        while slices[chain[-1]].head != slices[chain[0]].tail:
            here = slices[chain[-1]]
            ways = [index for index in leaving.get(here.head, ()) if index in alive]
            if not ways:
                break
            step = min(ways, key=lambda index: _rightmost(here.segment, slices[index].segment))
            alive.pop(step)
            chain.append(step)
        else:
            rounds.append([slices[index] for index in chain])
    return rounds


def _rightmost(here: Segment, way: Segment) -> float:
    """Sorts ways by how far they bend to the right: where loops touch, that keeps them apart."""
    return turn_between(here.direction_at(1.0), way.direction_at(0.0))


def _closed(chain: Sequence[Slice]) -> Path:
    return Path.from_segments([each.segment for each in chain], closed=True)


def _losses(
    path: Path, distance: float, lost: Sequence[Slice], loops: Sequence[Path]
) -> list[Loss]:
    """Join lost pieces that follow one another on the path."""
    edges = path.segments
    pieces = [(each.edge, each.first, each.last) for each in lost if _reaches(edges, each)]
    moved = {each.edge for each in lost}
    pieces += [
        (number, 0.0, 1.0)
        for number, edge in enumerate(edges)
        if number not in moved and edge.bulge < 0 and edge.radius < distance - TOO_CLOSE
    ]
    pieces.sort()
    chains: list[list[tuple[int, float, float]]] = []
    for piece in pieces:
        if chains and _follows(chains[-1][-1], piece, len(edges)):
            chains[-1].append(piece)
        else:
            chains.append([piece])
    if len(chains) > 1 and _follows(chains[-1][-1], chains[0][0], len(edges)):
        chains[0] = chains.pop() + chains[0]
    rolled = [segment for loop in loops for segment in loop.segments]
    reached = Nearness(rolled, 0.0) if rolled and chains else None
    return [_loss(path, edges, distance, chain, reached) for chain in chains]


def _loss(
    path: Path,
    edges: Sequence[Segment],
    distance: float,
    chain: Sequence[tuple[int, float, float]],
    reached: Nearness | None,
) -> Loss:
    spans: list[tuple[int, float, float]] = []
    share: dict[int, float] = {}
    for edge, first, last in chain:
        share[edge] = share.get(edge, 0.0) + last - first
        if spans and spans[-1][0] == edge and spans[-1][2] == first:
            first = spans.pop()[1]
        spans.append((edge, first, last))
    numbers = tuple(share)
    whole = tuple(number for number in numbers if share[number] > 1.0 - 1e-9)
    segments = [
        edges[edge] if (first, last) == (0.0, 1.0) else edges[edge].part(first, last)
        for edge, first, last in spans
    ]
    if len(whole) == len(edges):
        lost = path
    else:
        lost = Path.from_segments(segments, closed=False)
    depth = 0.0
    if whole or len(numbers) != 2:
        probes = [segment.point_at(f) for segment in segments for f in (0.0, 0.5, 1.0)]
        farthest = max(map(reached.distance, probes)) if reached else math.inf
        depth = farthest - distance
    return Loss(lost, numbers, whole, depth)


def _reaches(edges: Sequence[Segment], lost: Slice) -> bool:
    """Whether a slice is more than the point that rounding makes of its two ends."""
    edge = edges[lost.edge]
    return edge.point_at(lost.first) != edge.point_at(lost.last)


def _follows(one: tuple[int, float, float], other: tuple[int, float, float], count: int) -> bool:
    if one[0] == other[0]:
        return one[2] == other[1]
    return (one[0] + 1) % count == other[0] and one[2] == 1.0 and other[1] == 0.0
