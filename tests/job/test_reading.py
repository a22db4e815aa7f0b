from __future__ import annotations

import json
import math
import os
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import angle, choice, count, flag, option, size
from cutlayers.construction.style import Style
from cutlayers.job.dimensions import dimension_place
from cutlayers.job.reading import job_from, job_schema, read_job
from cutlayers.job.stock import Stock
from cutlayers.net import Net
from cutlayers.net.shapes import rectangle
from cutlayers.telling.errors import JobError, StyleError
from cutlayers.telling.refusals import Span
from tests.origins import dims_of, measure_of, style_of


@dataclass(frozen=True, slots=True)
class Sleeve:
    """Dimensions of a sleeve, one of every kind there is."""

    length: float = size("along the front", example=60, minimum=12)
    sides: int = count("of the sleeve", default=4, minimum=3, maximum=12, group="size")
    tab: float = option("how deep the glue tab is", default=12, minimum=4, maximum=60)
    slots: int = count("slots along the rim", default=0, minimum=0, maximum=9)
    lean: float = angle("how far the tab leans in", default=15, minimum=0, maximum=60)
    ends: str = choice("how it ends", default="open", choices=("open", "tuck", "lock"))
    window: bool = flag("whether there is a window", default=False)

    def __post_init__(self) -> None:
        """Refuse what no sleeve can be."""
        if self.tab > self.length:
            raise StyleError("tab", f"is {self.tab:g} mm", "the length at most")


def sleeve_nets(dims: Sleeve, card: Card) -> tuple[Net, ...]:
    """One panel; only the tables matter here.

    Raises StyleError for more slots than sides.
    """
    if dims.slots > dims.sides:
        raise StyleError("options.slots", f"is {dims.slots}", Span(most=dims.sides))
    return (Net.start("sleeve", "front", rectangle(card.score(dims.length, 2), 50)),)


STYLES = {"sleeve": Style("sleeve", "a sleeve", Sleeve, sleeve_nets)}

JOB = """\
title = "Winter market"
[stock.kraft]
caliper = 0.32
sheet = "A4"
[[piece]]
style = "sleeve"
stock = "kraft"
count = 6
size = { length = 60, sides = 4 }
options = { tab = 10 }
"""


def written(folder: Path, text: str | bytes) -> Path:
    """A job file with this text."""
    file = folder / "job.toml"
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    return file


def refused(folder: Path, text: str | bytes) -> list[str]:
    """The lines of the refusal, without the folder."""
    file = written(folder, text)
    with pytest.raises(JobError) as caught:
        read_job(file, STYLES)
    return str(caught.value).replace(str(file), "job.toml").splitlines()


def test_reads_a_job(tmp_path: Path) -> None:
    """A job comes out as plain values in mm, with the style's defaults filled in."""
    job = read_job(written(tmp_path, JOB), STYLES)

    (order,) = job.orders
    assert (job.title, job.unit, job.profile) == ("Winter market", "mm", None)
    assert job.stocks == {"kraft": Stock("kraft", 0.32, (210.0, 297.0))}
    assert (style_of(order.box).name, order.stock, order.count) == ("sleeve", "kraft", 6)
    assert (order.name, measure_of(order.box)) == ("sleeve", "inside")
    assert dims_of(order.box) == Sleeve(length=60, sides=4, tab=10)


def test_reads_an_inch_job(tmp_path: Path) -> None:
    """Bare lengths count in inches, texts keep their own unit, and angles are no lengths."""
    text = (
        JOB.replace("title", 'units = "in"\nprofile = "small-laser"\ntitle')
        .replace("0.32", '"0.32 mm"')
        .replace('"A4"', "[12, 18]\ngrammage = 270\ngrain = 'short'")
        .replace("length = 60", 'length = "2 7/16", measure = "outside"')
        .replace("tab = 10", 'tab = 0.5, lean = 20, ends = "lock", window = true, slots = 2')
    )

    job = read_job(written(tmp_path, text), STYLES)

    assert (job.unit, job.profile) == ("in", "small-laser")
    stock = job.stocks["kraft"]
    assert stock.sheet == pytest.approx((304.8, 457.2))
    assert (stock.caliper, stock.grammage, stock.grain) == (0.32, 270, "short")
    (order,) = job.orders
    assert measure_of(order.box) == "outside"
    assert dims_of(order.box) == Sleeve(61.9125, 4, 12.7, 2, 20, "lock", True)


