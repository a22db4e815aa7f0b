"""Two sizes or styles side by side: what each takes, as the library says; nothing is written."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from cutlayers import job_in, lay_out, plan, read_profile, report_of
from cutlayers.page.desk import Desk

JOB = """\
profile = "small-laser"

[stock.ivory]
caliper = 0.3
grammage = 250
sheet = "A4"
price = 0.35

[[piece]]
style = "tray"
stock = "ivory"
count = 5
size = { length = 80, width = 60, height = 25 }
"""

LENGTH = ["piece", 0, "size", "length"]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    path = tmp_path / "bars.toml"
    path.write_text(JOB)
    return Desk(path)


def compared(desk: Desk, *changes: dict[str, Any]) -> dict[str, Any]:
    found = desk.compared(changes, 0)
    assert found is not None
    assert desk.path.read_text() == desk.text == JOB
    return found


@pytest.mark.parametrize("length", [80, 150])
def test_a_size_takes_what_the_library_says(desk: Desk, length: int) -> None:
    """A sheet of A4 at 250 g/m² weighs 0.21 × 0.297 × 250 = 15.5925 g; that and its price count as
    often as there are sheets."""
    changes = [] if length == 80 else [{"set": LENGTH, "to": str(length), "kind": "length"}]

    told = compared(desk, *changes)

    job = job_in(JOB.replace("length = 80", f"length = {length}"), desk.path)
    report = report_of(plan(lay_out(job, read_profile("small-laser"), quick=True)))
    sheets = sum(row.copies for row in report.sheets)
    assert told["sheets"] == [f"{sheets} × ivory"]
    assert told["weight"] == pytest.approx(15.5925 * sheets, abs=0.1)
    assert told["cost"] == pytest.approx(0.35 * sheets)
    minutes = [(row.minutes or 0) * row.copies for row in report.sheets]
    assert told["minutes"] == pytest.approx(sum(minutes), abs=0.05 * sheets)
    assert told["sizes"][0] == ("length", f"{length}.0 mm")
    assert told["works"] is True and told["wrong"] == []


def test_a_longer_tray_takes_more_sheets(desk: Desk) -> None:
    """Blanks of 80 + 2 · 25 by 60 + 2 · 25 lie two on A4, those of 150 + 2 · 25 by 110 too, but one
    of 240 by 110 alone."""
    counts = {
        length: compared(desk, {"set": LENGTH, "to": str(length), "kind": "length"})["sheets"]
        for length in (80, 190)
    }

    assert counts == {80: ["3 × ivory"], 190: ["5 × ivory"]}


def test_what_is_taken_is_what_was_compared(desk: Desk) -> None:
    """A style and a size at once; one step back and all is as it was."""
    changes: list[dict[str, Any]] = [
        {"style": "tuck-carton", "piece": 0, "usual": True},
        {"set": LENGTH, "to": "90", "kind": "length", "was": None},
    ]
    told = compared(desk, *changes)

    assert told["style"] == "tuck carton"
    assert desk.change(changes, desk.revision).refused == []
    piece = tomllib.loads(desk.path.read_text())["piece"][0]
    assert (piece["style"], piece["size"]["length"]) == ("tuck-carton", 90)
    assert desk.state()["sizes"] == told["sizes"]
    desk.undo()
    assert desk.path.read_text() == JOB


def test_what_cannot_be_made_is_told_with_its_fields(desk: Desk) -> None:
    told = compared(desk, {"set": LENGTH, "to": "0", "kind": "length"})

    assert told["refused"][0]["place"] == LENGTH
    assert told["controls"][0]["controls"][0]["place"] == tuple(LENGTH)


def test_what_fits_on_no_sheet_does_not_work(desk: Desk) -> None:
    told = compared(desk, {"set": LENGTH, "to": "400", "kind": "length"})

    assert told["works"] is False and told["wrong"]
    assert told["sheets"] == [] and told["minutes"] is told["cost"] is told["weight"] is None


def test_without_price_and_weight_neither_is_known(tmp_path: Path) -> None:
    path = tmp_path / "bars.toml"
    path.write_text(JOB.replace("price = 0.35\n", "").replace("grammage = 250\n", ""))

    told = Desk(path).compared([], 0)

    assert told is not None and told["sheets"] and told["minutes"]
    assert told["cost"] is told["weight"] is None
