"""Our own nets as a careless hand draws them, and what they were.

Slips change lines, files lose what lines are for; whatever is done is told by a seed. What should
come back, the panels and hinges of the nets, stays beside the file.
"""

from __future__ import annotations

import io
import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from random import Random
from typing import Literal

import ezdxf
from ezdxf.document import Drawing as Document

from cutlayers.bringing.lines import Kind
from cutlayers.bringing.rules import DrawnIn, Rules, Selection
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment, union_bounds
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net import Net, linework

Line = tuple[Kind, Path]
Slip = Callable[[Sequence[Line], Random], list[Line]]
Told = Literal["layers", "colours", "dashes", "nothing"]
Written = Literal["svg mm", "svg 90", "svg 72", "dxf mm", "dxf 72", "dxf mirrored"]

GAP = 0.2
"""mm; what a careless hand leaves open."""

SHORT = 2.0
"""mm; lines that are not much longer than a slip are drawn with care."""


@dataclass(frozen=True, slots=True)
class Truth:
    """What should come back: outlines of panels, and the hinges as pairs of their numbers with
    their lengths in mm."""

    panels: tuple[Path, ...]
    hinges: tuple[tuple[frozenset[int], float], ...]


@dataclass(frozen=True, slots=True)
class Handed:
    """A file, what a user has to say of it, and what it was."""

    content: bytes
    unit: DrawnIn | None
    rules: Rules
    truth: Truth


def drawn(nets: Sequence[Net]) -> tuple[list[Line], Truth]:
    """The lines of nets beside each other, and their panels and hinges."""
    lines: list[Line] = []
    panels: list[Path] = []
    hinges: list[tuple[frozenset[int], float]] = []
    right = 0.0
    for net in nets:
        left, bottom, end, _ = net.bounds
        moved = net.transformed(Transform.translation(right - left, -bottom))
        right += end - left + 10.0
        first = len(panels)
        number = {panel.name: first + at for at, panel in enumerate(net.panels)}
        lines += [(Kind(each.operation.value), each.path) for each in linework(moved)]
        panels += [panel.outline for panel in moved.panels]
        hinges += [
            (frozenset((number[hinge.first], number[hinge.second])), hinge.edge.length)
            for hinge in moved.hinges
        ]
    return lines, Truth(tuple(panels), tuple(hinges))


def turned(lines: Sequence[Line], truth: Truth, by: Transform) -> tuple[list[Line], Truth]:
    """Lines and what they are, lying another way."""
    return (
        [(kind, path.transformed(by)) for kind, path in lines],
        Truth(tuple(path.transformed(by) for path in truth.panels), truth.hinges),
    )


def split(lines: Sequence[Line], random: Random) -> list[Line]:
    """Every edge by itself, long ones in several goes."""
    parts: list[Line] = []
    for kind, path in lines:
        for segment in path.segments:
            goes = random.randint(1, 3) if segment.length > 10.0 else 1
            stops = [0.0, *sorted(random.uniform(0.1, 0.9) for _ in range(goes - 1)), 1.0]
            for begin, end in itertools.pairwise(stops):
                if end - begin > 1e-3:
                    parts.append((kind, _alone(segment.part(begin, end))))
    return parts


def doubled(lines: Sequence[Line], random: Random) -> list[Line]:
    """A third of the lines twice, some of them the other way round; a fifth in part."""
    more: list[Line] = []
    for kind, path in lines:
        chance = random.random()
        if chance < 0.33:
            more.append((kind, path.reversed() if random.random() < 0.5 else path))
        elif chance < 0.53:
            segment = random.choice(path.segments)
            begin = random.uniform(0.0, 0.4)
            more.append((kind, _alone(segment.part(begin, begin + random.uniform(0.2, 0.6)))))
    return [*lines, *more]


