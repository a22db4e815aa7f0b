"""DXF files read back by two libraries, one of which had no part in writing them."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Literal

import ezdxf
import numpy as np
import pyogrio
import pytest
import shapely
from ezdxf import bbox
from ezdxf.document import Drawing
from ezdxf.entities import LWPolyline, Polyline
from ezdxf.math import bulge_to_arc

from cutlayers.formats.dxf import write_dxf
from cutlayers.profile.output import DxfSettings
from tests.formats.examples import EXAMPLES, Example, Measures

Version = Literal["R12", "R2000", "R2004"]
VERSIONS: tuple[Version, ...] = ("R12", "R2000", "R2004")
CURVES: tuple[Literal["arcs", "lines"], ...] = ("arcs", "lines")
TOLERANCE = 0.02
SETTINGS = [
    pytest.param(DxfSettings(version, curves, TOLERANCE), id=f"{version}-{curves}")
    for version in VERSIONS
    for curves in CURVES
]
every_setting = pytest.mark.parametrize("settings", SETTINGS)
every_example = pytest.mark.parametrize("example", EXAMPLES, ids=str)


def read_with_ezdxf(data: bytes) -> Drawing:
    """Parse the bytes as any program would, without help from the writer."""
    return ezdxf.read(io.StringIO(data.decode("cp1252")))


@pytest.fixture
def fine_arcs() -> Iterator[None]:
    """GDAL draws bulges as chords; a quarter of a degree is finer than what is asserted."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.25", "OGR_ARC_MAX_GAP": "0"})
    yield
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None, "OGR_ARC_MAX_GAP": None})


@every_setting
@every_example
def test_auditor_finds_no_errors(example: Example, settings: DxfSettings) -> None:
    """The library's auditor has nothing to mend and nothing to complain about."""
    auditor = read_with_ezdxf(write_dxf(example.drawing, settings)).audit()

    assert auditor.errors == []
    assert auditor.fixes == []


@pytest.mark.usefixtures("fine_arcs")
@every_setting
@every_example
def test_gdal_reads_the_same_layers_lengths_and_areas(
    example: Example, settings: DxfSettings, tmp_path: Path
) -> None:
    """Layer by layer: number of paths, closed or open, length, area and extents."""
    file = tmp_path / "sheet.dxf"
    file.write_bytes(write_dxf(example.drawing, settings))
    meta, _, geometry, fields = pyogrio.raw.read(file)
    layers = fields[list(meta["fields"]).index("Layer")]
    shapes = shapely.from_wkb(geometry)

    assert sorted(set(layers)) == sorted(example.layers)
    for name, measures in example.layers.items():
        _assert_measures(shapes[layers == name], measures)


def _assert_measures(shapes: np.ndarray, measures: Measures) -> None:
    lines = [shapely.LineString(shapely.force_2d(shape).coords) for shape in shapes]
    closed = tuple(line.coords[0] == line.coords[-1] for line in lines)
    area = sum(shapely.Polygon(line).area for line in lines if line.is_closed)
    length = sum(line.length for line in lines)
    # Chords within the tolerance lose at most tolerance × length of area.
    assert closed == measures.closed
    assert length == pytest.approx(measures.length, rel=2e-3)
    assert area == pytest.approx(measures.area, abs=TOLERANCE * measures.length)
    assert shapely.total_bounds(np.array(lines)) == pytest.approx(measures.bounds, abs=TOLERANCE)


@pytest.mark.usefixtures("fine_arcs")
@pytest.mark.parametrize("version", VERSIONS)
@every_example
def test_gdal_reads_arcs_exactly(example: Example, version: Version, tmp_path: Path) -> None:
    """With bulges nothing but GDAL's own chords stands between the area and its formula."""
    file = tmp_path / "sheet.dxf"
    file.write_bytes(write_dxf(example.drawing, DxfSettings(version)))
    _, _, geometry, _ = pyogrio.raw.read(file)
    rings = [shape for shape in shapely.from_wkb(geometry) if shape.is_closed]
    area = sum(shapely.Polygon(shapely.force_2d(ring).coords).area for ring in rings)

    # A quarter of a degree: the area of a circle shrinks by φ²/6 = 3.2e-6 of itself.
    assert area == pytest.approx(sum(m.area for m in example.layers.values()), rel=1e-5)


@pytest.mark.parametrize("version", VERSIONS)
@every_example
def test_ezdxf_reads_the_same_extents(example: Example, version: Version) -> None:
    """Exact bounding boxes, arcs included."""
    document = read_with_ezdxf(write_dxf(example.drawing, DxfSettings(version)))
    for name, measures in example.layers.items():
        box = bbox.extents(document.modelspace().query(f'*[layer=="{name}"]'))

        assert (*box.extmin.vec2, *box.extmax.vec2) == pytest.approx(measures.bounds, abs=0.011)


@pytest.mark.parametrize("version", VERSIONS)
def test_only_closed_polylines_are_used_for_arcs(version: Version) -> None:
    """No blocks, splines, texts or single arcs: one polyline a path."""
    kind = "POLYLINE" if version == "R12" else "LWPOLYLINE"
    for example in EXAMPLES:
        document = read_with_ezdxf(write_dxf(example.drawing, DxfSettings(version)))
        entities = list(document.modelspace())

        assert {entity.dxftype() for entity in entities} == {kind}
        flags = [
            entity.is_closed for entity in entities if isinstance(entity, LWPolyline | Polyline)
        ]
        assert flags == [closed for m in example.layers.values() for closed in m.closed]


@pytest.mark.parametrize("version", VERSIONS)
def test_lines_setting_leaves_no_bulge(version: Version) -> None:
    """Programs without arcs get chords."""
    for example in EXAMPLES:
        data = write_dxf(example.drawing, DxfSettings(version, "lines", TOLERANCE))
        for entity in read_with_ezdxf(data).modelspace():
            if isinstance(entity, Polyline):
                bulges = [vertex.dxf.bulge for vertex in entity.vertices]
            else:
                assert isinstance(entity, LWPolyline)
                bulges = [bulge for (bulge,) in entity.get_points("b")]

            assert bulges and not any(bulges)


def test_a_bulge_means_the_same_arc_to_the_other_library() -> None:
    """ezdxf's own reading of the three-quarter circle: centre, radius, and sweep."""
    example = next(e for e in EXAMPLES if e.name == "three quarters of a circle")
    document = read_with_ezdxf(write_dxf(example.drawing, DxfSettings("R2000")))
    (start, end) = document.modelspace()[0].get_points("xyb")
    centre, first, last, radius = bulge_to_arc(start[:2], end[:2], start[2])

    assert tuple(centre) == pytest.approx((50.0, 40.0))
    assert radius == pytest.approx(20.0)
    assert math.degrees(last - first) % 360 == pytest.approx(270.0)
