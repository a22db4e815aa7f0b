"""A file's own name becomes a title: whatever it is, the title can be written and shown."""

from __future__ import annotations

import json
import os
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner
from lxml import etree

from cutlayers.cli import main
from cutlayers.profile.search import FOLDER_VARIABLE
from tests.jobs import TRAY

ROOT = Path(__file__).parents[2]
NAMES = {
    os.fsdecode(b"caf\xe9 1"): "caf\ufffd 1",  # Latin-1, as an old disk has it
    os.fsdecode(b"\xff\xfe"): "\ufffd\ufffd",
    "line\nbreak": "line\ufffdbreak",
    "\x1b[31mred": "\ufffd[31mred",
    "\u2028line": "\ufffdline",
    "plain é": "plain é",
}
"""File names, each with the title it becomes: U+FFFD in the place of what no
title may have."""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty one, without profiles of anybody's own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "own"))
    return tmp_path


def run(*words: str) -> None:
    """A command that must work."""
    result = CliRunner().invoke(main, list(words))

    assert result.exit_code in (0, 1), (result.output, result.exception)


@pytest.mark.parametrize("name", NAMES)
def test_a_job_of_any_name_is_made(folder: Path, name: str) -> None:
    """Its title is read back from the files by other readers."""
    (folder / f"{name}.toml").write_text(TRAY)

    run("make", f"{name}.toml", "-o", "out", "-p", "drag-blade-340")

    report = json.loads((folder / "out/report.json").read_text(encoding="utf-8"))
    assert report["title"] == NAMES[name]
    drawing = etree.parse(next((folder / "out").glob("*.svg")))
    (title, *_) = drawing.findall("{http://www.w3.org/2000/svg}title")
    assert title.text is not None and title.text.startswith(NAMES[name])
    for path in (folder / "out").glob("*.dxf"):
        assert not ezdxf.readfile(path).audit().errors


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("more", ["", "--by-hand"])
def test_a_job_of_any_name_has_its_page(folder: Path, name: str, more: str) -> None:
    """The page to follow and the one to draw by hand."""
    (folder / f"{name}.toml").write_text(TRAY)

    run("guide", f"{name}.toml", *more.split(), "-o", "page.html", "-p", "drag-blade-340")

    assert NAMES[name] in (folder / "page.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", NAMES)
def test_a_kit_of_any_name_is_made(folder: Path, name: str) -> None:
    """Its title stands in the lists."""
    (folder / "guests.csv").write_text("name,count\nIda,1\n")
    kit = f'kit.file = "guests.csv"\n{TRAY}count = "{{count}}"\nname = "{{name}}"\n'
    (folder / f"{name}.toml").write_text(kit)

    run("make", f"{name}.toml", "-o", "out", "-p", "drag-blade-340")

    report = json.loads((folder / "out/report.json").read_text(encoding="utf-8"))
    assert report["title"] == NAMES[name]


@pytest.mark.parametrize("name", NAMES)
def test_a_profile_of_any_name_is_used(folder: Path, name: str) -> None:
    """The report and the page to follow name it."""
    machine = (ROOT / "profiles" / "drag-blade-340.toml").read_bytes()
    (folder / f"{name}.toml").write_bytes(machine)
    (folder / "job.toml").write_text(TRAY)

    for words in (
        ("make", "job.toml", "-o", "out", "-p", f"./{name}.toml"),
        ("guide", "job.toml", "-o", "page.html", "-p", f"./{name}.toml"),
        ("profile", "show", f"./{name}.toml", "--json"),
        ("trial", "offset", "-o", "trial", "-p", f"./{name}.toml"),
    ):
        run(*words)


@pytest.mark.parametrize("name", NAMES)
def test_a_folder_of_any_name_is_written(folder: Path, name: str) -> None:
    """The place is not part of the title."""
    (folder / "job.toml").write_text(TRAY)

    run("make", "job.toml", "-o", f"{name}/out", "-p", "drag-blade-340")

    assert (folder / name / "out/report.json").is_file()


@pytest.mark.parametrize("name", NAMES)
def test_a_profile_of_any_name_is_the_default(folder: Path, name: str) -> None:
    """Chosen by its path, it is found again."""
    machine = (ROOT / "profiles" / "drag-blade-340.toml").read_bytes()
    (folder / f"{name}.toml").write_bytes(machine)
    (folder / "job.toml").write_text(TRAY)

    run("profile", "default", f"./{name}.toml")
    run("check", "job.toml")
    run("profile", "default")
