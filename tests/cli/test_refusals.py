"""What is refused at every door of the command line: exit 2, one line, the same as facts, and
nothing written.

A row says what stands in the folder beside the job, the words of the command, the line that
people get ("{d}" is the folder), and what scripts must find in the facts. The limits named are
those of the declarations in `job/`, `profile/` and `construction/`; other numbers are worked out
beside their row.
"""

from __future__ import annotations

import io
import json
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple, get_args

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator
from PIL import Image

from cutlayers.cli import main
from cutlayers.explaining.schema import report_schema
from cutlayers.profile.search import FOLDER_VARIABLE
from cutlayers.telling.facts import refusal_data
from cutlayers.telling.refusals import Fault, Refusal, Span

JOB = """\
units = "mm"
profile = "drag-blade-340"

[stock.kraft]
caliper = 0.3
sheet = "A5"

[[piece]]
name = "box"
style = "tray"
stock = "kraft"
size = { length = 60, width = 40, height = 20 }
"""
KIT = JOB.replace('name = "box"', 'name = "{name}"').replace("= 60", '= "{long}"')
KIT = 'kit.file = "guests.csv"\n' + KIT
LETTERED = '[[piece.lettering]]\npanel = "base"\ntext = "Ida"\n'
ART = '[[piece.art]]\npanels = ["base"]\nfile = "{}"\n'
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">\n<path {} d="M0 0H9V9z"/></svg>'
MINE = (
    'title = "x"\n[bed]\nwidth = 300\nheight = 300\n[tools.b]\ntype = "wheel"\n'
    '[operations.cut]\ntool = "b"\n'
)


class Row(NamedTuple):
    """One case; `job` is what stands in box.toml, `facts` are values of the data by their keys."""

    command: str
    line: str
    facts: dict[str, Any]
    job: str = JOB
    files: Mapping[str, str | bytes] = MappingProxyType({})


def changed(old: str, new: str, job: str = JOB) -> str:
    """A job with one thing in it said otherwise."""
    assert job.count(old) == 1, old
    return job.replace(old, new)


def picture() -> bytes:
    """A blank sheet as a scanner would give it, 300 dpi."""
    out = io.BytesIO()
    Image.new("L", (600, 800), 255).save(out, "PNG", dpi=(300, 300))
    return out.getvalue()


KRAFT = ["stock", "kraft"]
SIZE = ["piece", 0, "size", "length"]

