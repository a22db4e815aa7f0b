"""The lines of a net, derived from its panels and never listed by a style.

A stretch of border that one panel covers is cut. A stretch that two panels cover is a fold
where they are hinged along it, and one single cut where they are not. So no line is worked
twice and no outline has a gap.

The way: all corners become *nodes* (points closer than `COINCIDENT` are one); every border is
split at the nodes that lie on it, which leaves *stretches* that either coincide from end to end
or not at all; overlaps are refused; stretches are counted; what is alike is chained again.
"""

from __future__ import annotations

import bisect
import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Fold, Operation, Part, Stroke
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net.chains import (
    Nodes,
    Stretch,
    chained_path,
    chains,
    clear_way,
    closed_chains,
    straight_on,
)
from cutlayers.net.edges import COINCIDENT
from cutlayers.net.features import Work
from cutlayers.net.model import Net
from cutlayers.net.overlaps import fraction_on, overlap_error, refuse_overlaps
from cutlayers.net.panel import Hinge, Panel, Role
from cutlayers.net.parts import parts
from cutlayers.telling.findings import Subject

Linework = tuple[Stroke, ...]
"""Strokes of one net: folds, then features, then slits, openings and outlines."""


def linework(net: Net) -> Linework:
    """Derive the strokes of a net.

    Cut outlines are closed paths, counter-clockwise round material and clockwise round
    openings, and none passes a point twice; folds and slits are chained as far as they run on
    straight and alike, slits also round a corner where there is no other way.

    Raises NetError where panels of one part overlap or an outline crosses itself.
    """
    return tuple(stroke for part in parts(net) for stroke in _of_part(part))


def _of_part(net: Net) -> Linework:
    nodes = Nodes(COINCIDENT)
    borders = [(panel.name, segment) for panel in net.panels for segment in panel.outline.segments]
    ends = [(nodes.find(segment.start), nodes.find(segment.end)) for _, segment in borders]
    by_x = sorted((x, y, index) for index, (x, y) in enumerate(nodes.points))
    stretches = [
        stretch
        for (panel, segment), (tail, head) in zip(borders, ends, strict=True)
        for stretch in _split(panel, segment, tail, head, nodes.points, by_x)
    ]
    groups = _coinciding(stretches)
    for first, *others in groups:
        if len(others) > 1 or (others and others[0].tail == first.tail):
            raise overlap_error(net.name, first.panel, others[0].panel, first.segment.start)
    pieces: dict[str, list[Segment]] = {panel.name: [] for panel in net.panels}
    for stretch in stretches:
        pieces[stretch.panel].append(stretch.segment)
    refuse_overlaps(net, pieces)

    outer: list[Stretch] = []
    slits: list[Stretch] = []
    folds: dict[tuple[Operation, Fold], list[tuple[Stretch, Hinge]]] = defaultdict(list)
    for first, *others in groups:
        if not others:
            outer.append(first)
            continue
        hinge = _hinge_along(net.hinges, first, others[0])
        if hinge is None:
            slits.append(first)
        else:
            folds[hinge.operation, hinge.fold].append((first, hinge))
    return (
        *_fold_strokes(net.name, folds),
        *_feature_strokes(net, nodes),
        *(
            Stroke(
                Operation.CUT,
                chained_path(chain),
                Part.SLIT,
                net.name,
                subject=Subject(net=net.name),
            )
            for chain in chains(slits, clear_way)
        ),
        *_contour_strokes(net, outer),
    )


def plate_lines(name: str, outlines: Sequence[Path]) -> Linework:
    """The strokes of plates without folds that may lie edge to edge: slits where they do, and what
    is left of their outlines. Raises NetError as `linework` does; plates are told by their numbers.
    """
    plates = (
        Panel(str(number), Role.WALL, outline, tuple(map(str, range(len(outline.bulges)))))
        for number, outline in enumerate(outlines)
    )
    return linework(Net(name, tuple(plates)))


def moved(lines: Linework, transform: Transform) -> Linework:
    """The strokes where a placed piece has them."""
    return tuple(stroke.transformed(transform) for stroke in lines)


def _split(
    panel: str,
    segment: Segment,
    tail: int,
    head: int,
    points: Sequence[Point],
    by_x: Sequence[tuple[float, float, int]],
) -> Iterator[Stretch]:
    """The pieces of an edge between the nodes that lie on it.

    `points` are the nodes, `by_x` their x, y and number in order of x.
    """
    cuts = [(0.0, tail), (1.0, head)]
    left, bottom, right, top = segment.bounds()
    low = bisect.bisect_left(by_x, (left - COINCIDENT,))
    high = bisect.bisect_right(by_x, (right + COINCIDENT, math.inf))
    for x, y, index in by_x[low:high]:
        if bottom - COINCIDENT <= y <= top + COINCIDENT and index not in (tail, head):
            fraction = fraction_on(segment, (x, y))
            if fraction is not None:
                cuts.append((fraction, index))
    cuts.sort()
    for (begin, start), (finish, end) in itertools.pairwise(cuts):
        bulge = segment.bulge
        if bulge and len(cuts) > 2:
            bulge = math.tan(math.atan(bulge) * (finish - begin))
        yield Stretch(start, end, Segment(points[start], points[end], bulge), panel)


