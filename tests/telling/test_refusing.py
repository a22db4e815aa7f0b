"""Refusals in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlayers.telling.refusals import Refusal, Span
from cutlayers.telling.refusing import allowed_words, refused_clause, refused_line


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


@pytest.mark.parametrize(
    ("mm", "told"),
    [
        (50.8, "is 50.8 mm (2 in), shorter than a side of 63.5 mm (2 1/2 in)"),
        # 2.4 in: 38.4 sixteenths, which no ruler of them shows.
        (60.96, "is 60.96 mm (2.4 in), shorter than a side of 63.5 mm (2 1/2 in)"),
    ],
)
def test_what_was_found_is_told_in_the_unit_of_the_file(mm: float, told: str) -> None:
    reason = "is {}, shorter than a side of {}"
    refused = Refusal(("length",), reason, "value", unit="in", lengths=(mm, 63.5))

    assert refused_clause(refused) == told
    assert refused_clause(replace(refused, unit="mm")) == reason.format(f"{mm:g} mm", "63.5 mm")


def test_braces_of_a_users_own_text_are_left_alone() -> None:
    """A panel or file may be called anything."""
    refused = Refusal(("window",), 'is "{0} {x", where {} are free', "value", lengths=(4.0,))

    assert refused_clause(refused) == 'is "{0} {x", where 4 mm are free'
