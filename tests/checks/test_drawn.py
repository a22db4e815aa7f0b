"""Lettering where nobody sees it, and lettering on a crease."""

from __future__ import annotations

import pytest
from pytest import approx

from cutlayers.box import Box
from cutlayers.checks import check_box
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.paths import Path
from cutlayers.lettering.fold_names import with_fold_names
from cutlayers.lettering.inscriptions import Inscription
from cutlayers.net import Feature, Net, Work
from cutlayers.net.guides import with_glue_lines
from cutlayers.telling.findings import Finding
from cutlayers.telling.words import sentence_of
from tests.checks.boxes import square_lid, square_tray
from tests.lettering.lettered import inscribed

LARGE: dict[str, dict[str, float]] = {
    "tray": {"length": 120, "width": 90, "height": 40, "tab": 18},
    "tuck-carton": {"length": 120, "width": 90, "height": 150},
    "crash-lock-carton": {"length": 120, "width": 90, "height": 150},
    "hinged-lid-tray": {"length": 120, "width": 90, "height": 40},
}
"""Boxes whose flaps have room for names."""

CODES = ("drawn-under-panel", "drawn-across-crease")


def told(nets: tuple[Net, ...], *lines: Inscription, caliper: float = 0.3) -> list[Finding]:
    for line in lines:
        nets = inscribed(nets, line)
    return [each for each in check_box(Box.of(nets, Card(caliper))) if each.code in CODES]


def nets_of(style: str, **dims: object) -> tuple[Net, ...]:
    found = style_named(style)
    return found.build(found.dimensions(**dims), Card(0.3))


def covered() -> tuple[Net, ...]:
    """A tray 30 mm high under a lid whose walls, 12 mm high, reach down from 31."""
    return square_tray("base", 80.3, 30), square_lid("lid", 81.4, 12, lift=19)


def test_letters_under_a_lid_are_told() -> None:
    """Turned and pushed to the wall's rim, 2 mm from it, they lie under the lid's wall; pushed to
    its foot they are in sight."""
    rim, foot = (
        Inscription("II", "base.front", height=5, turn=90, align=end, margin=2)
        for end in ("left", "right")
    )
    (finding,) = told(covered(), rim)

    assert told(covered(), foot) == []
    assert finding.code == "drawn-under-panel"
    assert "2 lines of its lettering cannot be seen" in sentence_of(finding).found
    assert sentence_of(finding).found.endswith("under front of the lid")


def test_letters_below_the_lid_are_not() -> None:
    """In the middle of the 30 mm of wall, 5 mm high, 12.5 mm from its rim; the lid covers 11."""
    assert told(covered(), Inscription("II", "base.front", height=5)) == []


def test_letters_on_a_closing_flap_that_is_under_another_are_told() -> None:
    """A dust flap lies under the closing panel, whose own letters are seen."""
    flap, top = (
        Inscription("II", name, height=2, margin=1) for name in ("left top dust flap", "top")
    )
    (finding,) = told(nets_of("tuck-carton"), flap, top)

    assert (finding.code, finding.subject.panel) == ("drawn-under-panel", "left top dust flap")
    assert [each.panel for each in finding.others] == ["top"]


def test_letters_on_a_glue_tab_are_told() -> None:
    (finding,) = told(nets_of("tray", tab=15.0), Inscription("I", "front left tab", 3, margin=1))

    assert (finding.code, [each.panel for each in finding.others]) == (
        "drawn-under-panel",
        ["left"],
    )


@pytest.mark.parametrize("style", ["tray", "tuck-carton", "telescope-box"])
def test_guide_lines_are_meant_to_be_hidden(style: str) -> None:
    """Where the glue goes and which way flaps fold is no lettering."""
    nets = tuple(with_fold_names(with_glue_lines(net), 0.3) for net in nets_of(style))

    assert told(nets) == []


