"""Printed sheets read back by two programs that did not write them: PDFium and Poppler.

Optional content is checked by the rules of ISO 32000-2, 8.11, processing steps by the names in
ISO 19593-1:2018 as the PDF Association's object model ("Arlington") gives them.
"""

from __future__ import annotations

import io
import math
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Literal

import numpy as np
import pikepdf
import pypdfium2
import pytest
import shapely
from PIL import Image
from shapely.geometry.base import BaseGeometry

from cutlayers.artwork.regions import area_of, moved
from cutlayers.formats.pdf import PrintPage, write_pdf
from cutlayers.formats.print_png import write_print_png
from cutlayers.geometry.segments import Bounds
from cutlayers.making.make import draw, plan
from cutlayers.making.printing import print_page
from cutlayers.making.stages import Layout
from cutlayers.net import Role
from cutlayers.profile.output import RegisterPlan
from cutlayers.sheets.model import RegisterMark, Sheet
from tests.printed import EVERY_KIND, every_kind, machine, planned, table

DPI = 400
PER_MM = DPI / 25.4

MarkShape = Literal["target", "dot", "corner", "none"]

Paint = Callable[[bytes, Path], np.ndarray]


def by_pdfium(content: bytes, _folder: Path) -> np.ndarray:
    document = pypdfium2.PdfDocument(content)
    page = document[0]
    # PDFium stretches a page onto whole pixels, so it is given one that has a whole number.
    width, height = (math.ceil(side / 72 * DPI) for side in page.get_size())
    top = page.get_size()[1]
    page.set_mediabox(0, top - (height - 1e-3) * 72 / DPI, (width - 1e-3) * 72 / DPI, top)
    image = page.render(scale=DPI / 72).to_pil().convert("RGB")
    document.close()
    return np.asarray(image)


def by_poppler(content: bytes, folder: Path) -> np.ndarray:
    if shutil.which("pdftoppm") is None:
        pytest.skip("Poppler is not installed")
    (folder / "sheet.pdf").write_bytes(content)
    run = subprocess.run(
        ["pdftoppm", "-r", str(DPI), "-singlefile", "sheet.pdf", "sheet"],
        cwd=folder,
        capture_output=True,
        text=True,
        check=True,
    )
    assert run.stderr == ""
    return np.asarray(Image.open(folder / "sheet.ppm").convert("RGB"))


PAINTERS = pytest.mark.parametrize("paint", [by_pdfium, by_poppler])


def sheet_and_page() -> tuple[Sheet, PrintPage]:
    work = every_kind()
    (sheet,) = work.sheets
    return sheet, print_page("Printed", sheet, work.inks[1], machine())


@cache
def marked(shape: MarkShape, count: int) -> tuple[RegisterPlan, Layout]:
    """The printed job with other marks, planned once for both programs."""
    register = RegisterPlan(shape=shape, count=count)
    return register, planned(table(*EVERY_KIND), machine(register))


def around(mark: RegisterMark, reach: float) -> tuple[float, float, float, float]:
    x, y = mark.centre
    return x - reach, y - reach, x + reach, y + reach


def ink(picture: np.ndarray, box: Bounds, height: float, beyond: float = -1.0) -> np.ndarray:
    """(n, 3): x, y in mm and darkness 0…1 of the pixels within a box that are darker than that."""
    left, bottom, right, top = box
    first = int(left * PER_MM), int((height - top) * PER_MM)
    part = picture[
        first[1] : int((height - bottom) * PER_MM) + 1, first[0] : int(right * PER_MM) + 1
    ]
    dark = 1 - part.min(axis=2) / 255.0
    rows, columns = np.nonzero(dark > beyond)
    x, y = (columns + first[0] + 0.5) / PER_MM, height - (rows + first[1] + 0.5) / PER_MM
    return np.column_stack([x, y, dark[rows, columns]])


@PAINTERS
@pytest.mark.parametrize("shape", ["target", "dot"])
def test_marks_are_where_the_register_layer_has_them(
    paint: Paint, shape: MarkShape, tmp_path: Path
) -> None:
    """The centre of gravity of a mark's ink, which is symmetric, lies within 0.05 mm."""
    register, work = marked(shape, 5)
    (sheet,) = work.sheets
    picture = paint(write_pdf(print_page("a", sheet, work.inks[1], machine(register))), tmp_path)
    (side,) = draw(plan(work)).sides
    (layer,) = (each for each in side.drawing.layers if each.name == "register")

    assert len(sheet.marks) == 5
    for mark in sheet.marks:
        found = ink(picture, around(mark, 4.5), sheet.height)
        centre = (found[:, :2] * found[:, 2:]).sum(axis=0) / found[:, 2].sum()
        drawn = [path.bounds for path in layer.paths if math.dist(path.start, mark.centre) < 6]
        left, bottom, right, top = shapely.union_all([shapely.box(*each) for each in drawn]).bounds

        assert math.dist(centre, ((left + right) / 2, (bottom + top) / 2)) < 0.05


