"""A cure is offered only if it cures.

Rooms and depths are worked by hand: the room of a lid on each side is half the clearance, which is
what `clearance` says in the style's table; a tab is glued over the depth that it has.
`CUTLAYERS_CURES=100` tries a hundred boxes of every style.
"""

from __future__ import annotations

import os
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.checks.job import all_findings, check_boxes
from cutlayers.checks.lying import check_lying
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.curing import mended, proving, with_cures
from cutlayers.curing.proving import possible_findings, quick_findings
from cutlayers.job.order import Job
from cutlayers.job.reading import job_from
from cutlayers.job.stock import Stock
from cutlayers.job.writing import job_text
from cutlayers.profile.machine import Machine
from cutlayers.reading.editing import with_value
from cutlayers.reading.toml_file import parse_toml
from cutlayers.sheets import laying, nesting
from cutlayers.sheets.pieces import pieces_of
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.findings import Cure, Edit, Finding, Severity, Subject
from cutlayers.telling.lengths import Unit
from cutlayers.telling.quantities import Quantity, length
from tests.boxes import boxes, trying
from tests.curing.jobs import FILE, large_machine, source, telescope

EXAMPLES = int(os.environ.get("CUTLAYERS_CURES", "2"))

UNITS: tuple[Unit, ...] = ("mm", "in")

MACHINE = large_machine()


def found(text: str) -> list[Finding]:
    """What is wrong with a job, each with its cure if there is one."""
    read = source(text)
    job = read.job()
    return list(with_cures(quick_findings(job, MACHINE), read, job, MACHINE))


def cures(text: str) -> dict[str, Cure | None]:
    """The cure of each code; all findings of one code have the same here."""
    offered: dict[str, Cure | None] = {}
    for finding in found(text):
        assert offered.setdefault(finding.code, finding.cure) == finding.cure
    return offered


def option(name: str, millimetres: float) -> Cure:
    return Cure((Edit(("piece", 0, "options", name), length(millimetres)),))


def test_a_tuck_too_short_for_its_card_is_made_as_deep_as_it_has_to_be() -> None:
    """Ten calipers of 0.5 mm card are 5 mm; the tuck is 4 mm deep."""
    text = telescope("tuck_depth = 4\nthumb = 0").replace("telescope-box", "tuck-carton")

    assert cures(text)["card-too-thick"] == option("tuck_depth", 5.0)


def test_card_too_thick_for_a_fold_has_no_cure_by_options() -> None:
    """Greyboard of 2 mm is not creased whatever the size."""
    text = telescope("").replace("0.5 mm", "2 mm")

    assert cures(text)["card-too-thick"] is None


def test_a_tight_lid_gets_more_clearance() -> None:
    """0.1 mm on a side is 0.15 short; 0.3 in all, on to the next half millimetre."""
    assert cures(telescope("clearance = 0.2")) == {"lid-tight": option("clearance", 0.5)}


def test_a_loose_lid_gets_less_clearance() -> None:
    """2 mm on a side are 0.75 too many; 4 - 1.5 = 2.5 mm are just as many as allowed."""
    assert cures(telescope("clearance = 4")) == {"lid-loose": option("clearance", 2.5)}


def test_a_shallow_tab_gets_deeper() -> None:
    """6 mm are asked, which is what it gets."""
    text = telescope("tab = 5", limits="[limits]\ntab_depth = 6")

    assert cures(text) == {"tab-small": option("tab", 6.0)}


def test_a_job_in_inches_gets_sixteenths() -> None:
    """0.3 mm more than 0.2 mm lie between no and one sixteenth, 1.5875 mm."""
    text = telescope('clearance = "0.2 mm"', unit="in")

    assert cures(text) == {"lid-tight": option("clearance", 25.4 / 16)}
    assert 'clearance = "1/16"' in mended(text, FILE, MACHINE).after


HEADER = """\
[stock.kraft]
caliper = 0.4
sheet = "A4"
grain = "long"
[[piece]]
stock = "kraft"
style = "header-card"
rotation = "{rotation}"
size = {{ length = 100, height = 45 }}
"""
"""One fold along the width of an upright sheet, whose fibres run along its height."""


def test_folds_across_the_grain_turn_the_piece() -> None:
    """A quarter turn brings the fold along the fibres."""
    offered = cures(HEADER.format(rotation="quarter"))

    assert offered == {"grain": Cure((Edit(("piece", 0, "grain"), "along"),))}


def test_grain_up_a_tube_turns_the_piece() -> None:
    """The carton is laid with its walls along the long side of the sheet, and the fibres run along
    that too; a quarter turn brings them round it."""
    text = """\
[stock.kraft]
caliper = 0.4
sheet = [500, 400]
grain = "long"
[[piece]]
stock = "kraft"
style = "tuck-carton"
size = { length = 90, width = 40, height = 80 }
"""

    offered = cures(text)
    assert offered == {"grain-of-tube": Cure((Edit(("piece", 0, "grain"), "across"),))}