def _coinciding(stretches: Iterable[Stretch]) -> list[list[Stretch]]:
    """Stretches grouped by place, in the order in which each place was first met."""
    between: dict[tuple[int, int], list[list[Stretch]]] = defaultdict(list)
    groups: list[list[Stretch]] = []
    for stretch in stretches:
        forward = stretch if stretch.tail < stretch.head else stretch.reversed()
        for group in between[forward.tail, forward.head]:
            member = group[0] if group[0].tail == forward.tail else group[0].reversed()
            # Arcs between the same nodes are one where their middles are.
            spread = abs(member.segment.bulge - forward.segment.bulge) * forward.segment.chord / 2
            if spread <= COINCIDENT:
                group.append(stretch)
                break
        else:
            group = [stretch]
            between[forward.tail, forward.head].append(group)
            groups.append(group)
    return groups


def _hinge_along(hinges: Sequence[Hinge], one: Stretch, other: Stretch) -> Hinge | None:
    middle = one.segment.point_at(0.5)
    pair = {one.panel, other.panel}
    for hinge in hinges:
        if {hinge.first, hinge.second} == pair and fraction_on(hinge.edge, middle) is not None:
            return hinge
    return None


def _fold_strokes(
    net: str, folds: dict[tuple[Operation, Fold], list[tuple[Stretch, Hinge]]]
) -> Iterator[Stroke]:
    for (operation, fold), members in folds.items():
        along = dict(members)
        for chain in chains([stretch for stretch, _ in members], straight_on):
            hinge = next(along[stretch] for stretch in chain if stretch in along)
            yield Stroke(
                operation,
                chained_path(chain),
                Part.FOLD,
                f"{hinge.first} | {hinge.second}",
                fold,
                subject=Subject(net=net, panel=hinge.first, beyond=hinge.second),
            )


def _feature_strokes(net: Net, nodes: Nodes) -> Iterator[Stroke]:
    """Features as they are, but straight lines that run on from panel to panel made one."""
    straight: dict[Work, list[Stretch]] = defaultdict(list)
    subjects: dict[str, Subject] = {}
    for panel in net.panels:
        for feature in panel.features:
            work, path, name = feature.work, feature.path, f"{panel.name}: {feature.name}"
            subjects[name] = Subject(net=net.name, panel=panel.name, feature=feature.name)
            if len(path.bulges) == 1 and not path.bulges[0]:
                tail, head = nodes.find(path.start), nodes.find(path.end)
                straight[work].append(Stretch(tail, head, path.segments[0], name))
                continue
            if work.part is Part.OPENING and path.area > 0:
                path = path.reversed()
            yield Stroke(work.operation, path, work.part, name, subject=subjects[name])
    for work, stretches in straight.items():
        for chain in chains(stretches, straight_on):
            name = chain[0].panel
            path = chained_path(chain)
            yield Stroke(work.operation, path, work.part, name, subject=subjects[name])


def _contour_strokes(net: Net, stretches: Sequence[Stretch]) -> Iterator[Stroke]:
    tabs = {panel.name for panel in net.panels if panel.role is Role.GLUE_TAB}
    contours = [(chained_path(chain), chain) for chain in closed_chains(stretches)]
    for path, chain in sorted(contours, key=lambda each: _rounded_area(each[0])):
        part = Part.OUTLINE if path.area > 0 else Part.OPENING
        glued = tuple(_tab_borders(chain, tabs))
        subject = Subject(net=net.name)
        yield Stroke(Operation.CUT, path, part, net.name, glued=glued, subject=subject)


def _tab_borders(chain: Sequence[Stretch], tabs: set[str]) -> Iterator[Path]:
    """The runs of a closed chain that bound glue tabs, each as one open path."""
    plain = next((i for i, stretch in enumerate(chain) if stretch.panel not in tabs), None)
    turned = [*chain[plain:], *chain[:plain]] if plain else chain
    for on_tab, run in itertools.groupby(turned, key=lambda stretch: stretch.panel in tabs):
        if on_tab:
            yield chained_path(list(run))


def _rounded_area(path: Path) -> float:
    """Signed area; rounded, so that contours of one size keep their order wherever they lie."""
    return round(path.area, 6)
