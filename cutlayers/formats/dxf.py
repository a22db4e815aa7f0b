"""DXF files: one layer each, closed polylines with bulges, nothing a reader could stumble on.

The unit stands in the header from R2000 on; R12 has no place for it and gets a comment instead.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager

import ezdxf
from ezdxf.document import Drawing as Document
from ezdxf.layouts import Modelspace

from cutlayers.formats.drawing import Drawing, Layer, straightened
from cutlayers.geometry.paths import Path, union_bounds
from cutlayers.profile.output import DxfSettings

MILLIMETRES = 4
"""$INSUNITS, DXF Reference, header variables."""

METRIC = 1
"""$MEASUREMENT, same source; R12 has neither variable."""

R12_COMMENT = "999\nall lengths are millimetres\n"
"""Group 999 is a comment; readers skip it."""


def write_dxf(drawing: Drawing, settings: DxfSettings) -> bytes:
    """Write a DXF file: the same drawing gives the same bytes.

    Arcs become bulges, or chords within `settings.tolerance` mm where curves are "lines".
    Empty layers are kept, so that every sheet of a job offers the same layers.
    Source: DXF Reference, LWPOLYLINE, POLYLINE and VERTEX.
    """
    if settings.curves == "lines":
        drawing = straightened(drawing, settings.tolerance)
    with _fixed_meta_data():
        # The library's `new` also sets units, and for R12 warns of it on the user's terminal.
        document = Document.new(settings.version)
        _describe(document, drawing)
        for layer in drawing.layers:
            _add_layer(document, layer)
        # The library would list these in the order of a set, which changes from run to run.
        for name in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(name)
        text = io.StringIO()
        document.write(text)
    head = R12_COMMENT if settings.version == "R12" else ""
    return document.encode(head + text.getvalue())


@contextmanager
def _fixed_meta_data() -> Iterator[None]:
    """Keep the clock and random ids out of the file; the library has one switch per process."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _describe(document: Document, drawing: Drawing) -> None:
    if document.dxfversion != "AC1009":
        document.units = MILLIMETRES
        document.header["$MEASUREMENT"] = METRIC
    # Only dimensions need this layer, and a user would wonder what it is for.
    document.layers.remove("Defpoints")
    space = document.modelspace()
    space.reset_limits((0.0, 0.0), (drawing.width, drawing.height))
    boxes = [path.bounds for layer in drawing.layers for path in layer.paths]
    if boxes:
        left, bottom, right, top = union_bounds(boxes)
        space.reset_extents((left, bottom, 0.0), (right, top, 0.0))


def _add_layer(document: Document, layer: Layer) -> None:
    entry = document.layers.add(layer.name, color=layer.dxf_colour)
    if document.dxfversion >= "AC1018":
        red, green, blue = bytes.fromhex(layer.colour[1:])
        entry.rgb = (red, green, blue)
    space = document.modelspace()
    for path in layer.paths:
        _add_polyline(space, path, layer.name)


def _add_polyline(space: Modelspace, path: Path, layer_name: str) -> None:
    # The last bulge of an open path belongs to no edge.
    bulges = path.bulges if path.closed else (*path.bulges, 0.0)
    points = [(x, y, bulge) for (x, y), bulge in zip(path.vertices, bulges, strict=True)]
    add = space.add_polyline2d if space.dxfversion == "AC1009" else space.add_lwpolyline
    add(points, format="xyb", close=path.closed, dxfattribs={"layer": layer_name})
