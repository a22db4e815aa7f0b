"""Pieces of different styles that must go into or round each other."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlayers.box import Box
from cutlayers.checks import check_box
from cutlayers.checks.lid import sides
from cutlayers.construction.card import Card, Measure
from cutlayers.construction.styles import style_named
from cutlayers.fitting.items import Item
from cutlayers.fitting.packing import pack
from cutlayers.job.building import build
from cutlayers.net import Net
from cutlayers.net.folding import fold
from cutlayers.telling.errors import StyleError
from tests.net.standing import standing


def built(name: str, card: Card, **dims: object) -> tuple[Net, ...]:
    """The nets of a style."""
    style = style_named(name)
    return style.build(style.dimensions(**dims), card)


@pytest.mark.parametrize("measure", ["inside", "score", "outside"])
def test_a_partition_goes_into_the_tray_of_the_same_size(measure: Measure) -> None:
    """Tray of 120 × 80 × 40 in card of 0.5: walls and floor stand half a caliper in, and 0.3 mm
    is left at both ends of every strip."""
    card, size = Card(0.5, measure), {"length": 120.0, "width": 80.0, "height": 40.0}
    (tray,) = built("tray", card, **size)
    strips = built("partition", card, **size, columns=3, rows=2, clearance=0.6)
    inside = {"inside": 120.0, "score": 119.5, "outside": 119.0}[measure]

    (left, _, low), (right, _, high) = fold(strips[0]).bounds
    assert right - left == pytest.approx(inside - 0.6)
    assert low == pytest.approx(0.25)
    assert high == pytest.approx(fold(tray).bounds[1][2])
    found = check_box(
        Box.of((tray, *(replace(s, name=f"strip {s.name}") for s in strips)), Card(0.5))
    )
    assert [str(f) for f in found if f.code in ("collision", "closure")] == []


def test_a_partition_s_slots_are_wider_than_the_card_by_their_clearance() -> None:
    """0.5 mm card and 0.2 of clearance: two slots of 0.7 mm at thirds, half the height deep."""
    strips = built(
        "partition",
        Card(0.5),
        length=90.0,
        width=60.0,
        height=30.0,
        columns=3,
        rows=2,
        slot_clearance=0.2,
    )

    outline = strips[0].panel("long strip 1").outline
    xs = sorted({round(x, 6) for x, y in outline.vertices if y < 29})
    assert len(strips) == 3
    assert [xs[2] - xs[1], xs[4] - xs[3]] == pytest.approx([0.7, 0.7])
    assert (xs[3] + xs[4] - xs[1] - xs[2]) / 2 == pytest.approx(30)
    assert min(y for x, y in outline.vertices if 1 < x < 88) == pytest.approx(15)


@pytest.mark.parametrize(("columns", "rows"), [(2, 2), (3, 2), (2, 3), (4, 3)])
def test_every_strip_of_a_partition_is_held_by_slots(columns: int, rows: int) -> None:
    """As many as strips cross it: each slot adds four corners to the four of a strip."""
    strips = built(
        "partition", Card(0.5), length=120.0, width=90.0, height=30.0, columns=columns, rows=rows
    )

    slots = [(len(strip.root.outline.vertices) - 4) / 4 for strip in strips]
    assert slots == [columns - 1] * (rows - 1) + [rows - 1] * (columns - 1)
    assert min(slots) >= 1


@pytest.mark.parametrize(("columns", "rows"), [(3, 1), (1, 3)])
def test_strips_that_nothing_would_hold_are_refused(columns: int, rows: int) -> None:
    """All strips of a single row, or of a single column, run one way."""
    with pytest.raises(StyleError, match="is 1; it must be a whole number, 2 to 20"):
        build(
            "partition",
            caliper=0.5,
            length=120,
            width=90,
            height=30,
            columns=columns,
            rows=rows,
        )


@pytest.mark.parametrize("clearance", [0.6, 1.0, 2.0])
@pytest.mark.parametrize(
    ("style", "pair"),
    [
        ("telescope-box", ("base", "lid")),
        ("prism-box", ("base", "lid")),
        ("sleeve-and-drawer", ("drawer", "sleeve")),
    ],
)
def test_half_of_the_clearance_is_left_on_each_side(
    style: str, pair: tuple[str, str], clearance: float
) -> None:
    """Once two calipers, and one for every tab between, are taken up; card of 0.5 mm."""
    box = standing(built(style, Card(0.5), clearance=clearance))

    rooms = [side.room for side in sides(box, *pair, Card(0.5))]
    assert rooms
    assert rooms == pytest.approx([clearance / 2] * len(rooms))


@pytest.mark.parametrize("clearance", [1.0, 2.0])
@pytest.mark.parametrize("caliper", [0.1, 0.2, 0.5, 1.0, 1.5])
def test_a_band_slides_on_with_all_of_its_clearance(caliper: float, clearance: float) -> None:
    """A bar of 75 × 28 mm and as much more each way as is left, whatever its hooked ends take up; a
    tenth more either way does not go in."""
    card = Card(caliper)
    box = Box.of(built("belly-band", card, clearance=clearance), card)

    def goes(length: float, width: float) -> bool:
        bar = Item("cuboid", 75.0 + length, 28.0 + width, 30.0)
        return pack(bar, box.assembly, card).fits

    left = clearance - 0.01
    assert goes(left, left)
    assert not goes(clearance + 0.1, left)
    assert not goes(left, clearance + 0.1)


def test_a_shoulder_fits_base_and_lid() -> None:
    """The frame stands half the clearance inside of the base and under the lid alike."""
    box = standing(built("telescope-box", Card(0.5), shoulder=10.0, clearance=1.0))

    for other in ("base", "lid"):
        rooms = [side.room for side in sides(box, other, "shoulder", Card(0.5))]
        assert rooms == pytest.approx([0.5] * 4)


def test_a_bag_lies_flat_with_its_bottom_against_the_front() -> None:
    """70 deep: pressed flat, the bottom reaches 70 up from the fold at the back's foot, and the
    front begins at 35."""
    (bag,) = built("gusset-bag", Card(0.2, "score"), length=140.0, width=70.0, height=180.0)
    flat = fold(bag.pressed_flat())

    heights = {name: [z for _, _, z in flat.outline(name, 0.1)] for name in ("front", "bottom")}
    low = min(z for panel in bag.panels for _, _, z in flat.outline(panel.name, 0.1))
    assert min(heights["bottom"]) - low == pytest.approx(0, abs=1e-9)
    assert max(heights["bottom"]) - low == pytest.approx(70)
    assert min(heights["front"]) - low == pytest.approx(35)


def test_a_crash_lock_carton_presses_to_two_walls() -> None:
    """70 × 45: flat it is as wide as front and right wall together, and no flap sticks out below.
    Kawasaki and Justin's theorem, 90 − 90 + 45 − 45 = 0 at the glued corners."""
    (carton,) = built("crash-lock-carton", Card(0.2, "score"), length=70.0, width=45.0)
    flat = fold(carton.pressed_flat())
    (left, _, _), (right, _, _) = flat.bounds

    assert right - left == pytest.approx(70 + 45)
    walls = [z for _, _, z in flat.outline("front", 0.1)]
    lows = [z for name in ("front bottom", "back bottom") for _, _, z in flat.outline(name, 0.1)]
    assert min(lows) >= min(walls) - 1e-9


