"""Kits that were stopped, changed, damaged, or put where another one is."""

from __future__ import annotations

import csv
import itertools
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cutlayers.cli import main
from cutlayers.kits import keeping, making
from cutlayers.kits.writing import STAGE
from cutlayers.writing.changing import STATE
from cutlayers.writing.sets import hold
from tests.folders import files_in

ROOT = Path(__file__).parents[2]

JOB = """
profile = "small-laser"
kit.file = "guests.csv"
[stock.ivory]
caliper = 0.3
grammage = 250
sheet = "A5"
[[piece]]
name = "tray"
style = "tray"
stock = "ivory"
size = { length = 130, width = 80, height = 15 }
[[piece.lettering]]
panel = "base"
text = "{name}"
"""

ART = """
[[piece.art]]
panels = "base"
file = "sprig.svg"
"""

PICTURE = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="{}"/></svg>'
ONE, OTHER = (PICTURE.format(d).encode() for d in ("M1 1h5v5z", "M2 2h6v6z"))


def kit(folder: Path, *names: str, job: str = JOB) -> Path:
    folder.mkdir(exist_ok=True)
    (folder / "guests.csv").write_text("\n".join(("name", *names)) + "\n")
    (folder / "job.toml").write_text(job)
    (folder / "sprig.svg").write_bytes(ONE)
    return folder / "job.toml"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.fixture
def stopped(monkeypatch: pytest.MonkeyPatch) -> Callable[[int], None]:
    """Lets kits be interrupted after so many sheets."""

    whole = making.make_sheet

    def stop_after(count: int) -> None:
        numbers = itertools.count(1)

        def make_sheet(task: making.SheetTask) -> tuple[making.MadeSheet, str]:
            if next(numbers) > count:
                raise KeyboardInterrupt
            return whole(task)

        monkeypatch.setattr(making, "make_sheet", make_sheet)

    return stop_after


def test_an_interrupted_kit_shows_nothing_and_goes_on(
    tmp_path: Path, stopped: Callable[[int], None]
) -> None:
    """One line and exit code 130; the folder's files are those of before until all is made."""
    job = kit(tmp_path / "in", "Ida", "Vit", "Zoe")
    stopped(1)
    result = run("make", job, "-o", tmp_path / "out")

    assert result.exit_code == 130
    assert result.stderr == "stopped; the same command goes on from here\n"
    assert files_in(tmp_path / "out") == {}
    stopped(99)
    assert run("make", job, "-o", tmp_path / "out").exit_code == 0
    assert "manifest.csv" in files_in(tmp_path / "out")
    assert sorted(each.name for each in (tmp_path / "out" / STATE).iterdir()) == ["written.json"]


@pytest.mark.parametrize("again", ["stopped", "done"])
def test_a_changed_picture_is_seen(
    tmp_path: Path, stopped: Callable[[int], None], again: str
) -> None:
    """A picture of the same name but with other contents makes every sheet anew, after an
    interruption as after a whole run."""
    job = kit(tmp_path / "in", "Ida", "Vit", job=JOB + ART)
    stopped(1 if again == "stopped" else 99)
    run("make", job, "-o", tmp_path / "out")
    stopped(99)
    (tmp_path / "in" / "sprig.svg").write_bytes(OTHER)

    assert run("make", job, "-o", tmp_path / "out").exit_code == 0
    assert run("make", job, "-o", tmp_path / "whole").exit_code == 0
    assert files_in(tmp_path / "out") == files_in(tmp_path / "whole")