def test_names_of_orders_are_different(tmp_path: Path) -> None:
    """Orders without a name are called by their style, numbered where that is taken."""
    piece = JOB[JOB.index("[[piece]]") :]
    text = JOB + piece + piece + 'name = "sleeve 2"\n'

    job = read_job(written(tmp_path, text), STYLES)

    assert [order.name for order in job.orders] == ["sleeve", "sleeve 3", "sleeve 2"]


def test_a_job_without_a_title_has_its_files_name(tmp_path: Path) -> None:
    """Reports always have a head."""
    text = JOB.replace('title = "Winter market"\n', "")

    assert read_job(written(tmp_path, text), STYLES).title == "job"


@pytest.mark.parametrize("mark", ["\ufeff", ""])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_reads_what_editors_write(tmp_path: Path, mark: str, end: str) -> None:
    """A byte-order mark and either kind of line end are no matter."""
    assert read_job(written(tmp_path, mark + JOB.replace("\n", end)), STYLES).orders


MM = "it must be 12 mm to 2000 mm."
CALIPER = "it must be 0.02 mm to 5 mm."
SIZE_KEYS = "known are length, sides, measure."
# What is replaced in JOB, by what, and all lines of the refusal, each after "job.toml: ".
WRONG_VALUES: list[tuple[str, str, list[str]]] = [
    ("length = 60", "length = 4", [f"piece[1].size.length is 4 mm; {MM}"]),
    ("length = 60", 'length = "4 mm"', [f'piece[1].size.length is "4 mm"; {MM}']),
    ("length = 60", 'length = "1/4 in"', [f'piece[1].size.length is "1/4 in" (6.35 mm); {MM}']),
    ("length = 60", "length = 0", [f"piece[1].size.length is 0 mm; {MM}"]),
    ("length = 60", "length = -60", [f"piece[1].size.length is -60 mm; {MM}"]),
    ("length = 60", "length = 2000.5", [f"piece[1].size.length is 2000.5 mm; {MM}"]),
    ("length = 60", "length = nan", [f"piece[1].size.length is nan; {MM}"]),
    ("length = 60", "length = inf", [f"piece[1].size.length is inf; {MM}"]),
    ("length = 60", "length = true", [f"piece[1].size.length is true; {MM}"]),
    ("length = 60", "length = [60]", [f"piece[1].size.length is a list of 1; {MM}"]),
    ("length = 60", "length = 2026-12-01", [f"piece[1].size.length is 2026-12-01; {MM}"]),
    (
        "length = 60",
        f"length = 0x{'f' * 6000}",
        [f"piece[1].size.length is a number far too large; {MM}"],
    ),
    (
        "length = 60",
        'length = "6,2 cm"',
        ["piece[1].size.length is \"6,2 cm\", which has a decimal comma; write '6.2 cm'."],
    ),
    (
        "length = 60",
        'length = "99999 mm"',
        [
            'piece[1].size.length is "99999 mm", which is not a usable length; '
            "the longest is 10000 mm."
        ],
    ),
    (
        "length = 60",
        "lenght = 60",
        [
            "piece[1].size.length is missing; it is: the length along the front.",
            f"piece[1].size.lenght is unknown to sleeve; {SIZE_KEYS} Did you mean length?",
        ],
    ),
    (
        "length = 60, ",
        "",
        ["piece[1].size.length is missing; it is: the length along the front."],
    ),
    (
        "sides = 4",
        "sides = 4.0",
        ["piece[1].size.sides is 4.0; it must be a whole number, 3 to 12."],
    ),
    ("sides = 4", "sides = 2", ["piece[1].size.sides is 2; it must be a whole number, 3 to 12."]),
    (
        "sides = 4",
        "sides = true",
        ["piece[1].size.sides is true; it must be a whole number, 3 to 12."],
    ),
    ("sides = 4", "sides = 4, tab = 9", ["piece[1].size.tab belongs in options, not in size."]),
    ("tab = 10", "sides = 4", ["piece[1].options.sides belongs in size, not in options."]),
    (
        "sides = 4",
        'sides = 4, measure = "insid"',
        [
            'piece[1].size.measure is "insid"; it must be "inside", "score" or "outside". '
            'Did you mean "inside"?'
        ],
    ),
    ("tab = 10", "tab = 61", ["piece[1].options.tab is 61 mm; it must be 4 mm to 60 mm."]),
    (
        "tab = 10",
        "tab = 10, lean = 61",
        ["piece[1].options.lean is 61; it must be 0 to 60 degrees."],
    ),
    (
        "tab = 10",
        'lean = "15"',
        [
            'piece[1].options.lean is "15"; it must be a number, 0 to 60 degrees; write 15, '
            "without quotes."
        ],
    ),
    ("tab = 10", "lean = nan", ["piece[1].options.lean is nan; it must be 0 to 60 degrees."]),
    (
        "tab = 10",
        'ends = "tack"',
        [
            'piece[1].options.ends is "tack"; it must be "open", "tuck" or "lock". '
            'Did you mean "tuck"?'
        ],
    ),
    ("tab = 10", "ends = 1", ['piece[1].options.ends is 1; it must be "open", "tuck" or "lock".']),
    (
        "tab = 10",
        'window = "yes"',
        ['piece[1].options.window is "yes"; it must be true or false, without quotes.'],
    ),
    (
        "length = 60, sides = 4 }\noptions = { tab = 10",
        "length = 12, sides = 4 }\noptions = { tab = 13",
        ["piece[1].options.tab is 13 mm; it must be the length at most."],
    ),
    ("tab = 10", "slots = 5", ["piece[1].options.slots is 5; it must be at most 4."]),
    (
        "count = 6",
        'guides = "no"',
        ['piece[1].guides is "no"; it must be true or false, without quotes.'],
    ),
    ("count = 6", "count = 0", ["piece[1].count is 0; it must be a whole number, 1 to 10000."]),
    ("count = 6", "count = -1", ["piece[1].count is -1; it must be a whole number, 1 to 10000."]),
    (
        "count = 6",
        "count = 10001",
        ["piece[1].count is 10001; it must be a whole number, 1 to 10000."],
    ),
    ("count = 6", "count = 1.5", ["piece[1].count is 1.5; it must be a whole number, 1 to 10000."]),
    ("count = 6", 'name = ""', ['piece[1].name is ""; it must be a text of 1 to 100 characters.']),
    (
        "count = 6",
        r'name = "a\nb"',
        [r'piece[1].name is "a\nb"; it must be a text on one line without control characters.'],
    ),
    (
        'style = "sleeve"',
        'style = "sleve"',
        ['piece[1].style is "sleve"; it must be "sleeve". Did you mean "sleeve"?'],
    ),
    (
        'stock = "kraft"',
        'stock = "craft"',
        ['piece[1].stock is "craft"; it must be "kraft". Did you mean "kraft"?'],
    ),
    (
        'stock = "kraft"',
        "",
        [
            "piece[1].stock is missing; it is: the NAME of one of the [stock.NAME] tables; of a "
            "box of several nets also a table of these by net.",
        ],
    ),
    (
        "options = { tab = 10 }",
        "options = 10",
        [
            "piece[1].options is 10; it must be a table: "
            "the style's other dimensions, where not the default."
        ],
    ),
    ("caliper = 0.32", "caliper = 0", [f"stock.kraft.caliper is 0 mm; {CALIPER}"]),
    ("caliper = 0.32", "caliper = 6", [f"stock.kraft.caliper is 6 mm; {CALIPER}"]),
    (
        "caliper = 0.32",
        "",
        ["stock.kraft.caliper is missing; it is: thickness of the card (0.02 mm to 5 mm)."],
    ),
    (
        "caliper = 0.32",
        "caliper = 0.32\ngramage = 270",
        [
            "stock.kraft.gramage is unknown; known are caliper, colour, contains, grain, "
            "grammage, inside_colour, material, price, relief, sheet. "
            "Did you mean grammage?"
        ],
    ),
    (
        "caliper = 0.32",
        "caliper = 0.32\ngrammage = 9",
        ["stock.kraft.grammage is 9; it must be 10 to 2000 g/m²."],
    ),
    (
        "caliper = 0.32",
        'caliper = 0.32\ngrammage = "270 g"',
        ['stock.kraft.grammage is "270 g"; it must be a number, 10 to 2000 g/m².'],
    ),
    (
        "caliper = 0.32",
        'caliper = 0.32\ngrain = "along"',
        [
            'stock.kraft.grain is "along"; it must be "long", "short" or "unknown". '
            'Did you mean "long"?'
        ],
    ),
    (
        'sheet = "A4"',
        "sheet = [10, 297]",
        ["stock.kraft.sheet has a width that is 10 mm; it must be 20 mm to 2000 mm."],
    ),
    ('title = "Winter market"', 'units = "cm"', ['units is "cm"; it must be "mm" or "in".']),
    (
        'title = "Winter market"',
        "title = 7",
        ['title is 7; it must be a text in quotes, such as "kraft".'],
    ),
    (
        '[stock.kraft]\ncaliper = 0.32\nsheet = "A4"',
        "",
        ["stock is missing; it is: the card you own, a table [stock.NAME] for each kind."],
    ),
    (
        '[stock.kraft]\ncaliper = 0.32\nsheet = "A4"',
        "stock.kraft = 3",
        ["stock.kraft is 3; it must be a table: one kind of card, [stock.NAME]."],
    ),
    (
        "[[piece]]",
        "[piece]",
        ["piece is a table; it must be a list; write [[piece]] with two brackets."],
    ),
]


