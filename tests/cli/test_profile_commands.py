"""`cutlayers profile …` and `cutlayers trial …` as a person types them."""

from __future__ import annotations

import json
import re
import shlex
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cutlayers import read_job, read_profile
from cutlayers.cli import main
from cutlayers.profile.search import FOLDER_VARIABLE
from cutlayers.trials import KINDS

ROOT = Path(__file__).parents[2]
BATH_BOMBS = ROOT / "samples" / "bath-bombs.toml"


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder of one's own, and a working folder beside it."""
    folder = tmp_path / "own"
    monkeypatch.setenv(FOLDER_VARIABLE, str(folder))
    work = tmp_path / "work"
    work.mkdir()
    monkeypatch.chdir(work)
    return folder


def run(*words: str | Path, answers: str | None = None) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words], input=answers)


def done(*words: str | Path, answers: str | None = None) -> str:
    result = run(*words, answers=answers)
    assert result.exit_code == 0, result.output
    return result.output


def refused(*words: str | Path, answers: str | None = None) -> str:
    result = run(*words, answers=answers)
    assert result.exit_code == 2, result.output
    assert "Traceback" not in result.output
    return result.stderr


def test_from_nothing_to_a_recorded_kerf(own: Path) -> None:
    """Who only follows what is printed gets from a new profile to a measured kerf.

    Every command after the first is taken from the output of the one before; the readings are
    those of a cut 0.18 mm wide: 11 × 0.18 = 1.98 and 21 × 0.18 = 3.78.
    """
    questions = iter(["Garage laser", "300", "12 in", "4", "laser", "0.2", "laser", "short cuts"])
    said = done("profile", "new", "garage", answers="\n".join([*questions, "", "", ""]) + "\n")
    next_trial = re.search(r"cutlayers (trial kerf .*?)    ", said)
    assert next_trial is not None

    said = done(*shlex.split(next_trial[1]))
    record = re.search(r"cutlayers (trial record kerf .*)", said)
    assert record is not None
    page = Path("trial-kerf", "instructions.html").read_text(encoding="utf-8")
    assert record[0] in page
    read = {"A": iter(("1.98", "2.0")), "B": iter(("3.78", "3.8")), "C": iter(("1.95", "2.0"))}
    words = [
        f"{word[0]}={next(read[word[0]])}" if word.endswith("=…") and word[0] in read else word
        for word in shlex.split(record[1])
        if word != "S=…"
    ]
    said = done(*words, "S=0.15", "--date", "2026-03-01")

    assert re.search(r"materials\.kraft-270\.cut\.kerf: - → 0\.18", said)
    assert "19 times in 20" in said
    table = tomllib.loads((own / "garage.toml").read_text(encoding="utf-8"))
    use = table["materials"]["kraft-270"]["cut"]
    assert use["kerf"] == pytest.approx(0.18, abs=0.003)
    assert str(use["tested_on"]) == "2026-03-01"
    assert table["trials"][0]["kind"] == "kerf"
    assert table["bed"]["height"] == pytest.approx(304.8)


def test_new_asks_again_until_an_answer_is_right(own: Path) -> None:
    """A wrong answer gets its limits, and the question comes back."""
    said = done("profile", "new", "x", answers="\n5\nwide\n200\n" + "\n" * 12)

    assert 'width is "5"' in said or "width is 5" in said
    assert "30 mm to 5000 mm" in said
    assert tomllib.loads((own / "x.toml").read_text())["bed"]["width"] == 200


@pytest.mark.parametrize("cutter", ["drag-blade", "laser", "wheel"])
@pytest.mark.parametrize("score", ["stylus", "short cuts", "by hand"])
@pytest.mark.parametrize("draw", ["pen", "no"])
def test_new_profiles_are_right(own: Path, cutter: str, score: str, draw: str) -> None:
    """Whatever is answered, the file passes its own check and warns of its tools."""
    done(
        *("profile", "new", "mine", "--defaults", "--margin", "20"),
        *("--cutter", cutter, "--score", score, "--draw", draw),
    )

    assert "no problems" in done("profile", "check", "mine")
    text = (own / "mine.toml").read_text()
    assert ("hydrogen" in text.replace("\n# ", " ")) == (cutter == "laser")
    assert "manual" in text


@pytest.mark.parametrize(
    ("options", "reason"),
    [
        (["--width", "0"], "width is"),
        (["--cutter", "knife"], "cutter is"),
        (["--kerf", "0.2"], "--kerf does not belong to a drag-blade"),
        (["--draw", "laser"], "only where cutter is"),
        (["--margin", "180"], "margin is 180 mm"),
        (["--grammage", "heavy"], "grammage is"),
    ],
)
def test_new_refuses(own: Path, options: list[str], reason: str) -> None:
    """Nothing is written for an answer that cannot be."""
    assert reason in refused("profile", "new", "mine", "--defaults", *options)
    assert not (own / "mine.toml").exists()


