"""A job made from a drawing that is open: what its lines are, and how far its folds turn.

The drawing is samples/candle-tray.svg, whose lines are counted here in the order of its file: 1 to
27 are red, the outline, and 28 to 36 blue, the creases.
"""

from __future__ import annotations

import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest

from cutlayers.page.desk import Desk

SAMPLES = Path(__file__).parents[2] / "samples"

JOB = """\
title = "Tray"
profile = "drag-blade-340"

[stock.card]
caliper = 0.3
sheet = "A4"

[[piece]]
drawing = "candle-tray.svg"
stock = "card"

[piece.lines]    # as Ada drew it
cut = [{colour = "#FF0000"}]
score = [{colour = "#0000FF"}]

[piece.folds]    # degrees
"panel 1 | panel 4" = 90
"panel 2 | candles" = 85    # leans a little
"panel 3 | panel 6" = 90
"panel 4 | candles" = 90
"panel 4 | panel 7" = 90
"candles | panel 6" = 90
"candles | panel 9" = 90
# The last one.
"panel 6 | panel 8" = 90
"""

FOLD = ["piece", 0, "folds", "panel 6 | panel 8"]


def opened(folder: Path, text: str = JOB) -> Desk:
    shutil.copy(SAMPLES / "candle-tray.svg", folder)
    path = folder / "tray.toml"
    path.write_text(text)
    return Desk(path)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return opened(tmp_path)


def done(desk: Desk, **change: Any) -> list[dict[str, Any]]:
    return desk.change([change], desk.revision).refused


def said(desk: Desk, number: int, kind: str | None) -> list[dict[str, Any]]:
    return done(desk, line=number, **{"is": kind}, piece=0)


def piece(desk: Desk) -> dict[str, Any]:
    found: dict[str, Any] = tomllib.loads(desk.path.read_text())["piece"][0]
    return found


def crease(desk: Desk, number: int) -> dict[str, Any]:
    """The fold that a line of the drawing makes."""
    (found,) = [f for f in desk.state()["box"]["drawn"]["folds"] if number in f["lines"]]
    return dict(found)


def line(desk: Desk, number: int) -> dict[str, Any]:
    return dict(desk.state()["box"]["drawn"]["lines"][number - 1])


def test_the_drawing_is_shown_as_it_was_drawn(desk: Desk) -> None:
    """The file: red lines run from x 20 to 170 and y 20 to 140, the page is 160 high and has y
    down; line 33 goes from (49.6, 50) to (20, 50). Nine panels on eight creases."""
    drawn = desk.state()["box"]["drawn"]

    assert [each["kind"] for each in drawn["lines"]] == ["cut"] * 27 + ["score"] * 9
    assert drawn["box"][2:] == pytest.approx((150, 120))
    assert len(drawn["panels"]) == 9
    assert len(drawn["folds"]) == 8
    middle = crease(desk, 33)["at"]
    assert middle[0] - drawn["box"][0] == pytest.approx((49.6 + 20) / 2 - 20)
    assert middle[1] - drawn["box"][1] == pytest.approx(50 - 20)


def test_an_angle_is_written_where_it_stands(desk: Desk) -> None:
    assert done(desk, set=FOLD, to="-45", kind="number") == []

    assert desk.path.read_text() == JOB.replace('8" = 90', '8" = -45')
    assert crease(desk, 36)["angle"] == -45
    desk.undo()
    assert desk.path.read_text() == JOB


def test_an_angle_that_cannot_be_is_told_and_not_written(desk: Desk) -> None:
    """Panels turn by half a circle at most."""
    refused = done(desk, set=FOLD, to="200", kind="number")

    assert [each["place"] for each in refused] == [FOLD]
    assert desk.path.read_text() == JOB


def test_a_fold_without_an_angle_is_told_until_it_is_said(tmp_path: Path) -> None:
    desk = opened(tmp_path, JOB.replace('"panel 6 | panel 8" = 90\n', ""))
    open_ones = [each for each in desk.state()["findings"] if each["folds"]]

    assert [(each["code"], each["folds"]) for each in open_ones] == [
        ("drawing-not-folded", ["panel 6 | panel 8"])
    ]
    assert crease(desk, 36)["angle"] is None
    assert done(desk, set=FOLD, to="90", kind="number") == []
    assert not [each for each in desk.state()["findings"] if each["folds"]]
    assert piece(desk)["folds"]["panel 6 | panel 8"] == 90


