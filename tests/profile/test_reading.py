from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from ezdxf import colors
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.geometry.strokes import Operation
from cutlayers.profile.card_settings import Material, MaterialUse
from cutlayers.profile.operations import LOOKS, Bridges, Method, Perforation, Scoring
from cutlayers.profile.output import RegisterPlan
from cutlayers.profile.reading import (
    find_profile,
    list_profiles,
    profile_from,
    profile_schema,
    read_profile,
)
from cutlayers.profile.search import FOLDER_VARIABLE, shipped_folder
from cutlayers.profile.tools import ToolType
from cutlayers.telling.errors import ProfileError
from cutlayers.telling.written import shown
from tests.boxes import trying

PROFILE = """\
title = "Kitchen table"
[bed]
width = 305
height = 305
margin = 5
[tools.blade]
type = "drag-blade"
offset = 0.25
[tools.pen]
type = "pen"
[tools.stylus]
type = "stylus"
[tools.beam]
type = "laser"
kerf = 0.15
[operations.score]
tool = "stylus"
[operations.perforate]
tool = "blade"
perforation = { cut = 2, tie = 0.8 }
[operations.cut]
tool = "blade"
[materials.kraft]
cut = { force = 22, note = "new blade" }
"""


def written(folder: Path, text: str, name: str = "mine.toml") -> Path:
    """A profile file with this text."""
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return file


def refused(folder: Path, text: str) -> list[str]:
    """The lines of the refusal, without the folder."""
    file = written(folder, text)
    with pytest.raises(ProfileError) as caught:
        read_profile(file)
    return str(caught.value).replace(str(file), "mine.toml").splitlines()


def test_reads_a_profile(tmp_path: Path) -> None:
    """A profile comes out as plain values with a plan for every operation, in working order."""
    machine = read_profile(written(tmp_path, PROFILE))

    assert (machine.name, machine.title) == ("mine", "Kitchen table")
    assert (machine.bed.width, machine.bed.height, machine.bed.margin) == (305, 305, 5)
    assert list(machine.operations) == list(Operation)
    assert {name: tool.type for name, tool in machine.tools.items()} == {
        "blade": ToolType.DRAG_BLADE,
        "pen": ToolType.PEN,
        "stylus": ToolType.STYLUS,
        "beam": ToolType.LASER,
    }
    assert (machine.tools["blade"].offset, machine.tools["beam"].kerf) == (0.25, 0.15)
    use = MaterialUse(note="new blade", settings={"force": 22})
    assert machine.materials == {"kraft": Material("kraft", uses={Operation.CUT: use})}
    assert machine.register == RegisterPlan()


def test_every_key_reaches_the_machine(tmp_path: Path) -> None:
    """Nothing that may be written is left behind."""
    text = PROFILE.replace(
        '[operations.cut]\ntool = "blade"',
        '[operations.cut]\ntool = "blade"\npasses = 2\nlayer = "knife"\ncolour = "#0a0B0c"\n'
        "dxf_colour = 9",
    ).replace(
        "offset = 0.25",
        'offset = "1/64 in"\novercut = 0.3\ncorner_angle_deg = 30\nswivel = "machine"\n'
        "speed_mm_s = 1\ntravel_speed_mm_s = 2\nacceleration_mm_s2 = 3\nlift_s = 4",
    )
    text += (
        '[register]\nshape = "dot"\nsize = 4\nfrom_edge = 20\nkeep_out = 1\ncount = 4\n'
        'layer = "marks"\ncolour = "#111111"\ndxf_colour = 8\n'
        '[dxf]\nversion = "R12"\ncurves = "lines"\ntolerance = 0.05\n'
        '[svg]\nunits = "px"\npixels_per_inch = 72\ncurves = "lines"\ntolerance = 0.1\n'
        '[files]\nformats = ["svg"]\nsplit = "operations"\n'
    )

    machine = read_profile(written(tmp_path, text))

    blade, cut = machine.tools["blade"], machine.operations[Operation.CUT]
    assert blade.offset == pytest.approx(0.396875)  # 25.4 / 64
    assert (blade.overcut, blade.corner_angle_deg, blade.swivel) == (0.3, 30, "machine")
    assert (blade.speed_mm_s, blade.travel_speed_mm_s) == (1, 2)
    assert (blade.acceleration_mm_s2, blade.lift_s) == (3, 4)
    assert (cut.passes, cut.layer, cut.colour, cut.dxf_colour) == (2, "knife", "#0A0B0C", 9)
    assert machine.register == RegisterPlan("dot", 4, 20, 1, 4, "marks", "#111111", 8)
    assert (machine.dxf.version, machine.dxf.curves, machine.dxf.tolerance) == (
        "R12",
        "lines",
        0.05,
    )
    assert (machine.svg.units, machine.svg.pixels_per_inch) == ("px", 72)
    assert (machine.svg.curves, machine.svg.tolerance) == ("lines", 0.1)
    assert (machine.files.formats, machine.files.split) == (("svg",), "operations")


