"""`cutlayers bring`: a drawing from outside becomes a job, and the job a box."""

from __future__ import annotations

import json
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result

from cutlayers.cli import main
from tests.bringing.drawings import CUT, NO_UNIT, SCORE, TRAY_CUT, path, svg, tray_svg

PROFILE = ("-p", "drag-blade-340")


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.fixture
def tray(tmp_path: Path) -> Path:
    """A drawing of a tray in a folder of its own."""
    drawing = tmp_path / "friend's tray.svg"
    drawing.write_text(tray_svg())
    return drawing


def test_a_drawing_is_told_as_it_was_understood(tray: Path) -> None:
    """Scale, lines, panels and folds, the tray of 60 × 40 × 20 worked by hand."""
    facts = json.loads(run("bring", tray, "--json").stdout)

    (net,) = facts["nets"]
    assert facts["scale"]["mm"] == pytest.approx(1.0)
    assert facts["size_mm"] == pytest.approx([100.0, 80.0])
    assert {(each["kind"], each["count"]) for each in facts["lines"]} == {("cut", 1), ("score", 4)}
    assert sorted(round(panel["area_mm2"]) for panel in net["panels"]) == [
        800,
        800,
        1200,
        1200,
        2400,
    ]
    assert sorted(round(hinge["length_mm"]) for hinge in net["hinges"]) == [40, 40, 60, 60]
    assert [hinge["fold_deg"] for hinge in net["hinges"]] == pytest.approx([90.0] * 4)
    assert net["closes"] is True
    assert net["gap_mm"] == pytest.approx(0.0, abs=1e-6)
    assert net["outside"]["side"] == "drawn"
    assert net["outside"]["reason"]


def test_the_job_makes_the_box(tray: Path) -> None:
    """From the drawing to files for the machine, without a word between."""
    job = tray.parent / "tray.toml"

    brought = run("bring", tray, "-o", job)
    checked = run("check", job, *PROFILE)
    made = run("make", job, *PROFILE, "-o", tray.parent / "files")

    assert brought.exit_code == checked.exit_code == made.exit_code == 0, made.output
    assert "drawing-" not in checked.output
    for page in ("guide.html", "box.html"):
        text = (tray.parent / "files" / page).read_text(encoding="utf-8")
        assert "made from a drawing" in text
        assert "length 60 mm, width 40 mm, height 20 mm, from score to score" in text
    report = json.loads((tray.parent / "files" / "report.json").read_text())
    assert report["sheets"][0]["pieces"] == {"friend's tray": 1}


def test_a_drawing_without_a_unit_is_not_guessed_at(tmp_path: Path) -> None:
    """What it may be is told with the size that it has then: 100 units of 1/96 in are 26.46 mm."""
    drawing = tmp_path / "net.svg"
    drawing.write_text(tray_svg(size=NO_UNIT))

    refused = run("bring", drawing, "-o", tmp_path / "net.toml")
    said = json.loads(run("bring", drawing, "--unit", "1/96 in", "--json").stdout)
    known = json.loads(run("bring", drawing, "--known", "2=60", "--json").stdout)

    assert refused.exit_code == 2
    assert len(refused.stderr.splitlines()) == 1
    assert "26.46 × 21.17 mm" in refused.stderr
    assert not (tmp_path / "net.toml").exists()
    assert said["size_mm"] == pytest.approx([100 * 25.4 / 96, 80 * 25.4 / 96])
    assert known["size_mm"] == pytest.approx([100.0, 80.0])  # line 2 is a crease 60 units long


@pytest.mark.parametrize("number", ["²", "9" * 5_000, "-1", "x", ""])
def test_what_numbers_no_line_is_refused(tray: Path, number: str) -> None:
    """A superior figure is a digit to some and a number to none."""
    result = run("bring", tray, "--known", f"{number}=60")

    assert result.exit_code == 2
    assert "the number of a line and its length" in result.stderr


