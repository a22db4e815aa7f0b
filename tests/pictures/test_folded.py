"""Pictures of folded boxes as files."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from lxml import etree

from cutlayers.box import Box, build
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.pictures.folded import (
    View,
    draw_usual,
    draw_views,
    single_scenes,
    step_views,
    usual_views,
    views_scene,
)
from cutlayers.pictures.png import write_png
from cutlayers.pictures.scene import Scene
from cutlayers.pictures.svg import write_svg

SVG = {"svg": "http://www.w3.org/2000/svg"}


def scene(style: Style) -> Scene:
    return views_scene(style.name, draw_usual(build(style, style.dimensions(), Card(0.3))))


def picture(style: Style) -> bytes:
    return write_svg(scene(style))


def picture_of(view: View) -> bytes:
    return write_svg(views_scene("x", draw_views([view])))


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_the_same_box_gives_the_same_bytes(style: Style) -> None:
    """No clock, no chance, no order of sets."""
    assert picture(style) == picture(style)


def test_every_view_has_its_group_and_title() -> None:
    """Two nets: each half folded, then apart and together."""
    root = etree.fromstring(picture(style_named("gable-carton")))
    titles = root.xpath("svg:g/svg:title/text()", namespaces=SVG)

    assert titles == ["base, half folded", "lid, half folded", "apart", "together"]


def test_everything_lies_within_the_page() -> None:
    """Faces and captions; only the soft shadow may run out."""
    root = etree.fromstring(picture(style_named("tuck-carton")))
    width, height = (float(v) for v in root.get("viewBox", "").split()[2:])
    for path in root.iterfind(".//svg:path", SVG):
        if path.get("filter") is None:
            numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.get("d", ""))]
            assert min(numbers[::2]) >= 0
            assert max(numbers[::2]) <= width
            assert min(numbers[1::2]) >= 0
            assert max(numbers[1::2]) <= height


@pytest.mark.parametrize("view", [0, -1])
@pytest.mark.parametrize("name", ["prism-box", "telescope-box", "tapered-tray", "platonic-solid"])
def test_no_shadow_is_cut_off_nor_falls_on_the_caption(name: str, view: int) -> None:
    """It falls to the right by a fifth of the height. Three standard deviations of its soft border
    hold 99.7 % of it (the table of the normal distribution)."""
    style = style_named(name)
    box = build(style, style.dimensions(), Card(0.3))
    drawn = draw_views([usual_views(box)[view]])

    scenes = (views_scene("x", drawn), *single_scenes(drawn, 60.0, 60.0))
    for root in map(etree.fromstring, map(write_svg, scenes)):
        width, height = (float(v) for v in root.get("viewBox", "").split()[2:])
        texts = root.xpath("//svg:text", namespaces=SVG)
        lowest = min([height, *(float(each.get("y")) - 2.6 for each in texts)])
        (shadow,) = root.xpath("//svg:path[@filter]/@d", namespaces=SVG)
        (soft,) = root.xpath("//svg:feGaussianBlur/@stdDeviation", namespaces=SVG)
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", shadow)]
        across, down = numbers[::2], numbers[1::2]
        assert min(across) >= 3 * float(soft) - 0.01
        assert max(across) <= width - 3 * float(soft) + 0.01
        assert max(down) <= lowest - 3 * float(soft) + 0.01
    assert scenes[1].width <= 60.0 + 1e-9 and scenes[1].height <= 60.0 + 1e-9


def test_inside_and_outside_have_their_own_colours() -> None:
    """An open tray shows both; a closed carton only its outside (warmer: more red than blue)."""

    def warmth(view: View) -> set[bool]:
        root = etree.fromstring(picture_of(view))
        colours = [stop.get("stop-color", "") for stop in root.iterfind(".//svg:stop", SVG)]
        used = [(int(c[1:3], 16), int(c[5:7], 16)) for c in colours]
        return {red > 1.35 * blue for red, blue in used}

    tray, carton = style_named("tray"), style_named("tuck-carton")
    assert warmth(View(build(tray, tray.dimensions(), Card(0.3)).assembly)) == {True, False}
    closed = View(build(carton, carton.dimensions(), Card(0.3)).assembly)
    root = etree.fromstring(picture_of(closed))
    last = root.xpath(".//svg:path[@fill-rule]/@fill", namespaces=SVG)[-1]
    shade = root.xpath(f".//svg:linearGradient[@id='{last[5:-1]}']/svg:stop", namespaces=SVG)
    red, blue = (int(shade[0].get("stop-color")[i : i + 2], 16) for i in (1, 5))
    assert red > 1.35 * blue


def test_a_step_shows_what_it_moves_in_blue() -> None:
    """Bluer than red, where card is redder than blue; a bottom that closes is seen from below,
    where nothing casts a shadow, what closes at the back from behind, and flaps that the open
    bottom would stand before from there."""
    views = {
        (step.action.value, step.panels): view
        for name in ("tuck-carton", "header-card")
        for step, view in step_views(
            build(style_named(name), style_named(name).dimensions(), Card(0.3))
        ).items()
    }

    def blue(view: View) -> bool:
        root = etree.fromstring(picture_of(view))
        colours = [stop.get("stop-color", "") for stop in root.iterfind(".//svg:stop", SVG)]
        return any(int(c[5:7], 16) > int(c[1:3], 16) for c in colours)

    captions = {key: view.caption for key, view in views.items()}
    assert captions["tuck", ("bottom", "bottom tuck")] == "from below"
    assert captions["tuck", ("top", "top tuck")] == ""
    assert captions["close", ("back",)] == "from behind"
    flaps = ("left bottom dust flap", "right bottom dust flap")
    assert captions["fold in", flaps] == "from behind, below"
    assert all(blue(view) for (action, _), view in views.items() if action != "square up")
    assert not blue(views["square up", ()])
    for view in views.values():
        shadow = etree.fromstring(picture_of(view)).xpath("//*[@filter]")
        assert bool(shadow) == ("below" not in view.caption)


def test_pictures_of_steps_have_one_scale() -> None:
    """A tray is as wide in each, and none is larger than it may be."""
    tray = style_named("telescope-box")
    drawn = draw_views([*step_views(build(tray, tray.dimensions(), Card(0.3))).values()])
    found = single_scenes(drawn, 60.0, 40.0)

    wide = [(s.width - 14) / (v.bounds[2] - v.bounds[0]) for s, v in zip(found, drawn, strict=True)]
    assert wide == pytest.approx([wide[0]] * len(wide))
    assert max(scene.width for scene in found) <= 60.0 + 1e-9
    assert max(scene.height for scene in found) <= 40.0 + 1e-9
    assert single_scenes([], 60.0, 40.0) == ()


def test_it_can_be_painted() -> None:
    """The PNG writer takes it and finds more than the ground in it."""
    png = write_png(scene(style_named("gable-carton")), 400)

    assert png.startswith(b"\x89PNG\r\n\x1a\n")
    assert len(png) > 10_000


def test_no_view_is_refused() -> None:
    """There is nothing to draw."""
    with pytest.raises(ValueError, match="needs a view"):
        views_scene("x", [])


def test_what_is_left_flat_is_not_called_folded() -> None:
    """A net whose panels bend along its folds, as a drawing has it, with no angles."""
    style = style_named("tray")
    (net,) = style.build(style.dimensions(), Card(0.3))
    unfolded = replace(net, hinges=tuple(replace(each, fold_deg=0.0) for each in net.hinges))

    assert [view.caption for view in usual_views(Box.of([unfolded], Card(0.3)))] == ["flat"]


def test_what_has_no_fold_is_not_shown_half_folded() -> None:
    """The strips of a partition are seen apart and together, a tag once, flat."""
    captions = {}
    for name in ("partition", "hang-tag", "tray"):
        style = style_named(name)
        views = usual_views(build(style, style.dimensions(), Card(0.3)))
        captions[name] = [view.caption for view in views]

    assert captions == {
        "partition": ["apart", "together"],
        "hang-tag": ["flat"],
        "tray": ["tray, half folded", "folded"],
    }
