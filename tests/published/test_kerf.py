"""The kerf against Steiner's formula, hand-worked rings, and the beam that shapely sweeps."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from cutlayers.geometry.offsetting import offset
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part
from cutlayers.geometry.transforms import turn_between
from cutlayers.toolpaths.kerf import take_up_kerf
from tests.toolpaths.shapes import ROUND, STYLE_LINES, contours, cut, line, polygon

TRIANGLE = Path.polygon([(0, 0), (60, 0), (30, 30 * math.sqrt(3))])
L_SHAPE = Path.polygon([(0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60)])


@pytest.mark.parametrize(
    ("path", "radius", "area", "length"),
    [
        (Path.rectangle(100, 100), 5.0, 12078.539816, 431.415927),
        (Path.rectangle(100, 100), 0.1, 10040.031416, 400.628319),
        (TRIANGLE, 5.0, 2537.385543, 180 + 10 * math.pi),
    ],
)
def test_parallel_bodies(path: Path, radius: float, area: float, length: float) -> None:
    """Steiner's formula for convex bodies: A + P·r + π·r² and P + 2π·r (R. Schneider, Convex
    Bodies: The Brunn-Minkowski Theory; L. Santaló, Integral Geometry)."""
    moved = offset(path, radius)

    assert moved.area == pytest.approx(area, rel=1e-6)
    assert moved.length == pytest.approx(length, rel=1e-6)


@pytest.mark.parametrize(("distance", "area"), [(2.0, 2491.707963), (-2.0, 1536.858407)])
def test_an_l_shape_counted_corner_by_corner(distance: float, area: float) -> None:
    """Out: A + P·r + 5·πr²/4 − r². In: A − P·r + 5·r² − πr²/4. By hand, A 2000 and P 240."""
    assert offset(L_SHAPE, distance).area == pytest.approx(area, rel=1e-6)


def test_a_disc_grows_and_a_hole_shrinks_by_half_a_kerf() -> None:
    """Kerf 0.2: a disc of 50 is cut at radius 25.1, a hole of 20 at radius 9.9; the lengths of
    the cuts are 2π times that: 157.707951 and 62.203535. By hand."""
    disc = cut(Path.circle((0, 0), 25))
    hole = cut(Path.circle((0, 0), 10).reversed(), Part.OPENING)

    (outer, inner), findings = take_up_kerf([disc, hole], 0.2)

    assert outer.path.length == pytest.approx(157.707951, rel=1e-6)
    assert inner.path.length == pytest.approx(62.203535, rel=1e-6)
    assert findings == ()


def test_without_it_a_plate_is_small_and_its_hole_large() -> None:
    """What a kerf of 0.2 does to nominal lines: 100 × 60 measures 99.8 × 59.8, and a hole of 20
    measures 20.2. So the sweep below can tell right from wrong."""
    plate, hole = Path.rectangle(100, 60), Path.circle((50, 30), 10)
    left = polygon(plate).difference(polygon(hole))
    left = left.difference(line(plate).buffer(0.1, quad_segs=ROUND))
    left = left.difference(line(hole).buffer(0.1, quad_segs=ROUND))

    left_edge, bottom, right, top = left.bounds
    assert (right - left_edge, top - bottom) == pytest.approx((99.8, 59.8))
    assert left.area == pytest.approx(99.8 * 59.8 - math.pi * 10.1**2, abs=1e-2)


def _piece_left_by_the_beam(
    nominal: BaseGeometry, beam_paths: list[Path], kerf: float
) -> BaseGeometry:
    """Take the swept beam out of a sheet, and return the card that lies where the piece should."""
    sheet = shapely.box(*nominal.buffer(4 * kerf + 5).bounds)
    swept = shapely.union_all([line(path).buffer(kerf / 2, quad_segs=ROUND) for path in beam_paths])
    inside = nominal.representative_point()
    for card in shapely.get_parts(sheet.difference(swept)):
        if card.contains(inside):
            assert isinstance(card, BaseGeometry)
            return card
    raise AssertionError("no card is left where the piece should be")


def _inner_corners(path: Path, kerf: float) -> BaseGeometry:
    """Discs about the corners that a round beam cannot fill, as large as what it leaves there:
    the beam's radius, from the corner to where it touches both edges."""
    discs: list[BaseGeometry] = [shapely.Point()]
    edges = path.segments
    for here, following in zip(edges, (*edges[1:], edges[0]), strict=True):
        turn = turn_between(here.direction_at(1.0), following.direction_at(0.0))
        if turn < 0:
            # Edges that bend apart or together touch the disc a little off the straight ones.
            reach = 1.5 * kerf / 2 / math.tan((math.pi + turn) / 2) + kerf / 10
            discs.append(shapely.Point(here.end).buffer(reach))
    return shapely.union_all(discs)


