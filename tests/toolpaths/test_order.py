"""The order of work, and where each line begins."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.toolpaths import Plan, WorkedLine
from cutlayers.toolpaths.order import containers, in_order
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import GLUED, STYLE_LINES, TOOLS, cut, machine

HOME = (0.0, 0.0)


def test_a_piece_in_a_window_comes_before_the_window_and_that_before_the_outline() -> None:
    """Outline, window, a piece in it, and a hole in that: from the inside out."""
    nest = [
        cut(Path.rectangle(100, 100), name="frame"),
        cut(Path.rectangle(60, 60, (20, 20)).reversed(), Part.OPENING, "window"),
        cut(Path.rectangle(40, 40, (30, 30)), name="piece"),
        cut(Path.circle((50, 50), 5).reversed(), Part.OPENING, "hole"),
    ]

    names = [line.stroke.name for line, _ in in_order([WorkedLine(each) for each in nest], HOME)]
    assert names == ["hole", "piece", "window", "frame"]
    assert containers([each.path for each in nest]) == [(), (0,), (1,), (2,)]


@st.composite
def nests(draw: st.DrawFn) -> list[Stroke]:
    """Plates on a grid, each with up to four holes and slits."""
    strokes = []
    for column in range(draw(st.integers(1, 4))):
        x = column * 60.0
        strokes.append(cut(Path.rectangle(50, 50, (x, 0)), name=f"plate {column}"))
        for hole in range(draw(st.integers(0, 4))):
            centre = (x + 10 + 30 * (hole % 2), 10 + 30 * (hole // 2))
            if draw(st.booleans()):
                path = Path.circle(centre, draw(st.floats(1, 8))).reversed()
                strokes.append(cut(path, Part.OPENING, f"hole {column}"))
            else:
                path = Path.line(centre, (centre[0] + draw(st.floats(1, 8)), centre[1]))
                strokes.append(cut(path, Part.SLIT, f"slit {column}"))
    return draw(st.permutations(strokes))


@given(nests(), st.sampled_from(["needle", "beam", "blade"]))
@settings(max_examples=40, deadline=None)
def test_holes_and_slits_come_before_their_plate(strokes: list[Stroke], tool: str) -> None:
    """With any tool; everything is cut once."""
    plan = plan_toolpaths(strokes, machine(tool))
    names = [each.name for each in plan.toolpaths]

    assert sorted(names) == sorted(stroke.name for stroke in strokes)
    for number, name in enumerate(names):
        kind, _, plate = name.partition(" ")
        if kind != "plate":
            assert number < names.index(f"plate {plate}")


def _layers_in_order(plan: Plan) -> bool:
    ranks = [list(Operation).index(each.operation) for each in plan.toolpaths]
    return ranks == sorted(ranks)


@pytest.mark.parametrize("tool", ["needle", "beam", "blade"])
@pytest.mark.parametrize("name", sorted(STYLE_LINES))
def test_styles_are_worked_draw_score_perforate_cut(name: str, tool: str) -> None:
    """The trade's order, and within the cuts from the inside out."""
    plan = plan_toolpaths(STYLE_LINES[name], machine(tool))
    cuts = plan.of(Operation.CUT)

    assert _layers_in_order(plan)
    assert cuts[-1].part is Part.OUTLINE
    assert sum(each.part is Part.OUTLINE for each in cuts) == 1


@pytest.mark.parametrize("tool", ["needle", "beam"])
@pytest.mark.parametrize("name", GLUED)
def test_outlines_begin_at_a_corner_that_a_glue_tab_hides(name: str, tool: str) -> None:
    """The start lies on a corner of a tab's free edge, or where the kerf has moved that to."""
    (outline,) = (each for each in STYLE_LINES[name] if each.part is Part.OUTLINE)
    plan = plan_toolpaths(STYLE_LINES[name], machine(tool))
    (worked,) = (each for each in plan.toolpaths if each.part is Part.OUTLINE)
    hidden = [joint for tab in outline.glued for joint in tab.vertices[1:-1]]

    assert hidden
    nearest = min(math.dist(worked.path.start, corner) for corner in hidden)
    assert nearest == pytest.approx(TOOLS[tool].kerf / 2, abs=1e-6)


def test_a_closed_line_without_tabs_begins_at_a_corner() -> None:
    """Not where its arcs join smoothly."""
    stadium = Path(((0, 0), (40, 0), (40, 20), (20, 30), (0, 20)), (0, 1, 0, 0, 1), closed=True)
    ((_, (worked,)),) = in_order([WorkedLine(cut(stadium))], (40.0, 0.0))

    assert worked.start in ((40, 20), (20, 30), (0, 20))
    assert worked.area == pytest.approx(stadium.area)
