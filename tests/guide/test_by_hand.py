"""The printed page by hand, read and followed as a person would."""

from __future__ import annotations

import math
import os
import re
import tomllib
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest
import shapely
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from cutlayers.box import Blank, Box, build
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.geometry.strokes import Fold, Operation, Part, Stroke
from cutlayers.guide.build import build_guide
from cutlayers.guide.by_hand import HandBlank
from cutlayers.guide.model import Guide
from cutlayers.guide.page.writing import write_page
from cutlayers.guide.ruler import RULERS, Ruler, usual_ruler
from cutlayers.job.order import Job
from cutlayers.job.reading import job_from, read_job
from cutlayers.job.stock import Stock
from cutlayers.job.writing import job_text
from cutlayers.net import Feature, Role, Work
from cutlayers.telling.errors import StyleError
from cutlayers.telling.lengths import Unit
from tests.boxes import RandomBox, Spread, boxes, trying
from tests.guide.reader import Made, Read, read
from tests.guide.test_page import SAMPLES

PAGES = int(os.environ.get("CUTLAYERS_PAGES", "0"))
"""Random boxes of each style for every ruler; where nobody asks for them, the same one each time
for the usual ruler of each unit."""

ASKED = RULERS if PAGES else {"0.5mm": RULERS["0.5mm"], "1/16in": RULERS["1/16in"]}

NEAR = 1e-3
"""mm; a line along a ruler is where the page says."""

PENCIL = 0.05
"""mm; half as wide as a line is drawn, so that lines which meet part what lies between them."""

FINE = 0.01
"""mm; chords of curves stay within this."""

DRIFT = 3.0
"""Divisions; a row of five panels, each off by up to half a one, and the last one's own edge.
A net of many panels has longer rows."""

LAYERS = 4
"""Thicknesses of card on each other that a ruler shows as none or as one division each."""

ALIKE = 0.8
"""Share of two outlines that is common where they are of one panel."""

TINY = 4.0
"""mm; openings where creases meet, smaller than that, are left to the corner itself."""

UNEVEN = re.compile(r"Slanted panels cannot be rounded|Some parts are too small for this ruler")
NOT_NEAREST = re.compile(r"not the nearest|None of the roundings")


def a_job(box: RandomBox, unit: Unit) -> Job:
    """The box as a job of its own, on sheets that its maker buys."""
    stock = Stock("card", box.card.caliper, (279.4, 431.8) if unit == "in" else (297.0, 420.0))
    text = job_text(box.style, box.dims, box.card.measure, stock, title="Box", unit=unit)
    return job_from(tomllib.loads(text), "box.toml", "Box")


def a_page(job: Job, ruler: Ruler) -> tuple[Guide, bytes]:
    """The page, without pictures of the folded box."""
    guide = build_guide(job, ruler, views={order.name: () for order in job.orders})
    return guide, write_page(guide, "A4")


def kind_of(stroke: Stroke) -> str:
    """What a person does along a stroke."""
    if stroke.operation is not Operation.SCORE:
        return str(stroke.operation.value)
    return "score outside" if stroke.fold is Fold.MOUNTAIN else "score inside"


Lines = dict[str, shapely.MultiLineString]


def lines_of(blank: Blank | HandBlank, *, curves: bool | None = None) -> Lines:
    """A net's lines by what is done along them, from the left and the top of the blank; of
    curves, or of straight lines alone, where that is asked for."""
    strokes = [
        stroke
        for stroke in (blank.borders if isinstance(blank, Blank) else blank.lines)
        if stroke.operation is not Operation.DRAW and not is_tiny(stroke) and not is_traced(stroke)
    ]
    left = min(stroke.path.bounds[0] for stroke in strokes)
    top = max(stroke.path.bounds[3] for stroke in strokes)
    if isinstance(blank, HandBlank):
        left, top = blank.origin
    found: dict[str, list[list[tuple[float, float]]]] = {}
    for stroke in strokes:
        for segment in stroke.path.segments:
            if curves is not None and bool(segment.bulge) is not curves:
                continue
            several = max(2, round(segment.length / 0.2)) if segment.bulge else 2
            points = [segment.point_at(i / (several - 1)) for i in range(several)]
            found.setdefault(kind_of(stroke), []).append([(x - left, top - y) for x, y in points])
    return {kind: shapely.MultiLineString(lines) for kind, lines in found.items()}


def is_tiny(stroke: Stroke) -> bool:
    left, bottom, right, top = stroke.path.bounds
    return (
        stroke.part is Part.OPENING
        and max(right - left, top - bottom) < TINY
        and not all(stroke.path.bulges)
    )


def is_traced(stroke: Stroke) -> bool:
    """Letters are drawn for tracing; the page says so."""
    return stroke.name.startswith("lettering")


