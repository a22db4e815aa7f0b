"""How commands end: never with a traceback."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from cutlayers.cli.ending import STOPPED, EndingGroup
from tests.folders import files_in

ROOT = Path(__file__).parents[2]
JOB = ROOT / "samples" / "soap-bars.toml"


def group(fail: object) -> click.Group:
    @click.group(cls=EndingGroup)
    def main() -> None:
        """A command line."""

    @main.command()
    def work() -> None:
        """Fail."""
        raise fail  # type: ignore[misc]

    return main


@pytest.mark.parametrize("way", [KeyboardInterrupt(), click.Abort()])
def test_ctrl_c_ends_with_one_line(way: BaseException) -> None:
    """While working and while asking a question."""
    result = CliRunner().invoke(group(way), ["work"])

    assert result.exit_code == 130
    assert result.stderr == f"{STOPPED}\n"


@pytest.mark.parametrize("fault", [IndexError("tuple index"), RecursionError(), OSError(5, "gone")])
def test_a_fault_asks_for_a_report(
    fault: Exception, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One line, code 70, and the traceback in a file that the line names."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))

    result = CliRunner().invoke(group(fault), ["work"])

    assert result.exit_code == 70
    (line,) = result.stderr.splitlines()
    (kept,) = tmp_path.iterdir()
    assert type(fault).__name__ in line and "please report it" in line and str(kept) in line
    assert "Traceback" in kept.read_text()


def run(*words: str, **options: object) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **options.pop("env", {})}  # type: ignore[dict-item]
    return subprocess.run(  # type: ignore[call-overload,no-any-return]
        [sys.executable, "-m", "cutlayers", *words],
        env=environment,
        stderr=subprocess.PIPE,
        **{"stdout": subprocess.PIPE, **options},
    )


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no such device")
@pytest.mark.parametrize("words", [("--help",), ("--version",), ("styles",)])
def test_a_full_standard_output_is_told(words: tuple[str, ...]) -> None:
    """In one line, with a code of its own."""
    with Path("/dev/full").open("wb") as full:
        done = run(*words, stdout=full)

    assert done.returncode == 74
    assert done.stderr.decode() == "standard output cannot be written (No space left on device)\n"


@pytest.mark.skipif(os.name == "nt", reason="pipes end otherwise there")
@pytest.mark.parametrize("words", [("--help",), ("styles",)])
def test_a_reader_that_went_away_is_no_fault(words: tuple[str, ...]) -> None:
    """Nothing is said, as to `| head`."""
    reader, writer = os.pipe()
    os.close(reader)
    done = run(*words, stdout=writer)
    os.close(writer)

    assert done.returncode == 141
    assert done.stderr == b""


@pytest.mark.parametrize("encoding", ["cp1252", "cp437"])
def test_a_console_of_few_letters_prints_what_it_can(tmp_path: Path, encoding: str) -> None:
    """Words lose a letter, JSON none."""
    job = tmp_path / "job.toml"
    job.write_text(JOB.read_text().replace("title = ", 'title = "Мыло → 盒"\n#', 1))
    environment = {"PYTHONIOENCODING": encoding}

    words = run("check", str(job), env=environment)
    data = run("check", str(job), "--json", env=environment)

    assert (words.returncode, data.returncode) == (0, 0), words.stderr + data.stderr
    assert words.stdout.decode(encoding).startswith("???? -> ?")
    assert json.loads(data.stdout.decode(encoding))["title"] == "Мыло → 盒"


@pytest.mark.skipif(os.name == "nt", reason="interrupts are sent by POSIX signals here")
def test_ctrl_c_at_any_moment_of_make(tmp_path: Path) -> None:
    """Sent as each of some libraries is loaded, and between: one line, code 130, no file."""
    script = (
        "import sys, os, signal, importlib.abc\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"  # ignored in the background
        "class Stop(importlib.abc.MetaPathFinder):\n"
        "    def find_spec(self, name, path, target=None):\n"
        "        if name == WHEN:\n"
        "            os.kill(os.getpid(), signal.SIGINT)\n"
        "WHEN = sys.argv.pop(1)\n"
        "sys.meta_path.insert(0, Stop())\n"
        "from cutlayers.__main__ import run\n"
        "run()\n"
    )
    for when in (
        "click",
        "multiprocessing",
        "cutlayers.cli.make",
        "shapely",
        "cutlayers.writing.sets",
    ):
        done = subprocess.run(
            [sys.executable, "-c", script, when, "make", str(JOB), "-o", str(tmp_path / "out")],
            cwd=ROOT,
            capture_output=True,
            text=True,
        )
        assert (when, done.returncode) == (when, 130), done.stderr
        assert done.stderr == f"{STOPPED}\n"
        assert not (tmp_path / "out").exists() or files_in(tmp_path / "out") == {}
