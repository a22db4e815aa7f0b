"""Do panels of the closed box share room, at any caliper?"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.box import Box, build
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.net.faces import facing, height
from cutlayers.net.slabs import ROUNDING, SharedRoom, allowed, shared_room
from tests.boxes import RandomBox, Spread, boxes, trying
from tests.styles.thickness import CALIPERS, boxed, least_play, row, tuck_play, usual_play

every_style = pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)


@every_style
@pytest.mark.parametrize("caliper", CALIPERS)
def test_no_two_panels_share_room(style: Style, caliper: float) -> None:
    """Allowed are 0.05 mm and a tenth of the caliper."""
    found = row(style, caliper)

    assert found is None or found.depth <= allowed(caliper)


@every_style
@pytest.mark.parametrize("caliper", CALIPERS)
def test_glued_panels_lie_face_to_face(style: Style, caliper: float) -> None:
    """Their middles a caliper apart, to 0.1 mm, and alike on the outside."""
    box = boxed(style, caliper)

    for label, alike, apart in glued(box) if box else ():
        assert alike == 1, label
        assert apart == pytest.approx(caliper, abs=0.1), label


@every_style
@pytest.mark.parametrize("caliper", CALIPERS)
def test_what_slides_tucks_and_locks_has_its_play_in_any_card(style: Style, caliper: float) -> None:
    """Half a millimetre for a tuck between its walls, both sides together (common practice, no
    source); of what slides and locks see `usual_play`."""
    box = boxed(style, caliper)
    if box is None:
        return

    play = least_play(box)

    assert play is None or play >= usual_play(style) - 1e-6
    assert all(room >= 0.5 - 1e-6 for room in tuck_play(box))


@pytest.mark.parametrize("sides", [3, 4, 5])
@pytest.mark.parametrize("name", ["petal-top-box", "prism-box"])
def test_tabs_at_both_ends_of_a_narrow_wall_keep_off_each_other(name: str, sides: int) -> None:
    """One lies on the wall, the other hangs on it and leans over the first in an acute corner."""
    style = style_named(name)
    box = build(style, style.dimensions(sides=sides, side=15.0), Card(3.0, "score"))

    found = shared_room(box.assembly, {net.name: 3.0 for net in box.nets})

    assert [each for each in found if each.depth > allowed(3.0)] == []


SPREAD = Spread(calipers=(CALIPERS[0], CALIPERS[-1]))
"""Boxes of any size that people pack, of paper to greyboard."""


def glued(box: Box) -> Iterator[tuple[str, int, float]]:
    """Each tab by its name, 1 if it is alike on the outside to what it is glued to, and how far in
    mm their middles are apart."""
    faces = {(face.net, face.name): face for face in box.assembly.faces}
    for face in faces.values():
        if face.panel.lands_on is not None:
            onto = faces[face.net, face.panel.lands_on]
            yield face.label, facing(onto, face), abs(height(onto, face))


@every_style
@trying(10)
@given(data=st.data())
def test_boxes_of_any_size_share_no_room_in_any_card(style: Style, data: st.DataObject) -> None:
    """`--hypothesis-profile=thorough` tries 300 a style. What is glued lies face to face, and what
    slides, tucks and locks has play."""
    box = data.draw(boxes(style, SPREAD))
    caliper = box.card.caliper
    sharp = _at_sharp_folds(box)

    def most(each: SharedRoom) -> float:
        # A panel and the strip that it is folded right over by are one sheet.
        pairs = itertools.product(each.one.name.split(" | "), each.other.name.split(" | "))
        at_fold = max(sharp.get(frozenset(pair), 0.0) for pair in pairs)
        return max(allowed(caliper), at_fold + ROUNDING)

    found = shared_room(box.built.assembly, {net.name: caliper for net in box.nets})

    deep = [each for each in found if each.depth > most(each)]
    assert [(each.one.label, each.other.label, each.depth) for each in deep] == []
    apart = [each for each in glued(box.built) if each[1] != 1 or abs(each[2] - caliper) > 0.1]
    assert apart == []
    assert (least_play(box.built) or 0.0) >= -1e-6


def _at_sharp_folds(box: RandomBox) -> dict[frozenset[str], float]:
    """What two panels share whose fold is sharper than card of that caliper c takes.

    A caliper from the crease two slabs at an angle θ still share c·cos θ/2 − 2c·sin θ/2: the same
    of any box with that angle, wherever its creases stand, and no more than allowed from about
    50° on in any card.
    """
    caliper = box.card.caliper
    inner = {
        frozenset((hinge.first, hinge.second)): math.radians(180.0 - abs(hinge.fold_deg)) / 2
        for folded in box.built.assembly.boxes
        for hinge in folded.net.hinges
    }
    return {pair: caliper * (math.cos(half) - 2 * math.sin(half)) for pair, half in inner.items()}
