"""The trailing blade: what the simulated tip cuts when the holder follows our path."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.geometry.paths import Path, rounded
from cutlayers.geometry.strokes import Operation
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.toolpaths.blade import holder_path, overcut
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import STYLE_LINES, TOOLS, contours, line, machine
from tests.toolpaths.tractrix import trail

STRAY = 0.05
"""mm by which the tip may leave the nominal line."""

CHORDS = 5e-4
"""mm by which the straight pieces that the simulated axis follows stray from its arcs."""

OFFSETS = (0.15, 0.25, 0.5, 0.9)
EAST = (1.0, 0.0)
SQUARE = Path.rectangle(20, 20)
SHAPES = {
    "square": SQUARE,
    "triangle": Path.polygon([(0, 0), (30, 0), (9, 17)]),
    "rounded": rounded([(0, 0), (30, 0), (30, 20), (0, 20)], [4, 2, 6, 1]),
    "hole": Path.circle((0, 0), 2).reversed(),
    "thumb cut": Path(
        ((0, 0), (8, 0), (22, 0), (30, 0), (30, 20), (0, 20)), (0, -1, 0, 0, 0, 0), True
    ),
    "bent line": Path(((0, 0), (20, 0), (20, 10), (5, 10)), (0.0, 0.4, -0.7), closed=False),
    "there and back": Path.polyline(((0, 0), (20, 0), (3, 0))),
}


def blade(offset: float, **more: object) -> Tool:
    """A drag blade."""
    return Tool("blade", ToolType.DRAG_BLADE, offset=offset, **more)  # type: ignore[arg-type]


def tip_path(
    axis: Path, offset: float, pointing: tuple[float, float] = EAST
) -> list[tuple[float, float]]:
    """Where the tip goes when the axis follows a path from where the blade points."""
    points = axis.points(CHORDS)
    if axis.closed:
        points.append(points[0])
    return trail(points, offset, math.atan2(pointing[1], pointing[0]))


def stray(tips: list[tuple[float, float]], nominal: Path) -> float:
    """How far the tip gets from the nominal line, and the line from where the tip was."""
    cut, wanted = shapely.LineString(tips), line(nominal, 1e-3)
    away = shapely.distance(shapely.points(tips), wanted).max()
    there = shapely.points(list(wanted.segmentize(0.2).coords))
    return float(max(away, shapely.distance(there, cut).max()))


def test_the_simulation_itself_makes_a_tractrix() -> None:
    """A blade square to its way comes in line as sech: at s/e of 1, 2, 3 and 5 the tip is off by
    0.648054, 0.265802, 0.099328 and 0.013475 arms. Source: the tractrix of a textbook."""
    tips = trail([(0.0, 0.0), (10.0, 0.0)], 0.5, math.pi / 2)
    away = {round(0.5 * k, 9): -tips[12 * k][1] / 0.5 for k in (1, 2, 3, 5)}

    assert list(away.values()) == pytest.approx([0.648054, 0.265802, 0.099328, 0.013475], abs=1e-5)


@pytest.mark.parametrize("offset", OFFSETS)
@pytest.mark.parametrize("name", SHAPES)
def test_the_tip_stays_on_the_line(name: str, offset: float) -> None:
    """Polygons, arcs and holes, with every offset that blades are sold with."""
    nominal = SHAPES[name]
    axis = holder_path(overcut(nominal, 0.3), blade(offset), EAST)

    assert stray(tip_path(axis, offset), nominal) < STRAY


@pytest.mark.parametrize("offset", OFFSETS)
@pytest.mark.parametrize("name", ["square", "triangle", "thumb cut"])
def test_without_compensation_the_corners_come_out_round(name: str, offset: float) -> None:
    """The same simulation along the nominal line itself strays: it can tell right from wrong."""
    nominal = SHAPES[name]
    start = nominal.segments[0].direction_at(0.0)

    assert stray(tip_path(nominal, offset, start), nominal) > STRAY


def test_a_corner_taken_without_swing_strays_as_the_tractrix_says() -> None:
    """Right after a square corner the tip is a whole offset off the new line, on the old one;
    the axis run on the nominal line leaves 1 − 1/√2 of it or more of the corner uncut."""
    tips = tip_path(SQUARE, 0.5)
    corner = shapely.Point(20, 0)

    assert shapely.LineString(tips).distance(corner) > 0.25 * 0.5


@given(
    contours(),
    st.floats(0.15, 0.9),
    st.floats(0.0, 2 * math.pi),
    st.floats(0.0, 1.0),
    st.booleans(),
)
@settings(max_examples=25, deadline=None)
def test_any_contour_from_any_start(
    path: Path, offset: float, pointing: float, more: float, turned: bool
) -> None:
    """Random contours either way round, the blade pointing anywhere when it comes down."""
    nominal = path.reversed() if turned else path
    direction = (math.cos(pointing), math.sin(pointing))
    axis = holder_path(overcut(nominal, more), blade(offset), direction)

    assert stray(tip_path(axis, offset, direction), nominal) < STRAY


@pytest.mark.parametrize("name", sorted(STYLE_LINES))
def test_every_style_cut_after_cut(name: str) -> None:
    """All cuts of a net one after the other: the blade comes down as the last cut left it."""
    strokes = [each for each in STYLE_LINES[name] if each.operation is Operation.CUT]
    plan = plan_toolpaths(strokes, machine("blade"))
    wanted = shapely.union_all([line(stroke.path) for stroke in strokes])
    pointing = 0.0

    for toolpath in plan.toolpaths:
        points = toolpath.path.points(CHORDS)
        tips = trail(points, 0.25, pointing)
        (x, y), (tip_x, tip_y) = points[-1], tips[-1]
        pointing = math.atan2(y - tip_y, x - tip_x)
        assert shapely.distance(shapely.points(tips), wanted).max() < STRAY


def test_turns_below_the_corner_angle_get_no_swing() -> None:
    """A bend of 20° is stepped over where swings begin at 25°, and still cut within 0.05 mm."""
    bend = math.radians(20)
    nominal = Path.polyline(((0, 0), (20, 0), (20 + 20 * math.cos(bend), 20 * math.sin(bend))))

    stepped = holder_path(nominal, blade(0.9, corner_angle_deg=25.0), EAST)
    swung = holder_path(nominal, blade(0.9, corner_angle_deg=15.0), EAST)

    assert not any(stepped.bulges)
    assert sum(1 for bulge in swung.bulges if bulge) == 1
    # At most offset·(1 − cos(turn/2)), by which a straight step pushes the tip back.
    assert 0.001 < stray(tip_path(stepped, 0.9), nominal) < 0.9 * (1 - math.cos(bend / 2))


@pytest.mark.parametrize(
    ("radius", "pivot", "uncompensated"),
    [(1.0, 1.030776, 0.968246), (5.0, 5.006246, 4.993746), (10.0, 10.003125, 9.996875)],
)
def test_arcs_are_led_outside_themselves(radius: float, pivot: float, uncompensated: float) -> None:
    """To cut radius r the pivot runs √(r² + e²), and a pivot on r cuts √(r² − e²), e 0.25. By
    Pythagoras: the tip trails along its own tangent, at right angles to its radius; computed."""
    ring = Path.circle((0, 0), radius)
    axis = holder_path(ring, blade(0.25), (0.0, 1.0))

    assert [edge.radius for edge in axis.segments] == pytest.approx([pivot] * 2, rel=1e-6)
    tips = trail(ring.points(1e-4) * 12, 0.25, math.pi / 2)
    assert math.hypot(*tips[-1]) == pytest.approx(uncompensated, abs=2e-4)


@pytest.mark.parametrize(("turn_deg", "length"), [(90, 0.392699), (45, 0.196350)])
def test_the_swing_is_an_arc_about_the_corner(turn_deg: float, length: float) -> None:
    """The axis runs e past the corner, then an arc of radius e and length e·turn, e 0.25."""
    turn = math.radians(turn_deg)
    nominal = Path.polyline(((0, 0), (10, 0), (10 + math.cos(turn), math.sin(turn))))
    axis = holder_path(nominal, blade(0.25), EAST)

    run, swing, _ = axis.segments
    assert run.end == pytest.approx((10.25, 0.0))
    assert swing.centre == pytest.approx((10.0, 0.0))
    assert swing.length == pytest.approx(length, rel=1e-5)


def test_a_closed_cut_runs_on_past_its_start() -> None:
    """The tip ends 0.3 mm beyond where it began, so that the last corner lets go."""
    axis = holder_path(overcut(SQUARE, 0.3), blade(0.25), EAST)

    assert not axis.closed
    assert tip_path(axis, 0.25)[-1] == pytest.approx((0.3, 0.0), abs=1e-3)


def test_a_machine_that_swings_by_itself_gets_the_nominal_line() -> None:
    """Off where the machine's own firmware does it."""
    own = {**TOOLS, "blade": blade(0.25, swivel="machine")}
    (stroke,) = (each for each in STYLE_LINES["tray tray"] if each.operation is Operation.CUT)

    (toolpath,) = plan_toolpaths([stroke], machine("blade", own)).toolpaths

    assert toolpath.path.closed
    assert toolpath.path.area == pytest.approx(stroke.path.area)
