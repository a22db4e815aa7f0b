"""From a sheet's toolpaths to the drawings that the writers get: one layer an operation."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cutlayers.formats.drawing import Drawing, Layer
from cutlayers.machine import Machine, Method
from cutlayers.paths import Path
from cutlayers.sheets.model import Sheet
from cutlayers.strokes import Operation, Stroke
from cutlayers.toolpaths import Plan

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


def one_layer_each(drawing: Drawing) -> dict[str, Drawing]:
    """A drawing for each layer, by the layer's name, all with the same origin and size."""
    return {layer.name: replace(drawing, layers=(layer,)) for layer in drawing.layers}


def _layer(machine: Machine, operation: Operation, paths: tuple[Path, ...]) -> Layer:
    how = machine.operations[operation]
    return Layer(how.layer, operation.value, how.colour, how.dxf_colour, paths, DASHES[operation])
