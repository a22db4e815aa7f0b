from __future__ import annotations

import io
import socket
import struct
import subprocess
import sys
import zlib
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from cutlayers.artwork import rasters
from cutlayers.artwork.ink import Figure, Raster
from cutlayers.artwork.pictures import read_picture
from cutlayers.artwork.rasters import MOST_PIXELS, read_raster
from cutlayers.artwork.svg_style import SvgTooRich
from cutlayers.job.reading import job_from
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import JobError

ROOT = Path(__file__).parents[2]

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"{}>{}</svg>'
SQUARE = '<rect width="10" height="10"/>'


def png(width: int, height: int, mode: str = "RGB", colour: Any = 0) -> bytes:
    out = io.BytesIO()
    Image.new(mode, (width, height), colour).save(out, format="PNG")
    return out.getvalue()


def jpeg(mode: str = "RGB", **options: Any) -> bytes:
    out = io.BytesIO()
    Image.new(mode, (12, 8)).save(out, format="JPEG", **options)
    return out.getvalue()


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png_bomb(width: int, height: int | None = None) -> bytes:
    """A well-formed beginning of a PNG of so many pixels (ISO/IEC 15948, IHDR)."""
    header = struct.pack(">IIBBBBB", width, height or width, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(b"\0" * 9))


def read(content: bytes) -> Any:
    return read_picture(content, "art.svg", "contain", None).content


def refusal(content: bytes) -> str:
    with pytest.raises(ValueRefused) as caught:
        read(content)
    return str(caught.value)


def test_a_plain_jpeg_is_kept_as_it_is() -> None:
    """Nothing is lost by packing a photograph a second time."""
    content = jpeg()

    raster = read(content)

    assert raster == Raster(12, 8, 3, content, is_jpeg=True)


def test_a_turned_jpeg_is_put_upright() -> None:
    """Exif orientation 6: the camera was turned, so width and height change places."""
    exif = Image.Exif()
    exif[0x0112] = 6

    raster = read(jpeg(exif=exif))

    assert (raster.width, raster.height, raster.is_jpeg) == (8, 12, False)


def test_a_cmyk_jpeg_becomes_rgb() -> None:
    """A home printer's driver wants RGB."""
    assert read(jpeg("CMYK")).channels == 3


@pytest.mark.parametrize(
    ("mode", "colour", "channels", "samples", "alpha"),
    [
        ("RGB", (10, 20, 30), 3, b"\x0a\x14\x1e", None),
        ("RGBA", (10, 20, 30, 40), 3, b"\x0a\x14\x1e", b"\x28"),
        ("RGBA", (10, 20, 30, 255), 3, b"\x0a\x14\x1e", None),
        ("L", 77, 1, b"\x4d", None),
        ("1", 1, 1, b"\xff", None),
        ("I;16", 257 * 128, 1, b"\x80", None),
    ],
)
def test_png_pixels_come_out_right(
    mode: str, colour: Any, channels: int, samples: bytes, alpha: bytes | None
) -> None:
    """8-bit grey or RGB, with opacity apart; 16 bits are scaled, 65535 being white."""
    assert read(png(1, 1, mode, colour)) == Raster(1, 1, channels, samples, alpha=alpha)


