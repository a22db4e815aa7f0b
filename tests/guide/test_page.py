"""The page as a reader, a screen reader and a printer find it."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from pathlib import Path

import pytest
from lxml import etree, html

from cutlayers import names_kit
from cutlayers.geometry.strokes import Operation
from cutlayers.guide import assembly_words
from cutlayers.guide.build import build_guide
from cutlayers.guide.model import Guide
from cutlayers.guide.page.writing import templates, write_page
from cutlayers.guide.ruler import RULERS, usual_ruler
from cutlayers.guide.sheet import guide_page
from cutlayers.job.reading import read_job
from cutlayers.making.make import lay_out, plan, report_of
from cutlayers.profile.operations import Method
from cutlayers.profile.reading import read_profile
from cutlayers.profile.search import find_profile
from cutlayers.report.report import report_text
from cutlayers.telling.colours import PAGE_BLUE, PAGE_INK, PAGE_QUIET, PAGE_TINT
from cutlayers.telling.findings import Finding, Severity, Subject, details
from cutlayers.telling.quantities import count, length

SAMPLES = [
    path
    for path in sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))
    if not names_kit(path)
]
"""A kit has a row for every box, so its boxes have no page in common."""


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def sheet(request: pytest.FixtureRequest) -> tuple[Guide, etree._Element]:
    """A sample's guide for the hand, as data and as a page."""
    job = read_job(request.param)
    guide = build_guide(job, usual_ruler(job.unit))
    return guide, html.document_fromstring(write_page(guide, "A4").decode())


def test_headings_stand_in_order(sheet: tuple[Guide, etree._Element]) -> None:
    """One first heading, and no level left out on the way down (WCAG 2.2, technique H42)."""
    levels = [int(str(h.tag)[1]) for h in sheet[1].iter("h1", "h2", "h3", "h4", "h5", "h6")]

    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in itertools.pairwise(levels))


def test_every_drawing_has_a_title_and_a_description(
    sheet: tuple[Guide, etree._Element],
) -> None:
    """Both are named by aria-labelledby; samples of lines in a legend are hidden instead."""
    page = sheet[1]
    drawings = [svg for svg in page.iter("svg") if svg.get("aria-hidden") != "true"]

    assert drawings
    for svg in drawings:
        title, desc = svg[0], svg[1]
        assert (title.tag, desc.tag, svg.get("role")) == ("title", "desc", "img")
        assert title.text and desc.text and len(desc.text) > 20
        assert svg.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
    identities = [each.get("id") for each in page.iter() if each.get("id")]
    assert len(identities) == len(set(identities))


def test_the_page_fetches_and_runs_nothing(sheet: tuple[Guide, etree._Element]) -> None:
    """No scripts, no links out, every reference inside the page, and a policy that says so."""
    page = sheet[1]
    text = etree.tostring(page, encoding="unicode")

    assert not list(page.iter("script", "link", "img", "iframe", "object"))
    assert not re.search(r"\b(src|xlink:href)\s*=", text)
    identities = {each.get("id") for each in page.iter() if each.get("id")}
    for reference in page.xpath("//@href"):  # print on the pictures of boxes
        assert reference[1:] in identities or reference.startswith("data:image/png;base64,")
    assert set(re.findall(r"url\(#([^)]+)\)", text)) <= identities
    assert not re.findall(r"url\((?!#)", text) and "@import" not in text
    policy = page.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")
    assert policy == ["default-src 'none'; img-src data:; style-src 'unsafe-inline'"]


def test_tables_have_heads(sheet: tuple[Guide, etree._Element]) -> None:
    """Each column is headed, and no row is longer than the head."""
    for table in sheet[1].iter("table"):
        heads = table.xpath("thead/tr/th")
        assert heads and all(th.get("scope") == "col" for th in heads)
        assert all(len(row) == len(heads) for row in table.xpath("tbody/tr"))


def luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_text_keeps_its_contrast() -> None:
    """4.5 to 1 against white and against the tint of panels (WCAG 2.2, success criterion 1.4.3)."""
    css = templates().get_template("page.css").render()
    told = re.findall(r"(?<![-a-z])color: (#[0-9a-f]{6})", css)

    assert told
    for colour in {PAGE_INK, PAGE_BLUE, PAGE_QUIET, *told}:
        for ground in ("#ffffff", PAGE_TINT):
            assert contrast(colour, ground) >= 4.5, (colour, ground)


