"""What one box takes, against numbers worked by hand."""

from __future__ import annotations

import math

import pytest

from cutlayers.box import Box, build
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.guide.material import BoxNeeds, box_needs
from cutlayers.job.stock import Stock
from cutlayers.net import Net
from cutlayers.net.guides import with_glue_lines

CARD = Stock("card", 0.3, (210.0, 297.0), 250.0)


def box(style: str, coarse: float = 0.0, **dims: object) -> Box:
    found = style_named(style)
    return build(found, found.dimensions(**dims), Card(0.3, "score", coarse=coarse))


def needs_of(box: Box, stock: Stock = CARD) -> BoxNeeds:
    return box_needs(box, {net.name: stock for net in box.nets})


def test_a_tray_weighs_its_area_times_its_grammage() -> None:
    """100 × 60 × 20 between scores with tabs of 10 mm, 15° taper: base 6000, walls 2 · (100 + 60)
    · 20 = 6400 less 0.3 · 20 at the four ends of front and back, four tabs half a millimetre
    shorter at both ends, of 10 · (19 − 10 tan 15°) = 4 · 163.205; at 250 g/m² 3.2572 g."""
    needs = needs_of(box("tray", length=100, width=60, height=20, tab=10, taper=15))
    area = 6000 + 6400 - 4 * 0.3 * 20 + 4 * 10 * (19 - 10 * math.tan(math.radians(15)))

    assert needs.area_mm2 == pytest.approx(area)
    assert needs.weight_g == pytest.approx(area * 250e-6)


def test_weight_is_not_guessed() -> None:
    """Without a grammage there is no weight."""
    assert needs_of(box("tray"), Stock("card", 0.3, (210.0, 297.0))).weight_g is None


def test_holes_are_not_weighed() -> None:
    """Eight holes of 4 mm take 8 · π · 4 mm² off a gable carton."""
    plain, punched = (needs_of(box("gable-carton", punch=p)).area_mm2 for p in (0, 4))

    assert plain - punched == pytest.approx(8 * math.pi * 4)


def test_relief_is_not_weighed() -> None:
    """Twelve corners of three boxes that stand up in a card, where slits and creases end: holes of
    1 mm across take 12 · π · 0.25 mm² off it."""
    style = style_named("pop-up-card")
    whole, relieved = (
        needs_of(build(style, style.dimensions(), Card(0.5, relief=relief))).area_mm2
        for relief in (0.0, 0.5)
    )

    assert whole - relieved == pytest.approx(12 * math.pi * 0.25)


def test_glue_runs_along_every_tab() -> None:
    """A tray's four tabs, 19 mm wide at the wall and 19 − 20 tan 15° at their end, have lines
    in the middle that stop 2 mm short of the slanted ends: 19 − 10 tan 15° − 4 each."""
    plain = box("tray", length=100, width=60, height=20, tab=10, taper=15)
    for each in (plain, plain.with_nets(map(with_glue_lines, plain.nets))):
        needs = needs_of(each)
        assert needs.glue is not None and needs.glue.tabs == 4
        line = 19 - 10 * math.tan(math.radians(15)) - 4
        assert needs.glue.length == pytest.approx(4 * line)


def test_holes_are_counted_layer_by_layer() -> None:
    """Two holes through the four layers of a ridge are eight to cut."""
    needs = needs_of(box("gable-carton", punch=4, punch_inset=20, ridge_height=16))

    assert needs.holes == pytest.approx([4.0] * 8)


def test_a_ribbon_goes_there_and_back() -> None:
    """Holes 20 mm from both ends of a ridge as long as the lid, where no layers make it shorter:
    base 60 + 0.6 + 1 = 61.6 long, so 21.6 mm apart; twice that and 450 mm for a bow."""
    needs = needs_of(box("gable-carton", coarse=1.0, punch=4, punch_inset=20))

    assert needs.ribbon is not None
    assert needs.ribbon.between == pytest.approx(21.6)
    assert needs.ribbon.length == pytest.approx(2 * 21.6 + 450)


def test_a_box_without_tabs_or_holes_needs_neither() -> None:
    """No glue, no ribbon."""
    found = style_named("tray")
    bare = Net("bare", (found.build(found.dimensions(), Card(0.3))[0].panels[0],))
    needs = needs_of(Box.of((bare,), Card(0.3)))

    assert (needs.glue, needs.ribbon, needs.holes) == (None, None, ())
