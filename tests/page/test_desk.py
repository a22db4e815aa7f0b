"""A job that is open: changes in its text, tried before they are written."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from cutlayers.page.desk import Desk

JOB = """\
# For the winter market.
title = "Bars"
units = "in"
profile = "drag-blade-340"

[stock.ivory]
caliper = "0.3 mm"    # ten sheets, divided
sheet = "A4"

[[piece]]
style = "tray"
stock = "ivory"
# Measured at the stall.
size = { length = "2 7/16 in", width = 2, height = "30 mm" }
"""

LENGTH = ["piece", 0, "size", "length"]
WIDTH = ["piece", 0, "size", "width"]
HEIGHT = ["piece", 0, "size", "height"]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    path = tmp_path / "bars.toml"
    path.write_text(JOB)
    return Desk(path)


def done(desk: Desk, **change: Any) -> list[dict[str, Any]]:
    """Make one change; what was refused."""
    return desk.change([change], desk.revision).refused


def put(desk: Desk, place: list[Any], to: object, kind: str = "length") -> list[dict[str, Any]]:
    return done(desk, set=place, to=to, kind=kind)


def test_a_change_alters_its_own_value_and_nothing_else(desk: Desk) -> None:
    """Comments, order, spaces and all other lines stay as they were."""
    assert put(desk, LENGTH, "3 1/2 in") == []

    assert desk.path.read_text() == JOB.replace("2 7/16 in", "3 1/2 in")


@pytest.mark.parametrize(
    ("place", "by", "found"),
    [
        # A sixteenth more than 2 7/16 in, two less; than 2 in, in a job that counts in inches.
        (LENGTH, 1, "2 1/2 in"),
        (LENGTH, -2, "2 5/16 in"),
        (WIDTH, 1, "2 1/16"),
        # Half a millimetre, where the file has millimetres.
        (HEIGHT, 1, "30.5 mm"),
        (HEIGHT, -4, "28 mm"),
    ],
)
def test_a_length_steps_in_its_own_unit(desk: Desk, place: list[Any], by: int, found: str) -> None:
    """Sixteenths of an inch or half millimetres, written as the length was."""
    assert done(desk, step=place, by=by) == []

    now: Any = tomllib.loads(desk.path.read_text())
    for step in place:
        now = now[step]
    assert now == found


def test_what_cannot_be_is_told_at_its_place_and_not_written(desk: Desk) -> None:
    before = desk.state()

    refused = put(desk, LENGTH, "none")

    assert [each["place"] for each in refused] == [LENGTH]
    assert desk.path.read_text() == JOB
    assert desk.state()["box"] == before["box"]


@pytest.mark.parametrize(
    "change",
    [
        {"set": ["piece", 0], "to": "a tray"},
        {"set": [None], "to": 1},
        {"set": ["title"], "to": "half of a letter \ud800"},
        {"set": ["piece", -1, "size", "width"], "to": 3},
        {"set": [*LENGTH, "more"], "to": 3},
        {"step": LENGTH, "by": 10**400},
        {"remove": ["title"]},
        {"remove": []},
        {"sized": True, "piece": -2},
        {"add": "paper", "piece": 0, "panels": 1.5},
        {"add": "words", "piece": 9, "panels": ["base"]},
        {"holds": "cube", "piece": 0},
        {"anything": "else"},
    ],
    ids=str,
)
def test_what_no_page_of_ours_asks_for_is_refused(desk: Desk, change: dict[str, Any]) -> None:
    """A page that is older than the file, or somebody's own: a sentence, and the file stays."""
    assert done(desk, **change)[0]["words"]
    assert desk.path.read_text() == JOB


@pytest.mark.parametrize("text", ["\u00e9 = [", "title = 1\n[a]\n[a.b]\n[a]\n", "a.b = 1\n[a.b]\n"])
def test_a_text_that_is_no_toml_is_for_its_editor_to_mend(desk: Desk, text: str) -> None:
    """Neither a change nor a cure is written into it."""
    desk.path.write_text(text)
    desk.take_outside()

    for change in (
        {"set": LENGTH, "to": 3},
        {"add": "paper", "piece": 0},
        {"remove": ["piece", 0]},
    ):
        assert done(desk, **change)[0]["words"]
    assert desk.path.read_text() == text