JOBS = {
    "no file": Row(
        "check bax.toml --json",
        "{d}/bax.toml: there is no such file. Did you mean box.toml?",
        {"fault": "absent", "nearest": "box.toml", "place": []},
    ),
    "a folder": Row(
        "check . --json",
        "{d}: is not a file but a folder; name the file in it.",
        {"fault": "unreadable", "advice": "name the file in it"},
    ),
    "an empty file": Row(
        "check box.toml --json",
        "{d}/box.toml: the file is empty; a job file holds tables and keys.",
        {"fault": "empty"},
        job="",
    ),
    "no TOML": Row(
        "make box.toml -o out --json",
        "{d}/box.toml: line 2, column 5: invalid value. A text needs quotes.",
        {"fault": "unreadable", "line": 2, "column": 5},
        job="a = 1\nb = x\n",
    ),
    "no text": Row(
        "make box.toml -o out --json",
        "{d}/box.toml: byte 1 is not UTF-8; save the job file as UTF-8 text.",
        {"fault": "unreadable"},
        files={"box.toml": b"\xff\xfe"},
    ),
    "a value out of limits": Row(
        "make box.toml -o out --json",
        "{d}/box.toml: stock.kraft.caliper is 7 mm; it must be 0.02 mm to 5 mm.",
        {"fault": "value", "place": [*KRAFT, "caliper"], "found": 7},
        job=changed("0.3", "7"),
    ),
    "a key that is not known": Row(
        "check box.toml --json",
        "{d}/box.toml: unit is unknown; known are *. Did you mean units?",
        {"fault": "unknown", "place": ["unit"], "nearest": "units"},
        job=changed("units", "unit"),
    ),
    "a key that is missing": Row(
        "guide box.toml",
        "{d}/box.toml: stock.kraft.caliper is missing; it is: *",
        {},
        job=changed("caliper = 0.3\n", ""),
    ),
    "a list without anything": Row(
        "check box.toml --json",
        "{d}/box.toml: piece is empty; at least one is needed*",
        {"fault": "empty", "place": ["piece"]},
        job='piece = []\n[stock.kraft]\ncaliper = 0.3\nsheet = "A5"\n',
    ),
    "what cannot be folded": Row(
        # Two glue tabs of 12 mm, the most that is asked for here, and half a side wall of 20.
        "check box.toml --json",
        "{d}/box.toml: piece[1].options.tab is *half the side wall*; it must be at most *",
        {"fault": "value", "place": ["piece", 0, "options", "tab"], "found": 30},
        job=JOB + "options = { tab = 30 }\n",
    ),
    "no profile": Row(
        "check box.toml --json",
        '{d}/box.toml: profile is missing; it must be "desktop-a4", *; add profile = "NAME" to*',
        {"fault": "missing", "place": ["profile"]},
        job=changed('profile = "drag-blade-340"\n', ""),
    ),
    "a material that the profile has not": Row(
        "check box.toml --json",
        '{d}/box.toml: stock.kraft.material is "kraft-27", which the profile drag-blade-340 has '
        "not; known are *. Did you mean kraft-270?",
        {"fault": "unknown", "place": [*KRAFT, "material"], "nearest": "kraft-270"},
        job=changed("caliper", 'material = "kraft-27"\ncaliper'),
    ),
    "what no laser must meet": Row(
        "make box.toml -o out --json --profile small-laser",
        '{d}/box.toml: stock.kraft is marked pvc, and "engraving" is a laser: *toxic*; take '
        "another stock, or a machine with a blade.",
        {"fault": "value", "place": KRAFT, "found": ["pvc"]},
        job=changed("caliper", 'contains = ["pvc"]\ncaliper'),
    ),
    "a picture that is not there": Row(
        "check box.toml --json",
        '{d}/box.toml: piece[1].art[1].file is "flower.svg", which is not there, seen from the '
        "job's folder. Did you mean flowers.svg?",
        {"nearest": "flowers.svg", "found": "flower.svg"},
        job=JOB + ART.format("flower.svg"),
        files={"flowers.svg": SVG.format("")},
    ),
    "a picture that is wrong inside": Row(
        "make box.toml -o out --json",
        '{d}/box.toml: piece[1].art[1].file is "a.svg", which on line 2 has the colour '
        '"reddish", which is none.',
        {
            "fault": "unreadable",
            "found": "a.svg",
            "inside": {"line": 2, "found": "reddish", "place": []},
        },
        job=JOB + ART.format("a.svg"),
        files={"a.svg": SVG.format('fill="reddish"')},
    ),
    "a picture that is none": Row(
        "check box.toml --json",
        '{d}/box.toml: piece[1].art[1].file is "a.png", which is not a PNG, JPEG, WebP, TIFF, '
        "GIF, BMP or SVG picture; save it as one of these.",
        {"found": "a.png"},
        job=JOB + ART.format("a.png"),
        files={"a.png": b"%PDF-1.7"},
    ),
    "a font that is none": Row(
        "check box.toml --json",
        '{d}/box.toml: piece[1].lettering[1].file is "a.ttf", which cannot be read as a TTF or '
        "OTF font: *",
        {"place": ["piece", 0, "lettering", 0, "file"], "inside": {"fault": "unreadable"}},
        job=JOB + LETTERED + 'file = "a.ttf"\n',
        files={"a.ttf": b"no font"},
    ),
    "a font that is not there": Row(
        "check box.toml --json",
        '{d}/box.toml: piece[1].lettering[1].file is "fonts/a.ttf", which is not there. Did you '
        "mean fonts/ab.ttf?",
        {"found": "fonts/a.ttf", "inside": {"fault": "absent", "nearest": "ab.ttf"}},
        job=JOB + LETTERED + 'file = "fonts/a.ttf"\n',
        files={"fonts/ab.ttf": b"", "ab.ttf": b""},
    ),
    "a letter that the face lacks": Row(
        "check box.toml --json",
        '{d}/box.toml: piece[1].lettering[1].text is "Straße", but the face *lacks ß; spell it '
        "otherwise or name a font as file*",
        {"found": "Straße"},
        job=JOB + LETTERED.replace("Ida", "Straße"),
    ),
}

