"""What a wrong reading does, against what textbooks of adjustment work out by other ways.

Redundancy: W. Baarda, A testing procedure for use in geodetic networks, 1968; the shares add up to
readings less unknowns. Without one observation a linear fit changes as if that one were moved by
its residual over its redundancy (R. D. Cook, Technometrics 19, 1977, pp. 15–18).
"""

from __future__ import annotations

import math

import pytest

from cutlayers.align.fit import MODELS, Model, fit_motion
from cutlayers.align.reliability import figures_of, reliability_of
from cutlayers.geometry.transforms import Point

LOWER_LEFT, LOWER_RIGHT, UPPER_LEFT = (12.0, 12.0), (198.0, 12.0), (12.0, 285.0)
THREE = [LOWER_LEFT, LOWER_RIGHT, UPPER_LEFT]
FIVE = [*THREE, (145.5, 285.0), (105.0, 12.0)]
WORK = [(x, y) for x in (30.0, 180.0) for y in (40.0, 250.0)]
ERRORS = [(0.11, -0.07), (-0.2, 0.05), (0.03, 0.14), (-0.06, -0.12), (0.09, 0.02)]


def misread(nominal: list[Point], number: int, by: Point) -> list[Point]:
    found = list(nominal)
    found[number] = (found[number][0] + by[0], found[number][1] + by[1])
    return found


@pytest.mark.parametrize(("model", "unknowns"), [("similarity", 4), ("axes", 5), ("affine", 6)])
@pytest.mark.parametrize("count", [3, 4, 5])
def test_shares_add_up_to_the_readings_to_spare(model: Model, unknowns: int, count: int) -> None:
    """Two readings a mark, less what is fitted: three marks leave two, one or none."""
    nominal = FIVE[:count]

    found = reliability_of(fit_motion(model, nominal, nominal), nominal, nominal, WORK)

    assert found.to_spare == 2 * count - unknowns
    assert math.fsum(map(math.fsum, found.redundancy)) == pytest.approx(found.to_spare, abs=1e-5)


def test_three_marks_check_a_right_angle_and_nothing_else() -> None:
    """The one condition is (y₂ − y₁)/a + (x₃ − x₁)/b = 0 for legs a = 186, b = 273, so a reading's
    share is its squared coefficient over the sum of all, 2/a² + 2/b²: b²/(2(a² + b²)) =
    74529/218250 for the ys, 34596/218250 for the xs, and nothing along the legs at their ends."""
    fit = fit_motion("axes", THREE, THREE)

    found = reliability_of(fit, THREE, THREE, WORK)

    across, up = 34596 / 218250, 74529 / 218250
    for shares, expected in zip(
        found.redundancy, [(across, up), (0.0, up), (across, 0.0)], strict=True
    ):
        assert shares == pytest.approx(expected, abs=1e-5)
    # 1 mm at the upper left mark stretches the sheet by 1/273 from the lower edge of marks on:
    # (250 − 12)/273; at the lower right one by (180 − 12)/186, which is more.
    assert found.unseen == pytest.approx(168 / 186, abs=1e-5)


def test_four_marks_check_every_reading() -> None:
    """The fourth tells both scales once more."""
    four = FIVE[:4]

    found = reliability_of(fit_motion("axes", four, four), four, four, WORK)

    assert min(map(min, found.redundancy)) > 0.1
    assert found.unseen == 0.0


@pytest.mark.parametrize("model", ["similarity", "affine"])
def test_a_mark_that_is_wrong_moves_lines_by_what_a_fit_without_it_does(model: Model) -> None:
    """Both are linear, so the two ways agree but for rounding."""
    found = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(FIVE, ERRORS, strict=True)]
    fit = fit_motion(model, FIVE, found)

    told = reliability_of(fit, FIVE, found, WORK).if_wrong

    for number in range(5):
        without = fit_motion(
            model, FIVE[:number] + FIVE[number + 1 :], found[:number] + found[number + 1 :]
        )
        apart = [math.dist(fit.transform.apply(p), without.transform.apply(p)) for p in WORK]
        assert told[number] == pytest.approx(max(apart), abs=1e-6)


@pytest.mark.parametrize("model", MODELS)
def test_without_an_error_nothing_is_off(model: Model) -> None:
    """Neither at a mark nor at the work."""
    fit = fit_motion(model, FIVE, FIVE)
    figures = figures_of(fit, FIVE, FIVE, WORK)

    assert reliability_of(fit, FIVE, FIVE, WORK).if_wrong == pytest.approx((0.0,) * 5, abs=1e-9)
    assert figures.unequal.at_work == pytest.approx(0.0, abs=1e-9)
    assert figures.across.at_work == pytest.approx(0.0, abs=1e-9)


def test_what_a_scale_means_at_the_work() -> None:
    """The lower right mark read 0.5 mm too far: 186.5/186 across, about the middle of the marks at
    x = 74, from which the work reaches to 180; 0.5/186 more across than up."""
    found = misread(THREE, 1, (0.5, 0.0))
    figures = figures_of(fit_motion("axes", THREE, found), THREE, found, WORK)

    assert figures.across.value == pytest.approx(0.5 / 186, abs=1e-9)
    assert figures.across.at_work == pytest.approx((180 - 74) * 0.5 / 186, abs=1e-6)
    assert figures.up.at_work == pytest.approx(0.0, abs=1e-9)
    assert figures.unequal.value == pytest.approx(0.5 / 186, abs=1e-9)


def test_what_unequal_scales_mean_at_the_work() -> None:
    """Against the similarity of complex numbers, a = Σ w·z̄ / Σ|z|², worked here."""
    found = misread(THREE, 1, (0.5, 0.0))
    z, w = [complex(*at) for at in THREE], [complex(*at) for at in found]
    z0, w0 = sum(z) / 3, sum(w) / 3
    a = sum((v - w0) * (u - z0).conjugate() for u, v in zip(z, w, strict=True)) / sum(
        abs(u - z0) ** 2 for u in z
    )
    stretched = [complex(12 + (x - 12) * 186.5 / 186, y) for x, y in WORK]
    alike = [w0 + a * (complex(*at) - z0) for at in WORK]

    figures = figures_of(fit_motion("axes", THREE, found), THREE, found, WORK)

    expected = max(abs(one - two) for one, two in zip(stretched, alike, strict=True))
    assert figures.unequal.at_work == pytest.approx(expected, abs=1e-6)


def test_what_a_shear_means_at_the_work() -> None:
    """All marks sheared by 0.2 %: the sine is 0.002/√(1 + 0.002²)."""
    found = [(x + 0.002 * y, y) for x, y in FIVE]
    figures = figures_of(fit_motion("affine", FIVE, found), FIVE, found, WORK)

    assert figures.shear.value == pytest.approx(0.002 / math.hypot(1, 0.002), abs=1e-9)
    assert 0.1 < figures.shear.at_work < 0.5
