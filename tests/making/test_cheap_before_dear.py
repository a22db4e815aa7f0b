"""Whoever only asks whether a job works pays for nothing else: no order, no picture, no search."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import cutlayers.cli
import cutlayers.formats.dxf
import cutlayers.formats.svg
import cutlayers.guide.build
import cutlayers.kits.planning
import cutlayers.making.make
import cutlayers.pictures.folded
import cutlayers.pictures.painting
import cutlayers.pictures.png
import cutlayers.pictures.sheet
import cutlayers.pictures.surfaces
import cutlayers.sheets.strip_search
import cutlayers.sheets.thorough
import cutlayers.toolpaths.order
import cutlayers.toolpaths.tour
from cutlayers import Budget, Cancelled, check, draw, lay_out, plan, read_job, read_profile
from cutlayers.sheets.thorough import Search
from cutlayers.telling.findings import Finding

SAMPLES = Path(__file__).parents[2] / "samples"

DEAR = (
    cutlayers.toolpaths.ordered,
    cutlayers.toolpaths.order.in_order,
    cutlayers.toolpaths.tour.shortest_way,
    cutlayers.pictures.folded.draw_views,
    cutlayers.pictures.surfaces.painted,
    cutlayers.pictures.painting.paint,
    cutlayers.pictures.sheet.sheet_scene,
    cutlayers.pictures.png.write_png,
    cutlayers.guide.build.build_guide,
    cutlayers.formats.dxf.write_dxf,
    cutlayers.formats.svg.write_svg,
    cutlayers.sheets.thorough.better_plans,
    cutlayers.sheets.thorough.more_sets,
    cutlayers.sheets.thorough.fuller_layout,
    cutlayers.sheets.strip_search.fits_on_one,
)

KIT = """
kit.file = "guests.csv"
profile = "drag-blade-340"
[stock.kraft]
caliper = 0.3
sheet = "A4"
[sheets]
mode = "thorough"
seconds = 30
[[piece]]
style = "hang-tag"
stock = "kraft"
size = { length = 40, height = 70 }
[[piece.lettering]]
panel = "front"
text = "{name}"
"""


def refused(*_: Any, **__: Any) -> Any:
    """What stands in for a dear step."""
    raise AssertionError("a dear step was taken")


@pytest.fixture
def dear_steps_raise(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ordering, painting, drawing and thorough nesting raise wherever the package has them."""
    for step in DEAR:
        forbid(monkeypatch, step)


def forbid(patch: pytest.MonkeyPatch, step: Callable[..., Any]) -> None:
    places = [
        (module, attribute)
        for name, module in list(sys.modules.items())
        if name.startswith("cutlayers")
        for attribute, value in list(vars(module).items())
        if value is step
    ]
    assert places
    for module, attribute in places:
        patch.setattr(module, attribute, refused)


def thorough(tmp_path: Path) -> Path:
    """A job that asks for half a minute of search."""
    text = (SAMPLES / "bath-bombs.toml").read_text(encoding="utf-8")
    path = tmp_path / "thorough.toml"
    path.write_text(f'{text}\n[sheets]\nmode = "thorough"\nseconds = 30\n', encoding="utf-8")
    return path


def run(*words: str | Path) -> str:
    result = CliRunner().invoke(cutlayers.cli.main, [str(word) for word in words])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == 0, result.output
    return result.output


