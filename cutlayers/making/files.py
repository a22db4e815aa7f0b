"""From drawings and pictures to the contents of files, by their names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlayers.formats.drawing import Drawing
from cutlayers.making.layers import corrected, one_layer_each, one_tool_each
from cutlayers.pictures.scene import Scene
from cutlayers.profile.machine import Machine
from cutlayers.writing.names import file_names

if TYPE_CHECKING:  # who only writes files works out no toolpaths
    from cutlayers.making.sides import DrawnSide
    from cutlayers.solids.model import Model

PICTURE_WIDTH = 1200
"""Pixels; wide enough to read a legend, small enough to send to a friend."""


def side_files(side: DrawnSide, machine: Machine) -> dict[str, bytes]:
    """The files of one side, name → content: those for the machine and the picture."""
    files = machine_files(side.name, side.drawing, machine)
    return {**files, f"{side.name}.png": picture_file(side.picture)}


def machine_files(stem: str, drawing: Drawing, machine: Machine) -> dict[str, bytes]:
    """The files of one drawing that the profile asks for, name → content, corrected as it says."""
    from cutlayers.formats.dxf import write_dxf
    from cutlayers.formats.svg import write_svg

    drawing = corrected(drawing, machine)
    parts = {stem: drawing}
    if machine.files.split == "operations":
        parts = {f"{stem}-{name}": part for name, part in one_layer_each(drawing).items()}
    elif machine.files.split == "tools":
        tools = one_tool_each(drawing)
        names = file_names(tools)
        parts = {f"{stem}-{names[tool]}": part for tool, part in tools.items()}
    # An R12 file cannot say its unit, so its name does.
    unit = "-mm" if machine.dxf.version == "R12" else ""
    files: dict[str, bytes] = {}
    for name, part in parts.items():
        if "dxf" in machine.files.formats:
            files[f"{name}{unit}.dxf"] = write_dxf(part, machine.dxf)
        if "svg" in machine.files.formats:
            files[f"{name}.svg"] = write_svg(part, machine.svg)
    return files


def picture_file(picture: Scene) -> bytes:
    """A picture for people, as PNG."""
    from cutlayers.pictures.png import write_png

    return write_png(picture, PICTURE_WIDTH)


def solid_file(model: Model) -> bytes:
    """A folded box and its crease pattern, as FOLD."""
    from cutlayers.solids.fold_file import fold_bytes

    return fold_bytes(model)


def units_in_files(machine: Machine) -> str:
    """In which unit the numbers in the files are, in words."""
    if machine.svg.units == "mm":
        return "mm"
    return f"mm in DXF, px of 1/{machine.svg.pixels_per_inch} inch in SVG"
