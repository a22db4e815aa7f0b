"""From a rounded net to a blank worked by hand, with the fewest turns of the card.

A groove is pressed into the face that lies up, the bead rises on the other, and a fold closes
over its bead. So a fold away from the viewer (a mountain, seen on the outside of the box) is
scored with the outside up, and a fold towards the viewer (a valley) with the inside up.
Source: printing trade, fold towards the bead.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from cutlayers.box import Blank
from cutlayers.geometry.segments import Bounds, Segment, union_bounds
from cutlayers.geometry.strokes import Fold, Operation, Part, Stroke
from cutlayers.geometry.transforms import Point
from cutlayers.guide.by_hand import (
    CardFace,
    CutStep,
    Edge,
    HandBlank,
    Hole,
    Join,
    Position,
    Row,
    ScoreStep,
    Turn,
)
from cutlayers.guide.lines import Line, Marks, across_rows, down_rows, joins, seen_from
from cutlayers.guide.on_divisions import lines_on_divisions
from cutlayers.guide.places import is_circle
from cutlayers.guide.ruler import Ruler
from cutlayers.net import Linework, Net

LARGEST_RELIEF = 4.0
"""mm; a smaller opening is no window, and a knife along a ruler cuts none."""

POSITIONS = {
    (CardFace.OUTSIDE, True): Position(CardFace.OUTSIDE, Edge.LEFT, Edge.TOP),
    (CardFace.OUTSIDE, False): Position(CardFace.OUTSIDE, Edge.TOP, Edge.RIGHT),
    (CardFace.INSIDE, True): Position(CardFace.INSIDE, Edge.LEFT, Edge.BOTTOM),
    (CardFace.INSIDE, False): Position(CardFace.INSIDE, Edge.TOP, Edge.LEFT),
}
"""By the face that is up and whether the blank's upright lines run down the board.

Chosen so that turning the blank over, head over heels, leaves the same edge at the stop: what
is scored on the other face is at the same distances.
"""

FACES = {Fold.MOUNTAIN: CardFace.OUTSIDE, Fold.VALLEY: CardFace.INSIDE}
FOLDS = {face: fold for fold, face in FACES.items()}


def hand_blank(name: str, blank: Blank, ruler: Ruler, *, pointwise: bool = False) -> HandBlank:
    """Tell how a blank whose corners lie on the ruler's divisions is made by hand.

    With `pointwise` they do not, and each point of the lines is rounded by itself. Drawn lines
    are left out, and so are the small holes where creases meet, which no hand cuts along a ruler;
    letters that are cut out are drawn, but not told, and so is relief, which with `pointwise` is
    not even drawn: how much of it there is is said all the same.
    """
    traced = tuple(_traced(blank.net))
    measured = Blank(_measured(blank.net), blank.relief) if traced else blank
    lines = drawn = tuple(filter(_by_hand, measured.borders))
    relieved = measured.relieved
    if pointwise:
        lines = drawn = lines_on_divisions(lines, ruler)
    elif relieved.stops or relieved.holes:
        drawn = tuple(filter(_by_hand, measured.lines))
    left, bottom, right, top = _blank(lines, ruler)
    width, height = right - left, top - bottom
    marks = Marks()
    scores = _score_steps(lines, (left, top), (width, height), marks, ruler)
    perforations = _cut_step(Operation.PERFORATE, lines, (left, top), (width, height), marks, ruler)
    cuts = _cut_step(Operation.CUT, lines, (left, top), (width, height), marks, ruler)
    holes = tuple(_hole(stroke, (left, top)) for stroke in lines if _is_hole(stroke))
    return HandBlank(
        name,
        ruler,
        width,
        height,
        tuple(marks.marks),
        scores,
        perforations,
        cuts,
        holes,
        blank.net,
        (*traced, *lines),
        (left, top),
        (*traced, *drawn),
        blank.relief,
        len(relieved.holes),
        relieved.stops,
    )


def _by_hand(stroke: Stroke) -> bool:
    return stroke.operation is not Operation.DRAW and not is_relief(stroke)


def is_relief(stroke: Stroke) -> bool:
    """Whether it takes away the point in which creases meet."""
    left, bottom, right, top = stroke.path.bounds
    small = max(right - left, top - bottom) < LARGEST_RELIEF
    return stroke.part is Part.OPENING and small and not is_circle(stroke.path)


def _measured(net: Net) -> Net:
    """The net without the free shapes in its panels."""
    return replace(
        net,
        panels=tuple(
            replace(panel, features=tuple(f for f in panel.features if not f.traced))
            for panel in net.panels
        ),
    )


def _traced(net: Net) -> Iterator[Stroke]:
    """The free shapes that are cut out, as openings: clockwise."""
    for panel in net.panels:
        for feature in panel.features:
            if feature.traced and feature.work.operation is Operation.CUT:
                path = feature.path.reversed() if feature.path.area > 0 else feature.path
                yield Stroke(Operation.CUT, path, feature.work.part, feature.name)


def _blank(lines: Linework, ruler: Ruler) -> Bounds:
    """The lines' bounds, widened to whole divisions from the left- and topmost corner.

    A curve may stand out beyond the corners by less than a division.
    """
    points = [vertex for stroke in lines for vertex in stroke.path.vertices]
    x, y = min(p[0] for p in points), max(p[1] for p in points)
    left, bottom, right, top = union_bounds(stroke.path.bounds for stroke in lines)

    def outward(distance: float) -> float:
        return math.ceil(distance / ruler.step - 1e-6) * ruler.step

    return (
        x - outward(x - left),
        y - outward(y - bottom),
        x + outward(right - x),
        y + outward(top - y),
    )


def _lines(strokes: Iterable[Stroke], origin: Point) -> list[Line]:
    """The strokes' edges on the blank, y down."""
    left, top = origin
    return [
        Line(
            Segment(
                (segment.start[0] - left, top - segment.start[1]),
                (segment.end[0] - left, top - segment.end[1]),
                -segment.bulge,
            ),
            stroke.name,
        )
        for stroke in strokes
        for segment in stroke.path.segments
    ]


