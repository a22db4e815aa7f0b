"""The commands as a person types them."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from cutlayers.cli import COMMANDS, main
from cutlayers.construction.styles import styles
from cutlayers.job.reading import read_job
from cutlayers.profile.search import FOLDER_VARIABLE
from tests.folders import files_in
from tests.origins import dims_of

ROOT = Path(__file__).parents[2]
BATH_BOMBS = ROOT / "samples" / "bath-bombs.toml"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def edited(tmp_path: Path, old: str, new: str) -> Path:
    text = BATH_BOMBS.read_text()
    assert old in text
    job = tmp_path / "job.toml"
    job.write_text(text.replace(old, new))
    return job


def test_check_writes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`check` reports on a job without leaving a file."""
    monkeypatch.chdir(tmp_path)

    result = run("check", BATH_BOMBS)

    assert result.exit_code == 0, result.output
    assert "sheet-1: kraft" in result.output
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("style", [style.name for style in styles()])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_new_job_can_be_checked_as_it_is(style: str, units: str, tmp_path: Path) -> None:
    """`new` writes a job that works without an edit."""
    job = tmp_path / "new.toml"

    assert run("new", style, "--units", units, "-o", job).exit_code == 0

    result = run("check", job, "--profile", "drag-blade-340")
    assert result.exit_code == 0, result.output


def test_a_style_tells_which_card_it_is_good_for() -> None:
    """Words for people, mm for scripts; a tray is creased in greyboard of 1.5 mm, not of 2 mm."""
    said = run("styles", "tray")
    inches = run("styles", "tray", "--units", "in")
    data = json.loads(run("styles", "tray", "--json").output)

    assert "of card 0.15 to 1.65 mm thick" in said.output
    assert "cut the panels apart and hinge them with tape" in said.output
    # 0.15 and 1.65 mm; limits stand in both units, 12 mm as 1/2 in is usual.
    assert "of card 0.006 to 0.065 in thick" in inches.output
    assert "4 mm to 60 mm (0.157 in to 2.362 in); 1/2 in if not given" in inches.output
    assert data["card_mm"] == {"least": 0.15, "most": 1.65}


def test_new_never_overwrites(tmp_path: Path) -> None:
    """A job that is there already stays as it is."""
    job = tmp_path / "mine.toml"
    job.write_text("precious")

    result = run("new", "tray", "-o", job)

    assert result.exit_code == 2
    assert "is there already" in result.stderr
    assert job.read_text() == "precious"


BAD_JOBS = [
    ("ridge_height = 16", "rigde_height = 16", "piece[1].options.rigde_height", "ridge_height?"),
    ("height = 62", "height = 0", "piece[1].size.height", "mm"),
    ("height = 62", "height = -4", "piece[1].size.height", "mm"),
    ("height = 62", "height = nan", "piece[1].size.height", ""),
    ("height = 62", "height = 1e9", "piece[1].size.height", "mm"),
    ("length = 60", "length = 50", "piece[1].size.length", "at least 60 mm"),
    ("roof_depth = 45", "roof_depth = 30", "piece[1].options.roof_depth", "half the lid's width"),
    ("ridge_height = 16", "ridge_height = 16, tab = 40", "piece[1].options.tab", "at most"),
    ("count = 6", "count = 0", "piece[1].count", "1"),
    ('stock = "kraft"', 'stock = "krat"', "piece[1].stock", "kraft"),
    ('sheet = "12x12 in"', 'sheet = "A5"', "favour: base is", "mm too wide"),
    ('sheet = "12x12 in"', 'sheet = "A3"', "stock.kraft.sheet", "does not fit the bed"),
    ('profile = "drag-blade-340"', 'profile = "drag-blade"', "drag-blade", "drag-blade-340"),
]


@pytest.mark.parametrize(("old", "new", "place", "cure"), BAD_JOBS, ids=[b[1] for b in BAD_JOBS])
def test_bad_jobs_get_one_line_and_no_file(
    old: str, new: str, place: str, cure: str, tmp_path: Path
) -> None:
    """Every slip names its place and what is allowed; nothing is written."""
    job = edited(tmp_path, old, new)

    result = run("make", job, "-o", tmp_path / "out")

    assert result.exit_code == 2, result.output
    assert place in result.stderr
    assert cure in result.stderr
    assert len(result.stderr.strip().splitlines()) == 1
    assert "Traceback" not in result.output
    assert not (tmp_path / "out").exists()