def gaps(lines: Sequence[Line], random: Random) -> list[Line]:
    """Each edge by itself, a third of them `GAP` short at one end, at most one at a point."""
    parts: list[Line] = []
    open_points: set[Point] = set()
    for kind, path in lines:
        for segment in path.segments:
            at_start = random.random() < 0.5
            x, y = segment.start if at_start else segment.end
            point = round(x, 3), round(y, 3)
            if segment.length > SHORT and random.random() < 0.33 and point not in open_points:
                less = GAP / segment.length
                segment = segment.part(less, 1.0) if at_start else segment.part(0.0, 1.0 - less)
                open_points.add(point)
            parts.append((kind, _alone(segment)))
    return parts


def short_lines(lines: Sequence[Line], random: Random) -> list[Line]:
    """Arcs as chords, within 0.005 to 0.015 mm."""
    return [(kind, path.flattened(random.uniform(0.005, 0.015))) for kind, path in lines]


def shuffled(lines: Sequence[Line], random: Random) -> list[Line]:
    """In any order and direction."""
    some = [(kind, path.reversed() if random.random() < 0.5 else path) for kind, path in lines]
    random.shuffle(some)
    return some


def loose_creases(lines: Sequence[Line], random: Random) -> list[Line]:
    """Creases that run past what they end on, or stop short of it, by up to 1.5 mm."""
    some: list[Line] = []
    for kind, path in lines:
        single = path.segments[0]
        folds = kind in (Kind.SCORE, Kind.PERFORATE) and len(path.bulges) == 1
        if folds and not single.bulge and single.length > 5 * SHORT:
            more, less = random.uniform(-1.5, 1.5), random.uniform(-1.5, 1.5)
            (x0, y0), (x1, y1) = path.start, path.end
            ux, uy = single.direction_at(0.5)
            path = Path.line((x0 - more * ux, y0 - more * uy), (x1 + less * ux, y1 + less * uy))
        some.append((kind, path))
    return some


SLIPS: Mapping[str, tuple[Slip, ...]] = {
    "as drawn": (),
    "split": (split, shuffled),
    "doubled": (doubled, shuffled),
    "gaps": (gaps, shuffled),
    "short lines": (short_lines, shuffled),
    "loose creases": (loose_creases,),
    "all of it": (short_lines, gaps, split, doubled, shuffled),
}


def careless(nets: Sequence[Net], seed: int, slips: str, told: Told, written: Written) -> Handed:
    """A file of some nets, drawn with slips, turned by any angle (twice in three), and written so
    that only so much is told."""
    random = Random(f"{seed} {slips} {told} {written}")
    angle = random.choice((0.0, 90.0, random.uniform(0.0, 360.0)))
    lines, truth = drawn(nets)
    lines, truth = turned(lines, truth, Transform.rotation(angle))
    for slip in SLIPS[slips]:
        lines = slip(lines, random)
    kind, _, scale = written.partition(" ")
    per_mm = {"90": 90 / 25.4, "72": 72 / 25.4}.get(scale, 1.0)
    left, bottom, *_ = union_bounds(path.bounds for _, path in lines)
    place = Transform(xx=per_mm, yy=per_mm) @ Transform.translation(5.0 - left, 5.0 - bottom)
    placed = [(each, path.transformed(place)) for each, path in lines]
    write = as_svg if kind == "svg" else as_dxf
    units: Mapping[str, DrawnIn] = {"90": "1/90 in", "72": "pt"}
    return Handed(write(placed, told, scale), units.get(scale), _rules(lines, told), truth)


COLOURS = {Kind.CUT: "#ff0000", Kind.SCORE: "#0000ff", Kind.PERFORATE: "#00ff00"}
DASHES = {Kind.SCORE: (4.0, 2.0), Kind.PERFORATE: (1.0, 1.0)}

BLACK = "#000000"


def _rules(lines: Sequence[Line], told: Told) -> Rules:
    """What a user says: which colour he cuts. Names and dashes speak for themselves."""
    if told != "colours":
        return Rules()
    kinds = {kind for kind, _ in lines}
    return Rules(
        **{kind.value: (Selection(colour=COLOURS.get(kind, BLACK)),) for kind in sorted(kinds)}
    )


