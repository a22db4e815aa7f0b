"""How deep folded panels share room, against cases worked by hand and another way to reckon."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from scipy.spatial import ConvexHull, QhullError

from cutlayers.geometry.paths import Path
from cutlayers.net import Feature, Net, Role, Stand, Work
from cutlayers.net.assembly import Assembly
from cutlayers.net.shapes import polygon, rectangle
from cutlayers.net.slabs import Plate, depth, plates, shared_room, slid
from tests.net.standing import standing

CALIPER = 0.8


def plate(name: str, wide: float, tall: float, stand: Stand) -> Net:
    """One panel by itself, upright."""
    return replace(Net.start(name, name, rectangle(wide, tall)), stand=stand)


def depths(box: Assembly, caliper: float = CALIPER) -> dict[frozenset[str], float]:
    """Depth of each pair of panels that share room."""
    calipers = {folded.net.name: caliper for folded in box.boxes}
    return {frozenset((r.one.name, r.other.name)): r.depth for r in shared_room(box, calipers)}


@pytest.mark.parametrize("apart", [0.0, 0.2, 0.4, 0.79])
def test_parallel_plates_share_what_their_distance_leaves_of_a_caliper(apart: float) -> None:
    """Worked by hand: two slabs of 0.8 mm whose mid-surfaces are d apart share 0.8 − d."""
    box = standing([
        plate("one", 40, 30, Stand("one")),
        plate("other", 20, 20, Stand("other", at=(3.0, apart), lift=4.0)),
    ])  # fmt: skip

    assert depths(box) == pytest.approx({frozenset(("one", "other")): CALIPER - apart})


@pytest.mark.parametrize("apart", [0.8, 0.9, 5.0])
def test_plates_a_caliper_apart_lie_face_to_face_and_share_nothing(apart: float) -> None:
    box = standing([
        plate("one", 40, 30, Stand("one")),
        plate("other", 20, 20, Stand("other", at=(3.0, apart))),
    ])  # fmt: skip

    assert depths(box) == {}


@pytest.mark.parametrize(("far", "expected"), [(5.0, 0.0), (10.0, 0.8), (20.0, 10.8)])
def test_a_plate_that_slides_meets_what_stands_on_its_way(far: float, expected: float) -> None:
    """Worked by hand: one of 0.8 mm that slides square to itself towards another 10 mm before it
    fills −0.4 to far + 0.4; the other stands at 9.6 to 10.4, clear of where the longest ends."""
    box = standing([
        plate("one", 40, 30, Stand("one")),
        plate("other", 20, 20, Stand("other", at=(3.0, 10.0), lift=4.0)),
    ])  # fmt: skip
    (one,), (other,) = (plates(face, face.shape, CALIPER) for face in box.faces)

    assert depth(one, other) == 0.0
    assert depth(slid(one, (0.0, 1.0, 0.0), far), other) == pytest.approx(expected)


@pytest.mark.parametrize(("beyond", "expected"), [(6.0, 6.4), (0.3, 0.7), (-0.1, 0.3)])
def test_a_plate_through_another_is_as_deep_as_its_shorter_end_stands_out(
    beyond: float, expected: float
) -> None:
    """Worked by hand: 40 mm of plate at right angles through another, its end `beyond` the other's
    mid-surface, must go back by that and half a caliper."""
    middle = 20.0 - beyond
    box = standing([
        plate("one", 60, 60, Stand("one")),
        plate("other", 40, 30, Stand("other", at=(0.0, middle), turn_deg=90.0, lift=10.0)),
    ])  # fmt: skip

    assert depths(box) == pytest.approx({frozenset(("one", "other")): expected})


@pytest.mark.parametrize(("wide", "shares"), [(1.0, False), (0.7, True)])
def test_a_plate_goes_through_a_slot_that_is_wider_than_its_card(wide: float, shares: bool) -> None:
    """0.8 mm of card through a slot of 1.0 mm, and through one of 0.7 mm."""
    slot = Feature(Work.WINDOW, Path.rectangle(wide, 40, (30 - wide / 2, 5)), "slot")
    sheet = plate("one", 60, 60, Stand("one")).work("one", slot)
    through = plate("other", 40, 30, Stand("other", turn_deg=90.0, lift=10.0))

    assert bool(depths(standing([sheet, through]))) is shares


def test_plates_in_one_plane_share_no_more_than_they_overlap_there() -> None:
    """Worked by hand: an overlap of 0.3 mm is got out of sideways sooner than by 0.8 mm of card."""
    box = standing([
        plate("one", 40, 30, Stand("one")),
        plate("other", 40, 30, Stand("other", at=(39.7, 0.0))),
    ])  # fmt: skip

    assert depths(box) == pytest.approx({frozenset(("one", "other")): 0.3})


def folded_over(strip: float) -> Assembly:
    """A strip folded right over: on one line, or round two creases `strip` mm apart."""
    net = Net.start("net", "one", rectangle(50, 20))
    if not strip:
        net = net.attach("other", rectangle(50, 20), to="one.top", role=Role.WALL, fold_deg=180)
    else:
        net = net.attach("turn", rectangle(50, strip), to="one.top", role=Role.WALL)
        net = net.attach("other", rectangle(50, 20), to="turn.top", role=Role.WALL)
    return standing([net])


def test_a_strip_folded_over_on_one_line_lies_in_itself_and_round_two_creases_on_itself() -> None:
    """Worked by hand: on a line both halves are in one plane; two creases a caliper apart lay them
    face to face, and two half a caliper apart leave half a caliper."""
    pair = frozenset(("one", "other"))

    assert depths(folded_over(0.0)) == pytest.approx({pair: CALIPER})
    assert depths(folded_over(CALIPER)) == {}
    assert depths(folded_over(CALIPER / 2)) == pytest.approx({pair: CALIPER / 2})


@pytest.mark.parametrize(("turned_deg", "shares"), [(90, False), (120, False), (140, True)])
def test_what_lies_within_a_caliper_of_a_hinge_is_no_fault(turned_deg: float, shares: bool) -> None:
    """Worked by hand: faces of panels folded by φ meet t/2 · tan(φ/2) from their hinge, which is
    half a caliper at 90° and 1.37 calipers at 140°: past the crease zone."""
    net = Net.start("net", "one", rectangle(50, 20))
    net = net.attach("other", rectangle(50, 20), to="one.top", role=Role.WALL, fold_deg=turned_deg)

    assert bool(depths(standing([net]))) is shares
    assert (math.tan(math.radians(turned_deg / 2)) > 2) is shares


def test_panels_that_meet_in_a_corner_without_a_hinge_have_no_crease_zone() -> None:
    """Worked by hand: two walls of a tray meet at their mid-surfaces, so each must go back by half
    a caliper."""
    net = Net.start("net", "base", rectangle(50, 40))
    for wall, edge, wide in (("front", "bottom", 50), ("side", "right", 40)):
        net = net.attach(wall, rectangle(wide, 20), to=f"base.{edge}", role=Role.WALL)

    found = depths(standing([net]))

    assert found == pytest.approx({frozenset(("front", "side")): CALIPER / 2})


def test_a_hollow_panel_shares_nothing_where_it_is_hollow() -> None:
    """A plate through the notch of an L is clear of it, though not of the L's hull."""
    corner = polygon((0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60))
    net = replace(Net.start("one", "one", corner), stand=Stand("one"))
    through = Stand("other", at=(10.0, 0.0), turn_deg=90.0, lift=30.0)

    assert depths(standing([net, plate("other", 40, 20, through)])) == {}