def test_the_same_job_gives_the_same_bytes() -> None:
    """Nothing of the page depends on the run."""
    job = read_job(SAMPLES[0])

    assert guide_page(job) == guide_page(job)


def test_with_a_machine_there_is_a_setup_sheet() -> None:
    """Tools, passes and times of each sheet, and what the check found."""
    sample = next(path for path in SAMPLES if path.stem == "bath-bombs")
    job = read_job(sample)
    machine = read_profile(find_profile("drag-blade-340"))
    page = html.document_fromstring(
        guide_page(job, machine, report_of(plan(lay_out(job, machine)))).decode()
    )
    text = page.text_content()

    assert "Setup sheet" in text and machine.title in text
    (table,) = [t for t in page.iter("table") if t.xpath("thead/tr/th")[0].text == "operation"]
    assert [row[0].text for row in table.xpath("tbody/tr")] == ["draw", "score", "cut"]
    assert "Setup sheet" not in html.document_fromstring(guide_page(job).decode()).text_content()


def test_what_a_machine_does_is_not_told_for_the_hand() -> None:
    """The page of a machine's job has no blanks to trim and score, and says where they are; the
    two holes through four layers are cut already, so that none of the steps is to punch them."""
    job = read_job(next(path for path in SAMPLES if path.stem == "bath-bombs"))
    machine = read_profile(find_profile("drag-blade-340"))
    report = report_of(plan(lay_out(job, machine)))
    page = html.document_fromstring(guide_page(job, machine, report).decode())

    text = page.text_content()

    assert not page.xpath("//section[@class='blank']")
    assert "cutlayers guide JOB --by-hand" in text
    assert "8 holes, 4 mm across, which the machine cuts" in text and "unch the holes" not in text
    assert "unch the holes" in html.document_fromstring(guide_page(job).decode()).text_content()


def test_that_there_are_no_settings_is_told_by_the_setup_sheet_alone() -> None:
    """The profile has none for a card of its own name, and no weight tells the nearest."""
    job = read_job(next(path for path in SAMPLES if path.stem == "bath-bombs"))
    stocks = {name: replace(each, grammage=None) for name, each in job.stocks.items()}
    job = replace(job, stocks={name: replace(each, material=None) for name, each in stocks.items()})
    machine = replace(read_profile(find_profile("drag-blade-340")), materials={})
    report = report_of(plan(lay_out(job, machine)))
    page = html.document_fromstring(guide_page(job, machine, report).decode()).text_content()

    assert [finding.code for finding in report.findings] == ["no-settings"]
    assert page.count("o settings: the profile has no material of its name") == 1
    assert "What the check found" not in page


def test_what_holds_for_every_card_is_told_once() -> None:
    """How the machine is driven is the same for both cards of a job; with one card there is
    nothing to hold it against."""
    machine = read_profile(find_profile("drag-blade-340"))
    for name, cards in (("winter-favours", 2), ("bath-bombs", 1)):
        job = read_job(next(path for path in SAMPLES if path.stem == name))
        report = report_of(plan(lay_out(job, machine)))
        page = html.document_fromstring(guide_page(job, machine, report).decode()).text_content()

        assert len(report.setup_sheets) == cards
        for text in (page, report_text(report)):
            assert text.count("keep the order of the file's lines") == 1
            assert text.count("or every card") == (cards > 1)


def test_what_a_machine_leaves_to_the_hand_is_told() -> None:
    """Without a scoring tool the scores are made on a board, so the page tells where."""
    job = read_job(next(path for path in SAMPLES if path.stem == "bath-bombs"))
    machine = read_profile(find_profile("drag-blade-340"))
    by_hand = replace(machine.operations[Operation.SCORE], method=Method.BY_HAND, tool=None)
    machine = replace(machine, operations={**machine.operations, Operation.SCORE: by_hand})
    report = report_of(plan(lay_out(job, machine)))
    page = html.document_fromstring(guide_page(job, machine, report).decode())

    assert page.xpath("//section[@class='blank']")


def test_paper_and_ruler_are_as_asked() -> None:
    """The page names its paper to the printer, and lengths come in the ruler's unit."""
    job = read_job(SAMPLES[0])
    page = guide_page(job, paper="letter", ruler=RULERS["1/32in"]).decode()

    assert "size: 215.9mm 279.4mm" in page
    assert "rounded to 1/32 in" in page


