"""Closing in small turns: what passes, what has to be held, and what would not get by."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from cutlayers.box import Box, build
from cutlayers.box.passing import Slabs
from cutlayers.box.walking import walk, walked
from cutlayers.construction.calipers import calipers_of
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation
from cutlayers.net import Net, Panel
from cutlayers.net.slabs import allowed

STILL = {"hang-tag"}
"""Without a fold, and of one piece."""

BOWED = {"gusset-bag", "pillow-pack"}
"""A square bottom does not fold without bending: see test_rings.py; nor does a curved fold."""


def box(style: str, caliper: float = 0.3, **dims: object) -> Box:
    found = style_named(style)
    return build(found, found.dimensions(**dims), Card(caliper))


@pytest.mark.parametrize(("caliper", "turn_deg"), [(0.3, 5.0), (1.0, 15.0)])
@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_every_style_closes_without_passing_through_itself(
    style: Style, caliper: float, turn_deg: float
) -> None:
    """At its example's size, in turns of 5°; in thick card in larger ones.

    Card stretches by one per cent on the outside of a bend as tight as 50 calipers, and is none the
    worse: from memory. A limp style is of paper, which is none the worse for four; it is not for
    card of 1 mm.
    """
    dims = style.dimensions(**{name: default for name, (_, default) in style.table.items()})

    ways = walk(build(style, dims, Card(caliper)), turn_deg)

    assert bool(ways) == (style.name not in STILL)
    assert any(way.gap > 0 for way in ways) == (style.name in BOWED)
    for way in ways:
        tightest = (12.5 if caliper < 0.5 else 0.0) if style.limp else 50.0
        assert way.depth <= allowed(caliper) or way.radius >= tightest * caliper, way
        assert math.isfinite(way.bow) == (way.gap > 0)
        assert way.bow >= tightest * caliper or caliper > (calipers_of(style).most or math.inf), way


def test_a_tuck_has_to_be_folded_farther_to_clear_the_wall() -> None:
    """A tuck t deep at right angles on a panel w deep swings in a circle of radius √(w² + t²) about
    the panel's fold, and the wall that it goes behind stands w from there: 50² + 15² is 52.2².
    It has to come to lie behind that wall, so its tip would go through it by 2.2 mm. Folded
    farther, it clears the wall: there is a way, and it is told how far."""
    tall = box("tuck-carton", length=60.0, width=50.0, height=100.0, tuck_depth=15.0)
    assert math.hypot(50, 15) - 50 > 2.0

    (top,) = [way for way in walk(tall) if way.panels == ("top", "top tuck")]

    assert top.held_deg > 0.0
    assert top.depth == 0.0


def test_flaps_that_come_after_their_lid_do_not_get_by() -> None:
    """The order of an end turned round: the dust flaps would go through the closed top, as deep
    as the card is thick at least."""
    carton = box("tuck-carton")
    *before, flaps, lid = carton.motions
    assert flaps.step.action == "fold in" and lid.step.action == "tuck"

    stuck = [way for way in walked(carton, (*before, lid, flaps)) if way.depth > 0.3]

    assert {way.panels for way in stuck} == {
        ("left top dust flap",),
        ("right top dust flap",),
    }
    assert all(way.between is not None and way.radius < math.inf for way in stuck)


def test_halves_of_a_crash_lock_bottom_bend_past_each_other() -> None:
    """As the carton is squared up its front and back slide along each other, and the halves of the
    bottom meet with their hooks. A half is W/2 and its reach of W/4 deep: bent aside by no more
    than that reach, it lies on an arc of L²/2d = 33.75²/22.5 = 51 mm or wider."""
    carton = box("crash-lock-carton", length=70.0, width=45.0, height=100.0)

    (way,) = [way for way in walk(carton) if way.bends]

    assert way.step.action == "square up"
    assert {*(way.between or ())} == {"front bottom", "back bottom"}
    assert 0.3 < way.depth < 11.25
    assert way.radius > 51


def test_a_minor_that_is_not_slanted_goes_through_the_wall() -> None:
    """The corner of a rectangle at 90° from its fold is beyond the 63.4° that have room there."""
    carton = box("crash-lock-carton", length=70.0, width=45.0, height=100.0)
    (net,) = carton.nets
    assert net.facets is not None
    square = Box.of([replace(net, facets=_with_square_minors(net.facets))], Card(0.3))

    stuck = {way.between for way in walk(square) if way.between}

    assert ("right bottom flap", "back") in stuck or ("left bottom flap", "front") in stuck


def _with_square_minors(net: Net) -> Net:
    """Minors as rectangles, of the same bounds."""

    def squared(panel: Panel) -> Panel:
        if panel.name not in ("left bottom flap", "right bottom flap"):
            return panel
        x0, y0, x1, y1 = panel.outline.bounds
        outline = Path.polygon(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
        return replace(panel, outline=outline, edges=("a", "b", "c", "d"))

    return replace(net, panels=tuple(map(squared, net.panels)))


def test_a_gables_roof_and_a_pop_up_are_walked_as_rings() -> None:
    """All their hinges turn at once, and nothing stands in the way."""
    gable = {way.step.action.value: way for way in walk(box("gable-carton"), 15.0)}
    (pop_up,) = walk(box("pop-up-card"))

    assert {"gussets", "ridges"} <= {*gable}
    assert not any(way.bends for way in (*gable.values(), pop_up))
    assert pop_up.turns == 18


def test_a_lid_that_is_too_narrow_meets_the_base() -> None:
    """In card of 0.3 mm the creases of a lid stand 2 · 0.3 mm and the clearance of 1 mm farther
    apart than those of its base. One for a base 1.6 mm narrower has its front and back right over
    those of this one: they share a whole caliper. Nothing else stands in the way."""
    base, _ = box("telescope-box", width=60.0, clearance=1.0).nets
    right, narrow = (
        Box.of([base, box("telescope-box", width=wide, clearance=1.0).nets[1]], Card(0.3))
        for wide in (60.0, 58.4)
    )

    (fits,) = [way for way in walk(right) if way.slid]
    (stuck,) = [way for way in walk(narrow) if way.slid]

    assert fits.between is None and not fits.bends
    assert stuck.depth == pytest.approx(0.3)
    assert stuck.between in {(f"lid: {side}", f"base: {side}") for side in ("front", "back")}


def test_a_strip_that_is_too_thick_does_not_go_into_its_slot() -> None:
    """Slots for card of 0.3 mm are 0.45 mm wide with play of 0.15 mm. Of card of 1 mm, 0.275 mm to
    either side of the middle are in the way."""
    nets = box("partition", slot_clearance=0.15).nets

    assert not any(way.bends for way in walk(Box.of(nets, Card(0.3))))
    stuck = walk(Box.of(nets, Card(1.0)))
    assert [way.depth for way in stuck] == pytest.approx([0.275, 0.275])
    assert stuck[0].between == ("cross strip 1: cross strip 1", "long strip 1: long strip 1")


def test_what_leans_over_a_sheet_is_in_the_way_of_what_folds_flat_on_it() -> None:
    """The gussets of an envelope lie flat on its front when the back is folded right over them.
    Left leaning over it at 60° they are in the way."""
    envelope = box("gusseted-envelope")
    glued = next(motion for motion in envelope.motions if motion.step.action == "glue")
    left, _, back = glued.moves
    (lead, *_) = left.turns
    leaning = replace(left, turns=(replace(lead, to_deg=120.0),), pressed=False)
    assert all(move.pressed for move in glued.moves)
    assert back.swing[0].panels[-1] == "back"

    assert not any(way.bends for way in walked(envelope, [glued]))
    (_, stuck) = walked(envelope, [replace(glued, moves=(leaning, back))])
    assert stuck.depth > 1.0
    assert stuck.between is not None and stuck.between[1] == "left front gusset"


@pytest.mark.parametrize(
    "style",
    ["crash-lock-carton", "gusset-bag", "hinged-lid-tray", "slide-lock-mailer", "pop-up-card"],
)
def test_nothing_is_missed_where_slabs_are_far_apart(
    style: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same is found where every pair of panels is looked at in every turn."""
    coarse = walk(box(style), 15.0)

    monkeypatch.setattr(Slabs, "near", lambda _, pairs, *_looks: pairs)
    monkeypatch.setattr(Slabs, "on_the_way", lambda _, pairs: pairs)

    assert walk(box(style), 15.0) == coarse