def as_svg(lines: Sequence[Line], told: Told, scale: str) -> bytes:
    """A plain SVG, y pointing down; with "mm" it says its size."""
    _, _, right, top = union_bounds(path.bounds for _, path in lines)
    width, height = right + 5.0, top + 5.0
    unit = "mm" if scale == "mm" else ""
    size = f'width="{width:.3f}{unit}" height="{height:.3f}{unit}"'
    view = f' viewBox="0 0 {width:.3f} {height:.3f}"' if unit else ""
    body = []
    for kind in Kind:
        inside = [
            f'<path d="{_d(path, height)}"{_dash(kind, told)}/>'
            for each, path in lines
            if each is kind
        ]
        if told == "nothing" or not inside:
            continue
        label = f' id="{kind.value}"' if told == "layers" else ""
        colour = COLOURS.get(kind, BLACK) if told == "colours" else BLACK
        body.append(f'<g{label} fill="none" stroke="{colour}">{"".join(inside)}</g>')
    if told == "nothing":
        paths = "".join(f'<path d="{_d(path, height)}"/>' for _, path in lines)
        body.append(f'<g fill="none" stroke="#000000">{paths}</g>')
    return (f'<svg xmlns="http://www.w3.org/2000/svg" {size}{view}>{"".join(body)}</svg>').encode()


def _dash(kind: Kind, told: Told) -> str:
    if told != "dashes" or kind not in DASHES:
        return ""
    return f' stroke-dasharray="{" ".join(f"{each:g}" for each in DASHES[kind])}"'


def _d(path: Path, height: float) -> str:
    (x, y), *_ = path.vertices
    words = [f"M{x:.4f} {height - y:.4f}"]
    for segment in path.segments:
        x, y = segment.end
        if segment.bulge:
            long_way, sweep = int(abs(segment.bulge) > 1.0), int(segment.bulge < 0.0)
            radius = f"{segment.radius:.5f}"
            words.append(f"A{radius} {radius} 0 {long_way} {sweep} {x:.4f} {height - y:.4f}")
        else:
            words.append(f"L{x:.4f} {height - y:.4f}")
    return " ".join(words) + (" Z" if path.closed else "")


def as_dxf(lines: Sequence[Line], told: Told, scale: str) -> bytes:
    """Lines, arcs and polylines; "mirrored" draws all in a plane that is looked at from behind."""
    document = ezdxf.new("R2010", units=0 if scale == "72" else 4)
    document.linetypes.add("SCORES", [6.0, 4.0, -2.0])
    document.linetypes.add("PERFORATIONS", [2.0, 1.0, -1.0])
    space = document.modelspace()
    index = {Kind.CUT: 1, Kind.SCORE: 5, Kind.PERFORATE: 3}
    for kind, path in lines:
        looks: dict[str, object] = {}
        if told == "layers":
            looks["layer"] = kind.value.upper()
        elif told == "colours":
            looks["true_color"] = int(COLOURS.get(kind, BLACK)[1:], 16)
            looks["color"] = index.get(kind, 7)
        elif told == "dashes" and kind in DASHES:
            looks["linetype"] = "SCORES" if kind is Kind.SCORE else "PERFORATIONS"
        mirrored = scale == "mirrored"
        if len(path.bulges) == 1 and not path.bulges[0] and not mirrored:
            space.add_line(path.start, path.end, looks)
            continue
        sign = -1.0 if mirrored else 1.0
        bulges = [*path.bulges, *([] if path.closed else [0.0])]
        points = [
            (sign * x, y, sign * bulge) for (x, y), bulge in zip(path.vertices, bulges, strict=True)
        ]
        if mirrored:
            looks["extrusion"] = (0, 0, -1)
        space.add_lwpolyline(points, format="xyb", close=path.closed, dxfattribs=looks)
    return _text(document)


def _text(document: Document) -> bytes:
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode(document.output_encoding)


def _alone(segment: Segment) -> Path:
    return Path.from_segments([segment], closed=False)


def middle(path: Path) -> Point:
    """A point inside a panel: halfway along the longest of the level lines through its middle."""
    import shapely

    point = shapely.Polygon(path.points(0.05)).representative_point()
    assert math.isfinite(point.x)
    return point.x, point.y
