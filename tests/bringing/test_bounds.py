"""What bounds the work on a drawing that no box has."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutlayers.bringing import right_angles
from cutlayers.bringing.attempts import case_of
from cutlayers.bringing.right_angles import MOST_LAID, at_right_angles
from cutlayers.bringing.rules import Asked
from cutlayers.bringing.understanding import understood_of
from cutlayers.telling.errors import DrawingError


def page(path: Path, wide: float, high: float, lines: str = "") -> Path:
    path.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}"><g fill="none"><path stroke="red" d="M0 0H{wide}V{high}H0Z"/>'
        f'<g stroke="blue" stroke-dasharray="3 2">{lines}</g></g></svg>'
    )
    return path


def test_a_map_that_folds_along_every_line_is_given_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A sheet creased into 4 × 4 panels has six lines, each of which may stay flat or fold either
    way: 3^6 = 729 ways, of which all close where lines fold as a whole. No more panels are laid
    than the bound says, so 5000 / 16 = 312 of these."""
    across = "".join(f'<path d="M0 {at}H80"/>' for at in (20, 40, 60))
    down = "".join(f'<path d="M{at} 0V80"/>' for at in (20, 40, 60))
    ((flat, _),) = understood_of(page(tmp_path / "map.svg", 80, 80, across + down), Asked()).nets
    assert len(flat.net.panels) == 16

    def every(*_: object) -> object:
        return iter([[90.0] * len(flat.net.hinges)] * 729)

    monkeypatch.setattr(right_angles, "_closing", every)

    assert sum(1 for _ in at_right_angles(case_of(flat))) == MOST_LAID // 16 == 312


@pytest.mark.parametrize(("high", "told"), [(99_000, ""), (101_000, "is 101 m across")])
def test_lines_farther_apart_than_any_net_are_refused(
    tmp_path: Path, high: float, told: str
) -> None:
    """A hundred metres are a hundred times the largest sheet."""
    drawing = page(tmp_path / "far.svg", 60, high)
    if not told:
        assert understood_of(drawing, Asked()).nets
        return
    with pytest.raises(DrawingError) as refused:
        understood_of(drawing, Asked())

    (line,) = str(refused.value).splitlines()
    assert told in line and "at most 100 m" in line
