"""Whole kits: checked first, made, stopped, gone on with, and told."""

from __future__ import annotations

import csv
import json
import signal
import subprocess
import sys
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cutlayers.checks.job import check_boxes
from cutlayers.cli import main
from cutlayers.job.order import Job
from cutlayers.kits import checking, planning
from cutlayers.kits.checking import Kit, check_kit
from cutlayers.kits.planning import Sorter
from cutlayers.kits.rows import read_rows
from cutlayers.kits.writing import STAGE
from cutlayers.reading.toml_file import read_toml
from cutlayers.telling.errors import JobError
from cutlayers.telling.findings import Finding
from cutlayers.telling.words import lines_of
from cutlayers.writing.changing import STATE
from tests.folders import files_in
from tests.lettering.test_outlines import build as build_font
from tests.sheets.judge import machine

ROOT = Path(__file__).parents[2]

POOL = 20
"""Pieces held at once here, in place of the usual number."""

JOB = """
title = "Guests"
profile = "drag-blade-340"
kit.file = "guests.csv"
[sheets]
gap = 4
[stock.ivory]
caliper = 0.3
grammage = 250
sheet = "12x12 in"
price = 0.5
[[piece]]
name = "tray"
style = "tray"
stock = "ivory"
size = { length = "{length}", width = 40, height = 15 }
[[piece.lettering]]
panel = "base"
text = "{name}"
"""


def kit(tmp_path: Path, *rows: str, job: str = JOB) -> Path:
    (tmp_path / "guests.csv").write_text("\n".join(("name,length", *rows)) + "\n")
    (tmp_path / "job.toml").write_text(job)
    return tmp_path / "job.toml"


def guests(count: int) -> list[str]:
    return [f"Guest {number},{100 + 10 * (number % 2)}" for number in range(1, count + 1)]


def run(*words: str | Path | int) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def content(folder: Path) -> dict[str, bytes]:
    return {
        str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()
    }


def checked(job: Path) -> tuple[Kit, Sorter]:
    sorter = Sorter(machine(305.0, 305.0, 5.0, 3))
    table = read_toml(job, "job", JobError)
    return check_kit(job, table, read_rows(job.parent / "guests.csv"), sorter.take), sorter


def test_a_kit_is_made_and_told(tmp_path: Path) -> None:
    """Every row's piece is on one sheet at one place, and the files are those that are listed."""
    result = run("make", kit(tmp_path, *guests(9)), "-o", tmp_path / "out")

    assert result.exit_code == 0, result.output
    names = set(files_in(tmp_path / "out"))
    assert names == set(json.loads((tmp_path / "out" / "report.json").read_text())["files"])
    with (tmp_path / "out" / "manifest.csv").open(newline="") as file:
        lines = list(csv.DictReader(file))
    assert [line["name"] for line in lines] == [f"Guest {n}" for n in range(1, 10)]
    assert [int(line["line"]) for line in lines] == list(range(2, 11))
    places = Counter((line["sheet"], line["position"]) for line in lines)
    assert set(places.values()) == {1}
    sheets = json.loads((tmp_path / "out" / "manifest.json").read_text())["sheets"]
    assert sum(len(sheet["pieces"]) for sheet in sheets) == 9
    assert {f for sheet in sheets for f in sheet["files"]} <= names
    assert "9 rows, 9 pieces" in result.output
    assert f"ivory: {len(sheets)} sheets" in result.output
    assert f"cost {0.5 * len(sheets):.2f}" in result.output


def test_each_name_is_on_its_sheet(tmp_path: Path) -> None:
    """The strokes of a row's name are on the sheet that the manifest names: longer names, more."""
    from cutlayers.kits.making import SheetTask, _sheet

    job = kit(tmp_path, "I,60", "WWWWWWWW,60")
    found, sorter = checked(job)
    (plan,) = list(sorter.sheets())
    task = SheetTask(
        job,
        found.table,
        dict(enumerate(found.rows.rows)),
        machine(305.0, 305.0, 5.0, 3),
        plan,
        1,
        tmp_path,
        "",
    )
    sheet, told, *_ = _sheet(task)
    drawn = [
        sum(stroke.name.endswith(("lettering I", "lettering WWWWWWWW")) for stroke in p.piece.lines)
        for p in sheet.placed
    ]

    # An I is one stroke of the face, a W four.
    assert sorted(drawn) == [1, 32]
    assert [piece.row for piece in told] == [laid.row for laid in plan.pieces]


def test_all_rows_are_checked_before_anything_is_made(tmp_path: Path) -> None:
    """Every error of every row at once, with its line; no file is written."""
    job = kit(tmp_path, "Ida,60", "Straße,60", "Vit,abc", "Ann,0", "Zoë,60")

    result = run("make", job, "-o", tmp_path / "out")

    assert result.exit_code == 2
    lines = result.output.splitlines()
    assert [line.split(": ")[1] for line in lines] == [
        "line 3, column 1",
        "line 4, column 2",
        "line 5, column 2",
    ]
    assert "lacks ß" in lines[0]
    assert 'piece[1].size.length is "abc"' in lines[1]
    assert not (tmp_path / "out").exists()


