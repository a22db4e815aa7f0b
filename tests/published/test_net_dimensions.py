"""Sizes of flat nets against numbers worked out by hand, with the rule beside each."""

from __future__ import annotations

import math

import pytest

from cutlayers.construction.card import Card, Measure
from cutlayers.construction.styles import gable_carton, tray, tuck_carton
from cutlayers.construction.styles.gable_carton import GableCarton
from cutlayers.construction.styles.tray import Tray
from cutlayers.construction.styles.tuck_carton import TuckCarton
from cutlayers.geometry.strokes import Part
from cutlayers.net import Net, Work, linework

SIN_45 = math.sqrt(0.5)


def blank(net: Net) -> tuple[float, float]:
    """Width and height of the flat piece."""
    left, bottom, right, top = net.bounds
    return right - left, top - bottom


def size(net: Net, panel: str) -> tuple[float, float]:
    """Width and height of one panel on the flat piece."""
    left, bottom, right, top = net.panel(panel).outline.bounds
    return right - left, top - bottom


@pytest.mark.parametrize(("sheet", "scored_at"), [(200.0, 50.0), (304.8, 63.5), (120.0, 25.0)])
def test_a_square_sheet_scored_at_h_makes_a_base_of_sheet_less_2h(
    sheet: float, scored_at: float
) -> None:
    """Paper folder's rule: a score at h from each edge leaves sheet − 2h for the base.

    304.8 and 63.5 mm are a 12 in sheet scored at 2 1/2 in: a base of 7 in, 177.8 mm.
    """
    side = sheet - 2 * scored_at
    (net,) = tray.build(Tray(side, side, scored_at), Card(0.3, "score"))

    left, bottom, right, top = net.root.outline.bounds
    assert blank(net) == pytest.approx((sheet, sheet))
    assert (right - left, top - bottom) == pytest.approx((side, side))
    # The sheet's edges lie at the scores' distance all round.
    assert net.bounds == pytest.approx(
        (left - scored_at, bottom - scored_at, right + scored_at, top + scored_at)
    )
    assert linework(net)[-1].path.bounds == pytest.approx(net.bounds)


@pytest.mark.parametrize(
    ("measure", "given"),
    [
        ("inside", (80.0, 60.0, 40.0)),
        ("score", (80.3, 60.3, 40.15)),
        ("outside", (80.6, 60.6, 40.3)),
    ],
)
def test_inside_score_and_outside_sizes_name_the_same_tray(
    measure: Measure, given: tuple[float, float, float]
) -> None:
    """80 × 60 × 40 inside in card of 0.3 mm, scores at mid-thickness of a sharp fold.

    inside = score − t and outside = score + t between two walls; a wall folds at one end only,
    so its panel is the inside height + t/2. Scores 80.3 and 60.3, outside 80.6 and 60.6. The tabs
    on the front wall lie inside of the side walls, so it ends a caliper short of both: 79.7.
    """
    (net,) = tray.build(Tray(*given), Card(0.3, measure))

    assert size(net, "base") == pytest.approx((80.3, 60.3))
    assert size(net, "left") == pytest.approx((40.15, 60.3))
    assert size(net, "front") == pytest.approx((79.7, 40.15))
    assert blank(net) == pytest.approx((80.3 + 2 * 40.15, 60.3 + 2 * 40.15))


def test_a_glue_tab_at_15_degrees_runs_in_by_its_depth_times_tan_15() -> None:
    """12(2 − √3) = 3.2154 mm at each end of 39 mm, which is a wall 40 high less half a millimetre
    at both ends: 32.5692 are left at the outer edge."""
    (net,) = tray.build(Tray(80, 60, 40, tab=12, taper=15), Card(0.3, "score"))
    tab = net.panel("front left tab")

    assert tab.edge("bottom").length == pytest.approx(39)
    assert tab.edge("top").length == pytest.approx(32.5692, abs=1e-4)
    assert tab.outline.area == pytest.approx(12 * (39 + 32.5692) / 2, abs=1e-3)


