from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.telling.errors import LengthError
from cutlayers.telling.lengths import LONGEST_MM, Unit, format_inches, format_length, parse_length

# The inch is 25.4 mm exactly: international yard and pound agreement, 1959.
READ: list[tuple[float | str, Unit, float]] = [
    (62, "mm", 62.0),
    (62, "cm", 620.0),
    (1, "in", 25.4),
    (0, "in", 0.0),
    ("62", "mm", 62.0),
    ("62", "in", 1574.8),
    ("62 mm", "in", 62.0),
    ("62mm", "in", 62.0),
    ("6.2 cm", "mm", 62.0),
    (".5 in", "mm", 12.7),
    ("5. in", "mm", 127.0),
    ("1 inch", "mm", 25.4),
    ("2 Inches", "mm", 50.8),
    ("2 7/16 in", "mm", 61.9125),
    ("2-7/16 in", "mm", 61.9125),
    ('2-7/16"', "mm", 61.9125),
    ("2 7/16\u2033", "mm", 61.9125),
    ("7/16", "in", 11.1125),
    ("7 / 16 in", "mm", 11.1125),
    ("  3 mm  ", "mm", 3.0),
    ("-1/2 in", "mm", -12.7),
    ("- 2 1/2 in", "mm", -63.5),
    ("+4", "mm", 4.0),
    ("1e1", "mm", 10.0),
    (LONGEST_MM, "mm", 10_000.0),
]

REFUSED: list[tuple[float | str, Unit, str]] = [
    ("", "mm", "'' is not a length; write for example 62, '62 mm', '6.2 cm' or '2 7/16 in'"),
    ("mm", "mm", "'mm' is not a length; write for example 62, '62 mm', '6.2 cm' or '2 7/16 in'"),
    ("6,2 cm", "mm", "'6,2 cm' has a decimal comma; write '6.2 cm'"),
    ("12,5", "in", "'12,5' has a decimal comma; write '12.5'"),
    (
        "1.062,5",
        "mm",
        "'1.062,5' has two marks in a number; write thousands without one, and a point for "
        "decimals",
    ),
    ("2 7/16\u201d", "mm", "'2 7/16\u201d' has a curly quote; write inches as '2 7/16 in'"),
    (
        "3 feet",
        "mm",
        "'3 feet' is not a length; write for example 62, '62 mm', '6.2 cm' or '2 7/16 in'",
    ),
    ("1/0 in", "mm", "'1/0 in' is not a length: the fraction divides by zero"),
    (
        "9" * 400 + "/1",
        "mm",
        f"'{'9' * 400}/1' is not a length; write for example 62, '62 mm', '6.2 cm' or '2 7/16 in'",
    ),
    ("nan", "mm", "'nan' is not a length; write for example 62, '62 mm', '6.2 cm' or '2 7/16 in'"),
    (math.nan, "mm", "nan is not a usable length; the longest is 10000 mm"),
    (math.inf, "mm", "inf is not a usable length; the longest is 10000 mm"),
    (-math.inf, "in", "-inf is not a usable length; the longest is 10000 mm"),
    (10_000.1, "mm", "10000.1 is not a usable length; the longest is 10000 mm"),
    (400, "in", "400 is not a usable length; the longest is 10000 mm"),
    ("1e400", "mm", "'1e400' is not a usable length; the longest is 10000 mm"),
    (10**400, "mm", f"{10**400} is not a usable length; the longest is 10000 mm"),
    (True, "mm", "True is not a length; write a number or a text such as '62 mm'"),
]


@pytest.mark.parametrize(("written", "unit", "millimetres"), READ)
def test_reads(written: float | str, unit: Unit, millimetres: float) -> None:
    """Numbers count in the given unit, texts may carry their own and a fraction."""
    assert parse_length(written, unit) == pytest.approx(millimetres, abs=1e-9)


@pytest.mark.parametrize(("written", "unit", "message"), REFUSED)
def test_refuses(written: float | str, unit: Unit, message: str) -> None:
    """What is not a length, or not a usable one, is refused with the value and an example."""
    with pytest.raises(LengthError) as caught:
        parse_length(written, unit)

    assert str(caught.value) == f"{message}."


@pytest.mark.parametrize(
    ("millimetres", "unit", "denominator", "written"),
    [
        (61.94, "mm", 16, "61.9 mm"),
        (-0.01, "mm", 16, "0.0 mm"),
        (619.4, "cm", 16, "61.94 cm"),
        (25.4, "in", 16, "1 in"),
        (12.7, "in", 16, "1/2 in"),  # reduced from 8/16
        (61.9125, "in", 32, "2 7/16 in"),
        (26.19375, "in", 32, "1 1/32 in"),
        (25.39, "in", 16, "1 in"),  # rounds up to a whole inch, not to 16/16
        (0.0, "in", 16, "0 in"),
        (-0.1, "in", 16, "0 in"),  # no sign on nothing
        (-38.1, "in", 16, "-1 1/2 in"),
    ],
)
def test_writes(millimetres: float, unit: Unit, denominator: int, written: str) -> None:
    """Reports have tenths of a millimetre or reduced fractions of an inch."""
    assert format_length(millimetres, unit, denominator) == written


@given(st.integers(-99_999, 99_999), st.sampled_from(["mm", "cm"]))
def test_metric_text_reads_back_the_same(tenths: int, unit: Unit) -> None:
    """What is printed in mm or cm to a tenth of a millimetre parses back to the same length."""
    millimetres = tenths / 10

    assert parse_length(format_length(millimetres, unit)) == pytest.approx(millimetres, abs=1e-9)


@given(st.integers(-6_000, 6_000), st.sampled_from([16, 32]))
def test_inch_text_reads_back_the_same(parts: int, denominator: int) -> None:
    """What lies on a ruler's division prints and parses back to the same length."""
    millimetres = parts * 25.4 / denominator

    read = parse_length(format_length(millimetres, "in", denominator))

    assert read == pytest.approx(millimetres, abs=1e-9)


@given(st.floats(-9_990, 9_990), st.sampled_from([("mm", 0.05), ("cm", 0.05), ("in", 25.4 / 32)]))
def test_printing_is_off_by_half_a_division_at_most(
    millimetres: float, unit_and_half: tuple[Unit, float]
) -> None:
    """Printing rounds to the nearest division and does nothing else."""
    unit, half = unit_and_half

    assert abs(parse_length(format_length(millimetres, unit)) - millimetres) <= half + 1e-9


@given(st.text(max_size=12))
def test_any_text_is_a_length_or_refused(written: str) -> None:
    """No text makes anything but a finite length or a LengthError."""
    try:
        read = parse_length(written)
    except LengthError:
        return

    assert math.isfinite(read)
    assert abs(read) <= LONGEST_MM


def test_inches_alone_have_no_unit() -> None:
    """A table with inches in its head needs the number only."""
    assert format_inches(61.9125) == "2 7/16"


@pytest.mark.parametrize(
    "written", ["1" * 50_000 + "!", "1" + " " * 50_000 + "!", "1/" + "2" * 9999]
)
def test_a_text_without_end_is_refused_at_once(written: str) -> None:
    """Each letter of it is looked at a few times, not once for each of the others."""
    with pytest.raises(LengthError):
        parse_length(written)
