"""Names of pieces in the picture of their sheet: each on its piece's largest panel, clear of what
is worked there. Pieces much alike, such as facings, are told apart by nothing else."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import together, without
from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.transforms import Point
from cutlayers.lettering.room import FLATTENED, aligned, places, room
from cutlayers.lettering.single_stroke import drawable, text_width
from cutlayers.pictures.scene import CAPITAL, LINE_HEIGHT

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from cutlayers.net import Panel
    from cutlayers.sheets.model import Placed

CAPS = (0.8, 0.6, 0.45, 0.35)
"""Heights of capitals that are tried, as shares of the picture's step."""

TRIED = 8
"""Steps in which places are tried along each side: a sheet may have a hundred names."""

CLEAR = 0.5
"""Of a capital's height, from the name to the panel's borders and to lines on it."""


@frozen
class PieceName:
    """A name on one or two lines about its `middle`, mm on the sheet, y up; turned, it runs up."""

    lines: tuple[str, ...]
    middle: Point
    cap: float
    turned: bool

    @property
    def start(self) -> Point:
        """The middle of the first line's base."""
        (x, y), half = self.middle, _high(self.lines) * self.cap / 2
        return (x - half + self.cap, y) if self.turned else (x, y + half - self.cap)


def piece_names(pieces: Sequence[Placed], step: float) -> Iterator[PieceName]:
    """The names of placed pieces; one that finds no room is left out. `step` is the picture's
    module in mm."""
    found: dict[object, PieceName | None] = {}
    for placed in pieces:
        place = placed.place
        if not place.is_similarity:
            continue
        # Pieces alike that lie alike have their names in the same place.
        lies = (place.xx, place.xy, place.yx, place.yy)
        key = (id(placed.piece.blank), placed.piece.name, lies)
        if key not in found:
            found[key] = _placed(placed, step)
        name = found[key]
        if name is not None:
            x, y = name.middle
            yield PieceName(name.lines, (x + place.dx, y + place.dy), name.cap, name.turned)


def _placed(placed: Placed, step: float) -> PieceName | None:
    """The name where it stands on the piece before that is moved, turned only."""
    from shapely import prepare
    from shapely.affinity import affine_transform

    place = placed.place
    turn = replace(place, dx=0.0, dy=0.0)
    panel = max(placed.piece.net.panels, key=lambda panel: panel.outline.area)
    bounds = panel.outline.transformed(turn).bounds
    letters = _lettered(panel)
    name = drawable(placed.piece.name)
    ways = dict.fromkeys(((name,), tuple(name.split(": ", 1))))
    for cap in (share * step for share in CAPS):
        clear = CLEAR * cap
        free = without(room(panel, clear), letters.buffer(clear))
        free = affine_transform(free, (turn.xx, turn.xy, turn.yx, turn.yy, 0.0, 0.0))
        prepare(free)
        for up in (False, True):
            for lines in ways:
                wide = max(text_width(line, cap) for line in lines)
                high = _high(lines) * cap
                middle = _middle(free, bounds, *((high, wide) if up else (wide, high)))
                if middle is not None:
                    return PieceName(lines, middle, cap, up)
    return None


def _lettered(panel: Panel) -> BaseGeometry:
    """What lines of text take, the insides of their letters with them."""
    from shapely import MultiPoint

    lines: dict[str, list[Point]] = defaultdict(list)
    for feature in panel.features:
        if feature.traced:
            lines[feature.name] += feature.path.points(FLATTENED)
    return together(MultiPoint(points).convex_hull for points in lines.values())


def _middle(free: BaseGeometry, bounds: Bounds, wide: float, high: float) -> Point | None:
    """The place of a box in the room that is nearest the middle of the bounds; most stand there."""
    from shapely import box

    left, bottom, right, top = bounds
    x, y = (left + right) / 2, (bottom + top) / 2
    if free.covers(box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)):
        return x, y
    centres = places(free, wide, high, TRIED)
    return aligned(centres, bounds, "middle", 0) if len(centres) else None


def _high(lines: Sequence[str]) -> float:
    """The height of lines below each other, of capitals 1 mm high."""
    return 1.0 + (len(lines) - 1) * LINE_HEIGHT / CAPITAL
