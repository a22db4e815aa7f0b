"""Single-stroke lettering: text as open lines that a pen or a blade can follow.

The letters are those of A. V. Hershey, Calligraphy for Computers, U.S. Naval Weapons Laboratory
Report 2101, 1967. The Hershey Fonts were originally created by Dr. A. V. Hershey while working at
the U. S. National Bureau of Standards. The data was taken from the distribution whose format was
originally created by James Hurt, Cognition, Inc., 900 Technology Park Drive, Billerica, MA 01821,
into a format of our own, a file for each face.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from functools import cache
from types import MappingProxyType
from typing import Literal, get_args

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import union_bounds
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.telling.errors import PathError

Anchor = Literal["start", "middle", "end"]

Typeface = Literal["roman", "roman-double", "script", "serif-italic", "blackletter"]

TYPEFACES: tuple[Typeface, ...] = get_args(Typeface)
"""Roman and script are of one stroke; the others build their thick strokes of several."""

TYPEFACE: Typeface = "roman"
"""Plain letters of one stroke, with points and commas on the base line."""

CAP_UNITS = 21.0
"""Height of a capital in the face's units."""

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


_Sign = tuple[float, Sequence[Sequence[float]]]
"""A letter as the files of faces have it: the way to the next one, and its strokes, each x, y, x, y
and so on, y up from the base line."""


@frozen
class _Glyph:
    """One letter in units of its face: y up from the base line, x from the left margin."""

    advance: float
    paths: tuple[Path, ...]


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
    for glyph in _glyphs(text, face):
        place = Transform(xx=scale, yy=scale, dx=x, dy=y)
        paths.extend(path.transformed(place) for path in glyph.paths)
        x += glyph.advance * scale
    return tuple(paths)


def text_width(text: str, cap_height: float, face: Typeface = TYPEFACE) -> float:
    """Width in mm that a line of text takes, side margins included.

    Raises PathError for characters the face lacks.
    """
    return sum(glyph.advance for glyph in _glyphs(text, face)) * cap_height / CAP_UNITS


def unsupported(text: str, face: Typeface = TYPEFACE) -> str:
    """The characters of `text` that the face lacks, each once, in the order they appear."""
    composed = unicodedata.normalize("NFC", text)
    return "".join(dict.fromkeys(each for each in composed if _glyph(each, face) is None))


def _allowed(face: Typeface) -> str:
    """The characters the face has, in words for a message."""
    signs = "".join(sorted(sign for sign in _signs(face) if sign.isascii() and not sign.isalnum()))
    return f"A-Z a-z 0-9, letters with an accent, spaces and {signs.strip()}"


def _glyphs(text: str, face: Typeface) -> list[_Glyph]:
    found = {each: _glyph(each, face) for each in unicodedata.normalize("NFC", text)}
    if missing := [character for character, glyph in found.items() if glyph is None]:
        raise PathError(
            f"{text!r} holds {', '.join(map(repr, missing))}, for which there is no single-stroke "
            f"letter; there are {_allowed(face)}"
        )
    return [glyph for each in unicodedata.normalize("NFC", text) if (glyph := found[each])]


def drawable(text: str, face: Typeface = TYPEFACE) -> str:
    """The text in characters the face has: of what it lacks the eye loses an accent, or a sign
    becomes a question mark, rather than the whole word.

    For words about the work, such as names and titles. What is lettered on a box must not change:
    ask `unsupported` there.

    >>> drawable("Crème … ß №")
    'Crème ... ss No'
    """
    composed = unicodedata.normalize("NFC", text)
    return "".join(
        character if _glyph(character, face) else _instead(character, face)
        for character in composed
    )


def _instead(character: str, face: Typeface) -> str:
    """What a reader takes for a character that the face lacks; a question mark where nothing is."""
    spelled = unicodedata.normalize("NFKD", character.translate(TRANSLITERATIONS))
    plain = "".join(each for each in spelled if not unicodedata.combining(each))
    return plain if plain and all(_glyph(each, face) for each in plain) else "?"


@cache
def _glyph(character: str, face: Typeface) -> _Glyph | None:
    """A letter of the face, or one composed of it; None where its data does not go that far."""
    character = _SAME.get(character, character)
    if character in _signs(face):
        return _plain(character, face)
    if character in _STRUCK:
        base, bar = _STRUCK[character]
        return _struck(_plain(base, face), bar)
    base, *marks = list(unicodedata.normalize("NFD", character))
    if base not in _signs(face) or not marks or any(mark not in _MARKS for mark in marks):
        return None
    above = any(_MARKS[mark].above for mark in marks)
    x_height = _top(_plain("x", face))
    glyph = _dotless(base, face, x_height) if above else _plain(base, face)
    for mark in marks:
        glyph = _marked(glyph, _MARKS[mark], x_height)
    return glyph


@cache
def _plain(character: str, face: Typeface) -> _Glyph:
    """A letter as the face has it. Raises KeyError where it has it not."""
    advance, strokes = _signs(face)[character]
    return _Glyph(float(advance), tuple(map(_stroke_path, strokes)))


@cache
def _signs(face: Typeface) -> Mapping[str, _Sign]:
    """What the face has, by its character."""
    import json
    import pkgutil

    data = pkgutil.get_data("cutlayers.lettering", f"faces/{face}.json")
    signs: dict[str, _Sign] = json.loads(data or b"")
    for character in _NOT_LETTERS:
        signs.pop(character, None)
    # The face's hyphen is as long as a dash, so it serves as one, and half of it as the hyphen.
    signs[_DASH] = signs["-"]
    signs["-"] = (17, ((4, 9, 13, 9),))
    signs[_TIMES] = (18, ((4, 3, 14, 13), (4, 13, 14, 3)))
    return MappingProxyType(signs)