KITS = {
    "a kit that is no text": Row(
        "check box.toml --json",
        "{d}/box.toml: kit.file is 3; it must be the name of a file, in quotes.",
        {"place": ["kit", "file"], "found": 3},
        job=changed('"guests.csv"', "3", KIT),
    ),
    "a kit that is no table": Row(
        "check box.toml --json",
        '{d}/box.toml: kit is "guests.csv"; it must be a table: kit.file names a CSV file: *',
        {"place": ["kit"], "found": "guests.csv"},
        job=changed("kit.file", "kit", KIT),
    ),
    "no table": Row(
        "check box.toml --json",
        "{d}/guests.csv: there is no such file, which the job names as kit. Did you mean "
        "guest.csv?",
        {"fault": "absent", "nearest": "guest.csv"},
        job=KIT,
        files={"guest.csv": "name,long\nIda,60\n"},
    ),
    "an empty table": Row(
        "check box.toml --json",
        "{d}/guests.csv: has no rows; the first line names the columns, each line after it is one.",
        {"fault": "empty"},
        job=KIT,
        files={"guests.csv": "name,long\n"},
    ),
    "a column twice": Row(
        "check box.toml --json",
        '{d}/guests.csv: line 1, column 2: is "name", the name of column 1 already.',
        {"line": 1, "column": 2, "found": "name"},
        job=KIT,
        files={"guests.csv": "name,name\nIda,60\n"},
    ),
    "a cell that is no text": Row(
        "make box.toml -o out --json",
        '{d}/guests.csv: line 3, column 1: name is "V\\u0007"; it must be a text on one line '
        "without control characters.",
        {"line": 3, "column": 1, "place": ["name"], "found": "V\a"},
        job=KIT,
        files={"guests.csv": "name,long\nIda,60\nV\a,60\n"},
    ),
    "a row that makes no box": Row(
        "make box.toml -o out --json",
        "{d}/guests.csv: line 3, column 2: {d}/box.toml: piece[1].size.length is -1 mm; it must "
        "be *",
        {"line": 3, "column": 2, "found": "-1", "inside": {"place": SIZE, "found": -1}},
        job=KIT,
        files={"guests.csv": "name,long\nIda,60\nVit,-1\n"},
    ),
    "a column that is not there": Row(
        "check box.toml --json",
        '{d}/box.toml: piece[1].size.length names the column "long", which {d}/guests.csv has '
        "not; known are name, length. Did you mean length?",
        {"fault": "unknown", "place": SIZE, "found": "long", "allowed": ["name", "length"]},
        job=KIT,
        files={"guests.csv": "name,length\nIda,60\n"},
    ),
    "a kit to be mended": Row(
        "check box.toml --mend --yes --json",
        "{d}/box.toml: kit makes a kit, whose boxes change from row to row; --mend works on jobs "
        "without one, so try a row's sizes in a job of its own.",
        {"place": ["kit"]},
        job=KIT,
        files={"guests.csv": "name,long\nIda,60\n"},
    ),
}

