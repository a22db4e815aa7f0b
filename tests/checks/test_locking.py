"""Tongues in their slits: held, with room, and with card beside them."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.box import Box
from cutlayers.checks.locking import check_locking
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.paths import Path
from cutlayers.job.limits import Limits
from cutlayers.net import Feature, Net, Role, Work
from cutlayers.net.engagement import Engagement
from cutlayers.net.locks import locks
from cutlayers.net.shapes import rectangle
from cutlayers.telling.errors import StyleError
from cutlayers.telling.findings import Finding, Severity
from cutlayers.telling.words import sentence_of
from tests.boxes import Spread, boxes, trying

LOCKED: dict[str, dict[str, float]] = {
    "tuck-carton": {"slit": 8.0},
    "snap-lock-carton": {"slit": 8.0},
    "crash-lock-carton": {"slit": 8.0},
    "house-box": {"slit": 8.0},
    "slide-lock-mailer": {},
    "belly-band": {},
    "partition": {"columns": 3, "rows": 3},
}
"""Styles with a tongue, or an end, that goes into a slit; their dimensions."""

SPREAD = Spread(calipers=(0.2, 2.0))

CALIPERS = (0.2, 0.3, 0.5, 1.0, 1.5)


def built(style: str, caliper: float, **dims: float) -> tuple[Net, ...]:
    kind = style_named(style)
    return kind.build(kind.dimensions(**dims), Card(caliper))


@pytest.mark.parametrize("style", LOCKED)
@pytest.mark.parametrize("caliper", CALIPERS)
def test_every_lock_of_the_catalogue_holds_with_play(style: str, caliper: float) -> None:
    """A tongue comes through a caliper of card, 2 mm or more hold it, and it fits its slit; nothing
    beside it is narrower than three calipers."""
    nets = built(style, caliper, **LOCKED[style])
    assembly = Box.of(nets, Card(caliper)).assembly

    found = [lock for net in nets for lock in locks(assembly, net)]

    assert found
    for lock in found:
        assert lock.bite >= caliper - 1e-6
        assert lock.hold >= 2.0
        assert lock.play is None or lock.play >= 0.0
    assert check_locking(assembly, nets, Limits()) == ()


@pytest.mark.parametrize("style", ["tuck-carton", "snap-lock-carton", "crash-lock-carton"])
@pytest.mark.parametrize("caliper", CALIPERS)
def test_a_lock_slit_is_as_wide_as_its_tongue_and_half_a_millimetre(
    style: str, caliper: float
) -> None:
    """And the tongue is held by its slit of 8 mm less that play, and what a tuck stands off the
    crease of its wall: half a caliper of card, and half of its own play of 0.5 mm; at the seam a
    caliper more."""
    nets = built(style, caliper, **LOCKED[style])
    assembly = Box.of(nets, Card(caliper)).assembly

    for net in nets:
        for lock in locks(assembly, net):
            if lock.tongue.endswith("dust flap"):
                seam = lock.slit == "bottom tuck"
                assert lock.play == pytest.approx(0.5)
                assert lock.bite == pytest.approx(caliper)
                beside = caliper / 2 + 0.25 + caliper * seam
                assert lock.hold == pytest.approx(8.0 - 0.5 - beside)


@pytest.mark.parametrize("style", LOCKED)
@trying(10)
@given(data=st.data())
def test_locks_of_boxes_of_any_size_hold(style: str, data: st.DataObject) -> None:
    """Whatever a style lets a person ask for."""
    box = data.draw(boxes(style_named(style), SPREAD))

    found = check_locking(box.built.assembly, box.built.nets, Limits())

    assert found == ()


@pytest.mark.parametrize("caliper", CALIPERS)
def test_strips_go_into_each_other_with_the_play_of_their_slots(caliper: float) -> None:
    """Two along and two across, each a net: four crossings, each with 0.4 mm of play and held
    by half the height of 30 mm."""
    nets = built("partition", caliper, columns=3, rows=3, slot_clearance=0.4)
    assembly = Box.of(nets, Card(caliper)).assembly

    found = [lock for net in nets for lock in locks(assembly, net)]

    assert len(found) == 4
    for lock in found:
        assert lock.play == pytest.approx(0.4)
        assert lock.hold == pytest.approx(15.0)


def test_a_slit_too_short_to_hold_is_refused() -> None:
    """At least 2 mm that hold, 0.5 of play, and two calipers beside the tuck."""
    with pytest.raises(StyleError, match="too short for a flap to catch in") as caught:
        built("tuck-carton", 1.0, slit=4.0)

    assert caught.value.field == "options.slit"
    built("tuck-carton", 1.0, slit=4.5)


def flag(
    slot: float,
    *,
    deep: float,
    at: float = 20.0,
    caliper: float = 1.0,
    play: float = 0.0,
    long: float = 22.0,
) -> list[Finding]:
    """A board 60 × 40 mm with a slot `long` mm long and `slot` mm wide, whose middle lies `at` mm
    above its lower edge, and a tongue 20 mm wide that stands square to it on a wall of its own, and
    reaches `deep` mm beyond the middle of the board's card."""
    window = Path.polygon(
        [
            (30 - long / 2, at - slot / 2),
            (30 + long / 2, at - slot / 2),
            (30 + long / 2, at + slot / 2),
            (30 - long / 2, at + slot / 2),
        ]
    )
    net = Net.start("box", "board", rectangle(60, 40), Role.WALL, caliper=caliper)
    net = net.work("board", Feature(Work.WINDOW, window, "slot"))
    # Wall above the board's upper edge, square to it; from its top the tongue comes back level.
    net = net.attach("wall", rectangle(60, 30), to="board.top", role=Role.WALL)
    net = net.attach("shelf", rectangle(60, 40 - at), to="wall.top", role=Role.WALL)
    net = net.attach("tongue", rectangle(20, 30 + deep), to="shelf.top", role=Role.FLAP)
    net = net.engage("tongue", "board", Engagement(caliper, play))
    return list(check_locking(Box.of((net,), Card(caliper)).assembly, (net,), Limits()))


