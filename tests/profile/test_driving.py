"""What the program that drives a machine has to be told, on the setup sheet and in the report.

With the file and the machine both leading a trailing blade, every corner is swung twice; with
neither it comes out round (the geometry of a trailing blade; see tests/published/test_blade.py).
"""

from __future__ import annotations

import tomllib

import pytest

from cutlayers.job.reading import job_from
from cutlayers.making.make import lay_out, plan, report_of
from cutlayers.profile.reading import profile_from
from cutlayers.report.report import report_text

JOB = """
stock.card = { caliper = 0.3, sheet = "A4" }
[[piece]]
style = "tray"
stock = "card"
size = { length = 60, width = 40, height = 20 }
"""

PROFILE = """
title = "Cutter"
{order}
[bed]
width = 330
height = 330
margin = 5
[tools.blade]
type = "{tool}"
{blade}
[operations.cut]
tool = "blade"
passes = {passes}
"""

BY_FILE = "The file leads the blade round its corners for an offset of 0.25 mm: switch the machine"
BY_MACHINE = "The file has the bare lines for the blade: the machine must lead it round its corners"
KEPT = "keep the order of the file's lines"
ANY = "Lines may come in any order"
PASSES = "Every pass is in the file already"


def told(tool: str = "drag-blade", blade: str = "", order: str = "", passes: int = 1) -> list[str]:
    """The report's text, and what stands on its setup sheet."""
    text = PROFILE.format(tool=tool, blade=blade, order=order, passes=passes)
    machine = profile_from(tomllib.loads(text), "cutter.toml", "cutter")
    report = report_of(plan(lay_out(job_from(tomllib.loads(JOB), "box.toml", "Box"), machine)))
    (sheet,) = report.setup_sheets
    return [" ".join(report_text(report).split()), " ".join(sheet.driving)]


@pytest.mark.parametrize(
    ("blade", "says", "not_says"),
    [
        ("offset = 0.25", BY_FILE, BY_MACHINE),
        ('offset = 0.25\nswivel = "path"', BY_FILE, BY_MACHINE),
        ('offset = 0.25\nswivel = "machine"', BY_MACHINE, BY_FILE),
        ("offset = 0", BY_MACHINE, BY_FILE),
    ],
)
def test_who_leads_the_blade_is_said(blade: str, says: str, not_says: str) -> None:
    for words in told(blade=blade):
        assert says in words
        assert not_says not in words


def test_a_beam_is_led_by_nobody() -> None:
    for words in told("laser", "kerf = 0.2"):
        assert "round its corners" not in words
        assert KEPT in words


@pytest.mark.parametrize(("order", "says", "not_says"), [("kept", KEPT, ANY), ("any", ANY, KEPT)])
def test_whether_lines_may_be_reordered_is_said(order: str, says: str, not_says: str) -> None:
    for words in told(blade="offset = 0.25", order=f'files = {{ order = "{order}" }}'):
        assert says in words
        assert not_says not in words


@pytest.mark.parametrize(("passes", "said"), [(1, False), (2, True)])
def test_passes_in_the_file_are_said(passes: int, said: bool) -> None:
    """Who sets two on the machine as well cuts four times."""
    for words in told(blade="offset = 0.25", passes=passes):
        assert (PASSES in words) is said