def _stroke_path(stroke: Sequence[float]) -> Path:
    """One stroke of the face's data, closed where it returns to its start."""
    points = list(zip(map(float, stroke[::2]), map(float, stroke[1::2]), strict=True))
    if len(points) > 3 and points[0] == points[-1]:
        return Path.polygon(points[:-1])
    return Path.polyline(points)


# Accents, made of signs of the plain face.


@frozen
class _Mark:
    """An accent: stroke number `stroke` of `sign`, turned and then mirrored.

    `size` is its larger side in the face's units, `beside` the middles of its copies.
    """

    sign: str
    size: float
    stroke: int = 0
    turn_deg: float = 0.0
    mirror: bool = False
    above: bool = True
    beside: tuple[float, ...] = (0.0,)


_MARKS: Mapping[str, _Mark] = MappingProxyType(
    {
        "\u0300": _Mark("/", 5.0, mirror=True),  # grave
        "\u0301": _Mark("/", 5.0),  # acute
        "\u0302": _Mark("<", 6.0, turn_deg=-90.0),  # circumflex
        "\u0303": _Mark("~", 9.0),  # tilde
        "\u0304": _Mark("-", 8.0),  # macron
        "\u0306": _Mark("(", 8.0, turn_deg=90.0),  # breve
        "\u0307": _Mark(".", 2.0),  # dot above
        "\u0308": _Mark(".", 2.0, beside=(-3.5, 3.5)),  # diaeresis
        "\u030a": _Mark("o", 5.0),  # ring
        "\u030b": _Mark("/", 5.0, beside=(-2.0, 2.0)),  # double acute
        "\u030c": _Mark("<", 6.0, turn_deg=90.0),  # caron
        "\u0323": _Mark(".", 2.0, above=False),  # dot below
        "\u0326": _Mark(",", 5.0, above=False),  # comma below
        "\u0327": _Mark(",", 5.0, above=False),  # cedilla
        "\u0328": _Mark(",", 5.0, mirror=True, above=False),  # ogonek
    }
)
_SAME: Mapping[str, str] = MappingProxyType(
    {"\u2019": "'", "\u2018": "'", "\u201c": '"', "\u201d": '"', "\u00a0": " ", "\u2011": "-"}
)
"""Typographers' marks, and the sign of the face that is drawn for them."""

_STRUCK: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "\u00f8": ("o", "/"),
        "\u00d8": ("O", "/"),
        "\u0142": ("l", "/"),
        "\u0141": ("L", "/"),
        "\u0111": ("d", "-"),
        "\u0110": ("D", "-"),
    }
)
"""Letters with a bar through them, which Unicode does not take apart."""

_MARK_GAP = 2.0
"""Units between a letter and its accent."""


def _marked(glyph: _Glyph, mark: _Mark, x_height: float) -> _Glyph:
    left, _, right, top = union_bounds(path.bounds for path in glyph.paths)
    paths = list(glyph.paths)
    for aside in mark.beside:
        for path in _accent(mark):
            a_left, a_bottom, a_right, a_top = path.bounds
            y = max(top, x_height) + _MARK_GAP - a_bottom if mark.above else -_MARK_GAP - a_top
            x = (left + right) / 2.0 + aside - (a_left + a_right) / 2.0
            paths.append(path.transformed(Transform.translation(x, y)))
    return _Glyph(glyph.advance, tuple(paths))


def _accent(mark: _Mark) -> tuple[Path, ...]:
    path = (
        _plain(mark.sign, TYPEFACE)
        .paths[mark.stroke]
        .transformed(Transform.rotation(mark.turn_deg))
    )
    if mark.mirror:
        path = path.transformed(Transform.mirror(0.0))
    left, bottom, right, top = path.bounds
    scale = mark.size / max(right - left, top - bottom)
    return (path.transformed(Transform(xx=scale, yy=scale)),)


def _struck(glyph: _Glyph, bar: str) -> _Glyph:
    """The letter with a bar through its middle; a straight stem is crossed where it stands."""
    left, bottom, right, top = union_bounds(path.bounds for path in glyph.paths)
    across = _accent(_Mark(bar, 0.7 * (top - bottom) if bar == "/" else 7.0))[0]
    stem = max(
        (segment for path in glyph.paths for segment in path.segments),
        key=lambda segment: (abs(segment.start[0] - segment.end[0]) < 0.5) * segment.chord,
    )
    upright = abs(stem.start[0] - stem.end[0]) < 0.5 and stem.chord > 0.8 * (top - bottom)
    x = stem.start[0] if upright else (left + right) / 2.0
    y = (bottom + top) / 2.0
    if bar == "-":
        y = top - 4.0 if top - bottom > 0 and glyph.advance < 20.0 else y
    a_left, a_bottom, a_right, a_top = across.bounds
    move = Transform.translation(x - (a_left + a_right) / 2.0, y - (a_bottom + a_top) / 2.0)
    return _Glyph(glyph.advance, (*glyph.paths, across.transformed(move)))


def _dotless(base: str, face: Typeface, x_height: float) -> _Glyph:
    glyph = _plain(base, face)
    if base not in "ij":
        return glyph
    kept = tuple(path for path in glyph.paths if path.bounds[1] < x_height)
    return _Glyph(glyph.advance, kept)


def _top(glyph: _Glyph) -> float:
    return union_bounds(path.bounds for path in glyph.paths)[3]
