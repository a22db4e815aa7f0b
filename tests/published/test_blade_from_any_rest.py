"""A sheet cut by a trailing tip that nobody set straight: driven by the written DXF alone.

The tip is simulated (`tests/toolpaths/tractrix.py`), the file read with the DXF library, and what
was cut held against the drawn lines of the sheet. The blade is left as the last file left it.
"""

from __future__ import annotations

import io
import math
import random
from dataclasses import replace
from functools import cache

import ezdxf
import pytest
import shapely
from ezdxf.entities.lwpolyline import LWPolyline

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation
from cutlayers.job.reading import job_from
from cutlayers.making.files import machine_files
from cutlayers.making.make import draw, lay_out, plan
from cutlayers.making.stages import Layout
from cutlayers.profile.machine import Machine
from cutlayers.profile.output import FilesPlan
from cutlayers.profile.reading import read_profile
from tests.toolpaths.shapes import line
from tests.toolpaths.tractrix import trail

CLOSE = 0.003
"""mm by which the tip may leave the lines once it is in line, and what it may leave uncut."""

CHORDS = 2e-4

RESTS = tuple(math.radians(45 * number) for number in range(8))

HEADERS = """
[stock.card]
caliper = 0.3
sheet = "A4"
[[piece]]
style = "header-card"
stock = "card"
count = 1
size = { length = 60, height = 20 }
options = { hole = "round", punch = 3 }
"""
"""A card with a small hole: a hole shows a blade that comes down askew."""


def blade_machine(offset: float, **files: object) -> Machine:
    """The blade of the shipped profile with another offset, on a bed for A4; the files as asked."""
    machine = read_profile("desktop-a4")
    tool = replace(machine.tools["blade"], offset=offset, overcut=0.3)
    how = FilesPlan(("dxf",), **files)  # type: ignore[arg-type]
    return replace(machine, tools={"blade": tool}, files=how)


def laid(machine: Machine, text: str = HEADERS) -> Layout:
    """The job on sheets."""
    import tomllib

    return lay_out(job_from(tomllib.loads(text), "job.toml", "job"), machine)


@cache
def written(offset: float, order: str = "kept") -> tuple[Layout, dict[str, bytes]]:
    """A laid job and its DXF files."""
    machine = blade_machine(offset, order=order)
    layout = laid(machine, HEADERS.replace("count = 1", f"count = {1 if order == 'kept' else 2}"))
    drawn = draw(plan(layout))
    files: dict[str, bytes] = {}
    for side in drawn.sides:
        files |= machine_files(side.name, side.drawing, machine)
    return layout, files


def axes(file: bytes, layer: str) -> list[list[tuple[float, float]]]:
    """The lines of a layer in the order of the file, as straight pieces."""
    document = ezdxf.read(io.StringIO(file.decode()))
    found = []
    for entity in document.modelspace():
        if entity.dxf.layer != layer:
            continue
        assert isinstance(entity, LWPolyline)
        points = entity.get_points("xyb")
        path = Path(
            tuple((float(x), float(y)) for x, y, _ in points),
            tuple(float(b) for *_, b in points)[: None if entity.closed else -1],
            bool(entity.closed),
        )
        corners = path.points(CHORDS)
        found.append([*corners, corners[0]] if entity.closed else corners)
    return found


def cut_by(
    lines: list[list[tuple[float, float]]], offset: float, rest: float
) -> tuple[list[shapely.LineString], float]:
    """What the tip cuts, line by line, and where it points afterwards."""
    cuts = []
    for axis in lines:
        tips = trail(axis, offset, rest)
        (x, y), (tip_x, tip_y) = axis[-1], tips[-1]
        rest = math.atan2(y - tip_y, x - tip_x)
        cuts.append(shapely.LineString(tips))
    return cuts, rest


