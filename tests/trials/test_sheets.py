"""The sheets of the trials, as the machine gets them."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache

import ezdxf
import pypdfium2
import pytest

from cutlayers.geometry.strokes import Operation
from cutlayers.profile.output import Correction
from cutlayers.profile.reading import find_profile, read_profile
from cutlayers.telling.errors import CutlayersError, JobError, TrialError
from cutlayers.trials import KINDS, trial
from cutlayers.trials.files import set_up, trial_files
from cutlayers.trials.layout import RUNG_LOOKS, draw_sheet
from cutlayers.trials.model import Setup
from tests.formats.polylines import polylines
from tests.trials.machines import BLADE, LASER, SETUPS, machine


def made(kind: str, setup: Setup) -> dict[str, bytes]:
    return trial_files(trial(kind), set_up(setup.machine, setup, trial(kind)))


@cache
def usual(kind: str) -> dict[str, bytes]:
    """The files of a trial as its own setup has it, made once for all tests."""
    return made(kind, SETUPS[kind])


@pytest.mark.parametrize("kind", KINDS)
def test_sheets_lie_within_reach(kind: str) -> None:
    """Every line of every trial lies on the card, the bed's margin kept free."""
    setup = set_up(SETUPS[kind].machine, SETUPS[kind], trial(kind))
    sheet = trial(kind).sheet(setup)
    drawing, _picture = draw_sheet("t", sheet, setup.machine)
    margin = setup.machine.bed.margin

    assert drawing.layers
    for layer in drawing.layers:
        for path in layer.paths:
            left, bottom, right, top = path.bounds
            assert margin <= left and right <= sheet.width - margin
            assert margin <= bottom and top <= sheet.height - margin


@pytest.mark.parametrize("kind", KINDS)
def test_files_can_be_read_by_others(kind: str) -> None:
    """The DXF opens in a reader that did not write it, and the page names files that are there."""
    files = usual(kind)

    document = ezdxf.read(io.StringIO(files[f"{kind}.dxf"].decode()))
    assert len(document.modelspace()) > 3
    page = files["instructions.html"].decode()
    for name in files:
        if name.endswith((".dxf", ".svg")):
            assert name in page
    assert f"cutlayers trial record {kind}" in page
    assert "manual" in page


@pytest.mark.parametrize("kind", KINDS)
def test_same_trial_same_bytes(kind: str) -> None:
    """Neither a clock nor chance is in the files."""
    assert made(kind, SETUPS[kind]) == usual(kind)


def test_combs_have_the_cuts_that_they_claim() -> None:
    """Comb A is 11 parallel cuts, B 21: counted in the DXF, a window's two ends included."""
    files = usual("kerf")
    document = ezdxf.read(io.StringIO(files["kerf.dxf"].decode()))
    cuts = [[point[:2] for point in entity.get_points()] for entity in polylines(document, "cut")]
    upright: dict[float, set[float]] = {}
    for points in cuts:
        for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True):
            if abs(x0 - x1) < 1e-6 and abs(abs(y1 - y0) - 18.0) < 1e-6:
                upright.setdefault(round(min(y0, y1), 3), set()).add(round(x0, 3))

    # The upright comb's long sides are 100 mm and do not count; A lies above B.
    assert [len(upright[y]) for y in sorted(upright)] == [21, 11]


def test_creases_of_the_strips_are_as_far_apart_as_they_claim() -> None:
    """20, 23.1, 26.2, 29.3 and 32.4 mm, two strips each, of which one lies level and one stands
    upright: measured between scores in the DXF."""
    document = ezdxf.read(io.StringIO(usual("fold")["fold.dxf"].decode()))
    lines = [
        (line.dxf.start, line.dxf.end)
        for line in document.modelspace().query('LINE[layer=="score"]')
    ]
    lines += [
        tuple(ezdxf.math.Vec2(point[:2]) for point in entity.get_points())
        for entity in polylines(document, "score")
    ]
    upright = {(round(a.x, 3), round((a.y + b.y) / 2, 3)) for a, b in lines if abs(a.x - b.x) < 0.1}
    level = {(round(a.y, 3), round((a.x + b.x) / 2, 3)) for a, b in lines if abs(a.y - b.y) < 0.1}
    widths = []
    for group in (upright, level):
        for row in sorted({at for _, at in group}):
            low, high = sorted(place for place, at in group if at == row)
            widths.append(high - low)

    assert len(upright) == len(level) == 10
    assert widths == pytest.approx([32.4, 29.3, 26.2, 23.1, 20.0, 20.0, 23.1, 26.2, 29.3, 32.4])


