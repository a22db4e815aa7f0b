"""PDF files to print: a page as large as the sheet, every layer an optional content group.

Ink layers are shown and printed. The lines to be worked are there too, for eyes and programs
that know what they are, but hidden and never printed; each says which step it is in the terms of
ISO 19593-1:2018, in a spot colour of its own that overprints.

Sources: ISO 32000-1 and 32000-2, 8.11 (optional content), 8.6.6.4 (Separation), 8.9 (images),
14.11.2 (page boundaries); ISO 19593-1:2018 (GTS_Metadata of an optional content group).
"""

from __future__ import annotations

import io
import zlib
from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from cutlayers.artwork.ink import Content, Contour, Figure, InkLayer, Paint, Raster, Stamp
from cutlayers.formats.drawing import Layer
from cutlayers.formats.svg import number
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Transform

POINTS_PER_MM = 72.0 / 25.4
"""ISO 32000-1, 8.3.2.3: the default unit is 1/72 inch."""

DECIMALS = 4
"""In mm inside the page: 0.1 µm."""

WORK_LINE = 0.25
"""mm; line width of the layers to be worked, seen when they are switched on."""

TRUE_SIZE = Transform()

PROCESS_NAMES = ("all", "none", "cyan", "magenta", "yellow", "black")
"""Spot colours of these names would not be spot colours (ISO 32000-1, 8.6.6.4)."""

ProcessStep = Literal["Cutting", "Creasing", "Perforating"]
"""Types of the group Structural in ISO 19593-1 that our operations are."""


@frozen
class WorkLayer:
    """Lines to be worked and the step they are; None where the standard has no type for it."""

    layer: Layer
    step: ProcessStep | None


@frozen
class PrintPage:
    """One sheet to print. Sizes and places are mm, y up, the lower left corner the origin.

    `onto_print` carries every layer onto the page: the identity, or a correction of the
    printer's scale.
    """

    title: str
    width: float
    height: float
    ink: tuple[InkLayer, ...]
    work: tuple[WorkLayer, ...] = ()
    onto_print: Transform = TRUE_SIZE


def write_pdf(page: PrintPage) -> bytes:
    """Write a PDF of one page; the same page gives the same bytes.

    The viewer is asked to print without scaling.
    """
    pdf = Pdf.new()
    size = Array([0, 0, _points(page.width), _points(page.height)])
    root = pdf.add_blank_page()
    root.obj.MediaBox = size
    root.obj.TrimBox = size
    writer = _Writer(pdf)
    layers = [
        *((layer.name, layer.title, None, writer.ink(layer)) for layer in page.ink),
        *(
            (each.layer.name, f"{each.layer.title} (not printed)", each, writer.work(each))
            for each in page.work
        ),
    ]
    content = [f"q {_matrix(Transform(xx=POINTS_PER_MM, yy=POINTS_PER_MM) @ page.onto_print)} cm"]
    groups, forms, properties = [], Dictionary(), Dictionary()
    for i, (_, title, work, body) in enumerate(layers):
        group = pdf.make_indirect(_group(title, work))
        groups.append(group)
        form = Stream(pdf, body)
        form.stream_dict = Dictionary(
            Type=Name.XObject,
            Subtype=Name.Form,
            BBox=Array([0, 0, page.width, page.height]),
            Resources=writer.resources(),
        )
        forms[f"/F{i}"] = pdf.make_indirect(form)
        properties[f"/L{i}"] = group
        # Graphics state set in a hidden layer would still act: each stands between q and Q.
        content.append(f"/OC /L{i} BDC q /F{i} Do Q EMC")
    content.append("Q")
    root.obj.Resources = Dictionary(XObject=forms, Properties=properties)
    root.obj.Contents = pdf.make_indirect(Stream(pdf, "\n".join(content).encode()))
    hidden = groups[len(page.ink) :]
    pdf.Root.OCProperties = _optional_content(groups, hidden)
    pdf.Root.ViewerPreferences = Dictionary(PrintScaling=Name("/None"), DisplayDocTitle=True)
    pdf.trailer.Info = pdf.make_indirect(Dictionary(Title=String(page.title)))
    out = io.BytesIO()
    pdf.save(out, deterministic_id=True, compress_streams=True, min_version="1.7")
    return out.getvalue()


