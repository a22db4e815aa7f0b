"""The by-hand section read back as a person would."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from cutlayers.box import Blank
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.geometry.strokes import Fold, Operation, Stroke
from cutlayers.guide.by_hand import CardFace
from cutlayers.guide.rounding import Grid
from cutlayers.guide.ruler import RULERS, Ruler
from cutlayers.guide.scoring import POSITIONS, hand_blank, is_relief
from cutlayers.net import Linework, Net, linework
from cutlayers.telling.errors import NetError
from tests.boxes import Spread, boxes, trying
from tests.guide.person import Drawn, Point, work

NEAR = 1e-6

FINE = 0.02
"""mm; chords of curves stay within this."""

DRIFT = 3.0
"""Divisions; a row of five panels, each off by up to half a one, and the last one's own edge.
A net of many panels has longer rows."""


def true_lines(lines: Linework, origin: Point) -> list[Drawn]:
    """A net's own lines, worked out from its strokes alone, one for each edge."""
    found = []
    for stroke in lines:
        if stroke.operation is Operation.DRAW:
            continue
        for segment in stroke.path.segments:
            points = [segment.start, segment.point_at(0.5), segment.end]
            start, middle, end = ((x - origin[0], origin[1] - y) for x, y in points)
            found.append(Drawn(kind_of(stroke), start, middle, end))
    return found


def kind_of(stroke: Stroke) -> str:
    if stroke.operation is not Operation.SCORE:
        return str(stroke.operation.value)
    return "score outside" if stroke.fold is Fold.MOUNTAIN else "score inside"


def uncovered(lines: list[Drawn], by: list[Drawn], step: float) -> list[Drawn]:
    """The lines of which some part is not made by the others.

    How far a curve stands off is told in half divisions, so it may be a quarter of one off, and
    a curve flatter than that is a straight line.
    """
    return [line for line in lines if not covered(line, by, step / 4 + NEAR)]


def covered(line: Drawn, by: list[Drawn], flat: float) -> bool:
    if is_arc(line):
        return any(
            other.kind == line.kind
            and math.dist(other.middle, line.middle) <= flat
            and {near(other.start, line), near(other.end, line)} == {"start", "end"}
            for other in by
        )
    if any(
        other.kind == line.kind
        and math.dist(other.middle, line.middle) <= flat
        and {near(other.start, line), near(other.end, line)} == {"start", "end"}
        for other in by
    ):
        return True
    length = math.dist(line.start, line.end)
    ux, uy = (line.end[0] - line.start[0]) / length, (line.end[1] - line.start[1]) / length
    spans = []
    for other in by:
        if other.kind != line.kind or is_arc(other):
            continue
        ends = []
        for x, y in (other.start, other.end):
            dx, dy = x - line.start[0], y - line.start[1]
            if abs(ux * dy - uy * dx) > NEAR:
                break
            ends.append(ux * dx + uy * dy)
        else:
            spans.append(sorted(ends))
    reached = 0.0
    for low, high in sorted(spans):
        if low > reached + NEAR:
            break
        reached = max(reached, high)
    return reached >= length - NEAR


def is_arc(line: Drawn) -> bool:
    middle = ((line.start[0] + line.end[0]) / 2, (line.start[1] + line.end[1]) / 2)
    return math.dist(middle, line.middle) > NEAR


def near(point: Point, line: Drawn) -> str:
    if math.dist(point, line.start) <= NEAR:
        return "start"
    return "end" if math.dist(point, line.end) <= NEAR else "no"


def farthest(one: Linework, other: Linework, kind: str) -> float:
    """How far the lines of one kind lie from each other at most (Hausdorff distance)."""
    shapes = [
        shapely.MultiLineString(
            [
                [*s.path.points(FINE), *([s.path.start] if s.path.closed else [])]
                for s in lines
                if kind_of(s) == kind
            ]
        )
        for lines in (one, other)
    ]
    if all(shape.is_empty for shape in shapes):
        return 0.0
    return float(shapes[0].hausdorff_distance(shapes[1]))


def border(width: float, height: float) -> list[Drawn]:
    corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    return [
        Drawn("cut", a, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), b)
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
    ]


SIZES = Spread(sizes=(20.0, 160.0), options=None, calipers=(0.2, 0.5), measures=("inside",))
"""Boxes that are made by hand."""


def on_ruler(net: Net, ruler: Ruler) -> tuple[Blank, bool]:
    """A net rounded as a whole, or where that fails, as it is, to be rounded point by point."""
    grid = Grid.of(Blank(net), ruler)
    try:
        return grid.rounded(grid.best()), False
    except NetError:
        return grid.blank, True


@pytest.mark.parametrize("ruler", RULERS.values(), ids=list(RULERS))
@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
@settings(trying(3), phases=(Phase.explicit, Phase.generate))
@given(data=st.data())
def test_a_person_obtains_the_net(style: Style, ruler: Ruler, data: st.DataObject) -> None:
    """Trimmed, scored and cut as told, a blank carries the net's lines, all and no other."""
    for net in data.draw(boxes(style, SIZES)).nets:
        rounded, pointwise = on_ruler(net, ruler)
        blank = hand_blank(net.name, rounded, ruler, pointwise=pointwise)
        made = work(blank)
        wanted = true_lines(blank.lines, blank.origin)
        whole = made + border(blank.width, blank.height)

        assert uncovered(wanted, whole, ruler.step) == []
        assert uncovered(made, wanted, ruler.step) == []
        # And those lines are the exact net's, as far as rounded panels in a row may drift.
        drift = max(DRIFT, len(net.panels) / 4) * ruler.step
        for kind in {line.kind for line in wanted}:
            exact = tuple(line for line in linework(net) if not is_relief(line))
            assert farthest(exact, blank.lines, kind) <= drift


def test_a_wrong_number_would_be_noticed() -> None:
    """One score a division off, a span cut short, a point moved, a face mistaken: each shows."""
    style = next(style for style in styles() if style.name == "tray")
    ruler = RULERS["1/16in"]
    (net,) = style.build(style.dimensions(), Card(0.3))
    grid = Grid.of(Blank(net), ruler)
    blank = hand_blank("tray", grid.rounded(grid.best()), ruler)
    wanted = true_lines(blank.lines, blank.origin)
    (first, *steps), (row, *rows) = blank.scores, blank.scores[0].rows
    off = replace(row, at=row.at + ruler.step)
    short = replace(blank.cuts.down[0], spans=blank.cuts.down[0].spans[1:])
    inside = replace(first, position=POSITIONS[CardFace.INSIDE, True])
    mark = replace(blank.marks[0], top=blank.marks[0].top + ruler.step)

    for wrong in (
        replace(blank, scores=(replace(first, rows=(off, *rows)), *steps)),
        replace(blank, cuts=replace(blank.cuts, down=(short, *blank.cuts.down[1:]))),
        replace(blank, scores=(inside,)),
        replace(blank, marks=(mark, *blank.marks[1:])),
    ):
        made = work(wrong)
        missing = uncovered(wanted, made + border(wrong.width, wrong.height), ruler.step)
        assert missing or uncovered(made, wanted, ruler.step)
