"""From a sheet's toolpaths to the drawings that the writers get: one layer an operation."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlayers.formats.drawing import Drawing, Layer
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Stroke
from cutlayers.geometry.transforms import Transform
from cutlayers.profile import notation
from cutlayers.profile.machine import Machine
from cutlayers.profile.notation import enlarged
from cutlayers.profile.output import Correction

if TYPE_CHECKING:  # who only writes files works out no toolpaths
    from cutlayers.sheets.model import Sheet
    from cutlayers.toolpaths import Plan, Toolpath

DASHES = {operation: enlarged(dash, 2.0) for operation, dash in notation.DASHES.items()}
"""On and off lengths in mm that tell the layers apart in pictures, in black and white too."""


def machine_drawing(
    title: str, sheet: Sheet, plan: Plan, marks: Iterable[Path], machine: Machine
) -> Drawing:
    """What the machine is to do on one side of a sheet: work layers in working order, then the
    register marks, `marks` as they lie on that side.

    A layer without lines is left out.
    """
    layers = [led(_layer(machine, operation, ()), plan.of(operation)) for operation in Operation]
    register = machine.register
    layers.append(
        Layer(register.layer, "register marks", register.colour, register.dxf_colour, tuple(marks))
    )
    return Drawing(
        title, sheet.width, sheet.height, tuple(layer for layer in layers if layer.paths)
    )


def led(layer: Layer, toolpaths: Sequence[Toolpath]) -> Layer:
    """A layer with toolpaths added."""
    paths = (*layer.paths, *(each.path for each in toolpaths))
    trailed = layer.trailed or any(each.tool.trails for each in toolpaths)
    tool = toolpaths[0].tool.name if toolpaths else layer.tool
    return replace(layer, paths=paths, tool=tool, trailed=trailed)


def picture_drawing(drawing: Drawing, plan: Plan, machine: Machine) -> Drawing:
    """A machine drawing with the lines added that are left to the hand."""
    by_hand = []
    for operation in Operation:
        paths = tuple(each.path for each in plan.by_hand if each.operation is operation)
        if paths:
            layer = _layer(machine, operation, paths)
            name = f"{layer.name[:22]}-by-hand"
            by_hand.append(replace(layer, name=name, title=f"{operation.value} by hand"))
    # A line that is gone over twice is seen once.
    once = (replace(each, paths=tuple(dict.fromkeys(each.paths))) for each in drawing.layers)
    return replace(drawing, layers=(*by_hand, *once))


def stroke_layers(
    strokes: Iterable[Stroke], machine: Machine
) -> tuple[tuple[Operation, Layer], ...]:
    """The strokes themselves as layers, without any tool's width; empty layers are left out."""
    every = tuple(strokes)
    layers = (
        (
            operation,
            _layer(machine, operation, tuple(s.path for s in every if s.operation is operation)),
        )
        for operation in Operation
    )
    return tuple((operation, layer) for operation, layer in layers if layer.paths)


def corrected(drawing: Drawing, machine: Machine) -> Drawing:
    """A drawing for the machine, with what is known of its errors undone, about the origin.

    The bed's scale and skew, where the profile says so; and on all layers but the register
    marks', the shift between print and work. Arcs stay arcs where the motion keeps them circular
    and otherwise become chords within the finer tolerance of the file formats.
    """
    back = _movement(machine.correction).inverse() if machine.correction.apply else Transform()
    register = machine.register
    aside = back @ Transform.translation(-register.shift_x, -register.shift_y)
    tolerance = min(machine.dxf.tolerance, machine.svg.tolerance)
    layers = []
    for layer in drawing.layers:
        motion = back if layer.name == register.layer else aside
        layers.append(replace(layer, paths=_moved(layer.paths, motion, layer.chord(tolerance))))
    return replace(drawing, layers=tuple(layers))


def _movement(correction: Correction) -> Transform:
    """Where the machine goes when it is told to go somewhere."""
    skew = math.radians(correction.skew_deg)
    return Transform(
        xx=correction.x_scale,
        xy=correction.y_scale * math.sin(skew),
        yy=correction.y_scale * math.cos(skew),
    )


def _moved(paths: tuple[Path, ...], motion: Transform, tolerance: float) -> tuple[Path, ...]:
    if motion == Transform():
        return paths
    if not motion.is_similarity:
        paths = tuple(path.flattened(tolerance) for path in paths)
    return tuple(path.transformed(motion) for path in paths)


def one_layer_each(drawing: Drawing) -> dict[str, Drawing]:
    """A drawing for each layer, by the layer's name, all with the same origin and size."""
    return {layer.name: replace(drawing, layers=(layer,)) for layer in drawing.layers}


def one_tool_each(drawing: Drawing) -> dict[str, Drawing]:
    """A drawing for each tool, by the tool's name, all with the same origin and size; each has the
    register marks, so that programs which lay a drawing by its outermost lines lay all alike."""
    marks = tuple(layer for layer in drawing.layers if not layer.tool)
    tools = dict.fromkeys(layer.tool for layer in drawing.layers if layer.tool)
    return {
        tool: replace(
            drawing,
            layers=(*(layer for layer in drawing.layers if layer.tool == tool), *marks),
        )
        for tool in tools
    }


def _layer(machine: Machine, operation: Operation, paths: tuple[Path, ...]) -> Layer:
    how = machine.operations[operation]
    return Layer(how.layer, operation.value, how.colour, how.dxf_colour, paths, DASHES[operation])
