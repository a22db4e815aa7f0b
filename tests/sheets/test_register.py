"""Register marks: enough of them, in reach, and never alike when the sheet is fed the wrong way."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

import pytest

from cutlayers.geometry.segments import union_bounds
from cutlayers.profile.output import RegisterPlan
from cutlayers.sheets.register import register_marks


@pytest.mark.parametrize("count", [3, 4])
@pytest.mark.parametrize("size", [(210.0, 297.0), (304.8, 304.8), (420.0, 297.0)])
@pytest.mark.parametrize("turn", [2, 1, 3])
def test_no_turn_carries_the_marks_onto_themselves(
    count: int, size: tuple[float, float], turn: int
) -> None:
    """Three marks or more; a half turn, and a quarter turn of a square sheet, show at once."""
    width, height = size
    marks = register_marks(width, height, replace(RegisterPlan(), count=count))
    centres = {(round(x, 6), round(y, 6)) for x, y in (mark.centre for mark in marks)}
    turned = set()
    for x, y in centres:
        if turn == 2:
            turned.add((round(width - x, 6), round(height - y, 6)))
        elif turn == 1:
            turned.add((round(height - y, 6), round(x, 6)))
        else:
            turned.add((round(y, 6), round(width - x, 6)))

    assert len(centres) == count >= 3
    assert turned != centres


@pytest.mark.parametrize("shape", ["target", "dot", "corner"])
def test_a_mark_lies_within_its_square(shape: Literal["target", "dot", "corner"]) -> None:
    """The keep-out is the mark's size and the free space round it."""
    plan = replace(RegisterPlan(), shape=shape, size=8.0, keep_out=2.0)
    for mark in register_marks(210, 297, plan):
        left, bottom, right, top = union_bounds(path.bounds for path in mark.paths)

        assert mark.keep_out[0] + 2 <= left + 1e-9
        assert mark.keep_out[1] + 2 <= bottom + 1e-9
        assert right <= mark.keep_out[2] - 2 + 1e-9
        assert top <= mark.keep_out[3] - 2 + 1e-9


def test_no_marks_where_none_are_wanted() -> None:
    """Shape "none"."""
    assert register_marks(210, 297, replace(RegisterPlan(), shape="none")) == ()