@PAINTERS
def test_corner_ticks_meet_where_the_register_layer_has_them(paint: Paint, tmp_path: Path) -> None:
    """Two legs 0.3 mm wide: the far edges of the ink, less half its width, are the corner."""
    register, work = marked("corner", 3)
    (sheet,) = work.sheets
    picture = paint(write_pdf(print_page("a", sheet, work.inks[1], machine(register))), tmp_path)

    for mark in sheet.marks:
        found = ink(picture, around(mark, 4.5), sheet.height)
        dark = found[found[:, 2] > 0.5]
        x, y = mark.centre
        half = 0.15 - 0.5 / PER_MM
        corner = (
            dark[:, 0].max() - half if x < sheet.width / 2 else dark[:, 0].min() + half,
            dark[:, 1].max() - half if y < sheet.height / 2 else dark[:, 1].min() + half,
        )
        assert math.dist(corner, (x, y)) < 0.05


@PAINTERS
def test_art_stays_inside_cut_and_bleed(paint: Paint, tmp_path: Path) -> None:
    """Every inked pixel lies on a panel with art or within 3 mm of one, and never on a panel
    without, but for the glue tabs beside them; all of each coloured panel is inked."""
    sheet, page = sheet_and_page()
    picture = paint(write_pdf(replace(page, ink=page.ink[:1])), tmp_path)
    whole = (0.1, 0.1, sheet.width - 0.1, sheet.height - 0.1)
    inked = ink(picture, whole, sheet.height, beyond=0.02)
    (placed,) = sheet.placed
    net = placed.piece.net
    areas = {p.name: moved(area_of(p.outline), placed.place) for p in net.panels}
    walls = shapely.union_all([areas[p.name] for p in net.panels if p.role is not Role.GLUE_TAB])
    spread = [areas[name] for name in ("front", "back", "base")]
    pixel = 1.5 / PER_MM

    allowed = shapely.union_all([walls, *(area.buffer(3.0) for area in spread)]).buffer(pixel)
    shapely.prepare(allowed)
    assert shapely.contains_xy(allowed, inked[:, 0], inked[:, 1]).all()
    for name in ("front", "back"):
        inside: BaseGeometry = areas[name].buffer(-0.1)
        if name == "front":  # white letters stand on it
            inside = inside.difference(areas[name].buffer(-2.9))
        shapely.prepare(inside)
        dots = ink(picture, inside.bounds, sheet.height)
        there = dots[shapely.contains_xy(inside, dots[:, 0], dots[:, 1])]
        assert len(there) > 1000
        assert (there[:, 2] > 0.02).all()
    bleed = shapely.union_all(spread).buffer(2.9).difference(walls.buffer(0.1))
    shapely.prepare(bleed)
    assert shapely.contains_xy(bleed, inked[:, 0], inked[:, 1]).any()


@PAINTERS
def test_the_check_rule_is_100_mm_long(paint: Paint, tmp_path: Path) -> None:
    """From its first tick to the one at 4 inches, 101.6 mm, on the print itself."""
    _, page = sheet_and_page()
    notes = page.ink[2]
    picture = paint(write_pdf(replace(page, ink=(notes,))), tmp_path)
    (rule, _, standing, _) = notes.items[:4]
    for paint_, axis in ((rule, 0), (standing, 1)):
        points = np.array([p for c in paint_.contours for p in c.points])  # type: ignore[union-attr]
        low, high = points.min(axis=0), points.max(axis=0)
        found = ink(picture, (low[0] - 1, low[1] - 1, high[0] + 0.5, high[1] + 0.5), page.height)
        dark = found[found[:, 2] > 0.5][:, axis]

        assert high[axis] - low[axis] == pytest.approx(101.6)
        assert dark.max() - dark.min() - (0.15 - 1 / PER_MM) == pytest.approx(101.6, abs=0.06)


@PAINTERS
def test_the_box_has_its_size_when_the_cut_layer_is_shown(paint: Paint, tmp_path: Path) -> None:
    """A tray of 60 × 40 × 25 inside, card 0.3: 60.3 + 2·25.15 by 40.3 + 2·25.15 over the walls
    (creases at half a caliper)."""
    sheet, page = sheet_and_page()
    hidden = pikepdf.open(io.BytesIO(write_pdf(replace(page, ink=()))))
    setting = hidden.Root.OCProperties.D
    setting.OFF = pikepdf.Array(
        [group for group in hidden.Root.OCProperties.OCGs if not str(group.Name).startswith("cut")]
    )
    out = io.BytesIO()
    hidden.save(out)
    picture = paint(out.getvalue(), tmp_path)

    whole = (0.1, 0.1, sheet.width - 0.1, sheet.height - 0.1)
    dark = ink(picture, whole, sheet.height, beyond=0.5)
    # From a line's outer edge to the other's: 0.25 mm wide, less a pixel from middle to middle.
    spans = np.ptp(dark[:, :2], axis=0) - 0.25 + 1 / PER_MM

    assert sorted(spans) == pytest.approx([40.3 + 50.3, 60.3 + 50.3], abs=0.05)