@pytest.mark.skipif(os.name == "nt", reason="folders are protected in another way there")
def test_a_folder_in_the_way_is_named(tmp_path: Path) -> None:
    """Output that cannot be a folder is refused with its name; the file there stays."""
    (tmp_path / "out").write_text("a file")

    result = run("make", BATH_BOMBS, "-o", tmp_path / "out")

    assert result.exit_code == 2
    assert str(tmp_path / "out") in result.stderr
    assert (tmp_path / "out").read_text() == "a file"


def test_a_failed_run_leaves_the_earlier_files(tmp_path: Path) -> None:
    """A second run that is refused changes nothing of the first one's files."""
    assert run("make", BATH_BOMBS, "-o", tmp_path / "out").exit_code == 0
    before = files_in(tmp_path / "out")

    assert run(
        "make", edited(tmp_path, "roof_depth = 45", "roof_depth = 3"), "-o", tmp_path / "out"
    ).exit_code

    assert files_in(tmp_path / "out") == before


def test_fewer_sheets_leave_no_stale_ones(tmp_path: Path) -> None:
    """Sheets of an earlier, larger run of the same folder do not stay to be cut by mistake."""
    assert run("make", BATH_BOMBS, "-o", tmp_path / "out").exit_code == 0
    (tmp_path / "out" / "notes.txt").write_text("mine")

    assert run("make", edited(tmp_path, "count = 6", "count = 1"), "-o", tmp_path / "out")

    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert "sheet-1.dxf" in names
    assert "sheet-2.dxf" not in names
    assert "notes.txt" in names


def test_profiles_are_copied_and_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A copy of a shipped profile is the user's own and passes its check."""
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "profiles"))

    assert run("profile", "copy", "small-laser", "garage").exit_code == 0

    assert (tmp_path / "profiles" / "garage.toml").is_file()
    assert run("profile", "check", "garage").exit_code == 0
    assert "garage" in run("profile", "list").output
    assert run("profile", "copy", "small-laser", "garage").exit_code == 2


def test_schemas_are_json() -> None:
    """Editors can load both schemas."""
    for words in (("profile", "schema"), ("new", "--schema")):
        assert json.loads(run(*words).output)["$schema"].startswith("https://json-schema.org/")


def test_help_loads_no_heavy_library() -> None:
    """`--help` imports click and the command line, and none of the libraries that do the work."""
    heavy = {"shapely", "numpy", "ezdxf", "lxml", "jinja2", "resvg_py"}
    script = (
        "import sys\n"
        "from cutlayers.cli import main\n"
        "try:\n    main(['--help'])\n"
        "except SystemExit: pass\n"
        "print(sorted(name for name in sys.modules if '.' not in name), file=sys.stderr)\n"
    )

    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=ROOT
    )

    assert not heavy & set(json.loads(done.stderr.replace("'", '"')))


def test_every_command_has_help() -> None:
    """No command and no option is left without a sentence."""

    def missing(command: click.Command, path: str) -> list[str]:
        found = [] if command.help else [path]
        found += [
            f"{path} {option.name}"
            for option in command.params
            if isinstance(option, click.Option) and not option.help
        ]
        if isinstance(command, click.Group):
            context = click.Context(command)
            for name in command.list_commands(context):
                inner = command.get_command(context, name)
                assert inner is not None
                found += missing(inner, f"{path} {name}")
        return found

    assert missing(main, "cutlayers") == []


@pytest.mark.parametrize("name", COMMANDS)
def test_the_list_of_commands_says_what_each_says(name: str) -> None:
    """The first sentence of a command's own help, which the list shows without importing it."""
    command = main.get_command(click.Context(main), name)

    assert command is not None and command.help is not None
    assert command.name == name
    assert " ".join(command.help.split("\n\n")[0].split()) == COMMANDS[name]