def test_kerf_is_not_taken_up_in_its_trial() -> None:
    """Windows are 100 mm wide whatever kerf the profile has."""
    wide = replace(
        SETUPS["kerf"], machine=machine(LASER.replace("kerf = 0.2", "kerf = 0.35")), material=None
    )
    for files in (usual("kerf"), made("kerf", wide)):
        document = ezdxf.read(io.StringIO(files["kerf.dxf"].decode()))
        widths = [
            round(max(p[0] for p in e.get_points()) - min(p[0] for p in e.get_points()), 6)
            for e in polylines(document, "cut")
            if e.closed
        ]
        assert widths.count(100.0) == 2


def test_each_rung_has_a_layer_and_a_colour_of_its_own() -> None:
    """A machine's program can set every rung apart, by layer or by colour."""
    setup = set_up(SETUPS["settings"].machine, SETUPS["settings"], trial("settings"))
    drawing, _picture = draw_sheet("t", trial("settings").sheet(setup), setup.machine)
    rungs = [layer for layer in drawing.layers if layer.name.startswith("cut-")]

    assert [layer.title for layer in rungs] == [f"force {v}" for v in range(12, 28, 2)]
    assert len({layer.colour for layer in drawing.layers}) == len(drawing.layers)
    assert len({layer.dxf_colour for layer in drawing.layers}) == len(drawing.layers)


@pytest.mark.parametrize(("colour", "dxf_colour"), RUNG_LOOKS)
def test_rungs_stand_out_on_white(colour: str, dxf_colour: int) -> None:
    """3:1 at least (WCAG 2.2, 1.4.11), and the DXF colour is the palette's nearest, by ezdxf."""
    parts = [int(colour[at : at + 2], 16) for at in (1, 3, 5)]
    linear = [
        part / 255 / 12.92 if part / 255 <= 0.04045 else ((part / 255 + 0.055) / 1.055) ** 2.4
        for part in parts
    ]
    luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    def distance(index: int) -> int:
        return sum((a - b) ** 2 for a, b in zip(ezdxf.colors.aci2rgb(index), parts, strict=True))

    assert 1.05 / (luminance + 0.05) >= 3.0
    assert distance(dxf_colour) == min(map(distance, range(1, 256)))


def test_stars_differ_by_their_offset_alone() -> None:
    """Each star's path is led by its own offset: the first point lies that far ahead of the tip."""
    setup = SETUPS["offset"]
    sheet = trial("offset").sheet(setup)
    offsets = [
        part.machine.tools["blade"].offset
        for part in sheet.parts
        if any(stroke.name == "star" for stroke in part.strokes)
    ]

    assert offsets == [round(0.05 * i, 2) for i in range(1, 11)]


def test_squareness_is_written_without_correction() -> None:
    """A second squareness trial measures the bare machine, not what is left of its error."""
    setup = SETUPS["squareness"]
    off = replace(setup.machine, correction=Correction(apply=True, x_scale=1.01, skew_deg=0.5))

    plain = usual("squareness")["squareness.dxf"]
    assert made("squareness", replace(setup, machine=off))["squareness.dxf"] == plain
    other = made("pen", replace(setup, machine=off))["pen.dxf"]
    assert other != usual("pen")["pen.dxf"]


NO_SENSE = [
    ("kerf", BLADE, {}, "cutlayers trial offset --profile mine --material kraft-270"),
    ("offset", LASER, {}, "does not trail"),
    ("score", LASER, {}, "cutlayers trial perforation"),
    ("fold", BLADE + '[operations.score]\nas = "by hand"\n', {}, "no creases at known places"),
    ("fold", BLADE, {"material": None}, "--material NAME"),
    ("pen", LASER, {}, "does not draw with a pen"),
    ("settings", LASER, {}, "--setting force --from 10"),
    ("settings", BLADE, {"material": None}, "--material NAME"),
    ("settings", BLADE, {"setting": "speed"}, "nothing is known of speed"),
    ("settings", BLADE, {"steps": 1}, "it must be 2 to 10"),
    ("settings", BLADE, {"first": 20.0, "last": 10.0}, "--to must be more"),
    ("perforation", LASER, {"first": 0.2}, "burns away"),
    ("register", BLADE + '[register]\nshape = "none"\n', {}, "no register marks"),
    ("kerf", LASER, {"sheet": (100.0, 100.0)}, "needs a card of"),
    ("kerf", LASER, {"sheet": (400.0, 400.0)}, "does not fit the bed"),
]


