"""Flat nets fold up to what they were drawn as.

The expected angles, roles and landings are those that our styles give their nets, which know
nothing of how they are found again here.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

import pytest

from cutlayers.bringing.angles import fold_up
from cutlayers.bringing.bends import bends
from cutlayers.bringing.folding_up import Answer
from cutlayers.bringing.panels import FlatNet
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.net import Net, Role
from cutlayers.net.folding import fold
from cutlayers.net.panel import Hinge, Panel
from tests.bringing.stripped import nets, same_angles, stripped

CALIPERS = (0.0, 0.3)

NOT_FOUND = {
    "pillow-pack: pillow": "its panels bend along curved creases",
}
"""Nets without a rigid fold-up that tells itself, and why."""

CARDS = ("folder: folder", "header-card: header")
"""Two halves: how far they are closed nothing tests."""

LEANS = ("gable-carton: lid",)
"""Where card has no thickness nothing keeps the ridge from leaning over."""

WINGS = ("crash-lock-carton: carton",)
"""Glue tabs that go straight on onto the next panel: that they lie on it is no doubt."""

GAPES = {
    "hinged-lid-tray: tray": 2.0,
    "gusset-bag: bag": 2.0,
    "slide-lock-mailer: mailer": 0.5,
    "gable-carton: lid": 2.0,
    "gusseted-envelope: envelope": 0.25,
}
"""mm; sides drawn with play: of a lid, of tabs that end short of a corner, and of a tongue; the
layers in a ridge; half of the play of a bottom between sides."""

EVERY = sorted(nets(0.3))


@pytest.mark.parametrize("caliper", CALIPERS)
@pytest.mark.parametrize("name", [name for name in EVERY if name not in NOT_FOUND])
def test_every_hinge_gets_the_angle_that_the_style_gives_it(name: str, caliper: float) -> None:
    """And none is doubtful but of a card in two halves, and creases that stay flat; sides that
    meet lie as far apart as the card steps its creases."""
    net = nets(caliper)[name]

    found = fold_up(stripped(net))

    assert found is not None
    assert same_angles(net, found.net) == len(net.hinges)
    flat = {
        f"{hinge.first} | {hinge.second}"
        for hinge in found.net.hinges
        if name in CARDS or (hinge.fold_deg == 0 and name not in WINGS)
    }
    assert flat <= set(found.doubtful)
    assert flat or (name in LEANS and not caliper) or not found.doubtful
    assert found.gap <= max(GAPES.get(name, 0.0), 4 * caliper) + 1e-9


@pytest.mark.parametrize("name", sorted(NOT_FOUND))
def test_what_does_not_tell_itself_is_not_made_up(name: str) -> None:
    """No answer, or one of which every angle that is not the style's is in doubt."""
    net = nets(0.3)[name]

    found = fold_up(stripped(net))

    if found is not None:
        sure = [
            abs(abs(hinge.fold_deg) - abs(wanted.fold_deg)) < 0.05
            for hinge, wanted in zip(found.net.hinges, net.hinges, strict=True)
            if f"{hinge.first} | {hinge.second}" not in found.doubtful
        ]
        assert all(sure)


ROLES = {
    "counter-tray: tray",
    "crash-lock-carton: carton",
    "folder: folder",
    "gable-carton: base",
    "gusset-bag: bag",
    "hang-tag: tag",
    "header-card: header",
    "hinged-lid-tray: tray",
    "house-box: house",
    "prism-box: base",
    "sleeve-and-drawer: drawer",
    "sleeve-and-drawer: sleeve",
    "tapered-tray: tray",
    "telescope-box: base",
    "tray: tray",
    "tuck-carton: carton",
}
"""Nets all of whose panels are seen to be what the style says they are. Of others some are not: a
petal or a lid's flap on which another lies, a solid's upper faces, a lid that is a net of its own,
flaps of a pyramid that are tied, not glued."""