BED = 'title = "t"\n[bed]\nwidth = 210\nheight = 297\n'
BLADE = '[tools.blade]\ntype = "drag-blade"\noffset = 0.25\n'
PEN = '[tools.{}]\ntype = "pen"\n'
STYLUS = '[tools.stylus]\ntype = "stylus"\n'
CUT = '[operations.cut]\ntool = "blade"\n'
TOOL, BY_HAND, PERFORATE, DRAW = Method.TOOL, Method.BY_HAND, Method.PERFORATE, Method.DRAW


@pytest.mark.parametrize(
    ("text", "draw", "score", "perforate"),
    [
        (BLADE + CUT, (BY_HAND, None), (BY_HAND, None), (TOOL, "blade")),
        (BLADE + PEN.format("ink") + CUT, (TOOL, "ink"), (BY_HAND, None), (TOOL, "blade")),
        (BLADE + STYLUS + CUT, (BY_HAND, None), (TOOL, "stylus"), (TOOL, "blade")),
        (
            BLADE + STYLUS + CUT + '[operations.score]\nas = "perforate"\n',
            (BY_HAND, None),
            (PERFORATE, None),
            (TOOL, "blade"),
        ),
        (
            BLADE + PEN.format("ink") + CUT + '[operations.score]\nas = "draw"\n'
            '[operations.perforate]\nas = "by hand"\n',
            (TOOL, "ink"),
            (DRAW, None),
            (BY_HAND, None),
        ),
        (
            BLADE + PEN.format("a") + PEN.format("b") + CUT + '[operations.draw]\ntool = "b"\n',
            (TOOL, "b"),
            (BY_HAND, None),
            (TOOL, "blade"),
        ),
        (
            BLADE + PEN.format("ink") + CUT + '[operations.draw]\nlayer = "lines"\n',
            (TOOL, "ink"),
            (BY_HAND, None),
            (TOOL, "blade"),
        ),
    ],
)
def test_operations_without_a_word(
    tmp_path: Path,
    text: str,
    draw: tuple[Method, str | None],
    score: tuple[Method, str | None],
    perforate: tuple[Method, str | None],
) -> None:
    """The only pen draws, the only stylus scores, the tool of cut perforates; else by hand."""
    plans = read_profile(written(tmp_path, BED + text)).operations

    ways = [(plans[each].method, plans[each].tool) for each in Operation]
    assert ways == [draw, score, perforate, (TOOL, "blade")]


def test_scoring_by_perforation_takes_the_rows_of_perforate(tmp_path: Path) -> None:
    """Rows are written once, unless scores are to have their own."""
    shared = PROFILE.replace('tool = "stylus"', 'as = "perforate"')
    own = shared.replace('as = "perforate"', 'as = "perforate"\nperforation = { cut = 1 }')

    plans = [read_profile(written(tmp_path, text)).operations for text in (shared, own)]

    assert plans[0][Operation.SCORE].perforation == Perforation(2, 0.8, 0.5)
    assert plans[1][Operation.SCORE].perforation == Perforation(1, 1, 0.5)
    assert plans[1][Operation.PERFORATE].perforation == Perforation(2, 0.8, 0.5)