def test_changes_are_undone_and_made_again(desk: Desk) -> None:
    put(desk, LENGTH, "3 in")
    put(desk, WIDTH, "2 1/2")
    both = desk.path.read_text()

    desk.undo()
    desk.undo()
    assert desk.path.read_text() == JOB
    desk.redo()
    desk.redo()
    assert desk.path.read_text() == both
    assert not desk.state()["canRedo"]


def test_what_is_typed_in_one_go_is_undone_in_one_go(desk: Desk) -> None:
    for again, typed in enumerate(("3", "3 1/4", "3 1/4 in")):
        change = {"set": LENGTH, "to": typed, "kind": "length"}
        desk.change([change], desk.revision, again=bool(again))

    desk.undo()

    assert desk.path.read_text() == JOB


def test_what_is_refused_first_is_not_undone_with_what_was_before(desk: Desk) -> None:
    """A field is emptied, which cannot be, and then typed in: that is one go of its own."""
    put(desk, WIDTH, "2 1/2")
    before = desk.path.read_text()
    for again, typed in enumerate(("", "3", "3 in")):
        change = {"set": LENGTH, "to": typed, "kind": "length"}
        desk.change([change], desk.revision, again=bool(again))
    assert 'length = "3 in"' in desk.path.read_text()

    desk.undo()

    assert desk.path.read_text() == before


def test_what_an_editor_saved_while_somebody_typed_is_a_step_back(desk: Desk) -> None:
    put(desk, LENGTH, "3")
    saved = desk.path.read_text().replace("width = 2", "width = 3")
    desk.path.write_text(saved)
    desk.change([{"set": LENGTH, "to": "3 1/2", "kind": "length"}], desk.revision, again=True)

    desk.undo()

    assert desk.path.read_text() == saved


def test_what_an_editor_saves_is_taken_and_can_be_undone(desk: Desk) -> None:
    saved = JOB.replace("width = 2", "width = 3")
    desk.path.write_text(saved)

    assert desk.take_outside()
    assert desk.state()["sizes"][1] == ("width", "3 in")
    desk.undo()
    assert desk.path.read_text() == JOB


def test_changes_of_different_values_are_both_kept(desk: Desk) -> None:
    """An editor saved the width while the length was changed on the page."""
    seen = desk.revision
    desk.path.write_text(JOB.replace("width = 2", "width = 3"))

    answer = desk.change([{"set": LENGTH, "to": "4 in", "kind": "length"}], seen)

    assert answer.refused == [] and answer.conflict is None
    assert desk.path.read_text() == JOB.replace("width = 2", "width = 3").replace(
        "2 7/16 in", "4 in"
    )


def test_changes_of_one_value_are_both_told_and_the_file_s_stays(desk: Desk) -> None:
    seen = desk.revision
    saved = JOB.replace("2 7/16 in", "5 in")
    desk.path.write_text(saved)

    answer = desk.change([{"set": LENGTH, "to": "4 in", "was": "2 7/16 in"}], seen)

    assert answer.conflict == {"place": LENGTH, "theirs": "5 in", "yours": "4 in"}
    assert desk.path.read_text() == saved


def test_of_a_file_that_makes_no_box_the_last_box_stays(desk: Desk) -> None:
    """It is told what is wrong, and the way back leads to what was there."""
    before = desk.state()
    desk.path.write_text(JOB.replace("[[piece]]", "[[piece"))

    state = desk.state()

    assert state["broken"][0]["line"] == 10
    assert state["box"] == before["box"]
    desk.undo()
    assert desk.path.read_text() == JOB
    assert not desk.state()["broken"]


def test_a_box_is_sized_by_what_goes_in_and_back(desk: Desk) -> None:
    assert done(desk, holds="sphere", piece=0) == []
    holds = tomllib.loads(desk.path.read_text())["piece"][0]["holds"]
    # 50 and 2 mm, to the nearest sixteenth of an inch.
    assert holds == {"shape": "sphere", "diameter": "1 15/16", "clearance": "1/16"}
    assert "# Measured at the stall." in desk.path.read_text()

    assert done(desk, sized=True, piece=0) == []
    piece = tomllib.loads(desk.path.read_text())["piece"][0]
    assert "holds" not in piece
    # The ball and the room it asks for: 1 15/16 in and 1/16 in are 2 in each way.
    assert piece["size"] == {"length": 2, "width": 2, "height": 2}


