"""`cutlayers check` with cures, and `--mend`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cutlayers.cli import main
from tests.curing.jobs import telescope
from tests.folders import files_in

BEFORE = telescope("clearance = 0.2   # snug")
AFTER = telescope("clearance = 0.5   # snug")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A box with a tight lid."""
    path = tmp_path / "box.toml"
    path.write_text(BEFORE)
    return path


def run(*words: str | Path, answer: str | None = None) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words], input=answer)


def test_check_offers_cures(job: Path) -> None:
    """Below the findings, told once where they have the same; nothing is written."""
    result = run("check", job)

    assert result.exit_code == 0, result.output
    assert "  cure of these 2: [[piece]] 1, options.clearance → 0.5 mm\n" in result.output
    assert f"'cutlayers check {job} --mend' writes the cures into the file" in result.output
    assert list(job.parent.iterdir()) == [job]


def test_check_offers_cures_as_data(job: Path) -> None:
    """Key path and value, lengths in mm with their unit."""
    report = json.loads(run("check", job, "--json").stdout)

    cures = [finding["cure"] for finding in report["findings"] if finding["code"] == "lid-tight"]
    value = {"kind": "length", "unit": "mm", "value": 0.5}
    edit = {"path": ["piece", 0, "options", "clearance"], "value": value}
    assert cures == [{"edits": [edit]}] * 2


def test_inches_are_told_as_fractions(job: Path) -> None:
    """A sixteenth is told as a sixteenth."""
    job.write_text(telescope('clearance = "0.2 mm"', unit="in"))

    assert "options.clearance → 1/16 in\n" in run("check", job).output


def test_make_looks_for_no_cures(job: Path, tmp_path: Path) -> None:
    """It is dear, so its report names none."""
    assert run("make", job, "-o", tmp_path / "out").exit_code == 0

    report = json.loads((tmp_path / "out" / "report.json").read_text())
    assert {finding["cure"] for finding in report["findings"]} == {None}


def test_no_changes_nothing(job: Path) -> None:
    """The difference is shown, the file stays, and the check goes on as without --mend."""
    result = run("check", job, "--mend", answer="n\n")

    assert "-clearance = 0.2   # snug\n+clearance = 0.5   # snug\n" in result.output
    assert "nothing was changed" in result.output
    assert result.output.endswith(run("check", job).output)
    assert files_in(job.parent) == {"box.toml": BEFORE.encode()}


@pytest.mark.parametrize("words", [("--mend",), ("--mend", "--yes")])
def test_yes_writes_and_keeps_the_old_file(job: Path, words: tuple[str, ...]) -> None:
    """The file as it was lies beside it under a name that is told; the check is of the new one."""
    result = run("check", job, *words, answer="y\n")

    assert result.exit_code == 0, result.output
    assert files_in(job.parent) == {"box.toml": AFTER.encode(), "box.toml.old": BEFORE.encode()}
    assert f"kept as {job}.old" in result.output
    assert result.output.count("lid: front and back") == 1  # told as cured, found no more


def test_what_was_kept_before_is_not_written_over(job: Path) -> None:
    """The next free name is taken."""
    kept = job.with_name("box.toml.old")
    kept.write_text("precious")

    assert run("check", job, "--mend", "--yes").exit_code == 0

    assert kept.read_text() == "precious"
    assert job.with_name("box.toml.old-2").read_text() == BEFORE


def test_a_link_stays_a_link(job: Path, tmp_path: Path) -> None:
    """What it leads to is mended, and the old file lies beside that."""
    folder = tmp_path / "links"
    folder.mkdir()
    link = folder / "today.toml"
    link.symlink_to(job)

    assert run("check", link, "--mend", "--yes").exit_code == 0

    assert link.is_symlink()
    assert job.read_text() == AFTER
    assert job.with_name("box.toml.old").read_text() == BEFORE


def test_a_byte_order_mark_stays(job: Path) -> None:
    """Some editors want it."""
    job.write_bytes(b"\xef\xbb\xbf" + BEFORE.encode())

    assert run("check", job, "--mend", "--yes").exit_code == 0

    assert job.read_bytes() == b"\xef\xbb\xbf" + AFTER.encode()


@pytest.mark.parametrize(("answer", "code"), [("n", 1), ("y", 0)])
def test_the_exit_code_is_that_of_the_file_as_it_is_then(job: Path, answer: str, code: int) -> None:
    """A wall too low for the margin of its art is an error until the margin is made smaller."""
    text = telescope("tab = 5", limits="[print]\nsafe_margin = 4").replace("20 mm", "7 mm")
    text += '[[piece.art]]\nnet = "base"\npanels = "front"\n'
    job.write_text(text + 'lettering = "SOAP"\nheight = 1\n')

    result = run("check", job, "--mend", answer=f"{answer}\n")

    assert result.exit_code == code, result.output
    assert "print.safe_margin → " in result.output


def test_for_scripts_only_json_is_on_stdout(job: Path) -> None:
    """What was mended is told beside it."""
    result = run("check", job, "--mend", "--yes", "--json")

    assert json.loads(result.stdout)["findings"] is not None
    assert "kept as" in result.stderr
    assert job.read_text() == AFTER


def test_nothing_to_mend_is_said(job: Path) -> None:
    """No difference, no file."""
    job.write_text(AFTER)

    result = run("check", job, "--mend", "--yes")

    assert result.output.startswith("there is nothing to mend")
    assert list(job.parent.iterdir()) == [job]


@pytest.mark.parametrize(
    ("words", "told"),
    [(("--yes",), "--yes goes with --mend"), (("--mend", "--json"), "say --yes as well")],
)
def test_words_that_do_not_go_together(job: Path, words: tuple[str, ...], told: str) -> None:
    """Nothing is asked where nobody can answer."""
    result = run("check", job, *words)

    assert result.exit_code == 2
    assert told in result.stderr
    assert job.read_text() == BEFORE


def test_a_kit_is_refused(job: Path) -> None:
    """Its rows are many jobs."""
    job.write_text(BEFORE.replace("title", 'kit.file = "rows.csv"\ntitle', 1))

    result = run("check", job, "--mend", "--yes")

    assert result.exit_code == 2
    assert "makes a kit" in result.stderr
    assert len(result.stderr.splitlines()) == 1


def test_a_file_that_is_no_job_stays_as_it_is(job: Path) -> None:
    """One line, exit 2, nothing written."""
    job.write_text(BEFORE.replace('style = "telescope-box"', 'style = "telescop-box"'))

    result = run("check", job, "--mend", "--yes")

    assert result.exit_code == 2
    assert "telescope-box" in result.stderr
    assert list(job.parent.iterdir()) == [job]
