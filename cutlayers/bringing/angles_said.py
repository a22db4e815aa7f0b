"""Angles that are written beside creases: "90°" is a mountain of 90, "V 45°" a valley of 45.

That drawings have them so is common practice, no source; the letters are FOLD's.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from cutlayers.bringing.lines import DrawnText, Kind, Meant
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point

NEAR = 10.0
"""mm between a crease and where the words that are about it begin."""

CLEARLY = 1.5
"""How much farther than its own crease the next one has to be."""

MOST = 500
"""Angles in a drawing; each is held against every crease."""

_WORDS = re.compile(
    r"(?P<before>m|v|mountain|valley)?\.?\s*(?P<sign>[+\-\u2212])?\s*(?P<number>\d{1,3}(?:[.,]\d+)?)"
    r"\s*(?:°|º|deg\.?|degrees)\s*(?P<after>m|v|mountain|valley)?",
    re.IGNORECASE,
)
_WAYS = {"m": "mountain", "v": "valley"}


@frozen
class Angle:
    """Degrees from 0 to 180, signed where they were written so; "mountain", "valley" or "" of the
    words beside them."""

    deg: float
    signed: bool
    way: str


def angle_of(text: str) -> Angle | None:
    """The angle that a text is, if it is one.

    >>> angle_of("90°"), angle_of("V 45 deg"), angle_of("90 mm"), angle_of("270°")
    (Angle(deg=90.0, signed=False, way=''), Angle(deg=45.0, signed=False, way='valley'), None, None)
    """
    match = _WORDS.fullmatch(text.strip())
    if match is None:
        return None
    size = float(match["number"].replace(",", "."))
    if size > 180.0:
        return None
    way = _WAYS.get((match["before"] or match["after"] or " ")[0].lower(), "")
    sign = -1.0 if match["sign"] in ("-", "\u2212") else 1.0
    return Angle(sign * size, bool(match["sign"]), way)


def with_angles(lines: Sequence[Meant], texts: Sequence[DrawnText]) -> tuple[Meant, ...]:
    """Creases with the angles that are written beside them, positive a mountain.

    An angle counts for the crease that it stands nearest to, if that is clear and the file itself
    says no angle. Without a sign it goes the way that is said of the line, else it is a mountain.
    """
    creases = [
        index
        for index, each in enumerate(lines)
        if each.kind in (Kind.SCORE, Kind.PERFORATE) and each.line.hints.fold_deg is None
    ]
    found = list(lines)
    for index, angle in _beside(lines, creases, texts):
        meant = lines[index]
        hints = meant.line.hints
        way = angle.way or hints.fold
        turned = abs(angle.deg) if way == "mountain" else -abs(angle.deg)
        if angle.signed or not way:
            turned = angle.deg
        line = replace(meant.line, hints=replace(hints, fold_deg=turned + 0.0))
        found[index] = replace(meant, line=line)
    return tuple(found)


def _beside(
    lines: Sequence[Meant], creases: Sequence[int], texts: Sequence[DrawnText]
) -> Iterator[tuple[int, Angle]]:
    told = [(text, angle) for text in texts if (angle := angle_of(text.text)) is not None]
    if not creases or len(told) > MOST:
        return
    for text, angle in told:
        near = sorted((_distance(lines[index], text.at), index) for index in creases)
        apart, nearest = near[0]
        if apart <= NEAR and (len(near) == 1 or near[1][0] > CLEARLY * apart):
            yield nearest, angle


def _distance(meant: Meant, point: Point) -> float:
    """From a point to the chords of a line, in mm."""
    pairs = itertools.pairwise(meant.line.path.points(0.5))
    return min(_to_chord(one, other, point) for one, other in pairs)


def _to_chord(start: Point, end: Point, point: Point) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    along = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / (dx * dx + dy * dy)
    share = min(1.0, max(0.0, along))
    return math.dist(point, (start[0] + share * dx, start[1] + share * dy))
