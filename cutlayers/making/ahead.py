"""The contents of files worked out before they are wanted, by another process if there may be one.

A command begins with this: the other process loads the libraries that write files while this one
loads its own, so nothing else is imported here until it is used.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from typing import TYPE_CHECKING

from cutlayers.reading.apart import Begin, meanwhile

if TYPE_CHECKING:
    from cutlayers.formats.drawing import Drawing
    from cutlayers.pictures.scene import Scene
    from cutlayers.profile.machine import Machine


class Ahead:
    """Files begun: each method gives a function that waits for the contents."""

    def __init__(self, begin: Begin) -> None:
        self._begin = begin
        self._pictures: dict[int, tuple[Scene, Callable[[], bytes]]] = {}

    def picture(self, scene: Scene) -> Callable[[], bytes]:
        """A picture for people, as PNG; one that is asked for again is not painted again."""
        from cutlayers.making.files import picture_file

        if id(scene) not in self._pictures:  # a scene that is kept shares its id with none
            self._pictures[id(scene)] = (scene, self._begin(picture_file, scene))
        return self._pictures[id(scene)][1]

    def drawing(
        self, stem: str, drawing: Drawing, machine: Machine
    ) -> Callable[[], dict[str, bytes]]:
        """The files of a drawing for the machine, name → content; see `machine_files`."""
        from cutlayers.making.files import machine_files

        return self._begin(machine_files, stem, drawing, machine)


@contextmanager
def work_ahead(processes: int = 1) -> Iterator[Ahead]:
    """Files are worked out ahead as long as the block lasts; with fewer than two `processes` they
    are when they are asked for.

    A script that asks for two does its work below `if __name__ == "__main__"`, as always where
    Python starts a process.
    """
    with meanwhile(processes) as begin:
        begin(_load_writers)
        yield Ahead(begin)


def _load_writers() -> None:
    for module in ("cutlayers.formats.dxf", "cutlayers.formats.svg", "cutlayers.making.files"):
        import_module(module)