def test_the_job_says_what_was_said(tmp_path: Path) -> None:
    """Unit, join and ends, so that it reads the drawing the same way."""
    (tmp_path / "net.svg").write_text(tray_svg(size=NO_UNIT))
    job = tmp_path / "net.toml"

    run(
        "bring",
        tmp_path / "net.svg",
        "-o",
        job,
        "--unit",
        "mm",
        "--join",
        "0.5 mm",
        "--ends",
        "keep",
    )

    text = job.read_text()
    assert 'unit = "mm"' in text
    assert 'join = "0.5 mm"' in text
    assert 'ends = "keep"' in text
    assert run("check", job, *PROFILE).exit_code == 0


def test_nothing_is_written_over(tray: Path) -> None:
    """Neither a job nor a picture that is there, nor the drawing itself."""
    other = tray.parent / "mine.toml"
    other.write_text("mine")

    for words in (("-o", other), ("--picture", other), ("--picture", tray)):
        assert run("bring", tray, *words).exit_code == 2
    assert other.read_text() == "mine"
    assert tray.read_text() == tray_svg()


def test_the_picture_shows_lines_panels_and_angles(tray: Path) -> None:
    """As an XML reader finds them."""
    picture = tray.parent / "understood.svg"

    run("bring", tray, "--picture", picture)

    tree = ElementTree.parse(picture)
    size = [float(tree.getroot().get(key, "0").removesuffix("mm")) for key in ("width", "height")]
    assert size[0] > 100 and size[1] > 80


def test_folds_that_nobody_finds_are_asked_for(tmp_path: Path) -> None:
    """Two flaps close nothing: the job leaves their angle open, and the check says so."""
    drawing, job = tmp_path / "flaps.svg", tmp_path / "flaps.toml"
    drawing.write_text(svg(path("M0 0 H60 V20 H0 Z", CUT), path("M20 0 V20", SCORE)))

    told = run("bring", drawing, "-o", job)
    checked = run("check", job, *PROFILE)

    assert "angle not found" in told.output
    assert '# "panel 1 | panel 2" = 90' in job.read_text()
    assert "drawing-not-folded" in checked.output
    job.write_text(job.read_text().replace('# "panel 1', '"panel 1'))
    assert "drawing-not-folded" not in run("check", job, *PROFILE).output


def test_guessed_folds_are_told_until_they_are_said(tmp_path: Path) -> None:
    """A sheet of two leaves: nothing meets by which its one fold could be tested. The job says that
    its angle is a guess, and check tells it until somebody writes an angle."""
    drawing, job = tmp_path / "card.svg", tmp_path / "card.toml"
    drawing.write_text(svg(path("M0 0 H80 V40 H0 Z", CUT), path("M40 0 V40", SCORE)))

    run("bring", drawing, "-o", job)
    text = job.read_text()
    guessed = run("check", job, *PROFILE)
    angle = re.search(r"= \{ guess = (-?[0-9.]+) \}.*", text)
    assert angle is not None
    job.write_text(text.replace(angle.group(), f"= {angle.group(1)}"))

    assert guessed.exit_code == 0
    (told,) = (line for line in guessed.output.splitlines() if "drawing-guessed]" in line)
    assert '1 fold turns by a guess that nothing tests: "panel 1 | panel 2"' in told
    assert "drawing-guessed" not in run("check", job, *PROFILE).output


def test_a_box_that_bends_is_cut_and_told(tmp_path: Path) -> None:
    """A strip with a curved fold: one finding says what is not checked, and the files are made."""
    drawing, job = tmp_path / "pillow.svg", tmp_path / "pillow.toml"
    drawing.write_text(svg(path("M0 0 H60 V60 H0 Z", CUT), path("M0 20 Q30 32 60 20", SCORE)))

    facts = json.loads(run("bring", drawing, "-o", job, "--json").stdout)
    made = run("make", job, *PROFILE, "-o", tmp_path / "files")

    (net,) = facts["nets"]
    assert [hinge["bends"] for hinge in net["hinges"]] == [True] * len(net["hinges"])
    assert "bend along" in net["why_not"]
    assert net["outside"] is None
    assert made.exit_code == 0, made.output
    assert made.output.count("drawing-bends]") == 1
    assert "drawing-not-folded" not in made.output
    assert (tmp_path / "files" / "sheet-1.dxf").exists()


