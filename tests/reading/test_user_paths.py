"""Paths with a home folder in them, where there is one and where there is none."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from cutlayers.cli import main
from cutlayers.reading.user_paths import user_path

NOBODY = "~no-such-user-here/x"

JOB = """
{}
[stock.grey]
caliper = 0.5
sheet = "A4"
[[piece]]
style = "tray"
stock = "grey"
size = {{ length = 80, width = 50, height = 20 }}
"""


def test_a_home_folder_that_is_known(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The user's own."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))

    assert user_path("~/art/sprig.svg") == tmp_path / "art" / "sprig.svg"
    assert user_path("art/~/sprig.svg") == Path("art/~/sprig.svg")


@pytest.mark.parametrize("word", [f"{NOBODY}.toml", "~"])
def test_a_home_folder_of_nobody_is_a_name(word: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is raised: whoever opens it says what is not there."""
    monkeypatch.setattr("os.path.expanduser", lambda path: path)  # as where none is known

    assert user_path(word) == Path(word)


@pytest.mark.parametrize("command", ["check", "make", "guide"])
@pytest.mark.parametrize(
    ("job", "words"),
    [
        (JOB.format(f'profile = "{NOBODY}.toml"'), ()),
        (JOB.format('profile = "small-laser"'), ("-p", f"{NOBODY}.toml")),
        (
            JOB.format('profile = "small-laser"')
            + f'[[piece.lettering]]\npanel = "base"\ntext = "a"\nfile = "{NOBODY}.ttf"\n',
            (),
        ),
        (
            JOB.format('profile = "small-laser"')
            + f'[[piece.art]]\npanels = "base"\nfile = "{NOBODY}.png"\n',
            (),
        ),
    ],
)
def test_every_door_refuses_the_home_of_nobody(
    command: str, job: str, words: tuple[str, ...], tmp_path: Path
) -> None:
    """One line that names the file, exit 2."""
    (tmp_path / "job.toml").write_text(job)
    out = () if command == "check" else ("-o", str(tmp_path / "out"))

    result = CliRunner().invoke(main, [command, str(tmp_path / "job.toml"), *out, *words])

    assert result.exit_code == 2, result.output
    assert re.search(r"x\.(toml|ttf|png)", result.stderr)
    assert len(result.stderr.splitlines()) == 1
    assert [each.name for each in tmp_path.iterdir()] == ["job.toml"]


def test_a_kits_table_in_the_home_of_nobody(tmp_path: Path) -> None:
    """The table is named as it was written."""
    named = f'profile = "small-laser"\nkit.file = "{NOBODY}.csv"'
    (tmp_path / "job.toml").write_text(JOB.format(named))

    for command in ("check", "make"):
        result = CliRunner().invoke(main, [command, str(tmp_path / "job.toml")])

        assert result.exit_code == 2, result.output
        assert "no-such-user-here" in result.stderr and len(result.stderr.splitlines()) == 1
