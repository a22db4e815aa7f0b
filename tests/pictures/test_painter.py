"""Pictures painted ahead are those that are painted at once."""

from __future__ import annotations

import pytest

from cutlayers.pictures.png import Painter, painter, write_png
from cutlayers.pictures.scene import Scene

SCENES = [Scene(f"picture {side}", side, 10.0, (), ground="#ffffff") for side in (20.0, 30.0)]


@pytest.mark.parametrize("processes", [1, 2])
def test_the_same_bytes_whoever_paints(processes: int) -> None:
    with painter(64, processes) as painting:
        painting.begin(SCENES[1])
        for scene in SCENES:
            painting.begin(scene)
        assert [painting.painted(scene) for scene in SCENES] == [
            write_png(scene, 64) for scene in SCENES
        ]


def test_each_picture_is_begun_once() -> None:
    """Painting is dear: who begins the same scene again gets what was begun."""
    begun = []

    def begin(_work: object, text: str, *_size: object) -> object:
        begun.append(text)
        return lambda: write_png(SCENES[0], 64)

    painting = Painter(64, begin)  # type: ignore[arg-type]
    for scene in (SCENES[0], SCENES[0], SCENES[1]):
        painting.begin(scene)
    assert len(begun) == 2


def test_where_the_other_process_breaks_down_it_is_painted_here(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("multiprocessing.process.BaseProcess.start", _no_process)
    with painter(64, 2) as painting:
        painting.begin(SCENES[0])
        assert painting.painted(SCENES[0]) == write_png(SCENES[0], 64)


def _no_process(_self: object) -> None:
    raise OSError("no more processes")