def test_card_without_thickness_shares_nothing() -> None:
    assert depths(folded_over(0.0), 0.0) == {}


def any_plates() -> st.SearchStrategy[tuple[Plate, Plate]]:
    """Two slabs of panels with three to eight corners on a circle, turned and moved at random."""
    angles = st.lists(
        st.integers(0, 71).map(lambda step: step * math.pi / 36),
        min_size=3,
        max_size=8,
        unique=True,
    )
    return st.builds(
        _two,
        angles,
        angles,
        st.floats(0, 180),
        st.tuples(*[st.floats(-15, 15)] * 2),
        st.floats(-15, 15),
        st.floats(20, 160),
        st.floats(0.1, 3.0),
    )


def _two(
    ones: list[float],
    others: list[float],
    turn_deg: float,
    at: tuple[float, float],
    lift: float,
    lean_deg: float,
    caliper: float,
) -> tuple[Plate, Plate]:
    made = []
    for name, angles in (("one", ones), ("other", others)):
        corners = [(10 * math.cos(a) + 0.0, 10 * math.sin(a)) for a in sorted(angles)]
        net = Net.start(name, name, polygon(*corners))
        if name == "other":
            net = Net.start(name, "foot", rectangle(20, 5))
            net = net.attach(
                name, polygon(*corners), to="foot.top", role=Role.WALL, fold_deg=lean_deg
            )
        stand = Stand(net.root.name, at=at, lift=lift, turn_deg=turn_deg)
        made.append(replace(net, stand=stand if name == "other" else Stand(net.root.name)))
    faces = {face.name: face for face in standing(made).faces}
    one, other = (plates(faces[name], faces[name].shape, caliper) for name in ("one", "other"))
    return one[0], other[0]


@settings(max_examples=100)
@given(any_plates())
def test_the_depth_is_that_of_the_hull_of_all_differences(pair: tuple[Plate, Plate]) -> None:
    """Source: two convex bodies meet where the origin lies in their Minkowski difference, and its
    distance from the border is the depth (S. Cameron and R. Culley, "Determining the minimum
    translational distance between two convex polyhedra", ICRA 1986); the hull is qhull's."""
    one, other = pair
    differences = (one.corners[:, None, :] - other.corners[None, :, :]).reshape(-1, 3)
    try:
        offsets = ConvexHull(differences).equations[:, 3]
    except QhullError:  # a plate of no area
        return

    assert depth(one, other) == pytest.approx(max(0.0, float((-offsets).min())), abs=1e-6)


@settings(max_examples=50)
@given(any_plates())
def test_plates_share_room_where_a_point_lies_in_both(pair: tuple[Plate, Plate]) -> None:
    """A linear programme looks for the point that is deepest inside of all faces of both; as deep
    as that, doubled, is the least that they share."""
    rows: list[np.ndarray] = []
    bounds: list[float] = []
    for each in pair:
        for normal in np.concatenate([each.normals, -each.normals]):
            rows.append(np.append(normal, 1.0))
            bounds.append(float((each.corners @ normal).max()))
    answer = linprog([0, 0, 0, -1], rows, bounds, bounds=[(None, None)] * 4)
    assert answer.fun is not None
    inside = -float(answer.fun)

    found = depth(*pair)

    assert (found > 1e-6) is (inside > 1e-6) or abs(inside) < 1e-5
    assert found >= 2 * max(0.0, inside) - 1e-6
