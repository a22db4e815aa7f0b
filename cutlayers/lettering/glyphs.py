"""The single-stroke faces as they were distributed: each letter as open lines.

The letters are those of A. V. Hershey, Calligraphy for Computers, U.S. Naval Weapons Laboratory
Report 2101, 1967. The Hershey Fonts were originally created by Dr. A. V. Hershey while working at
the U. S. National Bureau of Standards. The data was taken from the distribution whose format was
originally created by James Hurt, Cognition, Inc., 900 Technology Park Drive, Billerica, MA 01821,
into a format of our own, a file for each face.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from types import MappingProxyType
from typing import Literal, get_args

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds, union_bounds
from cutlayers.geometry.transforms import Transform

Typeface = Literal["roman", "roman-double", "script", "serif-italic", "blackletter"]

TYPEFACES: tuple[Typeface, ...] = get_args(Typeface)
"""Roman and script are of one stroke; the others build their thick strokes of several."""

TYPEFACE: Typeface = "roman"
"""Plain letters of one stroke, with points and commas on the base line."""

CAP_UNITS = 21.0
"""Height of a capital in the face's units."""

_NOT_LETTERS = "\x7f^{}[]"
"""The face has a filled block, an arrow and brackets of two strokes in these places."""

_DASH, _LONG_DASH = "\u2013", "\u2014"
_TIMES = "\u00d7"

_Sign = tuple[float, Sequence[Sequence[float]]]
"""A letter as the files of faces have it: the way to the next one, and its strokes, each x, y, x, y
and so on, y up from the base line."""


@frozen
class Glyph:
    """One letter in units of its face: y up from the base line, x from the left margin."""

    advance: float
    paths: tuple[Path, ...]

    @property
    def bounds(self) -> Bounds:
        """Of its strokes. Raises ValueError where there are none."""
        return union_bounds(path.bounds for path in self.paths)

    def moved(self, x: float, y: float = 0.0) -> tuple[Path, ...]:
        """Its strokes elsewhere."""
        return tuple(path.transformed(Transform.translation(x, y)) for path in self.paths)


@cache
def plain(character: str, face: Typeface) -> Glyph:
    """A letter as the face has it. Raises KeyError where it has it not."""
    advance, strokes = signs(face)[character]
    return Glyph(float(advance), tuple(map(_stroke_path, strokes)))


@cache
def signs(face: Typeface) -> Mapping[str, _Sign]:
    """What the face has, by its character."""
    import json
    import pkgutil

    data = pkgutil.get_data("cutlayers.lettering", f"faces/{face}.json")
    found: dict[str, _Sign] = json.loads(data or b"")
    for character in _NOT_LETTERS:
        found.pop(character, None)
    # The face's hyphen is as long as a dash, so it serves as one, and half of it as the hyphen.
    found[_DASH] = found["-"]
    found[_LONG_DASH] = (34, ((4, 9, 30, 9),))
    found["-"] = (17, ((4, 9, 13, 9),))
    found[_TIMES] = (18, ((4, 3, 14, 13), (4, 13, 14, 3)))
    return MappingProxyType(found)


def _stroke_path(stroke: Sequence[float]) -> Path:
    """One stroke of the face's data, closed where it returns to its start."""
    points = list(zip(map(float, stroke[::2]), map(float, stroke[1::2]), strict=True))
    if len(points) > 3 and points[0] == points[-1]:
        return Path.polygon(points[:-1])
    return Path.polyline(points)