def test_optional_content_follows_the_standard() -> None:
    """ISO 32000-2, 8.11: every group listed once, in an order to be shown, and named where it is
    used; none both on and off; the file says 1.5 or later."""
    pdf = pikepdf.open(io.BytesIO(write_pdf(sheet_and_page()[1])))
    properties = pdf.Root.OCProperties
    groups = list(properties.OCGs)
    page = pdf.pages[0]
    used = [
        page.Resources.Properties[str(each.operands[1])]
        for each in pikepdf.parse_content_stream(page)
        if str(each.operator) == "BDC"
    ]

    assert pdf.pdf_version >= "1.5"
    assert [group.Type for group in groups] == ["/OCG"] * len(groups)
    assert all(group.is_indirect for group in groups)
    assert [group.objgen for group in used] == [group.objgen for group in groups]
    assert [group.objgen for group in properties.D.Order] == [g.objgen for g in groups]
    assert properties.D.BaseState == "/ON"
    assert "/ON" not in properties.D
    stream = [str(each.operator) for each in pikepdf.parse_content_stream(page)]
    assert stream.count("BDC") == stream.count("EMC") == len(groups)
    for i, operator in enumerate(stream):
        if operator == "BDC":
            assert stream[i + 1 : i + 5] == ["q", "Do", "Q", "EMC"]


def test_processing_steps_are_declared() -> None:
    """GTS_Metadata with group and type on the structural layers, hidden and never printed; none on
    what is printed."""
    pdf = pikepdf.open(io.BytesIO(write_pdf(sheet_and_page()[1])))
    off = [group.objgen for group in pdf.Root.OCProperties.D.OFF]
    steps = {}
    for group in pdf.Root.OCProperties.OCGs:
        data = group.get("/GTS_Metadata")
        if data is not None:
            steps[str(group.Name)] = (str(data.GTS_ProcStepsGroup), str(data.GTS_ProcStepsType))
            assert group.objgen in off
            assert group.Usage.Print.PrintState == "/OFF"
        else:
            assert group.objgen not in off

    assert steps == {
        "score (not printed)": ("/Structural", "/Creasing"),
        "cut (not printed)": ("/Structural", "/Cutting"),
    }


def test_the_png_shows_what_the_pdf_shows() -> None:
    """The PNG and Poppler's painting of the PDF differ by the smoothing of edges alone."""
    content = write_pdf(sheet_and_page()[1])
    png = Image.open(io.BytesIO(write_print_png(content, DPI))).convert("L")
    other = Image.fromarray(by_pdfium(content, Path())).convert("L").crop((0, 0, *png.size))

    apart = np.abs(np.asarray(png, dtype=int) - np.asarray(other, dtype=int))

    assert png.info.get("dpi", (DPI,))[0] == pytest.approx(DPI, abs=0.1)
    assert (apart > 128).mean() < 1e-3


@pytest.mark.parametrize(("sheet", "size"), [("A4", (210.0, 297.0)), ("12x12 in", (304.8, 304.8))])
def test_a_png_is_true_to_size(sheet: str, size: tuple[float, float]) -> None:
    """Marks at opposite ends of the sheet are as many pixels apart as mm times dpi / 25.4, also
    where the sheet is no whole number of pixels (A4 at 300 dpi: 2480.3)."""
    work = planned(table(*EVERY_KIND, sheet=sheet))
    (placed,) = work.sheets
    content = write_pdf(print_page("a", placed, work.inks[1], machine()))
    picture = np.asarray(Image.open(io.BytesIO(write_print_png(content, 300))).convert("L"))
    per_mm = 300 / 25.4

    for mark in placed.marks:
        left, bottom, right, top = mark.keep_out
        rows = np.arange(int((size[1] - top) * per_mm), int((size[1] - bottom) * per_mm))
        columns = np.arange(int(left * per_mm), int(right * per_mm))
        dark = 255.0 - picture[np.ix_(rows, columns)]
        x = ((columns + 0.5) * dark.sum(axis=0)).sum() / dark.sum() / per_mm
        y = size[1] - ((rows + 0.5) * dark.sum(axis=1)).sum() / dark.sum() / per_mm

        assert math.dist((x, y), mark.centre) < 0.01
