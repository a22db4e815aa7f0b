"""The polylines of a DXF document, as ezdxf reads them."""

from __future__ import annotations

from ezdxf.document import Drawing
from ezdxf.entities import LWPolyline


def polylines(document: Drawing, layer: str) -> list[LWPolyline]:
    """Those on a layer, in their order."""
    found = document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    return [entity for entity in found if isinstance(entity, LWPolyline)]
