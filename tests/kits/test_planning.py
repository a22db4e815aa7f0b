"""Which piece of which row lies on which sheet: the thorough mode against the quick one."""

from __future__ import annotations

import random
from collections import Counter
from typing import Any

import pytest

from cutlayers.job.reading import job_from
from cutlayers.kits import planning
from cutlayers.kits.planning import KitSheet, Sorter
from cutlayers.sheets.laying import Regions, SheetLayout
from cutlayers.sheets.nesting import quick_layout
from cutlayers.sheets.thorough import Search
from tests.sheets.judge import machine

pytest.importorskip("spyrrow", reason="the thorough mode needs it")

KITS = 6
ROWS = 16


def sorted_kit(seed: int) -> Sorter:
    """A thorough kit of tags of random sizes, some with their corners cut off."""
    chance = random.Random(seed)
    sizes = [
        (
            {"length": chance.randint(30, 110), "height": chance.randint(30, 80)},
            chance.choice((0, 6)),
        )
        for _ in range(5)
    ]
    sorter = Sorter(machine(305.0, 305.0, 5.0, 3))
    for row in range(ROWS):
        size, corner = chance.choice(sizes)
        tag = {"style": "hang-tag", "stock": "card", "size": size, "options": {"corner": corner}}
        table: dict[str, Any] = {
            "stock": {"card": {"caliper": 0.3, "sheet": [200, 200]}},
            "sheets": {"mode": "thorough", "seconds": 1},
            "piece": [tag],
        }
        sorter.take(row, job_from(table, "job.toml", "job"))
    return sorter


def laid(sheets: list[KitSheet]) -> Counter[tuple[int, int]]:
    return Counter((piece.row, piece.number) for sheet in sheets for piece in sheet.pieces)


@pytest.mark.parametrize("seed", range(KITS))
def test_a_search_never_takes_more_sheets(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever it finds: here a search whose layouts are sound, but leave pieces for later that
    fit together badly, as fuller sheets at first may do."""
    chance = random.Random(seed)

    def misled(_: Regions, __: dict[int, int], layout: SheetLayout, ___: Search) -> SheetLayout:
        return layout[: chance.randint(1, len(layout))]

    monkeypatch.setattr(planning, "fuller_layout", misled)
    sorter = sorted_kit(seed)
    quick, thorough = list(sorter.sheets(quick=True)), list(sorter.sheets())

    assert thorough == quick
    assert laid(thorough) == Counter(dict.fromkeys(((row, 0) for row in range(ROWS)), 1))


def test_what_saves_a_sheet_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    """A quick method that lays two pieces on a sheet at most, and a search that lays more."""

    def two(regions: Regions, demand: dict[int, int]) -> SheetLayout:
        return quick_layout(regions, demand)[:2]

    def found(regions: Regions, demand: dict[int, int], *_: object) -> SheetLayout:
        return quick_layout(regions, demand)

    monkeypatch.setattr(planning, "quick_layout", two)
    monkeypatch.setattr(planning, "box_plan", lambda *_: None)
    monkeypatch.setattr(planning, "fuller_layout", found)
    sorter = sorted_kit(1)
    quick, thorough = list(sorter.sheets(quick=True)), list(sorter.sheets())

    assert len(quick) == ROWS / 2 > len(thorough)
    assert laid(thorough) == laid(quick)
    assert [sheet.number for sheet in thorough] == list(range(1, len(thorough) + 1))
