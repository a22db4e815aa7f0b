"""A user's file is read in one way: whole, of a bounded size, and only what is a file."""

from __future__ import annotations

import ast
import os
import socket
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from cutlayers.cli import main
from cutlayers.profile.search import FOLDER_VARIABLE
from cutlayers.reading.user_files import open_user_file, read_user_file
from cutlayers.reading.values import ValueRefused
from tests.jobs import TRAY

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "cutlayers"
LIMIT_MB = 1


def _pipe(path: Path) -> None:
    os.mkfifo(path)


def _socket(path: Path) -> None:
    socket.socket(socket.AF_UNIX).bind(str(path))


def _link_to_a_pipe(path: Path) -> None:
    os.mkfifo(path.with_name("a pipe"))
    path.symlink_to("a pipe")


MADE: dict[str, Callable[[Path], None]] = {
    "is not a file but a folder; name the file in it": Path.mkdir,
    "is not a file but a pipe": _pipe,
    "is not a file but a socket": _socket,
    "is not a file but a device": lambda path: path.symlink_to("/dev/zero"),
    "cannot be read: Too many levels of symbolic links": lambda path: path.symlink_to(path),
    "there is no such file": lambda path: path.symlink_to("nowhere"),
}
"""What may lie in the place of a file, by what is said of it."""


@pytest.mark.parametrize("reason", MADE)
def test_what_is_no_file_is_not_read(tmp_path: Path, reason: str) -> None:
    """A pipe waits for ever, a device never ends."""
    MADE[reason](tmp_path / "it")

    for read in (open_user_file, lambda path: read_user_file(path, LIMIT_MB)):
        with pytest.raises(ValueRefused) as caught:
            read(tmp_path / "it")
        assert str(caught.value) == reason


@pytest.mark.parametrize("name", ["a\0b", "a" * 300, "a/" * 3000, "\udcff\udcfe"])
def test_a_name_that_no_file_has_is_told(tmp_path: Path, name: str) -> None:
    """A null byte, a name and a path too long, bytes that are not UTF-8."""
    with pytest.raises(ValueRefused):
        read_user_file(tmp_path / name, LIMIT_MB)


@pytest.mark.parametrize(("size", "fits"), [(0, True), (1_000_000, True), (1_000_001, False)])
def test_the_limit_is_told(tmp_path: Path, size: int, fits: bool) -> None:
    """The limit itself is allowed."""
    path = tmp_path / "it"
    path.write_bytes(b"x" * size)

    if fits:
        assert len(read_user_file(path, LIMIT_MB)) == size
        return
    with pytest.raises(ValueRefused) as caught:
        read_user_file(path, LIMIT_MB)
    assert str(caught.value) == "is too large, 1,000,001 bytes; it must be at most 1 MB"


def test_a_missing_file_is_answered_with_its_nearest_neighbour(tmp_path: Path) -> None:
    """Rather one of the same kind."""
    for name in ("bax.txt", "box.toml"):
        (tmp_path / name).touch()

    for asked, near in {"bax.toml": "box.toml", "bix.text": "bax.txt", "other": None}.items():
        with pytest.raises(ValueRefused) as caught:
            read_user_file(tmp_path / asked, LIMIT_MB)
        assert (caught.value.refusal.fault, caught.value.refusal.nearest) == ("absent", near)


