"""DXF files as lines: written by ezdxf, of geometry that is known."""

from __future__ import annotations

import io
import math
from pathlib import Path
from typing import Any

import ezdxf
import pyogrio
import pytest
import shapely

from cutlayers.bringing.files import drawing_of
from cutlayers.bringing.lines import Drawing
from cutlayers.reading.values import ValueRefused

VERSIONS = ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]


def new(version: str = "R2010", units: int = 4) -> Any:
    return ezdxf.new(version, setup=True, units=units)


def written(document: Any) -> bytes:
    text = io.StringIO()
    document.write(text)
    return document.encode(text.getvalue())  # type: ignore[no-any-return]


def read(document: Any) -> Drawing:
    return drawing_of(written(document))


@pytest.mark.parametrize("version", VERSIONS)
def test_every_edition(version: str) -> None:
    document = new(version)
    document.layers.add("CUT", color=1)
    space = document.modelspace()
    space.add_line((0, 0), (10, 0), dxfattribs={"layer": "CUT"})
    space.add_arc((20, 0), 5, 90, 270, dxfattribs={"layer": "CUT"})
    space.add_circle((40, 0), 5)
    points = [(0, 20, 1.0), (10, 20, 0.0), (10, 30, 0.0)]
    add = space.add_polyline2d if version == "R12" else space.add_lwpolyline
    add(points, format="xyb", close=True)

    drawing = read(document)

    line, arc, circle, polyline = (each.path for each in drawing.lines)
    assert line.vertices == ((0, 0), (10, 0))
    assert arc.length == pytest.approx(5 * math.pi)
    assert arc.bounds == pytest.approx((15, -5, 20, 5))
    assert circle.area == pytest.approx(25 * math.pi)
    assert polyline.closed
    assert polyline.bounds == pytest.approx((0, 15, 10, 30))  # a half circle turns left: below
    assert drawing.lines[0].hints.layer == "CUT"
    assert drawing.lines[0].hints.colour == "#FF0000"
    assert (drawing.scale is None) is (version == "R12")


@pytest.mark.parametrize(
    ("units", "mm"), [(1, 25.4), (2, 304.8), (4, 1.0), (5, 10.0), (6, 1000.0), (14, 100.0)]
)
def test_insunits_tell_the_scale(units: int, mm: float) -> None:
    """DXF Reference, $INSUNITS."""
    document = new(units=units)
    document.modelspace().add_line((0, 0), (1, 0))

    scale = read(document).scale

    assert scale is not None
    assert scale.mm == pytest.approx(mm)


def test_no_unit_no_scale() -> None:
    document = new(units=0)
    document.modelspace().add_line((0, 0), (4, 3))

    drawing = read(document)

    assert drawing.scale is None
    assert [(each.unit, each.mm) for each in drawing.candidates][:2] == [("mm", 1.0), ("in", 25.4)]
    assert "101.6 × 76.2 mm" in drawing.candidates[1].reason


def test_ellipse_and_spline_lie_within_the_tolerance() -> None:
    """Points of both by ezdxf's own tools."""
    document = new()
    space = document.modelspace()
    ellipse = space.add_ellipse((0, 0), (30, 10), 0.4, 0.3, 4.0)
    spline = space.add_spline([(0, 50), (20, 80), (50, 40), (70, 60)])
    rational = space.add_rational_spline([(0, 99), (20, 130), (50, 90), (70, 99)], [1, 3, 0.5, 1])

    drawing = read(document)

    for line, points in zip(
        drawing.lines,
        (
            ellipse.vertices(ellipse.params(500)),
            spline.construction_tool().approximate(500),
            rational.construction_tool().approximate(500),
        ),
        strict=True,
    ):
        ours = shapely.LineString(line.path.points(1e-5))
        theirs = shapely.points([(point.x, point.y) for point in points])
        assert shapely.distance(ours, theirs).max() <= 0.0105


def test_blocks_are_unfolded_where_they_stand() -> None:
    document = new()
    inner = document.blocks.new("inner", base_point=(1, 1))
    inner.add_line((1, 1), (11, 1))
    outer = document.blocks.new("outer")
    outer.add_blockref("inner", (5, 0), dxfattribs={"rotation": 90})
    outer.add_circle((0, 0), 3)
    space = document.modelspace()
    space.add_blockref("outer", (100, 0), dxfattribs={"layer": "CUT", "color": 5,
                                                      "xscale": -2, "yscale": 2})  # fmt: skip
    space.add_blockref("outer", (0, 200), dxfattribs={"xscale": 2, "yscale": 1})

    drawing = read(document)

    line, circle, _, oval = drawing.lines
    assert line.path.bounds == pytest.approx((90, 0, 90, 20))
    assert line.hints.layer == "CUT"
    assert line.hints.group == ("outer", "inner")
    assert abs(circle.path.area) == pytest.approx(36 * math.pi)
    assert abs(oval.path.area) == pytest.approx(18 * math.pi, rel=1e-3)


