"""Refusals in words."""

from __future__ import annotations

import pytest

from cutlayers.telling.refusals import Refusal, Span
from cutlayers.telling.refusing import refused_line


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
