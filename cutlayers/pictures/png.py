"""Scenes as PNG."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

from cutlayers.artwork.painting import paint_svg
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


class Painter:
    """Paints scenes, each as `write_png` would; another process may begin before they are wanted.

    A scene that is asked for again is not painted again.
    """

    def __init__(self, width_px: int, begin: Callable[..., Callable[[], bytes]] | None) -> None:
        self._width_px = width_px
        self._begin = begin
        self._begun: dict[int, tuple[Scene, Callable[[], bytes]]] = {}

    def begin(self, scene: Scene) -> None:
        """Let the other process, if there is one, paint a scene while this one goes on."""
        if self._begin is not None and id(scene) not in self._begun:
            answer = self._begin(paint_svg, *_to_paint(scene, self._width_px))
            self._begun[id(scene)] = (scene, answer)  # a scene that is kept shares its id with none

    def painted(self, scene: Scene) -> bytes:
        """The PNG, waited for where it was begun; where no process is to be had, painted here."""
        from cutlayers.reading.apart import RanOutError

        if id(scene) in self._begun:
            with suppress(RanOutError):
                image = self._begun[id(scene)][1]()
                return _with_density(image, scene, self._width_px)
        return write_png(scene, self._width_px)


@contextmanager
def painter(width_px: int, processes: int = 1) -> Iterator[Painter]:
    """One who paints as long as the block lasts, in a process of his own if there may be two.

    A script that asks for two does its work below `if __name__ == "__main__"`, as always where
    Python starts a process.
    """
    if processes < 2:
        yield Painter(width_px, None)
        return
    from cutlayers.reading.apart import apart

    with apart() as begin:
        yield Painter(width_px, begin)


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
