"""Bridges that hold a piece in the sheet."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.profile.operations import Bridges
from cutlayers.telling.findings import Finding
from cutlayers.telling.words import sentence_of
from cutlayers.toolpaths.bridges import bridge, left_of
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import GLUED, STYLE_LINES, contours, cut, line, machine

FOUR = Bridges(width=0.5, count=4)


def bridged(
    piece: Stroke, how: Bridges, kerf: float = 0.0
) -> tuple[tuple[float, ...], tuple[Path, ...], tuple[Finding, ...]]:
    """Where bridges stand on the outline of a piece that lies alone, what is cut of it, and what
    was found."""
    (at,), findings = bridge([piece], [piece], how, kerf)
    return at, left_of(piece.path, at, how.width + kerf), findings


def test_a_square_gets_a_bridge_in_the_middle_of_each_side() -> None:
    """Four bridges spread evenly over four sides of 40 mm."""
    at, cuts, findings = bridged(cut(Path.rectangle(40, 40)), FOUR)

    assert findings == ()
    steps = [b - a for a, b in itertools.pairwise(at)]
    assert steps == pytest.approx([40.0] * 3)
    assert sum(piece.length for piece in cuts) == pytest.approx(160 - 4 * 0.5)


@pytest.mark.parametrize(("spacing", "count"), [(40.0, 4), (39.0, 5), (200.0, 1)])
def test_spacing_is_never_exceeded(spacing: float, count: int) -> None:
    """160 mm of outline take as many bridges as keep them that near to each other."""
    at, _, _ = bridged(cut(Path.rectangle(40, 40)), Bridges(0.5, spacing=spacing))

    assert len(at) == count


def test_a_kerf_leaves_the_bridge_its_width() -> None:
    """The path is interrupted for a kerf more, since the beam burns half of it at either end."""
    _, cuts, _ = bridged(cut(Path.rectangle(40, 40)), FOUR, kerf=0.2)

    assert sum(piece.length for piece in cuts) == pytest.approx(160 - 4 * 0.7)


def test_what_finds_no_room_is_reported() -> None:
    """A triangle of 3 mm has no edge with room beside its corners."""
    tiny = cut(Path.polygon([(0, 0), (2, 0), (1, 2)]))
    _, cuts, (finding,) = bridged(tiny, FOUR)

    assert cuts == (tiny.path,)
    assert finding.code == "too-few-bridges"
    assert "0 of 4" in sentence_of(finding).found


@given(contours(), st.integers(1, 8), st.floats(0.2, 1.5), st.sampled_from([0.0, 0.2]))
@settings(max_examples=60, deadline=None)
def test_no_bridge_stands_on_a_corner_or_an_end_of_an_arc(
    path: Path, count: int, width: float, kerf: float
) -> None:
    """Bridges keep clear of every vertex, cuts make up the rest, and none overlap."""
    places, cuts, findings = bridged(cut(path), Bridges(width, count=count), kerf)

    assert len(places) == count or findings
    left = sum(piece.length for piece in cuts)
    assert left == pytest.approx(path.length - len(places) * (width + kerf))
    for at in places:
        middle = path.point_at(at)
        nearest = min(math.dist(middle, vertex) for vertex in path.vertices)
        # Along an arc of up to 124° a chord is at least 0.78 of the way.
        assert nearest > 0.78 * ((width + kerf) / 2 + 0.99)


@pytest.mark.parametrize("kerf_tool", ["needle", "beam"])
@pytest.mark.parametrize("name", GLUED)
def test_no_bridge_of_any_style_stands_on_a_glue_tab(name: str, kerf_tool: str) -> None:
    """All of every tab's border is cut, and the outline is whole in as many places as asked."""
    strokes = STYLE_LINES[name]
    plan = plan_toolpaths(strokes, machine(kerf_tool, cut={"bridges": Bridges(0.6, count=6)}))
    (outline,) = (stroke for stroke in strokes if stroke.part is Part.OUTLINE)
    pieces = [each for each in plan.of(Operation.CUT) if each.part is Part.OUTLINE]
    plain = plan_toolpaths(strokes, machine(kerf_tool))
    (whole,) = (each for each in plain.of(Operation.CUT) if each.part is Part.OUTLINE)

    assert len(pieces) == 6
    assert outline.glued
    reach = 0.15 if kerf_tool == "beam" else 0.05
    worked: BaseGeometry = line(pieces[0].path).buffer(reach)
    for each in pieces[1:]:
        worked = worked.union(line(each.path).buffer(reach))
    unbridged = line(whole.path).buffer(reach)
    for tab in outline.glued:
        assert line(tab).intersection(unbridged).difference(worked).length < 1e-6
    # The outline does have gaps elsewhere, so the check above can fail.
    assert line(whole.path).difference(worked).length > 1.0


def test_openings_are_cut_free() -> None:
    """Only outlines get bridges: the waste of a hole need not be held."""
    hole = cut(Path.circle((20, 20), 8).reversed(), Part.OPENING)
    plan = plan_toolpaths(
        [cut(Path.rectangle(40, 40)), hole], machine(cut={"bridges": Bridges(0.5, count=3)})
    )

    assert [each.part for each in plan.toolpaths] == [Part.OPENING] + [Part.OUTLINE] * 3


def test_a_bridge_on_a_shared_border_counts_for_both() -> None:
    """Two squares of 40 mm with four bridges each, one of them on the border between the two, make
    seven in all, and two cuts of the border that are 0.5 mm shorter than it is."""
    left, right = cut(Path.rectangle(40, 40)), cut(Path.rectangle(40, 40, (40, 0)))
    plan = plan_toolpaths([left, right], machine(cut={"bridges": FOUR}))
    worked = sum(each.path.length for each in plan.toolpaths)
    between = [each for each in plan.toolpaths if each.part is Part.SLIT]

    assert worked == pytest.approx(7 * 40 - 7 * 0.5)
    assert len(between) == 2
    assert sum(each.path.length for each in between) == pytest.approx(39.5)
