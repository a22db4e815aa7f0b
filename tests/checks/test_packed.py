"""What is said of a thing that does not fit."""

from __future__ import annotations

from cutlayers.checks.packed import check_packed
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.fitting import Item, item
from cutlayers.telling.findings import Severity
from cutlayers.telling.words import sentence_of
from tests.checks.boxes import CALIPER, square_tray, with_tab
from tests.net.standing import standing


def bar(length: float, width: float, height: float, clearance: float = 0.0) -> Item:
    return item("cuboid", {"length": length, "width": width, "height": height}, clearance)


def test_a_thing_that_fits_is_silent() -> None:
    """Inside = score − caliper: 59.5 mm in a tray of 60 mm."""
    assert (
        check_packed(standing([square_tray("tray", 60, 20)]), bar(59.5, 59.5, 19), Card(CALIPER))
        == ()
    )


def test_a_thing_that_is_too_long_is_an_error_with_the_cure() -> None:
    """61 mm in 59.5 mm: 1.5 mm longer would do."""
    box = standing([square_tray("tray", 60, 20)])
    (finding,) = check_packed(box, bar(61, 40, 10), Card(CALIPER))

    assert (finding.code, finding.severity) == ("item-too-large", Severity.ERROR)
    assert sentence_of(finding).cure == "make the box 1.5 mm longer"
    assert (
        "left by 0.8 mm" in sentence_of(finding).found
        or "left by 0.7 mm" in sentence_of(finding).found
    )


def test_slack_that_is_missing_is_a_warning() -> None:
    """The thing goes in, its clearance does not."""
    box = standing([square_tray("tray", 60, 20)])
    (finding,) = check_packed(box, bar(59, 40, 10, clearance=2), Card(CALIPER))

    assert (finding.code, finding.severity) == ("item-too-large", Severity.WARNING)
    assert "clearance of 2 mm" in sentence_of(finding).found


def test_a_thing_above_the_rim_is_a_warning() -> None:
    """The wall is 20 mm from the crease, so 19.75 mm above the floor."""
    box = standing([square_tray("tray", 60, 20)])
    (finding,) = check_packed(box, bar(30, 30, 25), Card(CALIPER))

    assert (finding.code, finding.severity) == ("item-too-tall", Severity.WARNING)
    assert sentence_of(finding).cure == "make the box 5.2 mm higher"


def test_a_tab_that_presses_is_a_warning() -> None:
    """One caliper of glue tab stands inside of the left wall."""
    (finding,) = check_packed(standing([with_tab()]), bar(59.5, 59.5, 10), Card(CALIPER))

    assert (finding.code, finding.severity) == ("item-pressed", Severity.WARNING)
    assert "tab by 0.5 mm" in sentence_of(finding).found


def test_the_roof_space_counts() -> None:
    """A ball may stand up into the gable, a block of the same height may not."""
    style = style_named("gable-carton")
    box = standing(style.build(style.dimensions(height=42), Card(0.3)))

    assert check_packed(box, item("sphere", {"diameter": 58}, 2), Card(0.3)) == ()
    (finding,) = check_packed(box, bar(58, 58, 58), Card(0.3))
    assert "lid: left gusset" in sentence_of(finding).found, "its corners meet the gussets first"
    assert "higher" in sentence_of(finding).cure
