"""While a job is made, what follows from a box is worked out once and handed on."""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Callable, Hashable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

import cutlayers.artwork.panel_ink
import cutlayers.box.blank
import cutlayers.box.box
import cutlayers.box.facing
import cutlayers.checks
import cutlayers.checks.job
import cutlayers.fitting.search
import cutlayers.guide.build
import cutlayers.kits.making
import cutlayers.making.make
import cutlayers.net
import cutlayers.net.folding
import cutlayers.pictures.folded
import cutlayers.pictures.surfaces
from cutlayers import names_kit
from cutlayers.cli import main
from cutlayers.explaining.schema import report_schema
from tests.folders import files_in

SAMPLES = Path(__file__).parents[2] / "samples"

Calls = Counter[Hashable]


def counted(patch: pytest.MonkeyPatch, function: Callable[..., Any], key: Any) -> Calls:
    """How often the function is called with what, wherever the package has it by its name."""
    calls: Calls = Counter()

    def wrapper(*args: Any, **options: Any) -> Any:
        calls[key(*args, **options)] += 1
        return function(*args, **options)

    for name, module in list(sys.modules.items()):
        if name.startswith("cutlayers"):
            for attribute, value in list(vars(module).items()):
                if value is function:
                    patch.setattr(module, attribute, wrapper)
    return calls


@pytest.fixture(autouse=True)
def nothing_is_kept() -> None:
    """Boxes of other tests are not at hand."""
    cutlayers.box.box.build.cache_clear()
    cutlayers.box.box._box_of.cache_clear()
    cutlayers.box.box._blank_of.cache_clear()
    cutlayers.box.blank._relieved.cache_clear()
    cutlayers.box.facing.facing_blank.cache_clear()
    cutlayers.checks.job._checked.cache_clear()


@pytest.mark.parametrize("sample", sorted(SAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_sample_is_made_and_nothing_is_worked_out_twice(
    sample: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Folding a net so far, its lines, the checks of a box, each view, and the ink of a panel. The
    files are those that the report lists, and no other; `check` finds the same, in the same order,
    and both are as the schema says."""
    folds = counted(
        monkeypatch, cutlayers.net.folding.fold, lambda net, fraction=1.0, *_: (net, fraction)
    )
    lines = counted(monkeypatch, cutlayers.net.linework, lambda net: net)
    checks = counted(monkeypatch, cutlayers.checks.check_box, lambda box, **_: (box.nets, box.card))
    views = counted(
        monkeypatch,
        cutlayers.pictures.surfaces.painted,
        lambda found, toward: (tuple((s.face.label, s.pose) for s in found), toward),
    )
    inks = counted(
        monkeypatch,
        cutlayers.artwork.panel_ink.panel_ink,
        lambda art, upright, regions, panel, margin: (
            art,
            upright,
            regions.panels[panel].wkb,
            margin,
        ),
    )
    alone = ["--processes", "1"] if names_kit(sample) else []
    result = CliRunner().invoke(main, ["make", str(sample), "-o", str(tmp_path / "out"), *alone])

    assert result.exit_code == 0, result.output
    report = json.loads((tmp_path / "out" / "report.json").read_text())
    assert sorted(files_in(tmp_path / "out")) == report["files"]
    for calls in (folds, lines, checks, views, inks):
        assert [count for count in calls.values() if count > 1] == []
    assert folds and lines and checks and views
    checked = json.loads(CliRunner().invoke(main, ["check", str(sample), "--json"]).output)
    schema = Draft202012Validator(report_schema())
    schema.validate(report)
    schema.validate(checked)
    assert checked["findings"] == report["findings"]


KIT = """
kit.file = "rows.csv"
profile = "desktop-a4"
[stock.card]
caliper = 0.3
sheet = "A4"
[[piece]]
style = "tray"
stock = "card"
count = 3
size = { length = "{length}", width = 40, height = 15 }
"""


def test_rows_of_one_size_share_their_box(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Twelve rows of two lengths over many sheets: two trays are built, checked, folded, and their
    lines derived, each once."""
    from cutlayers.construction.styles import tray

    job = tmp_path / "job.toml"
    job.write_text(KIT)
    lengths = [(61.5, 72.5)[row % 2] for row in range(12)]
    (tmp_path / "rows.csv").write_text("\n".join(["length", *map(str, lengths)]) + "\n")
    built: Calls = Counter()

    def building(dims: Any, card: Any) -> tuple[cutlayers.net.Net, ...]:
        built[dims, card] += 1
        return tray.build(dims, card)

    style = replace(tray.STYLE, build=building)
    monkeypatch.setattr(tray, "STYLE", style)
    folds = counted(
        monkeypatch, cutlayers.net.folding.fold, lambda net, fraction=1.0, *_: (net, fraction < 1.0)
    )
    lines = counted(monkeypatch, cutlayers.net.linework, lambda net: net)
    checks = counted(monkeypatch, cutlayers.checks.check_box, lambda box, **_: box.nets)
    result = CliRunner().invoke(main, ["make", str(job), "-o", str(tmp_path / "out")])

    assert result.exit_code == 0, result.output
    for calls in (built, lines, checks):
        assert list(calls.values()) == [1, 1]
    # Half folded too, for the guide.
    assert list(folds.values()) == [1, 1, 1, 1]
