"""One sheet laid piece by piece, each where a simple rule likes it best.

A *kind* is an outline with the turns it may have; a *room* is what a sheet offers; a *laid
piece* is its kind, its turn and where its net's origin comes to lie. A *layout* is all pieces laid
on one sheet. Everything a piece could touch without lying too close is a corner of its free region,
so only these corners are tried.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Hashable, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Bounds, union_bounds
from cutlayers.geometry.transforms import Transform
from cutlayers.sheets.outlines import TOUCH, Outline, Points, bounds_of, no_fit_region, turned

if TYPE_CHECKING:
    import numpy as np
    from shapely.geometry.base import BaseGeometry


@frozen(slots=False)
class PieceKind:
    """Pieces that are alike in all that matters for placing; `any_turn` allows angles between."""

    outline: Outline
    angles_deg: tuple[float, ...]
    any_turn: bool = False

    @cached_property
    def boxes(self) -> dict[float, Bounds]:
        """Bounding box at each of the angles, the net's origin at (0, 0)."""
        return {angle: bounds_of(turned(self.outline.ring, angle)) for angle in self.angles_deg}


@frozen
class Room:
    """What a sheet offers: the area that can be worked, the squares to keep out of, and the gap
    between pieces. A piece may touch the area's border and the squares."""

    area: Bounds
    keep_outs: tuple[Bounds, ...]
    gap: float

    @property
    def area_mm2(self) -> float:
        """Of the area, the squares in it left out as if they did not overlap."""
        left, bottom, right, top = self.area
        inside = (
            max(0.0, min(right, box[2]) - max(left, box[0]))
            * max(0.0, min(top, box[3]) - max(bottom, box[1]))
            for box in self.keep_outs
        )
        return (right - left) * (top - bottom) - sum(inside)


@frozen
class LaidPiece:
    """One piece laid: `kind` is a number in the list of kinds, (x, y) where its origin lies."""

    kind: int
    angle_deg: float
    x: float
    y: float

    @property
    def place(self) -> Transform:
        """The motion from the net's own coordinates to the sheet's."""
        return Transform.translation(self.x, self.y) @ Transform.rotation(self.angle_deg)


SheetLayout = tuple[LaidPiece, ...]

MOST_KEPT = 2_000
"""Layouts; a sheet of a dozen kinds takes some hundreds."""

MOST_LEFT = 5_000
"""Free regions, a few kilobytes each; those of one sheet filled in a dozen ways."""

Rule = Callable[["np.ndarray", Bounds | None], "np.ndarray"]
"""From the boxes (rows of left, bottom, right, top) a piece may take and the box around all pieces
laid before, one number for each place: the least is the best."""


class _Begun:
    """What lies on a sheet, laid in one order, and what it leaves free: layouts that begin alike
    share it. It does not know what follows, so that it goes as soon as nobody needs it."""

    def __init__(self, before: _Begun | None = None, last: LaidPiece | None = None) -> None:
        self.before, self.last = before, last
        self.left: dict[tuple[int, float], BaseGeometry] = {}


