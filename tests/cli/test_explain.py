"""`cutlayers explain`."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from cutlayers.cli import main
from cutlayers.telling.words import SENTENCES

SAMPLES = Path(__file__).parents[2] / "samples"


def test_a_page_says_what_why_how_and_whence() -> None:
    shown = CliRunner().invoke(main, ["explain", "lid-tight"])

    assert shown.exit_code == 0
    heads = ["What is measured", "Why it matters", "How to cure it", "Source"]
    lines = shown.output.splitlines()
    assert [line for line in lines if line in heads] == heads
    assert lines[0] == "lid-tight (error or warning): The lid has too little room over its base."
    assert lines[-1] == "The same page explains lid-loose."
    assert max(map(len, lines)) <= 88


def test_without_a_code_all_are_listed() -> None:
    shown = CliRunner().invoke(main, ["explain"])

    assert shown.exit_code == 0
    assert {line.split()[0] for line in shown.output.splitlines()[1:]} == set(SENTENCES)


def test_scripts_get_the_list_and_the_page_as_data() -> None:
    listed = json.loads(CliRunner().invoke(main, ["explain", "--json"]).output)
    page = json.loads(CliRunner().invoke(main, ["explain", "grain", "--json"]).output)

    assert {each["code"] for each in listed} == set(SENTENCES)
    assert page["code"] == "grain" and page["severities"] == ["warning"]
    assert all(page[part] for part in ("line", "measured", "why", "cure", "source"))


@pytest.mark.parametrize(
    ("mistyped", "meant"),
    [
        ("lid-tigth", "Did you mean lid-tight"),
        ("LAYERS", "Did you mean layers?"),
        ("lid", "Did you mean lid-tight or lid-loose?"),
        ("qqqq", "lists them."),
    ],
)
def test_a_mistyped_code_is_refused_with_those_most_like_it(mistyped: str, meant: str) -> None:
    shown = CliRunner().invoke(main, ["explain", mistyped])

    assert shown.exit_code == 2
    assert f'CODE is "{mistyped}", which is no code; ' in shown.output
    assert "'cutlayers explain' lists them." in shown.output
    assert meant in shown.output


def test_a_page_is_there_where_python_runs_without_docstrings() -> None:
    """-OO takes docstrings out of what is imported; the pages are read from the source."""
    command = [sys.executable, "-OO", "-m", "cutlayers", "explain", "grain"]

    told = subprocess.run(command, capture_output=True, text=True, check=False)

    assert (told.returncode, told.stderr) == (0, "")
    assert told.stdout == CliRunner().invoke(main, ["explain", "grain"]).output


def test_the_lines_of_a_check_name_their_codes_and_where_to_read_more(tmp_path: Path) -> None:
    """Behind the severity, each with a page; one line says how to get at it. The cartons lie with
    their walls along the sheet's short side, up which the grain runs here."""
    job = tmp_path / "soap-bars.toml"
    text = (SAMPLES / "soap-bars.toml").read_text(encoding="utf-8")
    job.write_text(text.replace('grain = "long"', 'grain = "short"'), encoding="utf-8")
    told = CliRunner().invoke(main, ["check", str(job)]).output

    codes = re.findall(r"^(?:error|warning|note) \[([a-z-]+)\]: ", told, re.MULTILINE)
    assert codes == ["nearest-material", "grain-of-tube"]
    assert told.count("to read more of a [code]: cutlayers explain nearest-material\n") == 1
    for code in codes:
        assert CliRunner().invoke(main, ["explain", code]).exit_code == 0
