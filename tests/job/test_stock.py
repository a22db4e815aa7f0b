from __future__ import annotations

import pytest

from cutlayers.job.caliper import CALIPER
from cutlayers.job.stock import Grain, Stock, read_sheet, usual_sheet
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.lengths import Unit


@pytest.mark.parametrize(
    ("written", "unit", "size"),
    [
        # ISO 216:2007, trimmed sizes of the A series.
        ("A3", "mm", (297, 420)),
        ("A4", "mm", (210, 297)),
        ("A5", "in", (148, 210)),
        ("A6", "mm", (105, 148)),
        # ASME Y14.1: A is 8.5 x 11 in, B is 11 x 17 in; legal, 8.5 x 14 in, is a trade size.
        ("letter", "mm", (215.9, 279.4)),
        ("tabloid", "mm", (279.4, 431.8)),
        ("legal", "mm", (215.9, 355.6)),
        ("Letter", "mm", (215.9, 279.4)),
        ("a4 portrait", "mm", (210, 297)),
        ("A4 landscape", "mm", (297, 210)),
        ("12x12 in", "mm", (304.8, 304.8)),
        ('12" x 18"', "mm", (304.8, 457.2)),
        ("12 × 18", "in", (304.8, 457.2)),
        ("8 1/2 x 11 in", "mm", (215.9, 279.4)),
        ("300 x 400 mm", "in", (300, 400)),
        ("400X300", "mm", (400, 300)),
        ([300, 400], "mm", (300, 400)),
        ([12, "30 cm"], "in", (304.8, 300)),
    ],
)
def test_reads_a_sheet(written: object, unit: Unit, size: tuple[float, float]) -> None:
    """Names are upright; two lengths are width and height, a unit at the end going for both."""
    assert read_sheet(written, unit) == pytest.approx(size, abs=1e-9)


@pytest.mark.parametrize(
    ("unit", "bed", "sheet"),
    [
        ("mm", (305.0, 305.0), "A4"),
        ("in", (305.0, 305.0), "letter"),
        # A letter sheet is 5.9 mm wider than a bed for A4, and does not lie on it.
        ("in", (210.0, 297.0), "A4"),
        ("in", (297.0, 210.0), "A4"),
        ("mm", (216.0, 280.0), "letter"),
        ("mm", (150.0, 220.0), "A5"),
        ("mm", (90.0, 200.0), "90 x 200 mm"),
    ],
)
def test_a_new_job_has_a_sheet_that_lies_on_the_bed(
    unit: Unit, bed: tuple[float, float], sheet: str
) -> None:
    assert usual_sheet(unit, bed) == sheet
    assert all(a <= b for a, b in zip(sorted(read_sheet(sheet)), sorted(bed), strict=True))


CHOICES = (
    'it must be A3, A4, A5, A6, letter, legal, tabloid (with "landscape" to turn it), a text such '
    'as "12x12 in" or a list [width, height], each side 20 mm to 2000 mm'
)


@pytest.mark.parametrize(
    ("written", "message"),
    [
        ("leter", f'is "leter"; {CHOICES}. Did you mean "letter"?'),
        ("A4 sideways", f'is "A4 sideways"; {CHOICES}. Did you mean "A4"?'),
        ("executive", f'is "executive"; {CHOICES}'),  # an x in a word parts no lengths
        ("", f'is ""; {CHOICES}'),
        (210, f"is 210; {CHOICES}"),
        (True, f"is true; {CHOICES}"),
        ([210], f"is a list of 1; {CHOICES}"),
        ({"width": 1}, f"is a table; {CHOICES}"),
        ("12 in x 18", 'is "12 in x 18"; write the unit at the end, for both lengths'),
        ([0, 300], "has a width that is 0 mm; it must be 20 mm to 2000 mm"),
        ([300, -1], "has a height that is -1 mm; it must be 20 mm to 2000 mm"),
        ([300, False], "has a height that is false; it must be 20 mm to 2000 mm"),
        ([30, 40, 5], f"is a list of 3; {CHOICES}; decimals have a point, not a comma"),
        (
            "12x12",
            'has a width that is "12" (12 mm); it must be 20 mm to 2000 mm; bare numbers are '
            'millimetres here, so write "12x12 in"',
        ),
        (
            [12, 18],
            "has a width that is 12 mm; it must be 20 mm to 2000 mm; bare numbers are millimetres "
            'here, so write "12x18 in"',
        ),
        ("0.1x0.1", 'has a width that is "0.1" (0.1 mm); it must be 20 mm to 2000 mm'),
        (
            "12\u201dx12\u201d",
            'has a width that is "12\u201d", which has a curly quote; write inches '
            "as '2 7/16 in'",
        ),
        ("100x90 in", 'has a width that is "100in" (2540 mm); it must be 20 mm to 2000 mm'),
    ],
)
def test_refuses_a_sheet(written: object, message: str) -> None:
    """What is not a sheet is answered with what would be."""
    with pytest.raises(ValueRefused) as caught:
        read_sheet(written)

    assert str(caught.value) == message


