"""Register marks found in a scan of a printed sheet, to a tenth of a pixel.

First the whole scan is searched at a low resolution for places that look like a mark; then those
places are chosen that stand to each other as the marks do; then each is looked at again at full
resolution, with the mark drawn as large and as turned as the others say.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from cutlayers.align.fit import fit_motion, too_few
from cutlayers.align.scan import MM_PER_INCH, Scan
from cutlayers.align.template import mark_picture
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.telling.errors import AlignError
from cutlayers.telling.refusals import Refusal

if TYPE_CHECKING:
    from cutlayers.sheets.model import RegisterMark

COARSE_DPI = 90.0
"""For the first search: a line of a mark is about a pixel wide there."""

LIKENESS_COARSE, LIKENESS = 0.35, 0.6
"""Least correlation that counts as a mark, in the first search and at full resolution."""

ALIKE, ALIKE_FILLED = 0.93, 0.975
"""Share of the best mark's likeness that each must reach. Measured on our own marks scanned at
300 dpi: dragged by 0.3 mm, a target falls to 0.89 of it and a dot to 0.97; noise leaves 0.98."""

MOST_PLACES = 40
"""Places that look like a mark; art may hold some, but marks are among the best."""

LOOSE = 2.5
"""mm by which a mark may miss the place that two others say: 0.7 % of a long sheet."""

SCALES = (0.98, 1.02)
WINDOW = 1.6
"""mm round a place within which the mark's middle is looked for again."""

BLUR = 0.8
"""Pixels of smoothing of scan and drawing alike: takes out noise, and smooths the peak."""

PASSES = 3


def find_marks(
    scan: Scan, marks: Sequence[RegisterMark], filled: bool, line_width: float
) -> list[tuple[int, Point]]:
    """The marks that can be found: their numbers, from 0, and their middles in mm.

    Places are mm from the scan's lower left corner, y up. The sheet may lie any way round.
    Raises AlignError where the libraries for it are missing and where fewer than three are found.
    """
    _need_scipy()
    shapes = [_centred(mark) for mark in marks]
    places = _search(scan, shapes, filled, line_width)
    rough = _constellation([mark.centre for mark in marks], places)
    if len(rough) < 3:
        raise AlignError(
            too_few(
                len(rough),
                f"only {len(rough)} of {len(marks)} register marks can be found in the scan",
                "scan the whole sheet, straight, at 300 dpi, without shadows",
            )
        )
    found = dict(rough)
    for _ in range(PASSES):
        numbers = sorted(found)
        onto = fit_motion("axes", [marks[i].centre for i in numbers], [found[i] for i in numbers])
        better: dict[int, tuple[float, Point]] = {}
        for i, mark in enumerate(marks):
            near = found.get(i, onto.transform.apply(mark.centre))
            seen = _refined(scan, shapes[i], filled, line_width, onto.transform, near)
            if seen is not None:
                better[i] = seen
        found = _clear(better, filled)
        if len(found) < 3:
            raise AlignError(
                too_few(
                    len(found),
                    f"only {len(found)} of {len(marks)} register marks are clear enough in the "
                    "scan",
                    "smeared ones are not counted",
                )
            )
    return sorted(found.items())


def _clear(seen: dict[int, tuple[float, Point]], filled: bool) -> dict[int, Point]:
    """Without the marks that look much worse than the best one: printed and scanned together, good
    ones look alike, and one that is smeared would be found off its middle."""
    best = max((likeness for likeness, _ in seen.values()), default=0.0)
    least = best * (ALIKE_FILLED if filled else ALIKE)
    return {i: place for i, (likeness, place) in seen.items() if likeness >= least}


def _need_scipy() -> None:
    try:
        import scipy  # noqa: F401
    except ImportError:
        raise AlignError(
            Refusal(
                reason="reading a scan needs scipy, which is not installed",
                advice="get it with: pip install 'cutlayers[scan]', or measure the marks and give "
                "--mark",
            )
        ) from None


def _centred(mark: RegisterMark) -> tuple[Path, ...]:
    x, y = mark.centre
    return tuple(path.transformed(Transform.translation(-x, -y)) for path in mark.paths)


def _search(
    scan: Scan, shapes: Sequence[tuple[Path, ...]], filled: bool, line_width: float
) -> list[tuple[float, Point]]:
    """(likeness, place) of what looks like a mark, in whatever quarter turn, best first."""
    from scipy.ndimage import gaussian_filter, maximum_filter

    small = scan.shrunk(COARSE_DPI / MM_PER_INCH)
    across, up = small.shape[1] / scan.width, small.shape[0] / scan.height
    best: np.ndarray | None = None
    reach = _reach(shapes)
    half = int(np.ceil(reach * across)) + 2
    for picture in _distinct(shapes, filled, line_width, across, up, half):
        likeness = _correlation(small, gaussian_filter(picture, 0.7))
        best = likeness if best is None else np.maximum(best, likeness)
    assert best is not None
    peaks = (best == maximum_filter(best, size=2 * half + 1)) & (best > LIKENESS_COARSE)
    rows, columns = np.nonzero(peaks)
    order = np.argsort(-best[rows, columns], kind="stable")[:MOST_PLACES]
    return [
        (
            float(best[rows[i], columns[i]]),
            (
                float((columns[i] + 0.5) / across),
                float(scan.height - (rows[i] + 0.5) / up),
            ),
        )
        for i in order
    ]


