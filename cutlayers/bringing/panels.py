"""Nets from a cleaned drawing: its faces are panels, creases between two of them hinges.

Cuts between two panels separate them, so that what no crease joins is a net of its own. What cuts
alone enclose inside a panel is a hole in it; cuts that end inside of it are slits, perforations
that do are tear lines, and what is drawn is a guide line.

This module needs shapely; whoever brings no drawing does not import it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from cutlayers.bringing.angles_said import angle_of
from cutlayers.bringing.faces import Cards, cards
from cutlayers.bringing.lines import DrawnText, Edge, Kind
from cutlayers.bringing.planar import planar
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Operation
from cutlayers.net.chains import Nodes, Stretch, chained_path, chains, clear_way, straight_on
from cutlayers.net.edges import COINCIDENT
from cutlayers.net.features import Feature, Work
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Panel, Role

LONGEST_NAME = 40
"""Letters of a text that may be a panel's name; longer ones are something to read."""


@frozen
class FlatNet:
    """A net as it was drawn, not folded yet: all hinges lie flat.

    `given` says of each hinge what the drawing does: its angle in degrees, positive a mountain,
    "mountain", "valley", or None. `left` are edges that are no line of the net: creases that end
    inside a panel, or run along a border with nothing beyond.
    """

    net: Net
    given: tuple[float | str | None, ...]
    left: tuple[Edge, ...] = ()


def flat_nets(edges: Sequence[Edge], texts: Sequence[DrawnText] = ()) -> tuple[FlatNet, ...]:
    """The nets of a drawing, in reading order: the top row first, from left to right.

    Panels are "panel 1", "panel 2" … in the same order, or have the name of the one text that
    stands on them.
    """
    lines = [edge for edge in edges if edge.kind is not Kind.DRAW]
    if not lines:
        return ()
    graph = planar([edge.segment for edge in lines])
    found = cards(graph.loops, lines)
    names = _names(found, texts)
    inside: dict[int, list[Edge]] = defaultdict(list)
    drawn = [edge for edge in edges if edge.kind is Kind.DRAW]
    loose = [*(lines[index] for index in graph.open), *drawn]
    at = found.finder.at([edge.segment.point_at(0.5) for edge in loose])
    for edge, number in zip(loose, at, strict=True):
        if number is not None and found.net[number] is not None:
            inside[number].append(edge)
    members: dict[int, list[int]] = defaultdict(list)
    for number in names:
        members[_of(found, number)].append(number)
    hinges, bare = _hinges(found, lines, names)
    nets = []
    for which, (net, numbers) in enumerate(members.items(), start=1):
        panels = tuple(_panel(found, number, names[number], inside[number]) for number in numbers)
        own = hinges.get(net, [])
        left = [edge for n in numbers for edge in inside[n] if edge.kind is Kind.SCORE]
        left += [edge for n in numbers for edge in bare.get(n, ())]
        flat = Net(f"net {which}", panels, tuple(hinge for hinge, _ in own))
        nets.append(FlatNet(flat, tuple(given for _, given in own), tuple(left)))
    return tuple(nets)


def _of(found: Cards, number: int) -> int:
    net = found.net[number]
    assert net is not None
    return net


def _names(found: Cards, texts: Sequence[DrawnText]) -> dict[int, str]:
    """The name of each panel, in reading order of the nets and of the panels of each."""
    members: dict[int, list[int]] = defaultdict(list)
    for number, net in enumerate(found.net):
        if net is not None:
            members[net].append(number)
    boxes = {number: face.path.bounds for number, face in enumerate(found.faces)}
    whole = {net: _around([boxes[n] for n in numbers]) for net, numbers in members.items()}
    words: dict[int, list[str]] = defaultdict(list)
    for text, under in zip(texts, found.finder.at([text.at for text in texts]), strict=True):
        if angle_of(text.text) is None and under is not None and found.net[under] is not None:
            words[under].append(" ".join(text.text.split()))
    names: dict[int, str] = {}
    for net in _in_reading_order(whole):
        taken: set[str] = set()
        ordered = _in_reading_order({number: boxes[number] for number in members[net]})
        for place, number in enumerate(ordered, start=1):
            own = _name(words[number])
            names[number] = own if own and own not in taken else f"panel {place}"
            taken.add(names[number])
    return names


def _name(words: Sequence[str]) -> str:
    """What the texts on a panel call it, if there is one that can be a name."""
    if len(words) != 1 or not 0 < len(words[0]) <= LONGEST_NAME:
        return ""
    # Numbers are angles or sizes, and a bar stands between two panels of a hinge.
    plain = any(letter.isalpha() for letter in words[0]) and "|" not in words[0]
    return words[0] if plain and not words[0].startswith("panel ") else ""


_Box = tuple[float, float, float, float]


def _around(boxes: Sequence[_Box]) -> _Box:
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


def _in_reading_order(boxes: Mapping[int, _Box]) -> Iterator[int]:
    """Row by row from the top, each from left to right. The row of a box is that of the topmost
    one left, if its middle is no lower than that one's bottom."""
    left = sorted(boxes, key=lambda each: (-round(boxes[each][3], 2), round(boxes[each][0], 2)))
    while left:
        low = boxes[left[0]][1]
        row = [each for each in left if (boxes[each][1] + boxes[each][3]) / 2 >= low - COINCIDENT]
        yield from sorted(row, key=lambda each: (round(boxes[each][0], 2), -boxes[each][3]))
        there = set(row)
        left = [each for each in left if each not in there]


