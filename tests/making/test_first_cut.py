"""The coupon that is cut first, in the waste of a sheet; and files for each tool."""

from __future__ import annotations

import io
import tomllib
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest
import shapely
from click.testing import CliRunner
from shapely.geometry.base import BaseGeometry

from cutlayers.cli import main
from cutlayers.geometry.strokes import Operation
from cutlayers.job.reading import job_from
from cutlayers.making.make import draw, lay_out, plan, render
from cutlayers.profile.machine import Machine
from cutlayers.profile.operations import Bridges
from cutlayers.profile.output import FilesPlan, RegisterPlan
from cutlayers.profile.reading import find_profile, read_profile
from cutlayers.report.report import report_text
from tests.jobs import TRAY
from tests.trials.machines import LASER
from tests.trials.machines import machine as laser

JOB = TRAY.replace("A4", "A5") + "[sheets]\ncoupon = true\n"


def machine(name: str, **files: object) -> Machine:
    how = FilesPlan(("dxf", "svg"), **files)  # type: ignore[arg-type]
    return replace(read_profile(find_profile(name)), files=how)


def led_by_the_machine() -> Machine:
    """A blade whose files have the bare lines."""
    shipped = machine("drag-blade-340")
    blade = replace(shipped.tools["blade"], swivel="machine", overcut=0.0)
    return replace(shipped, tools={**shipped.tools, "blade": blade})


MADE: dict[str, dict[str, bytes]] = {}


def made(text: str, onto: Machine) -> dict[str, bytes]:
    """The files of a job, made once for all tests."""
    key = f"{text}{onto}"
    if key not in MADE:
        job = job_from(tomllib.loads(text), "job.toml", "job")
        MADE[key] = render(draw(plan(lay_out(job, onto))))
    return MADE[key]


def usual() -> dict[str, bytes]:
    """The job on the blade that the file leads."""
    return made(JOB, machine("drag-blade-340"))


def lines(file: bytes, *layers: str) -> list[BaseGeometry]:
    """The lines of some layers, or of all, read with the DXF library; its arcs as chords."""
    found: list[BaseGeometry] = []
    for entity in ezdxf.read(io.StringIO(file.decode())).modelspace():
        if layers and entity.dxf.layer not in layers:
            continue
        path = ezdxf.path.make_path(entity)
        found.append(shapely.linestrings([(p.x, p.y) for p in path.flattening(0.005)]))
    return found


def test_a_coupon_is_a_square_a_v_and_a_hole() -> None:
    """Half an inch, which both kinds of ruler show; a hole of 3 mm; and a V, open at one end."""
    made_lines = lines(made(JOB, led_by_the_machine())["sheet-1-coupon.dxf"], "cut")
    shapes = [shapely.Polygon(line.coords) for line in made_lines if line.is_ring]
    (open_line,) = [line for line in made_lines if not line.is_ring]
    hole, square = sorted(shapes, key=lambda shape: shape.area)

    left, bottom, right, top = square.bounds
    assert (right - left, top - bottom) == pytest.approx((12.7, 12.7), abs=1e-6)
    assert square.area == pytest.approx(12.7**2, abs=1e-6)
    assert hole.area == pytest.approx(3.14159265 * 1.5**2, rel=2e-3)
    assert square.contains(hole) and square.contains(open_line)
    assert len(open_line.coords) == 3


def test_what_is_inside_is_cut_before_the_square() -> None:
    """Or the hole would be cut in a loose piece of card."""
    sizes = [
        line.length for line in lines(made(JOB, led_by_the_machine())["sheet-1-coupon.dxf"], "cut")
    ]

    assert max(sizes) == sizes[-1] > 50.0


@pytest.mark.parametrize("profile", ["drag-blade-340", "desktop-a4", "small-laser"])
def test_a_coupon_lies_in_waste(profile: str) -> None:
    """Clear of pieces, marks and what sets the blade straight, and within reach."""
    onto = machine(profile)
    files = made(JOB, onto)
    coupon = shapely.union_all(lines(files["sheet-1-coupon.dxf"], "cut"))
    sheet = shapely.union_all(lines(files["sheet-1.dxf"]))
    reach = shapely.box(0, 0, 148, 210).buffer(-onto.bed.margin)

    assert coupon.distance(sheet) > 0.4
    assert reach.covers(coupon)


def test_a_coupon_has_no_bridges() -> None:
    """They would hold it where the cut goes through: its lines are those without."""
    plain = led_by_the_machine()
    cut = replace(plain.operations[Operation.CUT], bridges=Bridges(0.5, count=3))
    bridged = replace(plain, operations={**plain.operations, Operation.CUT: cut})

    files, with_bridges = made(JOB, plain), made(JOB, bridged)
    assert with_bridges["sheet-1-coupon.dxf"] == files["sheet-1-coupon.dxf"]
    assert with_bridges["sheet-1.dxf"] != files["sheet-1.dxf"]


