"""Folds round one point, against the published conditions for rigid and flat folding."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.net import Hinge, Net, Panel, Role
from cutlayers.net.folding import Closure, fold
from cutlayers.net.shapes import rectangle

RADIUS = 10.0
EXACT = 1e-9


def fan(sectors_deg: Sequence[float], folds_deg: Sequence[float]) -> Net:
    """Triangles round the origin; fold i lies before sector i. One hinge is left over."""
    angles = [math.radians(sum(sectors_deg[:i])) for i in range(len(sectors_deg) + 1)]
    rim = [(RADIUS * math.cos(angle), RADIUS * math.sin(angle)) for angle in angles[:-1]]
    count = len(sectors_deg)
    panels = tuple(
        Panel(
            f"sector {i}",
            Role.WALL,
            Path.polygon([(0.0, 0.0), rim[i], rim[(i + 1) % count]]),
            ("before", "rim", "after"),
        )
        for i in range(count)
    )
    # A ray seen from the vertex has the sector that follows it on its left.
    hinges = tuple(
        Hinge(f"sector {i}", f"sector {(i - 1) % count}", Segment((0, 0), rim[i]), turn)
        for i, turn in enumerate(folds_deg)
    )
    return Net("fan", panels, hinges)


def closing(sectors_deg: Sequence[float], folds_deg: Sequence[float]) -> Closure:
    """The one hinge that is left over."""
    (closure,) = fold(fan(sectors_deg, folds_deg)).closures
    return closure


def loop_angle_deg(sectors_deg: Sequence[float], folds_deg: Sequence[float]) -> float:
    """The angle of ∏ Rz(α)·Rx(ρ) round a vertex: 0 where the product is the identity.

    Source: belcastro and Hull, Linear Algebra and its Applications 348 (2002) 273-282.
    """
    product = np.eye(3)
    for sector, turn in zip(np.radians(sectors_deg), np.radians(folds_deg), strict=True):
        ca, sa, cr, sr = np.cos(sector), np.sin(sector), np.cos(turn), np.sin(turn)
        about_z = np.array([[ca, -sa, 0], [sa, ca, 0], [0, 0, 1]])
        about_x = np.array([[1, 0, 0], [0, cr, -sr], [0, sr, cr]])
        product = product @ about_z @ about_x
    return math.degrees(math.acos(min(1.0, max(-1.0, (np.trace(product) - 1) / 2))))


def miura(turn_deg: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Sectors 60, 60, 120, 120 with tan(x/2) = tan(r/2)/cos 60° (Huffman 1976)."""
    x = 2 * math.degrees(math.atan(math.tan(math.radians(turn_deg) / 2) / math.cos(math.pi / 3)))
    return (60, 60, 120, 120), (turn_deg, -x, -turn_deg, -x)


@pytest.mark.parametrize(("turn_deg", "other_deg"), [(60, 98.213211), (90, 126.869898)])
def test_a_miura_vertex_closes(turn_deg: float, other_deg: float) -> None:
    """The folds that the half-angle formula gives close the loop, gap and angle alike."""
    sectors, folds = miura(turn_deg)
    # The formula names the fold after each sector, the fan the one before it.
    shifted = (folds[-1], *folds[:-1])

    assert abs(folds[1]) == pytest.approx(other_deg, abs=1e-6)
    assert loop_angle_deg(sectors, folds) == pytest.approx(0, abs=1e-5)
    closure = closing(sectors, shifted)
    assert closure.gap == pytest.approx(0, abs=EXACT)
    assert closure.angle_deg == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    "folds_for",
    [
        lambda x, r: (x, r, x, -r),
        lambda x, r: (r, x, -r, x),
    ],
    ids=["first mode", "second mode"],
)
@pytest.mark.parametrize("turn_deg", [10.0, 60.0, 120.0, 179.0])
def test_a_flat_foldable_vertex_of_four_creases_closes_at_every_angle(
    folds_for: object, turn_deg: float
) -> None:
    """Sectors a, b, 180 − a, 180 − b keep closing as they fold, and where the product of the
    rotations is the identity, so does the net. Source: Huffman 1976; Tachi 2009."""
    a, b = 50.0, 80.0
    sectors = (a, b, 180 - a, 180 - b)
    r = math.radians(turn_deg) / 2
    candidates = [
        math.sin(math.radians(a + b) / 2) / math.sin(math.radians(a - b) / 2),
        math.cos(math.radians(a - b) / 2) / math.cos(math.radians(a + b) / 2),
    ]
    closed = 0
    for ratio in candidates:
        for sign in (1, -1):
            x = 2 * math.degrees(math.atan(sign * ratio * math.tan(r)))
            folds = folds_for(x, turn_deg)  # type: ignore[operator]
            identity = loop_angle_deg(sectors, folds) < 1e-5
            closure = closing(sectors, (folds[-1], *folds[:-1]))
            meets = closure.gap < 1e-6 and closure.angle_deg < 1e-5
            assert meets == identity
            closed += identity
    assert closed >= 1


