"""Pieces of a job that are made from a drawing."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutlayers.job.order import Order
from cutlayers.job.reading import job_in
from cutlayers.telling.errors import JobError
from tests.bringing.drawings import STOCK, tray_svg

FOLDED = "\n[piece.folds]\n" + "".join(
    f'"{fold}" = 90\n'
    for fold in ("panel 1 | panel 3", "panel 2 | panel 3", "panel 3 | panel 4", "panel 3 | panel 5")
)


def read(folder: Path, piece: str, drawing: str | None = None) -> Order:
    (folder / "tray.svg").write_text(drawing or tray_svg())
    (order,) = job_in(f'{STOCK}\n[[piece]]\nstock = "card"\n{piece}', folder / "job.toml").orders
    return order


def test_the_box_is_folded_as_the_job_says(tmp_path: Path) -> None:
    """A tray of 60 × 40 × 20 mm stands on its base."""
    order = read(tmp_path, f'drawing = "tray.svg"\n{FOLDED}')

    (blank,) = order.box.wholes
    (left, front, low), (right, back, top) = blank.folded().bounds
    assert sorted((right - left, back - front, top - low)) == pytest.approx([20.0, 40.0, 60.0])
    assert blank.folded().closure_error == pytest.approx(0.0, abs=1e-9)
    assert order.name == "tray"


def test_another_size_stretches_between_creases(tmp_path: Path) -> None:
    """60 × 40 × 20 mm become 75 × 40 × 25: walls grow with the base."""
    order = read(tmp_path, f'drawing = "tray.svg"\nsize = {{ length = 75, height = 25 }}\n{FOLDED}')

    (net,) = order.box.nets
    areas = sorted(round(panel.outline.area, 3) for panel in net.panels)
    assert areas == [25 * 40, 25 * 40, 25 * 75, 25 * 75, 40 * 75]


@pytest.mark.parametrize(
    ("piece", "line"),
    [
        ('drawing = "tray.svg"\nstyle = "tray"', "piece[1].style stands beside a drawing"),
        ("count = 1", "piece[1].style is missing"),
        ('style = "tray"\nsize = { length = 9, width = 9, height = 9 }\njoin = 1', "piece[1].join"),
        ('drawing = "tray.svg"\noptions = { tab = 9 }', "piece[1].options belongs to a style"),
        ('drawing = "trey.svg"', "Did you mean"),
        ('drawing = "tray.svg"\nunit = "mm"\nscale = 2.0', "piece[1].scale says the same as unit"),
        ('drawing = "tray.svg"\nknown = { line = 99, length = 9 }', "piece[1].known.line"),
        ('drawing = "tray.svg"\nfolds = { "panel 1 | panel 9" = 90 }', "panel 1 | panel 3"),
        ('drawing = "tray.svg"\nfolds = { "panel 1 | panel 3" = 190 }', "180"),
        ('drawing = "tray.svg"\nsize = { depth = 90 }', "length, width, height"),
        ('drawing = "tray.svg"\nlines = { cut = [{ colour = "red" }] }', "lines.cut[1].colour"),
    ],
)
def test_what_cannot_be_is_refused(tmp_path: Path, piece: str, line: str) -> None:
    """In one line that says where, and what would do."""
    with pytest.raises(JobError) as refused:
        read(tmp_path, piece)

    (message,) = str(refused.value).splitlines()
    assert line in message
