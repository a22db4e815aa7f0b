"""Least-squares motions from where marks should be to where they are.

Three models, each with the freedom of the one before and more:

- *similarity*: moved, turned, and scaled alike both ways (4 numbers);
- *axes*: scaled by the printer, differently across and up, then moved and turned as the sheet
  was fed (5 numbers); the usual case, and the default;
- *affine*: sheared as well (6 numbers).

All points are mm, y up.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Literal, get_args

import numpy as np

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.telling.errors import AlignError
from cutlayers.telling.refusals import Refusal, Span

Model = Literal["similarity", "axes", "affine"]
MODELS: tuple[Model, ...] = get_args(Model)

FLAT = 1e-3
"""Marks whose spread one way is less than this share of the other lie on one line."""


@frozen
class FittedMotion:
    """A fitted motion; `residuals` are the distances in mm that it leaves at each mark."""

    model: Model
    transform: Transform
    residuals: tuple[float, ...]

    @property
    def rms(self) -> float:
        """Root of the mean squared residual."""
        return math.sqrt(math.fsum(each**2 for each in self.residuals) / len(self.residuals))

    @property
    def worst(self) -> float:
        """The largest residual."""
        return max(self.residuals)

    @property
    def scale_across(self) -> float:
        """Length on the sheet of what should be 1 mm across."""
        return math.hypot(self.transform.xx, self.transform.yx)

    @property
    def scale_up(self) -> float:
        """Length on the sheet of what should be 1 mm up."""
        return math.hypot(self.transform.xy, self.transform.yy)

    @property
    def rotation_deg(self) -> float:
        """How far the sheet lies turned to the left, -180 to 180."""
        t = self.transform
        return math.degrees(math.atan2(t.yx - t.xy, t.xx + t.yy))

    @property
    def shear_deg(self) -> float:
        """How far what should be a right angle is off, positive where it is less."""
        t = self.transform
        cosine = (t.xx * t.xy + t.yx * t.yy) / (self.scale_across * self.scale_up)
        return math.degrees(math.asin(max(-1.0, min(1.0, cosine))))


FEWEST = 3
"""Marks, to see how a sheet is moved, turned and scaled."""

ON_A_LINE = Refusal(reason="the marks lie on one line, which says nothing of the way across it")


def too_few(count: int, reason: str, advice: str = "") -> Refusal:
    """Fewer marks than a fit needs."""
    return Refusal(
        reason=reason, fault="value", found=count, allowed=Span(least=FEWEST), advice=advice
    )


def fit_motion(model: Model, nominal: Sequence[Point], found: Sequence[Point]) -> FittedMotion:
    """The best motion of a model from nominal points onto found ones, never a mirror image.

    Raises AlignError for fewer than three points and for points on one line.
    """
    x, y = np.array(nominal, dtype=float), np.array(found, dtype=float)
    if len(x) < FEWEST:
        raise AlignError(too_few(len(x), f"{len(x)} marks leave nothing to check a fit by"))
    spread = np.linalg.svd(x - x.mean(axis=0), compute_uv=False)
    if spread[1] < FLAT * spread[0]:
        raise AlignError(ON_A_LINE)
    matrix, shift = _SOLVERS[model](x, y)
    transform = Transform(
        *map(float, (matrix[0, 0], matrix[0, 1], shift[0], matrix[1, 0], matrix[1, 1], shift[1]))
    )
    residuals = np.hypot(*(y - x @ matrix.T - shift).T)
    return FittedMotion(model, transform, tuple(map(float, residuals)))


def _similarity(x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Source: S. Umeyama, IEEE Trans. PAMI 13(4), 1991, pp. 376–380, equations 34–42."""
    mean_x, mean_y = x.mean(axis=0), y.mean(axis=0)
    u, d, vt = np.linalg.svd((y - mean_y).T @ (x - mean_x) / len(x))
    s = np.array([1.0, np.sign(np.linalg.det(u) * np.linalg.det(vt)) or 1.0])
    variance = ((x - mean_x) ** 2).sum() / len(x)
    matrix = (u * s) @ vt * ((d * s).sum() / variance)
    return matrix, mean_y - matrix @ mean_x


def _axes(x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Turn after two scales.

    For a turn by θ the two axes are fitted apart, each by a straight line through the origin of
    the centred points; what that explains is a quadratic form in (cos θ, sin θ), whose largest
    eigenvector is the best turn.
    """
    mean_x, mean_y = x.mean(axis=0), y.mean(axis=0)
    a, b = x - mean_x, y - mean_y
    # Along x: a₀·(cos θ b₀ + sin θ b₁); along y: a₁·(cos θ b₁ − sin θ b₀).
    across = np.array([a[:, 0] @ b[:, 0], a[:, 0] @ b[:, 1]])
    up = np.array([a[:, 1] @ b[:, 1], -(a[:, 1] @ b[:, 0])])
    size = (a**2).sum(axis=0)
    form = np.outer(across, across) / size[0] + np.outer(up, up) / size[1]
    _, vectors = np.linalg.eigh(form)
    cosine, sine = vectors[:, -1]
    scale_across, scale_up = (across @ vectors[:, -1]) / size[0], (up @ vectors[:, -1]) / size[1]
    turn = np.array([[cosine, -sine], [sine, cosine]])
    # An eigenvector has two signs: the other one turns by half a turn and scales by less than 0.
    matrix = turn * np.array([scale_across, scale_up])
    return matrix, mean_y - matrix @ mean_x


def _affine(x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    rows = np.column_stack([x, np.ones(len(x))])
    solution, *_ = np.linalg.lstsq(rows, y, rcond=None)
    return solution[:2].T, solution[2]


_SOLVERS: Mapping[Model, Callable[[np.ndarray, np.ndarray], tuple[np.ndarray, np.ndarray]]] = {
    "similarity": _similarity,
    "axes": _axes,
    "affine": _affine,
}