def test_a_picture_changed_meanwhile_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Sheets of both pictures are not a kit: nothing is written."""
    job = kit(tmp_path / "in", "Ida", "Vit", job=JOB + ART)
    whole = making.make_sheet

    def make_sheet(task: making.SheetTask) -> tuple[making.MadeSheet, str]:
        made = whole(task)
        (tmp_path / "in" / "sprig.svg").write_bytes(OTHER)
        return made

    monkeypatch.setattr(making, "make_sheet", make_sheet)
    result = run("make", job, "-o", tmp_path / "out")

    assert result.exit_code == 2
    assert "a picture or font was changed while the kit was made" in result.stderr
    assert files_in(tmp_path / "out") == {}


DAMAGE = [
    *((".sheet-1.json", content) for content in (b"", b"\xff", b"[" * 100_000, b'{"made": [1]}')),
    (keeping.PLAN, b"[]"),
    ("sheet-1.png", b""),
]


@pytest.mark.parametrize(("name", "content"), DAMAGE)
def test_damage_is_told_and_made_anew(
    tmp_path: Path, stopped: Callable[[int], None], name: str, content: bytes
) -> None:
    """Whatever of the kept files is damaged, the kit goes on and comes out as if it were not."""
    job = kit(tmp_path / "in", "Ida", "Vit")
    stopped(1)
    run("make", job, "-o", tmp_path / "out")
    damaged = tmp_path / "out" / STATE / STAGE / name
    good = damaged.read_bytes()
    damaged.write_bytes(content)
    stopped(99)

    result = run("make", job, "-o", tmp_path / "out")

    assert result.exit_code == 0, result.output
    assert "damaged; it was made anew" in result.stderr
    assert files_in(tmp_path / "out").get(name) == (good if name == "sheet-1.png" else None)


@pytest.mark.parametrize("first", ["stopped", "done"])
def test_two_kits_in_one_folder_are_refused(
    tmp_path: Path, stopped: Callable[[int], None], first: str
) -> None:
    """The second is told whose the folder is, even under the same name; it may be written over."""
    spring, autumn = (kit(tmp_path / season, season) for season in ("spring", "autumn"))
    stopped(0 if first == "stopped" else 99)
    run("make", spring, "-o", tmp_path / "out")
    before = files_in(tmp_path / "out")
    stopped(99)

    result = run("make", autumn, "-o", tmp_path / "out")

    assert result.exit_code == 2
    assert "the kit job.toml (" in result.stderr
    assert files_in(tmp_path / "out") == before
    assert run("make", autumn, "-o", tmp_path / "out", "--overwrite").exit_code == 0
    assert b"autumn" in files_in(tmp_path / "out")["manifest.csv"]


CELLS = [
    ("=1+1", "'=1+1"),
    ("+cmd", "'+cmd"),
    ("-2+3", "'-2+3"),
    ("@SUM(A1)", "'@SUM(A1)"),
    ("-5", "-5"),
    ("+2.5", "+2.5"),
    ("Ida", "Ida"),
]


@pytest.mark.parametrize(("cell", "written"), CELLS)
def test_no_cell_of_the_list_runs_in_a_spreadsheet(tmp_path: Path, cell: str, written: str) -> None:
    """What begins like a formula is written as a text; numbers stay numbers."""
    job = kit(tmp_path / "in", cell)

    assert run("make", job, "-o", tmp_path / "out").exit_code == 0

    with (tmp_path / "out" / "manifest.csv").open(newline="", encoding="utf-8") as file:
        (line,) = csv.DictReader(file)
    assert line["name"] == written


KILLS = int(os.environ.get("CUTLAYERS_KILLS", "12")) // 6
"""How often a kit is killed; a sixth of the kills of plain sets, since each makes sheets."""


LINES = 1800
"""Lines of ours that making such a kit anew runs where files are kept and written."""

MAKER = """\
import sys
from cutlayers.cli import main
from tests.dying import die_at_line
die_at_line(int(sys.argv.pop(1)), "writing", "kits/keeping.py", "kits/making.py", "kits/writing.py")
main(sys.argv[1:])
"""


@pytest.mark.skipif(os.name == "nt", reason="there is no such signal there")
def test_a_killed_kit_never_mixes_lists_and_sheets(tmp_path: Path) -> None:
    """A kit that is rewritten with other rows and killed at any moment: the old sheets with the old
    lists or the new with the new; continued to its end, the same bytes as made in one go."""
    out = tmp_path / "out"
    whole = []
    for names in (("Ida", "Vit", "Zoe"), ("Ann", "Bo")):
        job = kit(tmp_path / "in", *names)
        assert run("make", job, "-o", out).exit_code == 0
        whole.append(files_in(out))
    for kill in range(KILLS):
        kit(tmp_path / "in", *((("Ida", "Vit", "Zoe"), ("Ann", "Bo"))[kill % 2]))
        line = str(1 + (2 * kill + 1) * LINES // (2 * KILLS))
        words: list[str | Path] = [
            sys.executable,
            "-c",
            MAKER,
            line,
            "make",
            job,
            "-o",
            out,
            "--processes",
            "1",
        ]
        done = subprocess.run(words, stdout=subprocess.DEVNULL, cwd=ROOT)
        assert done.returncode in (-signal.SIGKILL, 0)
        seen = files_in(out).items()
        assert any(seen <= each.items() for each in whole)
        with hold(out):
            pass
        assert files_in(out) in whole
        assert run("make", job, "-o", out).exit_code == 0
        assert files_in(out) == whole[kill % 2]