@pytest.mark.parametrize(("right", "wrong", "lines"), WRONG_VALUES)
def test_refuses_a_wrong_value(tmp_path: Path, right: str, wrong: str, lines: list[str]) -> None:
    """Each wrong value is told with its place, what it is, and what would be allowed."""
    assert right in JOB
    assert refused(tmp_path, JOB.replace(right, wrong)) == [f"job.toml: {line}" for line in lines]


def test_an_inch_job_is_refused_in_inches_too(tmp_path: Path) -> None:
    """Values and limits are told in the unit of the job and in mm."""
    text = JOB.replace("title", 'units = "in"\ntitle').replace("tab = 10", "tab = 0.4")

    assert refused(tmp_path, text) == [
        "job.toml: stock.kraft.caliper is 0.32 in (8.128 mm); "
        "it must be 0.02 mm to 5 mm (0.000787 in to 0.1969 in)."
    ]


def test_all_problems_are_told_at_once(tmp_path: Path) -> None:
    """Those outside the pieces come first, then piece by piece, a complete line each."""
    piece = JOB[JOB.index("[[piece]]") :]
    text = (
        JOB.replace("count = 6", 'count = 0\nname = "lid"').replace("tab = 10", "tab = 1")
        + piece.replace('style = "sleeve"', 'style = "box"').replace("count = 6", 'name = "lid"')
        + "[stock.white]\ncaliper = 0\nsheet = 'A7 landscape'\n"
    )

    lines = refused(tmp_path, text)

    assert [line.split(" ")[1] for line in lines] == [
        "stock.white.caliper",
        "stock.white.sheet",
        "piece[1].count",
        "piece[1].options.tab",
        "piece[2].style",
        "piece[2].name",
    ]
    assert (
        lines[5]
        == 'job.toml: piece[2].name is "lid", the name of piece[1] already; choose another.'
    )


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("", ["job.toml: the file is empty; a job file holds tables and keys."]),
        ("# nothing yet\n", ["job.toml: the file is empty; a job file holds tables and keys."]),
        (b"title = '\xff'", ["job.toml: byte 10 is not UTF-8; save the job file as UTF-8 text."]),
        ("units = mm", ["job.toml: line 1, column 9: invalid value. A text needs quotes."]),
        (
            "a = 1\ntitle",
            ["job.toml: line 2, column 6: expected '=' after a key in a key/value pair."],
        ),
        (
            "[stock.a]\n[stock.a]\n",
            ["job.toml: line 2, column 9: cannot declare ('stock', 'a') twice."],
        ),
        (
            "a = " + "[" * 50_000,
            ["job.toml: a value is nested too deeply or a number is too long to be read."],
        ),
        (
            "a = " + "9" * 5_000,
            ["job.toml: a value is nested too deeply or a number is too long to be read."],
        ),
        (
            "#" * 1_000_001,
            ["job.toml: is too large, 1,000,001 bytes; it must be at most 1 MB."],
        ),
        (
            "piece = []\n[stock]\n",
            [
                "job.toml: stock is empty; at least one is needed: "
                "the card you own, a table [stock.NAME] for each kind.",
                "job.toml: piece is empty; at least one is needed: "
                "what to make, a table [[piece]] for each kind of box.",
            ],
        ),
    ],
)
def test_refuses_a_file_that_is_no_job(tmp_path: Path, text: str | bytes, lines: list[str]) -> None:
    """What cannot be read at all is told with line and column where there are any."""
    assert refused(tmp_path, text) == lines


