"""From a sheet's toolpaths to the drawings that the writers get: one layer an operation."""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.formats.drawing import Drawing, Layer
from cutlayers.machine import Correction, Machine, Method
from cutlayers.paths import Path
from cutlayers.sheets.model import Sheet
from cutlayers.strokes import Operation
from cutlayers.toolpaths import Plan
from cutlayers.transforms import Transform

DASHES: dict[Operation, tuple[float, ...]] = {
    Operation.DRAW: (0.5, 1.5),
    Operation.SCORE: (5.0, 2.0),
    Operation.PERFORATE: (2.0, 1.0),
    Operation.CUT: (),
}
"""On and off lengths in mm that tell the layers apart in pictures, in black and white too."""


def machine_drawing(title: str, sheet: Sheet, plan: Plan, machine: Machine) -> Drawing:
    """What the machine is to do on a sheet: work layers in working order, then register marks.

    A layer without lines is left out.
    """
    layers = []
    for operation in Operation:
        paths = tuple(each.path for each in plan.toolpaths if each.operation is operation)
        layers.append(_layer(machine, operation, paths))
    register = machine.register
    marks = tuple(path for mark in sheet.marks for path in mark.paths)
    layers.append(
        Layer(register.layer, "register marks", register.colour, register.dxf_colour, marks)
    )
    return Drawing(
        title, sheet.width, sheet.height, tuple(layer for layer in layers if layer.paths)
    )


def picture_drawing(drawing: Drawing, sheet: Sheet, machine: Machine) -> Drawing:
    """A machine drawing with the lines added that are left to be worked by hand."""
    by_hand = []
    for operation in Operation:
        if machine.operations[operation].method is Method.BY_HAND:
            paths = tuple(s.path for s in sheet.strokes if s.operation is operation)
            layer = _layer(machine, operation, paths)
            by_hand.append(replace(layer, title=f"{operation.value} by hand"))
    return replace(drawing, layers=(*(layer for layer in by_hand if layer.paths), *drawing.layers))


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
        layers.append(replace(layer, paths=_moved(layer.paths, motion, tolerance)))
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


def _layer(machine: Machine, operation: Operation, paths: tuple[Path, ...]) -> Layer:
    how = machine.operations[operation]
    return Layer(how.layer, operation.value, how.colour, how.dxf_colour, paths, DASHES[operation])
