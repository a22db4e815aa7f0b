"""Long work says how far it is, on a terminal; short work and files hear nothing of it."""

from __future__ import annotations

import io
import re
import sys
from pathlib import Path

import pytest

from cutlayers import lay_out, read_job, read_profile
from cutlayers.cli import main
from cutlayers.cli import progress as progress_module
from cutlayers.cli.progress import LateBar
from cutlayers.making.make import laying_steps
from tests.jobs import LASER_TRAY

SAMPLES = Path(__file__).parents[2] / "samples"


class Screen(io.StringIO):
    """Standard error that is a terminal, or is none."""

    def __init__(self, terminal: bool) -> None:
        super().__init__()
        self._terminal = terminal

    def isatty(self) -> bool:
        return self._terminal


KIT = f'kit.file = "rows.csv"\n{LASER_TRAY}[[piece.lettering]]\npanel = "base"\ntext = "{{name}}"\n'


@pytest.mark.parametrize(
    ("words", "labels"),
    [
        ("check box.toml", ["laying out", "trying cures"]),
        ("make box.toml -o out", ["folding up", "laying out", "making"]),
        ("guide box.toml", ["laying out", "ordering lines"]),
        ("check kit.toml", ["checking rows"]),
        ("make kit.toml -o out --processes 1", ["checking rows", "making sheets"]),
        ("styles tray --gallery out", ["drawing styles"]),
    ],
)
def test_whatever_may_last_has_a_bar_that_fills(
    words: str, labels: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each of its long steps, to the end, on a terminal before which all work is long."""
    monkeypatch.setattr(sys, "stderr", screen := Screen(terminal=True))
    monkeypatch.setattr(progress_module, "LATE_S", 0.0)
    monkeypatch.chdir(tmp_path)
    Path("box.toml").write_text(LASER_TRAY)
    Path("kit.toml").write_text(KIT)
    Path("rows.csv").write_text("name\nIda\nVit\n")

    main(words.split(), standalone_mode=False)

    plain = re.sub(r"\x1b\[\?25[lh]", "", screen.getvalue())  # the cursor, hidden and shown
    full = re.findall(r"([a-z ]+) \[#+\] +100%", plain)
    assert [label.strip() for label in dict.fromkeys(full)] == labels


@pytest.mark.parametrize(("terminal", "late_s"), [(False, 0.0), (True, 1e9)])
def test_short_work_and_files_hear_nothing(
    terminal: bool, late_s: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither a bar for a moment nor bars in somebody's log."""
    monkeypatch.setattr(sys, "stderr", screen := Screen(terminal))
    monkeypatch.setattr(progress_module, "LATE_S", late_s)

    with LateBar(2, "working") as bar:
        bar.update(1)
        bar.update(1)

    assert screen.getvalue() == ""


@pytest.mark.parametrize("name", ["market-trays", "soap-bars", "one-of-each"])
def test_laying_out_tells_each_of_its_steps(name: str) -> None:
    """No more and no fewer than the bar was told, whatever is on several sheets."""
    job = read_job(SAMPLES / f"{name}.toml")
    told: list[int] = []

    lay_out(job, read_profile(job.profile or ""), quick=True, progress=told.append)

    assert sum(told) == laying_steps(job, quick=True)


def test_of_a_search_without_a_known_end_it_shows_that_it_goes_on(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Sizes are tried until one fits the sheet."""
    monkeypatch.setattr(sys, "stderr", screen := Screen(terminal=True))
    monkeypatch.setattr(progress_module, "LATE_S", 0.0)

    main(
        [
            "size",
            "from-sheet",
            "tray",
            "length=3",
            "width=2",
            "height=1",
            "--profile",
            "small-laser",
        ],
        standalone_mode=False,
    )

    assert "trying sizes" in screen.getvalue()
    assert "%" not in screen.getvalue()