def test_turns_are_as_small_as_asked_for() -> None:
    """Right angles, and the halves of a tube that are folded right over, in turns of 5° and 15°."""
    assert {way.turns for way in walk(box("snap-lock-carton"))} == {18, 36}
    assert {way.turns for way in walk(box("snap-lock-carton"), 15.0)} == {6, 12}


def test_walls_rise_before_those_that_go_over_their_tabs() -> None:
    """The long walls of a tray carry the tabs, the short ones go over them."""
    names = [way.panels[0] for way in walk(box("tray"))]

    assert names == ["front", "back", "left", "right"]


@pytest.mark.parametrize("width", [40.0, 60.0, 84.0])
def test_a_bags_gussets_go_in_before_its_last_side_is_laid_over(width: float) -> None:
    """Half a width deep each, they lie beside each other as long as the bag is longer than deep;
    while they go in each turns round in a circle of half a width. With both side walls over the
    front those of a bag deeper than half as long, 85 mm, would go through each other."""
    bag = box("gusset-bag", length=85.0, width=width)
    ways = [way for way in walk(bag) if way.step.panels]

    assert not any(way.bends for way in ways)
    assert all(way.turns == 36 for way in ways)
    seam = [way.panels[-1] for way in ways if way.step.action == "seam"]
    assert seam == ["left foot tab", "glue tab", "bottom", "bottom"]


