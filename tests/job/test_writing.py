"""Jobs written for a box that was worked out."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.job.reading import job_from, read_job
from cutlayers.job.stock import Stock
from cutlayers.job.writing import job_text
from cutlayers.telling.lengths import Unit
from tests.origins import dims_of, measure_of

STOCK = Stock('kraft "brown", 270', 0.32, (304.8, 215.9), 270.0, "short")


def written(tmp_path: Path, style: Style, dims: Any, unit: Unit) -> Any:
    file = tmp_path / "job.toml"
    file.write_text(
        job_text(style, dims, "score", STOCK, title="A ⌀ 58 box", unit=unit, profile="mine"),
        encoding="utf-8",
    )
    return read_job(file)


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_what_is_written_reads_back_exactly(tmp_path: Path, style: Style, unit: Unit) -> None:
    """Sizes, options, card, measure and profile, whatever the unit the job counts in; whole inches
    and fractions of one to the rounding of the last digit."""
    sizes = {
        name: round(1.0123 * example, 3)
        for name, (dimension, example) in style.table.items()
        if dimension.group == "size"
    }
    dims = style.dimensions(**sizes, **({"tab": 5.5} if "tab" in style.table else {}))
    job = written(tmp_path, style, dims, unit)
    (order,) = job.orders

    assert dims_of(order.box) == dims
    assert (measure_of(order.box), order.count, job.profile, job.unit) == ("score", 1, "mine", unit)
    (stock,) = job.stocks.values()
    assert stock.sheet == pytest.approx(STOCK.sheet, abs=1e-9)
    assert replace(stock, sheet=STOCK.sheet) == STOCK
    assert job.title == "A ⌀ 58 box"


def test_defaults_are_left_out() -> None:
    """A style's own proportion stays its own."""
    style = style_named("gable-carton")
    text = job_text(style, style.dimensions(), "inside", STOCK, title="x")

    assert "[piece.options]" not in text
    assert "roof" not in text


@pytest.mark.parametrize(
    ("caliper", "line"),
    [(0.2794, "0.011"), (0.3048, "0.012"), (0.3175, "0.0125"), (0.28, '"0.28 mm"')],
)
def test_card_sold_by_thousandths_of_an_inch_is_told_in_these(caliper: float, line: str) -> None:
    """An inch is 25.4 mm; card of 0.28 mm was measured in mm."""
    stock = replace(STOCK, caliper=caliper)
    style = style_named("tray")
    text = job_text(style, style.dimensions(), "inside", stock, title="x", unit="in")

    assert f"caliper = {line}\n" in text
    (read,) = job_from(tomllib.loads(text), "x.toml", "x").stocks.values()
    assert read.caliper == pytest.approx(caliper, abs=1e-12)


@pytest.mark.parametrize(
    ("sides", "line"),
    [
        ((210.0, 297.0), 'sheet = "A4"'),
        ((297.0, 210.0), 'sheet = "A4 landscape"'),
        ((215.9, 279.4), 'sheet = "letter"'),
        ((210.0, 298.0), "sheet = [210, 298]"),
    ],
)
def test_a_sheet_has_its_name(sides: tuple[float, float], line: str) -> None:
    """Sides by ISO 216 and ASME Y14.1, as its owner knows it from the shop."""
    style = style_named("tray")
    text = job_text(style, style.dimensions(), "inside", replace(STOCK, sheet=sides), title="x")

    assert line in text.splitlines()