def made_of(made: Made) -> Lines:
    """What the reader has on the table: their lines, the trimmed edge and the punched holes."""
    wide, high = made.size
    found: dict[str, list[shapely.LineString]] = {}
    found["cut"] = [shapely.box(0, 0, wide, high).exterior]
    for kind, line, _ in made.lines:
        found.setdefault(kind, []).append(line)
    for _, middle, across in made.holes:
        found["cut"].append(middle.buffer(across / 2, quad_segs=64).exterior)
    return {kind: shapely.MultiLineString(lines) for kind, lines in found.items()}


def beyond(one: Lines, other: Lines, off: float) -> dict[str, float]:
    """How much of each kind of line lies farther than `off` from the other's, in mm."""
    nothing = shapely.MultiLineString([])
    found = {}
    for kind, lines in one.items():
        near = other.get(kind, nothing).buffer(off, quad_segs=32)
        left = shapely.difference(lines, near).length
        if left > FINE:
            found[kind] = left
    return found


def farthest(one: Lines, other: Lines) -> float:
    """How far lines of one kind lie from each other at most (Hausdorff distance)."""
    assert one.keys() == other.keys()
    return max(shapely.hausdorff_distance(one[kind], other[kind]) for kind in one)


def check_page(page: Read, guide: Guide, job: Job) -> None:
    """All that a page by hand has to keep; see the tests below."""
    ruler = guide.ruler
    assert page.ruler.mm == pytest.approx(ruler.step)
    foreign = {"in": r"\bmm\b", "mm": r"\d in\b"}[page.ruler.unit]
    assert not re.search(foreign, page.words), re.search(f".*{foreign}", page.words)
    made = {blank.name: blank for blank in page.blanks}
    half = ruler.step / 2 + NEAR
    for order, box in zip(job.orders, guide.boxes, strict=True):
        assert box.hand is not None
        notes = " ".join(made[b.name].notes for b in box.hand.blanks if b.name in made)
        built = [each.blanks for each in layered(order.box, ruler)]
        for told, *nets in zip(box.hand.blanks, *built, strict=True):
            if told.only_trimmed:
                assert told.name not in made
                continue
            own = made[told.name]
            # The blank is the one that was folded up and checked ...
            drawn, edge = made_of(own), {"cut": shapely.box(0, 0, *own.size).exterior}
            assert beyond(lines_of(told, curves=False), drawn, NEAR) == {}
            assert beyond(lines_of(told, curves=True), drawn, half) == {}
            wanted = lines_of(told)
            wanted["cut"] = shapely.MultiLineString([*wanted["cut"].geoms, edge["cut"]])
            assert beyond(drawn, wanted, half) == {}
            # ... which is the exact one, with its layers or without, as far as rounded panels in
            # a row may drift.
            wrong = []
            for net in nets:
                drift = max(DRIFT, len(net.net.panels) / 2) * ruler.step + LAYERS * net.net.caliper
                drift *= 2 if NOT_NEAREST.search(notes) or UNEVEN.search(notes) else 1
                wanted = lines_of(net)
                missing = beyond(wanted, drawn, drift)
                wanted["cut"] = shapely.MultiLineString([*wanted["cut"].geoms, edge["cut"]])
                wrong.append(
                    (missing, beyond(drawn, wanted, drift), uneven(own, net, notes, ruler))
                )
            assert any(not any(each) for each in wrong), (told.name, wrong)
            check_told_once(own)
            assert len(own.holes) == sum(
                is_hole(f) for panel in nets[0].net.panels for f in panel.features
            )
    assert len(set(page.assembly)) == len(page.assembly)


def is_hole(feature: Feature) -> bool:
    """Whether it is marked by its middle."""
    return feature.work in (Work.PUNCH, Work.WINDOW) and all(feature.path.bulges)


def layered(box: Box, ruler: Ruler) -> Iterator[Box]:
    """The box, and as its style makes it with steps between layers that the ruler shows, or with
    none, its sizes as they were."""
    yield box
    assert box.origin is not None
    style, dims, card = box.origin.style, box.origin.dims, box.origin.card
    for coarse in (ruler.step, math.inf):
        with suppress(StyleError):
            yield build(style, dims, card.each(partial(replace, coarse=coarse)))


def uneven(made: Made, exact: Blank, notes: str, ruler: Ruler) -> list[tuple[str, float]]:
    """Panels whose width or height is off by more than a division, and by how much. Tabs are left
    out, which are as long as layers leave them, and all of a blank of which the page says so."""
    if UNEVEN.search(notes) or NOT_NEAREST.search(notes):
        return []
    lines = shapely.union_all(list(made_of(made).values())).buffer(PENCIL)
    parts = shapely.get_parts(shapely.box(0, 0, *made.size).difference(lines))
    faces = [part.buffer(PENCIL) for part in parts]
    left = min(stroke.path.bounds[0] for stroke in exact.borders)
    top = max(stroke.path.bounds[3] for stroke in exact.borders)
    found = []
    for panel in exact.net.panels:
        if panel.role is Role.GLUE_TAB:
            continue
        outline = shapely.Polygon([(x - left, top - y) for x, y in panel.outline.points(FINE)])
        own = [f for f in faces if f.intersection(outline).area > f.area / 2]
        own_shape = shapely.union_all(own)
        if own_shape.intersection(outline).area < ALIKE * own_shape.union(outline).area:
            continue  # small, and too far along a row to be told from its neighbours
        (x0, y0, x1, y1), (u0, v0, u1, v1) = outline.bounds, own_shape.bounds
        off = max(abs(x1 - x0 - u1 + u0), abs(y1 - y0 - v1 + v0))
        # A curve may stand out by half a division more than its ends.
        curve = ruler.step / 2 if any(panel.outline.bulges) else 0.0
        if not off <= ruler.step + curve + 2 * exact.net.caliper + NEAR:
            found.append((panel.name, off))
    return found