def _group(title: str, work: WorkLayer | None) -> Dictionary:
    group = Dictionary(Type=Name.OCG, Name=String(title))
    if work is not None:
        group.Usage = Dictionary(
            Print=Dictionary(PrintState=Name.OFF), Export=Dictionary(ExportState=Name.ON)
        )
    if work is not None and work.step is not None:
        group.GTS_Metadata = Dictionary(
            GTS_ProcStepsGroup=Name.Structural, GTS_ProcStepsType=Name(f"/{work.step}")
        )
    return group


def _optional_content(
    groups: Sequence[pikepdf.Object], hidden: Sequence[pikepdf.Object]
) -> Dictionary:
    # Without Order a viewer lists no layers at all (ISO 32000-2, 8.11.4.3).
    setting = Dictionary(
        Name=String("print"), BaseState=Name.ON, Order=Array(groups), OFF=Array(hidden)
    )
    if hidden:
        setting.AS = Array(
            [Dictionary(Event=Name.Print, Category=Array([Name.Print]), OCGs=Array(hidden))]
        )
    return Dictionary(OCGs=Array(groups), D=setting)


class _Writer:
    """Content streams, and the resources that they name."""

    def __init__(self, pdf: Pdf) -> None:
        self._pdf = pdf
        self._contents: dict[int, tuple[str, Content]] = {}
        self._objects = Dictionary()
        self._states = Dictionary()
        self._spaces = Dictionary()

    def resources(self) -> Dictionary:
        """What streams written so far may name."""
        found = Dictionary()
        for key, part in (
            ("/XObject", self._objects),
            ("/ExtGState", self._states),
            ("/ColorSpace", self._spaces),
        ):
            if part.keys():
                found[key] = part
        return found

    def ink(self, layer: InkLayer) -> bytes:
        """The operators of an ink layer."""
        lines: list[str] = []
        for item in layer.items:
            if isinstance(item, Paint):
                lines.extend(self._paint(item))
            else:
                lines.extend(self._stamp(item))
        return "\n".join(lines).encode()

    def work(self, work: WorkLayer) -> bytes:
        """The operators of a layer to be worked: bare lines in a spot colour."""
        layer = work.layer
        space = f"/Spot{len(self._spaces.keys())}"
        self._spaces[space] = _spot_colour(layer.name, layer.colour)
        state = self._state("Overprint", Dictionary(OP=True, op=True, OPM=1))
        lines = [f"{space} CS 1 SCN {state} gs {number(WORK_LINE)} w 1 J 1 j"]
        for path in layer.paths:
            lines.extend((*_contour(Contour.of(path)), "S"))
        return "\n".join(lines).encode()

    def _paint(self, paint: Paint) -> Iterator[str]:
        yield "q"
        yield from _clip(paint.clip)
        if paint.fill_opacity < 1.0 or paint.stroke_opacity < 1.0:
            ca, stroke_ca = round(paint.fill_opacity, 4), round(paint.stroke_opacity, 4)
            yield f"{self._state(f'A{ca}-{stroke_ca}', Dictionary(ca=ca, CA=stroke_ca))} gs"
        if paint.fill:
            yield f"{_colour(paint.fill)} rg"
        if paint.stroke:
            yield f"{_colour(paint.stroke)} RG {number(paint.line_width)} w"
            yield f"{paint.cap} J {paint.join} j {number(paint.mitre_limit)} M"
            if paint.dash:
                dash = " ".join(map(number, paint.dash))
                yield f"[{dash}] {number(paint.dash_offset)} d"
        for contour in paint.contours:
            yield from _contour(contour)
        # f and S, with the star for even-odd (ISO 32000-1, table 60).
        star = "*" if paint.even_odd else ""
        if paint.fill and paint.stroke:
            yield f"B{star}"
        elif paint.fill:
            yield f"f{star}"
        else:
            yield "S" if paint.stroke else "n"
        yield "Q"

    def _stamp(self, stamp: Stamp) -> Iterator[str]:
        name = self._content(stamp.content)
        yield "q"
        yield from _clip(stamp.clip)
        for place in stamp.places:
            yield f"q {_matrix(place)} cm {name} Do Q"
        yield "Q"

    def _content(self, content: Content) -> str:
        """The name of a picture; the same one is put into the file once."""
        if id(content) not in self._contents:
            name = f"/X{len(self._contents)}"
            if isinstance(content, Figure):
                stream = self._figure(content)
            else:
                stream = _raster(self._pdf, content)
            self._objects[name] = self._pdf.make_indirect(stream)
            # The content is kept with its name, so that its id cannot come to mean another.
            self._contents[id(content)] = (name, content)
        return self._contents[id(content)][0]

    def _figure(self, figure: Figure) -> Stream:
        lines = [line for paint in figure.paints for line in self._paint(paint)]
        stream = Stream(self._pdf, "\n".join(lines).encode())
        stream.stream_dict = Dictionary(
            Type=Name.XObject,
            Subtype=Name.Form,
            BBox=Array([0, 0, figure.width, figure.height]),
            # Onto the unit square, as images lie.
            Matrix=Array([1 / figure.width, 0, 0, 1 / figure.height, 0, 0]),
            Resources=Dictionary(ExtGState=self._states),
        )
        return stream

    def _state(self, name: str, state: Dictionary) -> str:
        key = f"/G{name.replace('.', '_')}"
        if key not in self._states:
            self._states[key] = state
        return key


