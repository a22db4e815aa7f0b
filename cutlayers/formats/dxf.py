"""DXF files: one layer each, closed polylines with bulges, nothing a reader could stumble on.

The unit stands in the header from R2000 on; R12 has no place for it and gets a comment instead.
"""

from __future__ import annotations

import io

from cutlayers.formats.drawing import Drawing, Layer, straightened
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import union_bounds
from cutlayers.profile.output import DxfSettings
from cutlayers.reading.dxf_library import Document, Modelspace

MILLIMETRES = 4
"""$INSUNITS, DXF Reference, header variables."""

METRIC = 1
"""$MEASUREMENT, same source; R12 has neither variable."""

R12_COMMENT = "999\nall lengths are millimetres\n"
"""Group 999 is a comment; readers skip it."""

DATES = ("$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE")
IDS = ("$VERSIONGUID", "$FINGERPRINTGUID")
STAMPS = ("CREATED_BY_EZDXF", "WRITTEN_BY_EZDXF")
FIXED_DATE = "2451545.0"
"""The first of January 2000, in days as DXF counts them (its day begins at noon)."""

FIXED_ID = "{00000000-0000-0000-0000-000000000000}"
FIXED_STAMP = "0.0 @ 2000-01-01T00:00:00.000000+00:00"


def write_dxf(drawing: Drawing, settings: DxfSettings) -> bytes:
    """Write a DXF file: the same drawing gives the same bytes.

    Arcs become bulges, or chords within `settings.tolerance` mm where curves are "lines".
    Empty layers are kept, so that every sheet of a job offers the same layers.
    Source: DXF Reference, LWPOLYLINE, POLYLINE and VERTEX.
    """
    if settings.curves == "lines":
        drawing = straightened(drawing, settings.tolerance)
    # The library's `new` also sets units, and for R12 warns of it on the user's terminal.
    document = Document.new(settings.version)
    _describe(document, drawing)
    for layer in drawing.layers:
        _add_layer(document, layer)
    # The library would list these in the order of a set, which changes from run to run.
    for name in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(name)
    stamped = io.StringIO()
    document.write(stamped)
    head = R12_COMMENT if settings.version == "R12" else ""
    return document.encode(head + _timeless(stamped.getvalue(), document))


def _timeless(text: str, document: Document) -> str:
    """The file without the clock and the random ids that the library writes into it.

    They are known from the document once it is written, and each stands in lines of its own.
    """
    header, about = document.header, document.ezdxf_metadata()
    for variable in DATES:
        if variable in header:
            heading = f"  9\n{variable}\n 40\n"
            text = text.replace(f"{heading}{header[variable]}\n", f"{heading}{FIXED_DATE}\n")
    for variable in IDS:
        if variable in header:
            text = text.replace(f"\n{header[variable]}\n", f"\n{FIXED_ID}\n")
    for key in STAMPS:
        if key in about:
            text = text.replace(f"\n{about[key]}\n", f"\n{FIXED_STAMP}\n")
    return text


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
