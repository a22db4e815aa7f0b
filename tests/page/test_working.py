"""A sheet as it is worked, moment by moment: what the page is told of it."""

from __future__ import annotations

import itertools
import math
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from ezdxf import path as dxf_paths
from shapely import LineString, MultiLineString, Point

import cutlayers
from cutlayers.page.desk import Desk

JOB = """\
profile = "drag-blade-340"
[stock.ivory]
caliper = 0.3
sheet = "A4"
[[piece]]
style = "tuck-carton"
stock = "ivory"
size = { length = 60, width = 30, height = 40 }
"""


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    path = tmp_path / "bars.toml"
    path.write_text(JOB)
    return Desk(path)


def told(desk: Desk, number: int = 0) -> dict[str, Any]:
    assert desk.more(desk.revision) is not None
    found = desk.working(desk.revision, number)
    assert found is not None
    return found


def pairs(flat: list[float]) -> list[tuple[float, float]]:
    return list(zip(flat[::2], flat[1::2], strict=True))


def test_the_times_are_those_of_the_report(desk: Desk) -> None:
    """Moves follow each other, the last ends when the report says, to its thousandth of a
    minute; each layer begins after those before it."""
    found = told(desk)
    job = cutlayers.read_job(desk.path)
    machine = cutlayers.machine_for(desk.path, job.profile, None)
    report = cutlayers.report_of(cutlayers.plan(cutlayers.lay_out(job, machine)))

    moves = found["moves"]
    assert found["seconds"] / 60 == pytest.approx(report.sheets[0].minutes, abs=6e-4)
    assert moves[-1]["end"] == pytest.approx(found["seconds"], abs=1e-3)
    for before, after in itertools.pairwise(moves):
        assert before["start"] < before["end"] <= after["start"]
        assert before["line"] <= after["line"]
    layers = [found["lines"][each["line"]]["layer"] for each in moves]
    told_of = [row.layer for row in report.sheets[0].layers if row.tool]
    assert [layer for layer, _ in itertools.groupby(layers)] == told_of


def test_the_holder_goes_along_the_lines_of_the_file(desk: Desk) -> None:
    """All of each layer, as ezdxf reads it from the file that the machine gets, and nothing
    besides; the blade hangs behind it by the profile's offset."""
    found = told(desk)
    job = cutlayers.read_job(desk.path)
    machine = cutlayers.machine_for(desk.path, job.profile, None)
    drawn = cutlayers.draw(cutlayers.plan(cutlayers.lay_out(job, machine)))
    file = desk.path.parent / "sheet-1.dxf"
    file.write_bytes(cutlayers.render(drawn)["sheet-1.dxf"])
    written: dict[str, list[LineString]] = {}
    for entity in ezdxf.readfile(file).modelspace():
        line = LineString([(at.x, at.y) for at in dxf_paths.make_path(entity).flattening(0.001)])
        written.setdefault(entity.dxf.layer, []).append(line)

    offset = machine.tools["blade"].offset
    lengths: dict[str, float] = {}
    for move in found["moves"]:
        points = pairs(move["axis"])
        if move["lifted"]:
            assert len(points) == 2 and not move["tip"]
            continue
        line = found["lines"][move["line"]]
        lines = MultiLineString(written[line["layer"]])
        assert max(lines.distance(Point(at)) for at in points) < 0.005
        if line["turn"] == 1:
            lengths[line["layer"]] = lengths.get(line["layer"], 0.0) + LineString(points).length
        if line["tool"] == "blade":
            tips = pairs(move["tip"])
            away = [math.dist(at, tip) for at, tip in zip(points, tips, strict=True)]
            assert away == pytest.approx([offset] * len(away), abs=1e-3)
    for layer, length in lengths.items():
        passes = next(line["turns"] for line in found["lines"] if line["layer"] == layer)
        in_file = sum(each.length for each in written[layer]) / passes
        assert length == pytest.approx(in_file, rel=1e-3), layer


def test_nothing_is_told_of_sheets_that_are_not_there(desk: Desk) -> None:
    """Before anybody looked, of another side, and of a job that has changed."""
    assert desk.working(desk.revision, 0) is None
    told(desk)
    assert desk.working(desk.revision, 1) is None
    change = {"set": ["piece", 0, "size", "length"], "to": "62", "kind": "length"}
    assert desk.change([change], desk.revision).refused == []

    assert desk.working(desk.revision, 0) is None
