"""Lettering reads upright in the finished box: proven from the folded model of every style."""

from __future__ import annotations

import pytest

from cutlayers.box import Blank, Box
from cutlayers.checks.upside_down import check_upside_down
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.job.reading import job_from
from cutlayers.lettering.inscriptions import Inscription, Turn
from cutlayers.net import Net
from cutlayers.net.features import Feature
from cutlayers.net.space import cross, dot, minus
from cutlayers.reading.toml_file import parse_toml
from cutlayers.telling.errors import StyleError
from tests.artwork.test_upright import steepest, unit
from tests.lettering.lettered import inscribed


def letters(nets: tuple[Net, ...], net: str, panel: str, turn: Turn = "upright") -> list[Feature]:
    """A T on a panel; no letters where it has no room."""
    line = Inscription("T", f"{net}.{panel}", turn=turn, margin=0.5)
    try:
        lettered = inscribed(nets, line)
    except StyleError:
        return []
    (found,) = (each for each in lettered if each.name == net)
    return [each for each in found.panel(panel).features if each.turn_deg is not None]


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_letters_are_upright_on_every_panel_that_is_seen(style: Style) -> None:
    """The bar of a T is level, and stands above its stem the steepest way up."""
    nets = style.build(style.dimensions(), Card(0.3))
    seen = 0
    for net in nets:
        box = Blank(net).seen
        for panel in net.decorated:
            strokes = [each.path for each in letters(nets, net.name, panel)]
            if not strokes:
                continue
            seen += 1
            stem, bar = sorted(strokes, key=lambda path: path.length, reverse=True)
            low, high = (box.place(panel, path.segments[0].point_at(0.5)) for path in (stem, bar))
            ends = [box.place(panel, point) for point in (bar.start, bar.end)]
            normal = box.normal(panel)
            up, across = unit(minus(high, low)), unit(minus(ends[1], ends[0]))
            assert dot(up, steepest(normal)) == pytest.approx(1.0, abs=1e-6), panel
            assert abs(dot(cross(across, up), normal)) == pytest.approx(1.0, abs=1e-6), panel
    assert seen or not any(net.decorated for net in nets)


@pytest.mark.parametrize(
    ("panel", "turn", "told"),
    [
        ("front", 0, True),  # it hangs below the base, and folds up from there
        ("front", 180, False),
        ("front", 90, False),  # on its side may be meant
        ("front", "upright", False),
        ("back", 0, False),  # it stands above the base
        ("back", 180, True),
        ("base", 0, False),
    ],
)
def test_letters_on_their_head_are_told(panel: str, turn: Turn, told: bool) -> None:
    style = style_named("tray")
    nets = style.build(style.dimensions(length=90.0, width=60.0, height=30.0), Card(0.3))
    lettered = inscribed(nets, Inscription("I", panel, turn=turn))

    found = list(check_upside_down(lettered, Box.of(lettered, Card(0.3))))

    assert [(each.subject.panel, round(each.measured[0].value)) for each in found] == (
        [(panel, 180)] if told else []
    )


def test_a_number_stays_what_it_was_and_nothing_is_upright() -> None:
    """The same letters as before, upside down; left out, they are turned by half a turn."""
    paths = {}
    for key, turn in (("number", "turn = 0"), ("word", 'turn = "upright"'), ("none", "")):
        text = f"""\
title = "Trays"
[stock.kraft]
caliper = 0.3
sheet = "A4"
[[piece]]
stock = "kraft"
style = "tray"
size = {{ length = 90, width = 60, height = 30 }}
[[piece.lettering]]
panel = "front"
text = "OB"
{turn}
"""
        (net,) = job_from(parse_toml(text, "job.toml"), "job.toml", "job").orders[0].box.nets
        paths[key] = [each.path.bounds for each in net.panel("front").features]

    assert paths["word"] == paths["none"]
    assert paths["word"] != paths["number"]