def _raster(pdf: Pdf, raster: Raster) -> Stream:
    space = Name.DeviceGray if raster.channels == 1 else Name.DeviceRGB
    data = raster.samples if raster.is_jpeg else zlib.compress(raster.samples, 6)
    stream = Stream(pdf, b"")
    stream.write(data, filter=Name.DCTDecode if raster.is_jpeg else Name.FlateDecode)
    stream.Type, stream.Subtype = Name.XObject, Name.Image
    stream.Width, stream.Height = raster.width, raster.height
    stream.ColorSpace, stream.BitsPerComponent = space, 8
    stream.Interpolate = True
    if raster.alpha is not None:
        grey = Raster(raster.width, raster.height, 1, raster.alpha)
        stream.SMask = pdf.make_indirect(_raster(pdf, grey))
    return stream


def _spot_colour(name: str, colour: str) -> Array:
    """A separation that shows as the layer's colour: the tint runs from paper to it."""
    tint = Dictionary(
        FunctionType=2,
        Domain=Array([0, 1]),
        C0=Array([1, 1, 1]),
        C1=Array([round(part, 4) for part in _parts(colour)]),
        N=1,
    )
    spot = f"{name}-line" if name.lower() in PROCESS_NAMES else name
    return Array([Name.Separation, Name(f"/{spot}"), Name.DeviceRGB, tint])


def _clip(contours: Iterable[Contour]) -> Iterator[str]:
    lines = [line for contour in contours for line in _contour(contour)]
    if lines:
        yield from lines
        yield "W* n"


def _contour(contour: Contour) -> Iterator[str]:
    yield f"{_pair(contour.start)} m"
    for edge in contour.edges:
        yield f"{' '.join(map(_pair, edge))} {'l' if len(edge) == 1 else 'c'}"
    if contour.closed:
        yield "h"


def _pair(point: tuple[float, float]) -> str:
    return f"{number(point[0], DECIMALS)} {number(point[1], DECIMALS)}"


def _matrix(t: Transform) -> str:
    # Two digits more than a coordinate: they are multiplied by hundreds of mm.
    return " ".join(number(part, 8) for part in (t.xx, t.yx, t.xy, t.yy, t.dx, t.dy))


def _colour(colour: str) -> str:
    return " ".join(number(part) for part in _parts(colour))


def _parts(colour: str) -> tuple[float, float, float]:
    red, green, blue = bytes.fromhex(colour[1:])
    return red / 255, green / 255, blue / 255


def _points(length: float) -> float:
    return round(length * POINTS_PER_MM, 4)
