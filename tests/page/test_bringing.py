"""A drawing in the folder becomes a job, as the command makes one."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

from cutlayers.page.folder import Folder
from tests.page.test_safety import POSTED, asked

ROOT = Path(__file__).parents[2]

NO_UNIT = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 192 96">'
    '<g fill="none" stroke="#000"><path d="M0 0H192V96H0Z"/><path d="M96 0V96"/></g></svg>'
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A drawing with a unit, one without, one that holds nothing, and one outside."""
    inside = tmp_path / "inside"
    inside.mkdir()
    shutil.copy(ROOT / "samples" / "candle-tray.svg", inside)
    (inside / "card.svg").write_text(NO_UNIT)
    (inside / "empty.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"/>')
    (tmp_path / "outside.svg").write_text(NO_UNIT)
    (inside / "link.svg").symlink_to(tmp_path / "outside.svg")
    return inside


def bring(folder: Path, **asks: Any) -> tuple[int, dict[str, Any]]:
    body = json.dumps({"units": "mm", "machine": None, **asks}).encode()
    headers = {**POSTED, "content-length": str(len(body))}
    status, _, content = asked(folder, "/a-token/bring", headers, "POST", body)
    return status, json.loads(content) if status == 200 else {}


def test_the_job_is_that_of_the_command(folder: Path) -> None:
    assert bring(folder, drawing="candle-tray.svg") == (200, {"file": "candle-tray.toml"})

    subprocess.run(
        [sys.executable, "-m", "cutlayers", "bring", "candle-tray.svg", "-o", "by-command.toml"],
        cwd=folder,
        env={"PYTHONPATH": str(ROOT), "PATH": "", "HOME": str(folder)},
        check=True,
        capture_output=True,
    )
    made = (folder / "candle-tray.toml").read_bytes()
    assert made == (folder / "by-command.toml").read_bytes()


def test_no_file_is_written_over(folder: Path) -> None:
    (folder / "candle-tray.toml").write_text("# mine\n")

    assert bring(folder, drawing="candle-tray.svg") == (200, {"file": "candle-tray-2.toml"})
    assert (folder / "candle-tray.toml").read_text() == "# mine\n"


def test_a_unit_is_asked_for_where_the_file_does_not_say_it(folder: Path) -> None:
    """192 units are 2 inches at 96 to the inch (CSS Values and Units 3, 6.2), 50.8 mm."""
    _, told = bring(folder, drawing="card.svg")

    by_unit = {each["unit"]: each["words"] for each in told["scales"]}
    assert "50.8 × 25.4 mm" in by_unit["1/96 in"]
    assert "192 × 96 mm" in by_unit["mm"]
    assert not (folder / "card.toml").exists()
    assert bring(folder, drawing="card.svg", unit="furlong")[1] == told
    assert bring(folder, drawing="card.svg", unit="mm", machine="drag-blade-340")[1] == {
        "file": "card.toml"
    }
    job = tomllib.loads((folder / "card.toml").read_text())
    assert job["piece"][0]["unit"] == "mm"
    assert job["profile"] == "drag-blade-340"


def test_a_drawing_without_lines_is_refused_in_words(folder: Path) -> None:
    assert "holds no line" in bring(folder, drawing="empty.svg")[1]["refused"]
    assert not (folder / "empty.toml").exists()


@pytest.mark.parametrize("name", ["../outside.svg", "link.svg", "none.svg", "card.toml", "", None])
def test_only_drawings_of_the_folder_are_read(folder: Path, name: str | None) -> None:
    assert bring(folder, drawing=name)[0] == 404


def test_drawings_of_the_folder_are_offered(folder: Path) -> None:
    found = Folder(folder, lambda: True).drawings()

    assert sorted(found) == ["candle-tray.svg", "card.svg", "empty.svg"]
