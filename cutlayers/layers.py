"""From a sheet's toolpaths to the drawings that the writers get: one layer an operation."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cutlayers.formats.drawing import Drawing, Layer
from cutlayers.machine import Machine
from cutlayers.paths import Path
from cutlayers.sheets.model import Sheet
from cutlayers.strokes import Operation
from cutlayers.toolpaths import Plan

DASHES: dict[Operation, tuple[float, ...]] = {
    Operation.DRAW: (0.5, 1.5),
    Operation.SCORE: (5.0, 2.0),
    Operation.PERFORATE: (2.0, 1.0),
    Operation.CUT: (),
}
"""On and off lengths in mm that tell the layers apart in pictures, in black and white too."""


def machine_drawing(
    title: str, sheet: Sheet, plan: Plan, marks: Iterable[Path], machine: Machine
) -> Drawing:
    """What the machine is to do on one side of a sheet: work layers in working order, then the
    register marks, `marks` as they lie on that side.

    A layer without lines is left out.
    """
    layers = [
        _layer(machine, operation, tuple(each.path for each in plan.of(operation)))
        for operation in Operation
    ]
    register = machine.register
    layers.append(
        Layer(register.layer, "register marks", register.colour, register.dxf_colour, tuple(marks))
    )
    return Drawing(
        title, sheet.width, sheet.height, tuple(layer for layer in layers if layer.paths)
    )


def picture_drawing(drawing: Drawing, plan: Plan, machine: Machine) -> Drawing:
    """A machine drawing with the lines added that are left to the hand."""
    by_hand = []
    for operation in Operation:
        paths = tuple(each.path for each in plan.by_hand if each.operation is operation)
        if paths:
            layer = _layer(machine, operation, paths)
            name = f"{layer.name[:22]}-by-hand"
            by_hand.append(replace(layer, name=name, title=f"{operation.value} by hand"))
    return replace(drawing, layers=(*by_hand, *drawing.layers))


def one_layer_each(drawing: Drawing) -> dict[str, Drawing]:
    """A drawing for each layer, by the layer's name, all with the same origin and size."""
    return {layer.name: replace(drawing, layers=(layer,)) for layer in drawing.layers}


def _layer(machine: Machine, operation: Operation, paths: tuple[Path, ...]) -> Layer:
    how = machine.operations[operation]
    return Layer(how.layer, operation.value, how.colour, how.dxf_colour, paths, DASHES[operation])