@pytest.mark.parametrize("name", sorted(ROLES))
def test_roles_are_those_of_the_style(name: str) -> None:
    """And tabs land on the panel that they are glued to, on the same side."""
    net = nets(0.3)[name]
    found = fold_up(stripped(net))
    assert found is not None
    names = {panel.name: f"panel {number}" for number, panel in enumerate(net.panels, 1)}

    assert [panel.role for panel in found.net.panels] == [panel.role for panel in net.panels]
    assert [(panel.lands_on, panel.under) for panel in found.net.panels] == [
        (names[panel.lands_on] if panel.lands_on else None, panel.under) for panel in net.panels
    ]


@pytest.mark.parametrize("name", sorted(ROLES))
def test_a_box_stands_on_its_base(name: str) -> None:
    """The base's outside looks down, and nothing lies below it."""
    found = fold_up(stripped(nets(0.3)[name]))
    assert found is not None
    folded = fold(found.net)
    for panel in found.net.panels:
        if panel.role is Role.BASE:
            assert folded.normal(panel.name)[2] == pytest.approx(-1)
            assert folded.place(panel.name, panel.outline.start)[2] == pytest.approx(0, abs=0.7)


def tray(*given: float | str | None) -> FlatNet:
    """A base 60 × 40 with walls 20 high on all sides, no tabs."""
    places = {
        "base": ((0, 0), 60, 40),
        "front": ((0, -20), 60, 20),
        "right": ((60, 0), 20, 40),
        "back": ((0, 40), 60, 20),
        "left": ((-20, 0), 20, 40),
    }
    panels = [
        Panel(name, Role.WALL, Path.rectangle(wide, high, at), ("bottom", "right", "top", "left"))
        for name, (at, wide, high) in places.items()
    ]
    corners = [(0, 0), (60, 0), (60, 40), (0, 40), (0, 0)]
    hinges = [
        Hinge("base", name, Segment(start, end), 0.0)
        for name, (start, end) in zip(list(places)[1:], pairwise(corners), strict=True)
    ]
    return FlatNet(Net("tray", tuple(panels), tuple(hinges)), given or (None,) * 4)


def angles(flat: FlatNet) -> list[float]:
    """What it folds up to."""
    found = fold_up(flat)
    assert found is not None
    return [hinge.fold_deg for hinge in found.net.hinges]


def test_walls_of_a_tray_stand_up() -> None:
    """Worked by hand: three right angles round each corner leave right angles between walls."""
    assert angles(tray()) == pytest.approx([90, 90, 90, 90])


def test_valleys_turn_a_box_inside_out() -> None:
    """Where the drawing says so of one fold and of no other."""
    assert angles(tray("valley", None, None, None)) == pytest.approx([-90, -90, -90, -90])
    assert angles(tray(-90.0, None, None, None)) == pytest.approx([-90, -90, -90, -90])


def test_a_given_angle_is_kept() -> None:
    """Even where the walls then do not meet: the box is as the drawing says."""
    assert angles(tray(60.0, None, None, None))[0] == 60.0


def test_a_cube_closes() -> None:
    """A cross of six squares, without tabs: the angles between a cube's faces."""
    places = [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (0, 2)]
    panels = [
        Panel(
            f"face {number}",
            Role.WALL,
            Path.rectangle(30, 30, (30.0 * x, 30.0 * y)),
            ("bottom", "right", "top", "left"),
        )
        for number, (x, y) in enumerate(places)
    ]
    creases = [
        (0, 1, (30, 0), (30, 30)),
        (0, 2, (0, 30), (0, 0)),
        (0, 3, (30, 30), (0, 30)),
        (0, 4, (0, 0), (30, 0)),
        (3, 5, (30, 60), (0, 60)),
    ]
    hinges = [
        Hinge(f"face {one}", f"face {other}", Segment(start, end), 0.0)
        for one, other, start, end in creases
    ]
    found = fold_up(FlatNet(Net("cube", tuple(panels), tuple(hinges)), (None,) * 5))

    assert found is not None
    assert [hinge.fold_deg for hinge in found.net.hinges] == pytest.approx([90] * 5)
    assert found.gap == pytest.approx(0, abs=1e-6)
    assert found.doubtful == ()


