"""A drawing cleaned up, and what that took.

From here on lines meet in shared points only, none lies on another, and what is one line or arc is
one edge.

This module needs shapely; whoever brings no drawing does not import it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from cutlayers.bringing.arcs_again import MOST_TURN, smoothed
from cutlayers.bringing.ends import REACH, loose, met
from cutlayers.bringing.lines import DrawnLine, Edge, Kind, Meant
from cutlayers.bringing.overshoots import without
from cutlayers.frozen import frozen

WORKED = (Kind.CUT, Kind.SCORE, Kind.PERFORATE)
"""What panels are bounded by; drawn lines lie on them as they are."""

TINY = 0.05
"""mm; a line shorter than this that ends loosely is a slip of the hand. Half of what a knife can
cut or a pen can draw."""


@frozen
class Counts:
    """What cleaning did, each by how often.

    `doubled`: stretches drawn more than once; `outdone`: stretches where a cut lay on a crease, or
    a perforation on a score, of which the first is done; `gaps` that were closed by moving ends;
    `crossings`: places inside lines where these were split; `arcs` found in so many `short_lines`;
    `tiny` lines left out; `trimmed` ends that ran past the line they end on; `lengthened` creases
    that stopped short of it; `dangling` edges that end where nothing else does.
    """

    doubled: int = 0
    outdone: int = 0
    gaps: int = 0
    crossings: int = 0
    arcs: int = 0
    short_lines: int = 0
    tiny: int = 0
    trimmed: int = 0
    lengthened: int = 0
    dangling: int = 0


@frozen
class Cleaned:
    """Edges that meet in shared points; those that are `dangling` are among them. `lost` are the
    lines of which nothing is left."""

    edges: tuple[Edge, ...]
    counts: Counts
    dangling: tuple[Edge, ...] = ()
    lost: tuple[DrawnLine, ...] = ()


def clean(
    lines: Sequence[Meant], join: float = 0.3, ends: Literal["trim", "keep"] = "trim"
) -> Cleaned:
    """Clean the lines of a drawing; registration marks and what is to be ignored are left out.

    Gaps up to `join` mm are closed. A crease that stops short of an outline, or runs past it, by
    up to `REACH` is made to end there where `ends` says "trim", and left as drawn where it says
    "keep". Raises NetError where lines meet in more places than those of a box can.
    """
    reach = REACH if ends == "trim" else 0.0
    worked = [each for each in lines if each.kind in WORKED]
    lines_met = met([edge for each in worked for edge in _edges(each)], join, reach)
    whole = smoothed(lines_met.graph)
    specks = [
        piece
        for piece in loose(whole.graph.pieces, whole.graph.degrees)
        if piece.edge.segment.length < TINY
    ]
    graph = without(whole.graph, specks)
    pieces, degrees = graph.pieces, graph.degrees
    dangling = tuple(piece.edge for piece in loose(pieces, degrees))
    marks = list(_marks(lines))
    edges = (*(piece.edge for piece in pieces), *marks)
    kept = {number for edge in edges for number in edge.sources}
    lost = tuple(
        each.line
        for each in lines
        if each.kind in (*WORKED, Kind.DRAW) and each.line.number not in kept
    )
    counts = Counts(
        doubled=lines_met.drawn.doubled,
        outdone=lines_met.drawn.outdone,
        gaps=lines_met.gaps,
        crossings=lines_met.drawn.split,
        arcs=whole.arcs,
        short_lines=whole.short_lines,
        tiny=len(specks) + len(set(lines_met.drawn.vanished) - kept),
        trimmed=lines_met.trimmed,
        lengthened=lines_met.lengthened,
        dangling=len(dangling),
    )
    return Cleaned(edges, counts, dangling, lost)


def _edges(meant: Meant) -> Iterator[Edge]:
    """The edges of a line, none of them much more than half a circle."""
    hints = meant.line.hints
    for segment in meant.line.path.segments:
        halves = abs(segment.sweep) > MOST_TURN
        for part in (segment.part(0.0, 0.5), segment.part(0.5, 1.0)) if halves else (segment,):
            yield Edge(part, meant.kind, (meant.line.number,), hints.fold_deg, hints.fold)


def _marks(lines: Sequence[Meant]) -> Iterator[Edge]:
    """Drawn lines, each once."""
    there: dict[tuple[float, ...], None] = {}
    for each in lines:
        if each.kind is not Kind.DRAW:
            continue
        for edge in _edges(each):
            segment = edge.segment
            ends = sorted((segment.start, segment.end))
            middle = segment.point_at(0.5)
            key = tuple(round(value, 2) for point in (*ends, middle) for value in point)
            if key not in there:
                there[key] = None
                yield edge
