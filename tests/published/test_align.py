"""Fits against worked numbers: Umeyama's closed form (S. Umeyama, IEEE Trans. PAMI 13(4), 1991,
376–380) and the same in complex numbers, a = Σ w·z̄ / Σ|z|², worked apart from this package."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.align.fit import MODELS, Model, fit_motion
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.telling.errors import AlignError

NOMINAL = [(10.0, 10.0), (200.0, 10.0), (200.0, 287.0), (10.0, 287.0)]
FOUND = [(11.21, 9.27), (201.61, 10.49), (199.96, 288.17), (9.43, 286.92)]


def test_a_similarity_to_eight_digits() -> None:
    """Scale 1.00243538, turn 0.35952262°, shift (1.23293604, −0.80668339); mean error 0.04135927,
    worst mark 0.05535026; the middle of the sheet goes to (100.530987, 150.184673)."""
    found = fit_motion("similarity", NOMINAL, FOUND)

    assert found.scale_across == pytest.approx(1.00243538, abs=1e-8)
    assert found.scale_up == pytest.approx(1.00243538, abs=1e-8)
    assert found.rotation_deg == pytest.approx(0.35952262, abs=1e-8)
    assert (found.transform.dx, found.transform.dy) == pytest.approx(
        (1.23293604, -0.80668339), abs=1e-8
    )
    assert found.rms == pytest.approx(0.04135927, abs=1e-8)
    assert found.worst == pytest.approx(0.05535026, abs=1e-8)
    assert found.transform.apply((100, 150)) == pytest.approx((100.530987, 150.184673), abs=1e-6)


def test_an_affine_to_nine_digits() -> None:
    """[1.002447368 −0.006191336 1.214939673; 0.006500000 1.002400722 −0.826507220]."""
    t = fit_motion("affine", NOMINAL, FOUND).transform

    assert (t.xx, t.xy, t.dx) == pytest.approx((1.002447368, -0.006191336, 1.214939673), abs=1e-8)
    assert (t.yx, t.yy, t.dy) == pytest.approx((0.0065, 1.002400722, -0.826507220), abs=1e-8)
    assert fit_motion("affine", NOMINAL, FOUND).rms == pytest.approx(0.03335416, abs=1e-8)
    assert t.apply((100, 150)) == pytest.approx((100.530976, 150.183601), abs=1e-6)


@pytest.mark.parametrize("model", MODELS)
def test_a_3_4_5_turn_is_exact(model: Model) -> None:
    """(0,0), (100,0), (0,100) → (10,20), (90,80), (−50,100): no scale, [0.8 −0.6; 0.6 0.8]."""
    found = fit_motion(model, [(0, 0), (100, 0), (0, 100)], [(10, 20), (90, 80), (-50, 100)])

    t = found.transform
    assert (t.xx, t.xy, t.dx, t.yx, t.yy, t.dy) == pytest.approx((0.8, -0.6, 10, 0.6, 0.8, 20))
    assert found.rms == pytest.approx(0.0, abs=1e-9)


def test_a_mirror_image_is_not_fitted() -> None:
    """Marks mirrored left to right: the determinant stays positive, the scale falls to 0.36009359
    (an upside-down sheet is to be refused, not flipped)."""
    found = fit_motion("similarity", NOMINAL, [(-x, y) for x, y in NOMINAL])

    assert found.transform.determinant > 0
    assert found.scale_across == pytest.approx(0.36009359, abs=1e-8)


@pytest.mark.parametrize("model", MODELS)
@pytest.mark.parametrize(
    "points", [[(0, 0), (100, 0)], [(0, 0), (50, 0), (100, 0)], [(0, 0), (1, 2), (2, 4), (5, 10)]]
)
def test_too_little_to_go_by(model: Model, points: list[Point]) -> None:
    """Two points, or points on a line, fix no way across."""
    with pytest.raises(AlignError):
        fit_motion(model, points, points)


@settings(max_examples=100, deadline=None)
@given(
    scales=st.tuples(st.floats(0.99, 1.01), st.floats(0.99, 1.01)),
    turn=st.floats(-170.0, 170.0),
    shift=st.tuples(st.floats(-50, 50), st.floats(-50, 50)),
    errors=st.lists(st.floats(-0.2, 0.2), min_size=8, max_size=8),
)
def test_axes_is_the_least_squares_solution(
    scales: tuple[float, float],
    turn: float,
    shift: tuple[float, float],
    errors: list[float],
) -> None:
    """Exact on exact data; on any data no turn nearby, with its own best scales and shift (two
    straight-line fits), does better."""
    exact = (
        Transform.translation(*shift)
        @ Transform.rotation(turn)
        @ Transform(xx=scales[0], yy=scales[1])
    )
    true = [exact.apply(point) for point in NOMINAL]
    found = fit_motion("axes", NOMINAL, true)
    assert found.worst < 1e-9
    assert (found.scale_across, found.scale_up) == pytest.approx(scales, abs=1e-9)

    noisy = [(x + errors[2 * i], y + errors[2 * i + 1]) for i, (x, y) in enumerate(true)]
    best = fit_motion("axes", NOMINAL, noisy)
    angle = math.degrees(math.atan2(best.transform.yx, best.transform.xx))
    for nudge in (-0.05, -0.001, 0.001, 0.05):
        back = Transform.rotation(-(angle + nudge))
        residual = 0.0
        for axis in (0, 1):
            a = [point[axis] for point in NOMINAL]
            b = [back.apply(point)[axis] for point in noisy]
            mean_a, mean_b = sum(a) / 4, sum(b) / 4
            slope = sum((u - mean_a) * (v - mean_b) for u, v in zip(a, b, strict=True)) / sum(
                (u - mean_a) ** 2 for u in a
            )
            residual += sum(
                (v - mean_b - slope * (u - mean_a)) ** 2 for u, v in zip(a, b, strict=True)
            )
        assert best.rms**2 * 4 <= residual + 1e-12
