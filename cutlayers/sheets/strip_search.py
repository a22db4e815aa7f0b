"""Do these pieces fit on one sheet? Asked of a strip-packing heuristic, with a time limit.

The heuristic packs into a strip of fixed height and makes it as short as it can; it knows no
corners to keep out of. So where a sheet has any, a *frame* goes into the strip as one more piece:
as large as the sheet, hollow where pieces may lie, and open to the outside by a hair's breadth.
The strip is as short as the frame exactly when all other pieces lie inside it.

Pieces are grown by half the gap beforehand. What comes back is checked here and refused if a piece
lies too close: the heuristic counts with single precision.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from cutlayers.geometry.segments import Bounds
from cutlayers.sheets.laying import (
    RULES,
    LaidPiece,
    PieceKind,
    Regions,
    SheetLayout,
    is_sound,
    lay_pieces,
)
from cutlayers.sheets.outlines import MITRE, Points
from cutlayers.sheets.strip_worker import Placements, Question, answer

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

SAFE = 2e-3
"""mm that pieces are grown beyond half the gap; covers single precision on a sheet of 2 m."""

HAIR = 0.02
"""mm; width of the frame's opening, far too narrow for a piece."""

WALL = 1.0
"""mm; thickness of the frame."""

PATIENCE_S = 0.25
"""How often the wait for an answer is broken to tell the time."""

GRACE_S = 3.0
"""Time to start the process and to finish, beyond the seconds it may search."""


class SearchFailedError(Exception):
    """The search heuristic broke down over these outlines; never leaves the placing."""