def test_what_is_wrong_in_the_job_is_told_once(tmp_path: Path) -> None:
    """Not for every row; what is wrong in a row is told with it all the same."""
    job = kit(tmp_path, "Ida,60", "Vit,abc", "Zoë,60", job=JOB.replace("width = 40", "wdth = 40"))

    result = run("check", job)

    assert result.exit_code == 2
    assert result.output.count("wdth is unknown") == result.output.count("width is missing") == 1
    assert [line.startswith(str(job)) for line in result.output.splitlines()].count(True) == 2
    assert "guests.csv: line 3, column 2" in result.output


def test_a_column_that_is_not_there_is_told(tmp_path: Path) -> None:
    """With the nearest one."""
    job = kit(tmp_path, "Ida,60", job=JOB.replace('"{name}"', '"{nmae}"'))

    result = run("check", job)

    assert result.exit_code == 2
    assert 'piece[1].lettering[1].text names the column "nmae"' in result.output
    assert "Did you mean name?" in result.output


def test_doubled_and_missing_values_are_findings(tmp_path: Path) -> None:
    """Told, and made all the same."""
    job = kit(tmp_path, "Ida,60", "Vit,60", "Ida,60", ",60")

    result = run("check", job)

    assert result.exit_code == 0, result.output
    assert "lines 2, 4: are alike: name 'Ida', length '60'" in result.output
    assert "line 5: name is empty" in result.output


def test_a_column_nothing_names_is_a_note(tmp_path: Path) -> None:
    """It may be the maker's own."""
    job = kit(tmp_path, "Ida,60", job=JOB.replace('"{length}"', "60"))
    found, _ = checked(job)

    assert [finding.code for finding in found.findings] == ["column-unused"]


LIDDED = (
    JOB.replace('name = "tray"', 'name = "for {name}"')
    .replace('style = "tray"', 'style = "telescope-box"\noptions = { lid_height = 12 }')
    .replace("width = 40, height = 15", "width = 60, height = 35")
    .replace('panel = "base"', 'panel = "base.front"')
)
"""The lid hides 12 of the 35 mm of the base's walls."""


def test_letters_of_every_row_are_checked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As large as there is room for, a short name reaches up under the lid, where long ones are
    small: line 8, and 10. Boxes that differ in their letters alone are folded up once."""
    folded: list[Job] = []

    def counted(job: Job) -> Mapping[str, tuple[Finding, ...]]:
        folded.append(job)
        return check_boxes(job)

    monkeypatch.setattr(checking, "check_boxes", counted)
    names = [f"Maximiliana Theodora {number}" for number in "123456"]
    names += ["Ida", "Maximiliana Theodora 7", "Bo"]
    found, _ = checked(kit(tmp_path, *(f"{name},90" for name in names), job=LIDDED))

    hidden = [each for each in found.findings if each.code == "drawn-under-panel"]
    assert [each.subject.lines for each in hidden] == [(8, 10)]
    assert len(folded) == 1


def test_many_lines_of_a_table_are_told_by_the_first_and_a_number(tmp_path: Path) -> None:
    """Fifteen rows that are alike are lines 2 to 16; twelve of them are named."""
    found, _ = checked(kit(tmp_path, *["Ida,60"] * 15))
    (line, *_) = lines_of(each for each in found.findings if each.code == "rows-alike")

    assert "lines 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 3 more" in line


def test_decimal_commas_are_told(tmp_path: Path) -> None:
    """Once a column, with the first number that has one."""
    job = kit(tmp_path, "")
    (tmp_path / "guests.csv").write_text("name;length\nIda;60\nVit;62,5\nOle, 3;63,5\n")

    result = run("check", job)

    assert result.exit_code == 0, result.output
    assert result.output.count("decimal-commas]") == 1
    assert "line 3: length has decimal commas, '62,5' and so on, which are read" in result.output


def test_fill_has_no_place_in_a_kit(tmp_path: Path) -> None:
    """A row makes its own set, no more."""
    job = kit(tmp_path, "Ida,60", job=JOB.replace('style = "tray"', 'style = "tray"\nfill = true'))

    result = run("make", job, "-o", tmp_path / "out")

    assert result.exit_code == 2
    assert "fill has no meaning in a kit" in result.output


def test_one_process_or_two_make_the_same_bytes(tmp_path: Path) -> None:
    """And again the same on a second run."""
    job = kit(tmp_path, *guests(14))
    for folder, processes in (("one", 1), ("two", 2)):
        result = run("make", job, "-o", tmp_path / folder, "--processes", processes)
        assert result.exit_code == 0, result.output

    assert content(tmp_path / "one") == content(tmp_path / "two")


DYING = """\
import os, signal, sys
from cutlayers.checks.job import check_boxes
from cutlayers.cli import main
from cutlayers.kits import making
whole = making.make_sheet
made = []

