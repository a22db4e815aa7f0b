"""Single-stroke lettering: text as open lines that a pen or a blade can follow.

The letters are those of the faces (`glyphs`), and those that can be composed of them (`composing`).
"""

from __future__ import annotations

import unicodedata
from typing import Literal

from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.lettering.composing import glyph, letters_of
from cutlayers.lettering.glyphs import CAP_UNITS, TYPEFACE, Glyph, Typeface, signs
from cutlayers.telling.errors import PathError

Anchor = Literal["start", "middle", "end"]

TRANSLITERATIONS = str.maketrans(
    {
        "\u00df": "ss",
        "\u1e9e": "SS",
        "\u00c6": "AE",
        "\u00f0": "d",
        "\u00fe": "th",
        "\u00de": "Th",
        "\u014b": "n",
        "\u014a": "N",
    }
)
"""Letters the lettering lacks, and what a reader takes for them."""


def letter(
    text: str,
    cap_height: float,
    at: Point = (0.0, 0.0),
    anchor: Anchor = "start",
    face: Typeface = TYPEFACE,
) -> tuple[Path, ...]:
    """Draw one line of text with capitals `cap_height` mm high, its base line at `at`.

    Lower-case letters are two thirds as high in most faces; descenders reach a third below the base
    line, accents a third above capitals. Text of spaces gives no paths. Raises PathError for
    characters the face lacks.
    """
    scale = cap_height / CAP_UNITS
    shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * text_width(text, cap_height, face)
    x, y = at[0] - shift, at[1]
    paths: list[Path] = []
    for each in _glyphs(text, face):
        place = Transform(xx=scale, yy=scale, dx=x, dy=y)
        paths.extend(path.transformed(place) for path in each.paths)
        x += each.advance * scale
    return tuple(paths)


def text_width(text: str, cap_height: float, face: Typeface = TYPEFACE) -> float:
    """Width in mm that a line of text takes, side margins included.

    Raises PathError for characters the face lacks.
    """
    return sum(each.advance for each in _glyphs(text, face)) * cap_height / CAP_UNITS


def unsupported(text: str, face: Typeface = TYPEFACE) -> str:
    """The characters of `text` that the face lacks, each once, in the order they appear."""
    return "".join(dict.fromkeys(each for each in letters_of(text) if glyph(each, face) is None))


def _allowed(face: Typeface) -> str:
    """The characters the face has, in words for a message."""
    others = sorted(sign for sign in signs(face) if sign.isascii() and not sign.isalnum())
    return f"A-Z a-z 0-9, letters with an accent, spaces and {''.join(others).strip()}"


def _glyphs(text: str, face: Typeface) -> list[Glyph]:
    letters = letters_of(text)
    found = {each: glyph(each, face) for each in letters}
    if missing := [character for character, drawn in found.items() if drawn is None]:
        raise PathError(
            f"{text!r} holds {', '.join(map(repr, missing))}, for which there is no single-stroke "
            f"letter; there are {_allowed(face)}"
        )
    return [drawn for each in letters if (drawn := found[each])]


def drawable(text: str, face: Typeface = TYPEFACE) -> str:
    """The text in characters the face has: of what it lacks the eye loses an accent, or a sign
    becomes a question mark, rather than the whole word.

    For words about the work, such as names and titles. What is lettered on a box must not change:
    ask `unsupported` there.

    >>> drawable("Crème … ß №")
    'Crème … ss No'
    """
    return "".join(each if glyph(each, face) else _instead(each, face) for each in letters_of(text))


def _instead(character: str, face: Typeface) -> str:
    """What a reader takes for a character that the face lacks; a question mark where nothing is."""
    spelled = unicodedata.normalize("NFKD", character.translate(TRANSLITERATIONS))
    plain = "".join(each for each in spelled if not unicodedata.combining(each))
    return plain if plain and all(glyph(each, face) for each in plain) else "?"