GABLE = """\
[stock.kraft]
caliper = 0.3
sheet = [500, 500]
grain = "long"

[[piece]]
stock = "kraft"
style = "gable-carton"
rotation = "quarter"
{grain}
size = {{ length = 70, width = 40, height = 40 }}
"""
"""A tray and a tube: the one wants the grain along its long folds, the other across its creases."""


@pytest.mark.parametrize(
    ("grain", "cure"),
    [
        (
            'grain = "across"',
            (
                Edit(("piece", 0, "grain"), None),
                Edit(("piece", 0, "grain", "base"), "along"),
                Edit(("piece", 0, "grain", "lid"), "across"),
            ),
        ),
        ('grain = { lid = "across" }', None),
    ],
)
def test_of_two_blanks_one_is_turned(grain: str, cure: tuple[Edit, ...] | None) -> None:
    """A word for both becomes a table, in which the other keeps it."""
    offered = {
        code: found for code, found in cures(GABLE.format(grain=grain)).items() if "grain" in code
    }

    assert offered == ({} if cure is None else {"grain": Cure(cure)})


def test_a_word_for_all_blanks_is_written_anew_as_a_table() -> None:
    """Read back, the file says it of each blank by itself, and nothing of the grain is wrong."""
    after = mended(GABLE.format(grain='grain = "across"  # round the lid'), FILE, MACHINE).after
    (piece,) = tomllib.loads(after)["piece"]

    assert piece["grain"] == {"base": "along", "lid": "across"}
    assert not any("grain" in code for code in cures(after))


def test_a_turn_that_the_piece_may_not_take_is_no_cure() -> None:
    """Where the job forbids turning there is nothing to offer."""
    assert cures(HEADER.format(rotation="none")) == {"grain": None}


ART = """\
[stock.kraft]
caliper = 0.4
sheet = "A4"
[[piece]]
stock = "kraft"
style = "tray"
size = {{ length = {length}, width = {length}, height = {height} }}
[[piece.art]]
panels = "front"
lettering = "SOAP"
height = 30
"""


def test_letters_too_high_get_the_height_that_fits() -> None:
    """What is offered is what they get now, less than half a millimetre lower."""
    text = ART.format(length=80, height=25)

    (finding,) = found(text)

    assert finding.code == "lettering-reduced"
    assert finding.cure is not None
    (edit,) = finding.cure.edits
    assert edit.path == ("piece", 0, "art", 0, "height")
    assert finding.allowed is not None
    assert edit.value in [length(half / 2) for half in range(1, 60)]
    assert 0 <= finding.allowed.most[0].value - edit.value.value < 0.5


def test_the_second_of_two_pieces_is_the_one_that_is_edited() -> None:
    """Each finding's cure goes where its own box stands in the file; names do not matter."""
    text = (
        telescope("clearance = 1")
        + """
[[piece]]
stock = "kraft"
style = "telescope-box"
count = 7
size = { length = 30, width = 30, height = 15 }
options = { clearance = 0 }
"""
    )
    assert cures(text) == {
        "lid-tight": Cure((Edit(("piece", 1, "options", "clearance"), length(0.5)),))
    }


def test_many_boxes_with_art_are_each_tried_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is found of ten boxes is cured by checking no box more than a few times: where a piece
    stands in the file, another number than alone, makes its finding no other."""
    piece = ART.format(length=80, height=25).partition("[[piece]]")[2]
    text = ART.format(length=80, height=25)
    for number in range(9):
        text += f'\n[[piece]]\nname = "soap {number}"{piece}'
    checked = []

    def counting(job: Job, machine: Machine) -> tuple[Finding, ...]:
        checked.append(len(job.orders))
        return possible_findings(job, machine)

    monkeypatch.setattr(proving, "possible_findings", counting)
    assert {finding.code for finding in found(text) if finding.cure} == {"lettering-reduced"}
    # Each piece alone, before its cure and after, and the job as a whole at most once.
    assert sum(checked) <= 10 * 2 + 10


def test_cures_are_tried_without_laying_sheets(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whether a piece fits an empty sheet, and in which turns, says all that a cure is asked."""
    text = telescope("clearance = 0").replace('sheet = "A4"', 'sheet = "A4"\ngrain = "long"')
    text = text.replace("[piece.size]", 'grain = "across"\n[piece.size]')
    read = source(text)
    job = read.job()
    findings = quick_findings(job, MACHINE)

    def laid(*_: object, **__: object) -> None:
        raise AssertionError("a sheet was laid")

    monkeypatch.setattr(laying, "lay_pieces", laid)
    monkeypatch.setattr(nesting, "lay_pieces", laid)
    cured = [each.code for each in with_cures(findings, read, job, MACHINE) if each.cure]
    assert {"lid-tight", "grain"} <= {*cured}


