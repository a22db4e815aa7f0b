"""A job in inches says no millimetres to whoever reads what came of it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from lxml import html

from cutlayers.cli import main
from cutlayers.telling.findings import Finding, Severity, Subject
from cutlayers.telling.words import place_of

JOB = """
title = "Stall"
units = "in"
profile = "drag-blade-340"
stock.card = { caliper = 0.012, sheet = "12x12 in" }

[[piece]]
name = "favour"
style = "gable-carton"
stock = "card"
size = { length = 2.5, width = 2, height = 1.5 }
lettering = [{ panel = "base.left", text = "Soap", height = "1/4" }]

[[piece]]
name = "divider"
style = "partition"
stock = "card"
size = { length = 4, width = 3, height = 1.25 }
"""

SET_AT_THE_MACHINE = re.compile(r"for an offset of 0\.25 mm:")
"""Blades' offsets are in mm wherever they are sold, and so are the settings for them."""


def millimetres(words: str) -> list[str]:
    """Where they are told, but for what is set at the machine, and for what the machine's own title
    and the files say."""
    words = SET_AT_THE_MACHINE.sub("", words).replace("lengths in the files are mm", "")
    return re.findall(r".{0,30}\bmm\b.{0,30}", words.replace("340 mm cutter", ""))


def words_of(page: Path) -> str:
    document = html.document_fromstring(page.read_bytes())
    return " ".join(document.xpath("//text()[not(ancestor::style or ancestor::script)]"))


def test_pages_and_reports_of_a_job_in_inches_say_no_millimetres(tmp_path: Path) -> None:
    """All that `make` and `guide` write and say, but for what is set at the machine."""
    job = tmp_path / "stall.toml"
    job.write_text(JOB)
    out = tmp_path / "out"
    made = CliRunner().invoke(main, ["make", str(job), "-o", str(out)])
    by_hand = CliRunner().invoke(
        main, ["guide", str(job), "--by-hand", "-o", str(tmp_path / "hand.html")]
    )

    assert made.exit_code == 0 and by_hand.exit_code == 0, made.output + by_hand.output
    told = {
        "guide": words_of(out / "guide.html"),
        "by hand": words_of(tmp_path / "hand.html"),
        "report": (out / "report.txt").read_text(),
        "make": made.output,
    }
    for name, words in told.items():
        assert not millimetres(words), name


KIT = """
title = "Guests"
units = "in"
profile = "drag-blade-340"
stock.card = { caliper = 0.012, sheet = "12x12 in", grammage = 250 }
kit.file = "guests.csv"

[[piece]]
name = "favour"
style = "gable-carton"
stock = "card"
size = { length = 2, width = 2, height = "{high}" }
"""


def test_a_kit_in_inches_says_no_millimetres(tmp_path: Path) -> None:
    """Sizes in fractions and in decimals; the list for scripts names its unit in each column."""
    (tmp_path / "guests.csv").write_text("name,high\nAnna,1 1/2\nZoë,1.25\n", encoding="utf-8")
    job, out = tmp_path / "kit.toml", tmp_path / "out"
    job.write_text(KIT)
    made = CliRunner().invoke(main, ["make", str(job), "-o", str(out)])

    assert made.exit_code == 0, made.output
    guide = words_of(out / "guide.html")
    assert "1 1/2 in" in guide and "1 1/4 in" in guide
    for words in (guide, (out / "report.txt").read_text(), made.output):
        assert not millimetres(words)


@pytest.mark.parametrize(
    ("subject", "said"),
    [
        (
            Subject(piece="lid", net="lid", panel="front", art="piece[2].art[1]"),
            "lid: front, art 1",
        ),
        (Subject(piece="lid", art="piece[1].art[3]"), "lid, art 3"),
        (Subject(piece="lid", art="piece[1].facing[2].art[1]"), "lid, art 1 of facing 2"),
    ],
)
def test_art_is_told_as_people_count_it(subject: Subject, said: str) -> None:
    """No key path: its piece has a name, and its art are counted in their order."""
    finding = Finding("art-resolution", Severity.WARNING, subject)

    assert place_of(finding) == said