def test_a_line_is_said_by_its_number_and_angles_stay_with_their_creases(desk: Desk) -> None:
    """Line 33 cut takes a corner flap off, which makes two nets with other names of panels. The
    wall on crease 28 leans as before; the flap's own crease is gone."""
    assert said(desk, 33, "cut") == []

    now = piece(desk)
    assert now["lines"]["cut"] == [{"colour": "#FF0000"}, {"numbers": [33]}]
    assert now["lines"]["score"] == [{"colour": "#0000FF"}]
    assert line(desk, 33)["kind"] == "cut"
    assert len(now["folds"]) == 7
    assert crease(desk, 28)["angle"] == 85
    text = desk.path.read_text()
    assert "[piece.lines]    # as Ada drew it" in text
    assert "# The last one." in text
    desk.undo()
    assert desk.path.read_text() == JOB


def test_a_box_that_was_stretched_is_shown_as_drawn_and_stays_stretched(tmp_path: Path) -> None:
    """Its long sides were drawn 90 mm apart; line 1 is said what it is already."""
    desk = opened(tmp_path, JOB.replace('"card"\n', '"card"\nsize = { length = 95 }\n', 1))

    assert desk.state()["box"]["drawn"]["box"][2:] == pytest.approx((150, 120))
    assert said(desk, 1, "cut") == []
    assert piece(desk)["size"] == {"length": 95}
    assert len(piece(desk)["folds"]) == 8


def test_a_line_is_of_one_kind_alone(desk: Desk) -> None:
    for kind in ("cut", "perforate", "ignore"):
        assert said(desk, 33, kind) == []
    assert said(desk, 34, "ignore") == []
    lines = piece(desk)["lines"]
    assert lines["cut"] == [{"colour": "#FF0000"}]
    assert lines["ignore"] == [{"numbers": [33, 34]}]
    assert "perforate" not in lines

    assert said(desk, 33, None) == []
    assert said(desk, 34, None) == []
    assert piece(desk)["lines"] == tomllib.loads(JOB)["piece"][0]["lines"]
    assert line(desk, 33)["kind"] == "score"


def test_tables_under_heads_of_their_own_take_numbers_too(tmp_path: Path) -> None:
    heads = JOB.replace(
        'score = [{colour = "#0000FF"}]\n', '\n[[piece.lines.score]]\ncolour = "#0000FF"\n'
    )
    desk = opened(tmp_path, heads)

    assert said(desk, 4, "score") == []
    assert said(desk, 5, "score") == []
    lines = piece(desk)["lines"]
    assert lines["score"] == [{"colour": "#0000FF"}, {"numbers": [4, 5]}]
    assert said(desk, 4, "cut") == []
    assert piece(desk)["lines"]["score"] == [{"colour": "#0000FF"}, {"numbers": [5]}]


@pytest.mark.parametrize(
    "change",
    [
        {"line": 99, "is": "cut", "piece": 0},
        {"line": 1, "is": "glue", "piece": 0},
        {"line": 1, "is": "cut", "piece": 3},
        {"line": 1, "is": 4, "piece": 0},
    ],
)
def test_what_there_is_not_is_refused(desk: Desk, change: dict[str, Any]) -> None:
    assert desk.change([change], desk.revision).refused != []
    assert desk.path.read_text() == JOB


def test_findings_of_lines_name_them(tmp_path: Path) -> None:
    """A line that ends inside of a panel may be a slit or a slip; both its ends meet nothing."""
    (tmp_path / "slit.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">'
        '<g fill="none" stroke="#000"><path d="M5 5H55V35H5Z"/><path d="M30 15V25"/></g></svg>'
    )
    head, _, _ = JOB.partition("[piece.lines]")
    desk = opened(tmp_path, head.replace("candle-tray", "slit"))

    found = {each["code"]: each["lines"] for each in desk.state()["findings"] if each["lines"]}
    assert found == {"drawing-doubtful": [2], "drawing-loose-ends": [2]}
    assert line(desk, 2)["doubtful"]
    assert line(desk, 2)["loose"]
    assert said(desk, 2, "cut") == []
    assert not line(desk, 2)["doubtful"]


def test_what_is_said_of_a_drawing_as_a_whole_has_controls(tmp_path: Path) -> None:
    """How large it is drawn has one where the file says it; what a style alone has has none."""

    def keys(text: str, name: str) -> dict[str, Any]:
        folder = tmp_path / name
        folder.mkdir()
        parts = opened(folder, text).state()["controls"]
        assert parts["size"] == parts["details"] == []
        return {c["place"][-1]: c["value"] for g in parts["drawing"] for c in g["controls"]}

    usual = {"length", "width", "height", "join", "ends", "shows"}
    assert keys(JOB, "plain").keys() == usual
    scaled = JOB.replace('"card"\n', '"card"\nscale = 2\njoin = 0.5\n', 1)
    found = keys(scaled, "scaled")
    assert found.keys() == {*usual, "scale"}
    assert found["join"] == 0.5
    assert found["scale"] == 2
    known = JOB.replace("[piece.folds]", "[piece.known]\nline = 2\nlength = 45\n\n[piece.folds]")
    assert keys(known, "known").keys() == {*usual, "line"}