def test_a_glue_tab_at_45_degrees_runs_in_by_its_depth() -> None:
    """8 mm at 45° on a wall of 30, half a millimetre clear at both ends: slanting ends of
    8/sin 45°, 13 left at the outer edge."""
    (net,) = tray.build(Tray(80, 60, 30, tab=8, taper=45), Card(0.3, "score"))
    tab = net.panel("back right tab")

    assert tab.edge("right").length == pytest.approx(8 / SIN_45)
    assert tab.edge("top").length == pytest.approx(13)


def test_a_lid_strip_is_four_panels_and_a_tab_long() -> None:
    """Base 80 × 60 score to score, card 0.3, clearance 0.4: lid panels 81 and 61 (base + 2t + c).

    The strip is 2(81 + 61) + 12 long, and wall 25 + roof 40 + ridge 16 high.
    """
    dims = GableCarton(
        80, 60, 62, lid_height=25, roof_depth=40, ridge_height=16, tab=12, clearance=0.4
    )
    base, lid = gable_carton.build(dims, Card(0.3, "score", coarse=1.0))

    assert size(base, "base") == pytest.approx((80, 60))
    assert size(lid, "front") == pytest.approx((81, 25))
    assert size(lid, "left") == pytest.approx((61, 25))
    assert blank(lid) == pytest.approx((296, 81))


@pytest.mark.parametrize("measure", ["inside", "score", "outside"])
def test_a_lid_is_two_thicknesses_and_the_clearance_wider_than_its_base(measure: Measure) -> None:
    """Base + 2 × 0.32 + 1.0, however the base is measured; roof three quarters of the width."""
    base, lid = gable_carton.build(GableCarton(70, 60, 62), Card(0.32, measure, coarse=1.0))

    length, width = size(base, "base")
    assert size(lid, "front")[0] == pytest.approx(length + 1.64)
    assert size(lid, "right")[0] == pytest.approx(width + 1.64)
    assert size(lid, "front roof")[1] == pytest.approx(0.75 * (width + 1.64))


def test_a_gusset_of_60_under_a_roof_of_40_has_creases_of_50() -> None:
    """Half the width 30 and the slope 40 are the legs of a 3-4-5 triangle; all four creases.

    The apex lies a roof slope above the wall, the only place from which a gusset closes
    (the folded corner-to-apex distance is √(30² + 30² + 26.4575²) = 50 as well).
    """
    dims = GableCarton(79, 59, 62, roof_depth=40, clearance=0)
    _, lid = gable_carton.build(dims, Card(0.5, "score", coarse=1.0))

    assert size(lid, "front") == pytest.approx((80, 25))
    creases = [hinge.edge.length for hinge in lid.hinges if hinge.first.endswith("gusset")]
    assert creases == pytest.approx([50] * 4)
    assert math.sqrt(30**2 + 30**2 + 26.457513**2) == pytest.approx(50, abs=1e-6)


def test_a_lid_s_strip_is_one_rectangle_but_for_the_tab() -> None:
    """Area 4 panels × height + tab: 12 × 81 less two tapered corners of 12 × 3.2154 / 2."""
    dims = GableCarton(
        80, 60, 62, lid_height=25, roof_depth=40, ridge_height=16, tab=12, clearance=0.4
    )
    _, lid = gable_carton.build(dims, Card(0.3, "score", coarse=1.0))

    (outline,) = [s for s in linework(lid) if s.part is Part.OUTLINE]
    assert outline.path.area == pytest.approx(284 * 81 + 12 * 81 - 12 * 12 * (2 - math.sqrt(3)))
    assert len(outline.path.vertices) == 6


