"""Files worked out ahead are those that are worked out at once, whoever does it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

import pytest

from cutlayers.making.ahead import Ahead, work_ahead
from cutlayers.making.files import machine_files, picture_file
from cutlayers.pictures.scene import Scene
from cutlayers.profile.reading import read_profile
from tests.formats.examples import BOX, cut, sheet

SCENES = [Scene(f"picture {side}", side, 10.0, (), ground="#ffffff") for side in (20.0, 30.0)]

DRAWING = sheet(cut(BOX))


@pytest.mark.parametrize("processes", [1, 2])
def test_the_same_bytes_whoever_works(processes: int) -> None:
    machine = read_profile("small-laser")
    with work_ahead(processes) as ahead:
        ahead.picture(SCENES[1])
        written = ahead.drawing("sheet", DRAWING, machine)
        painted = [ahead.picture(scene) for scene in SCENES]
        assert [image() for image in painted] == [picture_file(scene) for scene in SCENES]
        assert written() == machine_files("sheet", DRAWING, machine)


def test_each_picture_is_begun_once() -> None:
    """Painting is dear: who asks for the same scene again gets what was begun."""
    begun = []

    def begin(work: Callable[..., Any], *arguments: Any) -> Callable[[], Any]:
        begun.append(arguments)
        return partial(work, *arguments)

    ahead = Ahead(begin)
    for scene in (SCENES[0], SCENES[0], SCENES[1]):
        ahead.picture(scene)
    assert len(begun) == 2


def test_what_the_other_process_cannot_do_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("multiprocessing.process.BaseProcess.start", _no_process)
    with work_ahead(2) as ahead:
        assert ahead.picture(SCENES[0])() == picture_file(SCENES[0])


def _no_process(_self: object) -> None:
    raise OSError("no more processes")
