"""Cures written into the text of a job."""

from __future__ import annotations

import tomllib

import pytest

from cutlayers.curing import mended
from cutlayers.making.make import lay_out
from cutlayers.telling.errors import PlacementError
from tests.curing.jobs import FILE, cutter, large_machine, source, telescope

LIMITS = "[limits]\ntab_depth = 6  # I glue with a stick\n"


def test_all_cures_are_made_and_nothing_else() -> None:
    """Two options change, one a line, each with its comment; the rest stays byte for byte."""
    text = telescope("clearance = 0.2   # snug\ntab = 5", limits=LIMITS)

    result = mended(text, FILE, large_machine())

    expected = text.replace("clearance = 0.2 ", "clearance = 0.5 ").replace("tab = 5", "tab = 6")
    assert result.after == expected
    assert [step.finding.code for step in result.steps] == ["tab-small", "lid-tight"]


def test_a_table_on_one_line_stays_on_one_line() -> None:
    """Options written as an inline table are edited in it."""
    text = telescope("").replace("[piece.options]\n\n", "")
    text = text.replace(
        'style = "telescope-box"', 'style = "telescope-box"\noptions = {clearance=0}'
    )

    result = mended(text, FILE, large_machine())

    assert result.after == text.replace("{clearance=0}", "{clearance=0.5}")


def test_a_key_that_is_missing_is_put_where_a_person_would() -> None:
    """An option that the file does not give gets a line under its piece, before the next one."""
    text = telescope("", limits="[limits]\ntab_depth = 15\n")
    text += '\n# the lid of the shop\n[[piece]]\nstock = "kraft"\nstyle = "hang-tag"\n'
    text += "size = { length = 45, height = 80 }\n"

    result = mended(text, FILE, large_machine())

    assert tomllib.loads(result.after)["piece"][0]["options"] == {"tab": 15}
    assert [line for line in result.after.splitlines() if line not in text.splitlines()] == [
        "tab = 15"
    ]
    assert "\n# the lid of the shop\n[[piece]]" in result.after


def test_line_ends_of_another_system_stay() -> None:
    """Carriage returns included."""
    text = telescope("clearance = 0.2").replace("\n", "\r\n")

    result = mended(text, FILE, large_machine())

    assert result.after == text.replace("clearance = 0.2", "clearance = 0.5")


def test_a_job_that_works_stays_as_it_is() -> None:
    """No step, no difference."""
    text = telescope("")

    result = mended(text, FILE, large_machine())

    assert (result.after, result.steps, result.difference("box.toml")) == (text, (), "")


def test_the_difference_names_the_lines() -> None:
    """As a unified difference, which tools that apply one can read."""
    lines = mended(telescope("clearance = 0.2"), FILE, large_machine()).difference("box.toml")

    changed = [line for line in lines.splitlines() if line[:1] in "+-"]
    assert changed == [
        "--- box.toml",
        "+++ box.toml, mended",
        "-clearance = 0.2",
        "+clearance = 0.5",
    ]


def mug(caliper: float, size: float) -> str:
    return f"""\
title = "Mugs"
units = "mm"

[stock.kraft]
caliper = {caliper}
grain = "unknown"
sheet = "12x12 in"

[[piece]]
name = "mug"
stock = "kraft"
style = "gable-carton"
size = {{ length = {size}, width = {size}, height = 95 }}
"""


def test_a_lid_larger_than_the_sheet_is_cut_in_two_parts() -> None:
    """86.6 mm by 86.9, twice, and a tab of 12 mm are 359 mm, of which the sheet takes 294; half of
    it and a tab are 185.6."""
    text = mug(0.3, 85)

    result = mended(text, FILE, cutter())

    (step,) = result.steps
    assert step.finding.code == "blank-too-large"
    wide, _ = step.finding.measured
    assert wide.value == pytest.approx(2 * (86.6 + 86.9) + 12 + 0.15 + 1.2, abs=0.3)
    assert result.after == f"{text}\n[piece.options]\nlid_parts = 2\n"


def test_whoever_lays_out_such_a_lid_is_told_of_the_parts() -> None:
    with pytest.raises(PlacementError) as caught:
        lay_out(source(mug(0.3, 85)).job(), cutter(), quick=True)

    assert "or cut it in parts: [[piece]] 1, options.lid_parts → 2" in str(caught.value)


def test_a_lid_that_is_too_large_in_parts_as_well_is_refused() -> None:
    """Each part is 144.6 + 144.9 + 12 mm: more than the sheet."""
    with pytest.raises(PlacementError, match=r"mug: (base|lid)"):
        mended(mug(0.3, 143), FILE, cutter())


def test_letters_on_their_head_are_turned_upright() -> None:
    """Not those on their side, which may be meant."""
    text = telescope("").replace("[piece.options]\n\n", "")
    text += """
[[piece.lettering]]
panel = "base.front"
text = "SOAP"
height = 3
turn = 0      # as on the flat card

[[piece.lettering]]
panel = "base.left"
text = "OB"
height = 3
turn = 180
"""

    result = mended(text, FILE, large_machine())

    assert [step.finding.code for step in result.steps] == ["lettering-upside-down"]
    assert result.after == text.replace("turn = 0      #", 'turn = "upright"      #')
