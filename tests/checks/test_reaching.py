"""What no finger gets in to is told by a check of the whole job."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from cutlayers.cli import main

JOB = """\
title = "Pressed"

[stock.card]
caliper = 0.3
sheet = [320, 320]

[[piece]]
name = "box"
stock = "card"
"""

CUBE = 'style = "platonic-solid"\nsize = { edge = 50 }\noptions = { solid = "cube" }'


def tray(across: int, high: int) -> str:
    """Tabs 8 mm deep."""
    size = f"{{ length = {across}, width = {across}, height = {high} }}"
    return f'style = "tray"\nsize = {size}\noptions = {{ tab = 8 }}'


@pytest.mark.parametrize(
    ("piece", "told"),
    [
        (tray(20, 20), []),
        (tray(20, 120), ["pencil", "pencil"]),
        (CUBE, ["nothing"]),
    ],
)
def test_what_no_finger_gets_in_to_is_told(piece: str, told: list[str], tmp_path: Path) -> None:
    """A finger is 12 mm thick and 80 mm long, the hand behind it 30 mm (IEC 60529, and common
    practice); a tray 20 mm wide has room for a pencil of 7 mm, and its two ends are glued one after
    the other. The last face of a cube closes on its tabs."""
    (tmp_path / "job.toml").write_text(JOB + piece)

    result = CliRunner().invoke(
        main, ["check", str(tmp_path / "job.toml"), "--profile", "drag-blade-340", "--json"]
    )

    findings = [f for f in json.loads(result.output)["findings"] if f["code"] == "no-finger-inside"]
    assert [(f["severity"], f["details"]["tool"]) for f in findings] == [
        ("note", tool) for tool in told
    ]
