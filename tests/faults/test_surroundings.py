"""The same job, the same files, wherever and whenever it is made."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from tests.folders import files_in

ROOT = Path(__file__).parents[2]

JOB = """
title = "Мыло → für Ø"
profile = "drag-blade-340"
[stock.grey]
caliper = 0.5
grammage = 400
sheet = "A5"
[[piece]]
name = "Kästchen"
style = "tray"
stock = "grey"
size = { length = "2 in", width = 40, height = 15 }
[[piece.art]]
roles = "all"
pattern = "stars"
[[piece.art]]
panels = "base"
file = "Blüte 盒.svg"
[[piece.lettering]]
panel = "base"
text = "soap"
"""

BLOSSOM = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><circle r="4"/></svg>'

UNSET = ""


@dataclass(frozen=True)
class Place:
    """Environment variables, "" for one that is not there; lines of Python that run before the
    command; and the words of the folder in which it runs."""

    environment: Mapping[str, str] = field(default_factory=dict)
    before: str = ""


JUMPING = """
import itertools, time
years = itertools.cycle((0.0, 2e9, -1e9))
real = time.time
time.time = lambda: max(0.0, real() + next(years))
"""

STRAY = """
import os, tempfile
from pathlib import Path
os.chdir(tempfile.mkdtemp())
Path("ezdxf.ini").write_text({!r}, encoding="latin-1")
"""
SETTINGS = """[core]
SUPPORT_DIRS = /nowhere
STORE_PROXY_GRAPHICS = false
LOG_UNPROCESSED_TAGS = true
FILTER_INVALID_XDATA_GROUP_CODES = false
WRITE_FIXED_META_DATA_FOR_TESTING = true
DISABLE_C_EXT = true
"""
"""The DXF library looks for these where the user happens to be; none of them is as it is without.
Source: its documentation, Global Options Object."""

PLACES = {
    "another hash seed": Place({"PYTHONHASHSEED": "4242"}),
    "the plain locale": Place({"LC_ALL": "C", "LANG": "C"}),
    "file names of ASCII letters alone": Place(
        {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    ),
    "a locale that is not installed": Place({"LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8"}),
    "no locale, a console of few letters": Place(
        {"LC_ALL": UNSET, "LANG": UNSET, "PYTHONIOENCODING": "ascii"}
    ),
    "the far side of the date line": Place({"TZ": "Pacific/Kiritimati"}),
    "a time zone that is none": Place({"TZ": ":/nowhere"}),
    "no home folder": Place({"HOME": "/nowhere", "XDG_CONFIG_HOME": UNSET}),
    "no home folder and no name of the user": Place(
        {"HOME": UNSET, "USER": UNSET, "LOGNAME": UNSET, "XDG_CONFIG_HOME": UNSET},
        "import pwd\ndef nobody(_):\n    raise KeyError\npwd.getpwuid = pwd.getpwnam = nobody\n",
    ),
    "other settings of a library": Place(before=STRAY.format(SETTINGS)),
    "no folder for temporary files": Place({"TMPDIR": "/nowhere"}),
    "nothing in the environment": Place(dict.fromkeys(os.environ, UNSET)),
    "another working folder": Place(before="import os\nos.chdir('/')\n"),
    "a working folder that is gone": Place(
        before="import os, tempfile\nplace = tempfile.mkdtemp()\nos.chdir(place)\nos.rmdir(place)\n"
    ),
    "a clock that jumps by decades": Place(before=JUMPING),
    "files closed to all others": Place(before="import os\nos.umask(0o077)\n"),
    "no standard input": Place(before="import os\nos.close(0)\n"),
    "a console a few letters wide": Place({"COLUMNS": "3", "TERM": "dumb", "NO_COLOR": "1"}),
}


def write_job(folder: Path) -> None:
    """With its picture."""
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    (folder / "Blüte 盒.svg").write_text(BLOSSOM)


def run(job: Path, output: Path, place: Place) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONHASHSEED": "0", **place.environment}
    program = f"{place.before}\nimport sys\nsys.path.insert(0, {str(ROOT)!r})\n"
    program += "from cutlayers.cli import main\nmain(sys.argv[1:])\n"
    return subprocess.run(
        [sys.executable, "-c", program, "make", job, "-o", output],
        env={name: value for name, value in environment.items() if value != UNSET},
        cwd=job.parent,
        capture_output=True,
    )


def made(job: Path, output: Path, place: Place) -> dict[str, bytes]:
    done = run(job, output, place)
    assert done.returncode == 0, done.stderr
    assert done.stderr == b""
    return files_in(output)


@pytest.mark.parametrize("settings", ["\x00\xff", "[core\n", "no section = 1\n"])
def test_settings_of_the_dxf_library_that_are_none(tmp_path: Path, settings: str) -> None:
    """It would end the program with words of its own; nothing is written, and the file is named."""
    write_job(tmp_path)

    done = run(tmp_path / "job.toml", tmp_path / "out", Place(before=STRAY.format(settings)))

    assert (done.returncode, done.stdout) == (2, b"")
    assert re.fullmatch(rb"ezdxf\.ini: [^\n]+\n", done.stderr)
    assert not (tmp_path / "out").exists()


def test_nothing_is_put_into_the_home_folder(tmp_path: Path) -> None:
    """No library keeps a list of its own there."""
    (tmp_path / "home").mkdir()
    write_job(tmp_path)
    unset = {name: UNSET for name in os.environ if name.startswith("XDG_")}

    made(tmp_path / "job.toml", tmp_path / "out", Place({**unset, "HOME": str(tmp_path / "home")}))

    assert list((tmp_path / "home").iterdir()) == []


@pytest.fixture(scope="module")
def usual(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, bytes]]:
    """A job, and the files made of it where nothing is odd."""
    folder = tmp_path_factory.mktemp("usual")
    write_job(folder)
    return folder / "job.toml", made(folder / "job.toml", folder / "out", Place())


@pytest.mark.skipif(os.name == "nt", reason="another system has other surroundings")
@pytest.mark.parametrize("name", PLACES)
def test_the_same_bytes(name: str, usual: tuple[Path, dict[str, bytes]], tmp_path: Path) -> None:
    """Exit 0, nothing said on the error output, and nothing beside the output folder."""
    job, files = usual
    beside = sorted(job.parent.iterdir())

    assert made(job, tmp_path / "out", PLACES[name]) == files
    assert sorted(job.parent.iterdir()) == beside


SWITCHES = """
import contextlib, decimal, io, locale, logging, os, signal, sys, warnings
from pathlib import Path
environment = dict(os.environ)
import cutlayers.reading.dxf_library
import ezdxf, numpy, PIL.Image
def switches():
    options = io.StringIO()
    ezdxf.options.write(options)
    named = [logging.getLogger(name) for name in sorted(logging.root.manager.loggerDict)]
    return {
        "environment": dict(os.environ), "folder": os.getcwd(), "paths": list(sys.path),
        "levels": {each.name: each.level for each in named if each.level},
        "silenced": [each.name for each in named if each.disabled or not each.propagate],
        "warnings": list(warnings.filters), "locale": locale.setlocale(locale.LC_ALL),
        "numbers": (numpy.geterr(), numpy.get_printoptions(), decimal.getcontext().prec),
        "largest picture": PIL.Image.MAX_IMAGE_PIXELS, "DXF": options.getvalue(),
        "interrupts": signal.getsignal(signal.SIGINT), "deepest": sys.getrecursionlimit(),
    }
before = {**switches(), "environment": environment}
from cutlayers.bringing import Asked, understood_of
from cutlayers.telling.errors import CutlayersError
job = cutlayers.read_job(sys.argv[1])
machine = cutlayers.read_profile(job.profile)
cutlayers.render(cutlayers.draw(cutlayers.plan(cutlayers.lay_out(job, machine))))
with contextlib.suppress(CutlayersError):
    understood_of(Path(sys.argv[2]), Asked())
after = switches()
print({name: (before[name], after[name]) for name in before if before[name] != after[name]})
"""

BROKEN = "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n0\n10\n1\n20\nx\n11\n2\n21\n2\n0\nENDSEC\n"
"""A number that is none: the DXF library mends it and says so to whoever listens."""


def test_no_switch_of_the_process_or_of_a_library_is_turned(tmp_path: Path) -> None:
    """Whoever makes boxes in a program of his own finds all as it was, and nothing is said."""
    write_job(tmp_path)
    (tmp_path / "broken.dxf").write_text(BROKEN)

    done = subprocess.run(
        [sys.executable, "-c", SWITCHES, "job.toml", "broken.dxf"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )

    assert (done.stdout, done.stderr) == ("{}\n", "")