def test_things_are_put_on_panels_and_taken_off(desk: Desk) -> None:
    for change in (
        {"add": "pattern", "piece": 0},
        {"add": "words", "piece": 0, "panels": ["front"]},
        {"add": "paper", "piece": 0, "panels": ["left"]},
        {"add": "letters", "piece": 0, "panels": ["back"]},
    ):
        assert desk.change([change], desk.revision).refused == []
    piece = tomllib.loads(desk.path.read_text())["piece"][0]
    assert [each.get("roles", each.get("panels")) for each in piece["art"]] == ["wall", ["front"]]
    assert piece["facing"][0]["panels"] == ["left"] and piece["lettering"][0]["panel"] == "back"

    for place in (["art", 1], ["art", 0], ["facing", 0], ["lettering", 0]):
        assert done(desk, remove=["piece", 0, *place]) == []
    assert desk.path.read_text() == JOB


@pytest.mark.parametrize("net", ["base", "lid"])
def test_letters_go_on_the_panel_of_the_net_that_was_pressed(tmp_path: Path, net: str) -> None:
    """Both nets of a telescope box have a front."""
    path = tmp_path / "two.toml"
    path.write_text(
        'profile = "drag-blade-340"\n[stock.kraft]\ncaliper = 0.32\nsheet = "12x12 in"\n'
        '[[piece]]\nstyle = "telescope-box"\nstock = "kraft"\n'
        "size = { length = 80, width = 60, height = 40 }\n"
    )
    desk = Desk(path)

    assert done(desk, add="letters", piece=0, panels=["front"], net=net) == []

    assert tomllib.loads(path.read_text())["piece"][0]["lettering"][0]["panel"] == f"{net}.front"


def test_what_goes_on_all_panels_of_a_role_goes_on_that_one(desk: Desk) -> None:
    assert done(desk, add="colour", piece=0, roles="base") == []

    assert tomllib.loads(desk.path.read_text())["piece"][0]["art"][0]["roles"] == "base"


def test_a_cure_mends_the_file_and_can_be_undone(tmp_path: Path) -> None:
    """A gable carton without play: 'lid-tight', whose cure is more of it."""
    path = tmp_path / "tight.toml"
    text = (
        'profile = "drag-blade-340"\n[stock.kraft]\ncaliper = 0.32\nsheet = "12x12 in"\n'
        '[[piece]]\nstyle = "gable-carton"\nstock = "kraft"\n'
        "size = { length = 60, width = 60, height = 62 }\noptions = { clearance = 0 }\n"
    )
    path.write_text(text)
    desk = Desk(path)
    found = desk.more(desk.revision)
    assert found is not None
    tight = next(each for each in found["findings"] if each["code"] == "lid-tight")

    assert desk.cure(tight["number"], desk.revision).refused == []

    assert tomllib.loads(path.read_text())["piece"][0]["options"]["clearance"] > 0
    assert all(each["code"] != "lid-tight" for each in desk.state()["findings"])
    desk.undo()
    assert path.read_text() == text


def test_nothing_is_told_of_a_job_that_has_changed_meanwhile(desk: Desk) -> None:
    old = desk.revision
    put(desk, LENGTH, "3 in")

    assert desk.more(old) is None
    assert desk.cure(0, old).refused


def test_bytes_before_the_text_and_line_ends_stay(tmp_path: Path) -> None:
    """As some editors write them: a byte order mark, and lines that end in two characters."""
    path = tmp_path / "bars.toml"
    written = b"\xef\xbb\xbf" + JOB.replace("\n", "\r\n").encode()
    path.write_bytes(written)

    put(Desk(path), LENGTH, "3 1/2 in")

    assert path.read_bytes() == written.replace(b"2 7/16 in", b"3 1/2 in")