def _panel(found: Cards, number: int, name: str, inside: Iterable[Edge]) -> Panel:
    outline = _merged(found.faces[number].path)
    names = tuple(f"edge {place}" for place in range(1, len(outline.bulges) + 1))
    features = tuple(_features(found.holes.get(number, ()), inside))
    return Panel(name, Role.WALL, outline, names, features)


def _merged(path: Path) -> Path:
    """A closed path without the points inside its straight edges."""
    segments = list(path.segments)
    start = next((i for i, each in enumerate(segments) if not _runs_on(segments[i - 1], each)), 0)
    segments = [*segments[start:], *segments[:start]]
    whole = segments[:1]
    for segment in segments[1:]:
        if _runs_on(whole[-1], segment):
            whole[-1] = Segment(whole[-1].start, segment.end)
        else:
            whole.append(segment)
    return Path.from_segments(whole, closed=True)


def _runs_on(one: Segment, other: Segment) -> bool:
    """Whether two straight edges are one, to less than points are told apart by."""
    if one.bulge or other.bulge:
        return False
    (x0, y0), (x1, y1) = one.start, other.end
    dx, dy = x1 - x0, y1 - y0
    px, py = one.end[0] - x0, one.end[1] - y0
    length = math.hypot(dx, dy)
    if length <= COINCIDENT or px * dx + py * dy <= 0.0:
        return False
    return abs(dx * py - dy * px) / length <= COINCIDENT / 10


def _features(holes: Iterable[Path], inside: Iterable[Edge]) -> Iterator[Feature]:
    count: dict[Work, int] = defaultdict(int)

    def feature(work: Work, path: Path) -> Feature:
        count[work] += 1
        return Feature(work, path, f"{_WORDS[work]} {count[work]}")

    for path in holes:
        circle = _circle(path)
        yield feature(Work.PUNCH, circle) if circle else feature(Work.WINDOW, _merged(path))
    for work, kind in ((Work.SLIT, Kind.CUT), (Work.TEAR, Kind.PERFORATE), (Work.GUIDE, Kind.DRAW)):
        for path in _paths([edge.segment for edge in inside if edge.kind is kind]):
            yield feature(work, path)


_WORDS = {
    Work.PUNCH: "hole",
    Work.WINDOW: "window",
    Work.SLIT: "slit",
    Work.TEAR: "tear line",
    Work.GUIDE: "guide",
}


def _circle(path: Path) -> Path | None:
    """The circle that a closed path of arcs is, or None."""
    if not all(path.bulges):
        return None
    (x, y), radius = path.segments[0].centre, path.segments[0].radius
    for segment in path.segments:
        if math.dist(segment.centre, (x, y)) > ROUND or abs(segment.radius - radius) > ROUND:
            return None
    return Path.circle((x, y), radius)


ROUND = 1e-3
"""mm; arcs about one point within this are one circle."""


def _paths(segments: Sequence[Segment]) -> Iterator[Path]:
    """Lines that end inside a panel, chained as far as there is one way to go."""
    for chain in chains(_stretches(segments), clear_way):
        yield chained_path(chain)


def _stretches(segments: Iterable[Segment]) -> list[Stretch]:
    nodes = Nodes(COINCIDENT)
    return [
        Stretch(nodes.find(segment.start), nodes.find(segment.end), segment, "")
        for segment in segments
    ]


_Given = float | str | None


def _hinges(
    found: Cards, lines: Sequence[Edge], names: Mapping[int, str]
) -> tuple[dict[int, list[tuple[Hinge, _Given]]], dict[int, list[Edge]]]:
    """The hinges of each net with what is given of them, and creases with a panel on one side
    only."""
    place = {number: at for at, number in enumerate(names)}
    alike: dict[tuple[int, int, Kind, _Given], list[Segment]] = defaultdict(list)
    bare: dict[int, list[Edge]] = defaultdict(list)
    for index, edge in enumerate(lines):
        one, other = found.beside[index]
        if edge.kind is Kind.CUT or one == other:
            continue
        if one is None or other is None:
            bare[one if other is None else other].append(edge)  # type: ignore[index]
            continue
        given: _Given = edge.fold_deg if edge.fold_deg is not None else edge.fold or None
        segment = edge.segment
        if place[other] < place[one]:
            one, other, segment = other, one, segment.reversed()
        alike[one, other, edge.kind, given].append(segment)
    hinges: dict[int, list[tuple[Hinge, _Given]]] = defaultdict(list)
    for (one, other, kind, given), segments in sorted(
        alike.items(), key=lambda each: (place[each[0][0]], place[each[0][1]])
    ):
        operation = Operation.SCORE if kind is Kind.SCORE else Operation.PERFORATE
        for crease in _whole_creases(segments):
            hinge = Hinge(names[one], names[other], crease, 0.0, operation)
            hinges[_of(found, one)].append((hinge, given))
    return hinges, bare


def _whole_creases(segments: Sequence[Segment]) -> Iterator[Segment]:
    """Creases between the same two panels, those that run on made one."""
    for chain in chains(_stretches(segments), straight_on):
        yield from chained_path(chain).segments
