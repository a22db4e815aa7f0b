"""Which card each style is good for: ranges made by hand, and what `check` says beyond them.

The windows are common practice, no source, for boxes of the size of each style's example: folding
cartons of 0.25 to 0.6 mm, hand-made ones to a millimetre and more; what folds right over of paper
to stout card; greyboard of 1.5 mm is creased for trays, of 2 and 3 mm never.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.box import Box, Origin, build
from cutlayers.checks import check_box
from cutlayers.checks.calipers import check_calipers
from cutlayers.construction.calipers import calipers_of
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.net import Net, Role
from cutlayers.net.shapes import rectangle
from cutlayers.telling.errors import StyleError
from cutlayers.telling.findings import Severity
from cutlayers.telling.words import in_words
from tests.boxes import Spread, boxes, trying

WINDOWS = """
counter-tray       0.15 0.3   1.2 1.7
crash-lock-carton  0.15 0.3   0.5 0.8
envelope           0    0.1   0.3 0.6
folder             0    0.1   0.4 0.8
gable-carton       0.15 0.3   0.4 0.8
gusset-bag         0    0.1   0.3 0.6
gusseted-envelope  0    0.1   0.3 0.6
hang-tag           0    0.1   -   -
header-card        0    0.1   0.4 0.8
hinged-lid-tray    0.15 0.3   1.0 1.7
house-box          0.15 0.3   1.0 1.7
partition          0    0.1   -   -
petal-top-box      0.1  0.3   0.8 1.5
pillow-pack        0.15 0.3   0.4 0.6
platonic-solid     0.1  0.3   0.8 1.5
pop-up-card        0    0.1   0.4 0.8
prism-box          0.15 0.3   1.2 1.7
pyramid-box        0.1  0.3   0.8 1.5
sleeve-and-drawer  0.15 0.3   1.2 1.7
slide-lock-mailer  0.15 0.3   0.8 1.5
snap-lock-carton   0.15 0.3   0.8 1.5
tapered-tray       0.1  0.3   1.2 1.7
telescope-box      0.15 0.3   1.2 1.7
tray               0.15 0.3   1.5 1.7
tuck-carton        0.15 0.3   0.8 1.5
belly-band          0    0.1   0.6 1.7
"""
"""Style, then between what its least caliper in mm should lie and between what its most; "-" where
nothing sets one."""

EXPECTED = {line.split()[0]: line.split()[1:] for line in WINDOWS.strip().splitlines()}

CALIPERS = (0.1, 0.2, 0.3, 0.5, 1.0, 1.5, 2.0, 3.0)

every_style = pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)


@every_style
def test_a_style_says_sensible_calipers(style: Style) -> None:
    """At its own sizes."""
    least_from, least_to, most_from, most_to = EXPECTED[style.name]

    found = calipers_of(style)

    assert found.least is not None
    assert float(least_from) <= found.least <= float(least_to)
    if most_from == "-":
        assert found.most is None and found.limit is None
    else:
        assert found.most is not None and found.limit is not None
        assert float(most_from) <= found.most <= float(most_to)


@every_style
@pytest.mark.parametrize("caliper", CALIPERS)
def test_check_says_what_the_style_says(style: Style, caliper: float) -> None:
    """An error above the most, a warning below the least, neither between."""
    found = calipers_of(style)
    try:
        box = build(style, style.dimensions(), Card(caliper))
    except StyleError:
        return

    codes = {each.code for each in check_box(box)}

    assert ("card-too-thick" in codes) == (found.most is not None and caliper > found.most)
    assert ("card-too-thin" in codes) == (found.least is not None and caliper < found.least)


def test_an_envelope_of_greyboard_is_an_error_that_names_its_limit() -> None:
    """3 mm, where 0.6 mm fold right over."""
    style = style_named("envelope")
    box = build(style, style.dimensions(), Card(3.0))

    finding = next(each for each in check_box(box) if each.code == "card-too-thick")

    assert finding.severity is Severity.ERROR
    assert finding.measured[0].value == 3.0
    assert finding.allowed is not None and finding.allowed.most[0].value == 0.6


@pytest.mark.parametrize(("tuck", "most"), [(15.0, 1.5), (8.0, 0.8), (5.0, 0.5)])
def test_the_most_follows_from_the_tuck_that_was_asked_for(tuck: float, most: float) -> None:
    """Ten calipers."""
    style = style_named("tuck-carton")

    found = calipers_of(style, style.dimensions(tuck_depth=tuck, thumb=0))

    assert found.most == pytest.approx(most)


@pytest.mark.parametrize(("tab", "most"), [(12.0, 1.65), (4.4, 1.0), (5.0, 1.2)])
def test_the_most_follows_from_the_tab_that_was_asked_for(tab: float, most: float) -> None:
    """Two grooves of 1.5 calipers and 0.7 mm: 3 c + 1.4 mm = tab, to 0.05 mm below."""
    style = style_named("tray")

    found = calipers_of(style, style.dimensions(tab=tab))

    assert found.most == pytest.approx(most)


@every_style
@pytest.mark.parametrize("caliper", [0.7, 1.0, 2.0, 3.0])
def test_card_of_the_caliper_that_is_named_will_do(style: Style, caliper: float) -> None:
    """A box in card too thick, and again in the most that the finding allows."""
    try:
        found = check_calipers(build(style, style.dimensions(), Card(caliper)))
    except StyleError:
        return
    for finding in found:
        if finding.code == "card-too-thick" and finding.allowed is not None:
            thinner = Card(finding.allowed.most[0].value)
            again = check_calipers(build(style, style.dimensions(), thinner))
            assert [each for each in again if each.subject == finding.subject] == []


SPREAD = Spread(calipers=(0.1, 3.0))


def box_of(style: Style, dims: object, card: Card) -> Box | None:
    """None where the style makes none."""
    try:
        return build(style, dims, card)
    except StyleError:
        return None


def codes_of(box: Box, net: str | None) -> set[str]:
    """What is said of the card of one net."""
    return {each.code for each in check_calipers(box) if each.subject.net == net}


@every_style
@trying(8)
@given(data=st.data())
def test_what_is_said_of_card_holds_at_any_size(style: Style, data: st.DataObject) -> None:
    """Of the caliper that a finding names the box can be made, and the finding is gone; of one
    half a tenth thicker (thinner, where it is the least) it is not, or no such box is made. Where
    none is named, none of ten calipers does."""
    drawn = data.draw(boxes(style, SPREAD))
    box = build(style, drawn.dims, drawn.card)

    for finding in check_calipers(box):
        if finding.code not in ("card-too-thick", "card-too-thin"):
            continue
        thick, net = finding.code == "card-too-thick", finding.subject.net
        if finding.allowed is None:
            for caliper in (0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 1.6, 2.5):
                if caliper < drawn.card.caliper:
                    other = box_of(style, drawn.dims, replace(drawn.card, caliper=caliper))
                    assert other is None or finding.code in codes_of(other, net)
            continue
        named = (finding.allowed.most if thick else finding.allowed.least)[0].value
        again = box_of(style, drawn.dims, replace(drawn.card, caliper=named))
        if thick:
            assert again is not None
        assert again is None or finding.code not in codes_of(again, net)
        beyond = named + (0.05 if thick else -0.05)
        if beyond >= 0.02 and (beyond < drawn.card.caliper) is thick:
            other = box_of(style, drawn.dims, replace(drawn.card, caliper=beyond))
            assert other is None or finding.code in codes_of(other, net)


def test_card_that_no_caliper_of_will_do_is_said_so() -> None:
    """A tab of 1.3 mm is narrower than the rule of a groove and its like beyond, 2 × 0.7 mm."""
    net = Net.start("tray", "base", rectangle(60, 60), caliper=0.3)
    net = net.attach("tab", rectangle(20, 1.3), to="base.top", role=Role.FLAP)
    origin = Origin(
        replace(style_named("tray"), build=lambda _dims, _card: (net,)), None, Card(0.3)
    )

    (finding,) = check_calipers(Box.of((net,), Card(0.3), origin))

    assert finding.allowed is None
    assert "no card will do at these sizes" in in_words(finding)