def check_told_once(made: Made) -> None:
    """No line is told twice, and every hole is somewhere else."""
    for kind in {kind for kind, _, _ in made.lines}:
        straight = [line for each, line, curved in made.lines if each == kind and not curved]
        length = sum(line.length for line in straight)
        assert shapely.union_all(straight).length == pytest.approx(length, abs=NEAR), kind
    places = [(middle.x, middle.y) for _, middle, _ in made.holes]
    assert len(set(places)) == len(places)


INCHES = Spread(sizes=(20.0, 160.0), options=40.0, calipers=(0.2, 0.8), unit="in")
MILLIMETRES = replace(INCHES, unit="mm")


@pytest.mark.parametrize("ruler", ASKED.values(), ids=list(ASKED))
@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
@settings(trying(PAGES or 1), phases=(Phase.explicit, Phase.generate), derandomize=not PAGES)
@given(data=st.data())
def test_a_reader_of_the_page_makes_the_net(
    style: Style, ruler: Ruler, data: st.DataObject
) -> None:
    """Trimmed, scored, cut and marked as the page says, with its ruler alone, a blank carries the
    net's lines and holes, all of them and no other, and nothing is told twice."""
    spread = INCHES if ruler.unit == "in" else MILLIMETRES
    box = data.draw(boxes(style, spread))
    job = a_job(box, ruler.unit)
    guide, page = a_page(job, ruler)

    check_page(read(page), guide, job)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_reader_makes_the_samples(path: Path) -> None:
    """Several boxes, letters, art and facings on a page, all told with one ruler."""
    job = read_job(path)
    guide, page = a_page(job, usual_ruler(job.unit))

    check_page(read(page), guide, job)


@pytest.mark.parametrize("punched", ["hang-tag", "gable-carton"])
def test_holes_are_told_once(punched: str) -> None:
    """A hole of 5.4 mm is 3 sixteenths and a half: it is told as 3/16 in wherever it is told, where
    it lies with its blank alone, and punched when the assembly says so, whatever a machine does."""
    style = style_named(punched)
    box = RandomBox(style, style.dimensions(punch=5.4), Card(0.3), ())
    job = a_job(box, "in")
    told = read(a_page(job, RULERS["1/16in"])[1])

    assert len(re.findall(r"\bpunch the holes\b", told.words, re.IGNORECASE)) == 1
    assert "middle" not in told.words.replace("Only mark the middle of every hole now", "")
    assert "machine" not in told.words
    (size,) = {across for blank in told.blanks for _, _, across in blank.holes}
    assert re.findall(r"punch the holes \((.*?)\)", told.words, re.IGNORECASE) == ["3/16 in"]
    assert size == pytest.approx(3 * 25.4 / 16)


def test_a_wrong_page_would_be_noticed() -> None:
    """A score a sixteenth off, a span or a hole left out, a face mistaken, half a division, a line
    told twice: each shows."""
    style = style_named("gable-carton")
    job = a_job(RandomBox(style, style.dimensions(punch=5.4), Card(0.3), ()), "in")
    guide, page = a_page(job, RULERS["1/16in"])
    check_page(read(page), guide, job)
    text = page.decode()
    row = re.search(r"<tr>\s*<td class=\"number\">([^<]*)</td>\s*<td>[^<]*</td>\s*</tr>", text)
    assert row is not None
    hole = re.search(r"<tr>\s*<td>front ridge</td>.*?</tr>", text, re.DOTALL)
    assert hole is not None
    for wrong in (
        text.replace(row[0], row[0].replace(row[1], f"{row[1].split()[0]} 1/32")),
        text.replace(row[0], row[0].replace(row[1], "3/16")),
        text.replace(row[0], ""),
        text.replace(row[0], row[0] * 2),
        text.replace(hole[0], "", 1),
        text.replace("Score on the outside", "Score on the inside", 1),
        text.replace("Turn it a quarter to the left", "Turn it a quarter to the right", 1),
        text.replace("0.012 in", "0.3 mm"),
    ):
        assert wrong != text
        with pytest.raises(AssertionError):
            check_page(read(wrong.encode()), guide, job)