LOCKED = """
units = "mm"
[stock.card]
caliper = 0.3
sheet = "A3"
[[piece]]
style = "{style}"
stock = "card"
size = {{ length = 70, width = 45, height = 100, measure = "score" }}
"""


def test_a_panel_that_has_to_bend_says_so_with_its_radius(tmp_path: Path) -> None:
    """The halves of a crash-lock bottom meet as the carton is squared up. A half with its reach is
    three quarters of the width of 45 mm deep: a strip of length L whose end is bent aside by d lies
    on a circle of L²/2d, and bent by no more than its reach of 11.25 mm, on one of 51 mm at least.
    A bag's panels bow where it is squared up; the gussets of one 45 mm deep and 70 long go in
    without. A tuck carton bends nothing."""
    path = tmp_path / "job.toml"
    bent = {}
    for style in ("crash-lock-carton", "gusset-bag", "tuck-carton"):
        path.write_text(LOCKED.format(style=style))
        page = html.document_fromstring(guide_page(read_job(path)).decode())
        steps = [
            " ".join(step.text_content().split()) for step in page.xpath("//li[@class='step']")
        ]
        bent[style] = [step for step in steps if "has to b" in step]

    (crash,), (bag,) = bent["crash-lock-carton"], bent["gusset-bag"]
    said = r"until it stands square.* bottom has to bend to get past .* bottom: .* about (\d+) mm"
    assert int(re.findall(said, crash)[0]) > 51
    assert "until it stands square" in bag
    assert re.search(r"has to bow on the way, to a radius of about \d+ mm", bag)
    assert not bent["tuck-carton"]


def test_a_lid_that_rubs_says_by_how_much() -> None:
    """Neither bends nor bows."""
    said = assembly_words.rubs("lid: front", "base: front", "0.3 mm")

    assert said.startswith("*lid: front* meets *base: front* by 0.3 mm on the way")


def test_findings_of_one_code_are_told_by_the_first_of_them() -> None:
    """Two and how many more; errors all."""

    said = details(picture="sprig.svg", margin=length(3.0))

    def of(severity: Severity, code: str, many: int) -> list[Finding]:
        places = [Subject(piece=f"box {i}") for i in range(many)]
        return [Finding(code, severity, each, (count(2),), details=said) for each in places]

    guide = build_guide(read_job(SAMPLES[0]), RULERS["1mm"])
    findings = (
        *of(Severity.WARNING, "drawn-under-facing", 5),
        *of(Severity.NOTE, "art-as-pixels", 4),
        *of(Severity.ERROR, "art-without-room", 5),
    )
    page = write_page(replace(guide, findings=findings), "A4").decode()
    (section,) = html.document_fromstring(page).xpath("//section[h2='What the check found']")
    told = [" ".join(item.text_content().split()) for item in section.iter("li")]

    assert len(told) == 3 + 3 + 5
    assert told[2] == "warning and 3 more like these; 'cutlayers check' tells each."
    assert told[5] == "note and 2 more like these; 'cutlayers check' tells each."


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_each_step_that_moves_panels_is_drawn(path: Path) -> None:
    """Glued, closed, joined; nothing has moved after every score was folded and opened again, and
    filling moves no card."""
    job = read_job(path)
    page = html.document_fromstring(guide_page(job).decode())
    boxes = build_guide(job, usual_ruler(job.unit)).boxes
    steps = page.xpath("//section[h2='Putting it together']//li")

    drawn = [bool(step.xpath("figure")) for step in steps]
    said = [" ".join(step.text_content().split()) for step in steps]
    assert len(steps) == sum(len(box.steps) for box in boxes)
    assert any(drawn)
    for text, picture in zip(said, drawn, strict=True):
        if "fold every score" in text.lower() or "ill the " in text:
            assert not picture
        if "this is the seam" in text or "over the base" in text:
            assert picture
    names = [each.get("id") for each in page.iter() if each.get("id")]
    assert len(names) == len(set(names))
    for svg in page.xpath("//figure[@class='after']/svg"):
        assert re.search(r" after step \d+$", svg[0].text)
        assert "what the step has moved is blue" in svg[1].text


