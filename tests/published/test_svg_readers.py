"""SVG files read back by svgelements and painted by resvg; neither had a part in writing them."""

from __future__ import annotations

import io
import re
from typing import Any, Literal

import numpy as np
import pytest
import resvg_py
import shapely
import svgelements
from PIL import Image
from shapely.geometry.base import BaseGeometry

from cutlayers.formats.svg import LINE_WIDTH, write_svg
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point
from cutlayers.profile.output import SvgSettings
from tests.formats.examples import CIRCLE, EXAMPLES, QUARTER, Example, cut, sheet

PX_PER_MM = 96 / 25.4
"""CSS Values and Units Level 3, section 6.2: 1 in = 96 px = 25.4 mm."""

TOLERANCE = 0.02
SETTINGS = [
    pytest.param(SvgSettings(), id="mm"),
    pytest.param(SvgSettings(curves="lines", tolerance=TOLERANCE), id="mm-lines"),
    *(
        pytest.param(SvgSettings(units="px", pixels_per_inch=density), id=f"px-{density}")
        for density in (72, 90, 96)
    ),
]
every_setting = pytest.mark.parametrize("settings", SETTINGS)
every_example = pytest.mark.parametrize("example", EXAMPLES, ids=str)


def parse(data: bytes, settings: SvgSettings) -> tuple[Any, float]:
    """The document, its size in px, and how many of its px make 1 mm."""
    density = 96 if settings.units == "mm" else settings.pixels_per_inch
    return svgelements.SVG.parse(io.BytesIO(data), ppi=96), density / 25.4


def groups(document: Any) -> dict[str, list[Any]]:
    """The top-level groups in order, each with its paths."""
    return {
        group.id: [shape for shape in group if isinstance(shape, svgelements.Path)]
        for group in document
        if isinstance(group, svgelements.Group)
    }


@every_setting
@every_example
def test_svgelements_reads_the_same_measures(example: Example, settings: SvgSettings) -> None:
    """Layer by layer: closed or open, length, area, and extents with y turned upside down."""
    document, scale = parse(write_svg(example.drawing, settings), settings)
    found = groups(document)

    assert document.width == pytest.approx(120 * scale, abs=1e-3)
    assert document.height == pytest.approx(80 * scale, abs=1e-3)
    assert list(found) == [layer.name for layer in example.drawing.layers]
    slack = TOLERANCE if settings.curves == "lines" else 2e-4
    for name, measures in example.layers.items():
        shapes = found[name]
        left, top, right, bottom = svgelements.Group.union_bbox(shapes)
        bounds = (left / scale, 80 - bottom / scale, right / scale, 80 - top / scale)
        length = sum(shape.length(error=1e-7) for shape in shapes) / scale

        assert tuple(isinstance(s[-1], svgelements.Close) for s in shapes) == measures.closed
        assert bounds == pytest.approx(measures.bounds, abs=slack)
        assert length == pytest.approx(measures.length, rel=2e-3 if slack == TOLERANCE else 1e-5)
        area = sum(_area(shape) for shape in shapes if isinstance(shape[-1], svgelements.Close))
        assert area / scale**2 == pytest.approx(measures.area, abs=(slack + 4e-3) * 100)


def _area(shape: Any) -> float:
    """Area of a closed path, from many points of each piece."""
    shares = np.linspace(0.0, 1.0, 400, endpoint=False)
    points = [piece.npoint(shares) for piece in shape.segments()[1:] if piece.length() > 1e-9]
    return shapely.Polygon(np.concatenate(points)).area


@pytest.mark.parametrize(
    ("bulge", "centre", "sweep_deg", "sweep_flag"),
    [
        # From (10, 0) to (0, 10) with y down: sweep flag 1 turns about (0, 0) by +90°, 0 about
        # (10, 10) by −90°; the large arc with flag 1 turns about (10, 10) by +270°.
        # SVG 1.1, appendix F.6.5; worked by its formulas. A left turn with y up has flag 0.
        (-QUARTER, (0.0, 0.0), 90.0, 1),
        (QUARTER, (10.0, 10.0), -90.0, 0),
        (-(1 + 2**0.5), (10.0, 10.0), 270.0, 1),
    ],
)
def test_arcs_turn_the_way_the_standard_says(
    bulge: float, centre: Point, sweep_deg: float, sweep_flag: int
) -> None:
    """The y flip turns the sweep flag, and long arcs keep their centre when split."""
    path = Path(((10.0, 80.0), (0.0, 70.0)), (bulge,), closed=False)
    data = write_svg(sheet(cut(path)), SvgSettings())
    (shape,) = groups(parse(data, SvgSettings())[0])["cut"]
    arcs = [piece for piece in shape if isinstance(piece, svgelements.Arc)]

    flags = re.findall(rb"A[0-9.]+ [0-9.]+ 0 0 ([01]) ", data)
    assert flags == [b"%d" % sweep_flag] * len(arcs)
    assert np.degrees(sum(arc.sweep for arc in arcs)) == pytest.approx(sweep_deg)
    for arc in arcs:
        assert (arc.center.x / PX_PER_MM, arc.center.y / PX_PER_MM) == pytest.approx(
            centre, abs=2e-4
        )


