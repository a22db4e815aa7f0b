"""An independent judge of placed sheets, and jobs to judge: shapely on the panels themselves.

Nothing of the package's own outlines, no-fit regions or checks is used to judge.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path as FilePath

import shapely
from shapely import affinity

from cutlayers.box import Blank
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.strokes import Stroke
from cutlayers.geometry.transforms import Transform
from cutlayers.job.order import SheetRules
from cutlayers.job.stock import Stock
from cutlayers.net import Net, Panel
from cutlayers.net.shapes import polygon
from cutlayers.profile.machine import Bed, Machine
from cutlayers.profile.output import RegisterPlan
from cutlayers.profile.reading import read_profile
from cutlayers.sheets.model import Piece, Sheet
from cutlayers.telling.errors import StyleError

ROOT = FilePath(__file__).parents[2]
CUTTER = read_profile(ROOT / "profiles" / "drag-blade-340.toml")

SLACK = 1e-6
"""mm; what is asked of placed pieces."""

FINE = 1e-4
"""mm that a panel's arcs may be judged too small here; straight edges are judged as they are."""


def machine(width: float, height: float, margin: float = 5.0, marks: int = 0) -> Machine:
    """A cutter with a bed of this size, and register marks or none, whose tools need no room beside
    the pieces: numbers worked by hand are then those of the pieces alone."""
    register = replace(RegisterPlan(), shape="target", count=marks)
    if not marks:
        register = replace(register, shape="none")
    tools = {name: replace(tool, offset=0.0) for name, tool in CUTTER.tools.items()}
    return replace(CUTTER, bed=Bed(width, height, margin), register=register, tools=tools)


def stock(width: float, height: float, grain: str = "unknown") -> Stock:
    """Card of 0.3 mm in sheets of this size."""
    return Stock("card", 0.3, (width, height), 250.0, grain)  # type: ignore[arg-type]


def pieces(nets: Sequence[Net], card: Stock, count: int = 1, **options: object) -> list[Piece]:
    """So many of each net."""
    return [
        Piece(net.name, net.name, Blank(net), card, **options)  # type: ignore[arg-type]
        for net in nets
        for _ in range(count)
    ]


def rectangle_net(width: float, height: float, name: str = "card") -> Net:
    """One panel."""
    return polygon_net([(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)], name)


def polygon_net(corners: Sequence[tuple[float, float]], name: str = "card") -> Net:
    """One panel with straight edges, counter-clockwise."""
    return Net.start(name, "panel", polygon(*corners))


def judged(panel: Panel) -> list[tuple[float, float]]:
    """A panel's corners, its arcs replaced by lines that never lie outside the card.

    A bulging arc becomes chords, a hollow one tangents.
    """
    points: list[tuple[float, float]] = []
    for segment in panel.outline.segments:
        if segment.bulge >= 0:
            points += segment.flatten(FINE)
            continue
        (cx, cy), radius, sweep = segment.centre, segment.radius, segment.sweep
        count = max(2, math.ceil(abs(sweep) / math.sqrt(8 * FINE / radius)))
        first = math.atan2(segment.start[1] - cy, segment.start[0] - cx)
        reach = radius / math.cos(sweep / count / 2)
        for step in range(count):
            angle = first + sweep * (step + 0.5) / count
            points.append((cx + reach * math.cos(angle), cy + reach * math.sin(angle)))
        points.append(segment.end)
    return points


