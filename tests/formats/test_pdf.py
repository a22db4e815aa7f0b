from __future__ import annotations

import io
import re
from dataclasses import replace

import pikepdf
import pytest

from cutlayers.artwork.ink import Contour, Figure, InkLayer, Paint, Raster, Stamp
from cutlayers.formats.drawing import Layer
from cutlayers.formats.pdf import PrintPage, WorkLayer, write_pdf
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Transform
from cutlayers.making.printing import print_page
from tests.printed import every_kind, machine

POINT = 72 / 25.4


def cut(name: str = "cut") -> WorkLayer:
    paths = (Path.rectangle(40, 20, (10, 10)), Path.circle((30, 20), 5))
    return WorkLayer(Layer(name, "cut", "#0072B2", 142, paths), "Cutting")


def page(*items: Paint | Stamp, work: tuple[WorkLayer, ...] = ()) -> PrintPage:
    return PrintPage("Soap", 100.0, 50.0, (InkLayer("art", "art", items),), work)


def opened(content: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(content))


def whole() -> PrintPage:
    work = every_kind()
    (sheet,) = work.sheets
    return print_page("Printed", sheet, work.inks[1], machine())


def test_the_page_is_the_sheet() -> None:
    """A4 is 595.2756 × 841.8898 points (ISO 216); nothing is trimmed off it."""
    pdf = opened(write_pdf(whole()))
    first = pdf.pages[0]

    expected = pytest.approx([0, 0, 595.2756, 841.8898], abs=1e-3)
    assert [float(side) for side in first.MediaBox] == expected
    assert [float(side) for side in first.TrimBox] == expected


def test_the_same_page_gives_the_same_bytes() -> None:
    """No clock, no random id, no order of a set."""
    assert write_pdf(whole()) == write_pdf(whole())


def test_nothing_is_wrong_with_the_file() -> None:
    """Asked of the library's own checker of syntax and structure."""
    assert opened(write_pdf(whole())).check_pdf_syntax() == []


def test_viewers_are_asked_not_to_scale() -> None:
    """ISO 32000-1, table 150: PrintScaling None."""
    assert opened(write_pdf(page())).Root.ViewerPreferences.PrintScaling == "/None"


def test_a_coordinate_is_where_it_was_drawn() -> None:
    """10 mm are 28.3465 points: the page's matrix times the numbers in the stream."""
    pdf = opened(
        write_pdf(
            page(
                Paint(
                    (Contour.of(Path.line((10, 20), (30, 20))),), stroke="#000000", line_width=0.3
                )
            )
        )
    )
    matrix = pikepdf.parse_content_stream(pdf.pages[0])[1].operands
    form = pdf.pages[0].Resources.XObject["/F0"].read_bytes().decode()

    assert [float(part) for part in matrix] == pytest.approx([POINT, 0, 0, POINT, 0, 0], abs=1e-6)
    assert "10 20 m\n30 20 l\nS" in form


def test_arcs_are_round() -> None:
    """Points along the curves of a circle of radius 30 lie on it within 0.2 µm."""
    contour = Contour.of(Path.circle((0, 0), 30))
    start = contour.start
    for edge in contour.edges:
        one, two, end = edge
        for t in (0.25, 0.5, 0.75):
            weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
            x, y = (
                sum(w * point[i] for w, point in zip(weights, (start, one, two, end), strict=True))
                for i in (0, 1)
            )
            assert (x * x + y * y) ** 0.5 == pytest.approx(30, abs=2e-4)
        start = end


def test_a_picture_is_put_in_once() -> None:
    """However often it is stamped."""
    raster = Raster(2, 1, 3, b"\xff\x00\x00\x00\xff\x00", alpha=b"\xff\x80")
    places = tuple(Transform(xx=5, dx=6 * i, yy=5) for i in range(10))

    pdf = opened(write_pdf(page(Stamp(raster, places), Stamp(raster, places[:1]))))

    images = [
        each
        for each in pdf.objects
        if isinstance(each, pikepdf.Stream) and each.get("/Subtype") == "/Image"
    ]
    assert len(images) == 2  # the picture and its opacity
    (colour,) = (each for each in images if each.ColorSpace == "/DeviceRGB")
    assert colour.read_bytes() == raster.samples
    assert colour.SMask.read_bytes() == raster.alpha


