"""Drawings as other people's programs write them: each is the tray that was meant, or it is said
in one line why not. Areas are worked by hand from the tray's measures."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from cutlayers.bringing.folding_up import answers
from cutlayers.bringing.rules import Asked, DrawnIn
from cutlayers.bringing.understanding import understood_of
from cutlayers.telling.errors import DrawingError
from tests.bringing.unseen import drawings

DRAWINGS = dict(drawings())

NO_BOX = {
    "nothing but notes.dxf": "no line to cut or fold (1 × text)",
    "a picture of a box.svg": "no line to cut or fold (1 × picture)",
}

NO_UNIT: dict[str, DrawnIn] = {
    "units missing.dxf": "in",
    "R12 without units.dxf": "mm",
    "percentages.svg": "mm",
    "pixels without a unit.svg": "mm",
}
"""Drawings that do not say how long their unit is, and what it is."""

AREAS = sorted([60 * 40.0, 60 * 20.0, 60 * 20.0, 40 * 20.0, 40 * 20.0, *[(20 + 16) / 2 * 8.0] * 4])
"""mm²: the base, its walls, and tabs 20 mm long, 16 at their tips and 8 wide."""

ROUND = 2 * (1 - math.pi / 4) * 3**2
"""What two corners of 3 mm radius take of a wall."""

ROUNDED = sorted([*AREAS[:6], *[60 * 20 - ROUND] * 2, AREAS[-1]])


@pytest.mark.parametrize("name", sorted(DRAWINGS.keys() - NO_BOX.keys()))
def test_the_tray_comes_of_it(name: str, tmp_path: Path) -> None:
    """Nine panels and eight folds that close, and nothing else; six trays of an array of six."""
    file = tmp_path / name
    file.write_bytes(DRAWINGS[name])

    understood = understood_of(file, Asked(unit=NO_UNIT.get(name)))

    (answer,) = answers(understood)
    areas = sorted(panel.outline.area for panel in answer.net.panels)
    assert areas == pytest.approx(ROUNDED if "bulges" in name else AREAS, rel=1e-3)
    assert len(answer.net.hinges) == 8
    assert answer.closes
    assert [abs(hinge.fold_deg) for hinge in answer.net.hinges] == pytest.approx([90.0] * 8)
    assert answer.count == (6 if "array" in name else 1)


@pytest.mark.parametrize("name", [*NO_BOX, *NO_UNIT])
def test_it_is_said_why_not(name: str, tmp_path: Path) -> None:
    file = tmp_path / name
    file.write_bytes(DRAWINGS[name])

    with pytest.raises(DrawingError) as refused:
        understood_of(file, Asked())

    assert NO_BOX.get(name, "does not say how long its unit is") in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("name", [name for name in DRAWINGS if "dimensions" in name])
def test_dimension_lines_are_told(name: str, tmp_path: Path) -> None:
    """As what stands beside the box, as lines that end at nothing, or as what is no line work."""
    file = tmp_path / name
    file.write_bytes(DRAWINGS[name])

    understood = understood_of(file, Asked())

    ignored = sum(each.kind.value == "ignore" for each in understood.meant)
    aside = understood.drawing.set_aside or {}
    assert ignored >= 10 or understood.cleaned.counts.dangling >= 10 or aside["dimension"] == 2


@pytest.mark.parametrize(
    ("name", "outlines"), [("thin rectangles.svg", 20 + 8), ("outlined strokes.svg", 2 + 8)]
)
def test_strokes_saved_as_areas_are_counted(name: str, outlines: int, tmp_path: Path) -> None:
    """A rectangle for each of the border's 20 sides, or two lines round it, and 8 creases."""
    file = tmp_path / name
    file.write_bytes(DRAWINGS[name])

    assert understood_of(file, Asked()).strokes == outlines