@pytest.mark.parametrize(("kind", "text", "choices", "reason"), NO_SENSE)
def test_a_trial_without_sense_is_refused(
    kind: str, text: str, choices: dict[str, object], reason: str
) -> None:
    """The reason is one line, and names what to do instead."""
    setup = replace(Setup(machine(text), "mine", "kraft-270"), **choices)  # type: ignore[arg-type]

    with pytest.raises(TrialError) as caught:
        made(kind, setup)

    assert reason in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("material", ["white vinyl", "PVC-sheet", "foil"])
def test_a_laser_does_not_meet_pvc(material: str) -> None:
    """A card marked or named so gets no trial on a laser, but one on a blade."""
    marks = '[materials.foil]\ncontains = ["chlorine"]\n'
    laser = Setup(machine(LASER + marks), "mine", material)
    blade = Setup(machine(BLADE + marks), "mine", material)

    with pytest.raises(JobError, match="hydrogen chloride"):
        made("kerf", laser)
    assert made("offset", blade)


def test_labels_are_cut_where_nothing_draws() -> None:
    """A machine with a blade alone still gets its labels, as fine slits."""
    alone = machine(BLADE.replace('[tools.pen]\ntype = "pen"\n', ""))
    sheet = trial("offset").sheet(Setup(alone, "mine"))

    operations = {stroke.operation for part in sheet.parts for stroke in part.strokes}
    assert operations == {Operation.CUT}
    assert any(stroke.name == "0.25" for part in sheet.parts for stroke in part.strokes)


def test_errors_are_the_package_s_own() -> None:
    """What a trial refuses, the command line turns into one line and exit code 2."""
    assert issubclass(TrialError, CutlayersError)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", ["desktop-a4", "drag-blade-340", "small-laser"])
def test_shipped_machines_get_a_sheet_or_a_reason(name: str, kind: str) -> None:
    """Whatever a machine lacks, it gets files or one line that says why not."""
    setup = Setup(read_profile(find_profile(name)), name, "kraft-270")

    try:
        files = made(kind, setup)
    except TrialError as error:
        assert "\n" not in str(error)
    else:
        assert "instructions.html" in files


def test_the_print_is_as_large_as_the_card() -> None:
    """A4 is 595.2756 × 841.8898 points (ISO 216; 1/72 inch), read back by another library."""
    document = pypdfium2.PdfDocument(usual("register")["print.pdf"])

    assert document[0].get_size() == pytest.approx((595.2756, 841.8898), abs=0.01)


def test_crosses_lie_in_the_middle_of_their_scales() -> None:
    """The machine's lines run through the zero marks of the printed scales."""
    sheet = trial("register").sheet(SETUPS["register"])
    crosses = [stroke for part in sheet.parts for stroke in part.strokes]
    for name in "12345":
        level, upright = (s.path for s in crosses if s.name == f"cross {name}")
        ticks = [s.path.bounds for s in sheet.printed if s.name == f"scale {name}"]
        below = [b for b in ticks if b[0] == b[2] and b[3] == pytest.approx(level.start[1] - 5.5)]
        longest = max(below, key=lambda b: b[3] - b[1])

        assert len(below) == 13  # 3 mm to both sides in half millimetres
        assert longest[0] == pytest.approx(upright.start[0])


@pytest.mark.parametrize("kind", KINDS)
def test_a_material_in_letters_that_the_face_lacks_is_told_as_well_as_may_be(kind: str) -> None:
    """The heading names the card; a sign without a letter becomes another or a question mark."""
    setup = replace(SETUPS[kind], material="Картон № 3, card {1} 紙")
    if kind in ("settings", "score"):  # a card that the profile does not know has no settings yet
        setup = replace(setup, setting="force", first=10.0, last=24.0, steps=4)

    assert made(kind, setup)
