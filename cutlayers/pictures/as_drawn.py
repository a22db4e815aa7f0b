"""A drawing that a box was made from, for whoever points at its lines and folds to say what they
are.

Paths are SVG's, in mm with y down, all in the coordinates of the drawing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from shapely import LineString, Point

from cutlayers.bringing.lines import Edge, Kind
from cutlayers.bringing.understanding import Understood, fold_name
from cutlayers.formats.svg import path_data
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import union_bounds
from cutlayers.geometry.transforms import Point as Place
from cutlayers.geometry.transforms import Transform
from cutlayers.job.drawings import Brought
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge
from cutlayers.pictures.timeline import DECIMALS

FLIP = Transform(yy=-1.0)

ON = 0.05
"""mm; a crease that lies no farther from a fold is one that it was made of."""


@frozen
class PanelAsDrawn:
    """A panel with its holes; `box` is left, top, width and height."""

    net: str
    name: str
    box: tuple[float, float, float, float]
    shape: str


@frozen
class LineAsDrawn:
    """A line with what it is for and why; `loose` where an end of it meets nothing."""

    number: int
    kind: str
    evidence: str
    doubtful: bool
    loose: bool
    path: str
    at: Place


@frozen
class FoldAsDrawn:
    """A fold, whose `angle` in degrees is above 0 for a mountain and None where nobody said it;
    `lines` are the numbers of those that it was drawn as, `at` is a point on it."""

    net: str
    name: str
    angle: float | None
    lines: tuple[int, ...]
    path: str
    at: Place


@frozen
class AsDrawn:
    """All of a drawing; `box` is left, top, width and height of its lines."""

    box: tuple[float, float, float, float]
    panels: tuple[PanelAsDrawn, ...]
    lines: tuple[LineAsDrawn, ...]
    folds: tuple[FoldAsDrawn, ...]


def as_drawn(brought: Brought) -> AsDrawn:
    """The drawing of a piece; of nets that are there several times the first."""
    understood = brought.understood
    nets = [flat.net for flat, _ in understood.nets]
    return AsDrawn(
        _box(union_bounds(line.path.bounds for line in understood.drawing.lines)),
        tuple(panel for net in nets for panel in _panels(net)),
        tuple(_lines(understood)),
        tuple(fold for net in nets for fold in _folds(net, brought.angles[net.name], understood)),
    )


def _box(bounds: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    left, low, right, high = bounds
    return (left, -high, right - left, high - low)


def _panels(net: Net) -> Iterator[PanelAsDrawn]:
    for panel in net.panels:
        rings = (
            panel.outline,
            *(each.path for each in panel.features if each.path.closed),
        )
        shape = " ".join(path_data(ring, FLIP, DECIMALS) for ring in rings)
        yield PanelAsDrawn(net.name, panel.name, _box(panel.outline.bounds), shape)


def _lines(understood: Understood) -> Iterator[LineAsDrawn]:
    loose = {number for edge in understood.cleaned.dangling for number in edge.sources}
    for each in understood.meant:
        path, number = each.line.path, each.line.number
        longest = max(path.segments, key=lambda segment: segment.length)
        yield LineAsDrawn(
            number,
            each.kind.value,
            each.evidence,
            each.doubtful,
            number in loose,
            path_data(path, FLIP, DECIMALS),
            FLIP.apply(longest.point_at(0.5)),
        )


def _folds(
    net: Net, angles: Mapping[str, float | None], understood: Understood
) -> Iterator[FoldAsDrawn]:
    creases = [edge for edge in understood.cleaned.edges if edge.kind is not Kind.CUT]
    by_name: dict[str, list[Hinge]] = {}
    for hinge in net.hinges:
        by_name.setdefault(fold_name(hinge), []).append(hinge)
    for name, hinges in by_name.items():
        longest = max((hinge.edge for hinge in hinges), key=lambda edge: edge.length)
        yield FoldAsDrawn(
            net.name,
            name,
            angles[name],
            tuple(sorted({each for hinge in hinges for each in _sources(hinge, creases)})),
            " ".join(
                path_data(Path.from_segments([hinge.edge], closed=False), FLIP, DECIMALS)
                for hinge in hinges
            ),
            FLIP.apply(longest.point_at(0.5)),
        )


def _sources(hinge: Hinge, creases: Sequence[Edge]) -> Iterator[int]:
    """The numbers of the lines that lie along a fold."""
    near = LineString([hinge.edge.start, *hinge.edge.flatten(ON)])
    for edge in creases:
        if near.distance(Point(edge.segment.point_at(0.5))) < ON:
            yield from edge.sources