def test_reads_how_tools_are_followed(tmp_path: Path) -> None:
    """Ends and sides of scores, bridges, and what a blade can do come out as plain values."""
    text = (
        PROFILE.replace("offset = 0.25", "offset = 0.25\nrest_angle_deg = 90\nfinest = 0.4")
        .replace('tool = "stylus"', 'tool = "stylus"\nscoring = { valleys = "back" }')
        .replace(CUT_BLADE, CUT_BLADE + "\nbridges = { spacing = 60 }")
        .replace("[bed]", "tool_change_s = 45\n[bed]")
    )
    machine = read_profile(written(tmp_path, text))

    assert machine.tools["blade"].rest_angle_deg == 90
    assert machine.tools["blade"].finest == 0.4
    assert machine.operations[Operation.SCORE].scoring == Scoring(0.5, 3, "back", "left-right")
    assert machine.operations[Operation.CUT].bridges == Bridges(0.5, 0, 60)
    assert machine.operations[Operation.PERFORATE].bridges is None
    assert machine.tool_change_s == 45


def test_ticks_are_drawn_by_the_pen(tmp_path: Path) -> None:
    """Scores can be ticked where there is something to draw with, and not otherwise."""
    text = PROFILE.replace('tool = "stylus"', 'as = "ticks"')

    plan = read_profile(written(tmp_path, text)).operations[Operation.SCORE]
    assert (plan.method, plan.tool) == (Method.TICKS, None)
    assert refused(tmp_path, text.replace('[tools.pen]\ntype = "pen"\n', "")) == [
        'mine.toml: operations.score.as is "ticks", but draw has no tool; '
        "give operations.draw.tool."
    ]


