"""`cutlayers fold`: what is written, what is refused, and what is left alone."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cutlayers.cli import main
from tests.folders import files_in
from tests.jobs import TRAY

SECOND = """
[[piece]]
style = "telescope-box"
name = "gift"
stock = "card"
count = 3
size = { length = 60, width = 40, height = 20 }
"""


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, ["fold", *(str(word) for word in words)])


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(TRAY + SECOND)
    return path


def panels(path: Path) -> list[str]:
    """The names of the faces of a FOLD file."""
    names: list[str] = json.loads(path.read_bytes())["faces_cutlayers:panel"]
    return names


@pytest.mark.parametrize(
    ("ending", "begins", "unit"),
    [(".glb", b"glTF", "metres"), (".obj", b"# lengths are mm", "mm"), (".fold", b"{", "mm")],
)
def test_the_ending_chooses_the_format(
    job: Path, tmp_path: Path, ending: str, begins: bytes, unit: str
) -> None:
    """In whatever capitals; the unit is told."""
    for name in (f"box{ending}", f"BOX{ending.upper()}"):
        result = run(job, "-o", tmp_path / name)

        assert result.exit_code == 0, result.output
        assert (tmp_path / name).read_bytes().startswith(begins)
        assert f"wrote {tmp_path / name}: 27 panels" in result.output and unit in result.output


def test_without_a_name_it_is_the_job_s(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)

    assert run(job).exit_code == 0
    assert (tmp_path / "job.glb").exists()


def test_for_a_script_it_says_what_was_written_as_data(job: Path, tmp_path: Path) -> None:
    """A tray has nine panels, and so have the two trays of a telescope box."""
    result = run(job, "-o", tmp_path / "out" / "box.fold", "--json")
    assert result.exit_code == 0, result.output
    said = json.loads(result.stdout)
    assert said["panels"] == 3 * 9 and said["file"].endswith("box.fold")
    refused = run(job, "-o", tmp_path / "box.stl", "--json")
    assert refused.exit_code == 2 and json.loads(refused.stdout)["refusals"]


def test_every_piece_is_there_once_or_the_one_that_is_asked_for(job: Path, tmp_path: Path) -> None:
    """By name or by number; three boxes alike are one."""
    target = tmp_path / "box.fold"
    found = {}
    for which in ((), ("--piece", "gift"), ("--piece", "2"), ("--piece", "1")):
        assert run(job, "-o", target, *which).exit_code == 0
        found[which] = panels(target)

    everything, by_name, by_number, other = found.values()
    assert by_name == by_number and everything == other + by_name
    assert len(set(everything)) == 9 + 18
    assert {name.partition(":")[0] for name in by_name} == {"gift"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("-o", "box.stl"), 'must be ".glb", ".obj" or ".fold"'),
        (("-o", "box"), "whose ending names no format"),
        (("-o", "box.glb", "--piece", "gitf"), 'Did you mean "gift"?'),
        (("-o", "box.glb", "--piece", "3"), "which is no piece of the job"),
        (("-o", "box.glb", "--open", "1.5"), "--open is 1.5; it must be 0 to 1"),
        (("-o", "box.glb", "--open", "nan"), "--open is nan; it must be 0 to 1"),
    ],
)
def test_what_is_refused(
    job: Path, words: tuple[str, ...], said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One line, exit 2, nothing written."""
    monkeypatch.chdir(job.parent)

    result = run(job, *words)

    assert result.exit_code == 2
    assert said in result.stderr
    assert list(job.parent.iterdir()) == [job]


def test_a_kit_is_refused(tmp_path: Path) -> None:
    """Its boxes change from row to row."""
    (tmp_path / "kit.toml").write_text('kit.file = "rows.csv"\n' + TRAY)

    result = run(tmp_path / "kit.toml", "-o", tmp_path / "box.glb")

    assert result.exit_code == 2
    assert "kit" in result.stderr


@pytest.mark.parametrize("more", [(), ("--overwrite",)])
def test_what_the_job_reads_is_never_written_over(tmp_path: Path, more: tuple[str, ...]) -> None:
    """The job under another name, and a picture that it prints."""
    job = tmp_path / "job.fold"
    art = '[[piece.art]]\npanels = "base"\nfile = "art.obj"\n'
    job.write_text(TRAY + art)
    picture = (
        b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><path d="M0 0h1v1z"/></svg>'
    )
    (tmp_path / "art.obj").write_bytes(picture)
    os.link(job, tmp_path / "hard.fold")
    before = files_in(tmp_path)

    for name in ("job.fold", "hard.fold"):
        result = run(job, "-o", tmp_path / name, *more)
        assert result.exit_code == 2
        assert "is what this command reads" in result.stderr
    assert files_in(tmp_path) == before


def test_only_its_own_file_is_written_again(job: Path, tmp_path: Path) -> None:
    """One of somebody else, or one changed since, only if that is meant."""
    target = tmp_path / "box.obj"
    assert run(job, "-o", target).exit_code == 0
    assert run(job, "-o", target, "--piece", "1").exit_code == 0
    target.write_text("mine")

    result = run(job, "-o", target)

    assert result.exit_code == 2 and "--overwrite" in result.stderr
    assert target.read_text() == "mine"
    assert run(job, "-o", target, "--overwrite").exit_code == 0


def test_it_says_whether_anything_stands_in_the_way_of_closing(tmp_path: Path) -> None:
    """Two halves of a carton's tube are folded right over to be glued, 36 turns of 5° each; it is
    squared up, and has three closures at each end: a right angle is eighteen turns. A lid's
    slide over its base is told beside its turns."""
    path = tmp_path / "carton.toml"
    path.write_text(TRAY.replace('"tray"', '"tuck-carton"'))

    words = run(path, "-o", tmp_path / "box.glb")
    data = json.loads(run(path, "-o", tmp_path / "box.glb", "--json").stdout)

    assert words.output.endswith("it closes, nothing in the way in 198 turns of 5°\n")
    (ways,) = data["closing"].values()
    assert [way["turns"] for way in ways] == [36] * 2 + [18] * 7
    assert ways[5]["panels"] == ["bottom", "bottom tuck"] and ways[6]["radius"] is None
    assert [*data["unreached"].values()] == [[]]

    path.write_text(TRAY.replace('"tray"', '"telescope-box"'))
    words = run(path, "-o", tmp_path / "lid.glb")
    assert words.output.endswith("in 144 turns of 5° and one slide\n")


def test_it_says_what_no_finger_gets_in_to(tmp_path: Path) -> None:
    """The last face of a cube closes on the three tabs at its other sides."""
    path = tmp_path / "cube.toml"
    cube = TRAY.replace('"tray"', '"platonic-solid"\noptions.solid = "cube"')
    path.write_text(re.sub(r"size = .*", "size = { edge = 60 }", cube))

    words = run(path, "-o", tmp_path / "box.glb")
    data = json.loads(run(path, "-o", tmp_path / "box.glb", "--json").stdout)

    assert words.output.count("is pressed from inside at 'glue', where nothing gets in") == 3
    (pressed,) = data["unreached"].values()
    assert [each["tool"] for each in pressed] == ["nothing"] * 3