def test_each_flap_of_a_pillow_pack_is_drawn_closed(tmp_path: Path) -> None:
    """Its seam and its four flaps; each flap has to bow on its way past the curved fold."""
    path = tmp_path / "job.toml"
    sized = LOCKED.replace("length = 70, width = 45, height = 100", "length = 110, width = 70")
    path.write_text(sized.format(style="pillow-pack"))
    page = html.document_fromstring(guide_page(read_job(path)).decode())
    steps = page.xpath("//li[@class='step']")

    drawn = [" ".join(step.text_content().split()) for step in steps if step.xpath("figure")]
    assert len(page.xpath("//figure[@class='picture']")) == 1
    assert not page.xpath("//figure[@class='views']")
    assert len(drawn) == 5 and "this is the seam" in drawn[0]
    assert all("flap" in text and "has to bow on the way" in text for text in drawn[1:])


FACED = """
units = "mm"
[stock.card]
caliper = 0.3
sheet = "A4"
[stock.paper]
caliper = 0.1
sheet = "A4"
[[piece]]
name = "box"
style = "tray"
stock = "card"
count = 3
size = { length = 60, width = 50, height = 20, measure = "score" }
[[piece.facing]]
panels = ["front", "back"]
stock = "paper"
border = 2
"""


def test_facing_pieces_are_trimmed_and_stuck_on_first(tmp_path: Path) -> None:
    """Walls of 60 × 20 mm, a caliper of 0.3 short at both ends, with a border of 2 get pieces of
    55.4 × 16, which are 55.5 × 16 on the ruler, from their own stock, three of each; they are stuck
    on before anything is glued."""
    path = tmp_path / "job.toml"
    path.write_text(FACED)
    guide = build_guide(read_job(path), RULERS["0.5mm"])
    (box,) = guide.boxes

    facings = guide.by_hand[0].facings
    assert [f.stock for f in facings] == ["paper", "paper"]
    for facing in facings:
        assert (facing.blank.width, facing.blank.height) == pytest.approx((55.5, 16))
    assert [step.action.value for step in box.steps] == [
        "fold",
        "facing",
        "glue",
        "glue",
        "fill",
    ]
    assert box.steps[1].panels == ("front", "back")
    assert [(need.stock.name, need.sheets) for need in guide.stocks] == [("card", 1), ("paper", 1)]


def test_fill_counts_what_a_sheet_holds(tmp_path: Path) -> None:
    """Blanks of 100 × 90 mm, trimmed edge to edge, go twice across and three times down A4."""
    path = tmp_path / "job.toml"
    path.write_text(FACED.split("[[piece.facing]]")[0].replace("count = 3", "fill = true"))
    guide = build_guide(read_job(path), RULERS["1mm"])

    assert (guide.by_hand[0].blanks[0].width, guide.by_hand[0].blanks[0].height) == (100, 90)
    assert guide.boxes[0].count == 6
    assert [need.sheets for need in guide.stocks] == [1]


def test_a_blank_too_large_for_its_sheet_is_said_to_be(tmp_path: Path) -> None:
    """The page is written all the same; the rest of it is still good."""
    path = tmp_path / "job.toml"
    path.write_text(FACED.split("[[piece.facing]]")[0].replace("length = 60", "length = 400"))
    job = read_job(path)

    (need,) = build_guide(job, RULERS["1mm"]).stocks
    assert need.sheets == 0 and [each[0] for each in need.too_large] == ["box"]
    assert "is larger than a sheet of card" in guide_page(job).decode()


def test_names_are_text_and_never_markup(tmp_path: Path) -> None:
    """A title or a name with the signs of HTML comes out as it was written (HTML, 13.1.2.4)."""
    path = tmp_path / "job.toml"
    title, name = "<script>alert(1)</script> & co", 'a "b" <i>c</i>'
    path.write_text(
        f"title = '{title}'\n" + FACED.replace('name = "box"', f"name = '{name}'"), "utf-8"
    )
    page = html.document_fromstring(guide_page(read_job(path)).decode())

    assert page.xpath("//h1")[0].text == title and page.xpath("//title")[0].text == title
    assert not list(page.iter("script", "i"))
    assert name in page.xpath("//svg[@class='blank']/title")[0].text


def test_a_template_that_mistakes_a_name_is_an_error() -> None:
    """Nothing is left out of a page in silence."""
    from jinja2 import UndefinedError

    with pytest.raises(UndefinedError, match="no_such_word"):
        templates().from_string("{{ words.no_such_word }}").render()
