"""Do panels of the closed box share room, at any caliper?

`NOT_YET` lists what does, from thin to thick: how many pairs of panels share more than is allowed
at each of `CALIPERS`, and how many mm the deepest shares ("-" where there is none). It can only
shrink: a number that no longer holds fails, and so does one that is right.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.net.slabs import ROUNDING, SharedRoom, allowed, shared_room
from tests.boxes import RandomBox, Spread, boxes, trying
from tests.styles.thickness import CALIPERS, row

NOT_YET = """
pillow-pack       104@0.2 120@0.3 128@0.5   136@1 136@1.5   136@2   136@3
"""

every_style = pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)


@every_style
@pytest.mark.parametrize("caliper", CALIPERS)
def test_no_two_panels_share_room_but_those_on_the_list(style: Style, caliper: float) -> None:
    """Allowed are 0.05 mm and a tenth of the caliper; what is on the list is so and no better."""
    found = row(style, caliper)
    listed = dict(_listed()).get((style.name, caliper))
    if listed is None:
        assert found is None or found.depth <= allowed(caliper)
        return
    beyond, depth = listed
    assert found is not None
    assert found.beyond == beyond
    assert found.depth == pytest.approx(depth, abs=2e-3)
    assert beyond and depth > allowed(caliper), "what is right is not listed"


SPREAD = Spread(calipers=(CALIPERS[0], CALIPERS[-1]))
"""Boxes of any size that people pack, of paper to greyboard."""

LISTED = {line.split()[0] for line in NOT_YET.strip().splitlines()}

clean_style = pytest.mark.parametrize(
    "style",
    [style for style in styles() if style.name not in LISTED],
    ids=lambda style: style.name,
)


@clean_style
@trying(10)
@given(data=st.data())
def test_boxes_of_any_size_share_no_room_in_any_card(style: Style, data: st.DataObject) -> None:
    """Of a style that is not on the list; `--hypothesis-profile=thorough` tries 300 a style."""
    box = data.draw(boxes(style, SPREAD))
    caliper = box.card.caliper
    sharp = _at_sharp_folds(box)

    def most(each: SharedRoom) -> float:
        # A panel and the strip that it is folded right over by are one sheet.
        pairs = itertools.product(each.one.name.split(" | "), each.other.name.split(" | "))
        at_fold = max(sharp.get(frozenset(pair), 0.0) for pair in pairs)
        return max(allowed(caliper), at_fold + ROUNDING)

    found = shared_room(box.built.assembly, caliper)

    deep = [each for each in found if each.depth > most(each)]
    assert [(each.one.label, each.other.label, each.depth) for each in deep] == []


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


def _listed() -> Iterator[tuple[tuple[str, float], tuple[int, float]]]:
    """Style and caliper with pairs beyond and depth."""
    for line in NOT_YET.strip().splitlines():
        name, *found = line.split()
        for caliper, each in zip(CALIPERS, found, strict=True):
            if each != "-":
                beyond, _, depth = each.partition("@")
                yield (name, caliper), (int(beyond), float(depth))
