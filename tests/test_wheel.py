"""What an installed copy has, from the wheel that is built as an installer builds it."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from email.parser import Parser
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Iterator[zipfile.ZipFile]:
    """By the backend's own hook, without an installer and without network."""
    folder = tmp_path_factory.mktemp("wheel")
    build = "import sys; from hatchling.build import build_wheel; build_wheel(sys.argv[1])"
    subprocess.run(
        [sys.executable, "-c", build, str(folder)], cwd=ROOT, check=True, capture_output=True
    )
    (built,) = folder.glob("*.whl")
    with zipfile.ZipFile(built) as opened:
        yield opened


def test_all_of_the_package_is_in_the_wheel_and_nothing_else(wheel: zipfile.ZipFile) -> None:
    """Modules, templates, the style sheet, the type marker; the profiles under their other name."""
    ours = [path for path in (ROOT / "cutlayers").rglob("*") if path.is_file()]
    package = {
        path.relative_to(ROOT).as_posix() for path in ours if "__pycache__" not in path.parts
    }
    profiles = {f"cutlayers/shipped_profiles/{path.name}" for path in (ROOT / "profiles").iterdir()}
    found = {name for name in wheel.namelist() if ".dist-info/" not in name}

    assert found == package | profiles
    assert {
        "cutlayers/py.typed",
        "cutlayers/LICENSE",
        "cutlayers/NOTICES.md",
        "cutlayers/guide/page/templates/page.html",
        "cutlayers/guide/page/templates/page.css",
        "cutlayers/trials/templates/trial.html",
        "cutlayers/shipped_profiles/desktop-a4.toml",
    } <= found


def test_the_licence_and_the_notices_are_told_with_it(wheel: zipfile.ZipFile) -> None:
    """By the fields of core metadata 2.4: an SPDX expression, and files that lie where it says."""
    (told,) = (name for name in wheel.namelist() if name.endswith(".dist-info/METADATA"))
    fields = Parser().parsestr(wheel.read(told).decode())
    licences = f"{told.removesuffix('METADATA')}licenses"

    assert fields["License-Expression"] == "MIT"
    named = fields.get_all("License-File") or []
    assert sorted(named) == ["cutlayers/LICENSE", "cutlayers/NOTICES.md"]
    for name in named:
        assert wheel.read(f"{licences}/{name}") == (ROOT / name).read_bytes()


def test_a_copy_from_the_wheel_finds_its_profiles(wheel: zipfile.ZipFile, tmp_path: Path) -> None:
    """Unpacked away from the sources, by the command that an installed copy runs."""
    wheel.extractall(tmp_path)
    done = subprocess.run(
        [sys.executable, "-m", "cutlayers", "profile", "list"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(tmp_path)},
        check=True,
        capture_output=True,
        text=True,
    )
    assert "desktop-a4" in done.stdout