def _is_hole(stroke: Stroke) -> bool:
    return stroke.operation is Operation.CUT and is_circle(stroke.path)


def _hole(stroke: Stroke, origin: Point) -> Hole:
    segment = stroke.path.segments[0]
    x, y = segment.centre
    panel, name = stroke.subject.panel or stroke.name, stroke.subject.feature or ""
    return Hole(x - origin[0], origin[1] - y, 2 * segment.radius, name, panel)


def _cut_step(
    operation: Operation,
    strokes: Linework,
    origin: Point,
    size: tuple[float, float],
    marks: Marks,
    ruler: Ruler,
) -> CutStep:
    mine = [s for s in strokes if s.operation is operation and not _is_hole(s)]
    lines = _lines(mine, origin)
    return CutStep(
        operation,
        down_rows(lines, *size),
        across_rows(lines, *size),
        joins(lines, marks, ruler),
    )


def _score_steps(
    strokes: Linework, origin: Point, size: tuple[float, float], marks: Marks, ruler: Ruler
) -> tuple[ScoreStep, ...]:
    width, height = size
    rows: dict[tuple[CardFace, bool], tuple[Row, ...]] = {}
    slanted: dict[CardFace, tuple[Join, ...]] = {}
    for fold, face in FACES.items():
        mine = [s for s in strokes if s.operation is Operation.SCORE and s.fold is fold]
        lines = _lines(mine, origin)
        if down := down_rows(lines, width, height):
            # Inside up, the bottom edge lies at the fence.
            flip = face is CardFace.INSIDE
            rows[face, True] = tuple(
                seen_from(row, width, height, flip_at=False, flip_spans=flip) for row in down
            )
        if across := across_rows(lines, width, height):
            # Outside up, the right edge lies at the fence.
            flip = face is CardFace.OUTSIDE
            rows[face, False] = tuple(
                seen_from(row, height, width, flip_at=False, flip_spans=flip) for row in across
            )
        slanted[face] = joins(lines, marks, ruler)
    for face, lines_between in slanted.items():
        if lines_between and not any(key[0] is face for key in rows):
            rows[face, True] = ()
    return _in_order(rows, slanted)


def _in_order(
    rows: dict[tuple[CardFace, bool], tuple[Row, ...]],
    slanted: dict[CardFace, tuple[Join, ...]],
) -> tuple[ScoreStep, ...]:
    best = min(itertools.permutations(rows), key=_effort)
    steps = []
    joined_faces: set[CardFace] = set()
    for before, key in zip((None, *best), best, strict=False):
        face = key[0]
        joined = () if face in joined_faces else slanted[face]
        joined_faces.add(face)
        steps.append(ScoreStep(_turn(before, key), POSITIONS[key], FOLDS[face], rows[key], joined))
    return tuple(steps)


def _effort(order: Sequence[tuple[CardFace, bool]]) -> tuple[int, bool, bool]:
    """How often the card is moved; ties go to beginning as drawn."""
    moves = sum(
        (one[0] is not other[0]) + (one[1] is not other[1])
        for one, other in itertools.pairwise(order)
    )
    first = order[0] if order else (CardFace.OUTSIDE, True)
    return moves, first[0] is CardFace.INSIDE, not first[1]


def _turn(before: tuple[CardFace, bool] | None, after: tuple[CardFace, bool]) -> Turn:
    if before is None:
        return Turn.LAY
    if before[0] is not after[0]:
        return Turn.OVER if before[1] is after[1] else Turn.OVER_AND_QUARTER
    # Outside up, a turn to the left brings the top edge to the stop; inside up, the left edge.
    leftward = before[1] if after[0] is CardFace.OUTSIDE else not before[1]
    return Turn.QUARTER_LEFT if leftward else Turn.QUARTER_RIGHT
