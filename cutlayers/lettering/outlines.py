"""Outline fonts (TTF or OTF): a file read, and the outlines of its letters.

Curves become short lines; letters are shaped and set as the font has it (`shaping.py`).
"""

from __future__ import annotations

import io
import itertools
import math
import unicodedata
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Any

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.lettering.shaping import Glyph, shaped
from cutlayers.reading.user_files import read_user_file
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import LetteringError
from cutlayers.telling.refusals import Refusal

CURVE = 0.02
"""mm that a short line may stray from the curve it stands for."""

MOST_MEGABYTES = 60
"""Of a font; those of all Chinese, Japanese and Korean signs have up to about 40."""

MOST_POINTS = 20_000
"""Of one letter; an ornate one has some hundreds. More is a broken font, and would take minutes."""

FARTHEST = 100.0
"""Heights of a capital that a letter's outline may reach; more is a broken font."""

Ring = tuple[Point, ...]


@frozen(slots=False)
class Font:
    """A font file read. `cap_units` is the height of a capital in the font's units."""

    path: FilePath
    cap_units: float
    _tables: Any
    _face: Any

    @property
    def name(self) -> str:
        """The file's name."""
        return self.path.name

    def missing(self, text: str) -> str:
        """The characters of `text` that the font lacks, each once, in the order they appear.

        What it has in parts, a letter and its accent, it does not lack.
        """
        composed = unicodedata.normalize("NFC", text)
        return _lacking(composed, self._shaped(composed))

    def _shaped(self, composed: str) -> tuple[Glyph, ...]:
        with _font_library(self.path):
            return shaped(composed, self._face)

    def rings(self, text: str, cap_height: float) -> list[list[Ring]]:
        """The outlines of each glyph in mm, the base line at y = 0, the text starting at x = 0.

        Raises LetteringError for characters the font lacks.
        """
        composed = unicodedata.normalize("NFC", text)
        placed = self._shaped(composed)
        if missing := _lacking(composed, placed):
            lacks = f"holds {', '.join(map(repr, missing))}, which the font {self.name} lacks"
            raise LetteringError(Refusal(reason=lacks, fault="value", found=missing))
        scale = cap_height / self.cap_units
        letters = []
        with _font_library(self.path):
            glyphs = self._tables.getGlyphSet()
            for glyph in placed:
                outline = glyphs[self._tables.getGlyphName(glyph.number)]
                letters.append(_rings(outline, glyphs, self.cap_units, scale, (glyph.x, glyph.y)))
        return letters


def _lacking(composed: str, placed: Sequence[Glyph]) -> str:
    """The characters for which there is no glyph, each once, in the order they appear."""
    lacking = sorted(glyph.character for glyph in placed if not glyph.number)
    return "".join(dict.fromkeys(composed[place] for place in lacking))


def read_font(path: FilePath) -> Font:
    """Read a TTF or OTF file. Raises LetteringError for anything else."""
    import uharfbuzz as hb
    from fontTools.ttLib import TTFont

    try:
        content = read_user_file(path, MOST_MEGABYTES)
    except ValueRefused as refused:
        refusal = refused.refusal
        if refusal.fault == "absent":
            refusal = replace(refusal, reason="is not there")
        raise LetteringError(refusal.within(str(path))) from None
    with _font_library(path):
        tables = TTFont(io.BytesIO(content), lazy=False, fontNumber=0)
        height = _cap_height(tables, tables.getGlyphSet(), tables.getBestCmap() or {})
        face = hb.Face(content)
    if not (math.isfinite(height) and height > 0):
        reason = "has no capital letter to measure its size by"
        raise LetteringError(Refusal(reason=reason, fault="unreadable", file=str(path)))
    return Font(path, height, tables, face)


@contextmanager
def _font_library(path: FilePath) -> Iterator[None]:
    """Where the font library reads the file's tables, which it trusts: what a broken table makes
    it raise is of any kind (an index, a key, a struct, an endless recursion, its own)."""
    try:
        yield
    except LetteringError:
        raise
    except Exception as error:
        raise LetteringError(_unreadable(path, f"{error}" or type(error).__name__)) from None


def _unreadable(path: FilePath, reason: str) -> Refusal:
    said = f"cannot be read as a TTF or OTF font: {reason}"
    return Refusal(reason=said, fault="unreadable", file=str(path))


def _cap_height(tables: Any, glyphs: Any, names: dict[int, str]) -> float:
    """From the OS/2 table where it is given (version 2 on), else the height of a capital H."""
    from fontTools.pens.boundsPen import BoundsPen

    stated = getattr(tables["OS/2"], "sCapHeight", 0) if "OS/2" in tables else 0
    if stated:
        return float(stated)
    pen = BoundsPen(glyphs)
    for letter in "HEIX":
        if ord(letter) in names:
            glyphs[names[ord(letter)]].draw(pen)
            return float(pen.bounds[3]) if pen.bounds else 0.0
    return 0.0


def _rings(glyph: Any, glyphs: Any, cap_units: float, scale: float, origin: Point) -> list[Ring]:
    from fontTools.pens.basePen import BasePen

    class _Flat(BasePen):  # type: ignore[misc]
        """Collects outlines as points in mm, curves as short lines."""

        def __init__(self) -> None:
            super().__init__(glyphs)
            self.rings: list[list[Point]] = []

        def _moveTo(self, point: Point) -> None:  # noqa: N802
            self.rings.append([_mm(point)])

        def _lineTo(self, point: Point) -> None:  # noqa: N802
            self.rings[-1].append(_mm(point))

        def _qCurveToOne(self, control: Point, point: Point) -> None:  # noqa: N802
            self.rings[-1] += _curve((self.rings[-1][-1], _mm(control), _mm(point)))

        def _curveToOne(self, first: Point, second: Point, point: Point) -> None:  # noqa: N802
            self.rings[-1] += _curve((self.rings[-1][-1], _mm(first), _mm(second), _mm(point)))

    def _mm(point: Point) -> Point:
        if not max(abs(point[0]), abs(point[1])) <= FARTHEST * cap_units:
            reason = f"holds a letter whose outline reaches {point[0]:g}, {point[1]:g}"
            raise LetteringError(Refusal(reason=reason, fault="unreadable"))
        return (origin[0] + point[0]) * scale, (origin[1] + point[1]) * scale

    pen = _Flat()
    glyph.draw(pen)
    if sum(map(len, pen.rings)) > MOST_POINTS:
        reason = f"holds a letter of more than {MOST_POINTS} points"
        raise LetteringError(Refusal(reason=reason, fault="unreadable"))
    return [_moving(ring) for ring in pen.rings]


def _moving(ring: Sequence[Point]) -> Ring:
    """A ring without points that repeat the one before: fonts have edges without length."""
    return tuple(
        point for before, point in zip([*ring[-1:], *ring], ring, strict=False) if before != point
    )


def _curve(controls: Sequence[Point]) -> list[Point]:
    """Points of a Bézier curve after its first, within CURVE mm of it.

    Source: with n equal steps a curve of degree d strays at most d(d − 1)/8 · M/n² from its chords,
    M the largest second difference of its control points.
    """
    degree = len(controls) - 1
    second = max(
        math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1])
        for a, b, c in zip(controls, controls[1:], controls[2:], strict=False)
    )
    steps = max(1, math.ceil(math.sqrt(degree * (degree - 1) / 8 * second / CURVE)))
    points = []
    for step in range(1, steps + 1):
        level = list(controls)
        share = step / steps
        while len(level) > 1:  # de Casteljau
            level = [
                (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
                for a, b in itertools.pairwise(level)
            ]
        points.append(level[0])
    return points