def test_a_tongue_that_comes_through_a_slot_with_play_is_right() -> None:
    """A slot of 1.5 mm for card 1 mm thick, and 2 mm beyond its middle."""
    assert flag(1.5, deep=2.0) == []


def test_a_tongue_that_does_not_come_through_is_an_error() -> None:
    """It ends 0.3 mm beyond the middle of card 1 mm thick: 0.8 mm from the near face on."""
    (finding,) = flag(1.5, deep=0.3)

    assert (finding.code, finding.severity) == ("lock-shallow", Severity.ERROR)
    assert finding.measured[0].value == pytest.approx(0.8)
    assert "come through all of it" in sentence_of(finding).right


def test_a_tongue_that_misses_its_slit_is_an_error() -> None:
    """It ends 5 mm before the board."""
    (finding,) = flag(1.5, deep=-5.0)

    assert finding.code == "lock-shallow"
    assert finding.measured[0].value == 0.0


def test_a_slot_narrower_than_the_card_is_an_error() -> None:
    """0.8 mm for card 1 mm thick."""
    (finding,) = flag(0.8, deep=2.0)

    assert (finding.code, finding.severity) == ("lock-tight", Severity.ERROR)
    assert finding.measured[0].value == pytest.approx(-0.2)
    assert "0.20 mm wider" in sentence_of(finding).cure


@pytest.mark.parametrize(("slot", "lacks"), [(1.3, 0.2), (1.49, None), (1.5, None)])
def test_a_slot_with_less_play_than_was_declared_is_a_warning(
    slot: float, lacks: float | None
) -> None:
    """Card of 1 mm and half a millimetre need 1.5 mm; a hundredth is no fault."""
    found = flag(slot, deep=2.0, play=0.5)

    if lacks is None:
        assert found == []
        return
    (finding,) = found
    assert (finding.code, finding.severity) == ("lock-tight", Severity.WARNING)
    assert finding.measured[0].value == pytest.approx(0.5 - lacks)
    assert "0.20 mm wider" in sentence_of(finding).cure