def test_rows_and_columns_of_a_block() -> None:
    document = new()
    document.blocks.new("b").add_line((0, 0), (1, 0))
    document.modelspace().add_blockref("b", (0, 0), dxfattribs={
        "row_count": 2, "column_count": 3, "row_spacing": 10, "column_spacing": 20,
    })  # fmt: skip

    starts = {line.path.start for line in read(document).lines}

    assert starts == {(x, y) for x in (0, 20, 40) for y in (0, 10)}


def test_turned_over_entities_are_mirrored() -> None:
    """Source: DXF Reference, arbitrary axis: with extrusion (0, 0, -1) x points left."""
    document = new()
    over = {"extrusion": (0, 0, -1)}
    space = document.modelspace()
    space.add_arc((10, 0), 5, 0, 90, dxfattribs=over)
    space.add_lwpolyline([(1, 2, 1.0), (11, 2, 0)], format="xyb", dxfattribs=over)

    arc, polyline = (line.path for line in read(document).lines)

    assert arc.bounds == pytest.approx((-15, 0, -10, 5))
    assert polyline.bounds == pytest.approx((-11, -3, -1, 2))


def test_looks_come_from_layers_and_blocks() -> None:
    document = new()
    document.layers.add("FOLD", color=5, linetype="DASHED", lineweight=35)
    space = document.modelspace()
    space.add_line((0, 0), (9, 0), dxfattribs={"layer": "FOLD"})
    entity = space.add_line((0, 1), (9, 1), dxfattribs={"linetype": "DASHDOT", "ltscale": 2.0})
    entity.rgb = (18, 52, 86)
    block = document.blocks.new("b")
    block.add_line((0, 0), (1, 0), dxfattribs={"color": 0})
    space.add_blockref("b", (0, 5), dxfattribs={"layer": "FOLD", "color": 3})

    fold, own, inside = (line.hints for line in read(document).lines)

    assert (fold.colour, len(fold.dash), fold.width) == ("#0000FF", 2, 0.35)
    assert (own.colour, len(own.dash)) == ("#123456", 4)
    assert (inside.layer, inside.colour) == ("FOLD", "#00FF00")


def test_what_is_no_line_is_set_aside() -> None:
    document = new()
    document.layers.add("off").off()
    document.layers.add("frozen").freeze()
    space = document.modelspace()
    space.add_line((0, 0), (9, 0))
    space.add_line((0, 0), (9, 0), dxfattribs={"layer": "off"})
    space.add_circle((0, 0), 9, dxfattribs={"layer": "frozen"})
    space.add_line((3, 3), (3, 3))
    space.add_text("lid").set_placement((4, 5))
    space.add_mtext("90°\\Pwall", dxfattribs={"insert": (6, 7)})
    space.add_hatch().paths.add_polyline_path([(0, 0), (1, 0), (1, 1)])
    space.add_point((1, 1))
    space.add_linear_dim((0, 3), (0, 0), (9, 0)).render()

    drawing = read(document)

    assert len(drawing.lines) == 1
    assert drawing.set_aside == {
        "dimension": 1,
        "hatch": 1,
        "hidden line": 2,
        "line without length": 1,
        "point": 1,
        "text": 2,
    }
    assert [(text.text, text.at) for text in drawing.texts] == [
        ("lid", (4, 5)),
        ("90° wall", (6, 7)),
    ]


def circle_of_blocks() -> Any:
    document = new()
    for one, other in (("a", "b"), ("b", "a")):
        document.blocks.new(one).add_blockref(other, (1, 1))
    document.modelspace().add_blockref("a", (0, 0))
    return document


def deep_blocks(depth: int) -> Any:
    document = new()
    document.blocks.new("b0").add_line((0, 0), (1, 0))
    for i in range(1, depth):
        document.blocks.new(f"b{i}").add_blockref(f"b{i - 1}", (1, 0))
    document.modelspace().add_blockref(f"b{depth - 1}", (0, 0))
    return document


def bomb_of_blocks() -> Any:
    document = new()
    document.blocks.new("b0").add_line((0, 0), (1, 0))
    for i in range(1, 12):
        block = document.blocks.new(f"b{i}")
        for _ in range(10):
            block.add_blockref(f"b{i - 1}", (1, 0))
    document.modelspace().add_blockref("b11", (0, 0))
    return document


