from __future__ import annotations

import pytest

from cutlayers.formats.drawing import Drawing, Layer, straightened
from cutlayers.telling.errors import OutputError
from tests.formats.examples import BOX, CIRCLE, cut, score, sheet


@pytest.mark.parametrize(
    "name", ["", "1cut", "cut lines", "d\u00e9coupe", "a" * 32, "Defpoints", "cut/score", "0"]
)
def test_a_name_some_format_cannot_carry_is_refused(name: str) -> None:
    """R12 allows 31 plain characters and has layers of its own, an XML id starts with a letter."""
    with pytest.raises(OutputError, match="layer name"):
        Layer(name, "Cut", "#000000", 7, ())


@pytest.mark.parametrize("name", ["c", "cut", "Cut-1_b", "a" * 31])
def test_plain_names_are_taken(name: str) -> None:
    """Letters, digits, hyphen and underscore."""
    assert Layer(name, "Cut", "#000000", 7, ()).name == name


@pytest.mark.parametrize("colour", ["red", "#000", "#00000G", "000000"])
def test_a_colour_that_is_no_hex_colour_is_refused(colour: str) -> None:
    """One spelling for all formats."""
    with pytest.raises(OutputError, match="colour"):
        Layer("cut", "Cut", colour, 7, ())


@pytest.mark.parametrize("index", [0, 256, -1])
def test_a_dxf_colour_out_of_range_is_refused(index: int) -> None:
    """0 and 256 mean BYBLOCK and BYLAYER, a negative one switches the layer off (group 62)."""
    with pytest.raises(OutputError, match="a whole number, 1 to 255"):
        Layer("cut", "Cut", "#000000", index, ())


def test_layers_need_different_names() -> None:
    """DXF does not tell Cut from cut."""
    with pytest.raises(OutputError, match="'cut' and 'CUT'"):
        Drawing("Sheet", 10.0, 10.0, (cut(), Layer("CUT", "Cut", "#000000", 7, ())))


def test_straightened_drawings_have_no_arcs_and_keep_the_rest() -> None:
    """Every arc within the tolerance; names, order and straight paths stay."""
    before = sheet(score(CIRCLE), cut(BOX))
    after = straightened(before, 0.02)

    assert [layer.name for layer in after.layers] == ["score", "cut"]
    for layer, kept in zip(after.layers, before.layers, strict=True):
        for path, arcs in zip(layer.paths, kept.paths, strict=True):
            assert not any(path.bulges)
            assert path.closed
            assert path.area == pytest.approx(arcs.area, abs=0.02 * arcs.length)
