"""Pictures of the box, set into the page."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.formats.svg import number
from cutlayers.guide import drawing_words
from cutlayers.guide.model import BoxGuide
from cutlayers.guide.page.contents import Picture
from cutlayers.pictures.scene import Scene
from cutlayers.pictures.svg import inline_svg


def finished_box(box: BoxGuide, caption: str = "") -> Picture | None:
    """The picture at the top of the page."""
    if box.picture is None:
        return None
    described = drawing_words.folded_description(list(box.nets))
    return replace(_described(box.picture, box.name, "picture", described), caption=caption)


def box_on_its_way(box: BoxGuide) -> Picture | None:
    """The pictures beside the assembly."""
    if box.views is None:
        return None
    return _described(box.views, box.name, "views", drawing_words.views_description(list(box.nets)))


def box_after_step(box: BoxGuide, scene: Scene, step: int) -> Picture:
    """The picture beside a step of the assembly."""
    title = drawing_words.step_title(box.name, step)
    described = replace(scene, title=title, description=drawing_words.step_description(scene.title))
    return set_in("after", described, f"step-{step}-{_slug(box.name)}")


def _described(scene: Scene, box: str, part: str, description: str) -> Picture:
    """A picture with a title and description for those who do not see it."""
    titled = replace(scene, title=drawing_words.folded_title(box), description=description)
    return set_in(part, titled, f"{part}-{_slug(box)}")


def set_in(part: str, scene: Scene, name: str) -> Picture:
    """A scene in the page at its own size; `name` is its own there."""
    size = {"width": f"{number(scene.width, 2)}mm", "height": f"{number(scene.height, 2)}mm"}
    return Picture(part, inline_svg(scene, name, size))


def _slug(name: str) -> str:
    return "".join(c if c.isalnum() else "-" for c in name.lower())