def test_a_missing_file_is_answered_with_its_neighbour(tmp_path: Path) -> None:
    """A slip in the name of the file is like a slip in any other word."""
    written(tmp_path, JOB)

    with pytest.raises(JobError) as caught:
        read_job(tmp_path / "jop.toml", STYLES)

    missing = tmp_path / "jop.toml"
    meant = tmp_path / "job.toml"
    assert str(caught.value) == f"{missing}: there is no such file. Did you mean {meant}?"


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("traz.toml", "traz.toml: there is no such file. Did you mean tray.toml?"),
        ("tray", "tray: there is no such file. Did you mean tray.toml?"),
        ("sub/boxs.toml", "sub/boxs.toml: there is no such file. Did you mean sub/boxes.toml?"),
        ("sub/tray.toml", "sub/tray.toml: there is no such file."),
        ("no/tray.toml", "no/tray.toml: there is no such file; its folder is not there either."),
    ],
)
def test_a_mistyped_name_is_looked_for_in_its_own_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, asked: str, told: str
) -> None:
    """What is meant is said with its folder; a name of another folder is never meant."""
    monkeypatch.chdir(tmp_path)
    for name in ("tray.toml", "sub/boxes.toml"):
        Path(name).parent.mkdir(exist_ok=True)
        Path(name).touch()

    with pytest.raises(JobError) as caught:
        read_job(asked, STYLES)

    assert str(caught.value).replace(os.sep, "/") == told


