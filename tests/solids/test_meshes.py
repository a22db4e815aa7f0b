"""Slabs written as glTF and OBJ, read back and measured by another library."""

from __future__ import annotations

import io
import json
import math
import struct
import sys
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import trimesh

from cutlayers.artwork.model import Spot
from cutlayers.box.blank import Blank
from cutlayers.box.facing import Facing, facing_net
from cutlayers.job.stock import Stock
from cutlayers.net.features import Work
from cutlayers.net.panel import Panel
from cutlayers.solids.meshes import glb_bytes, obj_bytes
from cutlayers.solids.model import Model, model_of
from cutlayers.telling.errors import OutputError
from tests.solids.examples import STYLES, example, job_of

READ = {"glb": glb_bytes, "obj": obj_bytes}
MM = {"glb": 1000.0, "obj": 1.0}
"""What a length of the file is in mm: glTF counts metres by its specification, OBJ has no unit."""

MEASURED = {"glb": 2e-5, "obj": 1e-6}
"""mm; glTF keeps 24 bits of a number, of a box within half a metre."""


def read(model: Model, kind: str) -> dict[str, trimesh.Trimesh]:
    """The named slabs of a file, in mm; the axes are those of the file."""
    content = READ[kind](model)
    apart: dict[str, Any] = {"split_objects": True} if kind == "obj" else {}
    scene: Any = trimesh.load(io.BytesIO(content), file_type=kind, force="scene", **apart)
    found = {}
    for node in scene.graph.nodes_geometry:
        turn, name = scene.graph[node]
        mesh = scene.geometry[name].copy()
        mesh.apply_transform(turn)
        mesh.apply_scale(MM[kind])
        found[name] = mesh
    return found


def flat_area(panel: Panel) -> float:
    """mm² of card: the outline less its holes, arcs and all."""
    holes = (f.path for f in panel.features if f.work in (Work.PUNCH, Work.WINDOW))
    return panel.outline.area - sum(abs(path.area) for path in holes)


@pytest.mark.parametrize("kind", READ)
@pytest.mark.parametrize("name", STYLES)
def test_every_panel_is_a_slab_of_its_area_and_one_caliper(name: str, kind: str) -> None:
    """Closed, each under its own name; chords stand in for arcs within 0.05 mm."""
    model = example(name, 0.3)

    slabs = read(model, kind)

    assert len(slabs) == model.panels
    for part in model.parts:
        for panel in part.folded.net.panels:
            mesh = slabs[part.label(panel)]
            assert mesh.is_watertight and mesh.is_winding_consistent, panel.name
            curved = any(map(any, [panel.outline.bulges, *(f.path.bulges for f in panel.features)]))
            near = 0.05 if curved else 1e-4
            assert mesh.volume / 0.3 == pytest.approx(flat_area(panel), rel=near), panel.name


@pytest.mark.parametrize("kind", READ)
def test_relief_goes_through_the_slabs(kind: str) -> None:
    """Three boxes that stand up in a card of 0.5 mm, four corners each where slits and creases end:
    every corner is the middle of a hole 1 mm across, a quarter of it in the box and the rest in the
    card about it. Chords of 0.05 mm leave a hole up to an eighth smaller."""
    volumes: list[dict[str, float]] = []
    for relief in (0.0, 0.5):
        slabs = read(example("pop-up-card", 0.5, relief=relief), kind)
        assert all(mesh.is_watertight for mesh in slabs.values())
        volumes.append({name.partition(": ")[2]: mesh.volume for name, mesh in slabs.items()})
    taken = {name: volume - volumes[1][name] for name, volume in volumes[0].items()}

    hole = math.pi * 0.5**2 * 0.5
    assert len(taken) == 8
    for name, gone in taken.items():
        wanted = hole * (6 * 3 / 4 if name in ("upper", "lower") else 2 / 4)
        assert wanted * 7 / 8 <= gone <= wanted, name


@pytest.mark.parametrize("kind", READ)
def test_a_tray_by_hand(kind: str) -> None:
    """80 × 60 × 20 mm outside, of card 1 mm thick: between creases the base is 79 × 59; a wall
    stands 19.5 above the middle of the base, and the long ones are short of a caliper at each end,
    where the glue tabs that hang on them turn inside of the short walls."""
    model = example("tray", 1.0, length=80.0, width=60.0, height=20.0, measure="outside")

    slabs = {name.partition(": ")[2]: mesh for name, mesh in read(model, kind).items()}

    near = MEASURED[kind]
    volumes = {"base": 79 * 59, "front": 77 * 19.5, "left": 59 * 19.5, "right": 59 * 19.5}
    for name, volume in volumes.items():
        assert slabs[name].volume == pytest.approx(volume, rel=1e-5)
    corners = np.concatenate([mesh.vertices for mesh in slabs.values()])
    low, high = corners.min(axis=0), corners.max(axis=0)
    if kind == "glb":  # +Y is up, and the front looks towards +Z
        assert (*low, *high) == pytest.approx((-40, 0, -30, 40, 20, 30), abs=near)
        assert slabs["front"].bounds[:, 2] == pytest.approx((29, 30), abs=near)
        return
    assert (*low, *high) == pytest.approx((-40, -30, 0, 40, 30, 20), abs=near)
    assert slabs["front"].bounds[:, 1] == pytest.approx((-30, -29), abs=near)
    # A tab lies face to face with the wall that it is glued to.
    assert slabs["right"].bounds[:, 0] == pytest.approx((39, 40), abs=near)
    assert slabs["front right tab"].bounds[:, 0] == pytest.approx((38, 39), abs=near)


