"""Crease patterns as the FOLD format's examples have them fold up and close, to a millionth of
their size.

Source: the FOLD format, edition 1.2 (E. D. Demaine, J. S. Ku, R. J. Lang), from memory, in which a
mountain's angle is below 0; the patterns are the usual ones of paper folding. What closes is told
here apart from the code: turns about the creases round a corner add up to none.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from cutlayers.bringing.angles import FoldUp, fold_up
from cutlayers.bringing.cleaning import clean
from cutlayers.bringing.files import drawing_of
from cutlayers.bringing.kinds import meant
from cutlayers.bringing.panels import flat_nets
from cutlayers.bringing.rules import Rules
from cutlayers.bringing.scale import scaled
from cutlayers.geometry.transforms import Point

SIDE = 100.0

CLOSED = 1e-6
"""Of the pattern's size."""

Creases = Mapping[tuple[Point, Point], tuple[str, float | None]]
"""From where to where, with the mark and the angle of FOLD."""


def fold_file(creases: Creases, border: Sequence[Point]) -> bytes:
    """A crease pattern in mm; the points of its border are in order."""
    points = list(dict.fromkeys([*border, *(point for pair in creases for point in pair)]))
    at = points.index
    rim = [(at(one), at(other)) for one, other in pairwise([*border, border[0]])]
    table = {
        "file_spec": 1.2,
        "file_classes": ["singleModel"],
        "frame_classes": ["creasePattern"],
        "frame_unit": "mm",
        "vertices_coords": points,
        "edges_vertices": [*rim, *((at(one), at(other)) for one, other in creases)],
        "edges_assignment": ["B"] * len(rim) + [mark for mark, _ in creases.values()],
        "edges_foldAngle": [0.0] * len(rim) + [angle for _, angle in creases.values()],
    }
    return json.dumps(table).encode()


def folded(creases: Creases, border: Sequence[Point]) -> FoldUp:
    drawing = drawing_of(fold_file(creases, border))
    assert drawing.scale is not None
    drawing = scaled(drawing, drawing.scale)
    (net,) = flat_nets(clean(meant(drawing, Rules())).edges)
    found = fold_up(net)
    assert found is not None
    return found


def square(half: float) -> list[Point]:
    return [(-half, -half), (half, -half), (half, half), (-half, half)]


def outward(found: FoldUp, point: Point) -> list[tuple[float, float]]:
    """The directions in which creases leave a point, in radians, in order, with their angles."""
    leaving = []
    for hinge in found.net.hinges:
        for near, far in ((hinge.edge.start, hinge.edge.end), (hinge.edge.end, hinge.edge.start)):
            if math.dist(near, point) < 1e-6:
                way = math.atan2(far[1] - near[1], far[0] - near[0])
                leaving.append((way, math.radians(hinge.fold_deg)))
    return sorted(leaving)


def left_over(creases: Sequence[tuple[float, float]]) -> float:
    """How far the turns about all creases round a point are from none, in radians: each turns what
    lies beyond it, all written as they lie on the sheet (T. Kawasaki, "R(γ) = 1", 1997)."""
    whole = np.eye(3)
    for way, angle in creases:
        whole = whole @ about((math.cos(way), math.sin(way), 0.0), angle)
    return float(np.abs(whole - np.eye(3)).max())


def about(axis: Sequence[float], angle: float) -> NDArray[np.float64]:
    """The turn about an axis (O. Rodrigues, 1840)."""
    x, y, z = axis
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    turn: NDArray[np.float64] = (
        np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * cross @ cross
    )
    return turn


def test_a_square_folded_along_its_diagonal() -> None:
    """One crease: by as much as the file says, a valley."""
    corners = square(SIDE / 2)
    found = folded({(corners[0], corners[2]): ("V", 90.0)}, corners)

    assert [hinge.fold_deg for hinge in found.net.hinges] == [-90.0]
    assert found.outside == "behind"


LEAN = math.radians(60.0)
"""Between the straight creases of a Miura-ori and the slanting ones."""