def test_a_folder_is_no_job(tmp_path: Path) -> None:
    """The folder of the job is a likely slip."""
    with pytest.raises(JobError) as caught:
        read_job(tmp_path, STYLES)

    assert str(caught.value) == f"{tmp_path}: is not a file but a folder; name the file in it."


@pytest.mark.parametrize("name", ["a\0b.toml", "x" * 5_000])
def test_an_impossible_name_is_refused(name: str) -> None:
    """Names that no disk can hold are no traceback either."""
    with pytest.raises(JobError) as caught:
        read_job(Path(name), STYLES)

    assert len(str(caught.value).splitlines()) == 1


@pytest.mark.parametrize(
    ("field", "place"),
    [
        ("length", ("size", "length")),
        ("tab", ("options", "tab")),
        ("options.tab", ("options", "tab")),
        ("measure", ("size", "measure")),
        ("stock", ("stock",)),
    ],
)
def test_a_styles_complaint_finds_its_place(field: str, place: tuple[str, ...]) -> None:
    """A style names its field, the message the table in which the field is written."""
    assert dimension_place(Sleeve, field) == place
    assert dimension_place(Sleeve(), field) == place


WORDS = st.one_of(
    st.sampled_from(
        [
            "title",
            "units",
            "profile",
            "stock",
            "piece",
            "kraft",
            "caliper",
            "sheet",
            "grain",
            "style",
            "sleeve",
            "count",
            "name",
            "size",
            "options",
            "length",
            "sides",
            "tab",
            "lean",
            "ends",
            "window",
            "measure",
            "A4",
            "mm",
            "in",
            "12 x 12 in",
            "1/0 in",
            "2 7/16 in",
        ]
    ),
    st.text(max_size=6),
)
SCALARS = st.one_of(
    st.booleans(),
    st.integers(),
    st.integers(min_value=10**30, max_value=10**40),
    st.floats(),
    st.dates(),
    WORDS,
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(WORDS, inner, max_size=3)),
    max_leaves=6,
)