SHEETS = {
    "a sheet larger than the bed": Row(
        "make box.toml -o out --json",
        "{d}/box.toml: stock.kraft.sheet is 400 mm × 500 mm, which does not fit the bed of 340 mm "
        "× 340 mm; trim it and give the new size.",
        {"fault": "value", "place": [*KRAFT, "sheet"], "found": [400, 500]},
        job=changed('"A5"', "[400, 500]"),
    ),
    "a blank larger than the sheet": Row(
        # 300 and two walls of 20, each a caliper of 0.3 further out; A5 less two margins of 5, and
        # room for the holder of a blade that trails by 0.25, is 199.5 high, 41.4 % less.
        "check box.toml --json",
        "{d}/box.toml: box is 340.6 mm × 80.6 mm; *: 141.1 mm too high, even in its best turn; use "
        "a larger sheet, or make the box 42 % smaller.",
        {"fault": "value"},
        job=changed("= 60", "= 300"),
    ),
    "a sheet in inches larger than the bed": Row(
        "check box.toml --json",
        "{d}/box.toml: stock.kraft.sheet is 406.4 mm (16 in) × 508 mm (20 in), which does not fit "
        "the bed of 340 mm (13.39 in) × 340 mm (13.39 in); trim it and give the new size.",
        {"fault": "value", "place": [*KRAFT, "sheet"]},
        job=changed(
            '"A5"', '"16x20 in"', changed('"mm"', '"in"', changed("0.3", '"0.3 mm"'))
        ).replace("60, width = 40, height = 20", "3, width = 2, height = 1"),
    ),
    "a border that leaves nothing": Row(
        # Half the shorter side of A5, 74 mm.
        "check box.toml --json",
        "{d}/box.toml: stock.kraft.sheet is 148 mm × 210 mm, of which a border of 80 mm leaves "
        "nothing; use a larger sheet or a smaller border.",
        {"place": [*KRAFT, "sheet"], "found": [148, 210]},
        job=JOB.replace("[stock", "[sheets]\nborder = 80\n\n[stock"),
    ),
    "not even one set": Row(
        "check box.toml --json",
        "{d}/box.toml: piece.box.fill is true, but not even one box with all its pieces fits on a "
        'sheet of "kraft"; write count in place of fill.',
        {"place": ["piece", "box", "fill"], "found": True},
        job=changed("60, width = 40", "90, width = 90")
        .replace("[[piece]]", "[[piece]]\nfill = true")
        .replace('"tray"', '"telescope-box"'),
    ),
}

PROFILES = {
    "no profile of that name": Row(
        "check box.toml --profile smal-laser --json",
        'there is no profile named "smal-laser"; known are desktop-a4, drag-blade-340, '
        "small-laser; a profile of your own goes into *. Did you mean small-laser?",
        {"fault": "unknown", "found": "smal-laser", "nearest": "small-laser"},
    ),
    "no profile file": Row(
        "profile show mine.toml --json",
        "mine.toml: there is no such profile file.",
        {"fault": "absent", "file": "mine.toml"},
    ),
    "a profile with a mistake": Row(
        "check box.toml --profile ./mine.toml --json",
        "mine.toml: bed.width is 3 mm; it must be 30 mm to 5000 mm.",
        {"place": ["bed", "width"], "found": 3},
        files={
            "mine.toml": 'title = "x"\n[bed]\nwidth = 3\nheight = 300\n[tools.b]\ntype = "wheel"\n'
            '[operations.cut]\ntool = "b"\n'
        },
    ),
    "no key": Row(
        "profile set ./mine.toml a=b 3",
        '"a=b" is no key; write one such as tools.blade.offset or *',
        {},
        files={"mine.toml": MINE},
    ),
    "one that came with it": Row(
        "profile set small-laser bed.width 200",
        "small-laser came with cutlayers and is not changed; make one of your own from it with "
        "'cutlayers profile copy small-laser NAME'.",
        {},
    ),
    "a name that is no file's": Row(
        "profile copy small-laser a/b",
        "\"a/b\" is no name for a profile; use letters, digits, '-' and '_'.",
        {},
    ),
    "answers that do not go together": Row(
        "profile new mine --defaults --draw laser",
        'draw is "laser"; it can be that only where cutter is "laser".',
        {},
    ),
    "an answer out of limits": Row(
        "profile new mine --defaults --width 3",
        'width is "3" (3 mm); it must be 30 mm to 5000 mm.',
        {},
    ),
}

