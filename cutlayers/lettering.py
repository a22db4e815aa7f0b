"""Single-stroke lettering: text as open lines that a pen or a blade can follow.

The letters are those of A. V. Hershey, Calligraphy for Computers, U.S. Naval Weapons Laboratory
Report 2101, 1967. The Hershey Fonts were originally created by Dr. A. V. Hershey while working at
the U. S. National Bureau of Standards. The format of the font data in this distribution was
originally created by James Hurt, Cognition, Inc., 900 Technology Park Drive, Billerica, MA 01821.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Literal

from cutlayers.errors import PathError
from cutlayers.paths import Path
from cutlayers.transforms import Point, Transform

Anchor = Literal["start", "middle", "end"]

FACE = "rowmans"
"""Roman simplex: plain letters of one stroke, with points and commas on the base line."""

CAP_UNITS = 21.0
"""Height of a capital in the face's units: from the base line at 9 up to -12 (y down)."""

BASE_LINE_UNITS = 9.0

_NOT_LETTERS = "\x7f^{}[]"
"""The face has a filled block, an arrow and brackets of two strokes in these places."""

_DASH = "\u2013"
_TIMES = "\u00d7"

TRANSLITERATIONS = str.maketrans(
    {
        "\u2014": "\u2013",
        "\u2018": "'",
        "\u2019": "'",
        "\u201c": '"',
        "\u201d": '"',
        "\u2026": "...",
        "\u00df": "ss",
        "\u00e6": "ae",
        "\u00c6": "AE",
        "\u00f8": "o",
        "\u00d8": "O",
        "\u0142": "l",
        "\u0141": "L",
    }
)
"""Signs the lettering lacks, and what a reader takes for them."""


@dataclass(frozen=True, slots=True)
class _Glyph:
    """One letter in units of its face: y up from the base line, x from the left margin."""

    advance: float
    paths: tuple[Path, ...]


def letter(
    text: str, cap_height: float, at: Point = (0.0, 0.0), anchor: Anchor = "start"
) -> tuple[Path, ...]:
    """Draw one line of text with capitals `cap_height` mm high, its base line at `at`.

    Lower-case letters are two thirds as high; descenders reach a third below the base line.
    Text of spaces gives no paths. Raises PathError for characters the face lacks.
    """
    if missing := unsupported(text):
        raise PathError(
            f"{text!r} holds {', '.join(map(repr, missing))}, for which there is no single-stroke "
            f"letter; allowed are {_allowed()}"
        )
    scale = cap_height / CAP_UNITS
    shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * text_width(text, cap_height)
    x, y = at[0] - shift, at[1]
    paths: list[Path] = []
    for character in text:
        glyph = _face()[character]
        place = Transform(xx=scale, yy=scale, dx=x, dy=y)
        paths.extend(path.transformed(place) for path in glyph.paths)
        x += glyph.advance * scale
    return tuple(paths)


def text_width(text: str, cap_height: float) -> float:
    """Width in mm that a line of text takes, side margins included.

    Raises KeyError for a character the face lacks.
    """
    return sum(_face()[character].advance for character in text) * cap_height / CAP_UNITS


def unsupported(text: str) -> str:
    """The characters of `text` that the face lacks, each once, in the order they appear."""
    return "".join(dict.fromkeys(character for character in text if character not in _face()))


def _allowed() -> str:
    """The characters the face has, in words for a message."""
    signs = "".join(sorted(sign for sign in _face() if not sign.isalnum() and sign != " "))
    return f"A-Z a-z 0-9, spaces and {signs}"


def drawable(text: str) -> str:
    """The text in characters the face has; the eye loses an accent rather than a word.

    >>> drawable("Crème …")
    'Creme ...'
    """
    plain = unicodedata.normalize("NFKD", text.translate(TRANSLITERATIONS))
    plain = "".join(character for character in plain if not unicodedata.combining(character))
    missing = unsupported(plain)
    return "".join("?" if character in missing else character for character in plain)


@cache
def _face() -> Mapping[str, _Glyph]:
    from HersheyFonts import HersheyFonts

    face = {
        character: _Glyph(
            float(glyph.char_width),
            tuple(_stroke_path(stroke, glyph.left_offset) for stroke in glyph.strokes),
        )
        for character, glyph in HersheyFonts(load_default_font=FACE).all_glyphs.items()
        if character not in _NOT_LETTERS
    }
    # The face's hyphen is as long as a dash, so it serves as one, and half of it as the hyphen.
    face[_DASH] = face["-"]
    face["-"] = _Glyph(17.0, (Path.line((4.0, 9.0), (13.0, 9.0)),))
    face[_TIMES] = _Glyph(
        18.0, (Path.line((4.0, 3.0), (14.0, 13.0)), Path.line((4.0, 13.0), (14.0, 3.0)))
    )
    return MappingProxyType(face)


def _stroke_path(stroke: list[tuple[int, int]], left: int) -> Path:
    """One stroke of the face's data, closed where it returns to its start."""
    points = [(float(x - left), BASE_LINE_UNITS - y) for x, y in stroke]
    if len(points) > 3 and points[0] == points[-1]:
        return Path.polygon(points[:-1])
    return Path.polyline(points)
