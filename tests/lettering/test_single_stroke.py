from __future__ import annotations

import string
from typing import Any, Literal

import pytest

from cutlayers.geometry.segments import Bounds, union_bounds
from cutlayers.lettering.glyphs import TYPEFACES
from cutlayers.lettering.single_stroke import letter, text_width, unsupported
from cutlayers.telling.errors import PathError


def bounds(text: str, cap_height: float, **options: Any) -> Bounds:
    """The box around all strokes."""
    return union_bounds(path.bounds for path in letter(text, cap_height, **options))


@pytest.mark.parametrize("capital", "ABDEFHIKLMNPRTVWXYZ")
def test_capitals_are_as_high_as_asked_for(capital: str) -> None:
    """From the base line to the cap height: 21 units of the face, y −12 to 9."""
    _, bottom, _, top = bounds(capital, 7.0)

    assert (bottom, top) == pytest.approx((0.0, 7.0))


@pytest.mark.parametrize("small", "acemnorsuvwxz")
def test_small_letters_are_two_thirds_as_high(small: str) -> None:
    """14 of 21 units."""
    _, bottom, _, top = bounds(small, 6.0)

    assert (bottom, top) == pytest.approx((0.0, 4.0))


def test_letters_are_strokes_not_outlines() -> None:
    """An A is three lines, an open pen path each; an O comes back to its start."""
    assert [path.closed for path in letter("A", 5.0)] == [False, False, False]
    assert [path.closed for path in letter("O", 5.0)] == [True]


@pytest.mark.parametrize(("anchor", "share"), [("start", 0.0), ("middle", 0.5), ("end", 1.0)])
def test_anchor_decides_which_end_stands_at_the_point(
    anchor: Literal["start", "middle", "end"], share: float
) -> None:
    """The same strokes, shifted by a share of the width."""
    width = text_width("SOAP", 5.0)
    plain = bounds("SOAP", 5.0)
    placed = bounds("SOAP", 5.0, at=(100.0, 40.0), anchor=anchor)
    dx = 100.0 - share * width

    assert placed == pytest.approx((plain[0] + dx, 40.0, plain[2] + dx, 45.0))


def test_width_is_the_sum_of_its_letters() -> None:
    """No kerning; spaces count."""
    assert text_width("a b", 5.0) == pytest.approx(sum(text_width(c, 5.0) for c in "a b"))


def test_size_scales_everything() -> None:
    """Twice the cap height is twice the width."""
    assert text_width("Bath bomb", 8.0) == pytest.approx(2 * text_width("Bath bomb", 4.0))


def test_letters_digits_and_usual_signs_are_there() -> None:
    """All of ASCII but brackets, braces, caret and control codes; dash and multiplication sign."""
    missing = "[]{}^"
    printable = string.ascii_letters + string.digits + string.punctuation + " \u2013\u00d7"

    assert unsupported(printable) == "[\\]^{}".replace("\\", "")
    assert set(unsupported(printable)) == set(missing)


def test_unsupported_characters_are_listed_once_in_order() -> None:
    """What a message needs."""
    assert unsupported("Gl\u00fcck \u00df \u2603\u00df\n") == "\u00df\u2603\n"


def test_unsupported_characters_are_refused() -> None:
    """Nothing is left out silently; the message says which characters and what is allowed."""
    with pytest.raises(PathError, match=r"holds 'ß', '☃'.*A-Z a-z 0-9") as caught:
        letter("Gru\u00df \u2603", 5.0)

    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("text", ["", "   "])
def test_text_without_ink_gives_no_paths(text: str) -> None:
    """Spaces have a width and nothing to draw."""
    assert letter(text, 5.0) == ()


@pytest.mark.parametrize(
    "text", ["Zoë", "Ángel", "Čeněk", "Åsa", "Łukasz", "Søren", "Đorđe", "Ţ ş ș ų ő ñ ĝ"]
)
def test_letters_with_accents_are_composed(text: str) -> None:
    """Base letter and accent, of signs that the face has."""
    assert unsupported(text) == ""
    assert letter(text, 5.0)


def test_a_composed_letter_is_its_base_and_something_above() -> None:
    """The strokes of the plain letter are all there; the accent begins above them."""
    plain, accented = letter("e", 7.0), letter("é", 7.0)

    assert set(plain) < set(accented)
    above = [path for path in accented if path not in plain]
    assert min(path.bounds[1] for path in above) > max(path.bounds[3] for path in plain)


def test_an_accent_takes_the_place_of_the_dot() -> None:
    """Unicode, 'Soft_Dotted': i and j lose their dot under an accent above, not with one below."""
    dotted = letter("i", 7.0)

    assert len(letter("í", 7.0)) == len(dotted)
    assert len(letter("į", 7.0)) == len(dotted) + 1


def test_a_cedilla_hangs_below_the_base_line() -> None:
    """ç reaches lower than c."""
    assert bounds("ç", 7.0)[1] < bounds("c", 7.0)[1] - 0.5


def test_composed_and_taken_apart_are_the_same() -> None:
    """Unicode normal forms: é as one character or as two."""
    assert letter("e\u0301", 5.0) == letter("\u00e9", 5.0)


def test_accents_change_no_width() -> None:
    """A name keeps its rhythm."""
    assert text_width("Zoë", 5.0) == text_width("Zoe", 5.0)


@pytest.mark.parametrize("face", sorted(TYPEFACES))
def test_every_face_stands_on_the_base_line(face: str) -> None:
    """Capital H from 0 to the cap height, full stop on the base line."""
    _, bottom, _, top = bounds("H", 7.0, face=face)
    stop = bounds(".", 7.0, face=face)

    assert (bottom, top) == pytest.approx((0.0, 7.0))
    assert stop[1] == pytest.approx(0.0)
