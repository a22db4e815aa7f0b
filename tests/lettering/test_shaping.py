"""Kerning, ligatures, joined letters and marks, in a font made here whose rules are known."""

from __future__ import annotations

from pathlib import Path as FilePath

import pytest
import shapely
import uharfbuzz as hb
from fontTools.feaLib.builder import addOpenTypeFeaturesFromString
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

from cutlayers.lettering.filled_letters import cut_letters, drawn_letters
from cutlayers.lettering.outlines import Font, read_font
from cutlayers.lettering.shaping import shaped
from cutlayers.telling.errors import LetteringError
from tests.lettering.test_outlines import CAP, UNITS

WIDE = 800
"""Units from a letter to the next."""

CHARACTERS = {
    " ": "space",
    "A": "A",
    "V": "V",
    "f": "f",
    "i": "i",
    "e": "e",
    "(": "parenleft",
    ")": "parenright",
    "\u0301": "acute",
    "\u05d0": "alef",
    "\u05d1": "bet",
    "\u0628": "beh",
}

RULES = """
languagesystem DFLT dflt;
languagesystem latn dflt;
languagesystem arab dflt;
feature kern { pos A V -150; } kern;
feature liga { sub f i by f_i; } liga;
feature init { sub beh by beh.init; } init;
feature fina { sub beh by beh.fina; } fina;
markClass acute <anchor 100 700> @above;
feature mark { pos base e <anchor 350 900> mark @above; } mark;
"""


def block(left: int, right: int, low: int = 0, high: int = CAP) -> TTGlyphPen:
    pen = TTGlyphPen(None)
    pen.moveTo((left, low))
    # Fonts have edges without length; here the one along the top is told by three points.
    for corner in ((left, high), (left, high), (right, high), (right, low)):
        pen.lineTo(corner)
    pen.closePath()
    return pen


@pytest.fixture
def font(tmp_path: FilePath) -> Font:
    """Blocks of ink; those of joined letters reach over the end of their own width."""
    names = [".notdef", *CHARACTERS.values(), "f_i", "beh.init", "beh.fina"]
    glyphs = {name: block(50, 650) for name in names}
    glyphs["space"] = TTGlyphPen(None)
    glyphs["acute"] = block(0, 200, 700, 800)
    glyphs["beh.init"] = block(-10, 650, 0, 200)
    glyphs["beh.fina"] = block(50, 810, 0, 200)
    builder = FontBuilder(UNITS, isTTF=True)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({ord(sign): name for sign, name in CHARACTERS.items()})
    outlines = {name: pen.glyph() for name, pen in glyphs.items()}
    builder.setupGlyf(outlines)
    builder.setupHorizontalMetrics(
        {
            name: (0 if name == "acute" else WIDE, getattr(outlines[name], "xMin", 0))
            for name in names
        }
    )
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Rules", "styleName": "Regular"})
    builder.setupOS2(sCapHeight=CAP, version=2)
    builder.setupPost()
    addOpenTypeFeaturesFromString(builder.font, RULES)
    builder.save(tmp_path / "rules.ttf")
    return read_font(tmp_path / "rules.ttf")


def lefts(font: Font, text: str) -> list[float]:
    """Left ends of the outlines, in units of the font."""
    scale = CAP / 14.0
    return sorted(round(path.bounds[0] * scale, 3) for path in drawn_letters(text, 14.0, font))


def test_a_pair_is_kerned(font: Font) -> None:
    """A V stands 150 units nearer than the width of an A."""
    assert lefts(font, "AV") == [50, 50 + WIDE - 150]
    assert lefts(font, "VA") == [50, 50 + WIDE]


def test_a_ligature_is_one_letter(font: Font) -> None:
    """f and i become one glyph."""
    assert lefts(font, "fi") == [50]


def test_hebrew_runs_to_the_left(font: Font, tmp_path: FilePath) -> None:
    """The first letter stands last; the brackets about Latin stay the right way round."""
    names = [font._tables.getGlyphName(glyph.number) for glyph in _glyphs(tmp_path, "\u05d0\u05d1")]
    assert names == ["bet", "alef"]
    names = [font._tables.getGlyphName(glyph.number) for glyph in _glyphs(tmp_path, "\u05d0 (A)")]
    assert names == ["parenleft", "A", "parenright", "space", "alef"]


def _glyphs(tmp_path: FilePath, text: str):  # type: ignore[no-untyped-def]
    return shaped(text, hb.Face((tmp_path / "rules.ttf").read_bytes()))


def test_arabic_joins_its_letters(font: Font) -> None:
    """Two take their first and last forms, whose ink meets: one outline, drawn and cut."""
    (drawn,) = drawn_letters("\u0628\u0628", 14.0, font)
    (cut,) = cut_letters("\u0628\u0628", 14.0, font, 0.5)

    # From 50 of the last letter, which stands on the left, to 650 of the first.
    wide = (WIDE + 650 - 50) * 14 / CAP
    for path in (drawn, cut):
        assert shapely.Polygon(path.vertices).area == pytest.approx(wide * 200 * 14 / CAP)


def test_a_mark_stands_on_its_letter(font: Font) -> None:
    """Anchored 350 units right and 900 up, less its own 100 and 700, where its ink begins."""
    paths = drawn_letters("e\u0301", 14.0, font)
    marks = [path for path in paths if path.bounds[3] - path.bounds[1] < 4]

    assert [round(side * CAP / 14) for side in marks[0].bounds[:2]] == [250, 900]


def test_apart_and_composed_letters_are_set_alike(font: Font) -> None:
    """Canonically the same text (Unicode Standard Annex 15)."""
    composed, apart = (drawn_letters(text, 14.0, font) for text in ("A\u00e9", "Ae\u0301"))

    assert composed == apart


def test_what_a_font_has_in_parts_it_does_not_lack(font: Font) -> None:
    """It has e and the acute, and no é of its own."""
    assert font.missing("\u00e9 A") == ""
    assert font.missing("\u00e9 B\u00c5") == "B\u00c5"


def test_what_it_lacks_is_refused(font: Font) -> None:
    with pytest.raises(LetteringError, match=r"'B', 'C'"):
        drawn_letters("ABCB", 14.0, font)


def test_signs_without_ink_are_not_lacking(font: Font) -> None:
    """A joiner or a mark of direction shows nothing and takes no room."""
    assert font.missing("A\u200dV\u200e") == ""
    assert lefts(font, "V\u200eA") == [50, 50 + WIDE]


SYSTEM = FilePath("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf")


@pytest.mark.skipif(not SYSTEM.exists(), reason="no font of many scripts is installed")
@pytest.mark.parametrize(
    "text", ["AVATAR", "\u03a3\u03b1\u03c0", "\u05e9\u05dc\u05d5\u05dd", "\u0633\u0644\u0627\u0645"]
)
def test_a_real_font_is_set_by_harfbuzz_s_own_advances(text: str) -> None:
    """The text shaped as one run by the library itself, its glyphs summed up."""
    face = hb.Face(SYSTEM.read_bytes())
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    hb.shape(hb.Font(face), buffer)
    at, places = 0, []
    for glyph, move in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        places.append((glyph.codepoint, at + move.x_offset, move.y_offset))
        at += move.x_advance

    assert [(glyph.number, glyph.x, glyph.y) for glyph in shaped(text, face)] == places
