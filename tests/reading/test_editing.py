from __future__ import annotations

import tomllib
from typing import Any

import pytest

from cutlayers.reading.editing import EditRefused, length_in, with_value
from cutlayers.telling.lengths import Unit, parse_length

JOB = """\
# a market job
title = "Winter"    # shown on the sheets

[stock.kraft]
caliper = 0.3

[[piece]]
style = "tray"   # the first
size = { length = 60,  width = 40 }

# the lid
[[piece]]
style = "tray"
[piece.options]
tab = 10    # deep
"""


@pytest.mark.parametrize(
    ("place", "value", "before", "after"),
    [
        (("piece", 0, "size", "width"), 45, "width = 40", "width = 45"),
        (("piece", 1, "options", "tab"), 8, "tab = 10", "tab = 8"),
        (("title",), "Spring", '"Winter"', '"Spring"'),
    ],
)
def test_one_value_changes_and_nothing_else(
    place: tuple[Any, ...], value: object, before: str, after: str
) -> None:
    """Comments, order and spaces stay, in inline tables and in lists of tables alike."""
    assert with_value(JOB, place, value) == JOB.replace(before, after)


def test_what_is_missing_is_made() -> None:
    """A table inside an item of a list, with nothing else lost."""
    text = with_value(JOB, ("piece", 0, "options", "tab"), 9)

    assert tomllib.loads(text)["piece"][0]["options"] == {"tab": 9}
    assert tomllib.loads(text)["piece"][1] == tomllib.loads(JOB)["piece"][1]
    assert all(line in text for line in JOB.splitlines())


@pytest.mark.parametrize(
    ("place", "value", "said"),
    [
        (("piece", 2, "style"), "tray", "piece[3] is not there."),
        (("title", "short"), "x", 'title is "Winter"; it must be a table.'),
        (("stock", "kraft", "grain"), None, "stock.kraft.grain is not there to be taken out."),
        (("piece", 0), "tray", "piece[1] cannot be written with this value."),
    ],
)
def test_a_place_that_is_not_there_is_refused(
    place: tuple[Any, ...], value: object, said: str
) -> None:
    with pytest.raises(EditRefused) as caught:
        with_value(JOB, place, value)

    assert str(caught.value) == said


@pytest.mark.parametrize(
    "text", ["\u00e9 = [", "title = 1\n[a]\n[a.b]\n[a]\n", "a = " + 9999 * "["]
)
def test_a_text_that_is_no_toml_takes_no_edit(text: str) -> None:
    """Nor one that is nested so deep that it cannot be read."""
    with pytest.raises(EditRefused, match="no TOML"):
        with_value(text, ("title",), "Winter")


@pytest.mark.parametrize(
    ("millimetres", "unit", "written"),
    [
        (61.9125, "in", "2 7/16"),  # 2.4375 in exactly
        (-12.7, "in", "-1/2"),
        (50.8, "in", 2),
        (61.0, "in", round(61 / 25.4, 9)),
        (12.5, "mm", 12.5),
        (30.0, "mm", 30),
        (25.0, "cm", 2.5),
    ],
)
def test_a_length_is_written_in_the_files_own_unit(
    millimetres: float, unit: Unit, written: object
) -> None:
    """And reads back as itself."""
    assert length_in(millimetres, unit) == written
    assert parse_length(length_in(millimetres, unit), unit) == pytest.approx(millimetres, abs=1e-6)
