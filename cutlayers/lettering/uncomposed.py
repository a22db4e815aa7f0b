"""Letters and signs that Unicode does not take apart, drawn of others.

They get a bar, or a second letter, or stand upside down. What none of this makes right in a face
is said to be lacking there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from types import MappingProxyType

from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Transform
from cutlayers.lettering.glyphs import CAP_UNITS, TYPEFACE, Glyph, Typeface, plain
from cutlayers.lettering.marks import Mark, dotless, x_height

_SLANTED: tuple[Typeface, ...] = ("script", "serif-italic")


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
    across = Mark(bar, size * (top - bottom) if share else size, turn_deg=turn_deg).path
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
    return Glyph(found.advance, turned.moved(found.advance, x_height(face) - turned.bounds[3]))


def _raised(sign: str, size: float, middle: float) -> Glyph:
    """A sign of the plain face, smaller, its middle at a height."""
    path = Mark(sign, size).path
    left, bottom, right, top = path.bounds
    place = Transform.translation(2.0 - left, middle - (bottom + top) / 2.0)
    return Glyph(right - left + 4.0, (path.transformed(place),))


def _quotes(*, mirror: bool) -> Glyph:
    """Two small angles."""
    path = Mark("<", 7.0, mirror=mirror).path
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


DRAWN: Mapping[str, Callable[[Typeface], Glyph | None]] = MappingProxyType(
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
        "\u0131": partial(dotless, "i"),
        "\u0237": partial(dotless, "j"),
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
