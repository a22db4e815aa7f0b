"""The formats of solids, by the endings of their files."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from cutlayers.frozen import frozen
from cutlayers.solids.fold_file import fold_bytes
from cutlayers.solids.meshes import glb_bytes, obj_bytes
from cutlayers.solids.model import Model


@frozen
class Format:
    """How a model is written, and the standard of the file with its unit and way up."""

    write: Callable[[Model], bytes]
    standard: str


FORMATS: Mapping[str, Format] = {
    ".glb": Format(glb_bytes, "glTF 2.0, in metres, +Y up"),
    ".obj": Format(obj_bytes, "OBJ, in mm, +Z up"),
    ".fold": Format(fold_bytes, "FOLD 1.2, in mm, +Z up"),
}
