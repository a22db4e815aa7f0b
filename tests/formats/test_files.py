from __future__ import annotations

from pathlib import Path

import pytest

from cutlayers.formats.files import write_files
from cutlayers.telling.errors import OutputError


def contents(folder: Path) -> dict[str, bytes]:
    """Everything in a folder, hidden things included."""
    return {item.name: item.read_bytes() for item in folder.iterdir()}


def test_files_are_written_into_a_new_folder(tmp_path):
    """Missing folders are made, and nothing else is left behind."""
    folder = tmp_path / "boxes" / "sheets"
    write_files(folder, {"a.dxf": b"1", "a.svg": b"2"})

    assert contents(folder) == {"a.dxf": b"1", "a.svg": b"2"}


def test_earlier_files_are_replaced_and_others_kept(tmp_path):
    """Only the named files change."""
    (tmp_path / "a.dxf").write_bytes(b"old")
    (tmp_path / "notes.txt").write_bytes(b"mine")
    write_files(tmp_path, {"a.dxf": b"new"})

    assert contents(tmp_path) == {"a.dxf": b"new", "notes.txt": b"mine"}


@pytest.mark.parametrize("failing", [1, 2, 3])
def test_a_failed_move_puts_everything_back(tmp_path, monkeypatch, failing):
    """Whichever move fails: earlier files stand as they were, new ones are gone."""
    before = {"a.dxf": b"old a", "c.png": b"old c"}
    for name, content in before.items():
        (tmp_path / name).write_bytes(content)
    replace = Path.replace
    moves = []

    def replace_until(source: Path, target: Path) -> Path:
        moves.append(target)
        if len(moves) == failing:
            raise OSError(28, "No space left on device")
        return replace(source, target)

    monkeypatch.setattr(Path, "replace", replace_until)
    with pytest.raises(OutputError, match="No space left on device") as caught:
        write_files(tmp_path, {"a.dxf": b"new a", "b.svg": b"new b", "c.png": b"new c"})

    assert contents(tmp_path) == before
    assert str(tmp_path) in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_failed_write_changes_nothing(tmp_path, monkeypatch):
    """A disk that is full while the new files are written leaves no trace, not even a folder."""
    folder = tmp_path / "new" / "sheets"

    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(OutputError, match="nothing was changed"):
        write_files(folder, {"a.dxf": b"1"})

    assert contents(tmp_path) == {}


def test_an_interrupted_run_puts_everything_back(tmp_path, monkeypatch):
    """Ctrl-C between two moves counts as a failure too."""
    (tmp_path / "a.dxf").write_bytes(b"old a")
    replace = Path.replace

    def interrupt(source: Path, target: Path) -> Path:
        if target.name == "b.svg":
            raise KeyboardInterrupt
        return replace(source, target)

    monkeypatch.setattr(Path, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_files(tmp_path, {"a.dxf": b"new a", "b.svg": b"new b"})

    assert contents(tmp_path) == {"a.dxf": b"old a"}


def test_a_folder_below_a_file_is_refused(tmp_path):
    """One line that names the folder."""
    (tmp_path / "taken").write_bytes(b"a file")
    with pytest.raises(OutputError) as caught:
        write_files(tmp_path / "taken" / "sheets", {"a.dxf": b"1"})

    assert str(tmp_path / "taken" / "sheets") in str(caught.value)
    assert "\n" not in str(caught.value)
    assert contents(tmp_path) == {"taken": b"a file"}


def test_a_folder_in_the_way_of_a_file_is_refused(tmp_path):
    """And the other files are not written either."""
    (tmp_path / "b.svg").mkdir()
    with pytest.raises(OutputError, match=r"b\.svg: a folder of this name"):
        write_files(tmp_path, {"a.dxf": b"1", "b.svg": b"2"})

    assert [item.name for item in tmp_path.iterdir()] == ["b.svg"]


@pytest.mark.parametrize("name", ["", "..", "a/b.dxf", "../a.dxf", "a\\b.dxf"])
def test_only_plain_names_are_written(tmp_path, name):
    """No name leads out of the folder."""
    with pytest.raises(OutputError, match="not a plain file name"):
        write_files(tmp_path, {name: b"1"})

    assert contents(tmp_path) == {}