def test_a_jpeg_is_packed_as_it_is() -> None:
    """Its bytes are the photographer's own."""
    raster = Raster(2, 1, 3, b"\xff\xd8 any \xff\xd9", is_jpeg=True)

    pdf = opened(write_pdf(page(Stamp(raster, (Transform(),)))))

    (image,) = (
        each
        for each in pdf.objects
        if isinstance(each, pikepdf.Stream) and each.get("/Subtype") == "/Image"
    )
    assert image.Filter == "/DCTDecode"
    assert image.read_raw_bytes() == raster.samples


def test_vector_art_stays_vector() -> None:
    """A figure is a form of path operators; no picture of pixels is in the file."""
    figure = Figure(4, 2, (Paint((Contour.polygon(((0, 0), (4, 0), (2, 2))),), fill="#B5232F"),))

    pdf = opened(write_pdf(page(Stamp(figure, (Transform(xx=40, yy=20),)))))

    streams = [each for each in pdf.objects if isinstance(each, pikepdf.Stream)]
    assert not any(each.get("/Subtype") == "/Image" for each in streams)
    assert any(b"0 0 m\n4 0 l\n2 2 l\nh\nf" in each.read_bytes() for each in streams)


def test_work_lines_are_bare_paths_in_a_spot_colour_of_their_own() -> None:
    """Moves, lines, curves and strokes; a Separation that no art uses, set to overprint."""
    pdf = opened(write_pdf(page(work=(cut(),))))
    form = pdf.pages[0].Resources.XObject["/F1"]

    operators = {str(each.operator) for each in pikepdf.parse_content_stream(form)}

    assert operators <= {"CS", "SCN", "gs", "w", "J", "j", "m", "l", "c", "h", "S"}
    assert form.Resources.ColorSpace["/Spot0"][:2] == [pikepdf.Name.Separation, pikepdf.Name.cut]
    assert form.Resources.ExtGState["/GOverprint"].OP == True  # noqa: E712


@pytest.mark.parametrize("name", ["All", "None", "black", "Cyan"])
def test_a_spot_colour_is_never_a_process_colour(name: str) -> None:
    """ISO 32000-1, 8.6.6.4: these names are not spot colours."""
    pdf = opened(write_pdf(page(work=(cut(name),))))

    spot = pdf.pages[0].Resources.XObject["/F1"].Resources.ColorSpace["/Spot0"][1]

    assert str(spot) == f"/{name}-line"


def test_the_printers_scale_is_in_the_matrix_alone() -> None:
    """A correction by 100/99.5 across about the middle of the sheet: x = 50 stays, 0 moves out."""
    scale = 100 / 99.5
    onto = Transform(xx=scale, dx=50 * (1 - scale))

    pdf = opened(write_pdf(replace(page(), onto_print=onto)))

    matrix = [float(each) for each in pikepdf.parse_content_stream(pdf.pages[0])[1].operands]
    assert matrix[0] * 50 + matrix[4] == pytest.approx(50 * POINT, abs=1e-4)
    assert matrix[4] == pytest.approx(50 * (1 - scale) * POINT, abs=1e-4)
    assert [float(side) for side in pdf.pages[0].MediaBox[2:]] == pytest.approx(
        [100 * POINT, 50 * POINT], abs=1e-3
    )


def test_no_number_is_written_with_an_exponent() -> None:
    """PDF has none (ISO 32000-1, 7.3.3)."""
    pdf = opened(write_pdf(whole()))

    for stream in pdf.objects:
        if isinstance(stream, pikepdf.Stream) and stream.get("/Subtype") != "/Image":
            assert not re.search(rb"\d[eE][-+]?\d", stream.read_bytes())