def miura(sides_deg: float, *, told: bool) -> Creases:
    """One corner of a Miura-ori: a straight line of creases, and two slanting ones alike.

    Opposite creases turn alike in size, and tan(γ straight / 2) = cos φ · tan(γ slanting / 2) for
    the angle φ between them (D. Huffman, "Curvature and creases", 1976; T. Tachi, "Generalization
    of rigid-foldable quadrilateral-mesh origami", 2009).
    """
    straight = 2 * math.degrees(math.atan(math.cos(LEAN) * math.tan(math.radians(sides_deg) / 2)))
    half = SIDE / 2
    across = half / math.tan(LEAN)
    return {
        ((0.0, 0.0), (across, half)): ("M", -sides_deg),
        ((0.0, 0.0), (across, -half)): ("M", -sides_deg if told else None),
        ((0.0, 0.0), (half, 0.0)): ("V", straight if told else None),
        ((0.0, 0.0), (-half, 0.0)): ("M", -straight if told else None),
    }


RIM = [
    (-SIDE / 2, -SIDE / 2),
    (SIDE / 2 / math.tan(LEAN), -SIDE / 2),
    (SIDE / 2, -SIDE / 2),
    (SIDE / 2, 0.0),
    (SIDE / 2, SIDE / 2),
    (SIDE / 2 / math.tan(LEAN), SIDE / 2),
    (-SIDE / 2, SIDE / 2),
    (-SIDE / 2, 0.0),
]


@pytest.mark.parametrize("sides_deg", [20.0, 70.0, 110.0, 160.0])
def test_a_corner_of_a_miura_ori_closes(sides_deg: float) -> None:
    """All of its angles given by the published relation."""
    found = folded(miura(sides_deg, told=True), RIM)

    assert left_over(outward(found, (0.0, 0.0))) < CLOSED
    assert found.gap < CLOSED * SIDE


@pytest.mark.parametrize("sides_deg", [20.0, 70.0, 110.0])
def test_one_angle_of_a_miura_ori_says_the_others(sides_deg: float) -> None:
    """The file gives one, and which way the others fold: they come as the relation has them."""
    found = folded(miura(sides_deg, told=False), RIM)

    wanted = sorted(-angle for _, angle in miura(sides_deg, told=True).values() if angle)
    assert sorted(hinge.fold_deg for hinge in found.net.hinges) == pytest.approx(wanted, abs=1e-4)
    assert left_over(outward(found, (0.0, 0.0))) < CLOSED
    assert found.gap < CLOSED * SIDE
    assert found.doubtful == ()


def test_a_waterbomb_base_folds_flat() -> None:
    """Four mountains along the diagonals and two valleys across: all folded right over."""
    half = SIDE / 2
    centre = (0.0, 0.0)
    creases: dict[tuple[Point, Point], tuple[str, float | None]] = {
        (centre, corner): ("M", -180.0) for corner in square(half)
    }
    creases |= {(centre, end): ("V", 180.0) for end in ((half, 0.0), (-half, 0.0))}
    (a, b, c, d) = square(half)

    found = folded(creases, [a, b, (half, 0.0), c, d, (-half, 0.0)])

    assert left_over(outward(found, centre)) < CLOSED
    assert found.gap < CLOSED * SIDE


def test_a_square_twist_folds_flat() -> None:
    """A square that turns by 90° between four pleats; each corner has angles of 90, 45, 90 and
    135°, of which opposite ones add up to 180° (T. Kawasaki), and the creases on both sides of the
    smallest one fold against each other."""
    arm, far = SIDE / 6, SIDE / 2
    creases: dict[tuple[Point, Point], tuple[str, float | None]] = {}
    rim: list[Point] = []
    for quarter in range(4):
        cos, sin = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarter]

        def at(x: float, y: float, cos: int = cos, sin: int = sin) -> Point:
            return x * cos - y * sin, x * sin + y * cos

        creases[at(arm, 0.0), at(0.0, arm)] = ("M", -180.0)
        creases[at(arm, 0.0), at(arm, -far)] = ("V", 180.0)
        creases[at(arm, 0.0), at(far, 0.0)] = ("M", -180.0)
        rim += [at(far, -far), at(far, 0.0), at(far, arm)]

    found = folded(creases, rim)

    for corner in ((arm, 0.0), (0.0, arm), (-arm, 0.0), (0.0, -arm)):
        assert len(outward(found, corner)) == 4
        assert left_over(outward(found, corner)) < CLOSED
    assert found.gap < CLOSED * SIDE
