"""Letters that a face lacks, put together of those that it has: accents, bars, ligatures.

A letter is taken apart as Unicode does (canonical decomposition, normal form D), and each mark is
placed by the bounds of what it goes with: above it, below it, or attached to its foot. Marks are
made of signs of the plain face, in all faces alike.

Typographers set some marks otherwise than Unicode names them. A caron stands as a comma beside d, t
and l; the cedilla of Latvian and Livonian letters is a comma below, which g has above it. Source:
The Unicode Standard 16.0, section 7.1, "Latin", on caron, cedilla and comma below.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Mapping
from functools import cache, partial
from types import MappingProxyType

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Transform
from cutlayers.lettering.glyphs import CAP_UNITS, TYPEFACE, Glyph, Typeface, plain, signs

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

_SLANTED: tuple[Typeface, ...] = ("script", "serif-italic")

_MARK_GAP = 2.0
"""Units between a letter and its accent."""


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

    @property
    def path(self) -> Path:
        """Its stroke, somewhere."""
        found = plain(self.sign, TYPEFACE).paths[self.stroke]
        found = found.transformed(Transform.rotation(self.turn_deg))
        if self.mirror:
            found = found.transformed(Transform.mirror(0.0))
        left, bottom, right, top = found.bounds
        scale = self.size / max(right - left, top - bottom)
        return found.transformed(Transform(xx=scale, yy=scale))


_COMMA_BELOW = _Mark(",", 5.0, above=False)
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
        "\u0326": _COMMA_BELOW,
        "\u0327": _COMMA_BELOW,  # cedilla, but for letters that it is attached to
    }
)

_CARON, _CEDILLA, _OGONEK = "\u030c", "\u0327", "\u0328"
_TURNED_COMMA = _Mark(",", 5.0, turn_deg=180.0)
_APOSTROPHE = _Mark("'", 6.0)

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
    if character in _DRAWN:
        return _DRAWN[character](face)
    base, *marks = list(unicodedata.normalize("NFD", character))
    found = glyph(base, face) if marks else None
    if found is None or any(mark not in _MARKS and mark != _OGONEK for mark in marks):
        return None
    if any(_MARKS[mark].above for mark in marks if mark in _MARKS):
        found = _dotless(base, face) if base in "ij" else found
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


def _accented(letter: Glyph, mark: _Mark, face: Typeface) -> Glyph:
    left, _, right, top = letter.bounds
    path = mark.path
    a_left, a_bottom, a_right, a_top = path.bounds
    high = max(top, _x_height(face)) + _MARK_GAP - a_bottom
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


def _dotless(base: str, face: Typeface) -> Glyph:
    """i or j without its dot."""
    found, height = plain(base, face), _x_height(face)
    kept = tuple(path for path in found.paths if path.bounds[1] < height)
    return Glyph(found.advance, kept)


def _x_height(face: Typeface) -> float:
    return plain("x", face).bounds[3]


def _row(letters: list[Glyph]) -> Glyph:
    paths: list[Path] = []
    at = 0.0
    for each in letters:
        paths += each.moved(at)
        at += each.advance
    return Glyph(at, tuple(paths))


# Letters and signs that Unicode does not take apart.


def _struck(
    base: str,
    bar: str,
    size: float,
    at: float,
    face: Typeface,
    *,
    share: bool = False,
    turn_deg: float = 0.0,
) -> Glyph:
    """A letter with a bar through it, as far up as `at` says of its height; a straight stem is
    crossed where it stands. `size` is in the face's units, or a `share` of the height."""
    found = plain(base, face)
    left, bottom, right, top = found.bounds
    across = _Mark(bar, size * (top - bottom) if share else size, turn_deg=turn_deg).path
    stem = max(
        (segment for path in found.paths for segment in path.segments),
        key=lambda segment: (abs(segment.start[0] - segment.end[0]) < 0.5) * segment.chord,
    )
    upright = abs(stem.start[0] - stem.end[0]) < 0.5 and stem.chord > 0.8 * (top - bottom)
    x = stem.start[0] if upright else (left + right) / 2.0
    a_left, a_bottom, a_right, a_top = across.bounds
    y = bottom + at * (top - bottom) - (a_bottom + a_top) / 2.0
    bar_there = across.transformed(Transform.translation(x - (a_left + a_right) / 2.0, y))
    return Glyph(found.advance, (*found.paths, bar_there))


def _crossed_h(face: Typeface) -> Glyph:
    """An H with a bar across both stems."""
    found = plain("H", face)
    left, _, right, top = found.bounds
    y = 0.8 * top
    return Glyph(found.advance, (*found.paths, Path.line((left - 2.0, y), (right + 2.0, y))))


