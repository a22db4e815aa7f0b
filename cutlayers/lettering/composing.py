"""Letters that a face lacks, put together of those that it has and marks.

A letter is taken apart as Unicode does (canonical decomposition, normal form D), and each mark is
placed by the bounds of what it goes with: above it, below it, or attached to its foot. Letters that
Unicode does not take apart are drawn (`uncomposed.py`).

Typographers set some marks otherwise than Unicode names them. A caron stands as a comma beside d, t
and l; the cedilla of Latvian and Livonian letters is a comma below, which g has above it. Source:
The Unicode Standard 16.0, section 7.1, "Latin", on caron, cedilla and comma below.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Transform
from cutlayers.lettering.glyphs import Glyph, Typeface, plain, signs
from cutlayers.lettering.marks import Mark, dotless, x_height
from cutlayers.lettering.uncomposed import DRAWN

_SAME: Mapping[str, str] = MappingProxyType(
    {
        "\u2019": "'",
        "\u2018": "'",
        "\u201a": ",",
        "\u201c": '"',
        "\u201d": '"',
        "\u00a0": " ",
        "\u2011": "-",
        "\u00d0": "\u0110",
    }
)
"""Typographers' marks, and the sign of the face that is drawn for them; an Eth looks like a D with
a stroke."""

_ROWS: Mapping[str, str] = MappingProxyType({"\u2026": "...", "\u201e": ",,"})
"""Signs that are several in a row."""

_MARK_GAP = 2.0
"""Units between a letter and its accent."""


_COMMA_BELOW = Mark(",", 5.0, above=False)
_MARKS: Mapping[str, Mark] = MappingProxyType(
    {
        "\u0300": Mark("/", 5.0, mirror=True),  # grave
        "\u0301": Mark("/", 5.0),  # acute
        "\u0302": Mark("<", 6.0, turn_deg=-90.0),  # circumflex
        "\u0303": Mark("~", 9.0),  # tilde
        "\u0304": Mark("-", 8.0),  # macron
        "\u0306": Mark("(", 8.0, turn_deg=90.0),  # breve
        "\u0307": Mark(".", 2.0),  # dot above
        "\u0308": Mark(".", 2.0, beside=(-3.5, 3.5)),  # diaeresis
        "\u030a": Mark("o", 5.0),  # ring
        "\u030b": Mark("/", 5.0, beside=(-2.0, 2.0)),  # double acute
        "\u030c": Mark("<", 6.0, turn_deg=90.0),  # caron
        "\u0323": Mark(".", 2.0, above=False),  # dot below
        "\u0326": _COMMA_BELOW,
        "\u0327": _COMMA_BELOW,  # cedilla, but for letters that it is attached to
    }
)

_CARON, _CEDILLA, _OGONEK = "\u030c", "\u0327", "\u0328"
_TURNED_COMMA = Mark(",", 5.0, turn_deg=180.0)
_APOSTROPHE = Mark("'", 6.0)

_HOOK = ((0.0, 0.0), (-1.7, -1.6), (-2.2, -3.2), (-1.5, -4.6), (0.0, -5.0), (1.3, -4.6))
_TAIL = (
    (0.0, 0.0),
    (-0.4, -1.7),
    (1.2, -1.9),
    (2.0, -3.1),
    (1.2, -4.5),
    (-0.6, -5.0),
    (-2.0, -4.6),
)
"""An ogonek and a cedilla in the face's units, from where they leave the letter."""


def letters_of(text: str) -> list[str]:
    """The letters of a text, each with the marks that Unicode has no letter of its own for."""
    found: list[str] = []
    for character in unicodedata.normalize("NFC", text):
        if found and unicodedata.combining(character):
            found[-1] += character
        else:
            found.append(character)
    return found


@cache
def glyph(character: str, face: Typeface) -> Glyph | None:
    """A letter of the face, or one composed of it with its marks; None where its data does not go
    that far."""
    character = _SAME.get(character, character)
    if character in signs(face):
        return plain(character, face)
    if character in _ROWS:
        return _row([plain(each, face) for each in _ROWS[character]])
    if character in DRAWN:
        return DRAWN[character](face)
    base, *marks = list(unicodedata.normalize("NFD", character))
    found = glyph(base, face) if marks else None
    if found is None or any(mark not in _MARKS and mark != _OGONEK for mark in marks):
        return None
    if any(_MARKS[mark].above for mark in marks if mark in _MARKS):
        found = dotless(base, face) if base in "ij" else found
    for mark in marks:
        found = _marked(found, base, mark, face)
    return found


def _marked(letter: Glyph, base: str, mark: str, face: Typeface) -> Glyph:
    if mark == _OGONEK:
        return _attached(letter, _HOOK, 1.0)
    if mark == _CEDILLA and base in "cCsSeE":
        return _attached(letter, _TAIL, 0.5)
    if mark == _CARON and base in "dtlL":
        return _beside(letter)
    if mark == _CEDILLA and base == "g":
        return _accented(letter, _TURNED_COMMA, face)
    return _accented(letter, _MARKS[mark], face)


def _accented(letter: Glyph, mark: Mark, face: Typeface) -> Glyph:
    left, _, right, top = letter.bounds
    path = mark.path
    a_left, a_bottom, a_right, a_top = path.bounds
    high = max(top, x_height(face)) + _MARK_GAP - a_bottom
    y = high if mark.above else -_MARK_GAP - a_top
    middle = (left + right) / 2.0 - (a_left + a_right) / 2.0
    copies = (path.transformed(Transform.translation(middle + aside, y)) for aside in mark.beside)
    return Glyph(letter.advance, (*letter.paths, *copies))


def _attached(letter: Glyph, tail: tuple[tuple[float, float], ...], share: float) -> Glyph:
    """The letter with a tail from its foot, that `share` of the way from its left to its right."""
    feet = [x for path in letter.paths for x, y in path.vertices if abs(y) <= 1.0]
    left, _, right, _ = letter.bounds
    first, last = (min(feet), max(feet)) if feet else (left, right)
    x = first + share * (last - first)
    path = Path.polyline([(x + dx, dy) for dx, dy in tail])
    return Glyph(letter.advance, (*letter.paths, path))


def _beside(letter: Glyph) -> Glyph:
    """The letter with an apostrophe to the right of its upper end, wider where it has no room."""
    _, _, right, top = letter.bounds
    upper = (x for path in letter.paths for x, y in path.vertices if y > 0.75 * top)
    path = _APOSTROPHE.path
    a_left, _, a_right, a_top = path.bounds
    at = max(upper) + 1.5
    moved = path.transformed(Transform.translation(at - a_left, top - a_top))
    wider = max(0.0, at + a_right - a_left - right)
    return Glyph(letter.advance + wider, (*letter.paths, moved))


def _row(letters: list[Glyph]) -> Glyph:
    paths: list[Path] = []
    at = 0.0
    for each in letters:
        paths += each.moved(at)
        at += each.advance
    return Glyph(at, tuple(paths))