TOOL_KEYS = (
    "known are acceleration_mm_s2, corner_angle_deg, finest, holder, kerf, "
    "lift_s, line_width, note, offset, overcut, rest_angle_deg, sharpest_deg, smallest_letters, "
    "speed_mm_s, swivel, tested_on, travel_speed_mm_s, type."
)
CUT_BLADE = '[operations.cut]\ntool = "blade"'
# What is replaced in PROFILE, by what, and all lines of the refusal, each after "mine.toml: ".
WRONG: list[tuple[str, str, list[str]]] = [
    ('title = "Kitchen table"', "", ["title is missing; it is: what you call the machine."]),
    ("width = 305", "width = 0", ["bed.width is 0 mm; it must be 30 mm to 5000 mm."]),
    ("width = 305", "width = nan", ["bed.width is nan; it must be 30 mm to 5000 mm."]),
    ("width = 305", "width = true", ["bed.width is true; it must be 30 mm to 5000 mm."]),
    ("width = 305", "", ["bed.width is missing; it is: widest sheet or mat that goes in."]),
    (
        "width = 305",
        "widht = 305",
        [
            "bed.width is missing; it is: widest sheet or mat that goes in.",
            "bed.widht is unknown; known are height, margin, width. Did you mean width?",
        ],
    ),
    (
        "margin = 5",
        "margin = 152.5\n[register]\nshape = 'none'",
        ["bed.margin is 152.5 mm; it must be less than 152.5 mm, half the bed's shorter side."],
    ),
    (
        "margin = 5",
        "margin = 8.5",
        [
            "register.from_edge is 12 mm; it must be at least 12.5 mm: "
            "the bed's margin and half the mark's size."
        ],
    ),
    (
        'type = "drag-blade"',
        'type = "knife"',
        [
            'tools.blade.type is "knife"; '
            'it must be "drag-blade", "laser", "wheel", "pen" or "stylus".'
        ],
    ),
    (
        "offset = 0.25",
        "",
        [
            "tools.blade.offset is missing; a drag-blade needs it: "
            "it is printed on the blade's package, often 0.25 mm."
        ],
    ),
    (
        "offset = 0.25",
        "offset = 0.25\nkerf = 0",
        ["tools.blade.kerf does not belong to a drag-blade, only to a laser or wheel."],
    ),
    (
        "kerf = 0.15",
        "kerf = 0.15\noffset = 0.1",
        ["tools.beam.offset does not belong to a laser, only to a drag-blade."],
    ),
    (
        "kerf = 0.15",
        "",
        [
            "tools.beam.kerf is missing; a laser needs it: "
            "cut a square, measure it and its hole; the kerf is half of what differs."
        ],
    ),
    (
        'type = "pen"',
        'type = "pen"\novercut = 1',
        ["tools.pen.overcut does not belong to a pen, only to a drag-blade, laser or wheel."],
    ),
    ("offset = 0.25", "offset = -1", ["tools.blade.offset is -1 mm; it must be 0 mm to 2 mm."]),
    (
        "offset = 0.25",
        "offset = 0.25\nspeed = 30",
        [f"tools.blade.speed is unknown; {TOOL_KEYS} Did you mean speed_mm_s?"],
    ),
    (
        "offset = 0.25",
        'offset = 0.25\nspeed_mm_s = "fast"',
        ['tools.blade.speed_mm_s is "fast"; it must be a number, 0.1 to 5000 mm/s.'],
    ),
    (
        CUT_BLADE,
        "",
        ["operations.cut is missing; it is: drag-blade, wheel or laser; its tool must be named."],
    ),
    (
        CUT_BLADE,
        "[operations.cut]",
        ["operations.cut.tool is missing; cut needs a drag-blade, laser or wheel."],
    ),
    (
        CUT_BLADE,
        '[operations.cut]\nas = "by hand"',
        ['operations.cut.as is "by hand"; it must be a tool: drag-blade, laser or wheel.'],
    ),
    (
        CUT_BLADE,
        '[operations.cut]\ntool = "pen"',
        ['operations.cut.tool is "pen", a pen; cut needs a drag-blade, laser or wheel.'],
    ),
    (
        CUT_BLADE,
        '[operations.cut]\ntool = "balde"',
        [
            'operations.cut.tool is "balde"; it must be "blade", "pen", "stylus" or "beam". '
            'Did you mean "blade"?'
        ],
    ),
    (
        'tool = "stylus"',
        'tool = "blade"',
        [
            'operations.score.tool is "blade", a drag-blade; '
            'score needs a stylus, wheel or laser or as = "perforate".'
        ],
    ),
    (
        'tool = "stylus"',
        'tool = "stylus"\nas = "by hand"',
        ["operations.score.as stands beside tool; an operation has one or the other."],
    ),
    (
        'tool = "stylus"',
        'as = "hand"',
        [
            'operations.score.as is "hand"; it must be "perforate", "draw", "ticks" or "by hand". '
            'Did you mean "by hand"?'
        ],
    ),
    (
        'tool = "stylus"',
        'as = "by hand"\npasses = 2',
        ["operations.score.passes is of no use without a tool; leave it out."],
    ),
    (
        'tool = "stylus"',
        'as = "draw"\n[operations.draw]\nas = "by hand"',
        ['operations.score.as is "draw", but draw has no tool; give operations.draw.tool.'],
    ),
    (
        'tool = "blade"\nperforation = { cut = 2, tie = 0.8 }\n',
        'as = "perforate"\n',
        [
            'operations.perforate.as is "perforate"; it must be "draw" or "by hand".',
            'operations.perforate.as is "perforate", but perforate has no tool; '
            "give operations.perforate.tool.",
        ],
    ),
    (
        'tool = "stylus"',
        'tool = "stylus"\nperforation = { cut = 1 }',
        ["operations.score.perforation is of no use here: nothing is perforated."],
    ),
    (
        "tie = 0.8",
        "tie = 0.8, minimum_tie = 0.9",
        [
            "operations.perforate.perforation.minimum_tie is 0.9 mm, more than the tie itself; "
            "it must be at most 0.8 mm."
        ],
    ),
    (
        'tool = "blade"\nperforation = { cut = 2, tie = 0.8 }',
        'tool = "beam"\nperforation = { minimum_tie = 0.15 }',
        [
            "operations.perforate.perforation.minimum_tie is 0.15 mm; "
            "it must be more than the kerf, 0.15 mm."
        ],
    ),
    (
        'tool = "blade"\nperforation = { cut = 2, tie = 0.8 }',
        'tool = "fat"\nperforation = { cut = 0.4, minimum_tie = 0.6 }\n'
        '[tools.fat]\ntype = "wheel"\nkerf = 0.5',
        ["operations.perforate.perforation.cut is 0.4 mm; it must be more than the kerf, 0.5 mm."],
    ),
    (
        'tool = "blade"\nperforation = { cut = 2, tie = 0.8 }',
        'tool = "blade"\nscoring = { pull_back = 1 }',
        ["operations.perforate.scoring is of no use here: nothing is scored."],
    ),
    (
        'tool = "stylus"',
        'tool = "stylus"\nscoring = { valleys = "rear" }',
        ['operations.score.scoring.valleys is "rear"; it must be "front" or "back".'],
    ),
    (
        'tool = "stylus"',
        'tool = "stylus"\nbridges = { count = 3 }',
        ["operations.score.bridges is of no use here: nothing is cut out."],
    ),
    (
        '[operations.cut]\ntool = "blade"',
        '[operations.cut]\ntool = "blade"\nbridges = { width = 1 }',
        ["operations.cut.bridges asks for none; give a count or a spacing."],
    ),
    (
        '[tools.pen]\ntype = "pen"\n[tools.stylus]\ntype = "stylus"\n',
        "",
        ['operations.score.tool is "stylus"; it must be "blade" or "beam".'],
    ),
    (
        '[tools.beam]\ntype = "laser"\nkerf = 0.15',
        '[tools.beam]\ntype = "laser"\nkerf = 0.15\nrest_angle_deg = 90',
        ["tools.beam.rest_angle_deg does not belong to a laser, only to a drag-blade."],
    ),
    (
        "tie = 0.8",
        "ties = 0.8",
        [
            "operations.perforate.perforation.ties is unknown; known are cut, minimum_tie, tie. "
            "Did you mean tie?"
        ],
    ),
    (
        'tool = "stylus"',
        'tool = "stylus"\ncolor = "#000000"',
        [
            "operations.score.color is unknown; known are as, bridges, colour, dxf_colour, layer, "
            "passes, perforation, scoring, tool. Did you mean colour?"
        ],
    ),
    (
        'tool = "stylus"',
        'tool = "stylus"\ncolour = "red"',
        ['operations.score.colour is "red"; it must be "#RRGGBB", such as "#0072B2".'],
    ),
    (
        'tool = "stylus"',
        'tool = "stylus"\ndxf_colour = 256',
        ["operations.score.dxf_colour is 256; it must be a whole number, 1 to 255."],
    ),
    (
        'tool = "stylus"',
        'tool = "stylus"\nlayer = "fold lines"',
        [
            'operations.score.layer is "fold lines"; '
            "it must be a letter, then up to 30 letters, digits, - or _."
        ],
    ),
    (
        'tool = "stylus"',
        'tool = "stylus"\nlayer = "Defpoints"',
        [
            'operations.score.layer is "Defpoints", a name that DXF keeps for itself; '
            "choose another."
        ],
    ),
    (
        'tool = "stylus"',
        'tool = "stylus"\nlayer = "CUT"',
        [
            'operations.score.layer is "CUT", the layer of operations.cut already; '
            "each needs its own."
        ],
    ),
    (
        "margin = 5",
        'margin = 5\n[register]\nlayer = "cut"',
        ['register.layer is "cut", the layer of operations.cut already; each needs its own.'],
    ),
    (
        "margin = 5",
        "margin = 5\n[register]\ncount = 2",
        ["register.count is 2; it must be a whole number, 3 to 4."],
    ),
    (
        "margin = 5",
        'margin = 5\n[files]\nformats = ["dxf", "dxf"]',
        ['files.formats[2] is "dxf", which is listed already.'],
    ),
    (
        "margin = 5",
        "margin = 5\n[files]\nformats = []",
        [
            "files.formats is empty; at least one is needed: which formats to write; fold, the box "
            "folded up, is for other programs."
        ],
    ),
    (
        "margin = 5",
        'margin = 5\n[files]\nformats = ["fold"]',
        ['files.formats has nothing for the machine; add "dxf" or "svg".'],
    ),
    (
        "margin = 5",
        'margin = 5\n[files]\nformats = ["bmp"]',
        ['files.formats[1] is "bmp"; it must be "dxf", "svg" or "fold".'],
    ),
    (
        "margin = 5",
        "margin = 5\n[svg]\npixels_per_inch = 100",
        ["svg.pixels_per_inch is 100; it must be 72, 90 or 96."],
    ),
    (
        "margin = 5",
        "margin = 5\n[dxf]\ntolerance = 0",
        ["dxf.tolerance is 0 mm; it must be 0.001 mm to 0.5 mm."],
    ),
    (
        "force = 22",
        "force = inf",
        ["materials.kraft.cut.force is inf; it must be a number or a text."],
    ),
    (
        "force = 22",
        "force = true",
        ["materials.kraft.cut.force is true; it must be a number or a text."],
    ),
    (
        "force = 22",
        "force = 22, pases = 2",
        ["materials.kraft.cut.pases is nearly passes; write that, or choose another name."],
    ),
    (
        "force = 22",
        "force = 22, kerf = 0.1",
        ["materials.kraft.cut.kerf belongs to a cut with a laser or wheel."],
    ),
    (
        "force = 22",
        'force = 22, tool = "pen"',
        ['materials.kraft.cut.tool is "pen", a pen; cut needs a drag-blade, laser or wheel.'],
    ),
    (
        "force = 22",
        "force = 22, perforation = { cut = 1 }",
        ["materials.kraft.cut.perforation is of no use here: nothing is perforated."],
    ),
    (
        "force = 22",
        'force = 22, tested_on = "last week"',
        ['materials.kraft.cut.tested_on is "last week"; it must be a day such as 2026-03-01.'],
    ),
    (
        "[materials.kraft]",
        '[materials.kraft]\ncontains = ["pvcc"]',
        [
            'materials.kraft.contains[1] is "pvcc"; it must be "pvc", "vinyl", "chlorine" or '
            '"unknown coating". Did you mean "pvc"?'
        ],
    ),
    (
        "margin = 5",
        "margin = 5\n[correction]\nx_scale = 2",
        ["correction.x_scale is 2; it must be 0.9 to 1.1."],
    ),
    (
        "margin = 5",
        'margin = 5\n[[trials]]\nkind = "kerf"',
        ["trials[1].tested_on is missing; it is: when."],
    ),
    (
        "cut = { force",
        "cuts = { force",
        [
            "materials.kraft.cuts is unknown; known are contains, cut, draw, fold, grammage, note, "
            "perforate, score. "
            "Did you mean cut?"
        ],
    ),
    (
        "[tools.pen]",
        '[tools.marker]\ntype = "pen"\n[tools.pen]',
        ['operations.draw.tool is missing; say which: "marker" or "pen".'],
    ),
]


