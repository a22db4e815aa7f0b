"""Borders that two pieces share."""

from __future__ import annotations

import math

import pytest
import shapely

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.telling.errors import NetError
from cutlayers.toolpaths import work_out
from cutlayers.toolpaths.shared import cut_shared_once, sharing
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import ROUND, cut, fold, line, machine

LEFT = cut(Path.rectangle(40, 30), name="left")
RIGHT = cut(Path.rectangle(50, 30, (40, 0)), name="right")
LOWER = cut(Path.rectangle(40, 20, (40, 5)), name="lower")


def once(strokes: list[Stroke]) -> tuple[Stroke, ...]:
    return cut_shared_once(strokes, sharing(strokes))


def test_two_plates_edge_to_edge_are_a_contour_and_a_slit() -> None:
    """90 × 30 about both, and the line between them once."""
    contour, slit = sorted(once([LEFT, RIGHT]), key=lambda each: each.part)

    assert (contour.part, slit.part) == (Part.OUTLINE, Part.SLIT)
    assert (contour.path.area, contour.path.length) == pytest.approx((2700, 240))
    assert sorted(slit.path.vertices) == [(40, 0), (40, 30)]
    assert contour.name == "left + right"


def test_a_border_shared_in_part_is_parted_there() -> None:
    """The lower plate is 20 mm high and touches the left one from 5 to 25 mm."""
    done = once([LEFT, LOWER])
    (slit,) = (each for each in done if each.part is Part.SLIT)

    assert sorted(slit.path.vertices) == [(40, 5), (40, 25)]
    assert sum(each.path.length for each in done) == pytest.approx(140 + 120 - 20)


def test_arcs_are_shared_too() -> None:
    """A half disc in the bay that another plate has for it."""
    bay = Path(((0, 0), (40, 0), (40, 5), (40, 25), (40, 30), (0, 30)), (0, 0, -1, 0, 0, 0), True)
    disc = Path(((40, 5), (40, 25)), (0.0, 1.0), closed=True)
    done = once([cut(bay), cut(disc)])
    (slit,) = (each for each in done if each.part is Part.SLIT)

    assert slit.path.length == pytest.approx(10 * math.pi)
    (contour,) = (each for each in done if each.part is Part.OUTLINE)
    assert contour.path.area == pytest.approx(1200)


@pytest.mark.parametrize(
    "other",
    [
        pytest.param(cut(Path.rectangle(50, 30, (41, 0))), id="a millimetre away"),
        pytest.param(cut(Path.rectangle(50, 30, (40, 30))), id="touching in a corner"),
        pytest.param(cut(Path.circle((50, 15), 10)), id="touching in a point"),
        pytest.param(fold(Path.line((40, 0), (40, 30))), id="not a cut"),
    ],
)
def test_what_shares_no_border_stays(other: object) -> None:
    """Points in common are no border, and only cuts are looked at."""
    assert once([LEFT, other]) == (LEFT, other)  # type: ignore[list-item]


def test_pieces_that_overlap_are_refused() -> None:
    """Two plates on one place."""
    with pytest.raises(NetError, match="overlap"):
        once([LEFT, cut(Path.rectangle(40, 30))])


def test_the_beam_takes_half_of_the_shared_cut_from_either_piece() -> None:
    """The shared line stays where it is: with a kerf of 0.2 each plate loses 0.1 mm there and
    nothing elsewhere, so 40 × 30 becomes 39.9 × 30 and 50 × 30 becomes 49.9 × 30."""
    plan = plan_toolpaths([LEFT, RIGHT], machine("beam"))
    swept = shapely.union_all(
        [line(each.path).buffer(0.1, quad_segs=ROUND) for each in plan.of(Operation.CUT)]
    )
    sheet = shapely.box(-5, -5, 95, 35).difference(swept)
    within = shapely.box(0, 0, 90, 30)
    plates = [part for part in shapely.get_parts(sheet) if part.within(within)]

    assert sorted(plate.area for plate in plates) == pytest.approx([39.9 * 30, 49.9 * 30], abs=0.01)


def test_what_the_kerf_takes_from_a_shared_border_is_told() -> None:
    """0.1 mm of a kerf of 0.2 from each of two plates; nothing of a line without a kerf, nor from
    plates that lie a kerf apart."""
    (told,) = (each for each in work_out([LEFT, RIGHT], machine("beam")).findings)
    apart = cut(Path.rectangle(50, 30, (40.3, 0)))

    assert told.code == "kerf-shared"
    assert told.measured[0].value == pytest.approx(0.1)
    assert told.detail("pieces").value == 2
    assert work_out([LEFT, RIGHT], machine("needle")).findings == ()
    assert work_out([LEFT, apart], machine("beam")).findings == ()