def other_drawing() -> Any:
    document = new()
    document.add_xref_def("other.dxf", "other")
    document.modelspace().add_blockref("other", (0, 0))
    return document


def far_away() -> Any:
    document = new()
    document.modelspace().add_line((0, 0), (1, math.nan))
    return document


def turned_no_way() -> Any:
    document = new()
    document.modelspace().add_lwpolyline([(0, 0, 1e308), (9, 0, 0)], format="xyb")
    return document


def rows_without_end() -> Any:
    document = new()
    document.blocks.new("b").add_line((0, 0), (1, 0))
    document.modelspace().add_blockref("b", (0, 0), dxfattribs={
        "row_count": 2, "row_spacing": 5, "column_count": 2_000_000_000,
    })  # fmt: skip
    return document


@pytest.mark.parametrize(
    ("document", "why"),
    [
        (circle_of_blocks(), "holds itself"),
        (deep_blocks(102), "100 deep"),
        (bomb_of_blocks(), "more than 100,000 lines"),
        (other_drawing(), "refers to another drawing"),
        (far_away(), "no number or far away"),
        (turned_no_way(), "which is no arc"),
        (rows_without_end(), "more than 100,000 lines"),
        (new(), "no line to cut or fold"),
    ],
)
def test_what_is_refused(document: Any, why: str) -> None:
    with pytest.raises(ValueRefused, match=why):
        read(document)


def test_a_hundred_blocks_inside_each_other_are_read() -> None:
    assert read(deep_blocks(100)).lines[0].path.start == pytest.approx((99, 0))


def test_what_is_no_dxf() -> None:
    with pytest.raises(ValueRefused, match="neither"):
        drawing_of(b"%PDF-1.7 ...")


@pytest.mark.parametrize("bulge", [1e-300, -1e-12, 0.0])
def test_arcs_that_hardly_bend_are_lines(bulge: float) -> None:
    document = new()
    document.modelspace().add_lwpolyline([(0, 0, bulge), (9, 0, 0)], format="xyb")

    assert read(document).lines[0].path.bulges == (0.0,)


def test_entities_that_nobody_knows_are_set_aside() -> None:
    document = new("R12")
    document.modelspace().add_line((0, 0), (9, 0))
    text = written(document).replace(b"ENDSEC\n  0\nEOF", b"GLOBE\n  8\n0\n  0\nENDSEC\n  0\nEOF")

    assert drawing_of(text).set_aside == {"other entity": 1}


def test_an_entity_without_a_part_is_told_by_its_handle() -> None:
    document = new("R12")
    document.modelspace().add_circle((0, 0), 9)
    text = written(document).replace(b" 40\n9.0\n", b" 40\nnan\n")

    with pytest.raises(ValueRefused, match=r"has a CIRCLE \(handle \w+\)"):
        drawing_of(text)


def test_another_reader_sees_the_same(tmp_path: Path) -> None:
    """GDAL, by pyogrio and shapely: lengths and places of lines, blocks unfolded and turned."""
    document = new()
    block = document.blocks.new("b", base_point=(2, 1))
    block.add_lwpolyline([(0, 0, 0.4), (10, 0, 0), (10, 5, -0.2)], format="xyb", close=True)
    block.add_arc((3, 3), 4, 20, 250)
    space = document.modelspace()
    space.add_line((-5, 2), (7, 9))
    space.add_circle((40, 40), 7)
    space.add_ellipse((0, 60), (9, 3), 0.5)
    for x, angle, scale in ((20, 30, 1.5), (60, 200, -1.0)):
        space.add_blockref(
            "b", (x, 10), dxfattribs={"rotation": angle, "xscale": scale, "yscale": abs(scale)}
        )
    file = tmp_path / "drawing.dxf"
    file.write_bytes(written(document))

    theirs = [shapely.force_2d(shape) for shape in shapes_of(file)]
    ours = [shapely.LineString(_round(line.path)) for line in read(document).lines]

    together = shapely.MultiLineString(ours), shapely.GeometryCollection(theirs)
    assert together[0].length == pytest.approx(together[1].length, rel=1e-3)
    assert shapely.hausdorff_distance(*together) < 0.05  # their arcs are chords of 4 degrees


def _round(path: Any) -> list[tuple[float, float]]:
    points = path.points(0.001)
    return [*points, points[0]] if path.closed else points


def shapes_of(file: Path) -> list[Any]:
    return list(shapely.from_wkb(pyogrio.raw.read(file)[2]))