def _reach(shapes: Sequence[tuple[Path, ...]]) -> float:
    return max(abs(side) for shape in shapes for path in shape for side in path.bounds)


def _distinct(
    shapes: Sequence[tuple[Path, ...]],
    filled: bool,
    line_width: float,
    across: float,
    up: float,
    half: int,
) -> list[np.ndarray]:
    """The marks' pictures in all quarter turns, each that differs once."""
    pictures: list[np.ndarray] = []
    for shape in shapes:
        for quarter in range(4):
            onto = Transform(xx=across, yy=up) @ Transform.rotation(90.0 * quarter)
            picture = mark_picture(shape, filled, line_width, onto, half)
            if not any(np.allclose(picture, other, atol=0.02) for other in pictures):
                pictures.append(picture)
    return pictures


def _correlation(image: np.ndarray, picture: np.ndarray) -> np.ndarray:
    """Normalised cross-correlation, -1 to 1, of a picture with every place of an image.

    Source: J. P. Lewis, Fast Template Matching, Vision Interface 1995.
    """
    from scipy.signal import fftconvolve

    zero = picture - picture.mean()
    flipped = zero[::-1, ::-1]
    ones = np.ones_like(picture)
    top = fftconvolve(image, flipped, mode="same")
    total = fftconvolve(image, ones, mode="same")
    squares = fftconvolve(image * image, ones, mode="same")
    spread = np.maximum(squares - total * total / picture.size, 0.0)
    bottom = np.sqrt(spread * (zero * zero).sum())
    # Where the paper is blank there is nothing to compare, only rounding.
    result: np.ndarray = np.where(bottom > 1e-3 * picture.size, top / np.maximum(bottom, 1e-9), 0.0)
    return result


def _constellation(
    nominal: Sequence[Point], places: Sequence[tuple[float, Point]]
) -> list[tuple[int, Point]]:
    """The places that stand to each other as the marks do: the most, then the likest."""
    z = np.array([complex(*point) for point in nominal])
    w = np.array([complex(*point) for _, point in places])
    likeness = np.array([value for value, _ in places])
    best: tuple[tuple[int, float], list[tuple[int, Point]]] = ((0, 0.0), [])
    for i, j in itertools.permutations(range(len(z)), 2):
        if i > j:
            continue
        for p, q in itertools.permutations(range(len(w)), 2):
            turn = (w[q] - w[p]) / (z[j] - z[i])
            if not SCALES[0] <= abs(turn) <= SCALES[1]:
                continue
            expected = w[p] + turn * (z - z[i])
            gaps = np.abs(expected[:, None] - w[None, :])
            nearest = gaps.argmin(axis=1)
            taken = [(k, int(nearest[k])) for k in range(len(z)) if gaps[k, nearest[k]] <= LOOSE]
            score = (len(taken), float(likeness[[place for _, place in taken]].sum()))
            if score > best[0] and len({place for _, place in taken}) == len(taken):
                best = score, [(k, places[place][1]) for k, place in taken]
    return best[1]


def _refined(
    scan: Scan,
    shape: tuple[Path, ...],
    filled: bool,
    line_width: float,
    onto: Transform,
    near: Point,
) -> tuple[float, Point] | None:
    """Likeness and middle of a mark, to a fraction of a pixel, or None where there is none."""
    from scipy.ndimage import gaussian_filter

    across, up = scan.across, scan.up
    half = int(np.ceil(_reach((shape,)) * max(across, up))) + 3
    window = int(np.ceil(WINDOW * max(across, up)))
    column, row = round(near[0] * across - 0.5), round((scan.height - near[1]) * up - 0.5)
    size = half + window
    if (
        row - half < 0
        or column - half < 0
        or row + half >= scan.grey.shape[0]
        or column + half >= scan.grey.shape[1]
    ):
        return None
    rows, columns = (np.arange(at - size, at + size + 1) for at in (row, column))
    patch = gaussian_filter(scan.ink(rows, columns), BLUR)
    picture = mark_picture(shape, filled, line_width, Transform(xx=across, yy=up) @ onto, half)
    likeness = _correlation(patch, gaussian_filter(picture, BLUR))
    inner = likeness[half:-half, half:-half]
    at = np.unravel_index(int(inner.argmax()), inner.shape)
    r, c = int(at[0]), int(at[1])
    if inner[r, c] < LIKENESS or not (0 < r < inner.shape[0] - 1 and 0 < c < inner.shape[1] - 1):
        return None
    shift_row, shift_column = _peak(inner[r - 1 : r + 2, c - 1 : c + 2])
    x = (column - window + c + shift_column + 0.5) / across
    y = scan.height - (row - window + r + shift_row + 0.5) / up
    return float(inner[r, c]), (x, y)


def _peak(values: np.ndarray) -> tuple[float, float]:
    """Where a quadratic surface through 3 × 3 values has its top, from their middle."""
    r, c = np.mgrid[-1:2, -1:2]
    terms = np.column_stack(
        [np.ones(9), r.ravel(), c.ravel(), (r * r).ravel(), (r * c).ravel(), (c * c).ravel()]
    )
    _, br, bc, arr, arc, acc = np.linalg.lstsq(terms, values.ravel(), rcond=None)[0]
    bend = np.array([[2 * arr, arc], [arc, 2 * acc]])
    if np.linalg.det(bend) <= 0 or arr >= 0:
        return 0.0, 0.0
    row, column = np.linalg.solve(bend, [-br, -bc])
    return float(np.clip(row, -1, 1)), float(np.clip(column, -1, 1))