def test_only_on_request() -> None:
    """Without it the files are those without it."""
    plain = made(JOB.replace("coupon = true", ""), machine("drag-blade-340"))

    assert not any("coupon" in name for name in plain)
    assert lines(plain["sheet-1.dxf"], "register") == lines(usual()["sheet-1.dxf"], "register")


def test_a_coupon_has_the_origin_of_its_sheet() -> None:
    """The register marks are in both files, at the same place."""
    marks = lines(usual()["sheet-1-coupon.dxf"], "register")

    assert marks == lines(usual()["sheet-1.dxf"], "register")
    assert marks


@pytest.mark.parametrize(
    ("profile", "words"),
    [
        ("drag-blade-340", ["12.7 mm", "1/2 in", "3 mm", "trial offset", "threads"]),
        ("small-laser", ["12.7 mm", "brown", "trial kerf"]),
    ],
)
def test_what_to_look_for_is_on_the_setup_sheet(profile: str, words: list[str]) -> None:
    """In the report and on the page; a laser's faults are others than a blade's."""
    files = made(JOB, machine(profile))
    report = " ".join(files["report.txt"].decode().split())
    page = " ".join(files["guide.html"].decode().split())

    for word in ["sheet-1-coupon", *words]:
        assert word in report
    for word in words:
        assert word in page


def test_a_coupon_holds_no_pieces_in_the_report() -> None:
    """Nothing is counted twice."""
    job = job_from(tomllib.loads(JOB), "job.toml", "job")
    report = draw(plan(lay_out(job, machine("drag-blade-340")))).report

    coupon, sheet = report.sheets
    assert (coupon.pieces, coupon.used_share, coupon.off_cuts) == ({}, 0.0, ())
    assert sheet.pieces == {"tray": 1}
    assert report_text(report).count("1 × tray") == 1


def test_a_sheet_without_room_says_so() -> None:
    """A card of 60 × 40 mm, of which a strip of 14 mm is left at most where it takes 16.7."""
    full = (
        JOB.replace('"A5"', "[74, 54]")
        .replace("tray", "header-card")
        .replace("{ length = 60, width = 40, height = 20 }", "{ length = 60, height = 20 }")
    )
    onto = replace(led_by_the_machine(), register=RegisterPlan(shape="none"))
    layout = lay_out(job_from(tomllib.loads(full), "job.toml", "job"), onto)

    assert "no-room-for-coupon" in {finding.code for finding in layout.findings}
    assert [side.name for side in layout.sides] == ["sheet-1"]


def test_the_command_makes_it(tmp_path: Path) -> None:
    """From the job file to the disk."""
    job = tmp_path / "job.toml"
    job.write_text(JOB)

    result = CliRunner().invoke(
        main, ["make", str(job), "-p", "drag-blade-340", "-o", str(tmp_path / "out")]
    )

    assert result.exit_code == 0, result.output
    assert (tmp_path / "out" / "sheet-1-coupon.dxf").exists()
    assert (tmp_path / "out" / "sheet-1-coupon.png").exists()


def test_a_file_for_each_tool_has_all_of_its_layers_and_one_origin() -> None:
    """Scores and cuts of a machine that cuts both are in one file; marks are in all."""
    onto = replace(laser(LASER), files=FilesPlan(("dxf",), split="tools"))
    files = made(JOB, onto)
    whole = made(JOB, replace(onto, files=FilesPlan(("dxf",))))

    names = {name for name in files if name.endswith(".dxf")}
    assert names == {"sheet-1-beam.dxf", "sheet-1-coupon-beam.dxf"}
    assert lines(files["sheet-1-beam.dxf"]) == lines(whole["sheet-1.dxf"])


def test_files_for_tools_together_are_the_whole_sheet() -> None:
    """Blade and stylus: each line once, the marks in both, and the same page in SVG."""
    onto = machine("drag-blade-340", split="tools")
    files = made(JOB.replace("coupon = true", ""), onto)
    whole = made(JOB.replace("coupon = true", ""), machine("drag-blade-340"))["sheet-1.dxf"]

    assert {name for name in files if name.endswith(".svg")} == {
        "sheet-1-blade.svg", "sheet-1-stylus.svg",
    }  # fmt: skip
    for tool, layer in (("blade", "cut"), ("stylus", "score")):
        file = files[f"sheet-1-{tool}.dxf"]
        assert lines(file) == [*lines(whole, layer), *lines(whole, "register")]
    pages = {
        files[f"sheet-1-{tool}.svg"].split(b"viewBox=")[1].split(b'"')[1]
        for tool in ("blade", "stylus")
    }
    assert pages == {b"0 0 148 210"}
