"""Refusals in words."""

from __future__ import annotations

import pytest

from cutlayers.telling.refusals import Refusal, Span
from cutlayers.telling.refusing import allowed_words, refused_line


@pytest.mark.parametrize(
    ("refusal", "words"),
    [
        (Refusal(("angle",), found="steep", allowed=Span(1, 80, "°")), "it must be a number,"),
        (Refusal(("angle",), found=90.0, allowed=Span(1, 80, "°")), "it must be 1 to 80"),
        (
            Refusal(
                ("image",),
                "is too large",
                "unreadable",
                found="a.png",
                allowed=Span(None, 60, "MB"),
            ),
            "it must be at most 60 MB",
        ),
    ],
)
def test_a_number_is_asked_for_where_a_value_is_none(refusal: Refusal, words: str) -> None:
    """And not where what was found is the name of a file, which is none and must be none."""
    assert words in refused_line(refusal)


@pytest.mark.parametrize(
    ("span", "told"),
    [
        # 12.8 mm are 8.06 sixteenths, 6.4 mm 4.03, and 12.7 mm just eight.
        (Span(most=12.8, unit="mm"), "at most 12.8 mm (1/2 in)"),
        (Span(least=6.4, unit="mm"), "at least 6.4 mm (5/16 in)"),
        (Span(least=12.7, unit="mm"), "at least 12.7 mm (1/2 in)"),
        (Span(most=1.0, unit="mm"), "at most 1 mm"),
    ],
)
def test_a_limit_is_told_in_sixteenths_that_keep_it(span: Span, told: str) -> None:
    """Rounded inwards; below the first sixteenth there is none to name."""
    assert allowed_words(span, "in") == told
