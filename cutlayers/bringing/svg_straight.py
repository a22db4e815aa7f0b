"""Path data of straight lines alone, which most drawings of boxes have, read at ten times the speed
of the library that reads all others. Source: SVG 1.1, section 8.3.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from cutlayers.artwork.svg_style import NUMBER
from cutlayers.bringing.curves import Curve, chain_of
from cutlayers.geometry.transforms import Point

_TOKEN = re.compile(rf"(?P<letter>[MmLlHhVvZz])|(?P<number>{NUMBER})|[\s,]+|(?P<other>.)")

NEEDED = {"M": 2, "L": 2, "H": 1, "V": 1}
"""How many numbers a letter takes at a time."""


def straight_curves(data: str) -> tuple[Curve, ...] | None:
    """The subpaths of path data with M, L, H, V and Z alone; None for any other, and for data that
    make no sense."""
    runs: list[tuple[str, list[float]]] = []
    for token in _TOKEN.finditer(data):
        kind = token.lastgroup
        if kind == "letter":
            runs.append((token[0], []))
        elif kind == "number":
            if not runs:
                return None
            runs[-1][1].append(float(token[0]))
        elif kind == "other":
            return None
    for letter, values in runs:
        needed = NEEDED.get(letter.upper())
        if values if needed is None else not values or len(values) % needed:
            return None
    if runs and runs[0][0] not in "Mm":
        return None
    return tuple(_chained(runs))


def _chained(runs: list[tuple[str, list[float]]]) -> Iterator[Curve]:
    x = y = 0.0
    points: list[Point] = [(0.0, 0.0)]
    for letter, values in runs:
        relative = letter.islower()
        match letter.upper():
            case "Z":
                if len(points) > 1:
                    yield chain_of(points, closed=True)
                (x, y) = points[0]
                points = [(x, y)]
            case "H":
                for value in values:
                    x = x + value if relative else value
                    points.append((x, y))
            case "V":
                for value in values:
                    y = y + value if relative else value
                    points.append((x, y))
            case kind:
                pairs = zip(values[::2], values[1::2], strict=True)
                for index, (dx, dy) in enumerate(pairs):
                    x, y = (x + dx, y + dy) if relative else (dx, dy)
                    if kind == "M" and index == 0:
                        if len(points) > 1:
                            yield chain_of(points)
                        points = [(x, y)]
                    else:
                        points.append((x, y))
    if len(points) > 1:
        yield chain_of(points)