def test_a_drawing_of_the_inside_is_turned_over(tmp_path: Path) -> None:
    """Worked by hand: a flap at the left of what is drawn is at the right of the outside, and what
    the drawing calls a valley is a mountain there."""
    drawing, job = tmp_path / "inside.svg", tmp_path / "inside.toml"
    drawing.write_text(
        svg(path("M0 0 H60 V40 H0 Z", CUT), path("M20 0 V40", SCORE, 'id="valley 90"'))
    )

    run("bring", drawing, "--shows", "inside", "-o", job)
    facts = json.loads(run("bring", drawing, "--shows", "inside", "--json").stdout)

    (net,) = facts["nets"]
    left, right = sorted(net["panels"], key=lambda panel: min(x for x, _ in panel["outline"]))
    assert left["area_mm2"] == pytest.approx(1600)
    assert right["area_mm2"] == pytest.approx(800)
    assert 'shows = "inside"' in job.read_text()
    assert run("check", job, *PROFILE).exit_code == 0


def test_a_drawn_box_is_sized_for_a_thing(tray: Path) -> None:
    """A cuboid of 90 × 50 × 10 mm asks the tray of 60 × 40 for 1.5 times its length; the card of
    0.3 mm and what its creases take are on top."""
    job, larger = tray.parent / "tray.toml", tray.parent / "larger.toml"
    run("bring", tray, "-o", job)

    thing = ("cuboid", "length=90", "width=50", "height=10")
    found = json.loads(run("size", "like", job, *thing, "--json", "-o", larger).stdout)

    length, width, height = (found["size_mm"][name] for name in ("length", "width", "height"))
    assert 90.0 < length < 91.0
    assert width == pytest.approx(length * 40 / 60, abs=0.11)
    assert height == pytest.approx(length * 20 / 60, abs=0.11)
    larger.write_text(larger.read_text().replace('sheet = "A4"', 'sheet = "A3"'))
    assert "item-too-large" not in run("check", larger, *PROFILE).output


@pytest.mark.parametrize(
    ("content", "why"),
    [
        ("", "empty"),
        ("<svg", "not XML"),
        (svg(), "no line"),
        (svg(path("M0 0 H60", CUT)), "an open line"),
        (svg(path(TRAY_CUT, CUT).replace("20 0", "nan 0")), "no number"),
        ("0\nSECTION\n", "half a DXF"),
        ("{}", "no FOLD"),
    ],
)
def test_what_holds_no_box_is_refused_in_one_line(tmp_path: Path, content: str, why: str) -> None:
    """Exit code 2, and nothing is written."""
    drawing = tmp_path / "drawing"
    drawing.write_text(content)

    refused = run("bring", drawing, "-o", tmp_path / "job.toml")

    assert refused.exit_code == 2, why
    assert len(refused.stderr.splitlines()) == 1, refused.stderr
    assert sorted(tmp_path.iterdir()) == [drawing]


def test_the_job_and_its_picture_are_written_both_or_neither(tmp_path: Path) -> None:
    """The drawing itself is there already, so nothing takes its place; and no picture is left."""
    drawing, picture = tmp_path / "tray.svg", tmp_path / "seen.svg"
    drawing.write_text(svg(path(TRAY_CUT, CUT)))

    refused = run("bring", drawing, "-o", drawing, "--picture", picture)

    assert refused.exit_code == 2
    assert sorted(tmp_path.iterdir()) == [drawing]