@pytest.mark.parametrize(("right", "wrong", "lines"), WRONG)
def test_refuses(tmp_path: Path, right: str, wrong: str, lines: list[str]) -> None:
    """What is wrong is told with its place, what it is, and what would be allowed."""
    assert right in PROFILE
    text = PROFILE.replace(right, wrong)
    assert refused(tmp_path, text) == [f"mine.toml: {line}" for line in lines]


KEYS = st.one_of(
    st.sampled_from(
        [
            "title",
            "bed",
            "width",
            "margin",
            "tools",
            "blade",
            "type",
            "kerf",
            "offset",
            "laser",
            "operations",
            "cut",
            "score",
            "draw",
            "perforate",
            "tool",
            "as",
            "layer",
            "colour",
            "perforation",
            "materials",
            "register",
            "shape",
            "dxf",
            "svg",
            "files",
            "formats",
        ]
    ),
    st.text(max_size=5),
)
VALUES = st.recursive(
    st.one_of(st.booleans(), st.integers(), st.floats(), st.times(), KEYS),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(KEYS, inner, max_size=3)),
    max_leaves=6,
)
PLACES = [(), ("bed",), ("tools",), ("tools", "blade"), ("operations",), ("operations", "cut")]


@trying(75)
@given(st.sampled_from(PLACES), st.dictionaries(KEYS, VALUES, min_size=1, max_size=3))
def test_nothing_but_a_machine_or_a_refusal_comes_out(
    place: tuple[str, ...], extra: dict[str, Any]
) -> None:
    """Any keys and values in a right profile make a machine or a ProfileError of complete lines."""
    table: dict[str, Any] = {
        "title": "t",
        "bed": {"width": 210, "height": 297},
        "tools": {"blade": {"type": "drag-blade", "offset": 0.25}},
        "operations": {"cut": {"tool": "blade"}},
    }
    node = table
    for step in place:
        node = node[step]
    node.update(extra)

    try:
        machine = profile_from(table, "mine.toml", "mine")
    except ProfileError as error:
        lines = str(error).split("\n")
        assert all(line.startswith("mine.toml: ") and line[-1] in ".?" for line in lines)
        assert str(error).splitlines() == lines
    else:
        tools = {plan.tool for plan in machine.operations.values()} - {None}
        assert list(machine.operations) == list(Operation)
        assert tools <= set(machine.tools)