def judged(layout: Layout, cuts: list[shapely.LineString]) -> tuple[float, float]:
    """How far into or off the pieces the tip strayed, and how much of the drawn lines is uncut."""
    strokes = [each for each in layout.sheets[0].strokes if each.operation is Operation.CUT]
    wanted = shapely.union_all([line(each.path) for each in strokes])
    card = shapely.union_all(
        [shapely.Polygon(line(each.path)) for each in strokes if each.part == "outline"]
    ).difference(
        shapely.union_all(
            [shapely.Polygon(line(each.path)) for each in strokes if each.part == "opening"]
        )
    )
    made = shapely.MultiLineString(cuts)
    tips = [shapely.Point(each) for each in shapely.get_coordinates(made)]
    shapely.prepare(card)
    stray = max((tip.distance(wanted) for tip in tips if card.intersects(tip)), default=0.0)
    there = shapely.points(shapely.get_coordinates(shapely.segmentize(wanted, 0.2)))
    return float(stray), float(shapely.distance(there, made).max())


@pytest.mark.parametrize("rest", RESTS)
@pytest.mark.parametrize("offset", [0.25, 0.9])
def test_any_rest_and_twice_over(offset: float, rest: float) -> None:
    """Eight directions, and the same sheet once more as the first copy left the blade."""
    layout, files = written(offset)
    (file,) = files.values()
    lines = axes(file, "cut")

    for _copy in range(2):
        cuts, rest = cut_by(lines, offset, rest)
        stray, uncut = judged(layout, cuts)
        assert stray <= CLOSE
        assert uncut <= CLOSE


@pytest.mark.parametrize("offset", [0.25, 0.9])
def test_each_layer_has_its_own(offset: float) -> None:
    """Layers are sent one by one too: each begins with a straight stroke in the waste, of twelve
    offsets or more, that touches no piece and stays within reach."""
    layout, files = written(offset)
    (file,) = files.values()
    sheet = layout.sheets[0]
    outlines = [each.path for each in sheet.strokes if each.part == "outline"]
    pieces = shapely.union_all([shapely.Polygon(line(path)) for path in outlines])
    marks = [shapely.box(*mark.keep_out) for mark in sheet.marks]

    first = shapely.LineString(axes(file, "cut")[0])

    assert first.length >= 12 * offset
    assert shapely.distance(first, pieces) > offset
    assert all(shapely.distance(first, mark) > 0 for mark in marks)
    margin = layout.machine.bed.margin
    reach = shapely.box(margin, margin, sheet.width - margin, sheet.height - margin)
    assert reach.contains(first)


@pytest.mark.parametrize("offset", [0.25])
def test_lines_in_any_order(offset: float) -> None:
    """A driver that takes the lines as it likes: each closed cut brings its own way in."""
    layout, files = written(offset, "any")
    (file,) = files.values()
    lines = axes(file, "cut")
    dice = random.Random(3)

    for rest in RESTS:
        dice.shuffle(lines)
        stray, uncut = judged(layout, cut_by(lines, offset, rest)[0])
        assert stray <= CLOSE
        assert uncut <= CLOSE


def test_two_passes_are_written() -> None:
    """Each line stands twice in the file where two passes are asked for, all of the layer and then
    all again, and the second finds the blade where the first left it."""
    machine = blade_machine(0.25)
    operations = dict(machine.operations)
    operations[Operation.CUT] = replace(operations[Operation.CUT], passes=2)
    twice = replace(machine, operations=operations)
    layout, files = written(0.25)
    (once,) = files.values()
    (side,) = draw(plan(laid(twice))).sides
    (file,) = machine_files(side.name, side.drawing, twice).values()
    single, double = axes(once, "cut"), axes(file, "cut")

    assert len(double) == 2 * (len(single) - 1) + 1
    cuts, _ = cut_by(double, 0.25, math.pi)
    half = len(single)
    assert max(judged(layout, cuts[:half])) <= CLOSE
    assert max(judged(layout, cuts[half:])) <= CLOSE