COMMANDS: dict[str, tuple[str, str]] = {
    "check it": ("", ""),
    "check it --mend --yes": ("", ""),
    "make it -o out": ("", ""),
    "guide it -o page.html": ("", ""),
    "guide it --by-hand -o page.html": ("", ""),
    "align it --mark 1,1": ("", ""),
    "size like it sphere diameter=9": ("", ""),
    "size like job.toml sphere diameter=9 -p ./it": (TRAY, ""),
    "check job.toml -p ./it": (TRAY, ""),
    "profile show ./it": ("", ""),
    "profile show ./it --json": ("", ""),
    "profile check ./it": ("", ""),
    "profile set ./it title x": ("", ""),
    "profile unset ./it title": ("", ""),
    "profile copy ./it mine": ("", ""),
    "profile import it": ("", ""),
    "profile import it --name mine": ("", ""),
    "profile export ./it there.toml": ("", ""),
    "profile diff drag-blade-340 ./it": ("", ""),
    "profile diff ./machine.toml --last": ("", "machine.toml.bak"),
    "profile default ./it": ("", ""),
    "trial record pen -p ./it solid=0.3": ("", ""),
    "trial kerf -p ./it -o out": ("", ""),
    "check job.toml": (f'kit.file = "it"\n{TRAY}count = "{{n}}"\n', ""),
    "check job.toml --json": (TRAY + '[[piece.art]]\npanels = "base"\nfile = "it"\n', ""),
    "make job.toml -o out": (
        TRAY + '[[piece.lettering]]\npanel = "base"\ntext = "x"\nfile = "it"\n',
        "",
    ),
    "align job.toml --scan it": (TRAY + '[[piece.art]]\npanels = "base"\ncolour = "#0072B2"\n', ""),
    "check job.toml --profile mine": (TRAY, "own/mine.toml"),
    "make job.toml -o there": (TRAY, "own/default.txt"),
    "profile list": ("", "own/mine.toml"),
}
"""Commands, each with its job file and the place of what is no file, `it` where none is said."""


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("make", [_pipe, _socket, Path.mkdir, _link_to_a_pipe])
def test_no_command_waits_for_a_file_that_is_none(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    command: str,
    make: Callable[[Path], None],
) -> None:
    """One line, exit 2, nothing written, wherever a command reads a file."""
    job, place = COMMANDS[command]
    (tmp_path / "own").mkdir()
    (tmp_path / "job.toml").write_text(job)
    machine = (ROOT / "profiles" / "drag-blade-340.toml").read_bytes()
    (tmp_path / "machine.toml").write_bytes(machine)
    make(tmp_path / (place or "it"))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "own"))
    before = sorted(tmp_path.rglob("*"))

    result = CliRunner().invoke(main, command.split(), input="y\n")

    if command == "profile list":  # what is no file is no profile
        assert (result.exit_code, "mine" in result.stdout) == (0, False)
        return
    assert result.exit_code == 2, result.output
    said = [line for line in result.stderr.splitlines() if not line.startswith(("Usage", "Try"))]
    assert len([line for line in said if line]) == 1, result.stderr
    assert sorted(tmp_path.rglob("*")) == before


OPENERS = {"open", "read_bytes", "read_text", "fdopen", "fromfile", "parse_file"}
ALLOWED = {
    "reading/user_files.py": "the one way",
    "reading/apart.py": "the null device, in the place of stderr",
    "sheets/strip_worker.py": "the null device, in the place of stderr",
    "cli/ending.py": "the null device, in the place of stdout",
    "writing/lock.py": "the lock of ours, made where it is missing",
    "writing/single.py": "a file of ours, still unfinished",
    "writing/lasting.py": "files of ours that wait, and folders, to be made lasting",
}


def _openings(path: Path) -> Iterator[str]:
    """Calls that open a file by its name; of bytes in memory, and functions of ours by such a
    name, are none."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    ours = {
        name.asname or name.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("cutlayers")
        for name in node.names
    }
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        called = ast.unparse(node.func)
        first, _, last = called.rpartition(".")
        opens = called == "open" or (first and first not in ours and last in OPENERS)
        in_memory = bool(node.args) and "BytesIO" in ast.unparse(node.args[0])
        if opens and not in_memory:
            yield f"{path.relative_to(PACKAGE)}:{node.lineno}: {called}"


def test_nobody_else_opens_a_file() -> None:
    """So that no reading of a user's file can wait for ever or fill the memory."""
    found = [
        opening
        for path in sorted(PACKAGE.rglob("*.py"))
        if path.relative_to(PACKAGE).as_posix() not in ALLOWED
        for opening in _openings(path)
    ]

    assert found == []


def test_the_exceptions_are_needed() -> None:
    """One that opens nothing any more is no exception."""
    assert [name for name in ALLOWED if not list(_openings(PACKAGE / name))] == []