def _joined(first: str, second: str, face: Typeface) -> Glyph:
    """Two letters that touch; slanted ones overlap a little, since their bounds meet before."""
    one, other = plain(first, face), plain(second, face)
    shift = one.bounds[2] - other.bounds[0] - (2.0 if face in _SLANTED else 0.0)
    return Glyph(shift + other.advance, (*one.paths, *other.moved(shift)))


def _turned(sign: str, face: Typeface) -> Glyph:
    """A sign upside down, its head at the height of small letters."""
    found = plain(sign, face)
    turned = Glyph(
        found.advance, tuple(path.transformed(Transform.rotation(180.0)) for path in found.paths)
    )
    return Glyph(found.advance, turned.moved(found.advance, _x_height(face) - turned.bounds[3]))


def _raised(sign: str, size: float, middle: float) -> Glyph:
    """A sign of the plain face, smaller, its middle at a height."""
    path = _Mark(sign, size).path
    left, bottom, right, top = path.bounds
    place = Transform.translation(2.0 - left, middle - (bottom + top) / 2.0)
    return Glyph(right - left + 4.0, (path.transformed(place),))


def _quotes(*, mirror: bool) -> Glyph:
    """Two small angles."""
    path = _Mark("<", 7.0, mirror=mirror).path
    left, bottom, right, top = path.bounds
    paths = tuple(
        path.transformed(Transform.translation(at - left, 7.0 - (bottom + top) / 2.0))
        for at in (3.0, 8.0)
    )
    return Glyph(11.0 + right - left, paths)


def _plain_only(make: Callable[[], Glyph], face: Typeface) -> Glyph | None:
    """A letter drawn for the plain face; what has slanted or thick stems would want others."""
    return make() if face == TYPEFACE else None


def _ash() -> Glyph:
    """Æ: an E whose stem is met by the left leg and the bar of an A."""
    found = plain("E", TYPEFACE)
    shift = 7.0
    stem = found.bounds[0] + shift
    foot = (1.0, 0.0)
    bar = 7.0
    at = foot[0] + (stem - foot[0]) * bar / CAP_UNITS
    legs = (Path.line(foot, (stem, CAP_UNITS)), Path.line((at, bar), (stem, bar)))
    return Glyph(found.advance + shift, (*legs, *found.moved(shift)))


def _small_thorn() -> Glyph:
    """þ: a p whose stem goes up as high as a capital."""
    stem, *bowl = plain("p", TYPEFACE).paths
    x = stem.bounds[0]
    whole = Path.line((x, CAP_UNITS), (x, stem.bounds[1]))
    return Glyph(plain("p", TYPEFACE).advance, (whole, *bowl))


def _thorn() -> Glyph:
    """Þ: a P whose bowl stands half way up its stem."""
    found = plain("P", TYPEFACE)
    stem, *bowl = found.paths
    lowered = (path.transformed(Transform.translation(0.0, -5.0)) for path in bowl)
    return Glyph(found.advance, (stem, *lowered))


_DRAWN: Mapping[str, Callable[[Typeface], Glyph | None]] = MappingProxyType(
    {
        "\u00f8": partial(_struck, "o", "/", 1.0, 0.5, share=True),
        "\u00d8": partial(_struck, "O", "/", 1.0, 0.5, share=True),
        "\u0142": partial(_struck, "l", "-", 8.0, 0.5, turn_deg=35.0),
        "\u0141": partial(_struck, "L", "-", 9.0, 0.5, turn_deg=35.0),
        "\u0111": partial(_struck, "d", "-", 7.0, 0.8),
        "\u0110": partial(_struck, "D", "-", 7.0, 0.5),
        "\u0127": partial(_struck, "h", "-", 7.0, 0.8),
        "\u0126": _crossed_h,
        "\u0167": partial(_struck, "t", "-", 7.0, 0.35),
        "\u0166": partial(_struck, "T", "-", 9.0, 0.5),
        "\u0131": partial(_dotless, "i"),
        "\u0237": partial(_dotless, "j"),
        "\u00e6": partial(_joined, "a", "e"),
        "\u00c6": partial(_plain_only, _ash),
        "\u0153": partial(_joined, "o", "e"),
        "\u0152": partial(_joined, "O", "E"),
        "\u00fe": partial(_plain_only, _small_thorn),
        "\u00de": partial(_plain_only, _thorn),
        "\u00bf": partial(_turned, "?"),
        "\u00a1": partial(_turned, "!"),
        "\u00b7": lambda _: _raised(".", 2.0, 9.0),
        "\u00b0": lambda _: _raised("o", 6.0, 18.0),
        "\u00ab": lambda _: _quotes(mirror=False),
        "\u00bb": lambda _: _quotes(mirror=True),
    }
)