def strip(*widths: float) -> FlatNet:
    """Panels 30 mm high in a row."""
    left, panels, hinges = 0.0, [], []
    for number, wide in enumerate(widths):
        outline = Path.rectangle(wide, 30, (left, 0))
        edges = ("bottom", "right", "top", "left")
        panels.append(Panel(f"panel {number}", Role.WALL, outline, edges))
        if number:
            crease = Segment((left, 0), (left, 30))
            hinges.append(Hinge(f"panel {number - 1}", f"panel {number}", crease, 0.0))
        left += wide
    return FlatNet(Net("strip", tuple(panels), tuple(hinges)), (None,) * len(hinges))


@pytest.mark.parametrize("widths", [(50, 20, 40), (40,) * 3, (40,) * 4, (40,) * 6])
def test_a_strip_that_holds_nothing_is_not_folded(widths: tuple[float, ...]) -> None:
    """Pages in a row can lie at any angle: that those of one size close to a square tube, and lie
    on each other as they go round again, makes no box of a leaflet."""
    assert fold_up(strip(*widths)) is None


@pytest.mark.parametrize("widths", [(50, 20, 50, 20, 10), (40, 40, 40, 40, 12)])
def test_a_strip_with_a_tab_is_a_tube(widths: tuple[float, ...]) -> None:
    """Worked by hand: equal walls opposite, and a tab that lies on the first one."""
    flat = strip(*widths)
    found = fold_up(flat)

    assert found is not None
    assert [hinge.fold_deg for hinge in found.net.hinges] == pytest.approx([90] * 4)
    assert found.doubtful == ()
    assert found.net.panel("panel 4").lands_on == "panel 0"


def test_a_net_of_very_many_creases_is_not_tried() -> None:
    """It would take minutes; its angles can be said."""
    flat = strip(*[20.0] * 300)

    assert fold_up(flat) is None
    assert "more than 100 folds" in Answer(flat, 1, None).why_not


@pytest.mark.parametrize(
    ("given", "side", "why"),
    [
        ((None,) * 4, "drawn", "nothing says"),
        (("mountain", None, None, None), "drawn", "are mountains"),
        (("valley", -90.0, None, 90.0), "behind", "are valleys"),
    ],
)
def test_which_side_is_out_is_told_with_its_reason(
    given: tuple[float | str | None, ...], side: str, why: str
) -> None:
    """By most of the folds that are given: a tray of mountains alone has the drawn side out."""
    found = fold_up(tray(*given))
    assert found is not None

    assert found.outside == side
    assert why in found.outside_reason


@pytest.mark.parametrize(("shows", "side"), [("outside", "drawn"), ("inside", "behind")])
def test_which_side_is_out_can_be_said(shows: Literal["outside", "inside"], side: str) -> None:
    """Then folds that are not given are mountains, whatever others are: an inside was turned over
    before."""
    found = fold_up(tray("valley", "valley", None, None), shows)
    assert found is not None

    assert found.outside == side
    assert [hinge.fold_deg > 0 for hinge in found.net.hinges[2:]] == [True, True]


def test_two_creases_that_are_not_in_line_bend_what_they_hold() -> None:
    """Worked by hand: a panel cannot turn about two lines at once."""
    upper = Hinge("left", "right", Segment((20, 20), (25, 40)), 0.0)
    lower = Hinge("left", "right", Segment((20, 0), (20, 20)), 0.0)
    left = Path.polygon(((0, 0), (20, 0), (20, 20), (25, 40), (0, 40)))
    right = Path.polygon(((20, 0), (50, 0), (50, 40), (25, 40), (20, 20)))
    names = tuple(f"edge {number}" for number in range(1, 6))
    panels = (Panel("left", Role.WALL, left, names), Panel("right", Role.WALL, right, names))

    assert bends(Net("leaf", panels, (lower, upper))) == (lower, upper)
    assert bends(tray().net) == ()