SHIPPED = ["desktop-a4", "drag-blade-340", "small-laser"]


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of the user's own, empty so far."""
    folder = tmp_path / "own"
    folder.mkdir()
    monkeypatch.setenv(FOLDER_VARIABLE, str(folder))
    return folder


@pytest.mark.usefixtures("own")
@pytest.mark.parametrize("name", SHIPPED)
def test_shipped_profiles_are_right(name: str) -> None:
    """Each sample is found by its name, reads without a word, and warns of what it can hurt."""
    path = find_profile(name)

    machine = read_profile(path)
    text = path.read_text(encoding="utf-8")

    assert machine.name == name
    assert machine.materials
    kinds = {tool.type for tool in machine.tools.values()}
    assert ToolType.LASER not in kinds or "hydrogen chloride" in text
    assert ToolType.DRAG_BLADE not in kinds or "Blades are sharp" in text
    assert "manual" in text


def test_profiles_are_listed_with_their_owners(own: Path) -> None:
    """The user's own come first and shadow the shipped ones of the same name."""
    written(own, PROFILE, "small-laser.toml")
    written(own, "title =", "broken.toml")
    (own / "notes.txt").write_text("not a profile")

    found = [(each.name, each.title, each.owner, each.shadowed) for each in list_profiles()]

    assert found == [
        ("broken", None, "yours", False),
        ("small-laser", "Kitchen table", "yours", False),
        ("desktop-a4", "A4 desktop cutter without a scoring tool", "shipped", False),
        ("drag-blade-340", "340 mm cutter with blade, pen and stylus", "shipped", False),
        ("small-laser", "Small enclosed laser, 300 mm bed", "shipped", True),
    ]
    assert find_profile("small-laser") == own / "small-laser.toml"


