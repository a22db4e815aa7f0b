"""The formats of solids, by the endings of their files."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from cutlayers.solids.fold_file import fold_bytes
from cutlayers.solids.meshes import glb_bytes, obj_bytes
from cutlayers.solids.model import Model

WRITERS: Mapping[str, Callable[[Model], bytes]] = {
    ".glb": glb_bytes,
    ".obj": obj_bytes,
    ".fold": fold_bytes,
}