@pytest.mark.usefixtures("dear_steps_raise")
@pytest.mark.parametrize("sample", sorted(SAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_check_takes_no_dear_step(sample: Path) -> None:
    """Kits among the samples too; neither for people nor for scripts."""
    run("check", sample)
    run("check", sample, "--json")


@pytest.mark.usefixtures("dear_steps_raise")
def test_check_does_not_search_where_the_job_asks_for_it(tmp_path: Path) -> None:
    """It says that make will."""
    assert "searches for sheets that hold more" in run("check", thorough(tmp_path))


@pytest.mark.usefixtures("dear_steps_raise")
def test_check_of_a_kit_does_not_search_either(tmp_path: Path) -> None:
    """Its rows are counted onto sheets by quick laying."""
    (tmp_path / "guests.csv").write_text("name\nAda\nBo\nCy\n", encoding="utf-8")
    (tmp_path / "kit.toml").write_text(KIT, encoding="utf-8")

    assert "3 rows, 1 sheets" in run("check", tmp_path / "kit.toml")


@pytest.mark.usefixtures("dear_steps_raise")
@pytest.mark.parametrize(
    "words",
    [
        ("for-item", "gable-carton", "sphere", "diameter=58", "clearance=2"),
        ("from-sheet", "tray", "length=3", "width=2", "height=1", "-p", "desktop-a4"),
        ("like", SAMPLES / "bath-bombs.toml", "sphere", "diameter=70"),
    ],
    ids=lambda words: str(words[0]),
)
def test_size_takes_no_dear_step(words: tuple[str | Path, ...]) -> None:
    """Searches over sizes try many boxes."""
    run("size", *words)


def test_without_a_machine_only_boxes_are_checked(tmp_path: Path) -> None:
    """Those findings are among the others: here a hole through more layers than the job allows."""
    text = (SAMPLES / "bath-bombs.toml").read_text(encoding="utf-8")
    path = tmp_path / "strict.toml"
    path.write_text(f"{text}\n[limits]\nlayers = 3\n", encoding="utf-8")
    job = read_job(path)
    alone: tuple[Finding, ...] = check(job)

    assert alone
    assert set(alone) <= set(check(job, read_profile(job.profile or "")))


def test_work_that_is_called_off_ends() -> None:
    """Each of the stages asks; there is no half result."""
    job = read_job(SAMPLES / "bath-bombs.toml")
    machine = read_profile(job.profile or "")
    gone = Budget(cancel=lambda: True)
    layout = lay_out(job, machine)
    planned = plan(layout)

    for stage in (
        lambda: lay_out(job, machine, budget=gone),
        lambda: plan(layout, budget=gone),
        lambda: draw(planned, budget=gone),
    ):
        with pytest.raises(Cancelled):
            stage()


def test_a_search_can_be_called_off(tmp_path: Path) -> None:
    """As soon as a second of it is told."""
    job = read_job(thorough(tmp_path))
    asked = []

    def told(count: int) -> None:
        asked.append(count)

    with pytest.raises(Cancelled):
        lay_out(
            job,
            read_profile(job.profile or ""),
            budget=Budget(cancel=lambda: bool(asked)),
            progress=told,
        )


@pytest.mark.parametrize(("seconds", "given"), [(None, 30), (7.0, 7), (0.0, None)])
def test_a_search_lasts_no_longer_than_the_budget(
    seconds: float | None, given: int | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The job asks for 30 s; a clock that stands still leaves the budget whole."""
    asked: list[float | None] = []

    class Asked(Search):
        def __init__(self, budget: Budget, seed: int, progress: Callable[[int], None]) -> None:
            asked.append(budget.seconds)
            super().__init__(Budget(0.0), seed, progress)

    monkeypatch.setattr("cutlayers.sheets.placing.Search", Asked)
    job = read_job(thorough(tmp_path))

    lay_out(job, read_profile(job.profile or ""), budget=Budget(seconds, clock=lambda: 5.0))

    assert asked == ([] if given is None else [given])


def test_lines_are_ordered_even_in_no_time() -> None:
    """All are there, each once; only the ways are longer."""
    job = read_job(SAMPLES / "one-of-each.toml")
    layout = lay_out(job, read_profile(job.profile or ""))
    best, first = plan(layout), plan(layout, budget=Budget(0.0))

    for one, other in zip(best.sides, first.sides, strict=True):
        assert len(one.plan.toolpaths) == len(other.plan.toolpaths)
        assert one.load.minutes <= other.load.minutes + 1e-9
    assert [side.plan.findings for side in best.sides] == [
        side.plan.findings for side in first.sides
    ]