TRIALS = {
    "a trial that makes no sense": Row(
        "trial record offset offset=0.1 --profile small-laser --json",
        'profile small-laser: tools.beam.type is "laser", which does not trail; its trial is '
        "'cutlayers trial kerf --profile small-laser'.",
        {"place": ["tools", "beam", "type"], "found": "laser"},
    ),
    "a reading that is none": Row(
        "trial record kerf A --profile small-laser --json",
        "A is no reading; write name=value, such as A=1.65.",
        {"found": "A"},
    ),
    "a reading of no such name": Row(
        "trial record kerf Q=1 --profile small-laser --json",
        "Q is no reading of this trial; known are A, B, C, S.",
        {"fault": "unknown", "allowed": ["A", "B", "C", "S"]},
    ),
    "a reading out of reach": Row(
        "trial record kerf A=40 --profile small-laser --json",
        "A is 40 mm; it must be 0 mm to 22 mm: the gap of comb A (11 cuts).",
        {"place": ["A"], "found": "40"},
    ),
    "readings that contradict each other": Row(
        # 1.65 mm over 11 cuts and 6.5 mm over 21 cannot be of one kerf.
        "trial record kerf A=1.65 B=6.5 --profile small-laser --json",
        "* which contradicts the others: *; read it again.",
        {"fault": "value"},
    ),
    "too few readings": Row(
        "trial record register x1=0.1 y1=0.1 --profile small-laser --json",
        "x2 is missing; read both scales at three places at least, such as x1=0.2 y1=-0.1 ….",
        {"fault": "missing", "place": ["x2"]},
    ),
    "a ladder of one step": Row(
        "trial settings --profile ./mine.toml --material kraft --setting force --steps 1 -o out",
        "--steps is 1; it must be 2 to 10.",
        {},
        files={"mine.toml": MINE},
    ),
    "a card too small": Row(
        "trial kerf --profile small-laser --sheet 40x40 -o out",
        "--sheet is *",
        {},
    ),
}

ALIGNED = {
    "no such sheet": Row(
        "align box.toml --sheet 3 --mark 1,1 --json",
        "{d}/box.toml: --sheet is 3, but the job has 1 sheet; it must be 1.",
        {"place": ["--sheet"], "found": 3},
    ),
    "too few marks": Row(
        "align box.toml --mark 12,12 --mark 136,12 -o out --json",
        "2 of 4 register marks are known; it must be at least 3; fewer do not say how the sheet "
        "is scaled and turned.",
        {"found": 2},
    ),
    "a mark that is no place": Row(
        "align box.toml --mark 12 --json",
        '--mark is "12"; it must be two lengths such as 12.1,11.8.',
        {"place": ["--mark"], "found": "12"},
    ),
    "no scan": Row(
        "align box.toml --scan skan.png --json",
        "{d}/skan.png: there is no such file. Did you mean scan.png?",
        {"fault": "absent", "nearest": "scan.png"},
        files={"scan.png": b"x"},
    ),
    "a scan that is no picture": Row(
        "align box.toml --scan scan.png --json",
        "{d}/scan.png: is no PNG or JPEG that can be read; save the scan anew.",
        {"fault": "unreadable"},
        files={"scan.png": b"x"},
    ),
    "a scan without marks": Row(
        "align box.toml --scan scan.png --json",
        "{d}/scan.png: only 0 of 4 register marks can be found in the scan; it must be at least "
        "3; scan the whole sheet, *",
        {"found": 0},
        files={"scan.png": picture()},
    ),
}

OUTPUT = {
    "a file where the folder goes": Row(
        "make box.toml -o out --json",
        "{d}/out: cannot write here (*); nothing was changed.",
        {"fault": "unwritable"},
        files={"out": "mine"},
    ),
    "somebody else's file": Row(
        "make box.toml -o . --json",
        "{d}: cutlayers did not write report.txt, or it was changed since; nothing was changed; "
        "choose another place with -o, or write over it with --overwrite.",
        {"fault": "unwritable"},
        files={"report.txt": "mine"},
    ),
    "a job over another": Row(
        "size for-item tray sphere diameter=30 -o box.toml --json",
        "box.toml: is there already; choose another name or remove it first.",
        {"fault": "unwritable"},
    ),
    "a new job over another": Row(
        "new tray -o box.toml",
        "box.toml: is there already; choose another name or remove it first.",
        {},
    ),
}

