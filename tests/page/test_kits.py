"""A kit that is open: its rows are seen one by one, and made as the command makes them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from cutlayers.page.desk import Desk
from cutlayers.page.making import Making
from tests.folders import files_in
from tests.kits.test_interrupted import JOB, kit, run


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Three trays with a name on their base, two on a sheet of A5 at most."""
    return kit(tmp_path / "in", "Ida", "Vit", "Zoe")


def made(job: Path, tell: Any = lambda _: None) -> Making:
    making = Making(job, tell)
    making.run(job.read_text(), anyway=False)
    return making


def test_rows_are_seen_one_by_one(job: Path) -> None:
    """Each box has what stands in its row, a row that there is not is the last; the job stays."""
    desk = Desk(job)
    assert desk.rows() == {"columns": ["name"], "rows": [["Ida"], ["Vit"], ["Zoe"]]}
    boxes = []

    for number in (0, 1, 9):
        desk.see_row(number)
        state = desk.state()
        boxes.append(state["box"])
        assert state["kit"]["file"] == "guests.csv" and state["kit"]["count"] == 3
        assert state["kit"]["row"] == min(number, 2)
        assert state["kit"]["cells"] == [["name", ("Ida", "Vit", "Zoe")[min(number, 2)]]]

    assert boxes[0] != boxes[1] != boxes[2]
    assert desk.path.read_text() == JOB and not desk.state()["canUndo"]


def test_a_table_that_was_saved_is_read_again(job: Path) -> None:
    desk = Desk(job)
    assert desk.table == job.parent / "guests.csv"
    (job.parent / "guests.csv").write_text("name\nOtto\n")

    desk.look_again()

    assert desk.state()["kit"]["count"] == 1 and desk.rows() == {
        "columns": ["name"],
        "rows": [["Otto"]],
    }


def test_all_rows_lie_on_sheets(job: Path) -> None:
    """Each row on one of them, as the command plans it: a blank of 130 + 2 · 15 by 80 + 2 · 15 mm
    takes more than half of a sheet of 210 by 148."""
    desk = Desk(job)

    told = desk.more(desk.revision)

    assert told is not None
    plan = told["sheets"]["kit"]
    assert (plan["rows"], plan["pieces"]) == (3, 3)
    assert [[row["words"] for row in sheet["rows"]] for sheet in plan["sheets"]] == [
        ["Ida"],
        ["Vit"],
        ["Zoe"],
    ]


def test_another_size_is_compared_for_the_row_that_is_seen(job: Path) -> None:
    """A blank of 130 + 2 · 15 by 110 mm takes a sheet of A5 (148 by 210), and so does a smaller."""
    desk = Desk(job)

    for changes in ([], [{"set": ["piece", 0, "size", "length"], "to": "90", "kind": "length"}]):
        told = desk.compared(changes, 0)
        assert told is not None and told["works"] and told["sheets"] == ["1 × ivory"]
        assert told["sizes"][0] == ("length", "90.0 mm" if changes else "130.0 mm")


def test_a_kit_is_that_of_the_command(job: Path, tmp_path: Path) -> None:
    """Each file to the last byte; how far it has come is told on the way."""
    told: list[Mapping[str, Any]] = []

    making = made(job, told.append)

    assert run("make", job, "-o", tmp_path / "by-command").exit_code == 0
    by_command = files_in(tmp_path / "by-command")
    assert {"manifest.csv", "guide.html", "sheet-3-cut.dxf"} <= {*by_command}
    assert files_in(making.folder) == by_command
    shares = [each["share"] for each in told if each["stage"] == "working"]
    assert shares == sorted(shares) and shares[0] < 0.3 < shares[-1] < 1
    assert told[-1]["stage"] == "done" and told[-1]["written"]
    assert {each["name"] for each in told[-1]["files"]} <= {*by_command}


@pytest.mark.parametrize("at", [0.0, 0.5])
def test_a_kit_that_is_stopped_leaves_nothing_half(job: Path, tmp_path: Path, at: float) -> None:
    """While rows are looked at, or sheets are made; made again it is whole."""
    told: list[Mapping[str, Any]] = []

    def tell(each: Mapping[str, Any]) -> None:
        told.append(each)
        if each.get("share", -1) >= at:
            making.cancel()

    before = [*job.parent.iterdir()]
    making = Making(job, tell)
    making.run(JOB, anyway=False)

    assert told[-1] == {"stage": "cancelled"}
    assert making.files == () and {*job.parent.iterdir()} <= {*before, making.folder}
    assert not making.folder.exists() or files_in(making.folder) == {}
    again = made(job)
    assert run("make", job, "-o", tmp_path / "by-command").exit_code == 0
    assert files_in(again.folder) == files_in(tmp_path / "by-command")


def test_a_row_that_does_not_work_is_told_and_nothing_made(job: Path) -> None:
    """A tray that is larger than any sheet."""
    job.write_text(JOB.replace("length = 130", 'length = "{length}"'))
    (job.parent / "guests.csv").write_text("name,length\nIda,130\nVit,900\n")
    told: list[Mapping[str, Any]] = []

    making = made(job, told.append)

    assert told[-1]["stage"] == "refused" and "too high" in told[-1]["words"]
    assert not making.folder.exists()
