"""What the toolpath tests work on: random contours with arcs, nets of the styles, machines."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from dataclasses import replace

import shapely
from hypothesis import assume
from hypothesis import strategies as st

from cutlayers.construction.card import Card
from cutlayers.construction.styles import styles
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation, Part, Stroke
from cutlayers.geometry.transforms import turn_between
from cutlayers.net import linework
from cutlayers.profile.machine import Bed, Machine
from cutlayers.profile.operations import Method, OperationPlan
from cutlayers.profile.tools import Tool, ToolType

FINE = 1e-4
"""mm by which chords stray from arcs where shapely looks at them."""

ROUND = 64
"""Segments of shapely's quarter circles: a disc of 1 mm is then right to 0.0001 mm."""

TOOLS: Mapping[str, Tool] = {
    "pen": Tool("pen", ToolType.PEN),
    "stylus": Tool("stylus", ToolType.STYLUS),
    "blade": Tool("blade", ToolType.DRAG_BLADE, offset=0.25, overcut=0.3),
    "beam": Tool("beam", ToolType.LASER, kerf=0.2),
    "needle": Tool("needle", ToolType.LASER),
}
"""The needle cuts without width, so that a line comes out as it went in."""


def machine(
    cutter: str = "needle",
    tools: Mapping[str, Tool] = TOOLS,
    **changes: Mapping[str, object],
) -> Machine:
    """A machine whose plans differ from the usual by `changes`, one mapping an operation."""
    usual = {"draw": "pen", "score": "stylus", "perforate": cutter, "cut": cutter}
    plans = {}
    for operation in Operation:
        name = operation.value
        plan = OperationPlan(operation, Method.TOOL, usual[name], 1, name, "#000000", 7)
        plans[operation] = replace(plan, **changes.get(name, {}))  # type: ignore[arg-type]
    return Machine("test", "test", Bed(300, 300), tools, plans)


def cut(path: Path, part: Part = Part.OUTLINE, name: str = "piece", **more: object) -> Stroke:
    """A cut stroke."""
    return Stroke(Operation.CUT, path, part, name, **more)  # type: ignore[arg-type]


def fold(path: Path, way: Fold = Fold.MOUNTAIN, operation: Operation = Operation.SCORE) -> Stroke:
    """A fold."""
    return Stroke(operation, path, Part.FOLD, "fold", way)


def polygon(path: Path, tolerance: float = FINE) -> shapely.Polygon:
    """The inside of a closed path, as shapely sees it."""
    return shapely.Polygon(path.points(tolerance))


def line(path: Path, tolerance: float = FINE) -> shapely.LineString:
    """A path as shapely sees it."""
    points = path.points(tolerance)
    return shapely.LineString([*points, points[0]] if path.closed else points)


def style_lines() -> dict[str, tuple[Stroke, ...]]:
    """The strokes of every net of every style as it comes, with holes and tear lines where the
    style has them."""
    extras = {"gable-carton": {"punch": 4.0}, "tuck-carton": {"tear": 8.0}}
    return {
        f"{style.name} {net.name}": linework(net)
        for style in styles()
        for net in style.build(style.dimensions(**extras.get(style.name, {})), Card(0.3))
    }


STYLE_LINES = style_lines()


@st.composite
def contours(draw: st.DrawFn, bends: bool = True) -> Path:
    """A counter-clockwise closed path of 3 to 9 edges, lines and arcs, that does not cross
    itself, about 30 to 120 mm across, with no two corners nearer than some millimetres."""
    count = draw(st.integers(3, 9))
    steps = draw(st.lists(st.floats(1.0, 2.0), min_size=count, max_size=count))
    reaches = draw(st.lists(st.floats(15.0, 60.0), min_size=count, max_size=count))
    bulges = [0.0] * count
    if bends:
        bulge = st.one_of(st.just(0.0), st.floats(0.02, 0.6), st.floats(-0.6, -0.02))
        bulges = draw(st.lists(bulge, min_size=count, max_size=count))
    at, vertices = 0.0, []
    for step, reach in zip(steps, reaches, strict=True):
        at += step
        angle = 2 * math.pi * at / sum(steps)
        vertices.append((100 + reach * math.cos(angle), 100 + reach * math.sin(angle)))
    path = Path(tuple(vertices), tuple(bulges), closed=True)
    # In a needle-sharp point an arc may cross the edge beside it by less than chords can show.
    edges = path.segments
    sharpest = max(
        abs(turn_between(here.direction_at(1.0), following.direction_at(0.0)))
        for here, following in itertools.pairwise((*edges, edges[0]))
    )
    assume(sharpest < math.radians(175) and polygon(path, 0.01).is_valid and path.area > 100)
    return path


GLUED = sorted(
    name for name, strokes in STYLE_LINES.items() if any(stroke.glued for stroke in strokes)
)
"""The nets that have a glue tab."""