def test_gussets_of_a_deep_bag_that_is_folded_over_at_both_sides_meet() -> None:
    """The order turned round."""
    bag = box("gusset-bag", length=85.0, width=60.0)
    seam = next(motion for motion in bag.motions if motion.step.action == "seam")
    left, gussets, right, back = seam.moves

    (stuck,) = [
        w for w in walked(bag, [replace(seam, moves=(left, right, gussets, back))]) if w.bends
    ]
    assert stuck.between == ("left foot tab", "right foot tab")


def test_a_bag_says_to_what_radius_it_bows() -> None:
    """A square bottom does not fold rigidly. Half as deep as the bag, its feet of about 20 mm are
    the smallest that gape: bent aside by d, a length L lies on an arc of L²/2d."""
    (square,) = [way for way in walk(box("gusset-bag", width=40.0)) if way.gap]

    assert square.bow == pytest.approx(20.0**2 / (2 * square.gap), rel=0.02)


def test_a_pillows_flaps_bow_through_to_what_they_are_bent_to() -> None:
    """A flap about 80 mm wide turns by 65° from end to end. By that alone its radius is 71 mm; it
    is bent tighter towards its tips, and nowhere tighter than card of 0.3 mm takes, 50 calipers."""
    pack = box("pillow-pack")
    (facets,) = [net.facets for net in pack.nets if net.facets]
    turned = [
        abs(math.radians(hinge.fold_deg))
        for hinge in facets.hinges
        if hinge.operation is Operation.DRAW and facets.panel_of(hinge.first) == "front top flap"
    ]
    left, _, right, _ = pack.nets[0].panel("front top flap").outline.bounds

    (way,) = [way for way in walk(pack) if "front top flap" in way.panels and way.gap]

    assert 50 * 0.3 <= way.bow <= (right - left) / sum(turned)
