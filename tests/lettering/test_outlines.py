"""Letters from fonts made here, whose outlines are known to the last unit, and from a real one."""

from __future__ import annotations

import contextlib
import math
import os
import random
from collections.abc import Callable, Iterable
from pathlib import Path as FilePath
from typing import TypeVar

import pytest
import shapely
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.basePen import AbstractPen
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import union_bounds
from cutlayers.lettering.filled_letters import cut_letters, drawn_letters
from cutlayers.lettering.outlines import Font, read_font
from cutlayers.telling.errors import LetteringError

Pen = TypeVar("Pen", bound=AbstractPen)

UNITS = 1000
CAP = 700


def square(pen: AbstractPen, low: int, high: int, *, filled: bool) -> None:
    """A square; TrueType fills clockwise outlines."""
    corners = [(low, low), (low, high), (high, high), (high, low)]
    pen.moveTo(corners[0])
    for corner in corners[1:] if filled else corners[:0:-1]:
        pen.lineTo(corner)
    pen.closePath()


def glyphs_into(pen_for: Callable[[], Pen]) -> dict[str, Pen]:
    """A solid I, an O with a square counter, a round o of four quadratic curves, a B with two
    counters, and a ring within a ring."""
    glyphs = {}
    for name in (".notdef", "space"):
        glyphs[name] = pen_for()
    pen = glyphs["I"] = pen_for()
    square(pen, 0, CAP, filled=True)
    pen = glyphs["O"] = pen_for()
    square(pen, 0, CAP, filled=True)
    square(pen, 200, 500, filled=False)
    pen = glyphs["B"] = pen_for()
    square(pen, 0, CAP, filled=True)
    for low in (100, 400):
        pen.moveTo((150, low))
        for corner in ((550, low), (550, low + 200), (150, low + 200)):
            pen.lineTo(corner)
        pen.closePath()
    pen = glyphs["at"] = pen_for()
    square(pen, 0, CAP, filled=True)
    square(pen, 100, 600, filled=False)
    square(pen, 200, 500, filled=True)
    square(pen, 300, 400, filled=False)
    return glyphs


CHARACTERS = {ord("I"): "I", ord("O"): "O", ord("B"): "B", ord("@"): "at", ord(" "): "space"}


def build(path: FilePath, *, curved: bool = False) -> FilePath:
    """A TrueType font with letters 800 units wide."""
    glyphs = glyphs_into(lambda: TTGlyphPen(None))
    if curved:
        pen = glyphs["O"] = TTGlyphPen(None)
        pen.moveTo((350, 0))
        for control, point in (
            ((0, 0), (0, 350)),
            ((0, 700), (350, 700)),
            ((700, 700), (700, 350)),
            ((700, 0), (350, 0)),
        ):
            pen.qCurveTo(control, point)
        pen.closePath()
    builder = FontBuilder(UNITS, isTTF=True)
    builder.setupGlyphOrder(list(glyphs))
    builder.setupCharacterMap(CHARACTERS)
    builder.setupGlyf({name: pen.glyph() for name, pen in glyphs.items()})
    builder.setupHorizontalMetrics(dict.fromkeys(glyphs, (800, 0)))
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Squares", "styleName": "Regular"})
    builder.setupOS2(sCapHeight=CAP, version=2)
    builder.setupPost()
    builder.save(path)
    return path


def build_otf(path: FilePath) -> FilePath:
    """The same as CFF outlines, which run the other way round."""

    def pen_for() -> T2CharStringPen:
        return T2CharStringPen(800, None)

    glyphs = {name: pen_for() for name in (".notdef", "space", "I", "O", "B", "at")}
    for name, filled in (("I", False), ("O", False)):
        square(glyphs[name], 0, CAP, filled=filled)
    square(glyphs["O"], 200, 500, filled=True)
    builder = FontBuilder(UNITS, isTTF=False)
    builder.setupGlyphOrder(list(glyphs))
    builder.setupCharacterMap(CHARACTERS)
    builder.setupCFF("Squares", {}, {name: pen.getCharString() for name, pen in glyphs.items()}, {})
    builder.setupHorizontalMetrics(dict.fromkeys(glyphs, (800, 0)))
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Squares", "styleName": "Regular"})
    builder.setupOS2(sCapHeight=CAP, version=2)
    builder.setupPost()
    builder.save(path)
    return path


@pytest.fixture
def font(tmp_path: FilePath) -> Font:
    return read_font(build(tmp_path / "squares.ttf"))


def polygons(paths: Iterable[Path]) -> list[shapely.Polygon]:
    return [shapely.Polygon(path.points(0.01)) for path in paths]


