"""Pictures of pixels in every format that is taken, and their colours.

Colours are expected by the transfer function of sRGB, IEC 61966-2-1: V = 1.055 · L^(1/2.4) − 0.055.
Profiles are written here after ICC.1:2001-04: a header of 128 bytes, a table of tags, their data.
"""

from __future__ import annotations

import io
import random
import struct
from pathlib import Path
from typing import Any

import pytest
from PIL import Image, ImageCms

from cutlayers.artwork import rasters
from cutlayers.artwork.ink import Raster
from cutlayers.artwork.pictures import read_picture
from cutlayers.artwork.rasters import read_raster
from cutlayers.job.reading import job_from
from cutlayers.profile.reading import read_profile
from cutlayers.reading.values import ValueRefused
from cutlayers.sheets.art_findings import art_findings
from cutlayers.telling.words import in_words

# sRGB's colorants adapted to D50, as in published tables of RGB working spaces.
RED, GREEN, BLUE = (
    (0.43607, 0.22249, 0.01392),
    (0.38515, 0.71687, 0.09708),
    (0.14307, 0.06061, 0.7141),
)
WHITE = (0.9642, 1.0, 0.8249)


def encoded(linear: float) -> int:
    """What sRGB writes for a share of the light, in steps of 255 (above its straight foot)."""
    light: float = linear ** (1 / 2.4)
    return round(255 * (1.055 * light - 0.055))


def number(value: float) -> bytes:
    return struct.pack(">i", round(value * 65536))


def xyz(value: tuple[float, float, float]) -> bytes:
    return b"XYZ \0\0\0\0" + b"".join(map(number, value))


GAMMA_1 = b"curv\0\0\0\0\0\0\0\0"
"""A curve without entries is a straight line."""


def profile(space: bytes, tags: dict[bytes, bytes]) -> bytes:
    """A display profile with these tags."""
    head = bytearray(128)
    head[8:12], head[12:16], head[16:20], head[20:24] = b"\x02\x10\0\0", b"mntr", space, b"XYZ "
    head[36:40], head[68:80] = b"acsp", b"".join(map(number, WHITE))
    at, table, data = 128 + 4 + 12 * len(tags), struct.pack(">I", len(tags)), b""
    for name, body in tags.items():
        table += name + struct.pack(">II", at + len(data), len(body))
        data += body + bytes(-len(body) % 4)
    head[0:4] = struct.pack(">I", at + len(data))
    return bytes(head) + table + data


def linear_rgb(red: Any = RED, green: Any = GREEN, blue: Any = BLUE) -> bytes:
    """A profile whose numbers are shares of light, with these colorants."""
    colorants = {b"rXYZ": xyz(red), b"gXYZ": xyz(green), b"bXYZ": xyz(blue)}
    curves = dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), GAMMA_1)
    return profile(b"RGB ", {b"wtpt": xyz(WHITE), **colorants, **curves})


LINEAR_GREY = profile(b"GRAY", {b"wtpt": xyz(WHITE), b"kTRC": GAMMA_1})
SRGB = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def saved(kind: str, mode: str = "RGB", colour: Any = (10, 20, 30), **options: Any) -> bytes:
    out = io.BytesIO()
    Image.new(mode, (6, 4), colour).save(out, kind, **options)
    return out.getvalue()


def first_pixel(raster: Raster) -> tuple[int, ...]:
    return tuple(raster.samples[: raster.channels])