@pytest.mark.parametrize("pixels", [1, 7, 13, 1_000_000])
def test_a_picture_taken_in_bands_is_whole(pixels: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """However few rows are taken at a time, each pixel comes once, in its place; one that is not
    opaque anywhere gives the opacity of all."""
    monkeypatch.setattr(rasters, "BAND_PIXELS", pixels)
    expected = bytes(range(5 * 3 * 4))
    image = Image.frombytes("RGBA", (3, 5), expected)
    saved = io.BytesIO()
    image.save(saved, "PNG")

    raster, _ = read_raster(saved.getvalue())

    colours = b"".join(expected[i : i + 3] for i in range(0, len(expected), 4))
    assert raster == Raster(3, 5, 3, colours, alpha=expected[3::4])


PEAK = """\
import resource, sys
from pathlib import Path
from cutlayers.artwork.rasters import read_raster
read_raster(Path(sys.argv[1]).read_bytes())
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
read_raster(Path(sys.argv[2]).read_bytes())
print((resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) * 1024)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="the peak is told in other units there")
@pytest.mark.parametrize(("mode", "colour"), [("RGB", (1, 2, 3)), ("RGBA", (1, 2, 3, 4))])
def test_a_large_picture_is_held_twice_at_most(tmp_path: Path, mode: str, colour: Any) -> None:
    """Four bytes a pixel as the library decodes it and three or four as it is handed on; an
    eighth more for what a buffer grows by, and half a byte for the bands."""
    (tmp_path / "small.png").write_bytes(png(9, 9, mode, colour))
    (tmp_path / "large.png").write_bytes(png(4000, 4000, mode, colour))
    read = (str(tmp_path / f"{size}.png") for size in ("small", "large"))
    words = [sys.executable, "-c", PEAK, *read]

    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=True)

    assert int(done.stdout) < 4000 * 4000 * (4 + 4 * 9 / 8 + 0.5)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "is not a PNG, JPEG, WebP, TIFF, GIF, BMP or SVG"),
        (b"\x1f\x8b" + bytes(40), "is not a PNG, JPEG, WebP, TIFF, GIF, BMP or SVG"),
        (b"%PDF-1.7", "is not a PNG, JPEG, WebP, TIFF, GIF, BMP or SVG"),
        (b"GIF89a" + bytes(40), "is broken"),
        (png(40, 40)[:60], "is broken"),
        (b"\x89PNG\r\n\x1a\n" + bytes(30), "is broken"),
        (jpeg()[:-40], "is broken"),
        (b"\xff\xd8\xff\xe0" + bytes(30), "is broken"),
        (png_bomb(9000), "9000 × 9000 pixels large; it must be at most 60 million"),
        (
            png_bomb(1, 59_000_000),
            "59000000 pixels large; it must be at most 60 million in all and 30000",
        ),
        (png_bomb(60_000), "more than 60 million pixels"),
    ],
)
def test_broken_and_huge_pictures_are_refused(content: bytes, words: str) -> None:
    """Before their pixels are unpacked: 60 million would be 180 MB."""
    assert MOST_PIXELS == 60_000_000
    assert words in refusal(content)


ENTITY_BOMB = (
    b'<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">'
    + b"".join(
        b'<!ENTITY %c "&%c;&%c;&%c;&%c;&%c;&%c;&%c;&%c;&%c;&%c;">' % (name, *[name - 1] * 10)
        for name in range(ord("b"), ord("k"))
    )
    + b']><svg xmlns="http://www.w3.org/2000/svg"><desc>&j;</desc></svg>'
)
USE_BOMB = SVG.format(
    "",
    "<defs>"
    + '<g id="g0"><rect width="1" height="1"/></g>'
    + "".join(f'<g id="g{i}">' + f'<use href="#g{i - 1}"/>' * 10 + "</g>" for i in range(1, 12))
    + '</defs><use href="#g11"/>',
)
PATTERN_BOMB = SVG.format(
    "",
    "".join(
        f'<pattern id="p{i}" width="1" height="1">'
        + f'<rect width="1" height="1" fill="url(#p{i - 1})"/>' * 12
        + "</pattern>"
        for i in range(1, 12)
    )
    + '<rect width="9" height="9" fill="url(#p11)"/>',
)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (ENTITY_BOMB, "has a DOCTYPE"),
        (b'<!DOCTYPE svg SYSTEM "http://localhost/x.dtd"><svg/>', "has a DOCTYPE"),
        (
            '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]><svg>&x;</svg>'.encode(
                "utf-16"
            ),
            "has a DOCTYPE",
        ),
        (SVG.format("", "<script>alert(1)</script>"), "holds <script>"),
        (SVG.format(' onload="x()"', SQUARE), "has a script in onload"),
        (SVG.format("", '<image href="http://localhost/a.png"/>'), "holds another picture"),
        (SVG.format("", '<image href="data:image/png;base64,AAAA"/>'), "holds another picture"),
        (SVG.format("", '<use href="other.svg#a"/>'), 'refers to "other.svg#a"'),
        (SVG.format("", '<rect width="1" height="1" fill="url(http://localhost/#a)"/>'), "url(#id"),
        (SVG.format("", '<style>@import "http://localhost/a.css";</style>'), "imports a style"),
        (SVG.format("", "<style>@font-face{src:url(//localhost/a.ttf)}</style>"), "url(#id)"),
        (SVG.format("", "<style>rect{fill:u\\72l(//localhost/a)}</style>"), "backslash"),
        (SVG.format("", "<foreignObject/>"), "holds <foreignObject>"),
        ('<?xml-stylesheet href="http://localhost/a.css"?>' + SVG.format("", SQUARE), "processing"),
        (SVG.format("", "<text>hi</text>"), "turn the text into outlines"),
        (SVG.format("", ""), "shows nothing"),
        (SVG.format("", '<path d="M0 0 L10"/>'), "path data that make no sense"),
        (SVG.format("", '<path d="rubbish"/>'), "path data that make no sense"),
        (SVG.format("", '<path d="M0 0L1e400 0"/>'), "outside of any picture"),
        *(
            (SVG.format("", f'<path d="M3 1A{arc} 1 1 1 0"/>'), "has path data that make no sense")
            for arc in ("1e400 3 0", "3 1e400 0", "1e400 1e400 0", "3 3 1e400", "1e300 3 0")
        ),
        (SVG.format("", '<rect width="1" height="1" fill="blurple"/>'), "which is none"),
        (SVG.format("", '<g transform="matrix(1)">' + SQUARE + "</g>"), "transform"),
        ("<svg/>", "neither a viewBox nor width"),
        ('<svg viewBox="0 0 0 0"/>', "viewBox"),
        ("<html/>", "is XML but no SVG"),
        ("<svg", "is not well-formed XML"),
        (SVG.format("", "<g>" * 300 + "</g>" * 300), "more than 200 deep"),
        (SVG.format("", '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'), "circle"),
        (USE_BOMB, "unfolds to more than 100000 elements"),
        (PATTERN_BOMB, "unfolds to more than 100000 elements"),
    ],
)
def test_hostile_and_broken_svg_is_refused(
    content: str | bytes, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In one sentence, without opening a file or a connection."""

    def forbidden(*_: object, **__: object) -> None:
        raise AssertionError("reached outside of the file")

    read(SVG.format("", SQUARE).encode())  # the libraries themselves are loaded now
    for name in ("connect", "connect_ex", "send", "sendto"):
        monkeypatch.setattr(socket.socket, name, forbidden)
    monkeypatch.setattr("builtins.open", forbidden)
    monkeypatch.setattr("io.open", forbidden)
    monkeypatch.setattr("os.open", forbidden)
    whole = content if isinstance(content, bytes) else content.encode()

    said = refusal(whole)

    assert words in said
    assert "\n" not in said


def test_an_svg_keeps_its_outlines() -> None:
    """A quarter of SVG's y runs down, ours up: a shape at the top comes out at the top."""
    figure = read(SVG.format("", '<rect x="2" width="3" height="1" fill="#00f"/>').encode())

    assert isinstance(figure, Figure)
    (paint,) = figure.paints
    assert (figure.width, figure.height, paint.fill) == (10, 10, "#0000FF")
    assert {(round(x, 9), round(y, 9)) for x, y in paint.contours[0].points} == {
        (2, 10),
        (5, 10),
        (5, 9),
        (2, 9),
    }


def test_styles_cascade() -> None:
    """Attributes yield to rules, element rules to classes and ids, all of them to style=
    (CSS 2, section 6.4.3)."""
    body = (
        "<style>rect{fill:red} .a{fill:lime} #b{fill:blue}</style>"
        '<rect width="1" height="1" fill="black"/><rect class="a" width="1" height="1"/>'
        '<rect id="b" class="a" width="1" height="1"/>'
        '<rect id="b2" class="a" width="1" height="1" style="fill:white"/>'
    )

    figure = read(SVG.format("", body).encode())

    fills = [paint.fill for paint in figure.paints]
    assert fills == ["#FF0000", "#00FF00", "#0000FF", "#FFFFFF"]


def test_a_gradient_is_painted_as_pixels() -> None:
    """What outlines cannot show is not dropped: the picture is painted, and says so."""
    body = (
        '<linearGradient id="g"><stop stop-color="#f00"/><stop offset="1" stop-color="#00f"/>'
        '</linearGradient><rect width="10" height="10" fill="url(#g)"/>'
    )

    picture = read_picture(SVG.format("", body).encode(), "a.svg", "contain", None)

    assert picture.painted_as_pixels
    raster = picture.content
    assert isinstance(raster, Raster)
    left, right = raster.samples[:3], raster.samples[3 * raster.width - 3 : 3 * raster.width]
    assert left[0] > 240 > 15 > left[2]
    assert right[2] > 240 > 15 > right[0]


def job(image: str) -> dict[str, Any]:
    return {
        "stock": {"kraft": {"caliper": 0.3, "sheet": "A4"}},
        "piece": [
            {
                "style": "tray",
                "stock": "kraft",
                "size": {"length": 60, "width": 40, "height": 20},
                "art": [{"panels": "front", "file": image}],
            }
        ],
    }


@pytest.mark.parametrize(
    ("image", "words"),
    [
        ("sprig.svv", "seen from the job's folder. Did you mean sprig.svg?"),
        ("folder", "is not a file"),
        ("pipe", "is not a file"),
        ("/dev/zero", "is not a file"),
        ("http://localhost/a.png", "is not there"),
        ("empty.png", "is empty"),
        ("a\x00b", "control characters"),
    ],
)
def test_files_that_cannot_be_pictures(tmp_path: Path, image: str, words: str) -> None:
    """The message is one line that names the job, the place and the file."""
    import os

    (tmp_path / "sprig.svg").write_text(SVG.format("", SQUARE))
    (tmp_path / "folder").mkdir()
    (tmp_path / "empty.png").touch()
    os.mkfifo(tmp_path / "pipe")

    with pytest.raises(JobError) as caught:
        job_from(job(image), str(tmp_path / "job.toml"), "job")

    assert str(caught.value).startswith(f"{tmp_path / 'job.toml'}: piece[1].art[1].file is ")
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_art_is_found_beside_the_job(tmp_path: Path) -> None:
    """Not in the folder the user happens to be in."""
    (tmp_path / "art").mkdir()
    (tmp_path / "art" / "a.svg").write_text(SVG.format("", SQUARE))

    (order,) = job_from(job("art/a.svg"), str(tmp_path / "job.toml"), "job").orders

    assert [(spot.net, spot.panel) for spot in order.art[0].spots] == [("tray", "front")]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (SVG.replace("0 0 10 10", "0 0 nan 10").format("", SQUARE), "viewBox"),
        (SVG.replace("0 0 10 10", "0 0 inf 10").format("", SQUARE), "viewBox"),
        (SVG.replace("0 0 10 10", "0 0 1e400 10").format("", SQUARE), "viewBox"),
        (SVG.format("", '<g opacity="nan">' + SQUARE + "</g>"), '"nan" as opacity'),
        (SVG.format("", '<rect width="1" height="1" fill-opacity="inf"/>'), '"inf" as an opacity'),
        (SVG.format("", '<path d="M0 0h5" stroke="red" stroke-miterlimit="nan"/>'), "miterlimit"),
        (SVG.format("", '<path d="M0 0h5" stroke="red" stroke-miterlimit="0"/>'), "at least 1"),
        (SVG.format("", '<path d="M0 0h5" stroke="red" stroke-width="nan"/>'), "stroke-width"),
        (SVG.format("", '<path d="M0 0h5" stroke="red" stroke-width="1e400"/>'), "stroke-width"),
        (SVG.format("", '<rect width="inf" height="1"/>'), '"inf" as width'),
        (SVG.format("", '<path d="M0 0h9" stroke="red" stroke-dasharray="1e-6"/>'), "dashes"),
        (
            SVG.format("", f'<rect width="1" height="1" fill="rgb({"9" * 5_000},0,0)"/>'),
            "too many digits",
        ),
        (SVG.format("", f'<rect style="opacity:{"9" * 5_000}"/>'), "too many digits"),
        (SVG.format("", f"<style>rect{{opacity:{'9' * 5_000}}}</style><rect/>"), "many digits"),
    ],
)
def test_numbers_that_are_none_or_have_no_end_are_refused(content: str, words: str) -> None:
    """In one sentence, wherever a number stands."""
    assert words in refusal(content.encode())