def test_same_job_same_bytes(tmp_path: Path) -> None:
    """Two processes with other hash seeds, in other folders, write the same files."""
    outputs = []
    for seed in ("1", "2"):
        folder = tmp_path / seed
        folder.mkdir()
        subprocess.run(
            [sys.executable, "-m", "cutlayers", "make", BATH_BOMBS, "-o", "out"],
            cwd=folder,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            check=True,
            capture_output=True,
        )
        outputs.append(files_in(folder / "out"))

    assert outputs[0] == outputs[1]


HELD = 'holds = { shape = "sphere", diameter = 58, clearance = 2 }'
SIZE = 'size = { length = 60, width = 60, height = 62, measure = "inside" }'


def test_a_box_is_sized_by_what_it_holds(tmp_path: Path) -> None:
    """A ball of 58 with 2 to spare needs 60 each way across, inside: nothing less holds it."""
    result = run("check", edited(tmp_path, SIZE, HELD), "--json")

    assert result.exit_code == 0, result.output
    job = read_job(tmp_path / "job.toml")
    dims = dims_of(job.orders[0].box)
    assert (dims.length, dims.width) == pytest.approx((60, 60), abs=0.1)
    assert dims.height < 62  # the roof takes in the top of the ball


HOLDS_SLIPS = [
    ('"sphere"', '"shere"', "piece[1].holds.shape", "sphere"),
    ("diameter = 58", "diameter = 0", "piece[1].holds.diameter", "mm"),
    ("diameter = 58, ", "", "piece[1].holds.diameter", "is missing"),
    ("clearance = 2", "slak = 2", "piece[1].holds.slak", "diameter"),
    ("clearance = 2", "slack = 2", "piece[1].holds.slack", "clearance?"),
    ("clearance = 2", "clearance = -2", "piece[1].holds.clearance", "mm"),
    (HELD, "", "piece[1].size", "holds"),
]


@pytest.mark.parametrize(("old", "new", "place", "cure"), HOLDS_SLIPS)
def test_slips_in_what_is_held_are_named(
    old: str, new: str, place: str, cure: str, tmp_path: Path
) -> None:
    """Every slip in `holds` names its place and what is allowed."""
    job = edited(tmp_path, SIZE, HELD.replace(old, new))

    result = run("check", job)

    assert result.exit_code == 2, result.output
    assert place in result.stderr
    assert cure in result.stderr


def test_make_refuses_what_does_not_work_unless_told_otherwise(tmp_path: Path) -> None:
    """Card too stiff for its folds is an error: nothing is written, but --anyway writes all."""
    slip = edited(tmp_path, "caliper = 0.32", "caliper = 1.2")

    refused = run("make", slip, "-o", tmp_path / "out")

    assert refused.exit_code == 1, refused.output
    assert "error [card-too-thick]: favour" in refused.stdout
    assert not (tmp_path / "out").exists()
    assert run("make", slip, "-o", tmp_path / "out", "--anyway").exit_code == 0
    assert (tmp_path / "out" / "sheet-1.dxf").is_file()


def test_the_gallery_shows_a_style_flat_and_folded(tmp_path: Path) -> None:
    """`styles --gallery` writes a page and a picture for the style that is named."""
    assert run("styles", "tray", "--gallery", tmp_path / "gallery").exit_code == 0

    assert sorted(files_in(tmp_path / "gallery")) == [
        "README.md",
        "tray.png",
    ]
    assert (tmp_path / "gallery" / "tray.png").read_bytes().startswith(b"\x89PNG")


def test_a_job_may_say_how_many_layers_a_punch_goes_through(tmp_path: Path) -> None:
    """The bath-bomb lid's holes lie in four layers: allowed as a rule, not for a limit of 3."""
    usual = run("check", BATH_BOMBS)
    strict = run(
        "check", edited(tmp_path, "[stock.kraft]", "[limits]\nlayers = 3\n\n[stock.kraft]")
    )

    assert "layers" not in usual.output
    assert strict.exit_code == 0
    assert "warning [layers]: favour" in strict.output
    assert "4 layers" in strict.output
