"""What tools leave on the card, against what was drawn, read from the written DXF: a tip that is
simulated, a beam that sweeps a disc. Areas are laid by shapely."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.geometry.paths import Path, rounded
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.making.files import machine_files
from cutlayers.making.layers import machine_drawing
from cutlayers.profile.machine import Bed, Machine
from cutlayers.profile.operations import Method
from cutlayers.profile.output import Correction, DxfSettings, FilesPlan, RegisterPlan
from cutlayers.profile.reading import read_profile
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.sheets.model import Sheet
from tests.plans import plan_toolpaths
from tests.published.test_blade_from_any_rest import axes, cut_by
from tests.sheets.judge import stock
from tests.toolpaths.shapes import ROUND, cut, line
from tests.toolpaths.tractrix import trail

SIDE = 300.0
LEAST_STEP = 0.01
"""mm; motors of small machines step 0.025 mm or so (common practice, no source)."""


def cutter(tool: Tool, **more: object) -> Machine:
    """The shipped profile with one tool that cuts and perforates, and nothing known of it else."""
    usual = read_profile("desktop-a4")
    operations = dict(usual.operations)
    for each in (Operation.SCORE, Operation.DRAW):
        operations[each] = replace(operations[each], method=Method.BY_HAND, tool=None)
    given: dict[str, object] = {
        "bed": Bed(SIDE, SIDE),
        "tools": {"blade": tool},
        "operations": operations,
        "files": FilesPlan(("dxf",)),
        "register": RegisterPlan(shape="none"),
        **more,
    }
    return replace(usual, **given)  # type: ignore[arg-type]


def blade(offset: float) -> Tool:
    return Tool("blade", ToolType.DRAG_BLADE, offset=offset, overcut=0.3)


def beam(kerf: float) -> Tool:
    return Tool("blade", ToolType.LASER, kerf=kerf)


def written(
    strokes: Sequence[Stroke], machine: Machine, layer: str = "cut"
) -> list[list[tuple[float, float]]]:
    """The lines of a layer of the file of these strokes, as straight pieces."""
    plan = plan_toolpaths(strokes, machine)
    sheet = Sheet(stock(SIDE, SIDE), 1, SIDE, SIDE, (), ())
    drawing = machine_drawing("sheet", sheet, plan, (), machine)
    (file,) = machine_files("sheet", drawing, machine).values()
    return axes(file, layer)


def moved_by(
    machine: Machine, lines: Sequence[Sequence[tuple[float, float]]]
) -> list[list[tuple[float, float]]]:
    """Where a machine whose movement is not true takes its holder."""
    how = machine.correction
    skew = math.radians(how.skew_deg)
    return [
        [
            (how.x_scale * x + how.y_scale * math.sin(skew) * y, how.y_scale * math.cos(skew) * y)
            for x, y in each
        ]
        for each in lines
    ]


def stray(lines: Sequence[Sequence[tuple[float, float]]], offset: float, drawn: Path) -> float:
    """How far the tip gets from a drawn line and the line from where the tip was. The blade comes
    down as the line begins."""
    (axis,) = lines
    way = drawn.segments[0].direction_at(0.0)
    tips = trail(axis, offset, math.atan2(way[1], way[0]))
    wanted, made = line(drawn, 1e-5), shapely.LineString(tips)
    away = shapely.distance(shapely.points(tips), wanted).max()
    there = shapely.points(list(wanted.segmentize(0.1).coords))
    return float(max(away, shapely.distance(there, made).max()))


SHAPES = {
    "needle": Path.polygon([(60, 60), (100, 60), (60, 63)]),
    "there and back": Path.polyline(((60, 60), (80, 60), (63, 60.001))),
    "rounded": rounded([(60, 60), (90, 60), (90, 80), (60, 80)], [4, 2, 6, 1]),
    "small hole": Path.circle((100, 100), 0.4).reversed(),
    "hole": Path.circle((100, 100), 1.5).reversed(),
}


@pytest.mark.parametrize("offset", [0.25, 0.9])
@pytest.mark.parametrize("name", SHAPES)
def test_short_lines_for_arcs_keep_the_tip_within_the_tolerance(name: str, offset: float) -> None:
    """`curves = "lines"` with 0.02 mm: that is what the tip may stray, not the holder."""
    drawn = SHAPES[name]
    way = drawn.segments[0].direction_at(0.0)
    tool = replace(blade(offset), rest_angle_deg=math.degrees(math.atan2(way[1], way[0])))
    machine = cutter(tool, dxf=DxfSettings(curves="lines", tolerance=0.02))

    lines = written([cut(drawn, Part.OPENING if drawn.closed else Part.SLIT)], machine)

    assert stray(lines, offset, drawn) <= 0.02


@pytest.mark.parametrize("offset", [0.25, 0.9])
@pytest.mark.parametrize("name", SHAPES)
def test_an_unequal_correction_keeps_it_too(name: str, offset: float) -> None:
    """A machine that goes 0.4 % too far across and leans by 0.2°, undone in the file; arcs become
    chords on the way, within the 0.02 mm of the file formats."""
    drawn = SHAPES[name]
    how = Correction(apply=True, x_scale=1.004, y_scale=0.999, skew_deg=0.2)
    way = drawn.segments[0].direction_at(0.0)
    tool = replace(blade(offset), rest_angle_deg=math.degrees(math.atan2(way[1], way[0])))
    machine = cutter(tool, correction=how)

    lines = written([cut(drawn, Part.OPENING if drawn.closed else Part.SLIT)], machine)

    assert stray(moved_by(machine, lines), offset, drawn) <= 0.02


def swept(lines: Sequence[Sequence[tuple[float, float]]], kerf: float) -> BaseGeometry:
    """What a beam takes away."""
    strips = [shapely.LineString(each).buffer(kerf / 2, quad_segs=ROUND) for each in lines]
    return shapely.union_all(strips)


@pytest.mark.parametrize("kerf", [0.1, 0.2, 0.4])
def test_a_slit_is_as_long_as_it_was_drawn(kerf: float) -> None:
    """30 mm from end to end of what is burnt; a free end is burnt half a kerf beyond the path."""
    slit = cut(Path.line((20, 20), (50, 20)), Part.SLIT)

    burnt = swept(written([slit], cutter(beam(kerf))), kerf)

    assert burnt.bounds[0] == pytest.approx(20, abs=1e-6)
    assert burnt.bounds[2] == pytest.approx(50, abs=1e-6)


def test_a_slit_reaches_the_cuts_that_it_meets() -> None:
    """From the border of a plate to its middle, and one that meets another: they stay joined."""
    plate = cut(Path.rectangle(60, 40, (20, 20)))
    first = cut(Path.line((20, 40), (50, 40)), Part.SLIT)
    second = cut(Path.line((40, 40), (40, 30)), Part.SLIT)
    kerf = 0.2

    burnt = swept(written([plate, first, second], cutter(beam(kerf))), kerf)

    card = shapely.box(20, 20, 80, 60).difference(burnt)
    assert burnt.geom_type == "Polygon"  # all of one piece
    assert card.covers(shapely.Point(50 + 1e-3, 40)) and card.covers(shapely.Point(40, 30 - 1e-3))
    assert not card.intersects(shapely.LineString([(20, 40), (49.99, 40)]))


@pytest.mark.parametrize("degrees", [6.0, 8.0, 15.0])
@pytest.mark.parametrize("kerf", [0.2, 0.3])
@pytest.mark.parametrize("part", [Part.OUTLINE, Part.OPENING])
def test_the_point_of_an_acute_notch_is_cut(degrees: float, kerf: float, part: Part) -> None:
    """A disc of half a kerf stays (kerf/2)·(1/sin(α/2) − 1) off the point of a notch: 0.67 mm
    in one of 15° for 0.2 mm. The point is cut, and of the card beside it half a kerf at most."""
    half = 20 * math.tan(math.radians(degrees / 2))
    notch = [(50 + half, 60), (50, 40), (50 - half, 60)]
    outline = Path.polygon([(20, 20), (80, 20), (80, 60), *notch, (20, 60)])
    wedge = shapely.Polygon(notch)
    if part is Part.OPENING:
        outline = Path.polygon([notch[1], notch[0], notch[2]]).reversed()

    burnt = swept(written([cut(outline, part)], cutter(beam(kerf))), kerf)

    tip = shapely.Point(50, 40)
    assert burnt.distance(tip) < 1e-3
    beyond = burnt.difference(wedge).intersection(tip.buffer(4))
    farthest = max(wedge.distance(shapely.Point(at)) for at in shapely.get_coordinates(beyond))
    assert farthest <= kerf / 2 + 1e-3


def test_a_perforated_curve_has_no_steps_finer_than_a_machine() -> None:
    """Cuts along an arc of 45 mm with a blade of 0.25: from cut to cut it turns by 1 mm / 45 mm,
    which moves its axis by 0.0055 mm. No cut begins with so short a way, and the tip keeps its
    line."""
    arc = Path(((20, 50), (110, 50)), (-1.0,), closed=False)
    tear = Stroke(Operation.PERFORATE, arc, Part.FOLD, "tear")
    lines = written([tear], cutter(blade(0.25)), "perforate")

    assert len(lines) > 30
    assert min(math.dist(each[0], each[1]) for each in lines) > LEAST_STEP
    cuts, _ = cut_by(lines, 0.25, 0.0)
    tips = shapely.points(shapely.get_coordinates(cuts))
    assert shapely.distance(tips, line(arc, 1e-4)).max() < LEAST_STEP