@given(contours(), st.sampled_from([0.1, 0.2, 0.5]))
@settings(max_examples=50, deadline=None)
def test_the_swept_beam_leaves_the_nominal_piece(path: Path, kerf: float) -> None:
    """Card, less the disc that runs along our path, is the piece: exact but for inner corners."""
    moved, findings = take_up_kerf([cut(path)], kerf)
    assume(not findings)
    nominal = polygon(path)

    left = _piece_left_by_the_beam(nominal, [each.path for each in moved], kerf)

    # A thousandth of a millimetre all along is what the chords for arcs may cost.
    assert nominal.difference(left).area < 1e-3 * path.length
    beside = left.difference(nominal).difference(_inner_corners(path, kerf))
    assert beside.area < 1e-3 * path.length
    # All that a disc cannot reach from outside: the closing of the piece by the disc.
    closing = nominal.buffer(kerf / 2, quad_segs=ROUND).buffer(-kerf / 2, quad_segs=ROUND)
    assert left.symmetric_difference(closing).area < 1e-3 * path.length


NOTCHED = Path(((92.5, 113.0), (92.5, 87.0), (115.0, 100.0)), (0.0, -0.125, -0.125), closed=True)
"""An opening so sharp at one corner that the beam goes into it by a way of its own, which encloses
nothing."""


@given(contours(), st.sampled_from([0.1, 0.2, 0.5]))
@example(NOTCHED, 0.2)
@settings(max_examples=30, deadline=None)
def test_the_swept_beam_opens_the_nominal_window(path: Path, kerf: float) -> None:
    """The same for an opening, in whose own corners the beam's radius remains."""
    moved, findings = take_up_kerf([cut(path.reversed(), Part.OPENING)], kerf)
    assume(not findings)
    nominal = polygon(path)
    swept = shapely.union_all(
        [line(each.path).buffer(kerf / 2, quad_segs=ROUND) for each in moved]
        + [polygon(each.path) for each in moved if each.path.closed]
    )

    assert swept.difference(nominal).area < 1e-3 * path.length
    missed = nominal.difference(swept).difference(_inner_corners(path.reversed(), kerf))
    assert missed.area < 1e-3 * path.length


@pytest.mark.parametrize("name", sorted(STYLE_LINES))
def test_every_style_keeps_its_size(name: str) -> None:
    """Each piece of every style, with its holes, comes out of a beam of 0.2 mm as it was drawn."""
    cuts = [stroke for stroke in STYLE_LINES[name] if stroke.operation is Operation.CUT]
    moved, findings = take_up_kerf(cuts, 0.2)
    nominal: BaseGeometry = shapely.Polygon()
    for stroke in cuts:
        if stroke.part is Part.OUTLINE:
            nominal = nominal.union(polygon(stroke.path))
    for stroke in cuts:
        if stroke.part is Part.OPENING:
            nominal = nominal.difference(polygon(stroke.path))
    for stroke in cuts:
        if stroke.part is Part.SLIT:
            # Slits stay where they are, take half a kerf from each side, and are no longer than
            # drawn: 0.1 mm before an end the beam is as wide as the kerf, and round from there on.
            nominal = nominal.difference(line(stroke.path).buffer(0.1, cap_style="flat"))
    left = _piece_left_by_the_beam(nominal, [each.path for each in moved], 0.2)
    corners = shapely.union_all(
        [_inner_corners(stroke.path, 0.2) for stroke in cuts]
        + [
            shapely.Point(end).buffer(0.15)
            for stroke in cuts
            if stroke.part is Part.SLIT
            for end in (stroke.path.start, stroke.path.end)
        ]
    )
    length = sum(stroke.path.length for stroke in cuts)

    assert [finding for finding in findings if finding.code == "narrower-than-kerf"] == []
    assert nominal.difference(left).area < 1e-4 * length
    assert left.difference(nominal).difference(corners).area < 1e-4 * length