def test_what_is_important_wins() -> None:
    """CSS 2, section 6.4.2: over the style attribute, and over stronger selectors."""
    body = (
        "<style>rect{fill:red !important} #b{fill:blue} /* } */ .c{fill:/*x*/lime}</style>"
        '<rect width="1" height="1" style="fill:white"/><rect id="b" width="1" height="1"/>'
        '<rect class="c" width="1" height="1" style="/*a;b*/fill:white !important"/>'
    )

    figure = read(SVG.format("", body).encode())

    assert [paint.fill for paint in figure.paints] == ["#FF0000", "#FF0000", "#FFFFFF"]


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("#0f8", "#00FF88"),
        ("RED", "#FF0000"),
        ("rgb(10%, 20%, 30%)", "#1A334D"),
        ("rgb(1,2,3)", "#010203"),
        ("hsl(120, 50%, 50%)", "#40BF40"),
        ("rebeccapurple", "#663399"),
    ],
)
def test_colours_as_css_writes_them(written: str, meant: str) -> None:
    """CSS Color 4, chapters 4 to 7; halves are rounded up."""
    body = f'<rect width="1" height="1" fill="{written}"/>'

    assert read(SVG.format("", body).encode()).paints[0].fill == meant


def filtered(primitives: str, uses: str = SQUARE) -> bytes:
    return SVG.format(
        "", f'<filter id="f">{primitives}</filter><g filter="url(#f)">{uses}</g>'
    ).encode()


