"""Cubic Bézier curves made arcs: what a blade follows, within a tolerance and without corners.

Each becomes a line where it is straight, one arc where it is as good as one, and else a biarc, two
arcs that meet in one direction, or halves of which the same is asked.

Source: K. M. Bolton, "Biarc curves", Computer-Aided Design 7 (1975), of which the biarc is taken
whose two pairs of tangents are equally long; halving at the middle by de Casteljau.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from cutlayers.bringing.limits import MOST_EDGES, too_many
from cutlayers.geometry.transforms import Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

Straight = tuple[Point, float]
"""Where a straight edge or an arc ends, and its bulge."""

LOOKS = 16
"""Parts of a cubic between which it is held against the arcs."""

KINK = 0.01
"""Radians by which one arc may leave the direction of the cubic at its ends."""

MOST_HALVINGS = 16


def fitted(
    cubics: Sequence[tuple[Point, Point, Point, Point]], tolerance: float
) -> list[list[Straight]]:
    """For each cubic the lines and arcs that it becomes; all are worked on at once."""
    import numpy as np

    points: Array = np.array(cubics, dtype=np.float64)
    owner = np.arange(len(points))
    begin = np.zeros(len(points))
    found: list[tuple[Any, Any, Any]] = []
    count = 0
    for halving in range(MOST_HALVINGS + 1):
        if not len(points):
            break
        ends, bulges, fits = _best(points, tolerance)
        if halving == MOST_HALVINGS:
            bulges[~fits], fits[:] = 0.0, True  # below any blade by now
            ends[~fits, 0] = points[~fits, 3]
        kept = np.flatnonzero(fits)
        count += len(kept)
        if count > MOST_EDGES or len(points) > MOST_EDGES:
            raise too_many()
        for half in (0, 1):
            some = kept if half == 0 else kept[np.any(ends[kept, 0] != ends[kept, 1], axis=1)]
            order = np.stack([owner[some], begin[some] + half * 2.0 ** -(halving + 1)], axis=1)
            found.append((order, ends[some, half], bulges[some, half]))
        left = ~fits
        points, owner, begin = _halved(points[left], owner[left], begin[left], halving)
    orders = np.concatenate([each[0] for each in found])
    ends = np.concatenate([each[1] for each in found])
    bulges = np.concatenate([each[2] for each in found])
    placed = np.lexsort((orders[:, 1], orders[:, 0]))
    answer: list[list[Straight]] = [[] for _ in cubics]
    rows = zip(
        orders[placed, 0].astype(int).tolist(),
        ends[placed].tolist(),
        bulges[placed].tolist(),
        strict=True,
    )
    for number, (x, y), bulge in rows:
        answer[number].append(((x, y), bulge))
    return answer


def _halved(points: Array, owner: Any, begin: Array, halving: int) -> tuple[Array, Any, Array]:
    """Both halves of each cubic. Source: de Casteljau's construction at 1/2."""
    import numpy as np

    a, b, c, d = (points[:, i] for i in range(4))
    ab, bc, cd = (a + b) / 2, (b + c) / 2, (c + d) / 2
    abc, bcd = (ab + bc) / 2, (bc + cd) / 2
    middle = (abc + bcd) / 2
    halves = np.concatenate(
        [np.stack([a, ab, abc, middle], axis=1), np.stack([middle, bcd, cd, d], axis=1)]
    )
    later = begin + 2.0 ** -(halving + 1)
    return halves, np.concatenate([owner, owner]), np.concatenate([begin, later])