def test_millimetres_in_a_job_of_inches() -> None:
    """Bare numbers that only make a sheet in the other unit are answered with that."""
    with pytest.raises(ValueRefused, match=r'bare numbers are inches here, so write "300x400 mm"'):
        read_sheet("300x400", "in")


@pytest.mark.parametrize(
    ("written", "unit", "advice"),
    [
        # Of 270 g/m², at a bulk of 1.0 to 1.5 cm³/g (common practice, no source).
        (270, "mm", "270 g/m² is a weight and goes into grammage; such card is 0.27 mm to 0.41 mm"),
        (270, "in", "270 g/m² is a weight and goes into grammage; such card is 0.011 in to 0.016"),
        ("300 g/m²", "mm", "300 g/m² is a weight and goes into grammage"),
        ("80 gsm", "mm", "80 g/m² is a weight and goes into grammage"),
        ("110 lb", "mm", "pounds are a weight, whose thickness depends on the grade"),
        # A point, or mil, is a thousandth of an inch: 12 of them are 0.3048 mm.
        ("12 pt", "mm", '12 points, or mils, are written "0.305 mm"'),
        ("12 mil", "in", "12 points, or mils, are written 0.012"),
        (12, "in", "12 points, or mils, are written 0.012"),
        (12, "mm", '12 points, or mils, are written "0.305 mm"'),
    ],
)
def test_what_card_is_sold_by_is_no_thickness(written: object, unit: Unit, advice: str) -> None:
    """A weight, pounds and points in the place of the thickness are told as what they are."""
    with pytest.raises(ValueRefused) as caught:
        CALIPER.read(written, unit)

    assert advice in caught.value.refusal.advice


@pytest.mark.parametrize("written", [7, 45, "6 mm", 0.01, "0,3", True])
def test_other_slips_of_a_thickness_are_no_weights(written: object) -> None:
    """What is neither stays what it is."""
    with pytest.raises(ValueRefused) as caught:
        CALIPER.read(written, "mm")

    assert not caught.value.refusal.advice


@pytest.mark.parametrize(
    ("sheet", "grain", "side"),
    [
        ((210, 297), "long", "height"),
        ((210, 297), "short", "width"),
        ((297, 210), "long", "width"),
        ((297, 210), "short", "height"),
        ((300, 300), "long", "height"),
        ((300, 300), "short", "width"),
        ((210, 297), "unknown", None),
    ],
)
def test_grain_runs_along_a_side(
    sheet: tuple[float, float], grain: Grain, side: str | None
) -> None:
    """Long and short are sides of the sheet as it lies; on a square, long is its height."""
    assert Stock("kraft", 0.3, sheet, grain=grain).grain_side == side


@pytest.mark.parametrize(
    ("sheet", "grammage", "grams"),
    [
        # ISO 536 defines grammage; 160 g/m² × 0.210 m × 0.297 m, 300 g/m² × 0.297 m × 0.420 m.
        ((210, 297), 160, 9.9792),
        ((297, 420), 300, 37.422),
    ],
)
def test_a_sheet_weighs_its_area(sheet: tuple[float, float], grammage: float, grams: float) -> None:
    """Weight is grammage times area."""
    assert Stock("kraft", 0.3, sheet, grammage).sheet_weight_g == pytest.approx(grams)


def test_a_sheet_of_unknown_grammage_has_no_weight() -> None:
    """Nothing is guessed from the thickness."""
    assert Stock("kraft", 0.3, (210, 297)).sheet_weight_g is None
