"""Relief from the job's dial to the files, and what is told of it."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner
from ezdxf.path import make_path

import cutlayers
from cutlayers.box import build
from cutlayers.cli import main
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.strokes import Part
from cutlayers.guide.ruler import RULERS
from cutlayers.guide.scoring import hand_blank
from cutlayers.telling.errors import StyleError
from tests.folders import files_in

JOB = """\
title = "Trays"
profile = "drag-blade-340"

[stock.card]
caliper = CALIPER
sheet = "A4"

[[piece]]
style = "tray"
stock = "card"
size = { length = 80, width = 60, height = 30, measure = "score" }
"""


def made(folder: Path, caliper: float, relief: str = "") -> Path:
    """What is made of a tray of card so thick, with the key of its stock as it is written."""
    key = f"\nrelief = {relief}" if relief else ""
    (folder / "tray.toml").write_text(JOB.replace("CALIPER", f"{caliper}{key}"))
    out = folder / f"out {caliper} {relief}"
    result = CliRunner().invoke(main, ["make", str(folder / "tray.toml"), "-o", str(out)])
    assert result.exit_code == 0, result.output
    return out


def scored(folder: Path) -> float:
    """mm of score in the DXF file, by another reader; scored twice or once."""
    lines = ezdxf.readfile(folder / "sheet-1.dxf").modelspace().query('*[layer=="score"]')
    paths = {tuple(point.vec2 for point in make_path(line).flattening(0.01)) for line in lines}
    return math.fsum(math.dist(one, other) for path in paths for one, other in pairwise(path))


def test_creases_are_shorter_in_the_files(tmp_path: Path) -> None:
    """A tray has twelve ends of creases at inner corners: both of its long walls', and both of its
    four tabs'; those of the short walls, a layer farther out, end on straight edges. Each stops one
    caliper short, or as far as the job says, in place of the 0.5 mm that the profile pulls scores
    back from cuts."""
    without = scored(made(tmp_path, 1.0, "0"))

    for size, relief in ((1.0, ""), (0.8, "'0.8 mm'")):
        shorter = without - scored(made(tmp_path, 1.0, relief))
        assert shorter == pytest.approx(12 * (size - 0.5), abs=1e-3)


def test_thin_card_has_the_same_files_as_without(tmp_path: Path) -> None:
    """Below 0.5 mm nobody need say that there is to be none. Common practice, no source."""
    assert files_in(made(tmp_path, 0.45)) == files_in(made(tmp_path, 0.45, "0"))


@pytest.mark.parametrize(("caliper", "usual"), [(0.3, 0.0), (0.49, 0.0), (0.5, 0.5), (1.5, 1.5)])
def test_relief_is_a_caliper_from_half_a_millimetre_on(caliper: float, usual: float) -> None:
    """Common practice, no source."""
    box = cutlayers.build("tray", caliper=caliper, length=80, width=60, height=30)

    assert [blank.relief for blank in box.blanks] == [usual]


def test_each_net_has_the_relief_of_its_own_card() -> None:
    """A base of board has some, its lid of card none."""
    sizes = {"length": 80, "width": 60, "height": 30}
    box = cutlayers.build("telescope-box", **sizes, caliper={"base": 1.0, "lid": 0.3})  # type: ignore[arg-type]

    assert [blank.relief for blank in box.blanks] == [1.0, 0.0]


def test_the_report_says_where_relief_was_added(tmp_path: Path) -> None:
    """One sentence, in the report and on the page to follow; none where there is none."""
    told = "creases stop 1.00 mm short of 12 inner corners of cuts"
    with_relief, without = made(tmp_path, 1.0), made(tmp_path, 1.0, "0")

    for name in ("report.txt", "guide.html"):
        assert (with_relief / name).read_text().count(told) == 1
        assert "[relief]" not in (without / name).read_text()


def test_the_dial_is_a_length_of_a_box_made_without_a_file() -> None:
    """Refused like the caliper."""
    box = cutlayers.build("tray", caliper=0.3, relief="1/32 in", length=80, width=60, height=30)
    assert box.blanks[0].relief == pytest.approx(25.4 / 32)

    with pytest.raises(StyleError, match="relief") as refused:
        cutlayers.build("tray", caliper=0.3, relief=-1, length=80, width=60, height=30)
    assert refused.value.field == "relief"


@pytest.mark.parametrize("style", ["tray", "house-box", "pop-up-card"])
def test_relief_by_hand_is_drawn_and_not_measured(style: str) -> None:
    """Nobody finds a millimetre beside a corner along a ruler: rows, points and cuts are told as
    without, the drawings show what a machine works."""
    found = style_named(style)
    plain, relieved = (
        build(found, found.dimensions(), Card(1.0, relief=relief)).blanks[0]
        for relief in (0.0, 1.0)
    )
    whole, hand = (hand_blank("n", each, RULERS["1mm"]) for each in (plain, relieved))

    assert hand.drawn == relieved.lines != hand.lines == whole.drawn == whole.lines
    assert (hand.rounds, hand.stops) == (len(relieved.relieved.holes), relieved.relieved.stops)
    assert replace(hand, drawn=whole.drawn, relief=0.0, rounds=0, stops=0) == whole


def test_the_page_for_the_hand_says_what_to_do(tmp_path: Path) -> None:
    """A tapered tray of 1 mm board by hand: holes first, then scores that stop short; of card of
    0.3 mm nothing is said."""
    for caliper, told in ((1.0, 1), (0.3, 0)):
        (tmp_path / "tray.toml").write_text(
            JOB.replace("CALIPER", str(caliper))
            .replace('profile = "drag-blade-340"\n', "")
            .replace('"tray"', '"tapered-tray"')
            .replace(
                "length = 80, width = 60, height = 30", "side = 60, rim_side = 80, height = 40"
            )
        )
        page = tmp_path / f"{caliper}.html"
        result = CliRunner().invoke(
            main, ["guide", str(tmp_path / "tray.toml"), "--by-hand", "-o", str(page)]
        )
        assert result.exit_code == 0, result.output
        words = (
            "before you cut, punch 4 holes about 2 mm wide where cuts end or creases meet in a "
            "point, and stop scores about 1 mm short of 8 inner corners of cuts."
        )
        assert page.read_text().count(words) == told


def test_a_hole_has_room_for_a_blade() -> None:
    """Of the thinnest card with relief, holes are 1 mm across: twice the offset of a coarse blade,
    0.5 mm, which is common practice, no source."""
    style = style_named("pop-up-card")
    (blank,) = build(style, style.dimensions(), Card(0.5, relief=0.5)).blanks
    holes = [line.path.bounds for line in blank.lines if line.part is Part.OPENING]

    assert {round(right - left, 6) for left, _, right, _ in holes} == {1.0}