def _best(points: Array, tolerance: float) -> tuple[Array, Array, Any]:
    """For each cubic the ends of one or two edges, their bulges, and whether these fit.

    Of one edge both ends are the same.
    """
    import numpy as np

    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        start, end = points[:, 0], points[:, 3]
        at = np.arange(1, LOOKS) / LOOKS
        weights = np.stack(
            [(1 - at) ** 3, 3 * at * (1 - at) ** 2, 3 * at**2 * (1 - at), at**3], axis=1
        )
        seen = np.einsum("tk,nkc->ntc", weights, points)
        first, last = _directions(points)
        straight = _is_straight(points, tolerance)
        middle = seen[:, LOOKS // 2 - 1]
        one = np.tan(_turn(middle - start, end - middle) / 2.0)
        off = _off(start, end, one, seen)
        leaving = np.abs(_turn(first, end - start) - 2.0 * np.arctan(one))
        arriving = np.abs(_turn(end - start, last) - 2.0 * np.arctan(one))
        is_arc = (off.max(axis=1) <= tolerance) & (leaving < KINK) & (arriving < KINK)
        is_arc &= np.abs(one) <= 1.0
        joint, bulges, pair = _biarc(start, end, first, last, seen, tolerance)
    ends = np.stack([joint, end], axis=1)
    fits = straight | is_arc | pair
    single = straight | is_arc
    ends[single, 0] = end[single]
    bulges[single, 0] = np.where(straight, 0.0, one)[single]
    return ends, bulges, fits


def _directions(points: Array) -> tuple[Array, Array]:
    """Directions at both ends, of length 1; where a control point lies on its end, of the next."""
    import numpy as np

    def towards(steps: Iterable[Array]) -> Array:
        found = np.zeros_like(points[:, 0])
        for step in steps:
            size = np.hypot(step[:, 0], step[:, 1])
            use = (np.hypot(found[:, 0], found[:, 1]) == 0) & (size > 0)
            found[use] = step[use] / size[use, None]
        return found

    first = towards(points[:, i] - points[:, 0] for i in (1, 2, 3))
    last = towards(points[:, 3] - points[:, i] for i in (2, 1, 0))
    return first, last


def _is_straight(points: Array, tolerance: float) -> Any:
    """Whether both controls lie beside the chord, between its ends."""
    import numpy as np

    chord = points[:, 3] - points[:, 0]
    size = np.hypot(chord[:, 0], chord[:, 1])
    fine = np.ones(len(points), dtype=bool)
    for i in (1, 2):
        to = points[:, i] - points[:, 0]
        along = (to * chord).sum(axis=1) / size
        aside = np.abs(to[:, 0] * chord[:, 1] - to[:, 1] * chord[:, 0]) / size
        # A shallow curve is no line where its ends lean: the next edge would meet it in a corner.
        leaning = np.maximum(along, 0.0)
        leaning = KINK * np.minimum(leaning, size) if i == 1 else KINK * np.maximum(size - along, 0)
        fine &= (aside <= np.minimum(tolerance, leaning + 1e-12 * size)) & (along >= -tolerance)
        fine &= along <= size + tolerance
    nowhere = (size == 0) & (np.abs(points - points[:, :1]).max(axis=(1, 2)) == 0)
    return fine | nowhere


def _turn(before: Array, after: Array) -> Array:
    """Radians from one direction to another, left above 0."""
    import numpy as np

    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turned: Array = np.arctan2(cross, (before * after).sum(axis=1))
    return turned


def _off(start: Array, end: Array, bulge: Array, seen: Array) -> Array:
    """How far points lie off the circle of an arc, or off a line where it is as good as one."""
    import numpy as np

    chord = end - start
    size = np.hypot(chord[:, 0], chord[:, 1])
    to = seen - start[:, None]
    normal = np.stack([-chord[:, 1], chord[:, 0]], axis=1) / size[:, None]
    aside = (to * normal[:, None]).sum(axis=2)
    radius = size * (1.0 + bulge**2) / (4.0 * bulge)
    # |q − centre| − r without the difference of large numbers: by the power of the point.
    height = size * (1.0 - bulge**2) / (4.0 * bulge)
    centre = (start + end) / 2.0 + height[:, None] * normal
    distance = np.hypot(*np.moveaxis(seen - centre[:, None], 2, 0))
    power = (to * (seen - end[:, None])).sum(axis=2) - 2.0 * height[:, None] * aside
    round_ = np.abs(power / (distance + np.abs(radius)[:, None]))
    off: Array = np.where(np.abs(bulge[:, None]) < 1e-9, np.abs(aside), round_)
    return off


def _biarc(
    start: Array, end: Array, first: Array, last: Array, seen: Array, tolerance: float
) -> tuple[Array, Array, Any]:
    """Where the two arcs meet, their bulges, and whether they fit."""
    import numpy as np

    chord = end - start
    both = first + last
    along = (chord * both).sum(axis=1)
    square = (chord**2).sum(axis=1)
    bent = 1.0 - (first * last).sum(axis=1)
    reach = square / (along + np.sqrt(along**2 + 2.0 * bent * square))
    near, far = start + reach[:, None] * first, end - reach[:, None] * last
    joint = (near + far) / 2.0
    turns = _turn(first, joint - start), _turn(end - joint, last)
    bulges = np.stack([np.tan(turn / 2.0) for turn in turns], axis=1)
    before = ((seen - joint[:, None]) * (far - near)[:, None]).sum(axis=2) < 0
    off = np.where(
        before, _off(start, joint, bulges[:, 0], seen), _off(joint, end, bulges[:, 1], seen)
    )
    fits = np.isfinite(joint).all(axis=1) & np.isfinite(off).all(axis=1)
    fits &= (off.max(axis=1) <= tolerance) & (np.abs(bulges).max(axis=1) <= 1.0)
    return joint, bulges, fits & (reach > 0)
