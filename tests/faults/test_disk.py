"""Whatever a disk does to a command that writes: old files or new, one line, and then it works."""

from __future__ import annotations

import os
import shutil
import signal
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner

from cutlayers.cli import main
from cutlayers.cli.ending import STOPPED
from cutlayers.profile.search import FOLDER_VARIABLE
from cutlayers.profile.store import BACKUP
from cutlayers.writing.single import KEPT
from tests.curing.jobs import telescope
from tests.faults.injecting import FAULTS, run_short_of_room, run_with
from tests.jobs import LASER_TRAY

pytestmark = pytest.mark.skipif(os.name == "nt", reason="processes are not forked there")

TRIES = max(1, int(os.environ.get("CUTLAYERS_KILLS", "12")) // 12)
"""Steps at which each command meets each fault; all of them are spread over all that it takes."""


PRINTED = (
    LASER_TRAY.replace("small-laser", "drag-blade-340")
    + """
[[piece.art]]
panels = "base"
colour = "#0072B2"
"""
)


@dataclass(frozen=True)
class Command:
    """A command in a folder, `{}` in its words, the words before it that make the old files,
    whether it is quick, so that it meets each fault at every step, and whether it adds to a file,
    so that done twice it adds twice."""

    words: str
    before: str = ""
    every_step: bool = False
    adds: bool = False


COMMANDS = {
    "make": Command("make {}/box.toml -o {}/out", "make {}/other.toml -o {}/out"),
    "make anew": Command("make {}/box.toml -o {}/out"),
    "kit": Command(
        "make {}/kit.toml -o {}/out --processes 1", "make {}/kit.toml -o {}/out --processes 1"
    ),
    "guide": Command("guide {}/box.toml -o {}/guide.html", "guide {}/other.toml -o {}/guide.html"),
    "fold": Command("fold {}/box.toml -o {}/box.glb", "fold {}/other.toml -o {}/box.glb"),
    "new": Command("new tray -o {}/new.toml", every_step=True),
    "size": Command("size for-item tray sphere diameter=50 -o {}/new.toml"),
    "check --mend": Command("check {}/tight.toml --mend --yes"),
    "trial": Command(
        "trial kerf -p small-laser -o {}/trial",
        "trial kerf -p small-laser --material ivory -o {}/trial",
    ),
    "align": Command(
        "align {}/printed.toml -o {}/aligned --mark 12.1,12 --mark 198,12.1 --mark 12,285"
    ),
    "profile copy": Command("profile copy small-laser mine", every_step=True),
    "profile set": Command(
        "profile set mine tools.beam.kerf 0.17", "profile copy small-laser mine", every_step=True
    ),
    "profile export": Command("profile export small-laser {}/carry.toml", every_step=True),
    "profile default": Command(
        "profile default small-laser", "profile default desktop-a4", every_step=True
    ),
    "trial record": Command(
        "trial record kerf -p mine A=2.2 A=2.2 B=4.2 B=4.2 C=2.2 C=2.2 S=0.2",
        "profile copy small-laser mine",
        adds=True,
    ),
}


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Jobs and a table, and an own folder for profiles."""
    place = tmp_path / "work"
    place.mkdir()
    monkeypatch.setenv(FOLDER_VARIABLE, str(place / "profiles"))
    (place / "box.toml").write_text(LASER_TRAY)
    (place / "other.toml").write_text(LASER_TRAY.replace("80", "70"))
    (place / "printed.toml").write_text(PRINTED)
    (place / "tight.toml").write_text(telescope("clearance = 0.2"))
    (place / "kit.toml").write_text(
        f'kit.file = "rows.csv"\n{LASER_TRAY}'
        '[[piece.lettering]]\npanel = "base"\ntext = "{name}"\n'
    )
    (place / "rows.csv").write_text("name\nIda\nVit\n")
    return place


def files(folder: Path) -> dict[str, bytes]:
    """What a user sees in and below a folder, but for what is kept of earlier versions."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
        and not any(part.startswith(".") for part in path.relative_to(folder).parts)
        and not (path.name.endswith(BACKUP) or KEPT in path.name)
    }


