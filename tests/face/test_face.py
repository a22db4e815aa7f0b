"""The package's own face: its names, light to import, and enough to do without a job file."""

from __future__ import annotations

import ast
import importlib
import re
import subprocess
import sys
from pathlib import Path

import pytest

import cutlayers

ROOT = Path(__file__).parents[2]

PROMISED = [
    "read_job",
    "read_profile",
    "styles",
    "build",
    "check",
    "lay_out",
    "plan",
    "draw",
    "render",
    "write",
    "Job",
    "Order",
    "Box",
    "Machine",
    "Style",
    "Card",
    "Stock",
    "Finding",
    "Severity",
    "Subject",
    "Quantity",
    "Layout",
    "CutlayersError",
]

HEAVY = [
    "numpy",
    "shapely",
    "ezdxf",
    "lxml",
    "PIL",
    "pydantic",
    "click",
    "tomlkit",
    "fontTools",
    "jinja2",
    "pikepdf",
]


def alone(code: str, folder: Path = ROOT) -> str:
    """What a fresh Python prints."""
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        cwd=folder,
        env={"PYTHONPATH": str(ROOT), "PATH": ""},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_every_name_is_there() -> None:
    """`__all__` names each thing once, with a docstring, and `dir` shows the same."""
    assert set(PROMISED) <= set(cutlayers.__all__)
    assert dir(cutlayers) == sorted(set(cutlayers.__all__))
    assert len(set(cutlayers.__all__)) == len(cutlayers.__all__)
    for name in cutlayers.__all__:
        value = getattr(cutlayers, name)
        assert name in ("__version__", "RULERS") or value.__doc__


def test_a_name_that_is_not_there_is_refused() -> None:
    """As by any module."""
    with pytest.raises(AttributeError, match="no attribute 'no_such_name'"):
        getattr(cutlayers, "no_such_name")  # noqa: B009


def test_the_type_checker_sees_what_is_loaded() -> None:
    """The names imported for it are those of `__all__`, from the homes they are loaded from."""
    text = (ROOT / "cutlayers" / "__init__.py").read_text(encoding="utf-8")
    shown = {
        alias.name: node.module
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.ImportFrom) and node.module and node.module != "cutlayers.later"
        for alias in node.names
        if node.module.startswith("cutlayers.")
    }

    assert set(shown) == set(cutlayers.__all__) - {"__version__"}
    for name, home in shown.items():
        assert getattr(cutlayers, name) is getattr(importlib.import_module(home), name)
    assert (ROOT / "cutlayers" / "py.typed").is_file()


def test_import_is_light() -> None:
    """No library comes with the package itself; names bring what they need."""
    code = "import sys, cutlayers; dir(cutlayers); print(*sys.modules)"
    there = {name.partition(".")[0] for name in alone(code).split()}

    assert there & set(HEAVY) == set()


def test_styles_stay_a_list_when_their_modules_are_loaded() -> None:
    """No part of the package has the name of one of these."""
    code = "import cutlayers; cutlayers.styles(); print(len(cutlayers.styles()))"

    assert int(alone(code)) == len(cutlayers.styles())
    folders = {path.stem for path in (ROOT / "cutlayers").iterdir()}
    assert folders & set(cutlayers.__all__) == set()


def test_a_box_without_a_job() -> None:
    """The blank of a tray 60 × 40 × 20 mm inside: its base is a caliper larger than the inside,
    since creases lie at mid-thickness (see `Card`)."""
    box = cutlayers.build("tray", length=60, width="4 cm", height=20, caliper=0.5)
    (net,) = box.nets
    left, bottom, right, top = net.panel("base").outline.bounds

    assert (right - left, top - bottom) == pytest.approx((60.5, 40.5))
    assert box.card.caliper == 0.5


def test_a_box_for_a_thing() -> None:
    """Nothing is checked amiss, and the ball goes in: sizes of at least its diameter."""
    box = cutlayers.build(
        "tuck-carton", caliper=0.3, holds={"shape": "sphere", "diameter": 58, "clearance": 2}
    )

    assert box.origin is not None
    dims = box.origin.dims
    assert min(dims.length, dims.width, dims.height) >= 58  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("style", "words", "field"),
    [
        ("trai", {"length": 60, "width": 40, "height": 20}, "style"),
        ("tray", {"length": 60, "width": 40}, "height"),
        ("tray", {"length": 60, "width": 40, "height": 20, "hight": 3}, "hight"),
        ("tray", {"length": -1, "width": 40, "height": 20}, "length"),
        ("tray", {"length": "long", "width": 40, "height": 20}, "length"),
        ("tray", {"length": 60, "width": 40, "height": 20, "caliper": 0}, "caliper"),
        ("tray", {"length": 60, "width": 40, "height": 20, "measure": "within"}, "measure"),
        ("tray", {"holds": {"shape": "ball", "diameter": 3}}, "shape"),
        ("tray", {"holds": {"shape": "sphere"}}, "diameter"),
    ],
)
def test_what_cannot_be_built_is_named(style: str, words: dict[str, object], field: str) -> None:
    """One line that begins with the field."""
    with pytest.raises(cutlayers.CutlayersError) as refused:
        cutlayers.build(style, **{"caliper": 0.3, **words})  # type: ignore[arg-type]

    assert str(refused.value).startswith(field)
    assert "\n" not in str(refused.value)


def test_the_example_in_the_readme_works(tmp_path: Path) -> None:
    """Run as it stands there, in a folder of its own."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    section = text.partition("## From Python\n")[2].partition("\n## ")[0]
    (block,) = re.findall(r"((?:^(?:    .*)?\n)+)", section.partition("\n\n")[2], re.MULTILINE)[:1]
    code = "\n".join(line[4:] for line in block.splitlines())

    alone(code, tmp_path)

    made = {path.name for path in (tmp_path / "favours").iterdir()}
    assert {"sheet-1.dxf", "sheet-1.svg", "sheet-1.png", "guide.html", "report.txt"} <= made
