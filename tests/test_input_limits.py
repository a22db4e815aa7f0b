"""DEVELOPERS.md tells what input may have: the figures of the code, none left out by mistake."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cutlayers.align import scan
from cutlayers.artwork import model, pictures, rasters, svg_safety
from cutlayers.bringing import (
    dxf_lines,
    files,
    fold_lines,
    noding,
    planar,
    right_angles,
    understanding,
)
from cutlayers.bringing.limits import MOST_EDGES
from cutlayers.kits import rows
from cutlayers.lettering import outlines
from cutlayers.page import safety
from cutlayers.reading import markup, toml_file

GUIDE = Path(__file__).parents[1] / "DEVELOPERS.md"

TOLD = [
    f"jobs, profiles {toml_file.LARGEST_MEGABYTES} MB",
    f"tables {rows.LARGEST_MEGABYTES} MB and {rows.MOST_ROWS:,} rows",
    f"fonts and pictures {outlines.MOST_MEGABYTES} MB",
    f"fonts and pictures {model.LARGEST_MEGABYTES} MB",
    f"pictures {rasters.MOST_PIXELS // 1_000_000} million pixels and {rasters.MOST_SIDE:,} along",
    f"scans {scan.MOST_PIXELS // 1_000_000} million pixels",
    f"`reading/markup.py` alone, {markup.DEEPEST} deep at most",
    f"{svg_safety.LARGEST_SVG // 1_000_000} MB and {svg_safety.MOST_ELEMENTS:,} elements",
    f"at most {files.LARGEST_MB} MB (as FOLD {fold_lines.LARGEST // 1_000_000} MB)",
    f"{dxf_lines.MOST_ENTITIES:,} entries, {MOST_EDGES:,} lines",
    f"{noding.MOST_MEETINGS:,} places where lines meet",
    f"{noding.MOST_CROSSINGS:,} of them inside of a line",
    f"{planar.MOST_FACES:,} faces, {understanding.MOST_PANELS:,} panels",
    f"at most {understanding.FARTHEST / 1000:g} m across",
    f"up to {right_angles.MOST_LAID} panels in all",
    f"unfolded, {dxf_lines.DEEPEST} deep at most",
    f"requests of at most {safety.LARGEST_BODY // 1_000} kB",
    f"{pictures.PAINTING_S:g} s and {pictures.PAINTING_BYTES // 1_000_000_000} GB",
]


@pytest.mark.parametrize("told", TOLD)
def test_the_limits_that_are_told_are_those_of_the_code(told: str) -> None:
    """Each with what it bounds, in the section on input."""
    section = re.split(r"^## ", GUIDE.read_text(encoding="utf-8"), flags=re.MULTILINE)
    (about,) = [each for each in section if each.startswith("What input may do")]

    assert told in " ".join(about.split())
