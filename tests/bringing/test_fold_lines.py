"""FOLD files as lines. Source: the FOLD format, edition 1.2 (E. D. Demaine, J. S. Ku, R. J. Lang),
from memory of its description and of the examples published with it."""

from __future__ import annotations

import json
from collections import defaultdict
from typing import Any

import pytest
import shapely

from cutlayers.bringing.cleaning import clean
from cutlayers.bringing.files import drawing_of
from cutlayers.bringing.kinds import meant
from cutlayers.bringing.lines import Drawing, Kind
from cutlayers.bringing.panels import flat_nets
from cutlayers.bringing.rules import Rules
from cutlayers.reading.values import ValueRefused
from cutlayers.solids.fold_file import fold_bytes
from cutlayers.telling.refusing import refused_line
from tests.solids.examples import example
from tests.solids.fold_reader import read as read_frames

SQUARE: dict[str, Any] = {
    "file_spec": 1.2,
    "file_classes": ["singleModel"],
    "frame_classes": ["creasePattern"],
    "frame_unit": "cm",
    "vertices_coords": [[0, 0], [1, 0], [1, 1], [0, 1]],
    "edges_vertices": [[0, 1], [1, 2], [2, 3], [3, 0], [0, 2]],
    "edges_assignment": ["B", "B", "B", "B", "V"],
    "edges_foldAngle": [0, 0, 0, 0, 90],
    "faces_vertices": [[0, 1, 2], [0, 2, 3]],
}
"""A square sheet folded along its diagonal, the usual first example of the format."""


def read(**changes: Any) -> Drawing:
    table = {key: value for key, value in (SQUARE | changes).items() if value is not None}
    return drawing_of(json.dumps(table).encode())


def test_a_square_folded_along_its_diagonal() -> None:
    drawing = read()

    assert drawing.scale is not None
    assert drawing.scale.mm == 10.0
    found = meant(drawing, Rules())
    assert [each.kind for each in found] == [Kind.CUT] * 4 + [Kind.SCORE]
    assert not any(each.doubtful for each in found)
    fold = found[-1].line.hints
    assert (fold.fold, fold.fold_deg) == ("valley", -90.0)  # ours is above 0 for a mountain
    assert found[-1].line.path.vertices == ((0, 0), (1, 1))


def test_every_mark() -> None:
    drawing = read(
        edges_assignment=["M", "F", "U", "C", "J"], edges_foldAngle=[-30, 0, None, None, 0]
    )

    found = meant(drawing, Rules())
    assert [each.kind for each in found] == [Kind.SCORE, Kind.SCORE, Kind.SCORE, Kind.CUT]
    assert [each.line.hints.fold_deg for each in found] == [30.0, 0.0, None, None]
    assert drawing.set_aside == {"join of two faces": 1}


@pytest.mark.parametrize("angles", [None, [0, 0, 0, 0, 0]])
def test_a_mark_without_an_angle_says_the_way_alone(angles: list[int] | None) -> None:
    fold = read(edges_foldAngle=angles).lines[-1].hints

    assert (fold.fold, fold.fold_deg) == ("valley", None)


def test_angles_without_marks_are_of_the_folded_form() -> None:
    drawing = read(
        edges_assignment=None,
        edges_foldAngle=None,
        file_frames=[
            {
                "frame_classes": ["foldedForm"],
                "frame_inherit": True,
                "frame_parent": 0,
                "vertices_coords": [[0, 0, 0], [0.5, 0.5, 0.7], [1, 1, 0], [0, 1, 0]],
                "edges_foldAngle": [0, 0, 0, 0, -120],
            }
        ],
    )

    assert [line.hints.layer for line in drawing.lines] == ["border, cut"] * 4 + ["mountain fold"]
    assert drawing.lines[-1].hints.fold_deg == 120.0


def test_the_pattern_is_found_among_the_frames() -> None:
    pattern = {key: SQUARE[key] for key in SQUARE if not key.startswith("file_")}
    folded = {
        "frame_classes": ["foldedForm"],
        "vertices_coords": [[0, 0, 0], [0, 0, 1], [1, 1, 0], [0, 1, 0]],
    }

    whole = {"file_spec": 1.2, **folded, "file_frames": [pattern]}
    assert len(drawing_of(json.dumps(whole).encode()).lines) == 5


def test_units() -> None:
    """No unit, no scale."""
    assert [(s.mm if (s := read(frame_unit=unit).scale) else None) for unit in (
        "mm", "in", "pt", "m", "unit", None,
    )] == pytest.approx([1.0, 25.4, 25.4 / 72, 1000.0, None, None])  # fmt: skip
    assert read(frame_unit="unit").candidates


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"frame_classes": ["foldedForm"]}, "holds a folded form alone"),
        ({"vertices_coords": [[0, 0, 0], [1, 0, 0], [1, 1, 5], [0, 1, 0]]}, "does not lie flat"),
        ({"edges_vertices": [[0, 9]]}, "edges_vertices[1] is a list of 2; it must be two corners"),
        ({"edges_assignment": ["B", "B", "B", "B", "X"]}, 'edges_assignment[5] is "X"'),
        ({"edges_foldAngle": [0, 0, 0, 0, 999]}, "edges_foldAngle[5] is 999; it must be -180 to"),
        ({"edges_foldAngle": [0]}, "no list of 5 angles"),
        ({"vertices_coords": [["a", 0]]}, "vertices_coords[1]"),
        ({"vertices_coords": [[float("nan"), 0]]}, "NaN"),
        ({"vertices_coords": None}, "holds no vertices_coords"),
        ({"frame_inherit": True, "frame_parent": 0}, "round in a circle"),
        ({"edges_vertices": [[0, 1]] * 100_001, "edges_assignment": None}, "100,000 lines"),
    ],
)
def test_what_is_refused(changes: dict[str, Any], told: str) -> None:
    with pytest.raises(ValueRefused) as refused:
        read(**changes)
    assert told in refused_line(refused.value.refusal)


@pytest.mark.parametrize("content", [b"{", b"{}", b'{"a": 1}', b"[" * 100_000, b"{" * 10_000])
def test_what_is_no_fold_file(content: bytes) -> None:
    with pytest.raises(ValueRefused):
        drawing_of(content)


@pytest.mark.parametrize("style", ["tuck-carton", "pillow-pack", "platonic-solid"])
def test_our_own_files_come_back(style: str) -> None:
    """Panels of the same names and areas, the areas by shapely from the file's faces; a fold for
    each two panels that share a fold in the file."""
    content = fold_bytes(example(style))
    pattern = read_frames(content)[0]
    areas: dict[str, float] = defaultdict(float)
    for face, name in zip(pattern.faces, pattern.names, strict=True):
        areas[name] += shapely.Polygon(pattern.corners[face][:, :2]).area

    drawing = drawing_of(content)
    nets = flat_nets(clean(meant(drawing, Rules())).edges, drawing.texts)

    ours = {panel.name: panel.outline.area for net in nets for panel in net.net.panels}
    assert ours == pytest.approx(areas, rel=1e-3)
    assert all(isinstance(given, float) for net in nets for given in net.given)