def test_capitals_are_as_high_as_asked_for(font: Font) -> None:
    """700 units become 14 mm, so 1 unit is 0.02 mm."""
    paths = drawn_letters("I", 14.0, font)

    assert union_bounds(path.bounds for path in paths) == pytest.approx((0, 0, 14, 14))


def test_letters_follow_by_their_advance(font: Font) -> None:
    """800 units are 16 mm: the third letter begins at 32 mm."""
    paths = drawn_letters("I I", 14.0, font)

    assert [path.bounds[0] for path in paths] == pytest.approx([0.0, 32.0])


@pytest.mark.parametrize("make", [build, build_otf])
def test_counters_are_drawn_as_outlines_of_their_own(
    make: Callable[[FilePath], FilePath], tmp_path: FilePath
) -> None:
    """An O is a square of 14 mm and one of 6, in a TrueType and in a CFF font."""
    font = read_font(make(tmp_path / "font.bin"))
    paths = drawn_letters("O", 14.0, font)

    assert sorted(abs(path.area) for path in paths) == pytest.approx([36.0, 196.0])
    assert all(path.closed for path in paths)


def test_curves_stay_near_their_true_course(tmp_path: FilePath) -> None:
    """Four quadratic curves round a square of 14 mm enclose 196 − 4 · 49/6 mm².

    A quadratic Bézier curve leaves a third of its control triangle outside (Archimedes, Quadrature
    of the Parabola): of a right corner with legs of 7 mm, 49/6. Chords lie inside the curve, by at
    most 0.02 mm.
    """
    font = read_font(build(tmp_path / "round.ttf", curved=True))
    (path,) = drawn_letters("O", 14.0, font)

    true = 196 - 4 * 49 / 6
    assert true - 0.02 * path.length < abs(path.area) < true


@pytest.mark.parametrize("text", ["O", "B", "@", "BOB", "I@O"])
def test_nothing_falls_out_of_cut_letters(font: Font, text: str) -> None:
    """Shapely's word: the card round the openings hangs together in one piece."""
    openings = polygons(cut_letters(text, 14.0, font, 1.0))
    card = shapely.box(-5, -5, 70, 20).difference(shapely.union_all(openings))

    assert card.geom_type == "Polygon"


def test_without_bridges_a_counter_would_fall_out(font: Font) -> None:
    """The same judge finds two pieces of card where the O is cut as it is drawn."""
    outlines = polygons(drawn_letters("O", 14.0, font))
    opening = max(outlines, key=lambda each: each.area).difference(
        min(outlines, key=lambda each: each.area)
    )
    card = shapely.box(-5, -5, 20, 20).difference(opening)

    assert len(shapely.get_parts(card)) == 2


def test_bridges_are_as_wide_as_asked_for(font: Font) -> None:
    """The O loses two strips 1.5 mm wide through walls of 4 mm: 160 − 2 · 6 mm²."""
    openings = polygons(cut_letters("O", 14.0, font, 1.5))

    assert len(openings) == 2
    assert sum(each.area for each in openings) == pytest.approx(196 - 36 - 2 * 1.5 * 4)
    assert openings[0].distance(openings[1]) == pytest.approx(1.5)


def test_two_counters_share_a_bridge(font: Font) -> None:
    """The B is bridged above, between and below: three strips through walls of 2 mm each."""
    openings = polygons(cut_letters("B", 14.0, font, 1.0))

    counters = 2 * (400 * 200) * 0.02**2
    assert sum(each.area for each in openings) == pytest.approx(196 - counters - 3 * 1.0 * 2.0)


def test_letters_without_counters_are_cut_as_they_are(font: Font) -> None:
    """No bridge where nothing can fall out."""
    openings = cut_letters("I", 14.0, font, 1.0)

    assert [abs(path.area) for path in openings] == pytest.approx([196.0])


def test_a_letter_the_font_lacks_is_told(font: Font) -> None:
    """Each once."""
    with pytest.raises(LetteringError, match=r"holds 'Z', 'é', which the font squares\.ttf lacks"):
        drawn_letters("ZéZ", 10.0, font)


@pytest.mark.parametrize("content", [b"", b"no font", b"\x00\x01\x00\x00broken"])
def test_what_is_no_font_is_refused(tmp_path: FilePath, content: bytes) -> None:
    """In one line, no traceback of the reader."""
    path = tmp_path / "font.ttf"
    path.write_bytes(content)

    with pytest.raises(LetteringError, match=r"font\.ttf: cannot be read as a TTF or OTF font"):
        read_font(path)