USAGE = {
    "no job": Row("check --json", "Missing argument 'JOB'.", {"fault": "usage"}),
    "no such option": Row(
        "check box.toml --jsn --json", "No such option '--jsn'.*", {"found": "--jsn"}
    ),
    "no such command": Row("chek --json", "No such command 'chek'.*", {"fault": "usage"}),
    "options at odds": Row(
        "align box.toml --json",
        "give either --mark for each mark, or --scan",
        {"fault": "usage"},
    ),
    "no such style": Row(
        "styles trey --json",
        'STYLE is "trey", which is no style; known are *. Did you mean tray?',
        {"fault": "unknown", "found": "trey", "nearest": "tray"},
    ),
    "no such code": Row(
        "explain grian --json",
        "CODE is \"grian\", which is no code; 'cutlayers explain' lists them. Did you mean grain?",
        {"found": "grian", "nearest": "grain"},
    ),
    "no such option of a style": Row(
        "size for-item tray sphere diameter=30 --set tabb=9 --json",
        "--set.tabb is unknown to tray; known are *. Did you mean tab?",
        {"fault": "unknown", "nearest": "tab"},
    ),
    "a measure that is no length": Row(
        "size for-item tray sphere diameter=wide --json",
        'diameter is "wide", which is not a length; write *',
        {"place": ["diameter"], "found": "wide"},
    ),
    "a measure that no such thing has": Row(
        "size for-item tray sphere height=9 --json",
        "holds.height is not a measure of a sphere; it needs diameter.",
        {"place": ["holds", "height"]},
    ),
    "a sheet of no size": Row(
        "trial kerf --profile small-laser --sheet A9",
        '--sheet is "A9"; it must be *',
        {},
    ),
}

ROWS = {**JOBS, **KITS, **SHEETS, **PROFILES, **TRIALS, **ALIGNED, **OUTPUT, **USAGE}


def contents(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def matches(line: str, wanted: str) -> bool:
    """Whether a line is the one that is wanted, "*" in it for any words."""
    import fnmatch

    return fnmatch.fnmatchcase(line, wanted.replace("[", "[[]"))


def agree(data: Any, wanted: dict[str, Any]) -> bool:
    """Whether all that is wanted is in the data, what is inside too."""
    return all(
        agree(data[key], value) if isinstance(value, dict) else data[key] == value
        for key, value in wanted.items()
    )


@pytest.fixture(scope="module")
def schema() -> Draft202012Validator:
    return Draft202012Validator(report_schema())


@pytest.mark.parametrize("row", ROWS.values(), ids=ROWS)
def test_a_refusal_is_a_line_and_facts(
    row: Row, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, schema: Draft202012Validator
) -> None:
    """Exit 2, one line and no more, the same line among the facts, no file made or changed."""
    folder = tmp_path / "work"
    for name, content in {"box.toml": row.job, **row.files}.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(content.encode() if isinstance(content, str) else content)
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "own"))
    monkeypatch.chdir(folder)
    before = contents(tmp_path)

    result = CliRunner().invoke(main, row.command.split())

    assert result.exit_code == 2, result.output
    told = [
        line.removeprefix("Error: ")
        for line in result.stderr.splitlines()
        if line and not line.startswith(("Usage: ", "Try "))
    ]
    wanted = row.line.replace("{d}/", "").replace("{d}", ".")
    assert len(told) == 1 and matches(told[0], wanted), told
    assert contents(tmp_path) == before and [*tmp_path.iterdir()] == [folder]
    if "--json" in row.command:
        data = json.loads(result.stdout)
        schema.validate(data)
        (refusal,) = data["refusals"]
        assert refusal["told"].rstrip(".") == told[0].rstrip(".")
        assert agree(refusal, row.facts), refusal
    else:
        assert result.stdout == ""


def test_every_fault_has_its_row() -> None:
    """What scripts may meet under `fault` is met in the table, but for what has no name."""
    met = {row.facts.get("fault") for row in ROWS.values()}

    assert set(get_args(Fault)) - met == {"other"}


def test_a_refusal_that_says_everything_is_in_the_schema(schema: Draft202012Validator) -> None:
    """And one that says nothing."""
    span = Span(1.0, 2.0, "mm", whole=True, zero="leaves it out")
    inner = Refusal(("a", 0), "is wrong", "value", found=float("nan"), allowed=(span,), works=1.5)
    full = Refusal(
        ("a", 1),
        "",
        "unknown",
        "f",
        1,
        2,
        [1, "x", None],
        ("a", 3),
        "b",
        True,
        "c",
        "in",
        "d",
        inner,
    )
    for refusal in (Refusal(), inner, full):
        schema.validate({"refusals": [json.loads(json.dumps(refusal_data(refusal)))]})
    assert not schema.is_valid({"refusals": []})
    assert not schema.is_valid({"refusals": [{**refusal_data(full), "fault": "bad"}]})
