"""Scenes as PNG."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager

from cutlayers.artwork.painting import paint_svg, paint_svgs
from cutlayers.pictures.scene import Scene
from cutlayers.pictures.svg import write_svg
from cutlayers.telling.lengths import MM_PER

_HEADER_END = 8 + 25
"""The signature and the IHDR chunk, both of fixed size (PNG, sections 5.2 and 11.2.1)."""


def write_png(scene: Scene, width_px: int) -> bytes:
    """Paint a scene `width_px` pixels wide.

    The true density is stored (chunk pHYs), so a print has the scene's size in mm. No fonts are
    looked at: all text is drawn as strokes.
    """
    return _with_density(paint_svg(*_to_paint(scene, width_px)), scene, width_px)


@contextmanager
def painted_meanwhile(
    scenes: Sequence[Scene], width_px: int, processes: int
) -> Iterator[Callable[[], list[bytes]]]:
    """Scenes that are painted, each as `write_png` would, while this process does something else.

    The value is a function that waits for the PNGs. `processes` counts this one: where it is 1,
    and where no other process can be had, they are painted when that function is called.
    """
    from cutlayers.reading.apart import RanOutError, begun_apart

    painters = min(len(scenes), processes - 1)
    with ExitStack() as stack:
        answers = []
        for first in range(painters):
            share = [_to_paint(scene, width_px) for scene in scenes[first::painters]]
            answers.append(stack.enter_context(begun_apart(paint_svgs, share)))

        def painted() -> list[bytes]:
            images: list[bytes] = [b""] * len(scenes)
            try:
                for first, answer in enumerate(answers):
                    images[first::painters] = answer()
            except RanOutError:
                images = []
            if not answers or not images:
                return [write_png(scene, width_px) for scene in scenes]
            return [
                _with_density(image, scene, width_px)
                for image, scene in zip(images, scenes, strict=True)
            ]

        yield painted


def _to_paint(scene: Scene, width_px: int) -> tuple[str, int, float]:
    # A picture is rounded to whole pixels at its density before it is scaled to the width: at
    # this density nothing is left to scale, so nothing is stretched.
    return write_svg(scene).decode(), width_px, width_px / scene.width * MM_PER["in"]


def _with_density(image: bytes, scene: Scene, width_px: int) -> bytes:
    pixels_per_metre = round(width_px / scene.width * 1000.0)
    return image[:_HEADER_END] + _density_chunk(pixels_per_metre) + image[_HEADER_END:]


def _density_chunk(pixels_per_metre: int) -> bytes:
    """Source: PNG specification, section 11.3.4.3 (pHYs; unit 1 is the metre)."""
    body = b"pHYs" + struct.pack(">IIB", pixels_per_metre, pixels_per_metre, 1)
    return struct.pack(">I", 9) + body + struct.pack(">I", zlib.crc32(body))