NOISE = '<feTurbulence baseFrequency="0.05" numOctaves="1000"/>'
NESTED_USES = "".join(
    f'<g id="n{i}" filter="url(#f)"><use href="#n{i - 1}"/><use href="#n{i - 1}"/></g>'
    for i in range(1, 9)
)


@pytest.mark.parametrize(
    ("content", "part"),
    [
        (filtered(NOISE), "<feTurbulence>"),
        (filtered('<feTurbulence numOctaves="1e9"/>'), "<feTurbulence>"),
        (filtered('<feMorphology operator="dilate" radius="3"/>'), "<feMorphology>"),
        (filtered('<feMorphology radius="0.1"/>', f'<g transform="scale(90)" filter="url(#f)">'
                  f"{SQUARE}</g>"), "<feMorphology>"),
        (filtered('<feConvolveMatrix order="99"/>'), "<feConvolveMatrix>"),
        (filtered("<feGaussianBlur/>" * 40), "<feGaussianBlur>"),
        (filtered("<feOffset/>", f'<g id="n0">{SQUARE}</g>{NESTED_USES}'), "<feOffset>"),
        (SVG.format("", f'<filter id="f">{NOISE}</filter><style>rect{{filter:url(#f)}}</style>'
                    + SQUARE).encode(), "<feTurbulence>"),
        (SVG.format("", f'<filter id="f">{NOISE}</filter><rect width="9" height="9" '
                    'style="filter:url(#f)"/>').encode(), "<feTurbulence>"),
    ],
)  # fmt: skip
def test_filters_that_would_paint_for_minutes_are_refused(
    content: bytes, part: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By counting, before anything is painted; the sentence names the dearest part."""

    def forbidden(*_: object, **__: object) -> None:
        raise AssertionError("was painted")

    monkeypatch.setattr("cutlayers.artwork.pictures.run_apart", forbidden)

    said = refusal(content)

    assert part in said and 'the filter "f"' in said and "\n" not in said


def test_a_filter_that_nobody_uses_costs_nothing() -> None:
    """A drawing program leaves such behind."""
    assert isinstance(
        read(SVG.format("", f'<filter id="f">{NOISE}</filter>{SQUARE}').encode()), Figure
    )


def test_dear_filters_are_painted_on_fewer_pixels() -> None:
    """A shadow is blurred anyway: 3000 pixels without it, fewer with a grain of some octaves."""
    grain = '<feTurbulence baseFrequency="0.05" numOctaves="3"/>'

    raster = read(filtered(grain))

    assert isinstance(raster, Raster)
    assert 1000 <= raster.width < 3000


def test_painting_that_takes_too_long_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    """What no count can bound is ended from outside, and the sentence names what asked for it."""
    monkeypatch.setattr("cutlayers.artwork.pictures.PAINTING_S", 0.0)

    said = refusal(SVG.format("", '<g opacity="0.5">' + SQUARE + "</g>").encode())

    assert "cannot be painted within 0 seconds: it holds a see-through group" in said


def test_painting_that_takes_too_much_memory_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    """The limit is set in the process that paints, where the system knows one."""
    pytest.importorskip("resource")
    monkeypatch.setattr("cutlayers.artwork.pictures.PAINTING_BYTES", 30_000_000)

    assert "MB of memory" in refusal(SVG.format("", '<g opacity="0.5">' + SQUARE + "</g>").encode())


def read_paths(data: str) -> list[tuple[bool, list[tuple[float, float]]]]:
    figure = read(SVG.format("", f'<path d="{data}"/>').encode())
    assert isinstance(figure, Figure)
    (paint,) = figure.paints
    return [
        (outline.closed, [(round(x, 9), round(10 - y, 9)) for x, y in outline.points])
        for outline in paint.contours
    ]


def test_a_subpath_begins_where_the_one_before_was_closed() -> None:
    """Worked by hand from SVG 1.1, sections 8.3.2 and 8.3.3: a close goes back to where its subpath
    began, and what follows it, near or far, goes on from there."""
    assert read_paths("M1 1h2v2zh-1v-1zm5 5h1v1z M4 0L5 1 M7 0L8 1") == [
        (True, [(1, 1), (3, 1), (3, 3)]),
        (True, [(1, 1), (0, 1), (0, 0)]),
        (True, [(6, 6), (7, 6), (7, 7)]),
        (False, [(4, 0), (5, 1)]),
        (False, [(7, 0), (8, 1)]),
    ]
    assert read_paths("m1 1 1 1zl2 0v2ZZz") == [
        (True, [(1, 1), (2, 2)]),
        (True, [(1, 1), (3, 1), (3, 3)]),
    ]


MANY = "h1v1" * 600
USES = f'<defs><path id="p" d="M0 0{MANY}z"/></defs>' + '<use href="#p"/>' * 400
RULES = "".join(f"rect{{x-{n}:1}}" for n in range(201))


@pytest.mark.parametrize(
    ("body", "why"),
    [
        (f'<path d="M0 0{"l1 1z" * 160_000}"/>', "outlines of more than 400000 numbers"),
        (f'<path d="M0 0{"z" * 400_000}"/>', "outlines of more than 400000 numbers"),
        (USES, "outlines of more than 400000 numbers"),
        (SQUARE * 40_000, "outlines of more than 400000 numbers"),
        (f"<style>{RULES}</style>{SQUARE}", "a style of more than 200 properties"),
        (f'<rect width="{"1" * 50_000}!" height="1"/>', "width"),
        (f"<style>{'.a{}' * 260_000}</style>{SQUARE}", "more than 1000000 characters"),
    ],
)
def test_what_is_long_to_read_is_painted_instead(
    body: str, why: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By counting, wherever a small file asks for much: painting is quick, and has a limit."""
    asked: list[str] = []

    def painted(content: bytes, rich: SvgTooRich) -> Raster:
        asked.append(rich.why)
        return read_raster(png(4, 4))[0]

    monkeypatch.setattr("cutlayers.artwork.pictures._painted", painted)
    read(SVG.format("", body).encode())

    (said,) = asked
    assert why in said


def test_more_elements_than_are_looked_at_are_refused() -> None:
    """Before each is looked into."""
    assert "unfolds to more than 100000 elements" in refusal(
        SVG.format("", "<g/>" * 100_001).encode()
    )
