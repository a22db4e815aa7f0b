"""Pieces of a job that are made from a drawing."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from cutlayers.bringing.folding_up import answers
from cutlayers.bringing.rules import Asked
from cutlayers.bringing.understanding import fold_name, understood_of
from cutlayers.checks import check_box
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.job.angle_edits import with_angles_found
from cutlayers.job.line_edits import with_line
from cutlayers.job.order import Order
from cutlayers.job.reading import job_in
from cutlayers.pictures.folded import usual_views
from cutlayers.telling.errors import JobError
from tests.bringing.careless import careless
from tests.bringing.drawings import CUT, SCORE, STOCK, path, svg, tray_svg

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


def test_a_box_and_its_lid_stand_side_by_side_and_close(tmp_path: Path) -> None:
    """A gable carton drawn for card of 0.6 mm: nothing in its check is wrong, since the layers of
    its ridge lie apart as they were drawn. How base and lid belong together no drawing says: they
    stand clear of each other, nobody measures the lid's room over the base, and no picture puts
    them together."""
    style = style_named("gable-carton")
    handed = careless(style.build(style.dimensions(), Card(0.6)), 1, "as drawn", "layers", "svg mm")
    drawing = tmp_path / "gable.svg"
    drawing.write_bytes(handed.content)
    found = answers(understood_of(drawing, Asked(lines=handed.rules)))
    folds = {fold_name(each): each.fold_deg for one in found for each in one.net.hinges}
    told = "\n".join(f'"{name}" = {angle!r}' for name, angle in folds.items())
    lines = "cut = [{ layer = 'cut' }]\nscore = [{ layer = 'score' }]"
    job = f'{STOCK.replace("0.3", "0.6")}\n[[piece]]\nstock = "card"\ndrawing = "gable.svg"\n'

    (order,) = job_in(
        f"{job}[piece.lines]\n{lines}\n[piece.folds]\n{told}\n", tmp_path / "job.toml"
    ).orders

    assert {finding.code for finding in check_box(order.box)} <= {"relief"}
    (first, second) = (blank.folded().bounds for blank in order.box.wholes)
    assert first[1][0] < second[0][0]
    captions = [view.caption for view in usual_views(order.box)]
    assert captions == ["net 1, half folded", "net 2, half folded", "folded"]


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
        ('drawing = "tray.svg"\nfolds = { "panel 1 | panel 3" = { gess = 9 } }', "{ guess = 90 }"),
        ('drawing = "tray.svg"\nfolds = { "panel 1 | panel 3" = { guess = 190 } }', "180"),
        ('drawing = "tray.svg"\nfolds = { "panel 1 | panel 3" = "9" }', "panel 1 | panel 3"),
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


def test_a_guessed_fold_folds_as_one_that_was_said(tmp_path: Path) -> None:
    said = read(tmp_path, f'drawing = "tray.svg"\n{FOLDED}')
    guessed = read(tmp_path, f'drawing = "tray.svg"\n{FOLDED.replace("90", "{ guess = 90 }")}')

    assert guessed.drawing is not None and said.drawing is not None
    assert guessed.drawing.angles == said.drawing.angles
    assert [len(folds) for folds in guessed.drawing.guessed.values()] == [4]
    assert said.drawing.guessed == {}


def test_angles_that_are_found_and_not_tested_are_guesses(tmp_path: Path) -> None:
    """Two leaves, of whose fold nothing tells the angle."""
    (tmp_path / "card.svg").write_text(
        svg(path("M0 0 H80 V40 H0 Z", CUT), path("M40 0 V40", SCORE))
    )
    job = f'{STOCK}\n[[piece]]\nstock = "card"\ndrawing = "card.svg"\n'

    found = with_angles_found(job, tmp_path / "job.toml", 0)

    folds = tomllib.loads(found)["piece"][0]["folds"]
    assert [*folds] == ["panel 1 | panel 2"]
    assert [*folds["panel 1 | panel 2"]] == ["guess"]


def test_a_guess_stays_one_where_a_line_is_said(tmp_path: Path) -> None:
    """A third leaf cut off leaves the fold between the others, under another name or the same."""
    (tmp_path / "card.svg").write_text(
        svg(
            path("M0 0 H90 V40 H0 Z", CUT),
            path("M30 0 V40", SCORE),
            path("M60 0 V40", SCORE),
        )
    )
    job = (
        f'{STOCK}\n[[piece]]\nstock = "card"\ndrawing = "card.svg"\n'
        '[piece.folds]\n"panel 1 | panel 2" = 90\n"panel 2 | panel 3" = { guess = 45 }\n'
    )

    cut = with_line(job, tmp_path / "job.toml", 0, 2, "cut")

    (turn,) = tomllib.loads(cut)["piece"][0]["folds"].values()
    assert turn == {"guess": 45}
