"""Where texts go on a drawing so that none lies on another or on a line.

Coordinates are mm on paper, y down. A text's size is estimated: no font is measured, since the
page is read with whatever plain font the reader's computer has.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point

Rectangle = tuple[float, float, float, float]
"""Left, top, right, bottom."""

LETTER_WIDTH = 0.63
"""Mean width of a letter as a share of the font's size; of the plain fonts in use the widest has
0.62, the others 0.5 to 0.56."""

LINE_HEIGHT = 1.15
"""Distance of two lines of text as a share of the font's size."""

CLEAR = 0.5
"""mm left free between a name and the lines round its panel."""

DISTANCES = (0.75, 1.3, 2.0)
"""mm from a point to its letter; near ones are tried first."""

FARTHEST = 1.1 * DISTANCES[-1]

OVER_TEXT, OVER_LINE, OUTSIDE = 60.0, 4.0, 1000.0
"""What it costs to cover a mm² of another text, to touch a line, to stand a mm outside."""


@frozen
class Label:
    """Lines of text about a middle point, turned left by a quarter if `turned`."""

    lines: tuple[str, ...]
    at: Point
    size: float
    turned: bool = False

    @property
    def box(self) -> Rectangle:
        """The room that it takes."""
        return text_box(self.lines, self.at, self.size, self.turned)


def text_width(text: str, size: float) -> float:
    """Estimated width of one line."""
    return LETTER_WIDTH * size * len(text)


def text_box(lines: Sequence[str], at: Point, size: float, turned: bool) -> Rectangle:
    """The room that lines of text take about a middle point."""
    wide = max(text_width(line, size) for line in lines) / 2
    high = LINE_HEIGHT * size * len(lines) / 2
    if turned:
        wide, high = high, wide
    return at[0] - wide, at[1] - high, at[0] + wide, at[1] + high


def overlap(one: Rectangle, other: Rectangle) -> float:
    """Shared area of two rectangles."""
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    return wide * high if wide > 0 and high > 0 else 0.0


def label_inside(
    text: str, outline: Sequence[Point], sizes: Sequence[float], taken: Iterable[Rectangle]
) -> Label | None:
    """The largest way to write a name inside a closed outline, clear of what is taken.

    On one line if it fits, on two or three, or upright; None where nothing fits.
    """
    obstacles = list(taken)
    for size in sizes:
        for turned, lines in itertools.product((False, True), _broken(text)):
            for at in _middles(outline):
                label = Label(lines, at, size, turned)
                left, top, right, bottom = label.box
                room = (left - CLEAR, top - CLEAR, right + CLEAR, bottom + CLEAR)
                if _inside(room, outline) and not any(
                    overlap(label.box, other) for other in obstacles
                ):
                    return label
    return None


def _broken(text: str) -> Iterator[tuple[str, ...]]:
    """A name on one line, then on two, then a word a line."""
    words = text.split()
    yield (text,)
    if len(words) > 1:
        cuts = range(1, len(words))
        best = min(
            cuts, key=lambda cut: max(len(" ".join(words[:cut])), len(" ".join(words[cut:])))
        )
        yield (" ".join(words[:best]), " ".join(words[best:]))
    if len(words) > 2:
        yield tuple(words)


def _middles(outline: Sequence[Point]) -> Iterator[Point]:
    """Places to try: the centre of gravity, then points round it."""
    x, y = centroid(outline)
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    yield (x, y)
    for share in (0.12, 0.24):
        for dx, dy in ((0, -1), (0, 1), (-1, 0), (1, 0)):
            yield (x + share * dx * wide, y + share * dy * high)


def centroid(outline: Sequence[Point]) -> Point:
    """Centre of gravity of a closed outline."""
    area = cx = cy = 0.0
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        part = x0 * y1 - x1 * y0
        area += part
        cx += (x0 + x1) * part
        cy += (y0 + y1) * part
    return (cx / (3 * area), cy / (3 * area))


def _inside(box: Rectangle, outline: Sequence[Point]) -> bool:
    left, top, right, bottom = box
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    if not all(_holds(outline, corner) for corner in corners):
        return False
    edges = list(zip(corners, (*corners[1:], corners[0]), strict=True))
    border = zip(outline, (*outline[1:], outline[0]), strict=True)
    return not any(crosses(a, b, c, d) for a, b in border for c, d in edges)


def _holds(outline: Sequence[Point], point: Point) -> bool:
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            inside = not inside
    return inside


def crosses(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two straight pieces cross."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def spread(places: Sequence[float], room: float, low: float, high: float) -> list[float]:
    """Places for labels `room` apart along a line, each as near to its own as can be.

    `places` rise. Neighbours that would overlap form a block about their common middle; blocks
    stay between `low` and `high` as long as all labels fit there.
    Source: isotonic regression by pooling neighbours, of places less their rank times the room.
    """
    blocks: list[tuple[float, int]] = []
    for index, place in enumerate(places):
        blocks.append((place - index * room, 1))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            (one, many), (other, more) = blocks[-2:]
            blocks[-2:] = [((one * many + other * more) / (many + more), many + more)]
    bases = [base for base, count in blocks for _ in range(count)]
    top = high - (len(places) - 1) * room
    return [max(low, min(base, max(low, top))) + i * room for i, base in enumerate(bases)]


def beside(
    text: str,
    point: Point,
    size: float,
    taken: Sequence[Rectangle],
    lines: Sequence[tuple[Point, Point]],
    within: Rectangle,
) -> Label:
    """A short label next to a point, where it covers least of what is drawn."""
    wide = text_width(text, size)
    reach = max(wide, size) + FARTHEST + 2 * size
    around = (point[0] - reach, point[1] - reach, point[0] + reach, point[1] + reach)
    near = [other for other in taken if overlap(around, other)]
    lines = [line for line in lines if _touches(around, line)]
    best: tuple[float, Label] | None = None
    for distance in DISTANCES:
        for step in range(16):
            angle = math.tau * (step + 0.5) / 16
            at = (
                point[0] + math.cos(angle) * (wide / 2 + distance * 1.1),
                point[1] + math.sin(angle) * (size / 2 + distance * 1.1),
            )
            label = Label((text,), at, size)
            box = label.box
            cost = distance
            cost += OVER_TEXT * sum(overlap(box, other) for other in near)
            cost += OVER_LINE * sum(_touches(box, line) for line in lines)
            outside = max(
                within[0] - box[0], within[1] - box[1], box[2] - within[2], box[3] - within[3]
            )
            cost += OUTSIDE * max(0.0, outside)
            if best is None or cost < best[0] - 1e-9:
                best = (cost, label)
        if best is not None and best[0] <= distance:
            break
    assert best is not None
    return best[1]


def _touches(box: Rectangle, line: tuple[Point, Point]) -> bool:
    left, top, right, bottom = box
    (x0, y0), (x1, y1) = line
    if max(x0, x1) < left or min(x0, x1) > right or max(y0, y1) < top or min(y0, y1) > bottom:
        return False
    if left <= x0 <= right and top <= y0 <= bottom:
        return True
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    sides = zip(corners, (*corners[1:], corners[0]), strict=True)
    return any(crosses(line[0], line[1], a, b) for a, b in sides) or (
        (x0 == x1 or y0 == y1)
        and left <= max(x0, x1)
        and right >= min(x0, x1)
        and top <= max(y0, y1)
        and bottom >= min(y0, y1)
    )
