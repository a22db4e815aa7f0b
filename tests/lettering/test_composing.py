"""Letters composed of those that a face has."""

from __future__ import annotations

import string

import pytest
import shapely

from cutlayers.lettering.glyphs import TYPEFACE, TYPEFACES, Typeface
from cutlayers.lettering.single_stroke import letter, text_width, unsupported

ALPHABETS = {
    "Albanian": "çë",
    "Catalan": "àçéèíïóòúü·",
    "Croatian": "čćđšž",
    "Czech": "áčďéěíňóřšťúůýž",
    "Danish": "åæø",
    "Estonian": "äöõüšž",
    "Faroese": "áðíóúýæø",
    "Finnish": "åäöšž",
    "French": "àâæçéèêëîïôœùûüÿ",
    "German": "äöüß",
    "Hungarian": "áéíóöőúüű",
    "Icelandic": "áðéíóúýþæö",
    "Irish": "áéíóú",
    "Italian": "àéèìòù",
    "Latvian": "āčēģīķļņšūž",
    "Lithuanian": "ąčęėįšųūž",
    "Maltese": "ċġħż",
    "Northern Sami": "áčđŋšŧž",
    "Norwegian": "åæøàéêóòô",
    "Polish": "ąćęłńóśźż",
    "Portuguese": "àáâãçéêíóôõú",
    "Romanian": "ăâîșț",
    "Slovak": "áäčďéíĺľňóôŕšťúýž",
    "Slovenian": "čšž",
    "Spanish": "áéíñóúü¿¡",
    "Swedish": "åäö",
    "Turkish": "çğıİöşü",
    "Upper Sorbian": "čćěłńóřšžź",
    "Welsh": "âêîôûŵŷäëïöüẁẃẅỳýÿ",
}
"""Letters beyond a to z. Source: Unicode CLDR, exemplar characters."""

LACKING = "ðßŋ"
"""What is no other letter with a mark or a bar, small."""

PLAIN_ONLY = "ÆþÞ"
"""Drawn in the plain face alone."""


BARRED = ("łl", "ŁL", "øo", "đd", "ħh", "ĦH", "ŧt", "ŦT")


def lines(text: str, face: Typeface = TYPEFACE) -> shapely.MultiLineString:
    return shapely.MultiLineString([path.as_line(0.01) for path in letter(text, 21.0, face=face)])


def added(text: str, base: str) -> shapely.MultiLineString:
    """What is drawn besides the base letter."""
    known = letter(base, 21.0)
    return shapely.MultiLineString(
        [path.as_line(0.01) for path in letter(text, 21.0) if path not in known]
    )


@pytest.mark.parametrize("face", TYPEFACES)
@pytest.mark.parametrize("language", ALPHABETS)
def test_the_alphabets_of_europe(language: str, face: Typeface) -> None:
    """Small letters and capitals are there but for those that no composition makes right."""
    small = ALPHABETS[language]
    every = small + "".join(each.upper() for each in small if len(each.upper()) == 1)
    missing = set(unsupported(every, face))
    known = {*LACKING, "Ŋ"} if face == TYPEFACE else {*LACKING, "Ŋ", *PLAIN_ONLY}

    assert missing == set(every) & known
    for each in set(every) - missing:
        assert letter(each, 5.0, face=face)


@pytest.mark.parametrize(("text", "base"), ("ąa", "ęe", "įi", "ųu", "ĄA", "ĘE", "çc", "şs", "ÇC"))
def test_what_is_attached_touches_the_letter(text: str, base: str) -> None:
    """An ogonek and a cedilla grow out of the foot and hang below the line."""
    mark = added(text, base)

    assert mark.distance(lines(base)) <= 1.0
    assert mark.bounds[3] <= 1.0 and mark.bounds[1] < -4.0


def test_an_ogonek_hangs_from_the_right_foot() -> None:
    """Of an A from its right leg, of a u from its stem."""
    for text, base in ("ĄA", "ųu"):
        assert added(text, base).bounds[2] > lines(base).bounds[2] - 1.0


@pytest.mark.parametrize("text", "șțļņķ")
def test_a_comma_below_is_apart(text: str) -> None:
    """Romanian and Latvian letters have a comma that does not touch; as wide as it is high below
    the letter."""
    base = {"ș": "s", "ț": "t", "ļ": "l", "ņ": "n", "ķ": "k"}[text]

    assert added(text, base).distance(lines(base)) > 1.0
    assert added(text, base).bounds[3] < 0


def test_a_g_has_its_comma_above() -> None:
    """Its own tail is where a comma below would go."""
    assert added("ģ", "g").bounds[1] > lines("g").bounds[3]


@pytest.mark.parametrize(("text", "base"), ("ďd", "ťt", "ľl", "ĽL"))
def test_a_caron_of_tall_letters_stands_beside(text: str, base: str) -> None:
    """As an apostrophe, no higher than the letter; Ď and Ť have room above."""
    mark = added(text, base)

    assert mark.bounds[3] <= lines(base).bounds[3] + 1e-9
    assert mark.distance(lines(base)) > 0.5
    assert added("Ť", "T").bounds[1] > lines("T").bounds[3]


def test_a_wider_letter_pushes_the_next_one_on() -> None:
    """The mark of an l would lie on the letter after it; that of an L stands over its foot."""
    assert text_width("ľ", 21.0) > text_width("l", 21.0)
    assert text_width("Ľ", 21.0) == text_width("L", 21.0)


@pytest.mark.parametrize(("text", "base"), BARRED)
def test_a_bar_crosses_the_letter(text: str, base: str) -> None:
    """Once at least, and stays within its height."""
    bar = added(text, base)

    assert bar.crosses(lines(base))
    assert bar.bounds[1] >= -1e-9 and bar.bounds[3] <= lines(base).bounds[3] + 1e-9


@pytest.mark.parametrize("face", TYPEFACES)
def test_an_i_without_its_dot(face: Typeface) -> None:
    """Turkish has it beside the other, which Unicode may write with its dot apart."""
    assert len(letter("ı", 21.0, face=face)) < len(letter("i", 21.0, face=face))
    assert letter("i\u0307", 21.0, face=face)[0] == letter("ı", 21.0, face=face)[0]


@pytest.mark.parametrize("text", "æœŒ")
def test_ligatures_touch_and_are_narrower(text: str) -> None:
    """Than their two letters, which they join."""
    parts = {"æ": "ae", "œ": "oe", "Œ": "OE"}[text]

    assert text_width(text, 21.0) < text_width(parts, 21.0)
    assert shapely.union_all(lines(text).buffer(0.3)).geom_type == "Polygon"


def test_signs_of_other_languages() -> None:
    """Spanish marks hang below the line; quotes, dots and dashes are drawn."""
    assert unsupported("«»„“‚‘…—·°¿¡") == ""
    assert lines("¿").bounds[1] < -2.0 and lines("¡").bounds[3] == pytest.approx(14.0)
    assert len(letter("…", 5.0)) == 3 * len(letter(".", 5.0))


def test_ascii_is_as_it_was_distributed() -> None:
    """Composition leaves the face's own letters alone."""
    from cutlayers.lettering.glyphs import plain

    for each in string.ascii_letters + string.digits:
        assert letter(each, 21.0) == plain(each, TYPEFACE).paths
