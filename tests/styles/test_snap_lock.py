"""A snap-lock bottom locks: its tongue goes through the recess and lies inside of the back."""

from __future__ import annotations

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.net.folding import fold
from cutlayers.telling.errors import StyleError

CALIPERS = (0.2, 0.3, 0.5, 1.0, 1.5)

STYLE = style_named("snap-lock-carton")


@pytest.mark.parametrize("caliper", CALIPERS)
def test_the_tongue_lies_inside_of_the_back_panel(caliper: float) -> None:
    """Face to face: a caliper from middle to middle, over a quarter of the width."""
    (net,) = STYLE.build(STYLE.dimensions(length=70, width=45, height=100), Card(caliper, "score"))
    folded = fold(net)
    back, tongue = (folded.net.panel(name) for name in ("back bottom", "front bottom end"))

    level, *_ = {round(folded.place(back.name, at)[2], 6) for at in back.outline.vertices}
    ends = [folded.place(tongue.name, at) for at in tongue.outline.vertices]
    assert [z for *_, z in ends] == pytest.approx([level + caliper] * len(ends))
    recess = max(
        folded.place(back.name, at)[1]
        for at in (back.edge("top notch-2").start, back.edge("top notch-2").end)
    )
    assert max(y for _, y, _ in ends) - recess >= 45 / 4 - 0.5


@pytest.mark.parametrize("caliper", CALIPERS)
def test_the_tongue_has_an_entry_as_wide_as_its_card(caliper: float) -> None:
    """And half a millimetre: between the edges of both panels, and on either side of it."""
    (net,) = STYLE.build(STYLE.dimensions(), Card(caliper))
    folded = fold(net)
    back, body = (folded.net.panel(name) for name in ("back bottom", "front bottom"))
    tongue = folded.net.panel("front bottom end")

    notch = [back.edge(f"top notch-{index}") for index in (1, 2, 3)]
    near = max(folded.place(body.name, at)[1] for at in body.outline.vertices)
    far = folded.place(back.name, notch[1].start)[1]
    assert far - near >= caliper + 0.5 - 1e-6
    wide = abs(
        folded.place(back.name, notch[1].end)[0] - folded.place(back.name, notch[1].start)[0]
    )
    xs = [folded.place(tongue.name, at)[0] for at in tongue.outline.vertices]
    assert wide - (max(xs) - min(xs)) >= 2 * (caliper + 0.5) - 1e-6


def test_a_bottom_too_narrow_for_its_tongue_is_refused_with_a_width_that_works() -> None:
    """In card 1.5 mm thick a tongue of at least 4 mm, its ramp and what stays clear of the back."""
    with pytest.raises(StyleError) as caught:
        STYLE.build(STYLE.dimensions(width=22), Card(1.5))

    assert caught.value.field == "size.width"
    works = caught.value.works
    assert isinstance(works, float)
    STYLE.build(STYLE.dimensions(width=works), Card(1.5))
