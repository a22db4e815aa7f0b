"""What a style made a job's box from."""

from __future__ import annotations

from typing import Any

from cutlayers.box import Box
from cutlayers.construction.card import Measure
from cutlayers.construction.style import Style


def dims_of(box: Box) -> Any:
    """The dimensions that were given or found."""
    assert box.origin is not None
    return box.origin.dims


def style_of(box: Box) -> Style:
    """The style."""
    assert box.origin is not None
    return box.origin.style


def measure_of(box: Box) -> Measure:
    """What its sizes are measured to."""
    return box.card.measure
