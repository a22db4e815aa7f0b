"""Cures written into the text of a job."""

from __future__ import annotations

import tomllib

from cutlayers.curing import mended
from tests.curing.jobs import FILE, large_machine, telescope

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