@pytest.mark.parametrize("share", [-0.2, 0.2, 0.5, 0.8])
def test_a_box_is_as_large_as_it_was_asked_for_whatever_its_creases_take(share: float) -> None:
    """80 × 60 × 20 mm outside, of card 1 mm thick, and a caliper less inside at each wall."""
    dims: dict[str, Any] = {"length": 80.0, "width": 60.0, "height": 20.0, "share": share}

    slabs = {
        name.partition(": ")[2]: mesh.bounds
        for name, mesh in read(example("tray", 1.0, measure="outside", **dims), "obj").items()
    }

    assert slabs["left"][:, 0] == pytest.approx((-40, -39), abs=1e-6)
    assert slabs["front"][:, 1] == pytest.approx((-30, -29), abs=1e-6)
    assert slabs["base"][:, 2] == pytest.approx((0, 1), abs=1e-6)
    assert slabs["front"][1, 2] == pytest.approx(20, abs=1e-6)
    assert slabs["front right tab"][:, 0] == pytest.approx((38, 39), abs=1e-6)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
def test_pages_folded_right_over_lie_face_to_face(share: float) -> None:
    """Of a folder in card of 1 mm, one page on the other: 2 mm in all."""
    slabs = read(example("folder", 1.0, share=share), "obj")

    front, back = (slabs[f"box: {page}"].bounds for page in ("front", "back"))
    assert back[0, 1] - front[1, 1] == pytest.approx(0.0, abs=1e-6)
    assert back[1, 1] - front[0, 1] == pytest.approx(2.0, abs=1e-6)


def test_the_play_of_a_lid_is_there() -> None:
    """Of the telescope's two trays, the lid's walls stand half the clearance off the base's."""
    slabs = read(example("telescope-box", 0.5, clearance=1.2), "obj")

    lid, base = slabs["box: lid: front"].bounds, slabs["box: base: front"].bounds
    assert base[0, 1] - lid[1, 1] == pytest.approx(0.6, abs=1e-6)


@pytest.mark.parametrize("kind", READ)
def test_a_hole_goes_through(kind: str) -> None:
    """A slab with one hole is a ring: its Euler characteristic is 0, of one without 2."""
    slabs = read(example("hang-tag"), kind)

    (tag,) = slabs.values()
    assert tag.euler_number == 0


def test_a_box_that_is_partly_open_has_its_blanks_side_by_side() -> None:
    """No slab of the one blank reaches over the other's; both stand on the table."""
    slabs = read(example("telescope-box", 0.5, opened=0.4), "obj")

    ends = {}
    for blank in ("lid", "base"):
        corners = np.concatenate([m.vertices for n, m in slabs.items() if f": {blank}: " in n])
        ends[blank] = corners[:, 0].min(), corners[:, 0].max()
        assert corners[:, 2].min() == pytest.approx(0.0, abs=1e-6)
    assert ends["base"][1] + 20 == pytest.approx(ends["lid"][0], abs=1e-6)


def test_a_flat_box_is_flat() -> None:
    """One caliper high."""
    slabs = read(example("tray", 0.5, opened=1.0), "obj")

    assert all(m.bounds[:, 2] == pytest.approx((0.0, 0.5), abs=1e-6) for m in slabs.values())


def test_gltf_says_what_it_is() -> None:
    """Version 2 of the binary container, each panel a node of its name, card that is no metal.
    Source: Khronos Group, glTF 2.0 Specification, 4.4 (GLB file format) and 3.9."""
    model = example("tray")
    content = glb_bytes(model)

    magic, version, length, json_length, kind = struct.unpack_from("<4sII I4s", content)
    assert (magic, version, length, kind) == (b"glTF", 2, len(content), b"JSON")
    told = json.loads(content[20 : 20 + json_length])
    assert told["asset"]["version"] == "2.0"
    names = {node["name"] for node in told["nodes"] if "mesh" in node}
    assert names == {p.label(panel) for p in model.parts for panel in p.folded.net.panels}
    (card,) = told["materials"]
    assert card["name"] == "card"
    assert card["pbrMetallicRoughness"]["metallicFactor"] == 0.0


def test_the_same_model_has_the_same_bytes() -> None:
    for write in READ.values():
        assert write(example("gable-carton")) == write(example("gable-carton"))


@pytest.mark.parametrize("write", READ.values())
def test_without_the_library_the_extra_is_named(
    write: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    model = example("tray")
    monkeypatch.setitem(sys.modules, "trimesh", None)

    with pytest.raises(OutputError, match=r"pip install 'cutlayers\[fold\]'"):
        write(model)


def test_facings_lie_on_their_panels() -> None:
    """Face to face, on the outside, of their own card."""
    job = job_of("tray", 1.0, length=80.0, width=60.0, height=20.0, measure="outside")
    (blank,) = job.orders[0].box.blanks
    facing = Facing(Blank(facing_net(blank, "front", 2.0)), Spot("tray", "front"), "gold")
    order = replace(job.orders[0], facings=(facing,))
    gold = Stock("gold", caliper=0.2, sheet=(300.0, 300.0))
    job = replace(job, stocks={**job.stocks, "gold": gold}, orders=(order,))

    slabs = read(model_of(job, job.orders), "obj")

    name = next(each for each in slabs if each.endswith("front facing"))
    front = slabs["box: front"].bounds
    assert slabs[name].bounds[1, 1] == pytest.approx(front[0, 1], abs=1e-6)
    assert np.ptp(slabs[name].bounds[:, 1]) == pytest.approx(0.2, abs=1e-6)
    assert np.ptp(slabs[name].bounds[:, 0]) == pytest.approx(77 - 2 * 2, abs=1e-6)