def right_job() -> dict[str, Any]:
    """The tables of a small job without a fault."""
    return {
        "stock": {"kraft": {"caliper": 0.32, "sheet": "A4"}},
        "piece": [{"style": "sleeve", "stock": "kraft", "size": {"length": 60, "sides": 4}}],
    }


@settings(max_examples=150, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from(
        [(), ("stock",), ("stock", "kraft"), ("piece",), ("piece", 0), ("piece", 0, "size")]
    ),
    st.dictionaries(WORDS, VALUES, min_size=1, max_size=3),
)
def test_nothing_but_a_job_or_a_refusal_comes_out(
    place: tuple[str | int, ...], extra: dict[str, Any]
) -> None:
    """Any keys and values anywhere in a right job make a job or a JobError of complete lines."""
    table = right_job()
    node: Any = table
    for step in place:
        node = node[step]
    if isinstance(node, list):
        node.append(extra)
    else:
        node.update(extra)

    try:
        job = job_from(table, "job.toml", "job", STYLES)
    except JobError as error:
        lines = str(error).split("\n")
        assert all(line.startswith("job.toml: ") and line[-1] in ".?" for line in lines)
        assert str(error).splitlines() == lines
    else:
        assert all(math.isfinite(side) for stock in job.stocks.values() for side in stock.sheet)


@settings(max_examples=200)
@given(st.integers(0, len(JOB)), st.integers(0, 12), st.one_of(st.binary(max_size=8), st.text()))
def test_no_slip_of_the_pen_is_a_traceback(start: int, length: int, put: bytes | str) -> None:
    """Any part of a right file may be overwritten by anything: a job or a JobError comes out."""
    inserted = put.encode(errors="surrogatepass") if isinstance(put, str) else put
    content = JOB.encode()[:start] + inserted + JOB.encode()[start + length :]
    with tempfile.TemporaryDirectory() as folder:
        file = written(Path(folder), content)
        try:
            job = read_job(file, STYLES)
        except JobError as error:
            lines = str(error).split("\n")
            assert all(line.startswith(f"{file}: ") and line[-1] in ".?" for line in lines)
        else:
            assert job.orders


def test_the_schema_knows_every_style() -> None:
    """An editor completes a style's sizes and options once the style is named."""
    schema = job_schema(STYLES)

    piece = schema["$defs"]["WrittenPiece"]
    assert piece["properties"]["style"]["enum"] == ["sleeve"]
    (rule,) = piece["allOf"]
    assert rule["if"]["properties"] == {"style": {"const": "sleeve"}}
    tables = rule["then"]["properties"]
    assert tables["size"]["required"] == ["length", "sides"]
    assert list(tables["size"]["properties"]) == ["length", "sides", "measure"]
    assert tables["options"]["properties"]["ends"] == {
        "enum": ["open", "tuck", "lock"],
        "description": "how it ends",
        "default": "open",
    }
    assert not tables["options"]["additionalProperties"]


def test_the_schema_is_json() -> None:
    """What is printed can be read back by any program."""
    schema = job_schema()

    assert json.loads(json.dumps(schema)) == schema


def test_the_packages_own_styles_are_known(tmp_path: Path) -> None:
    """Without other styles, those of the package are read and named in messages."""
    text = JOB.replace('"sleeve"', '"tray"').replace("sides = 4", "width = 60, height = 30")

    assert style_of(read_job(written(tmp_path, text)).orders[0].box).name == "tray"
