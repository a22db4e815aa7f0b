"""What each style refuses, the dimension it names, and the value that works instead."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from cutlayers.construction.card import Card, Measure
from cutlayers.construction.refusing import refuse_unless_none
from cutlayers.construction.styles import (
    gable_carton,
    header_card,
    style_named,
    tray,
    tuck_carton,
)
from cutlayers.construction.styles.gable_carton import GableCarton
from cutlayers.construction.styles.header_card import HeaderCard
from cutlayers.construction.styles.tray import Tray
from cutlayers.construction.styles.tuck_carton import TuckCarton
from cutlayers.net import Net
from cutlayers.telling.errors import StyleError
from cutlayers.telling.refusals import Allowed, Span

CARD = Card(0.3, "score")

# Dimensions, the dimension named, a value that the message must name, and words of the reason.
# The limits are worked out by hand beside each row, score to score.
REFUSED: dict[str, tuple[Any, str, float, str]] = {
    # Half of a side wall of 20.
    "tray tab too long": (Tray(60, 20, 30, tab=12), "options.tab", 10, "half the side wall"),
    # Two tabs of 4 need 8.
    "tray too narrow for tabs": (Tray(60, 7, 30, tab=4), "size.width", 8, "two glue tabs"),
    # Half a millimetre clear at both ends: atan((5 − 1 − 2)/2/12) = 4.764°, rounded down.
    "tray tab tapered away": (Tray(60, 60, 5), "options.taper", 4.7, "leaves too little"),
    "tray too low for a tab": (Tray(60, 60, 1.5, taper=0), "size.height", 3, "too low"),
    # Lid 60 + 0.6 + 1 = 61.6 wide: half of it and half a millimetre.
    "roof too short": (
        GableCarton(60, 60, 62, roof_depth=30.8),
        "options.roof_depth",
        31.3,
        "cannot reach each other",
    ),
    "gussets collide": (GableCarton(60, 70, 62), "size.length", 70, "gussets collide"),
    "lid wall too tall": (
        GableCarton(60, 60, 20, lid_height=25, tab=10),
        "options.lid_height",
        20,
        "stand on the table",
    ),
    # No wall of a lid is lower than 5 mm.
    "base lower than any lid": (GableCarton(60, 60, 4), "size.height", 5, "lowest lid wall"),
    "lid tab too long": (GableCarton(60, 20, 62), "options.tab", 10, "half the side wall"),
    # (6 − 2)/2 / tan 15° = 7.464, rounded down.
    "tab on a low base": (
        GableCarton(60, 60, 6, lid_height=5),
        "options.tab",
        7.4,
        "wall of the base",
    ),
    # 0.9 × 3 / tan 15° = 10.076.
    "tab on a low ridge": (GableCarton(60, 60, 62, ridge_height=3), "options.tab", 10, "ridge"),
    "punch too large for the ridge": (
        GableCarton(60, 60, 62, ridge_height=8, punch=5),
        "options.punch",
        4,
        "ridge of 8 mm",
    ),
    "punch on a ridge too low for any": (
        GableCarton(60, 60, 62, ridge_height=4, punch=3),
        "options.punch",
        0,
        "0 leaves it out",
    ),
    # In the strips 30.8 − 12 − 4 − 0.1; between them nothing.
    "punch without a place": (
        GableCarton(60, 60, 62, ridge_height=30, punch=16),
        "options.punch",
        14.7,
        "no place",
    ),
    # Tab 12 + radius 1.5 + border 2 up to 30.8 − 3.5.
    "punch in the seam tab": (
        GableCarton(60, 60, 62, punch=3, punch_inset=12),
        "options.punch_inset",
        15.5,
        "seam tab",
    ),
    # Lid 121.6 × 51.6: strips 15.5 to 22.3, between 29.3 to 57.3.
    "punch on the strip's edge": (
        GableCarton(120, 50, 62, punch=3, punch_inset=26),
        "options.punch_inset",
        29.3,
        "four layers",
    ),
    "punches that meet in the middle": (
        GableCarton(120, 50, 62, punch=3, punch_inset=60.8),
        "options.punch_inset",
        57.3,
        "the other hole",
    ),
    "a pin prick": (GableCarton(60, 60, 62, punch=0.5), "options.punch", 1, "too small"),
    # Two calipers less than the wall, so that it meets neither the front nor the tuck behind it.
    "carton tab too wide": (TuckCarton(60, 10, 90), "options.tab", 9.4, "that it lands on"),
    # Three layers of 0.3 clear at both ends: (10 − 1.8 − 2)/2 / tan 15° = 11.569.
    "carton tab on a low wall": (
        TuckCarton(60, 30, 10, tab=15),
        "options.tab",
        11.5,
        "10 mm high",
    ),
    # 45 − 7/2 − 10: below that the hole would go through the bag.
    "hole through the bag": (
        HeaderCard(100, 45, punch_inset=38),
        "options.punch_inset",
        31.5,
        "goes through the bag",
    ),
    # 20 − 2 − 10 − 0.1.
    "hole too large for the bag": (HeaderCard(100, 20, punch=9), "options.punch", 7.9, "the bag"),
    "dust flaps meet": (
        TuckCarton(30, 60, 90, dust_depth=20),
        "options.dust_depth",
        15,
        "flaps meet",
    ),
    # Less three layers of 0.3 at the other end.
    "tuck deeper than the carton": (
        TuckCarton(60, 60, 30, tuck_depth=31),
        "options.tuck_depth",
        29.1,
        "deeper than the box",
    ),
    "straight tucks meet": (
        TuckCarton(60, 60, 30, ends="straight", tuck_depth=16),
        "options.tuck_depth",
        15,
        "meet behind the front",
    ),
    # A tuck of 15 less 1 all round.
    "thumb past the tuck": (TuckCarton(90, 30, 90, thumb=29), "options.thumb", 28, "keeps it on"),
    "thumb too wide": (TuckCarton(20, 30, 90, thumb=12), "options.thumb", 10, "keeps it on"),
    "tear strip too narrow": (TuckCarton(60, 30, 90, tear=2), "options.tear", 3, "too narrow"),
    # Front free from 5 to 90 − 15, less a tenth.
    "tear strip too wide": (
        TuckCarton(90, 30, 75, tear=58),
        "options.tear",
        54.9,
        "clear of the tucks",
    ),
    "tear strip on the bottom fold": (
        TuckCarton(60, 30, 90, tear=8, tear_at=0),
        "options.tear_at",
        5,
        "above the bottom",
    ),
    "tear strip behind a straight tuck": (
        TuckCarton(60, 30, 90, ends="straight", tear=8, tear_at=10),
        "options.tear_at",
        15,
        "above the bottom",
    ),
    # 90 − 15 − 8.
    "tear strip behind the top tuck": (
        TuckCarton(60, 30, 90, tear=8, tear_at=70),
        "options.tear_at",
        67,
        "above the bottom",
    ),
    "carton too low": (TuckCarton(60, 30, 8), "size.height", 10, "too low"),
    # The least flap of 4 with half a millimetre to both sides.
    "carton too narrow": (TuckCarton(60, 4, 90, tab=4), "size.width", 5, "too narrow"),
    # 4, what two walls take up, half a millimetre, and two layers for the tuck behind the seam.
    "carton too short": (TuckCarton(4, 30, 90), "size.length", 5.4, "too short"),
    "carton too short, no tuck at its seam": (
        TuckCarton(4, 30, 90, ends="straight"),
        "size.length",
        4.8,
        "too short",
    ),
}

BUILDS = {
    Tray: tray.build,
    GableCarton: gable_carton.build,
    TuckCarton: tuck_carton.build,
    HeaderCard: header_card.build,
}


def build(dims: Any, card: Card | None = None) -> tuple[Net, ...]:
    """The nets, by whichever style the dimensions belong to; gable cartons as sheets, of which the
    formulas above are."""
    if card is None:
        card = replace(CARD, coarse=1.0) if isinstance(dims, GableCarton) else CARD
    return BUILDS[type(dims)](dims, card)  # type: ignore[operator, no-any-return]


def limits(allowed: Allowed | None) -> Iterator[float | None]:
    """Every limit of what is allowed."""
    for span in allowed if isinstance(allowed, tuple) else (allowed,):
        if isinstance(span, Span):
            yield from (span.least, span.most)


@pytest.mark.parametrize(("dims", "field", "works", "words"), REFUSED.values(), ids=REFUSED.keys())
def test_a_dimension_out_of_reach_is_refused_with_one_that_works(
    dims: Any, field: str, works: float, words: str
) -> None:
    """The message names the value found and the limit, and the limit itself is accepted."""
    with pytest.raises(StyleError) as caught:
        build(dims)

    error, name = caught.value, field.partition(".")[2]
    assert error.field == field
    assert words in str(error)
    assert works in (error.works, *limits(error.refusal.allowed))
    assert f"{works:g}" in str(error)
    try:
        build(replace(dims, **{name: works}))
    except StyleError as other:
        # Another dimension may be out of reach as well, but this one is done with.
        assert other.field != field


@pytest.mark.parametrize(
    ("dims", "field"),
    [
        (Tray(1, 60, 30), "size.length"),
        (Tray(90, 1, 30), "size.width"),
        (GableCarton(60, 60, 1), "size.height"),
        (TuckCarton(60, 30, 2), "size.height"),
    ],
)
@pytest.mark.parametrize("measure", ["score", "outside"])
def test_a_box_that_its_own_card_fills_is_refused(dims: Any, field: str, measure: Measure) -> None:
    """Card of 2 mm leaves nothing of 1 or 2 mm."""
    with pytest.raises(
        StyleError, match="of which card 2 mm thick leaves less than 1 mm"
    ) as caught:
        build(dims, Card(2.0, measure))

    assert caught.value.field == field


@pytest.mark.parametrize("tuck", [None, 10.0])
def test_a_straight_carton_keeps_its_tucks_apart(tuck: float | None) -> None:
    """A carton 20 high takes tucks of 10 at most, and of a third of it if none are given."""
    (net,) = build(TuckCarton(60, 60, 20, ends="straight", tuck_depth=tuck))

    depths = [
        net.panel(f"{end} tuck").outline.bounds[3] - net.panel(f"{end} tuck").outline.bounds[1]
        for end in ("top", "bottom")
    ]
    assert depths == pytest.approx([tuck or 20 / 3] * 2)


def test_a_small_carton_gets_a_small_thumb_cut() -> None:
    """25 × 12 × 70: half the length is 12.5, the tuck 6, so the cut is 6 across."""
    (net,) = build(TuckCarton(25, 12, 70, tab=10))

    assert net.panel("front").edge("thumb cut").chord == pytest.approx(6)


def test_a_carton_can_do_without_thumb_cuts() -> None:
    """0 leaves plain walls of four edges."""
    (net,) = build(TuckCarton(60, 30, 90, thumb=0))

    assert net.panel("front").edges == ("bottom", "right", "top", "left")


def test_walls_too_flat_for_thick_card_are_refused_with_a_height_that_works() -> None:
    """Between walls that fold by 12.6° a step of 2 mm is 2/sin 12.6° = 9.2 mm along the rim, which
    is 9 mm long."""
    style = style_named("tapered-tray")
    dims = style.dimensions(side=23.0, rim_side=9.0, height=8.2, sides=10)

    with pytest.raises(StyleError) as caught:
        style.build(dims, Card(2.0, "score"))

    least, _ = limits(caught.value.refusal.allowed)
    assert caught.value.field == "size.height" and least is not None
    style.build(replace(dims, height=least), Card(2.0, "score"))


@pytest.mark.parametrize(("value", "works"), [(1.0, 0.0), (9.0, 0.0), (6.25, None), (0.0, None)])
def test_where_no_tenth_lies_within_the_limits_only_nothing_is_named(
    value: float, works: float | None
) -> None:
    """From 6.24 to 6.26 mm: rounded inwards the one limit would send the reader to the other, and
    back again. What lies between is taken all the same."""
    try:
        refuse_unless_none("options.slit", value, 6.24, 6.26, ("too short", "too long"))
    except StyleError as error:
        assert error.works == works
    else:
        assert works is None
