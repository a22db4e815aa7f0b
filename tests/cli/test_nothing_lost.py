"""A user's files are never touched, whatever command writes beside them."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cutlayers.cli import main
from tests.folders import files_in
from tests.jobs import LASER_TRAY

ROOT = Path(__file__).parents[2]


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(LASER_TRAY)
    return path


THEIRS = [
    {"report.json": b'{"files": ["photo.jpg"]}', "photo.jpg": b"a photo", "guide.html": b"a page"},
    {"report.json": b'{"files": 5}'},
    {"report.json": b"[" * 100_000},
    {"sheet-1.png": b"drawn by hand"},
]


@pytest.mark.parametrize("theirs", THEIRS)
def test_make_leaves_what_is_there(tmp_path: Path, job: Path, theirs: dict[str, bytes]) -> None:
    """Somebody's files of our names are refused with a list, and nothing is written or removed."""
    out = tmp_path / "out"
    out.mkdir()
    for name, content in theirs.items():
        (out / name).write_bytes(content)

    result = run("make", job, "-o", out)

    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert "--overwrite" in result.stderr
    assert all(name in result.stderr for name in theirs if name != "photo.jpg")
    assert files_in(out) == theirs
    assert run("make", job, "-o", out, "--overwrite").exit_code == 0
    assert files_in(out).get("photo.jpg") == theirs.get("photo.jpg")


def test_a_sheet_that_was_changed_since_is_kept(tmp_path: Path, job: Path) -> None:
    """A line drawn into one of our files makes it the user's."""
    assert run("make", job, "-o", tmp_path / "out").exit_code == 0
    sheet = tmp_path / "out" / "sheet-1.png"
    sheet.write_bytes(sheet.read_bytes() + b"<!-- mine -->")
    before = files_in(tmp_path / "out")
    job.write_text(LASER_TRAY.replace("80", "70"))

    result = run("make", job, "-o", tmp_path / "out")

    assert result.exit_code == 2
    assert "sheet-1.png" in result.stderr
    assert files_in(tmp_path / "out") == before


@pytest.mark.parametrize("name", ["job.toml", "x/../job.toml", "link.toml", "hard.toml"])
@pytest.mark.parametrize("more", [(), ("--overwrite",)])
def test_a_guide_never_takes_its_jobs_place(job: Path, name: str, more: tuple[str, ...]) -> None:
    """Under none of its names, and not when asked to write over."""
    (job.parent / "x").mkdir()
    if name == "link.toml":
        (job.parent / name).symlink_to(job)
    if name == "hard.toml":
        os.link(job, job.parent / name)

    result = run("guide", job, "-o", job.parent / name, *more)

    assert result.exit_code == 2
    assert "is what this command reads" in result.stderr
    assert job.read_text() == LASER_TRAY


@pytest.mark.parametrize("command", ["guide", "fold"])
def test_capitals_make_no_other_file_of_a_job(job: Path, command: str) -> None:
    """Where the system takes JOB.GLB for job.glb it is what the command reads; elsewhere it is
    another file."""
    there = job.rename(job.with_name("job.glb"))
    name = job.with_name("JOB.GLB")
    same = name.exists()

    result = run(command, there, "-o", name)

    assert result.exit_code == (2 if same else 0), result.output
    assert "is what this command reads" in result.stderr or not same
    assert there.read_text() == LASER_TRAY


def test_a_guide_takes_only_its_own_place(job: Path) -> None:
    """A page of ours may be written again; one of somebody's, or one changed since, is not."""
    page = job.with_name("page.html")
    assert run("guide", job, "-o", page).exit_code == 0
    assert run("guide", job, "-o", page, "--paper", "letter").exit_code == 0
    page.write_text("mine")

    assert run("guide", job, "-o", page).exit_code == 2
    assert page.read_text() == "mine"
    assert run("guide", job, "-o", page, "--overwrite").exit_code == 0


def test_new_files_are_new(tmp_path: Path) -> None:
    """A link that leads nowhere is something that is there."""
    (tmp_path / "link.toml").symlink_to(tmp_path / "nowhere")

    result = run("new", "tray", "-o", tmp_path / "link.toml")

    assert result.exit_code == 2
    assert "is there already" in result.stderr
    assert not (tmp_path / "nowhere").exists()


def test_a_picture_is_never_written_over(tmp_path: Path) -> None:
    """Not even one that we made: a job may print the picture of another."""
    out = tmp_path / "out"
    first = tmp_path / "first.toml"
    first.write_text(LASER_TRAY)
    assert run("make", first, "-o", out).exit_code == 0
    second = tmp_path / "second.toml"
    art = '[[piece.art]]\npanels = "base"\nfile = "out/folded-tray.png"\n'
    second.write_text(LASER_TRAY.replace("80", "90") + art)
    before = files_in(out)

    result = run("make", second, "-o", out, "--overwrite")

    assert result.exit_code == 2
    assert "folded-tray.png: is what this command reads" in result.stderr
    assert files_in(out) == before


def test_pieces_with_names_alike_have_a_picture_each(tmp_path: Path, job: Path) -> None:
    """What differs only in a mark that no file name has, or in capitals, is kept apart; a name of a
    hundred letters of three bytes is no obstacle, for check and for make."""
    piece = LASER_TRAY[LASER_TRAY.index("[[piece]]") :]
    names = ["a b", "a-b", "A B", "盒" * 100, "盒" * 99]
    job.write_text(
        LASER_TRAY[: LASER_TRAY.index("[[piece]]")]
        + "".join(piece.replace("style", f'name = "{name}"\nstyle') for name in names)
    )

    assert run("check", job).exit_code == 0
    assert run("make", job, "-o", tmp_path / "out").exit_code == 0
    pictures = [name for name in files_in(tmp_path / "out") if name.startswith("folded-")]
    assert len(pictures) == len(names)
    assert {"folded-a-b.png", "folded-a-b-2.png", "folded-A-B-3.png"} < set(pictures)