@pytest.mark.parametrize(
    ("answer", "swivel", "why"),
    [
        ("machine", "machine", "the machine leads"),
        ("file", "path", "the file leads"),
        ("unsure", "machine", "a guess"),
    ],
)
def test_new_asks_who_leads_the_blade(own: Path, answer: str, swivel: str, why: str) -> None:
    """In plain words; who does not know is told of the trial that shows it."""
    answers = ["Mine", "", "", "", "drag-blade", answer, *[""] * 6]
    said = done("profile", "new", "mine", answers="\n".join(answers) + "\n")

    text = (own / "mine.toml").read_text(encoding="utf-8")
    assert tomllib.loads(text)["tools"]["blade"]["swivel"] == swivel
    assert why in text
    assert "follow every line as it is" in said
    assert "cutlayers trial offset --profile mine" in said


def test_new_without_anybody_to_ask(own: Path) -> None:
    """A script that forgets an answer is told, and nothing is written."""
    assert "--defaults" in refused("profile", "new", "mine", answers="")
    assert not own.exists()


def test_set_shows_and_keeps(own: Path) -> None:
    """Old and new are shown; a refused value changes nothing; the last version can be compared."""
    done("profile", "copy", "drag-blade-340", "kitchen")
    path = own / "kitchen.toml"
    before = path.read_bytes()

    said = done("profile", "set", "kitchen", "materials.kraft-270.cut.force_g", "180")
    assert said == "materials.kraft-270.cut.force_g: 220 → 180\n"
    assert path.read_bytes() == before.replace(b"force_g = 220", b"force_g = 180")
    assert "180" in done("profile", "diff", "kitchen", "--last")
    now = path.read_bytes()
    assert "0 mm to 2 mm" in refused("profile", "set", "kitchen", "tools.blade.offset", "3")
    assert "cutlayers profile copy" in refused(
        "profile", "set", "small-laser", "tools.beam.kerf", "0.1"
    )
    assert path.read_bytes() == now
    done("profile", "set", "kitchen", "register.shift_x", "-0.2")
    assert tomllib.loads(path.read_text())["register"]["shift_x"] == -0.2
    done("profile", "unset", "kitchen", "materials.kraft-270.cut.note")
    assert b"new blade" not in path.read_bytes()


def test_a_table_that_ends_the_file_is_taken_out(own: Path) -> None:
    """Whole, with what was written under its name."""
    done("profile", "copy", "desktop-a4", "desk")
    path = own / "desk.toml"
    assert b"[svg]" in path.read_bytes()

    done("profile", "unset", "desk", "svg")

    assert b"[svg]" not in path.read_bytes()
    assert "not there to be taken out" in refused("profile", "unset", "desk", "svg")


def test_export_and_import_carry_every_byte(own: Path, tmp_path: Path) -> None:
    """One file goes to the next computer; there it replaces nothing unasked."""
    done("profile", "copy", "small-laser", "garage")
    done("profile", "set", "garage", "tools.beam.kerf", "0.17")
    done("profile", "export", "garage", "carry.toml")

    assert "is there already" in refused("profile", "export", "garage", "carry.toml")
    assert "is there already" in refused("profile", "import", "carry.toml", "--name", "garage")
    done("profile", "import", "carry.toml", "--name", "second")
    done("profile", "import", "carry.toml", "--name", "garage", "--replace")
    assert (own / "second.toml").read_bytes() == (own / "garage.toml").read_bytes()
    Path("broken.toml").write_text('title = "t"\n')
    assert "bed is missing" in refused("profile", "import", "broken.toml")
    assert not (own / "broken.toml").exists()
    assert "no difference" in done("profile", "diff", "garage", "second")


def test_the_default_is_taken_where_nothing_else_is_named(own: Path) -> None:
    """A job without a profile takes the default; one that names its own keeps it."""
    job = Path("job.toml")
    job.write_text(BATH_BOMBS.read_text().replace('profile = "drag-blade-340"\n', ""))
    assert "cutlayers profile default NAME" in refused("check", job)

    done("profile", "copy", "drag-blade-340", "kitchen")
    done("profile", "set", "kitchen", "title", "Kitchen")
    assert "default: kitchen" in done("profile", "default", "kitchen")
    assert "for Kitchen;" in done("check", job)
    assert "340 mm cutter" in done("check", BATH_BOMBS)
    assert "no profile named" in refused("profile", "default", "nowhere")
    assert "default: none" in done("profile", "default", "--none")
    refused("check", job)