def test_a_file_is_taken_as_it_is(own: Path, tmp_path: Path) -> None:
    """What ends in .toml or has a folder in it is no name; it is taken from the given folder."""
    written(own, PROFILE, "mine.toml")
    beside = written(tmp_path, PROFILE, "mine.toml")

    assert find_profile("mine.toml", tmp_path) == beside
    assert find_profile(beside) == beside
    assert find_profile("own/mine.toml", tmp_path) == own / "mine.toml"
    assert find_profile("mine") == own / "mine.toml"


def test_an_unknown_name_is_answered_with_the_nearest(own: Path) -> None:
    """The message tells the names there are and where one's own would go."""
    with pytest.raises(ProfileError) as caught:
        find_profile("desktop-a5")

    assert str(caught.value) == (
        'there is no profile named "desktop-a5"; known are desktop-a4, drag-blade-340, '
        f"small-laser; a profile of your own goes into {own}, or give the path of its .toml file. "
        "Did you mean desktop-a4?"
    )


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    """A path is not looked up among the names."""
    with pytest.raises(ProfileError) as caught:
        find_profile("small-laser.toml", tmp_path)

    expected = f"{tmp_path / 'small-laser.toml'}: there is no such profile file."
    assert str(caught.value) == expected


def test_a_folder_that_is_not_there_holds_no_profiles(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody has to make the folder before the first profile."""
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "nowhere"))

    assert [each.name for each in list_profiles()] == SHIPPED


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2, "relative luminance"."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("operation", Operation)
def test_lines_stand_out_on_white(operation: Operation) -> None:
    """Contrast is 3:1 at least: WCAG 2.2, success criterion 1.4.11 for graphics."""
    colour, _dxf_colour = LOOKS[operation]

    assert 1.05 / (luminance(colour) + 0.05) >= 3.0


@pytest.mark.parametrize("operation", Operation)
def test_dxf_colours_are_the_nearest(operation: Operation) -> None:
    """No other number of the DXF palette, as ezdxf knows it, is nearer to the true colour."""
    colour, dxf_colour = LOOKS[operation]
    wanted = [int(colour[at : at + 2], 16) for at in (1, 3, 5)]

    def distance(index: int) -> int:
        return sum((a - b) ** 2 for a, b in zip(colors.aci2rgb(index), wanted, strict=True))

    assert distance(dxf_colour) == min(map(distance, range(1, 256)))


HEADS = {
    "profile": "The file",
    "Bed": "[bed]",
    "Tool": "[tools.NAME]",
    "WrittenOperation": "[operations.draw]",
    "Perforation": "perforation",
    "Scoring": "scoring",
    "Bridges": "bridges",
    "Material": "[materials.NAME]",
    "MaterialUse": "materials for one operation",
    "Folding": "how a material folds",
    "RegisterPlan": "[register]",
    "PrintSettings": "[print]",
    "DxfSettings": "[dxf]",
    "SvgSettings": "[svg]",
    "FilesPlan": "[files]",
    "Correction": "[correction]",
    "WrittenTrial": "[[trials]]",
}


def documented(schema: dict[str, Any], model: dict[str, Any]) -> Iterator[str]:
    """One row of the README for each key of a table."""
    for key, part in model["properties"].items():
        node = {**schema["$defs"].get(part.get("$ref", "").rpartition("/")[2], {}), **part}
        default = node.get("default", "-")
        if "enum" in node:
            allowed = ", ".join(f"`{shown(each)}`" for each in node["enum"])
        elif "minimum" in node:
            allowed = f"{node['minimum']:g} to {node['maximum']:g}"
        elif node["type"] == "array":
            words = node["items"].get("enum", ())
            allowed = "a list of " + (
                ", ".join(f"`{shown(w)}`" for w in words) or "tables or texts"
            )
        else:
            words = {"string": "text", "object": "table", "boolean": "`true`, `false`"}
            allowed = "day" if node.get("format") == "date" else words[node["type"]]
        if key in model.get("required", []):
            default = "required"
        elif isinstance(default, list):
            default = ", ".join(f"`{shown(each)}`" for each in default) or "-"
        elif isinstance(default, bool):
            default = f"`{shown(default)}`"
        elif isinstance(default, (int, float)):
            default = f"{default:g}"
        elif isinstance(default, dict):
            default = "-"
        elif default != "-":
            default = f"`{shown(default)}`"
        unit = node.get("unit", "-")
        yield f"| `{key}` | {node['description']} | {unit} | {allowed} | {default} |"


@pytest.mark.parametrize(("model", "head"), HEADS.items())
def test_every_key_is_documented(model: str, head: str) -> None:
    """The README has a row for each key, with its unit, limits and default, and no other row."""
    schema = profile_schema()
    text = (shipped_folder() / "README.md").read_text(encoding="utf-8")
    sections = re.split(r"^##+ ", text, flags=re.MULTILINE)
    (section,) = (each for each in sections if each.startswith(head))
    table = section.split("| key | what it is | unit | allowed | default |")[1].split("\n\n")[0]
    tables = schema if model == "profile" else schema["$defs"][model]

    rows = [row for row in table.splitlines() if row.startswith("| `")]

    assert rows == list(documented(schema, tables))


def test_no_table_is_left_out_of_the_documentation() -> None:
    """A new table of the profile must be given a section."""
    tables = set(profile_schema()["$defs"])

    assert tables - {"WrittenOperations"} == set(HEADS) - {"profile"}


def test_the_schema_is_json() -> None:
    """What is printed can be read back by any program, and every key of it says what it is."""
    schema = profile_schema()

    assert json.loads(json.dumps(schema)) == schema
    for table in [schema, *schema["$defs"].values()]:
        assert all("description" in node for node in table["properties"].values())
