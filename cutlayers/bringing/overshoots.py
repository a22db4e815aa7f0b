"""What runs past the line that it should end on: the loose ends of lines that come from beyond
another one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from cutlayers.bringing.lines import Kind
from cutlayers.bringing.noding import STEEP, Noded, Piece
from cutlayers.bringing.planar import planar
from cutlayers.geometry.transforms import Point

SLIVER = 2.0
"""mm²; no panel is as small as what a crease cuts off by running on across a corner."""


def trimmed(graph: Noded, join: float, reach: float) -> tuple[Noded, int]:
    """The lines without what runs past the line it should end on, and how many ends did: by up to
    `join` mm of any line, by up to `reach` of a crease."""
    past: list[Piece] = []
    while more := overshoots(graph, join, reach):
        graph = without(graph, more)
        past += more
    slivers = _cut_off(graph, past, reach) if past and reach else []
    return without(graph, slivers) if slivers else graph, len(past)


def without(graph: Noded, some: Sequence[Piece]) -> Noded:
    """The lines less some pieces of them."""
    gone = {id(piece) for piece in some}
    return replace(graph, pieces=tuple(piece for piece in graph.pieces if id(piece) not in gone))


def _cut_off(graph: Noded, past: Sequence[Piece], reach: float) -> list[Piece]:
    """What is left of creases that ran past several lines: from where they were cut back to, as far
    as they cut slivers off."""
    loops = planar([piece.edge.segment for piece in graph.pieces]).loops
    sides = {side >> 1 for loop in loops if 0.0 < loop.area <= SLIVER for side in loop.sides}
    thin = {id(graph.pieces[index]) for index in sides}
    at: dict[int, list[Piece]] = defaultdict(list)
    for piece in graph.pieces:
        if piece.edge.kind is not Kind.CUT and piece.edge.segment.length <= reach:
            at[piece.tail].append(piece)
            at[piece.head].append(piece)
    found: dict[int, Piece] = {}
    for stub in past:
        # It was cut back to the node that something else is left at.
        node, length = stub.tail if at[stub.tail] else stub.head, stub.edge.segment.length
        walked: list[Piece] = []
        while before := _before(walked[-1] if walked else stub, node, at):
            length += before.edge.segment.length
            if length > reach:
                break
            walked.append(before)
            node = before.head if before.tail == node else before.tail
        while walked and id(walked[-1]) not in thin:
            walked.pop()
        found.update((id(piece), piece) for piece in walked)
    return list(found.values())


def overshoots(graph: Noded, join: float, reach: float) -> list[Piece]:
    """The loose ends of lines that come from beyond another one."""
    degrees = graph.degrees
    short = [piece for piece in graph.pieces if _may_run_past(piece, degrees, join, reach)]
    if not short:
        return []
    at: dict[int, list[Piece]] = {_inner(piece, degrees): [] for piece in short}
    for piece in graph.pieces:
        for node in (piece.tail, piece.head):
            if node in at:
                at[node].append(piece)
    return [piece for piece in short if _before(piece, _inner(piece, degrees), at)]


def _may_run_past(piece: Piece, degrees: Sequence[int], join: float, reach: float) -> bool:
    fewer, more = sorted((degrees[piece.tail], degrees[piece.head]))
    most = join if piece.edge.kind is Kind.CUT else max(join, reach)
    return fewer == 1 and more >= 3 and piece.edge.segment.length <= most


def _inner(piece: Piece, degrees: Sequence[int]) -> int:
    """The node of a loose piece that others meet in."""
    return piece.tail if degrees[piece.head] == 1 else piece.head


def _before(piece: Piece, node: int, at: Mapping[int, Sequence[Piece]]) -> Piece | None:
    """The piece of the same drawn line on the other side of a node. One that begins there, such as
    a small step, has none and is no overshoot."""
    ux, uy = _leaving(piece, node)
    for other in at[node]:
        vx, vy = _leaving(other, node)
        straight = abs(ux * vy - uy * vx) <= STEEP and ux * vx + uy * vy < 0.0
        if straight and not set(piece.edge.sources).isdisjoint(other.edge.sources):
            return other
    return None


def _leaving(piece: Piece, node: int) -> Point:
    segment = piece.edge.segment if piece.tail == node else piece.edge.segment.reversed()
    return segment.direction_at(0.0)
