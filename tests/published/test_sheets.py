"""Sheet sizes against the standards that define them."""

from __future__ import annotations

import math

import pytest

from cutlayers.job.stock import SHEETS_MM

ISO_216 = {"A3": (297, 420), "A4": (210, 297), "A5": (148, 210), "A6": (105, 148)}
"""ISO 216:2007, trimmed sizes of the A series, mm."""

INCHES = {"letter": (8.5, 11), "tabloid": (11, 17), "legal": (8.5, 14)}
"""ASME Y14.1 sizes A and B; legal is a trade size without a standard."""

POINTS = {"A3": (841.8898, 1190.5512), "A4": (595.2756, 841.8898), "letter": (612, 792)}
"""1/72 in, as page sizes are printed in tables."""


@pytest.mark.parametrize("name", ISO_216)
def test_a_series_has_the_sizes_of_iso_216(name: str) -> None:
    """Whole millimetres, upright."""
    assert SHEETS_MM[name] == ISO_216[name]


@pytest.mark.parametrize("name", INCHES)
def test_inch_sheets_are_exact(name: str) -> None:
    """25.4 mm to the inch, without rounding."""
    assert SHEETS_MM[name] == pytest.approx([25.4 * side for side in INCHES[name]], abs=1e-9)


@pytest.mark.parametrize("name", POINTS)
def test_sheets_agree_with_the_sizes_in_points(name: str) -> None:
    """Against page sizes in 1/72 in."""
    in_points = [side * 72 / 25.4 for side in SHEETS_MM[name]]

    assert in_points == pytest.approx(POINTS[name], abs=5e-5)


def test_each_a_size_is_half_of_the_one_before() -> None:
    """ISO 216: halved across the long side, rounded down to whole millimetres."""
    for larger, smaller in (("A3", "A4"), ("A4", "A5"), ("A5", "A6")):
        width, height = SHEETS_MM[larger]

        assert SHEETS_MM[smaller] == (math.floor(height / 2), width)


def test_every_sheet_is_covered_by_a_source() -> None:
    """No size stands in the table without a source here."""
    assert set(SHEETS_MM) == set(ISO_216) | set(INCHES)