def test_a_slot_shorter_than_its_tongue_is_an_error() -> None:
    """A tongue 20 mm wide over a slot 18 mm long meets 1 mm of card at each end."""
    (finding,) = flag(1.5, deep=2.0, long=18.0)

    assert (finding.code, finding.severity) == ("lock-tight", Severity.ERROR)
    assert finding.measured[0].value == pytest.approx(-2.0)


@pytest.mark.parametrize(
    ("at", "bridge"), [(3.0, 2.25), (3.7, 2.95), (3.74, 2.99), (3.75, None), (4.0, None)]
)
def test_a_bridge_narrower_than_three_calipers_is_a_warning(
    at: float, bridge: float | None
) -> None:
    """A slot 1.5 mm wide whose middle lies 3 mm above the edge leaves 2.25 mm there; three
    calipers are 3 mm, and a hundredth less is too narrow."""
    found = flag(1.5, deep=2.0, at=at)

    assert [each.code for each in found] == ([] if bridge is None else ["bridge-thin"])
    if bridge is not None:
        assert found[0].measured[0].value == pytest.approx(bridge, abs=0.02)


def test_layers_that_share_a_plane_are_not_measured() -> None:
    """Steps too small for a ruler are not made, and a tongue then lies in its slit's plane."""
    nets = tuple(replace(net, caliper=0.0) for net in built("slide-lock-mailer", 0.3))

    assert check_locking(Box.of(nets, Card(0.3)).assembly, nets, Limits()) == ()


@pytest.mark.parametrize("play", [0.0, 0.5, 1.2])
@pytest.mark.parametrize("caliper", CALIPERS)
def test_a_slot_made_of_its_tongue_leaves_it_the_play_that_was_declared(
    caliper: float, play: float
) -> None:
    """Square to the board: measured on the folded box by what lies before and behind the tongue."""
    lock = Engagement(caliper, play)
    window = lock.opening()
    net = Net.start("box", "board", rectangle(60, 60), Role.WALL, caliper=caliper)
    low = 30.0 - window / 2
    slot = Path.polygon([(19.0, low), (41.0, low), (41.0, low + window), (19.0, low + window)])
    net = net.work("board", Feature(Work.WINDOW, slot, "slot"))
    net = net.attach("wall", rectangle(60, 30), to="board.top", role=Role.WALL)
    net = net.attach("shelf", rectangle(60, 30), to="wall.top", role=Role.WALL)
    wide = lock.tongue(22.0)
    net = net.attach("tongue", rectangle(wide, 36), to="shelf.top", role=Role.FLAP)
    net = net.engage("tongue", "board", lock)

    (found,) = locks(Box.of((net,), Card(caliper)).assembly, net)

    assert found.play == pytest.approx(play)
    assert lock.slit(wide) == pytest.approx(22.0) and 22.0 - wide == pytest.approx(play)
    assert found.bite >= caliper


@pytest.mark.parametrize("angle_deg", [30.0, 45.0, 60.0, 90.0])
def test_a_slanting_tongue_takes_up_more_of_its_slot(angle_deg: float) -> None:
    """The shadow of a slab of 1 mm that goes through one of 1 mm: corners of a strip by hand. Its
    borders are lines that lie 1/sin apart along the board, and go 1/tan aside on their way through;
    at 30° 2 + 1.732, at 90° 1."""
    angle = math.radians(angle_deg)
    across = 1 / math.sin(angle)
    aside = 1 / math.tan(angle)

    assert Engagement(1.0, 0.25).opening(math.sin(angle)) == pytest.approx(across + aside + 0.25)


LENGTHS = st.floats(45.0, 150.0)


@pytest.mark.parametrize("caliper", [0.3, 1.0])
@trying(10)
@given(length=LENGTHS, width=LENGTHS)
def test_a_mailer_s_tongue_has_its_play_at_any_size(
    caliper: float, length: float, width: float
) -> None:
    """Half a millimetre across the slot, at the angle that the tongue goes through it."""
    style = style_named("slide-lock-mailer")
    try:
        nets = style.build(style.dimensions(length=length, width=width, height=20), Card(caliper))
    except StyleError:
        return
    (lock,) = locks(Box.of(nets, Card(caliper)).assembly, nets[0])

    assert lock.play == pytest.approx(0.5, abs=0.01)
