"""Lines as somebody drew them, with what they are for: what cleaning starts from."""

from __future__ import annotations

from collections.abc import Iterable

from cutlayers.bringing.lines import DrawnLine, Hints, Kind, Meant
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point
from cutlayers.net.linework import Linework


def meant(lines: Iterable[tuple[Kind, Path]]) -> tuple[Meant, ...]:
    """Lines numbered in their order."""
    return tuple(
        Meant(DrawnLine(path, Hints(), number), kind, "said")
        for number, (kind, path) in enumerate(lines, start=1)
    )


def cuts(*ends: tuple[Point, Point]) -> list[tuple[Kind, Path]]:
    """Straight cuts."""
    return [(Kind.CUT, Path.line(*each)) for each in ends]


def scores(*ends: tuple[Point, Point]) -> list[tuple[Kind, Path]]:
    """Straight creases."""
    return [(Kind.SCORE, Path.line(*each)) for each in ends]


def box(left: float, bottom: float, right: float, top: float) -> list[tuple[Kind, Path]]:
    """Four cuts."""
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    return cuts(*zip(corners, [*corners[1:], corners[0]], strict=True))


def as_meant(lines: Linework) -> tuple[Meant, ...]:
    """A net's own lines, as a reader that understood all of a drawing gives them."""
    return meant((Kind(stroke.operation.value), stroke.path) for stroke in lines)