def test_closure_holes_go_through_four_layers_that_come_to_lie_on_one_another() -> None:
    """Lid 81 × 61, inset 20: in both ridges, and in the half strips that fold between them.

    A half strip hangs on the ridge's end, so its hole is the mirror image about that fold.
    """
    dims = GableCarton(
        80, 60, 62, lid_height=25, roof_depth=40, clearance=0.4, punch=3, punch_inset=20
    )
    _, lid = gable_carton.build(dims, Card(0.3, "score", coarse=1.0))
    holes = {
        panel.name: sorted(
            round((f.path.bounds[0] + f.path.bounds[2]) / 2, 6) for f in panel.features
        )
        for panel in lid.panels
        if panel.features
    }

    # Front from 0 to 81, right 81 to 142, back 142 to 223; left from −61 to 0.
    assert holes["front ridge"] == [20, 61]
    assert holes["left front strip"] == [-20]
    assert holes["right front strip"] == [81 + 20]
    assert holes["back ridge"] == [142 + 20, 223 - 20]
    assert holes["right back strip"] == [142 - 20]
    assert holes["left back strip"] == [-61 + 20]
    assert all(f.work is Work.PUNCH for panel in lid.panels for f in panel.features)


def test_a_hole_between_the_gussets_goes_through_two_layers() -> None:
    """Lid 121 × 51: the gusset strips reach 25.5 in, a hole at 40 is past them."""
    dims = GableCarton(120, 50, 62, clearance=0.4, punch=3, punch_inset=40)
    _, lid = gable_carton.build(dims, Card(0.3, "score", coarse=1.0))

    assert [p.name for p in lid.panels if p.features] == ["front ridge", "back ridge"]


@pytest.mark.parametrize(("ends", "bottom_under"), [("straight", "back"), ("reverse", "front")])
def test_a_tuck_carton_s_blank(ends: str, bottom_under: str) -> None:
    """60 × 30 × 90 score to score, tab 12, tuck 15, card 0.3.

    2(60 + 30) + 12 = 192 wide, less a caliper by which the seam's tab lies inside. At each end a
    closing panel, one caliper short of the width so that its tuck goes behind the wall, and a tuck:
    90 + 2(29.7 + 15) = 179.4 high.
    """
    dims = TuckCarton(60, 30, 90, ends=ends, tab=12, tuck_depth=15)
    (net,) = tuck_carton.build(dims, Card(0.3, "score"))

    assert blank(net) == pytest.approx((191.7, 179.4))
    assert size(net, "bottom") == pytest.approx((60, 29.7))
    assert net.panel("bottom").outline.bounds[0] == pytest.approx(
        net.panel(bottom_under).outline.bounds[0]
    )


def test_a_tuck_carton_s_inside_is_what_was_asked_for() -> None:
    """Inside 60 × 30 × 90 in card of 0.4: every wall folds at both ends, so + 0.4 each way; the
    side walls end a caliper lower at both ends, where dust flaps lie inside of the closing panel.
    """
    (net,) = tuck_carton.build(TuckCarton(60, 30, 90), Card(0.4))

    assert size(net, "left") == pytest.approx((30.4, 90.4 - 0.8))
    # The front's bounds are those of the wall: thumb cuts go into it, not out.
    assert size(net, "front") == pytest.approx((60.4, 90.4))


def test_flaps_keep_to_common_proportions() -> None:
    """Common practice: dust flaps at most half the opening; a tuck leaves what its two walls take
    up, half of 0.3 mm each, and half a millimetre of play. Dust flaps keep half a millimetre off
    front and back, which is more than the layer and a half and the half layer of 0.3 mm that they
    need."""
    (net,) = tuck_carton.build(TuckCarton(60, 30, 90), Card(0.3, "score"))

    assert size(net, "top tuck")[0] == pytest.approx(60 - 0.3 - 0.5)
    assert size(net, "left top dust flap") == pytest.approx((30 - 1, 18))
    assert size(net, "top tuck")[1] == pytest.approx(15)


def test_a_tear_strip_lies_where_it_was_put() -> None:
    """Two lines 60 + 2 × 30 long, at 40 and 48 above the bottom."""
    dims = TuckCarton(60, 30, 90, tear=8, tear_at=40)
    (net,) = tuck_carton.build(dims, Card(0.3, "score"))

    tears = [s for s in linework(net) if s.name.endswith("tear line")]
    assert [s.path.length for s in tears] == pytest.approx([120, 120])
    assert sorted(s.path.start[1] for s in tears) == pytest.approx([40, 48])
