"""The same drawing gives the same bytes, in whatever process and at whatever time."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Literal

import ezdxf
import pytest

from cutlayers.formats.dxf import write_dxf
from cutlayers.formats.svg import write_svg
from cutlayers.pictures.png import write_png
from cutlayers.pictures.sheet import sheet_scene
from cutlayers.pictures.svg import write_svg as write_scene
from cutlayers.profile.output import DxfSettings, SvgSettings
from tests.formats.examples import EXAMPLES

VERSIONS: tuple[Literal["R12", "R2000", "R2004"], ...] = ("R12", "R2000", "R2004")
SEVERAL = EXAMPLES[-1].drawing


def digest() -> str:
    """One hash over every format and version."""
    parts = [
        *(write_dxf(SEVERAL, DxfSettings(version)) for version in VERSIONS),
        write_svg(SEVERAL, SvgSettings()),
        write_svg(SEVERAL, SvgSettings(units="px")),
        write_scene(sheet_scene(SEVERAL)),
        write_png(sheet_scene(SEVERAL), 300),
    ]
    return hashlib.sha256(b"".join(parts)).hexdigest()


@pytest.mark.parametrize("seed", ["0", "7", "4242"])
def test_other_processes_write_the_same_bytes(seed: str, tmp_path: Path) -> None:
    """Another hash seed, another working folder, another moment."""
    code = "from tests.formats.test_same_bytes import digest; print(digest())"
    root = str(Path(__file__).parents[2])
    run = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": root, "TZ": "Asia/Tokyo"},
        capture_output=True,
        text=True,
        check=True,
    )

    assert run.stdout.strip() == digest()
    assert run.stderr == ""


def test_no_moment_of_writing_is_named() -> None:
    """Every stamp in the file bears the one fixed date."""
    for version in VERSIONS:
        text = write_dxf(SEVERAL, DxfSettings(version)).decode()
        stamps = re.findall(r" @ (\d{4}-\d\d-\d\d)T", text)

        assert set(stamps) == {"2000-01-01"}


def test_two_threads_write_the_right_bytes_at_once() -> None:
    """Nothing of the library's is switched while a file is written."""
    versions = VERSIONS * 4
    alone = [write_dxf(SEVERAL, DxfSettings(version)) for version in versions]
    with ThreadPoolExecutor(2) as pool:
        at_once = list(pool.map(lambda v: write_dxf(SEVERAL, DxfSettings(v)), versions))

    assert at_once == alone
    assert not ezdxf.options.write_fixed_meta_data_for_testing