def kept(folder: Path) -> dict[str, bytes]:
    """What is kept of earlier versions."""
    paths = sorted(each for end in (BACKUP, KEPT) for each in folder.rglob(f"*{end}*"))
    return {str(path.relative_to(folder)): path.read_bytes() for path in paths}


def prepared(command: Command, folder: Path, copy: Path) -> list[str]:
    """The words, after the old files were made and put by as `copy`, and then the new ones."""
    if command.before:
        first = CliRunner().invoke(main, command.before.replace("{}", str(folder)).split())
        assert first.exit_code == 0, first.output
    if command.words.startswith("make {}/kit"):
        (folder / "rows.csv").write_text("name\nAnn\nBo\nZoe\n")
    shutil.copytree(folder, copy, symlinks=True)
    words = command.words.replace("{}", str(folder)).split()
    done = CliRunner().invoke(main, words)  # in this process, which then has all libraries
    assert done.exit_code == 0, done.output
    return words


def put_back(copy: Path, folder: Path) -> None:
    shutil.rmtree(folder)
    shutil.copytree(copy, folder, symlinks=True)


@pytest.mark.parametrize("name", COMMANDS)
def test_whatever_step_fails(name: str, folder: Path, tmp_path: Path) -> None:
    """At steps spread over all of them, each fault in turn: the old files or the new, and a
    sentence where somebody is left to say it; afterwards the same command does its work."""
    command = COMMANDS[name]
    words = prepared(command, folder, copy := tmp_path / "copy")
    new = files(folder)
    old = files(copy)
    put_back(copy, folder)
    plain = run_with(words, folder)
    assert plain.code == 0 and plain.steps > 2 and files(folder) == new != old
    for number, fault in enumerate(FAULTS):
        spread = range(number, TRIES * len(FAULTS), len(FAULTS))
        tries = [1 + plain.steps * each // (TRIES * len(FAULTS)) for each in spread]
        for at in range(1, plain.steps + 1) if command.every_step else tries:
            put_back(copy, folder)
            ending = run_with(words, folder, FAULTS[fault], at)
            case = f"{fault} at step {at} of {plain.steps}: {ending.said}"
            seen = files(folder)
            if fault == "kill -9":
                assert ending.code == -signal.SIGKILL, case
                assert seen.items() <= old.items() or seen.items() <= new.items(), case
            elif fault == "Ctrl-C":
                assert ending.code == 130 and ending.said.startswith(("stopped", STOPPED)), case
                assert seen in (old, new), case
            elif ending.code:
                assert ending.code == 2 and len(ending.said.splitlines()) == 1, case
                assert seen == old and kept(folder) == kept(copy), case
            else:
                assert seen == new, case
            if fault == "kill -9":
                again = run_with(words, folder)
                if command.adds and seen == new:
                    assert again.code == 0 and files(folder).keys() == new.keys(), case
                    continue
                if again.code:  # what makes a new file refuses one that is there
                    assert "is there already" in again.said and seen == new, (case, again.said)
                assert files(folder) == new, case


@pytest.mark.parametrize("most", [0, 200, 3000])
@pytest.mark.parametrize("name", COMMANDS)
def test_a_disk_that_fills_while_a_file_is_written(
    name: str, most: int, folder: Path, tmp_path: Path
) -> None:
    """The limit of the system on a file's size breaks off a file in its midst."""
    words = prepared(COMMANDS[name], folder, copy := tmp_path / "copy")
    new = files(folder)
    put_back(copy, folder)

    ending = run_short_of_room(words, most)

    if ending.code:
        assert ending.code == 2 and "File too large" in ending.said, ending.said
        assert len(ending.said.splitlines()) == 1
        assert files(folder) == files(copy) and kept(folder) == kept(copy)
    else:
        assert files(folder) == new