@pytest.mark.parametrize("caliper", [0.3, 1.0])
def test_a_hinged_lid_is_held_on_every_side(caliper: float) -> None:
    """It lies between the walls and would fall in: each of its edges has a fold."""
    (net,) = built("hinged-lid-tray", Card(caliper))

    lid = net.panel("lid")
    folds = net.hinges_of(["lid"])
    assert len(folds) == len(lid.edges) == 4
    with pytest.raises(StyleError, match=r"side_flap_depth is 0 mm; it must be 4 mm to 2000 mm"):
        build("hinged-lid-tray", caliper=caliper, length=90, width=70, height=30, side_flap_depth=0)


def chord(net: Net, edge: str) -> float:
    """How long a straight edge of a panel is on the flat."""
    panel, _, name = edge.partition(".")
    return net.panel(panel).edge(name).chord


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
@pytest.mark.parametrize("caliper", [0.3, 1.0])
def test_flaps_of_a_hinged_lid_pass_each_other_with_half_of_their_clearance(
    caliper: float, share: float
) -> None:
    """In the corners, from the ends of the flaps to the inner faces of those beside them, and at
    the sides, from a flap's outer face to the tab inside of its wall. Of its caliper c a crease
    takes t: card lies t inside of it and c − t outside."""
    (net,) = built("hinged-lid-tray", Card(caliper, share=share), clearance=1.0)
    takes = share * caliper
    long, deep = chord(net, "lid.bottom"), chord(net, "lid.right")
    between_tabs = chord(net, "base.bottom") - 2 * takes - 2 * caliper

    assert (long - chord(net, "tuck.bottom")) / 2 - takes == pytest.approx(0.5)
    assert (deep - chord(net, "left lid flap.bottom")) / 2 - takes == pytest.approx(0.5)
    assert (between_tabs - long) / 2 - (caliper - takes) == pytest.approx(0.5)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
@pytest.mark.parametrize("caliper", [0.2, 1.0])
def test_what_meets_end_to_end_has_half_a_millimetre_in_any_card(
    caliper: float, share: float
) -> None:
    """The doors of a gate, the tuck between the gable tabs of a house, the side flaps and the cover
    between the front and back of a mailer, the bottom between the sides of a gusseted envelope
    (common practice, no source)."""
    card = Card(caliper, "score", share=share)
    (gate,) = built("folder", card, fold="gate", length=200.0)
    (house,) = built("house-box", card, length=80.0, gable_flap_depth=12.0)
    (mailer,) = built("slide-lock-mailer", card, width=80.0)
    (envelope,) = built("gusseted-envelope", card, length=110.0)
    takes = share * caliper

    left, right = (
        [fold(gate).place(name, at)[0] for at in gate.panel(name).outline.vertices]
        for name in ("left door", "right door")
    )
    assert min(right) - max(left) == pytest.approx(0.5)
    assert 80.0 - 2 * 12.0 - chord(house, "ridge tuck.bottom") == pytest.approx(0.5)
    assert 80.0 - 2 * takes - chord(mailer, "left flap.bottom") == pytest.approx(0.5)
    assert 80.0 - takes - chord(mailer, "cover.right") == pytest.approx(0.5)
    for half in ("front bottom", "back bottom"):
        assert 110.0 - 2 * takes - chord(envelope, f"{half}.bottom") == pytest.approx(0.5)