@pytest.mark.parametrize(
    ("content", "pixel", "alpha"),
    [
        (saved("BMP"), (10, 20, 30), None),
        (saved("BMP", "L", 77), (77,), None),
        (saved("GIF", "P", 0), (0, 0, 0), None),
        (saved("GIF", "L", 77), (77, 77, 77), None),
        (saved("TIFF"), (10, 20, 30), None),
        (saved("TIFF", compression="tiff_lzw"), (10, 20, 30), None),
        (saved("TIFF", "RGBA", (10, 20, 30, 40)), (10, 20, 30), 40),
        (saved("TIFF", "1", 1), (255,), None),
        (saved("TIFF", "CMYK", (0, 255, 255, 0)), (255, 0, 0), None),
        (saved("WEBP", lossless=True), (10, 20, 30), None),
        (saved("WEBP", "RGBA", (10, 20, 30, 40), lossless=True, exact=True), (10, 20, 30), 40),
    ],
    ids=range(11),
)
def test_every_format_comes_out_right(
    content: bytes, pixel: tuple[int, ...], alpha: int | None
) -> None:
    """8-bit grey or RGB, opacity apart, whatever the file is called."""
    raster, alone = read_raster(content)

    assert alone
    assert (raster.width, raster.height, raster.channels) == (6, 4, len(pixel))
    assert first_pixel(raster) == pixel
    assert (raster.alpha and raster.alpha[0]) == alpha


@pytest.mark.parametrize("order", ["I;16", "I;16B"])
def test_sixteen_bits_are_scaled(order: str) -> None:
    """65535 is white, in both orders of bytes (TIFF 6.0, section 2)."""
    for value, expected in ((65535, 255), (257 * 128, 128), (0, 0)):
        pair = struct.pack("<H" if order == "I;16" else ">H", value)
        out = io.BytesIO()
        Image.frombytes(order, (2, 1), pair * 2).save(out, "TIFF")

        raster, _ = read_raster(out.getvalue())

        assert raster == Raster(2, 1, 1, bytes([expected] * 2))


@pytest.mark.parametrize("mode", ["F", "I", "LAB"])
def test_numbers_that_are_no_colours_are_refused(mode: str) -> None:
    """A TIFF may hold heights or temperatures."""
    with pytest.raises(ValueRefused, match="holds pixels of the kind"):
        read_raster(saved("TIFF", mode, 0))


FRAMES: dict[str, dict[str, Any]] = {
    "GIF": {},
    "WEBP": {"lossless": True},
    "TIFF": {},
    "PNG": {},
}


@pytest.mark.parametrize("kind", FRAMES)
def test_of_several_pictures_the_first_is_taken(kind: str, tmp_path: Path) -> None:
    """And that is said, where the job is checked."""
    out = io.BytesIO()
    frames = [Image.new("RGB", (6, 4), colour) for colour in ("#FF0000", "#0000FF")]
    frames[0].save(out, kind, save_all=True, append_images=frames[1:], **FRAMES[kind])
    (tmp_path / "film").write_bytes(out.getvalue())
    piece = {
        "style": "tray",
        "stock": "kraft",
        "size": {"length": 60, "width": 40, "height": 20},
        "art": [{"panels": "front", "file": "film"}],
    }
    table = {"stock": {"kraft": {"caliper": 0.3, "sheet": "A4"}}, "piece": [piece]}

    raster, alone = read_raster(out.getvalue())
    job = job_from(table, str(tmp_path / "job.toml"), "job")
    found = art_findings(job, read_profile("drag-blade-340"))

    assert not alone
    assert first_pixel(raster) == (255, 0, 0)
    (told,) = [in_words(each) for each in found if each.code == "art-first-frame"]
    assert "film holds several pictures, of which the first is printed" in told


@pytest.mark.parametrize("kind", ["PNG", "TIFF", "WEBP"])
def test_colours_are_turned_into_srgb_by_their_profile(kind: str) -> None:
    """Half the light is 188, not 128; a profile whose red is what we call blue prints it blue."""
    more: dict[str, Any] = {"lossless": True} if kind == "WEBP" else {}
    half = saved(kind, colour=(128, 128, 128), icc_profile=linear_rgb(), **more)
    swapped = linear_rgb(red=BLUE, blue=RED)
    red = saved(kind, colour=(255, 0, 0), icc_profile=swapped, **more)

    grey = encoded(128 / 255)
    assert grey == 188
    assert first_pixel(read_raster(half)[0]) == pytest.approx((grey,) * 3, abs=1)
    assert first_pixel(read_raster(red)[0]) == pytest.approx((0, 0, 255), abs=3)


