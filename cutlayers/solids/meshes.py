"""Slabs of card as closed triangle meshes, written as glTF 2.0 (binary) and as OBJ.

The library trimesh extrudes and writes; it is an extra. Each panel is one mesh under its own
name. Holes and windows go through, relief holes too; slits and tear lines have no width and are not
shown.

Lengths and axes are those of each format. Source: Khronos Group, "glTF 2.0 Specification", 3.4:
metres, right-handed, +Y up, the front of a thing faces +Z; 3.9.2: colour factors are linear. OBJ
names neither: there they are mm and +Z is up, as a comment in the file says.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from cutlayers.net.faces import pierced
from cutlayers.net.panel import Panel
from cutlayers.net.relief_holes import Hole
from cutlayers.solids.model import Model, Part
from cutlayers.telling.colours import KRAFT_OUTSIDE
from cutlayers.telling.errors import OutputError
from cutlayers.telling.refusals import Refusal

if TYPE_CHECKING:
    from trimesh import Scene, Trimesh

Array = NDArray[np.float64]

TO_GLTF = np.array(((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))) / 1000.0
"""From mm with z up and the front towards −y, to metres with y up and the front towards +z."""

SAME = np.eye(3)

OBJ_NOTE = "lengths are mm, +Z is up; one object for each panel, a slab of card"

ROUGH = 0.9
"""Of card, which hardly shines."""


def glb_bytes(model: Model) -> bytes:
    """A model as binary glTF, in metres. Raises OutputError where trimesh is not installed."""
    _need_trimesh()
    from trimesh.exchange.gltf import export_glb

    content: bytes = export_glb(_scene(model, TO_GLTF, coloured=True), include_normals=False)
    return content


def obj_bytes(model: Model) -> bytes:
    """A model as OBJ, in mm. Raises OutputError where trimesh is not installed."""
    _need_trimesh()
    from trimesh.exchange.obj import export_obj

    scene = _scene(model, SAME, coloured=False)
    text: str = export_obj(scene, include_normals=False, include_color=False, header=OBJ_NOTE)
    return text.encode()


def _scene(model: Model, turn: Array, *, coloured: bool) -> Scene:
    from trimesh import Scene
    from trimesh.visual import TextureVisuals
    from trimesh.visual.material import PBRMaterial

    scene = Scene()
    colour = [*(_linear(KRAFT_OUTSIDE[i : i + 2]) for i in (1, 3, 5)), 1.0]
    cards = {
        stock: PBRMaterial(
            name=stock, baseColorFactor=colour, metallicFactor=0.0, roughnessFactor=ROUGH
        )
        for stock in dict.fromkeys(part.stock for part in model.parts)
    }
    for part in model.parts:
        for panel in part.folded.net.panels:
            mesh = slab(part, panel)
            mesh.vertices = mesh.vertices @ turn.T
            if coloured:
                mesh.visual = TextureVisuals(material=cards[part.stock])
            name = part.label(panel)
            scene.add_geometry(mesh, node_name=name, geom_name=name)
    return scene


def slab(part: Part, panel: Panel) -> Trimesh:
    """The card of a panel in its place, in mm."""
    from trimesh.creation import extrude_triangulation
    from trimesh.util import concatenate

    pose = part.folded.poses[panel.name]
    meshes = [
        extrude_triangulation(vertices, triangles, part.caliper)
        for vertices, triangles in _triangulated(panel, part.folded.holes)
    ]
    mesh = cast("Trimesh", concatenate(meshes))
    axes = np.array((pose.right, pose.up, pose.normal))
    flat = np.asarray(mesh.vertices) + np.array((0.0, 0.0, part.skins(panel.name)[0]))
    mesh.vertices = flat @ axes + np.array(pose.origin)
    return mesh


def _triangulated(panel: Panel, holes: Sequence[Hole]) -> Iterator[tuple[Array, NDArray[np.int64]]]:
    """The corners and triangles, counter-clockwise, of each part of a panel that is left beside
    its holes."""
    for shape in shapely.get_parts(pierced([panel], holes)):
        assert isinstance(shape, Polygon)
        triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(shape))
        rings = shapely.get_exterior_ring(shapely.orient_polygons(triangles))
        points = shapely.get_coordinates(shapely.force_2d(rings)).reshape(-1, 4, 2)[:, :3]
        corners, numbers = np.unique(points.reshape(-1, 2), axis=0, return_inverse=True)
        yield corners, numbers.reshape(-1, 3)


def _linear(part: str) -> float:
    """The light of one part of a colour #RRGGBB. Source: IEC 61966-2-1 (sRGB)."""
    value = int(part, 16) / 255
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def _need_trimesh() -> None:
    try:
        import trimesh  # noqa: F401
    except ImportError:
        raise OutputError(
            Refusal(
                reason="glTF and OBJ need trimesh, which is not installed",
                advice="get it with: pip install 'cutlayers[fold]', or write a .fold file",
            )
        ) from None