def test_a_missing_file_is_refused(tmp_path: FilePath) -> None:
    """With the one that was meant, perhaps."""
    (tmp_path / "nine.ttf").touch()

    with pytest.raises(LetteringError, match=r"is not there\. Did you mean .*nine\.ttf"):
        read_font(tmp_path / "none.ttf")


def test_a_real_font_holds_together() -> None:
    """All letters, digits and signs with counters of the font that reportlab brings along."""
    import reportlab

    path = FilePath(reportlab.__file__).parent / "fonts" / "Vera.ttf"
    font = read_font(path)
    text = "ABDOPQR abdegopq 4690 8 & @ % ÄÖéåø"
    openings = polygons(cut_letters(text, 12.0, font, 0.8))
    card = shapely.box(-5, -8, 400, 30).difference(shapely.union_all(openings))

    assert card.geom_type == "Polygon"
    assert all(each.is_valid for each in openings)
    assert math.isclose(
        union_bounds(p.bounds for p in drawn_letters("H", 12.0, font))[3], 12, rel_tol=0.01
    )


def broken(font: bytes, chance: random.Random) -> bytes:
    """A font with a few bytes changed, a piece lost or a piece doubled."""
    data = bytearray(font)
    match chance.randrange(4):
        case 0:
            for _ in range(chance.randint(1, 12)):
                data[chance.randrange(len(data))] = chance.randrange(256)
        case 1:
            for _ in range(chance.randint(1, 3)):
                at = chance.randrange(len(data) - 4)
                data[at : at + 4] = chance.choice(
                    (b"\xff\xff\xff\xff", b"\0\0\0\0", b"\x7f\xff\xff\xff")
                )
        case 2:
            del data[chance.randrange(len(data)) :]
        case _:
            at = chance.randrange(len(data))
            data[at:at] = data[at : at + chance.randint(1, 200)]
    return bytes(data)


@pytest.mark.parametrize("kind", ["truetype", "cff"])
def test_a_broken_font_is_refused_or_read_but_never_crashes(tmp_path: FilePath, kind: str) -> None:
    """`CUTLAYERS_FONTS=20000` tries as many. What the font library raises on a broken table is of
    many kinds (an index, a key, a struct, its own); a maker gets one sentence."""
    whole = (build if kind == "truetype" else build_otf)(tmp_path / "whole.ttf").read_bytes()
    for number in range(int(os.environ.get("CUTLAYERS_FONTS", "150"))):
        path = tmp_path / "broken.ttf"
        path.write_bytes(broken(whole, random.Random(f"{kind} {number}")))
        with contextlib.suppress(LetteringError):
            font = read_font(path)
            if not font.missing("IOB@"):
                drawn_letters("IOB@", 10.0, font)
                cut_letters("IOB@", 10.0, font, 1.0)


RAISED = {
    "AssertionError": ("cff", 3),
    "AttributeError": ("cff", 181),
    "IndexError": ("truetype", 44),
    "KeyError": ("truetype", 21),
    "NotImplementedError": ("cff", 244),
    "TTLibError": ("truetype", 0),
    "TypeError": ("cff", 2535),
    "ValueError": ("cff", 2),
    "error": ("truetype", 6),  # of struct
}
"""Broken fonts, by what the font library raises on each."""


@pytest.mark.parametrize("raised", RAISED)
def test_whatever_the_font_library_raises_is_one_sentence(tmp_path: FilePath, raised: str) -> None:
    """A sentence that names the file, whichever of the kinds of error was found by trying."""
    kind, number = RAISED[raised]
    path = (build if kind == "truetype" else build_otf)(tmp_path / "broken.ttf")
    path.write_bytes(broken(path.read_bytes(), random.Random(f"{kind} {number}")))

    with pytest.raises(LetteringError, match=r"broken\.ttf") as caught:
        drawn_letters("IOB@", 10.0, read_font(path))

    assert type(caught.value.__context__).__name__ == raised
    assert len(str(caught.value).splitlines()) == 1


def test_what_is_no_file_of_a_fonts_size_is_not_read(tmp_path: FilePath) -> None:
    """A device never ends and a pipe waits for ever; a folder is none; a font of 200 MB is none."""
    pipe = tmp_path / "pipe.ttf"
    os.mkfifo(pipe)
    large = tmp_path / "large.ttf"
    with large.open("wb") as file:
        file.truncate(200_000_000)
    for path, reason in {
        FilePath("/dev/zero"): "is not a file but a device",
        pipe: "is not a file but a pipe",
        tmp_path: "is not a file but a folder",
        large: "is too large, 200,000,000 bytes; it must be at most 60 MB",
    }.items():
        with pytest.raises(LetteringError, match=reason):
            read_font(path)