def make_sheet(task):
    if len(made) == 2:
        os.kill(os.getpid(), signal.SIGKILL)
    made.append(task)
    return whole(task)

making.make_sheet = make_sheet
main(sys.argv[1:])
"""
"""The command line, killed as it begins the third sheet."""


def test_a_killed_kit_goes_on_where_it_stopped(tmp_path: Path) -> None:
    """Killed for good in the middle: nothing shows until all is made, what was made is not made
    twice, and the end is the same."""
    job = kit(tmp_path, *guests(18))
    words: list[str | Path] = [
        sys.executable,
        "-c",
        DYING,
        "make",
        job,
        "-o",
        tmp_path / "out",
        "--processes",
        "1",
    ]
    done = subprocess.run(words, cwd=ROOT, capture_output=True)
    assert done.returncode == -signal.SIGKILL
    stage = tmp_path / "out" / STATE / STAGE
    made = {path.name: path.stat().st_mtime_ns for path in stage.glob("sheet-1.*")}
    assert made
    assert files_in(tmp_path / "out") == {}

    again = run("make", job, "-o", tmp_path / "out")
    whole = run("make", job, "-o", tmp_path / "whole")

    assert again.exit_code == whole.exit_code == 0
    assert content(tmp_path / "out") == content(tmp_path / "whole")
    for name, moment in made.items():
        assert (tmp_path / "out" / name).stat().st_mtime_ns == moment


def test_a_spoiled_sheet_is_made_again(tmp_path: Path) -> None:
    """Only files that are as they were written count as made."""
    from cutlayers.kits.keeping import digest_of, planned
    from cutlayers.kits.making import make_sheets

    job = kit(tmp_path, *guests(6))
    found, sorter = checked(job)
    cutter, stage = machine(305.0, 305.0, 5.0, 3), tmp_path / "out"
    digest = digest_of(found, cutter)
    sheets = planned(stage, "me", digest, sorter.sheets)
    first = list(make_sheets(found, cutter, sheets, stage, digest, 1))
    target = stage / next(name for name in first[0].files if name.endswith(".svg"))
    good = target.read_bytes()
    target.write_bytes(b"spoiled")

    again = list(make_sheets(found, cutter, sheets, stage, digest, 1))

    assert target.read_bytes() == good
    assert again == first


def test_a_changed_table_begins_anew(tmp_path: Path) -> None:
    """A plan of other rows is no plan of these."""
    from cutlayers.kits.keeping import digest_of, planned

    cutter, stage = machine(305.0, 305.0, 5.0, 3), tmp_path / "out"
    sheets = []
    for count in (4, 12):
        found, sorter = checked(kit(tmp_path, *guests(count)))
        sheets.append(planned(stage, "me", digest_of(found, cutter), sorter.sheets))

    assert [sum(len(sheet.pieces) for sheet in plan) for plan in sheets] == [4, 12]


@pytest.mark.parametrize("changed", ["font", "machine", "row", "nothing"])
def test_whatever_decides_its_files_makes_another_kit(tmp_path: Path, changed: str) -> None:
    """Another font under the old name, another setting of the machine, another cell."""
    from cutlayers.kits.keeping import digest_of

    lettered = JOB.replace('text = "{name}"', 'text = "IO"\nfile = "letters.ttf"')
    build_font(tmp_path / "letters.ttf")
    before, _ = checked(kit(tmp_path, *guests(2), job=lettered))
    cutter = machine(305.0, 305.0, 5.0, 3)
    digest = digest_of(before, cutter)

    if changed == "font":
        build_font(tmp_path / "letters.ttf", curved=True)
    other = machine(305.0, 305.0, 4.0 if changed == "machine" else 5.0, 3)
    rows = guests(3)[1:] if changed == "row" else guests(2)
    after, _ = checked(kit(tmp_path, *rows, job=lettered))

    assert (digest_of(after, other) == digest) is (changed == "nothing")


def test_the_pool_bounds_what_is_held(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pieces of far rows never share a sheet: rows on one sheet are less than two pools apart."""
    monkeypatch.setattr(planning, "POOL", POOL)
    job = kit(tmp_path, *guests(3 * POOL))
    _, sorter = checked(job)
    laid = Counter[int]()
    for sheet in sorter.sheets():
        on = [laid.row for laid in sheet.pieces]
        laid.update(on)
        assert max(on) - min(on) < 2 * POOL

    assert laid == Counter(range(3 * POOL))


def test_a_kits_job_is_refused_where_rows_have_no_place(tmp_path: Path) -> None:
    """Reading it as a plain job says what to do."""
    from cutlayers.job.reading import read_job

    with pytest.raises(JobError, match=r"kit makes a kit; 'cutlayers make'"):
        read_job(kit(tmp_path, "Ida,60"))