@pytest.mark.parametrize(("density", "ratio"), [(72, 0.75), (90, 0.9375), (96, 1.0)])
def test_px_files_read_at_96_shrink_by_the_known_ratio(
    density: Literal[72, 90, 96], ratio: float
) -> None:
    """A program that takes 96 px for an inch shows 72-px files at 0.75, 90-px files at 0.9375."""
    settings = SvgSettings(units="px", pixels_per_inch=density)
    document, _ = parse(write_svg(sheet(cut(CIRCLE)), settings), settings)
    left, _, right, _ = document.bbox()

    assert (right - left) / PX_PER_MM / 40.0 == pytest.approx(ratio, rel=1e-5)


PX = 20
"""Pixels per mm, 508 per inch: a whole number, because resvg rounds a picture to whole pixels."""


def paint(data: bytes, settings: SvgSettings) -> np.ndarray:
    """Pixels (rows, columns, RGB) of the sheet at `PX` per mm."""
    text = data.decode()
    if settings.units == "px":
        # Placed on a page of the right size, as a program does that knows the density.
        text = re.sub(
            r'width="[0-9.]+" height="[0-9.]+"', 'width="2400" height="1600"', text, count=1
        )
    image = resvg_py.svg_to_bytes(
        svg_string=text, dpi=PX * 25.4, background="#ffffff", skip_system_fonts=True
    )
    return np.asarray(Image.open(io.BytesIO(image)).convert("RGB")).astype(float)


# A slanted line's end has no edge along the pixels to measure at.
@every_setting
@pytest.mark.parametrize("example", [e for e in EXAMPLES if e.name != "line"], ids=str)
def test_painted_work_has_its_true_size(example: Example, settings: SvgSettings) -> None:
    """The sheet and all ink on it end within half a pixel of where they should."""
    image = paint(write_svg(example.drawing, settings), settings)
    ink = 1.0 - image.min(axis=2) / 255.0
    height, width = ink.shape
    rows, columns = (np.flatnonzero(ink.max(axis=axis) >= 0.5) for axis in (1, 0))
    strokes = [
        _line(path).buffer(LINE_WIDTH / 2, cap_style="flat")
        for layer in example.drawing.layers
        for path in layer.paths
    ]
    left, bottom, right, top = shapely.union_all(strokes).bounds

    assert (width, height) == (120 * PX, 80 * PX)
    # A pixel more than half covered belongs to the line.
    assert columns[0] == pytest.approx(left * PX, abs=0.5)
    assert columns[-1] + 1 == pytest.approx(right * PX, abs=0.5)
    assert rows[0] == pytest.approx((80 - top) * PX, abs=0.5)
    assert rows[-1] + 1 == pytest.approx((80 - bottom) * PX, abs=0.5)


@every_setting
@every_example
def test_each_layer_is_painted_where_it_belongs(example: Example, settings: SvgSettings) -> None:
    """Ink lies on the layer's own lines and nowhere else, in the layer's own colour."""
    image = paint(write_svg(example.drawing, settings), settings)
    drawn = {
        layer.name: shapely.union_all([_line(path) for path in layer.paths])
        for layer in example.drawing.layers
        if layer.paths
    }
    rows, columns = np.nonzero(image.min(axis=2) < 200)
    centres = shapely.points((columns + 0.5) / PX, 80 - (rows + 0.5) / PX)

    # Half the line's width, and half the diagonal of a pixel that it touches.
    reach = LINE_WIDTH / 2 + 0.71 / PX + (TOLERANCE if settings.curves == "lines" else 0.0)
    assert shapely.distance(centres, shapely.union_all(list(drawn.values()))).max() < reach
    for layer in example.drawing.layers:
        if layer.paths:
            others = shapely.union_all([line for name, line in drawn.items() if name != layer.name])
            _assert_coloured(image, drawn[layer.name], others, layer.colour)


def _line(path: Path) -> shapely.LineString:
    points = path.points(0.001)
    return shapely.LineString(points + points[:1] if path.closed else points)


def _assert_coloured(
    image: np.ndarray, line: BaseGeometry, others: BaseGeometry, colour: str
) -> None:
    """Each millimetre of the line shows more of its own colour than of white."""
    wanted = np.array(list(bytes.fromhex(colour[1:])), float)
    checked = 0
    for part in shapely.get_parts(line):
        for at in np.arange(0.5, part.length, 1.0):
            point = part.interpolate(at)
            if not others.is_empty and others.distance(point) < 0.5:
                continue
            row, column = int((80 - point.y) * PX), int(point.x * PX)
            near = image[row - 1 : row + 2, column - 1 : column + 2].reshape(-1, 3)
            tint = near[near.sum(axis=1).argmin()]
            # On the straight way from white to the colour, and past its middle.
            share = (255 - tint).sum() / (255 - wanted).sum()
            assert share > 0.5
            assert tint == pytest.approx(255 + share * (wanted - 255), abs=3)
            checked += 1
    assert checked > 20
