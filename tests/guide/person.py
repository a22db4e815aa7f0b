"""A person who knows nothing of the net: trims, scores, perforates, cuts and punches only what
the by-hand data say, and keeps a drawing of what came of it.

Coordinates of the drawing: mm from the left edge of the blank and down from its top edge, with
the outside up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from cutlayers.guide.by_hand import (
    CardFace,
    Curve,
    CutStep,
    Edge,
    HandBlank,
    Join,
    Mark,
    Position,
    Row,
    ScoreStep,
    Turn,
)

Point = tuple[float, float]

CLOCKWISE = (Edge.LEFT, Edge.TOP, Edge.RIGHT, Edge.BOTTOM)


@dataclass(frozen=True)
class Drawn:
    """One line on the card: straight, or an arc through `middle`."""

    kind: str
    start: Point
    middle: Point
    end: Point


def work(blank: HandBlank) -> list[Drawn]:
    """Everything that the person does to the card, in the order of the page."""
    marks = {mark.name: (mark.left, mark.top) for mark in blank.marks}
    done: list[Drawn] = []
    position: Position | None = None
    for step in blank.scores:
        position = moved(position, step)
        kind = {CardFace.OUTSIDE: "score outside", CardFace.INSIDE: "score inside"}[position.face]
        for row in step.rows:
            done += on_board(kind, row, position, blank.width, blank.height)
        done += between(kind, step.joins, marks)
    for cut in (blank.perforations, blank.cuts):
        done += on_bench(cut, marks)
    for hole in blank.holes:
        radius = hole.diameter / 2
        for left, right in ((-radius, radius), (radius, -radius)):
            done.append(
                Drawn(
                    "cut",
                    (hole.left + left, hole.top),
                    (hole.left, hole.top + left),
                    (hole.left + right, hole.top),
                )
            )
    return done


def moved(before: Position | None, step: ScoreStep) -> Position:
    """Do what the turn says with the card in hand, and see the edges arrive where it says."""
    if before is None:
        assert step.turn is Turn.LAY
        seen = step.position
    else:
        seen = before
        if step.turn in (Turn.OVER, Turn.OVER_AND_QUARTER):
            seen = Position(
                CardFace.INSIDE if seen.face is CardFace.OUTSIDE else CardFace.OUTSIDE,
                seen.at_stop,
                opposite(seen.at_fence),
            )
        if step.turn is Turn.QUARTER_LEFT:
            seen = Position(seen.face, seen.at_fence, opposite(seen.at_stop))
        if step.turn is Turn.QUARTER_RIGHT:
            seen = Position(seen.face, opposite(seen.at_fence), seen.at_stop)
        if step.turn is Turn.OVER_AND_QUARTER:
            turned = Position(seen.face, seen.at_fence, opposite(seen.at_stop))
            seen = (
                turned
                if turned == step.position
                else Position(seen.face, opposite(seen.at_fence), seen.at_stop)
            )
    assert seen == step.position
    # A card has only two faces: clockwise round it the edges follow as drawn, or the other way.
    around = CLOCKWISE if seen.face is CardFace.OUTSIDE else CLOCKWISE[::-1]
    assert around[(around.index(seen.at_stop) + 1) % 4] is seen.at_fence
    return seen


def opposite(edge: Edge) -> Edge:
    """The edge across the card."""
    return CLOCKWISE[(CLOCKWISE.index(edge) + 2) % 4]


def on_board(
    kind: str, row: Row, position: Position, width: float, height: float
) -> Iterator[Drawn]:
    """Score along the ruler."""
    for span in row.spans:
        ends = []
        for along in (span.start, span.end):
            place: dict[str, float] = {}
            for edge, distance in ((position.at_stop, row.at), (position.at_fence, along)):
                match edge:
                    case Edge.LEFT:
                        place["x"] = distance
                    case Edge.RIGHT:
                        place["x"] = width - distance
                    case Edge.TOP:
                        place["y"] = distance
                    case Edge.BOTTOM:
                        place["y"] = height - distance
            ends.append((place["x"], place["y"]))
        yield straight(kind, ends[0], ends[1])


def on_bench(step: CutStep, marks: dict[str, Point]) -> Iterator[Drawn]:
    """Cut or perforate with the card as drawn."""
    kind = str(step.operation.value)
    for row in step.down:
        for span in row.spans:
            yield straight(kind, (row.at, span.start), (row.at, span.end))
    for row in step.across:
        for span in row.spans:
            yield straight(kind, (span.start, row.at), (span.end, row.at))
    yield from between(kind, step.joins, marks)


def between(kind: str, joins: Iterable[Join], marks: dict[str, Point]) -> Iterator[Drawn]:
    """Join marked points by a ruler or a curve."""
    for join in joins:
        start, end = marks[join.start], marks[join.end]
        chord = math.dist(start, end)
        rise = {
            Curve.STRAIGHT: 0.0,
            Curve.HALF: chord / 2,
            Curve.QUARTER: chord * (math.sqrt(2) - 1) / 2,
            Curve.ARC: join.rise,
        }[join.curve]
        # Left of the way on a drawing whose y runs down.
        nx, ny = (end[1] - start[1]) / chord, -(end[0] - start[0]) / chord
        side = rise if join.bulges_left else -rise
        middle = (
            (start[0] + end[0]) / 2 + side * nx,
            (start[1] + end[1]) / 2 + side * ny,
        )
        yield Drawn(kind, start, middle, end)


def straight(kind: str, start: Point, end: Point) -> Drawn:
    """A line along a ruler."""
    return Drawn(kind, start, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), end)


def marked(mark: Mark) -> Point:
    """A mark's place."""
    return mark.left, mark.top