def test_the_setup_sheet_is_printed(own: Path) -> None:
    """`check` tells tool, holder and settings of the job's card, in working order."""
    said = done("check", BATH_BOMBS)

    assert "setup sheet for kraft: settings of kraft-270" in said
    assert re.search(r"1 +draw +pen +- +1 +force_g 40", said)
    assert re.search(r"3 +cut +blade +- +1 +force_g 220", said)
    assert "Blades are sharp" in said


def test_a_guess_is_marked_in_the_report(own: Path) -> None:
    """Card without settings of its own gets the nearest, and both text and JSON say so."""
    job = Path("job.toml")
    job.write_text(re.sub(r'material = "kraft-270".*\n', "", BATH_BOMBS.read_text()))

    assert "nearest by weight: settings of kraft-270" in done("check", job)
    report = json.loads(done("check", job, "--json"))
    assert report["setup_sheets"][0]["how"] == "nearest"
    assert "nearest-material" in {finding["code"] for finding in report["findings"]}


def test_marked_stock_is_refused_for_a_laser(own: Path) -> None:
    """PVC never reaches a laser's files; a blade takes it."""
    job = Path("job.toml")
    job.write_text(
        BATH_BOMBS.read_text().replace('grain = "unknown"', 'grain = "unknown"\ncontains = ["pvc"]')
    )

    said = refused("make", job, "-p", "small-laser", "-o", "out")
    assert "hydrogen chloride" in said
    assert len(said.strip().splitlines()) == 1
    assert not Path("out").exists()
    done("check", job, "-p", "drag-blade-340")


MAKING = {
    "fold": ["-p", "drag-blade-340", "--material", "board"],
    "kerf": ["-p", "small-laser"],
    "score": ["-p", "drag-blade-340", "--material", "kraft-270"],
    "settings": ["-p", "drag-blade-340", "--material", "kraft-270"],
}


@pytest.mark.parametrize("kind", KINDS)
def test_every_trial_is_made(own: Path, kind: str) -> None:
    """Each writes its files and says what to do with them."""
    said = done("trial", kind, *MAKING.get(kind, ["-p", "drag-blade-340"]), "-o", "out")

    names = {path.name for path in Path("out").iterdir()}
    assert {f"{kind}.dxf", f"{kind}.svg", f"{kind}.png", "instructions.html"} <= names or (
        kind == "kerf" and "kerf-cut.dxf" in names
    )
    assert f"cutlayers trial record {kind}" in said


def test_what_a_crease_takes_is_in_the_next_job(own: Path) -> None:
    """Strips 1.6 mm larger outside than between their creases, of card of 1 mm: at each end 0.8 mm
    stand outside, so a crease takes 0.2, and the base of a tray of 90 mm inside is 90.4."""
    Path("box.toml").write_text(
        '[stock.board]\ncaliper = 1.0\nsheet = "12x12 in"\n[[piece]]\nstyle = "tray"\n'
        'stock = "board"\nsize = { length = 90, width = 60, height = 35 }\n'
    )
    done("profile", "copy", "drag-blade-340", "kitchen")
    before = json.loads(done("check", "box.toml", "-p", "kitchen", "--json"))
    words = ["S=10", "A1=21.6", "A2=24.7", "A3=27.8"]
    done("trial", "record", "fold", "-p", "kitchen", "--material", "board", *words)
    after = json.loads(done("check", "box.toml", "-p", "kitchen", "--json"))

    assert "creases-measured" not in [each["code"] for each in before["findings"]]
    (note,) = (each for each in after["findings"] if each["code"] == "creases-measured")
    assert [each["value"] for each in note["measured"]] == [0.2, 1.0]
    read = read_job("box.toml", take_up=read_profile("kitchen").take_up)
    left, _, right, _ = read.orders[0].box.nets[0].panel("base").outline.bounds
    assert right - left == pytest.approx(90.4)


def test_recording_changes_nothing_when_refused_or_dry(own: Path) -> None:
    """Contradictions and --dry-run leave the file's bytes."""
    done("profile", "copy", "small-laser", "garage")
    before = (own / "garage.toml").read_bytes()
    words = ("trial", "record", "kerf", "-p", "garage")

    assert "contradicts the others" in refused(*words, "A=1.65", "B=6.5")
    assert "tools.beam.kerf: 0.15 → " in done(*words, "A=1.8", "B=3.4", "--dry-run")
    assert (own / "garage.toml").read_bytes() == before
    assert "came with cutlayers" in refused("trial", "record", "kerf", "-p", "small-laser", "A=1.6")
    assert "--date" in refused(*words, "A=1.6", "--date", "soon")
    report = json.loads(done(*words, "A=1.8", "B=3.4", "--date", "2026-03-01", "--json"))
    assert report["results"][0]["unit"] == "mm"


def test_a_trial_needs_a_profile(own: Path) -> None:
    """Or a default one."""
    assert "--profile NAME" in refused("trial", "pen")
    done("profile", "default", "drag-blade-340")
    done("trial", "pen")