@pytest.mark.parametrize(
    ("caliper", "margin", "reach"),
    [(0.3, 3.0, None), (0.3, 0.1, 0.2), (1.0, 0.1, 0.9), (1.0, 1.0, None)],
)
def test_letters_on_a_crease_are_told(caliper: float, margin: float, reach: float | None) -> None:
    """As large as the margin leaves room for, they reach from rim to crease of a wall 12 mm high:
    into what a crease takes, a caliper to either side, less the margin."""
    found = told(
        (square_tray("tray", 80, 12),), Inscription("I", "front", margin=margin), caliper=caliper
    )

    if reach is None:
        assert found == []
    else:
        assert [each.code for each in found] == ["drawn-across-crease"]
        assert found[0].measured[0].value == pytest.approx(reach, abs=1e-6)


@pytest.mark.parametrize(("margin", "reach"), [(0.2, 0.8), (1.0, None)])
def test_letters_cut_through_a_crease_are_told(margin: float, reach: float | None) -> None:
    """What is cut out of a crease weakens it: a window as broad as the wall less its margin, in
    card of 1 mm."""
    net = square_tray("tray", 80, 12)
    left, bottom, _, top = net.panel("front").outline.bounds
    inner = Path.rectangle(20.0, top - bottom - 2 * margin, (left + 30.0, bottom + margin))
    net = net.work("front", Feature(Work.WINDOW, inner, "lettering I", traced=True))
    found = told((net,), caliper=1.0)

    assert [each.measured[0].value for each in found] == ([] if reach is None else [approx(reach)])


@pytest.mark.parametrize(("at", "reach"), [(0.4, 0.6), (1.5, None)])
def test_a_guide_on_a_crease_is_told(at: float, reach: float | None) -> None:
    """A glue line that runs along the crease of its tab, in card of 1 mm."""
    (net,) = nets_of("tray", tab=15.0)
    (crease,) = net.hinges_of(["front left tab"])
    tab = crease.edge
    (x0, y0), (x1, y1) = tab.point_at(0.3), tab.point_at(0.7)
    ux, uy = tab.direction_at(0.5)
    left, bottom, right, top = net.panel("front left tab").outline.bounds
    inward = 1.0 if (-uy) * ((left + right) / 2 - x0) + ux * ((bottom + top) / 2 - y0) > 0 else -1.0
    dx, dy = -uy * at * inward, ux * at * inward
    line = Path.line((x0 + dx, y0 + dy), (x1 + dx, y1 + dy))
    net = net.work("front left tab", Feature(Work.GUIDE, line, "glue line"))
    found = told((net,), caliper=1.0)

    assert [each.measured[0].value for each in found] == ([] if reach is None else [approx(reach)])
    if found:
        assert "its guide lines reach 0.6 mm into a crease" in sentence_of(found[0]).found


@pytest.mark.parametrize("caliper", [0.3, 1.0, 2.0])
@pytest.mark.parametrize("style", ["tray", "tuck-carton", "crash-lock-carton", "hinged-lid-tray"])
def test_our_own_guides_keep_off_creases(style: str, caliper: float) -> None:
    """Names of folds stand clear of what a crease takes in thick card too."""
    made = style_named(style)
    nets = made.build(made.dimensions(**LARGE[style]), Card(caliper))
    nets = tuple(with_fold_names(with_glue_lines(net), caliper) for net in nets)

    assert any(panel.features for net in nets for panel in net.panels)
    assert [each for each in told(nets, caliper=caliper) if each.code == CODES[1]] == []


def test_letters_on_the_strip_of_a_fold_right_over_are_told() -> None:
    """With a pocket between, the pages of a folder in 1 mm card stand five layers apart: a strip of
    5 mm bends, 2.5 mm of it on either page. Letters 1 mm from its middle lie 1.5 mm in it."""
    style = style_named("folder")
    (net,) = style.build(style.dimensions(length=90, height=60, pocket=20), Card(1.0))
    (fold,) = (each for each in net.hinges if {each.first, each.second} == {"front", "back"})
    line = Inscription("I" * 90, "front", margin=1.0)

    assert fold.strip == pytest.approx(5.0)
    (found,) = told((net,), line, caliper=1.0)
    assert found.code == "drawn-across-crease"
    assert found.measured[0].value == pytest.approx(1.5, abs=0.05)
