"""What is told to the disk, and in which order: all that a power cut may take is what came after.

The rule for each step is that of a disk that puts down what it was told to and, of the rest, what
it likes (POSIX, fsync and rename: neither promises an order). The orders here are worked by hand.
"""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path
from typing import Any

import pytest

from cutlayers.writing import lasting
from cutlayers.writing.changing import STATE
from cutlayers.writing.sets import hold, write_set
from cutlayers.writing.single import put, put_kept

pytestmark = pytest.mark.skipif(os.name == "nt", reason="folders are not put down there")


@pytest.fixture
def steps(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What the system is asked for from now on: files and folders put down, names moved, taken."""
    told: list[str] = []
    fsync, rename, unlink = os.fsync, os.replace, os.unlink

    def named(path: Any) -> str:
        return str(Path(path).relative_to(tmp_path)).replace(STATE, "~")

    def settled(descriptor: int) -> None:
        fsync(descriptor)
        kind = "names in" if stat.S_ISDIR(os.fstat(descriptor).st_mode) else "content of"
        told.append(f"{kind} {named(Path(f'/proc/self/fd/{descriptor}').readlink())}")

    def moved(source: Any, target: Any, **_: Any) -> None:
        rename(source, target)
        told.append(f"move {named(source)} to {named(target)}")

    def taken(path: Any, **options: Any) -> None:
        unlink(path, **options)
        if not options:
            told.append(f"take {named(path)}")

    monkeypatch.setattr(os, "fsync", settled)
    monkeypatch.setattr(os, "replace", moved)
    monkeypatch.setattr(os, "unlink", taken)
    return told


needs_names = pytest.mark.skipif(
    not Path("/proc/self/fd").exists(), reason="open files have no names there"
)


@needs_names
def test_a_set_is_on_the_disk_before_it_holds(tmp_path: Path, steps: list[str]) -> None:
    """Contents, then the names in the waiting folder, then the step that makes the set hold and
    its folder, then the moves, then their folders, and only then is the note of the change taken
    away. A file that is there already is not put down again."""
    write_set(tmp_path, {"a": b"1", "b": b"2", "c": b"3"}, "make")
    steps.clear()

    write_set(tmp_path, {"a": b"1", "b": b"4", "d": b"5"}, "make")

    start = steps.index("content of ~/new/b")
    assert steps[start : steps.index("take ~/change.json") + 1] == [
        "content of ~/new/b",
        "content of ~/new/d",
        "content of ~/after.json",
        "content of ~/coming.json",
        "names in ~/new",
        "names in ~",
        "move ~/coming.json to ~/change.json",
        "names in ~",
        "move b to ~/old/b",
        "move c to ~/old/c",
        "move ~/new/b to b",
        "move ~/new/d to d",
        "move ~/after.json to ~/written.json",
        "names in .",
        "names in ~",
        "take ~/change.json",
    ]


@needs_names
def test_what_a_stopped_run_left_is_settled_before_it_is_forgotten(
    tmp_path: Path, steps: list[str]
) -> None:
    """A run that stopped right after the step that makes the set hold is finished by the next."""
    write_set(tmp_path, {"a": b"1"}, "make")
    moves = os.replace

    def moved(source: Any, target: Any, **_: Any) -> None:
        if Path(source).parent.name == "new":
            os._exit(7)
        moves(source, target)

    if (child := os.fork()) == 0:
        setattr(os, "replace", moved)  # noqa: B010 -- another signature
        write_set(tmp_path, {"a": b"2"}, "make")
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 7
    steps.clear()

    with hold(tmp_path):
        pass

    assert (tmp_path / "a").read_bytes() == b"2"
    assert steps[: steps.index("take ~/change.json") + 1] == [
        "move ~/new/a to a",
        "move ~/after.json to ~/written.json",
        "names in .",
        "names in ~",
        "take ~/change.json",
    ]


@needs_names
def test_what_is_kept_of_a_file_is_named_before_the_new_one(
    tmp_path: Path, steps: list[str]
) -> None:
    """The old content has its name on the disk before the new one takes its place."""
    path = tmp_path / "box.toml"
    put(path, b"1")
    steps.clear()

    put_kept(path, b"1", b"2")

    named = [each for each in steps if not each.startswith(("content", "take"))]
    assert [each.split(" to ")[-1] for each in named] == ["names in .", "box.toml", "names in ."]


@pytest.mark.parametrize("number", sorted(lasting.CANNOT))
def test_a_system_that_puts_no_folder_down_is_no_obstacle(
    tmp_path: Path, number: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some file systems refuse it of folders; the set is written all the same."""
    fsync = os.fsync

    def only_files(descriptor: int) -> None:
        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            raise OSError(number, os.strerror(number))
        fsync(descriptor)

    monkeypatch.setattr(os, "fsync", only_files)
    write_set(tmp_path, {"a": b"1"}, "make")
    put(tmp_path / "b", b"2")

    assert [(tmp_path / name).read_bytes() for name in ("a", "b")] == [b"1", b"2"]


def test_a_set_that_is_there_is_never_called_unchanged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A disk that fails after the moves: the new set holds, and the next run settles it."""
    write_set(tmp_path, {"a": b"1"}, "make")

    def broken(*folders: Path) -> None:
        if tmp_path.resolve() in folders:
            raise OSError(errno.EIO, os.strerror(errno.EIO))

    with monkeypatch.context() as patch:
        patch.setattr("cutlayers.writing.changing.settle_folders", broken)
        write_set(tmp_path, {"a": b"2"}, "make")
        assert (tmp_path / "a").read_bytes() == b"2"
        assert (tmp_path / STATE / "change.json").exists()

    with hold(tmp_path):
        pass
    assert (tmp_path / "a").read_bytes() == b"2"
    assert not (tmp_path / STATE / "change.json").exists()