def complaints(sheet: Sheet, bed: Bed, rules: SheetRules) -> Iterator[str]:
    """What is wrong with a sheet: border, marks, gaps, and lines that are not what they were."""
    edge = max(bed.margin, rules.border)
    area = shapely.box(
        edge - SLACK, edge - SLACK, sheet.width - edge + SLACK, sheet.height - edge + SLACK
    )
    squares = [
        shapely.box(*mark.keep_out).buffer(-SLACK, join_style="mitre") for mark in sheet.marks
    ]
    blanks = []
    for number, placed in enumerate(sheet.placed, start=1):
        move = placed.place
        matrix = [move.xx, move.xy, move.yx, move.yy, move.dx, move.dy]
        panels = [
            affinity.affine_transform(shapely.Polygon(judged(panel)), matrix)
            for panel in placed.piece.net.panels
        ]
        blank = shapely.union_all(panels)
        blanks.append(blank)
        if not area.covers(blank):
            yield f"piece {number} leaves the area"
        if any(blank.intersects(square) for square in squares):
            yield f"piece {number} lies on a register mark"
        yield from _changed_lines(number, placed.piece.lines, placed.strokes, move)
    for one in range(len(blanks)):
        for other in range(one):
            if rules.gap > 2 * SLACK:
                apart = blanks[one].distance(blanks[other])
                if apart < rules.gap - SLACK:
                    yield f"pieces {other + 1} and {one + 1} are {apart} mm apart"
            elif blanks[one].buffer(-SLACK, join_style="mitre").intersects(blanks[other]):
                yield f"pieces {other + 1} and {one + 1} overlap"


def _changed_lines(
    number: int, before: Iterable[Stroke], after: Iterable[Stroke], move: Transform
) -> Iterator[str]:
    if abs(move.determinant - 1.0) > 1e-12:
        yield f"piece {number} is mirrored or scaled"
    for old, new in zip(before, after, strict=True):
        if (old.operation, old.part, old.fold, old.path.bulges, old.path.closed) != (
            new.operation,
            new.part,
            new.fold,
            new.path.bulges,
            new.path.closed,
        ):
            yield f"piece {number} has another line at {old.name}"
        first, here = old.path.vertices[0], new.path.vertices[0]
        for was, now in zip(old.path.vertices, new.path.vertices, strict=True):
            if abs(math.dist(first, was) - math.dist(here, now)) > SLACK:
                yield f"piece {number} has a line of another length at {old.name}"


STYLES = {
    "tray": ("length", "width", "height"),
    "tuck-carton": ("length", "width", "height"),
    "gable-carton": ("length", "width", "height"),
}


def random_net(chance: random.Random, name: str) -> list[Net]:
    """The nets of a box of a random style and size, or a random polygon."""
    if chance.random() < 0.3:
        return [polygon_net(_star(chance), name)]
    while True:
        style = style_named(chance.choice(sorted(STYLES)))
        sizes = {
            "length": chance.uniform(15, 90),
            "width": chance.uniform(12, 70),
            "height": chance.uniform(8, 80),
        }
        try:
            dims = style.dimensions(**sizes)
            return list(style.build(dims, Card(0.3)))
        except StyleError:
            continue


def _star(chance: random.Random) -> list[tuple[float, float]]:
    count = chance.randint(3, 9)
    steps = [chance.uniform(0.4, 1.6) for _ in range(count)]
    total, angle, corners = sum(steps), chance.uniform(0, math.tau), []
    if max(steps) / total > 0.45:
        return _star(chance)
    for step in steps:
        radius = chance.uniform(10, 60)
        corners.append((radius * math.cos(angle), radius * math.sin(angle)))
        angle += math.tau * step / total
    return corners


def random_job(seed: int) -> tuple[list[Piece], Machine, SheetRules]:
    """A mix of pieces on a random sheet, with random rules, marks and margins."""
    chance = random.Random(seed)
    width, height = chance.uniform(150, 600), chance.uniform(150, 600)
    card = stock(width, height, chance.choice(("long", "short", "unknown")))
    grain = "any" if card.grain == "unknown" else chance.choice(("any", "along", "across"))
    rules = SheetRules(
        gap=chance.choice((0.0, 0.0, 1.0, 4.0, chance.uniform(0, 12))),
        border=chance.choice((0.0, chance.uniform(0, 15))),
    )
    mix: list[Piece] = []
    for number in range(chance.randint(1, 3)):
        rotation = chance.choice(("none", "half", "quarter", "quarter", "free"))
        if grain != "any" and rotation in ("none", "half"):
            rotation = "quarter"
        nets = random_net(chance, f"box {number}")
        count = chance.randint(1, 6)
        mix += pieces(nets, card, count, rotation=rotation, grain=grain)
    marks = chance.choice((0, 0, 3, 4))
    return mix, machine(620, 620, chance.choice((0.0, 3.0, 10.0)), marks), rules