def fits_on_one(
    regions: Regions,
    counts: Mapping[int, int],
    seconds: int,
    seed: int,
    tick: Callable[[], None] = lambda: None,
) -> SheetLayout | None:
    """A layout of all the pieces on one sheet, or None where none was found in time.

    Pieces must fit the room one by one. `tick` is called a few times a second and may raise to
    stop; the process is then ended before the error goes on. Where there are squares to keep out
    of, half the time goes to layouts that ignore them, in the hope that few pieces must move.

    Raises SearchFailedError where the heuristic breaks down.
    """
    room, kinds = regions.room, regions.kinds
    numbers = sorted(counts)
    half = room.gap / 2.0 + SAFE
    left, bottom, right, top = room.area
    inner = (left - half, bottom - half, right + half, top + half)
    wide, high = inner[2] - inner[0], inner[3] - inner[1]
    items: list[dict[str, Any]] = [
        {
            "shape": _grown(kinds[number].outline.ring, half),
            "count": counts[number],
            "angles_deg": None if kinds[number].any_turn else kinds[number].angles_deg,
        }
        for number in numbers
    ]

    def layout_of(placed: Placements, dx: float, dy: float) -> SheetLayout:
        return tuple(
            LaidPiece(numbers[int(i)], _tidy(angle, kinds[numbers[int(i)]]), x + dx, y + dy)
            for i, angle, x, y in placed
            if i < len(numbers)
        )

    if not room.keep_outs:
        question = Question(items, high, wide, seconds, seed)
        for _, placed in _answers(question, tick):
            layout = layout_of(placed, inner[0], inner[1])
            if is_sound(kinds, layout, room):
                return layout
        return None
    blind = Question(items, high, wide, max(1, seconds // 2), seed)
    for width, placed in _answers(blind, tick):
        for dx in (inner[0], inner[2] - width):
            cleared = _cleared(regions, layout_of(placed, dx, inner[1]))
            if cleared is not None:
                return cleared
    frame = {"shape": _frame(inner, room.keep_outs, half), "count": 1, "angles_deg": (0.0,)}
    framed = Question(
        [*items, frame],
        high + 2 * WALL + HAIR,
        wide + 2 * WALL + HAIR,
        max(1, seconds - seconds // 2),
        seed,
    )
    for _, placed in _answers(framed, tick):
        # The frame's own coordinates are the sheet's.
        x, y = next((x, y) for number, _, x, y in placed if number == len(numbers))
        layout = layout_of(placed, -x, -y)
        if is_sound(kinds, layout, room):
            return layout
    return None


def _cleared(regions: Regions, layout: SheetLayout) -> SheetLayout | None:
    """The layout with the pieces that lie in a square laid elsewhere, if there is room."""
    import shapely

    from cutlayers.geometry.overlays import together

    kinds, room = regions.kinds, regions.room
    squares = together(shapely.box(*box) for box in room.keep_outs)
    squares = squares.buffer(-1e-6, join_style="mitre")
    kept: list[LaidPiece] = []
    lifted: list[LaidPiece] = []
    for piece in layout:
        ring = piece.place.apply_all(kinds[piece.kind].outline.ring)
        (lifted if shapely.Polygon(ring).intersects(squares) else kept).append(piece)
    for rule in RULES if lifted else ():
        again = lay_pieces(regions, [piece.kind for piece in lifted], rule, start=tuple(kept))
        if len(again) == len(layout) and is_sound(kinds, again, room):
            return again
    return layout if not lifted and is_sound(kinds, layout, room) else None


def _answers(question: Question, tick: Callable[[], None]) -> Iterator[tuple[float, Placements]]:
    """Length and pieces of each layout that the worker finds in time.

    The worker ends when the caller stops asking. Raises SearchFailedError where it breaks down.
    """
    import multiprocessing

    context = multiprocessing.get_context("spawn")
    answers, theirs = context.Pipe(duplex=False)
    process = context.Process(target=answer, args=(question, theirs), daemon=True)
    end = time.monotonic() + question.seconds + GRACE_S
    try:
        process.start()
        theirs.close()  # so that the worker's end is the end of its answers
        while time.monotonic() < end:
            tick()
            if not answers.poll(PATIENCE_S):
                continue
            try:
                yield answers.recv()
            except EOFError:
                process.join()
                if process.exitcode:
                    raise SearchFailedError from None
                return
    finally:
        answers.close()
        if process.pid is not None:
            process.kill()
            process.join()


def _grown(ring: Points, by: float) -> Points:
    """The ring grown, without corners so near each other that single precision confounds them."""
    import shapely

    grown = shapely.Polygon(ring).buffer(by, join_style="mitre", mitre_limit=MITRE)
    return tuple((float(x), float(y)) for x, y in grown.exterior.simplify(SAFE / 2).coords)


def _frame(inner: Bounds, keep_outs: Sequence[Bounds], half: float) -> Points:
    """The frame round `inner` as one outline, its opening where no square stands.

    A square is made smaller by as much as pieces were grown, so far as its corners allow, and
    reaches to the nearest side, since nothing fits in between.
    """
    import shapely

    from cutlayers.geometry.overlays import without

    left, bottom, right, top = inner
    hollow: BaseGeometry = shapely.box(*inner)
    for box in keep_outs:
        less = half / 2**0.5
        if min(box[2] - box[0], box[3] - box[1]) <= 3 * less:
            less = 0.0
        x0, y0, x1, y1 = box[0] + less, box[1] + less, box[2] - less, box[3] - less
        sides = {"left": x0 - left, "right": right - x1, "bottom": y0 - bottom, "top": top - y1}
        match min(sides, key=lambda side: sides[side]):
            case "left":
                x0 = left - WALL
            case "right":
                x1 = right + WALL
            case "bottom":
                y0 = bottom - WALL
            case _:
                y1 = top + WALL
        hollow = without(hollow, shapely.box(x0, y0, x1, y1))
    if isinstance(hollow, shapely.MultiPolygon):
        hollow = max(hollow.geoms, key=lambda part: part.area)
    outer = shapely.box(left - WALL, bottom - WALL, right + WALL, top + WALL)
    wall = without(outer, hollow)
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
        y = bottom + share * (top - bottom)
        opening = shapely.box(right - HAIR, y, right + 2 * WALL, y + HAIR)
        ring = without(wall, opening)
        if isinstance(ring, shapely.Polygon) and not ring.interiors:
            return tuple((float(px), float(py)) for px, py in ring.exterior.coords)
    raise ValueError("no place for the frame's opening")


def _tidy(angle_deg: float, kind: PieceKind) -> float:
    """The heuristic's angle without its rounding, where it is one of the angles asked for."""
    if not kind.any_turn:
        return min(kind.angles_deg, key=lambda own: abs((own - angle_deg + 180) % 360 - 180))
    return round(angle_deg % 360.0, 9)