class Regions:
    """No-fit regions between kinds, worked out when first asked for and then kept.

    With `rough` pieces keep out of each other's small notches, which is worked out far faster.
    """

    def __init__(self, kinds: Sequence[PieceKind], room: Room, rough: bool = False) -> None:
        self.kinds = kinds
        self.room = room
        self._rough = rough
        self._between: dict[tuple[int, int, float], BaseGeometry] = {}
        self._turned: dict[tuple[int, float, int, float], BaseGeometry] = {}
        self._empty: dict[tuple[int, float], BaseGeometry] = {}
        self._bare, self._left = _Begun(), 0
        self._begun: dict[tuple[_Begun, LaidPiece], _Begun] = {}
        self._layouts: dict[Hashable, SheetLayout] = {}

    @cached_property
    def rough(self) -> Regions:
        """The same kinds and room without small notches."""
        return Regions(self.kinds, self.room, rough=True)

    def beside(self, still: LaidPiece, kind: int, angle_deg: float) -> BaseGeometry:
        """Where a piece's origin must not lie because of one that is laid."""
        import numpy as np
        import shapely
        from shapely import affinity

        key = (still.kind, still.angle_deg, kind, angle_deg)
        if key not in self._turned:
            move = still.place
            turn = (move.xx, move.xy, move.yx, move.yy, 0.0, 0.0)
            relative = round((angle_deg - still.angle_deg) % 360.0, 9)
            region = affinity.affine_transform(self._no_fit(still.kind, kind, relative), turn)
            self._turned[key] = region
        # Only moved from here on, which is asked for very often.
        at = still.x, still.y
        return shapely.transform(self._turned[key], lambda corners: np.add(corners, at))

    def _no_fit(self, still: int, kind: int, angle_deg: float) -> BaseGeometry:
        """Where the origin of a piece turned so must not lie beside one that lies at (0, 0)."""
        key = (still, kind, angle_deg)
        if key not in self._between:
            moving = tuple(turned(part, angle_deg) for part in self._parts(kind))
            self._between[key] = no_fit_region(self._parts(still), moving, self.room.gap)
        return self._between[key]

    def kept_layout(self, way: Hashable, lay: Callable[[], SheetLayout]) -> SheetLayout:
        """What `lay` lays this way, laid once: one way is weighed for several ends."""
        if way not in self._layouts:
            if len(self._layouts) >= MOST_KEPT:
                self._layouts.clear()
            self._layouts[way] = lay()
        return self._layouts[way]

    def begun(self, laid: SheetLayout) -> _Begun:
        """A sheet with these pieces. So many regions are kept that most ways to fill a sheet, which
        begin alike, find those of the others."""
        if self._left > MOST_LEFT:
            self._begun.clear()
            self._left = 0
        return functools.reduce(self.and_then, laid, self._bare)

    def and_then(self, begun: _Begun, piece: LaidPiece) -> _Begun:
        """A sheet with one piece more."""
        key = begun, piece
        if key not in self._begun:
            self._begun[key] = _Begun(*key)
        return self._begun[key]

    def left_over(self, begun: _Begun, kind: int, angle_deg: float) -> BaseGeometry:
        """Where a piece's origin may lie on a sheet on which others lie."""
        key = kind, angle_deg
        later = []
        while begun.before is not None and key not in begun.left:
            later.append(begun)
            begun = begun.before
        region = begun.left[key] if begun.before else self.empty_sheet(kind, angle_deg)
        for each in reversed(later):
            if each.last is not None and not region.is_empty:
                region = region.difference(self.beside(each.last, kind, angle_deg))
            each.left[key] = region
            self._left += 1
        return region

    def _parts(self, kind: int) -> tuple[Points, ...]:
        outline = self.kinds[kind].outline
        return outline.rough_parts if self._rough else outline.parts

    def empty_sheet(self, kind: int, angle_deg: float) -> BaseGeometry:
        """Where a piece's origin may lie on an empty sheet; empty where it is too large."""
        import shapely
        from shapely import affinity

        key = (kind, angle_deg)
        if key not in self._empty:
            left, bottom, right, top = self.kinds[kind].boxes[angle_deg]
            area = self.room.area
            low_x, high_x = area[0] - left, area[2] - right
            low_y, high_y = area[1] - bottom, area[3] - top
            if high_x - low_x < -TOUCH or high_y - low_y < -TOUCH:
                self._empty[key] = shapely.Polygon()
            else:
                free: BaseGeometry = shapely.box(
                    low_x - TOUCH, low_y - TOUCH, high_x + TOUCH, high_y + TOUCH
                )
                outline = self.kinds[kind].outline
                moving = tuple(turned(part, angle_deg) for part in outline.parts)
                regions: dict[tuple[float, float], BaseGeometry] = {}
                for x, y, right, top in self.room.keep_outs:
                    # Squares are alike but for where they lie.
                    size = round(right - x, 9), round(top - y, 9)
                    if size not in regions:
                        regions[size] = no_fit_region((_corners((0.0, 0.0, *size)),), moving, 0.0)
                    free = free.difference(affinity.translate(regions[size], x, y))
                self._empty[key] = free
        return self._empty[key]


