"""Numbers in words. The inch is 25.4 mm exactly (international yard and pound agreement, 1959);
the fractions here are worked by hand."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.telling.lengths import Unit
from cutlayers.telling.quantities import count, length, lengths, share
from cutlayers.telling.saying import Say, listed, many, number, percent


@pytest.mark.parametrize(
    ("millimetres", "unit", "said"),
    [
        (25.4, "in", "1 in"),
        (61.9125, "in", "2 7/16 in"),  # 2.4375 in
        (12.7, "in", "1/2 in"),
        (4.0, "in", "5/32 in"),  # 0.1575 in; a sixteenth, 3/16 or 1/8, would be off by a fifth
        (0.25, "in", "0.010 in"),  # finer than a sixty-fourth, 0.397 mm
        (0.0, "in", "0 in"),
        (-12.7, "in", "-1/2 in"),
        (4.0, "mm", "4.0 mm"),
        (4.0, "cm", "0.40 cm"),
        (0.0, "mm", "0.0 mm"),
    ],
)
def test_a_length_is_said_in_the_unit_of_the_job(millimetres: float, unit: Unit, said: str) -> None:
    assert Say(unit).length(length(millimetres)) == said


@given(st.floats(0.2, 2000.0))
def test_inches_are_near_enough_to_what_was_measured(millimetres: float) -> None:
    """A fraction or a decimal, it is within a sixteenth of its own size or better."""
    said = Say("in").length(length(millimetres)).removesuffix(" in")

    told = sum((Fraction(part) for part in said.split()), Fraction(0))
    assert abs(float(told) * 25.4 - millimetres) <= 0.06 * millimetres + 1e-6


@given(st.lists(st.floats(0.0, 500.0), min_size=2, max_size=4), st.sampled_from(["mm", "in"]))
def test_what_differs_is_never_said_alike(values: list[float], unit: Unit) -> None:
    """Down to the last decimals that are written."""
    rounded = [round(value, 3) for value in values]

    said = Say(unit).apart(lengths(*rounded))

    assert len(set(said)) == len(set(rounded))


@pytest.mark.parametrize(
    ("measured", "limit", "unit", "said"),
    [
        (3.5, 4.0, "mm", ("3.5 mm", "4 mm")),
        (3.96, 4.0, "mm", ("3.96 mm", "4 mm")),  # with one decimal both would be 4.0
        (6.36, 6.38, "mm", ("6.36 mm", "6.38 mm")),  # 6.4 would be on the other side of it
        (6.44, 6.42, "mm", ("6.44 mm", "6.42 mm")),  # and so would this
        (6.33, 6.38, "mm", ("6.3 mm", "6.38 mm")),
        (4.0, 4.0, "mm", ("4.0 mm", "4 mm")),
        (6.35, 12.7, "in", ("1/4 in", "1/2 in")),
        (12.3, 12.7, "in", ("15/32 in", "1/2 in")),  # 0.484 in; in 1/16 both would be 1/2
        (12.45, 12.7, "in", ("31/64 in", "1/2 in")),  # 0.490 in; in 1/32 they would be so too
    ],
)
def test_a_measure_is_told_apart_from_its_limit(
    measured: float, limit: float, unit: Unit, said: tuple[str, str]
) -> None:
    assert Say(unit).against(length(measured), length(limit)) == said


def test_sizes_name_their_unit_once() -> None:
    assert Say("mm").size(lengths(60, 40)) == "60.0 × 40.0 mm"
    assert Say("in").size(lengths(50.8, 38.1)) == "2 × 1 1/2 in"


@pytest.mark.parametrize(("unit", "said"), [("mm", "(25.4, 0.0) mm"), ("in", "(1.00, 0.00) in")])
def test_a_point_is_said_in_decimals(unit: Unit, said: str) -> None:
    assert Say(unit).point((25.4, -0.0)) == said


@pytest.mark.parametrize(
    ("part", "said"),
    [(0.0, "0%"), (0.5, "50%"), (1.0, "100%"), (0.999, "99.9%"), (0.002, "0.2%")],
)
def test_a_share_is_nothing_or_all_only_where_it_is(part: float, said: str) -> None:
    assert percent(share(part)) == said


def test_counts_and_rows_of_words() -> None:
    assert number(count(3)) == 3
    assert [many(count(n), "point") for n in (0, 1, 3)] == ["0 points", "1 point", "3 points"]
    assert many(count(2), "box", "boxes") == "2 boxes"
    assert [listed(words) for words in (["a"], ["a", "b"], ["a", "b", "c"])] == [
        "a",
        "a and b",
        "a, b and c",
    ]


@given(st.floats(0.5, 300.0))
def test_a_fraction_is_one_of_a_ruler(millimetres: float) -> None:
    """Halves to sixty-fourths, reduced; else a decimal."""
    said = Say("in").length(length(millimetres))

    if "/" in said:
        over, under = map(int, re.findall(r"(\d+)/(\d+)", said)[0])
        assert under in (2, 4, 8, 16, 32, 64) and over % 2 == 1 and over < under