def test_art_without_room_gets_a_smaller_margin() -> None:
    """On a wall 7 mm high a margin of 4 mm leaves nothing, three quarters of it do."""
    text = ART.format(length=80, height=7).replace("height = 30", "height = 1")
    text = text.replace("[[piece.art]]", "options = { tab = 5 }\n[[piece.art]]")
    text = "[print]\nsafe_margin = 4\n" + text

    margin = Cure((Edit(("print", "safe_margin"), length(3.0)),))
    assert cures(text) == {"art-without-room": margin}


@pytest.mark.parametrize(("side", "cured"), [(160, True), (147, False)])
def test_a_box_that_no_sheet_can_hold_is_no_cure(side: int, cured: bool) -> None:
    """The sleeve goes round 4 × 30 mm and has a seam of 8 mm, so 147 mm less the machine's margin
    of 5 mm on each side leave it less than the 6 mm that a seam of 14 mm takes more."""
    text = f"""\
[limits]
tab_depth = 14
[stock.kraft]
caliper = 0.4
sheet = [{side}, {side}]
[[piece]]
stock = "kraft"
style = "sleeve-and-drawer"
size = {{ length = 40, width = 30, height = 30 }}
options = {{ tab = 8 }}
"""
    small = [finding for finding in found(text) if finding.subject.net == "drawer"]

    assert {finding.cure for finding in small} == {option("tab", 14.0) if cured else None}


@pytest.mark.parametrize("code", ["curved", "narrow-gap", "search-stopped"])
def test_what_no_edit_can_cure_has_no_cure(code: str) -> None:
    """Nothing is tried for it."""
    text = telescope("")
    read = source(text)
    finding = Finding(code, Severity.WARNING, Subject(piece="telescope-box"))

    assert tuple(with_cures([finding], read, read.job(), MACHINE)) == (finding,)


Key = tuple[str, str | None, str | None, tuple[str, ...], str | None]


def key_of(finding: Finding) -> Key:
    """What a finding speaks of."""
    where = finding.subject
    return (finding.code, where.piece, where.net, where.panels, where.feature)


def judged(text: str) -> dict[Key, Severity]:
    """What is found in a job whose text is read anew, with its boxes checked and laid out."""
    job = job_from(parse_toml(text, "job"), str(FILE), "job")
    sheets = place_pieces(pieces_of(job), MACHINE, job.sheets).sheets
    return {
        key_of(each): each.severity
        for each in (*all_findings(check_boxes(job)), *check_lying(sheets))
    }


def errors(found: dict[Key, Severity]) -> set[Key]:
    """What is an error in it."""
    return {key for key, severity in found.items() if severity is Severity.ERROR}


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
@settings(trying(1), max_examples=EXAMPLES)
@given(data=st.data())
def test_every_cure_offered_cures(style: Style, data: st.DataObject) -> None:
    """Of any box of any style and caliper: with each cure its finding is gone and no error is new;
    with one after the other it comes to rest, where nothing is left to be cured."""
    box = data.draw(boxes(style))
    unit = data.draw(st.sampled_from(UNITS))
    depth = data.draw(st.sampled_from(("4 mm", "7 mm", "10 mm")))
    stock = Stock("kraft", box.card.caliper, (1990.0, 1990.0), None, "long")
    text = job_text(style, box.dims, box.card.measure, stock, title="box", unit=unit)
    text += f'[limits]\ntab_depth = "{depth}"\n'
    try:
        before = judged(text)
    except PlacementError:
        return

    offered = [finding for finding in found(text) if finding.cure is not None]
    for cure in dict.fromkeys(finding.cure for finding in offered):
        assert cure is not None
        after = judged(written(text, cure, unit))
        cured = [key_of(finding) for finding in offered if finding.cure == cure]
        assert not after.keys() & cured
        assert errors(after) <= errors(before)
    result = mended(text, FILE, MACHINE)

    assert bool(result.steps) == bool(offered)
    assert [finding for finding in found(result.after) if finding.cure is not None] == []
    assert errors(judged(result.after)) <= errors(before)
    assert kept(text) == kept(result.after)


def written(text: str, cure: Cure, unit: Unit) -> str:
    """A cure written down by hand."""
    for edit in cure.edits:
        value = edit.value
        if isinstance(value, Quantity):
            steps = value.value / (25.4 / 16 if unit == "in" else 0.5)
            assert abs(steps - round(steps)) < 1e-6
            value = f"{value.value!r} mm"
        text = with_value(text, edit.path, value)
    return text


def kept(text: str) -> list[str]:
    """The lines that no cure touches: all but values of options, and the piece's grain."""
    lines = [line for line in text.splitlines() if line and line != "[piece.grain]"]
    return [line for line in lines if " = " not in line or line.startswith(("title", "caliper"))]