def lay_pieces(
    regions: Regions,
    sequence: Sequence[int],
    rule: Rule,
    angles_deg: Mapping[int, Sequence[float]] | None = None,
    start: SheetLayout = (),
) -> SheetLayout:
    """Lay kinds in the order of `sequence` as long as they fit, each where `rule` is least.

    A kind that once did not fit is passed over from then on. `angles_deg` narrows a kind's turns.
    The pieces of `start` lie already and stay.
    """
    import numpy as np
    import shapely

    kinds, area = regions.kinds, regions.room.area
    begun, laid = regions.begun(start), list(start)
    used = used_box(kinds, start) if start else None
    full: set[int] = set()
    for kind in sequence:
        if kind in full:
            continue
        best: tuple[tuple[float, ...], LaidPiece, Bounds] | None = None
        for angle in angles_deg[kind] if angles_deg else kinds[kind].angles_deg:
            region = regions.left_over(begun, kind, angle)
            if region.is_empty:
                continue
            origins = shapely.get_coordinates(region)
            box = np.array(kinds[kind].boxes[angle])
            # A corner may stand outside by TOUCH; the piece itself does not.
            low, high = np.array(area[:2]) - box[:2], np.array(area[2:]) - box[2:]
            origins = np.minimum(np.maximum(origins, low), np.maximum(high, low))
            boxes = np.hstack([origins, origins]) + box
            scores = rule(boxes, used)
            # Equal to a nanometre counts as equal, so that rounding decides nothing.
            order = np.lexsort((origins[:, 0], origins[:, 1], np.round(scores, 6)))
            at = int(order[0])
            x, y = float(origins[at, 0]), float(origins[at, 1])
            score = (round(float(scores[at]), 6), angle, y, x)
            if best is None or score < best[0]:
                left, bottom, right, top = (float(side) for side in boxes[at])
                best = score, LaidPiece(kind, angle, x, y), (left, bottom, right, top)
        if best is None:
            full.add(kind)
            continue
        laid.append(best[1])
        begun = regions.and_then(begun, best[1])
        used = best[2] if used is None else union_bounds((used, best[2]))
    return tuple(laid)


def used_box(kinds: Sequence[PieceKind], layout: SheetLayout) -> Bounds:
    """The box around all pieces of a layout. Raises ValueError for an empty one."""
    return union_bounds(
        bounds_of(piece.place.apply_all(kinds[piece.kind].outline.ring)) for piece in layout
    )


def pieces_area(kinds: Sequence[PieceKind], layout: SheetLayout) -> float:
    """Area of all pieces of a layout in mm²."""
    return sum(kinds[piece.kind].outline.area for piece in layout)


def is_sound(kinds: Sequence[PieceKind], layout: SheetLayout, room: Room) -> bool:
    """Whether pieces lie inside the room, keep out of its squares and keep the gap, to 1e-6 mm."""
    import shapely

    polygons = [
        shapely.Polygon(piece.place.apply_all(kinds[piece.kind].outline.ring)) for piece in layout
    ]
    area = shapely.box(*room.area).buffer(1e-6, join_style="mitre")
    squares = [shapely.box(*box).buffer(-1e-6, join_style="mitre") for box in room.keep_outs]
    inside = all(area.covers(polygon) for polygon in polygons)
    clear = not any(polygon.intersects(square) for polygon in polygons for square in squares)
    tree = shapely.STRtree(polygons)
    close = tree.query(polygons, predicate="dwithin", distance=max(0.0, room.gap - 1e-6))
    return (
        inside
        and clear
        and all(
            one >= other or (room.gap <= 1e-6 and not _overlap(polygons[one], polygons[other]))
            for one, other in close.T
        )
    )


def _overlap(one: BaseGeometry, other: BaseGeometry) -> bool:
    return bool(one.buffer(-1e-6, join_style="mitre").intersects(other))


def _corners(box: Bounds) -> Points:
    left, bottom, right, top = box
    return (left, bottom), (right, bottom), (right, top), (left, top)


def leftmost(boxes: np.ndarray, used: Bounds | None) -> np.ndarray:
    """As far left as it goes, then low."""
    del used
    scores: np.ndarray = boxes[:, 2] + boxes[:, 3] * 1e-4
    return scores


def lowest(boxes: np.ndarray, used: Bounds | None) -> np.ndarray:
    """As low as it goes, then left."""
    del used
    scores: np.ndarray = boxes[:, 3] + boxes[:, 2] * 1e-4
    return scores


def snuggest(boxes: np.ndarray, used: Bounds | None) -> np.ndarray:
    """Where the box around all pieces grows least, then near the corner."""
    import numpy as np

    left, bottom, right, top = used or (np.inf, np.inf, -np.inf, -np.inf)
    wide = np.maximum(boxes[:, 2], right) - np.minimum(boxes[:, 0], left)
    high = np.maximum(boxes[:, 3], top) - np.minimum(boxes[:, 1], bottom)
    scores: np.ndarray = wide * high + (boxes[:, 2] + boxes[:, 3]) * 1e-2
    return scores


RULES: tuple[Rule, ...] = (leftmost, lowest, snuggest)