def test_what_is_wrong_with_a_tiff_is_told_once(capfd: pytest.CaptureFixture[str]) -> None:
    """The library for it has its own say on standard error."""
    content = saved("TIFF", compression="tiff_lzw")

    with pytest.raises(ValueRefused, match="is broken"):
        read_picture(content[:40] + bytes(len(content) - 40), "a", "contain", None)

    assert capfd.readouterr().err == ""
    assert read_picture(content, "a", "contain", None).content == read_raster(content)[0]


def test_opacity_is_no_colour() -> None:
    """It stays as it is beside colours that change."""
    content = saved("PNG", "RGBA", (128, 128, 128, 40), icc_profile=linear_rgb())

    raster, _ = read_raster(content)

    assert first_pixel(raster) == pytest.approx((188,) * 3, abs=1)
    assert raster.alpha is not None and raster.alpha[0] == 40


@pytest.mark.parametrize("icc", [LINEAR_GREY, linear_rgb()], ids=["grey", "RGB"])
def test_grey_stays_grey(icc: bytes) -> None:
    """By a profile of grey, and by one of RGB, as many programs write it."""
    raster, _ = read_raster(saved("PNG", "L", 128, icc_profile=icc))

    assert (raster.channels, first_pixel(raster)) == (1, (188,))


def test_sixteen_bits_with_a_profile() -> None:
    """First scaled, then turned: half of 65535 is half the light."""
    out = io.BytesIO()
    Image.frombytes("I;16", (1, 1), struct.pack("<H", 257 * 128)).save(
        out, "PNG", icc_profile=LINEAR_GREY
    )

    assert first_pixel(read_raster(out.getvalue())[0]) == (188,)


def test_a_jpeg_in_srgb_is_kept_as_it_is() -> None:
    """Nothing is lost by packing it a second time; any other is unpacked."""
    kept = saved("JPEG", colour=(128, 128, 128), icc_profile=SRGB)
    turned, _ = read_raster(saved("JPEG", colour=(128, 128, 128), icc_profile=linear_rgb()))

    assert read_raster(kept)[0] == Raster(6, 4, 3, kept, is_jpeg=True)
    assert not turned.is_jpeg
    assert first_pixel(turned) == pytest.approx((188,) * 3, abs=2)


@pytest.mark.parametrize(
    ("mode", "colour", "icc", "words"),
    [
        ("RGB", (1, 2, 3), b"nonsense", "cannot open profile"),
        ("RGB", (1, 2, 3), linear_rgb()[:200], "cannot"),
        ("RGB", (1, 2, 3), LINEAR_GREY, "is for GRAY, its colours are RGB"),
        ("CMYK", (1, 2, 3, 4), linear_rgb(), "is for RGB, its colours are CMYK"),
    ],
)
def test_a_profile_that_cannot_be_used_is_refused(
    mode: str, colour: Any, icc: bytes, words: str
) -> None:
    """Colours by a guess would be found out on paper."""
    with pytest.raises(ValueRefused) as caught:
        read_raster(saved("TIFF", mode, colour, icc_profile=icc))

    assert "has a colour profile that cannot be used" in str(caught.value)
    assert words in str(caught.value)
    assert str(caught.value).endswith("save it as sRGB")


@pytest.mark.parametrize("kind", ["GIF", "BMP", "TIFF", "WEBP"])
def test_broken_and_huge_files_are_refused_in_a_sentence(
    kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Cut off anywhere, or with bytes changed, it is read or refused; never anything else."""
    content = saved(kind, "P" if kind == "GIF" else "RGB", 3 if kind == "GIF" else (1, 2, 3))
    chance = random.Random(kind)
    for _ in range(150):
        broken = bytearray(content)
        for _ in range(chance.randint(1, 4)):
            broken[chance.randrange(len(broken))] = chance.randrange(256)
        cut = chance.choice((len(broken), chance.randrange(4, len(broken))))
        try:
            read_raster(bytes(broken[:cut]))
        except ValueRefused as refused:
            assert "\n" not in str(refused)
    monkeypatch.setattr(rasters, "MOST_PIXELS", 6 * 4 - 1)
    with pytest.raises(ValueRefused, match="6 × 4 pixels large"):
        read_raster(content)
