"""Colours of a picture in the space in which sheets are printed, sRGB (IEC 61966-2-1)."""

from __future__ import annotations

import io
from collections.abc import Callable
from functools import cache
from itertools import product
from typing import TYPE_CHECKING, Any

from cutlayers.reading.values import ValueRefused

if TYPE_CHECKING:
    from PIL.Image import Image

GREY_MODES = ("1", "L", "LA", "La", "I;16", "I;16B", "I")

ALIKE = 2
"""Steps of 255 by which a profile may differ from sRGB and still be it; no eye sees them."""

_MODES = {"RGB": "RGB", "GRAY": "L", "CMYK": "CMYK"}
"""Of a picture, by the colour space of its profile as ICC.1 names it."""


def into_srgb(image: Image) -> Callable[[Image], Image] | None:
    """What turns parts of a picture into sRGB by its own ICC profile, opacity apart; None where it
    has no profile, or that of sRGB.

    Raises ValueRefused for a profile that is broken or meant for other colours.
    """
    content = image.info.get("icc_profile")
    if not content:
        return None
    from PIL import ImageCms

    try:
        profile = ImageCms.ImageCmsProfile(io.BytesIO(content))
        space = profile.profile.xcolor_space.strip()
        mode = _MODES.get(space)
        if mode is None or not _goes_with(image.mode, mode):
            raise _useless(f"is for {space}, its colours are {image.mode}")
        transform = ImageCms.buildTransform(profile, _srgb(), mode, "RGB")
        if mode == "RGB" and _changes_nothing(transform):
            return None
    except (OSError, ImageCms.PyCMSError) as error:
        raise _useless(str(error)) from None

    def converted(part: Image) -> Image:
        turned = ImageCms.applyTransform(part.convert(mode), transform)
        assert turned is not None  # only where it is asked to work in place
        return turned

    return converted


def _useless(reason: str) -> ValueRefused:
    found = f"has a colour profile that cannot be used ({reason[:80]})"
    return ValueRefused(found, advice="save it as sRGB")


@cache
def _srgb() -> Any:
    from PIL import ImageCms

    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))


def _goes_with(mode: str, meant: str) -> bool:
    """Whether a picture's pixels are such colours; grey ones are those of RGB as well."""
    if (mode == "CMYK") != (meant == "CMYK"):
        return False
    return meant != "L" or mode in GREY_MODES


def _changes_nothing(transform: Any) -> bool:
    """Whether colours all over the space stay what they are."""
    from PIL import Image, ImageCms

    steps = (0, 51, 128, 204, 255)
    colours = bytes(channel for colour in product(steps, repeat=3) for channel in colour)
    before = Image.frombytes("RGB", (len(colours) // 3, 1), colours)
    after = ImageCms.applyTransform(before, transform)
    assert after is not None
    return all(abs(a - b) <= ALIKE for a, b in zip(after.tobytes(), colours, strict=True))
