"""Shapes of panels: where their corners lie and what their edges are called."""

from __future__ import annotations

import math

import pytest

from cutlayers.net.shapes import Shape, dust_flap, glue_tab, rectangle, taper_run, tuck_flap
from cutlayers.telling.errors import NetError

TAN_15 = 2 - math.sqrt(3)
"""tan 15° = 2 − √3."""

SHAPES = {
    "rectangle": rectangle(30, 20),
    "glue tab": glue_tab(30, 12, 3),
    "tuck": tuck_flap(30, 15, 8),
    "square tuck": tuck_flap(30, 15, 0),
    "tuck as wide as its corners": tuck_flap(16, 15, 8),
    "tuck as deep as its corners": tuck_flap(30, 8, 8),
    "half-round tuck": tuck_flap(16, 8, 8),
    "dust flap": dust_flap(30, 18, 6, 4, "right"),
    "dust flap the other way": dust_flap(30, 18, 6, 4, "left"),
}


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())
def test_a_shape_stands_on_its_bottom(shape: Shape) -> None:
    """Counter-clockwise, the bottom first, along the x axis, and a name for each edge."""
    width = shape.outline.bounds[2]

    assert shape.outline.area > 0
    assert shape.edges[0] == "bottom"
    assert shape.outline.segments[0].start == (0.0, 0.0)
    assert shape.outline.segments[0].end == pytest.approx((width, 0.0))
    assert len(shape.edges) == len(shape.outline.segments) == len(set(shape.edges))


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())
def test_edges_are_named_by_the_side_they_lie_on(shape: Shape) -> None:
    """The middle of "right" lies right of the middle, of "top" above it, and so on."""
    left, bottom, right, top = shape.outline.bounds
    for name, edge in zip(shape.edges, shape.outline.segments, strict=True):
        x, y = edge.point_at(0.5)
        if name.startswith("right"):
            assert x > (left + right) / 2
        elif name.startswith("left"):
            assert x < (left + right) / 2
        else:
            assert y == pytest.approx(bottom if name == "bottom" else top)


def test_taper_run_is_the_depth_times_the_tangent() -> None:
    """12 mm at 15°: 12(2 − √3) = 3.2154 mm."""
    assert taper_run(12, 15) == pytest.approx(12 * TAN_15)
    assert taper_run(12, 15) == pytest.approx(3.2154, abs=1e-4)
    assert taper_run(12, 0) == 0.0
    assert taper_run(12, 45) == pytest.approx(12)


def test_a_glue_tab_runs_in_at_both_ends() -> None:
    """30 wide, 12 deep, 3 in: a trapezium of 12 × (30 + 24)/2."""
    tab = glue_tab(30, 12, 3)

    assert tab.outline.area == 12 * 27
    assert tab.outline.segments[2].length == 24


@pytest.mark.parametrize("taper", [15.0, 20.0])
def test_a_glue_tab_refuses_a_taper_that_leaves_no_top(taper: float) -> None:
    """The most is half the width."""
    with pytest.raises(NetError, match="the most is 15 mm"):
        glue_tab(30, 12, taper)


def test_a_tuck_has_two_round_corners() -> None:
    """30 × 15 less the two corners' (1 − π/4)r² each."""
    tuck = tuck_flap(30, 15, 8)

    assert tuck.outline.area == pytest.approx(450 - 2 * 64 * (1 - math.pi / 4))
    assert [edge.radius for edge in tuck.outline.segments if edge.bulge] == pytest.approx([8, 8])


def test_a_half_round_tuck_is_half_a_disc() -> None:
    """16 wide and 8 deep with corners of 8."""
    tuck = tuck_flap(16, 8, 8)

    assert tuck.edges == ("bottom", "right-corner", "left-corner")
    assert tuck.outline.area == pytest.approx(32 * math.pi)


def test_a_tuck_a_hair_wider_than_its_corners_keeps_its_top() -> None:
    """A tenth of a micrometre is an edge like any other."""
    assert "top" in tuck_flap(100.0000001, 60, 50).edges


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_dust_flap_stands_upright_at_its_shoulder(side: str) -> None:
    """A shoulder of 6 straight up, the other side sloping over the whole depth."""
    flap = dust_flap(30, 18, 6, 4, side)  # type: ignore[arg-type]
    by_name = dict(zip(flap.edges, flap.outline.segments, strict=True))
    other = "right" if side == "left" else "left"

    assert by_name[side].length == 6
    assert by_name[side].start[0] == by_name[side].end[0]
    assert abs(by_name[other].end[0] - by_name[other].start[0]) == 4
    assert by_name[other].length == pytest.approx(math.hypot(4, 18))
    assert by_name["top"].length == 22


@pytest.mark.parametrize(("shoulder", "slope"), [(18.0, 4.0), (6.0, 15.0)])
def test_a_dust_flap_refuses_what_it_has_no_room_for(shoulder: float, slope: float) -> None:
    """A shoulder as tall as the flap, slopes that meet."""
    with pytest.raises(NetError, match="has no room"):
        dust_flap(30, 18, shoulder, slope, "left")


def test_a_lock_slit_has_the_width_that_it_is_given() -> None:
    """30 × 15 with slits of 6 × 0.5: the crease keeps 18, and 2 · 6 · 0.5 = 6 mm² are gone."""
    tuck = tuck_flap(30, 15, 0, slit=6, gap=0.5)
    names = dict(zip(tuck.edges, tuck.outline.segments, strict=True))

    assert names["bottom"].length == pytest.approx(18)
    assert names["right-bite"].length == names["left-bite"].length == pytest.approx(0.5)
    assert names["right-slit"].length == names["left-slit"].length == pytest.approx(6)
    assert names["right"].length == names["left"].length == pytest.approx(14.5)
    assert tuck.outline.area == pytest.approx(30 * 15 - 6)


def test_a_lock_slit_does_not_reach_round_the_corner() -> None:
    with pytest.raises(NetError, match="leave no sides"):
        tuck_flap(30, 8, 7.5, slit=6, gap=0.5)


def test_a_tab_keeps_a_gap_that_a_knife_turns_in() -> None:
    """Asked to keep 0.2 mm off, it keeps 0.5; asked for 1.5, it keeps as much; for none, none."""
    for clear, kept in ((0.2, 0.5), (1.5, 1.5), (0.0, 0.0)):
        assert glue_tab(40, 10, 3, clear=clear).outline.bounds == pytest.approx(
            (kept, 0, 40 - kept, 10)
        )