def test_four_creases_have_three_of_one_kind() -> None:
    """Mountains less valleys are ±2: with two of each no angle but 0 closes the vertex.

    Source: the theorem of Maekawa and Justin (Hull, "The combinatorics of flat folds").
    """
    sectors, folds = miura(90)
    signs = [math.copysign(1, each) for each in folds]
    assert abs(sum(signs)) == 2

    for equal in ((90, 90, -90, -90), (90, -90, 90, -90)):
        closure = closing(sectors, equal)
        assert closure.gap > 1 or closure.angle_deg > 1


@pytest.mark.parametrize(
    ("sectors_deg", "rest_deg"),
    [
        ((45, 45, 90, 45, 45, 90), 0),
        ((60, 120, 120, 60), 0),
        ((120, 60, 60, 120), 0),
        ((90, 45, 22.5, 22.5, 45, 90, 22.5, 22.5), 0),
        ((100, 80, 70, 110), 20),
    ],
)
def test_a_vertex_folds_flat_where_alternate_sectors_sum_to_180(
    sectors_deg: tuple[float, ...], rest_deg: float
) -> None:
    """Folded right over, the loop misses by the alternating sum of its sectors.

    Source: the theorem of Kawasaki and Justin (Hull, arXiv 1307.1065); a point at distance R is
    left apart by the chord 2R·sin(rest/2).
    """
    assert abs(sum(sectors_deg[::2]) - sum(sectors_deg[1::2])) == rest_deg

    closure = closing(sectors_deg, [180.0] * len(sectors_deg))

    apart = 2 * RADIUS * math.sin(math.radians(rest_deg) / 2)
    assert closure.gap == pytest.approx(apart, abs=EXACT)


@pytest.mark.parametrize(("turn_deg", "rest_deg"), [(90, 0), (91, 1)])
def test_the_corner_of_a_cube(turn_deg: float, rest_deg: float) -> None:
    """Three right angles folded by 90° each close; with one fold of 91° the two edges that are
    to meet stand 1° apart, and so does the product of the rotations."""
    square = rectangle(10, 10)
    net = Net.start("corner", "base", square)
    net = net.attach("side", square, to="base.right", role=Role.WALL, fold_deg=turn_deg)
    net = net.attach("back", square, to="base.top", role=Role.WALL, fold_deg=90)
    folded = fold(net)
    corner = (10.0, 10.0)
    one, other = (
        np.subtract(folded.place(panel, end), folded.place(panel, corner))
        for panel, end in (("side", (20.0, 10.0)), ("back", (10.0, 20.0)))
    )

    between = math.degrees(math.acos(min(1.0, float(one @ other) / 100)))
    assert between == pytest.approx(rest_deg, abs=1e-6)
    assert loop_angle_deg((90, 90, 90), (90, 90, turn_deg)) == pytest.approx(rest_deg, abs=1e-6)


def test_a_fan_is_folded_whichever_sector_keeps_still() -> None:
    """Closure does not depend on the root."""
    sectors, folds = miura(60)
    net = fan(sectors, (folds[-1], *folds[:-1]))
    for index in range(4):
        rolled = replace(net, panels=net.panels[index:] + net.panels[:index])
        assert fold(rolled).closure_error == pytest.approx(0, abs=EXACT)
