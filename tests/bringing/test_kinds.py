"""What lines are for: said, named, dashed, or standing where they stand.

Expected kinds are those that our own nets have their lines by, or plain from the drawing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from cutlayers.bringing.kinds import meant
from cutlayers.bringing.lines import Drawing, DrawnLine, DrawnText, Hints, Kind, Meant, Scale
from cutlayers.bringing.names import named
from cutlayers.bringing.rules import Rules, Selection
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Transform
from cutlayers.net import linework
from cutlayers.profile.notation import COLOURS, DASHES
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.refusing import refused_line

NOTHING_SAID = Rules()
PLAIN = Hints(colour="#000000")


def drawing(*lines: tuple[Path, Hints]) -> Drawing:
    return Drawing(
        tuple(DrawnLine(path, hints, i) for i, (path, hints) in enumerate(lines, 1)),
        Scale(1.0, "said"),
    )


def kinds(*lines: tuple[Path, Hints], rules: Rules = NOTHING_SAID) -> list[Kind]:
    return [each.kind for each in meant(drawing(*lines), rules)]


def line(x0: float, y0: float, x1: float, y1: float, hints: Hints = PLAIN) -> tuple[Path, Hints]:
    return Path.line((x0, y0), (x1, y1)), hints


def box(x: float, y: float, w: float, h: float, hints: Hints = PLAIN) -> tuple[Path, Hints]:
    return Path.rectangle(w, h, (x, y)), hints


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("CUT", Kind.CUT),
        ("cut lines", Kind.CUT),
        ("Die-Cut", Kind.CUT),
        ("outline_2", Kind.CUT),
        ("ScoreLines", Kind.SCORE),
        ("FOLD", Kind.SCORE),
        ("Crease", Kind.SCORE),
        ("kiss cut", Kind.SCORE),
        ("Mountain folds", Kind.SCORE),
        ("PERF", Kind.PERFORATE),
        ("perforated fold", Kind.PERFORATE),
        ("tear-line", Kind.PERFORATE),
        ("Marks", Kind.DRAW),
        ("registration marks", Kind.REGISTER),
        ("cut marks", Kind.REGISTER),
        ("DIMENSIONS", Kind.IGNORE),
        ("Gluing", Kind.IGNORE),
        ("CuttingCreasing", Kind.PERFORATE),
        ("Reverse Creasing", Kind.SCORE),
        ("PartialCutting", Kind.SCORE),
        ("Drilling", Kind.CUT),
    ],
)
def test_names_say_it(name: str, kind: Kind) -> None:
    """Words of the trade, common practice, no source; steps as ISO 19593-1 names them."""
    found = named(name)

    assert found is not None
    assert found.kind is kind


@pytest.mark.parametrize(
    ("cut", "score", "perforate"),
    [
        ("Schneiden", "Falzlinien", "Abreißlinie"),
        ("Stanzkontur", "RILLEN", "Perforation"),
        ("découpe", "lignes de pli", "perforations"),
        ("Corte", "Doblez", "perforado"),
        ("Taglio", "cordonatura", "perforazione"),
        ("fustella", "Pieghe", "linea di strappo"),
        ("snijlijnen", "vouwlijn", "perforatie"),
        ("linhas de corte", "vinco", "picote"),
        ("Cięcie", "linia zagięcia", "perforacja"),
        ("řez", "ohyb", "perforace"),
        ("skärlinjer", "Vikning", "perforering"),
        ("切り取り線", "折り線", "ミシン目"),
        ("裁切", "压痕线", "打孔线"),
        ("剪切线", "折线", "齿线"),
    ],
)
def test_names_say_it_in_other_languages(cut: str, score: str, perforate: str) -> None:
    """German, French, Spanish, Italian, Dutch, Portuguese, Polish, Czech, Swedish, Japanese and
    Chinese, ordinary words, from memory."""
    kinds = [found.kind for name in (cut, score, perforate) if (found := named(name)) is not None]
    assert kinds == [Kind.CUT, Kind.SCORE, Kind.PERFORATE]


@pytest.mark.parametrize(
    ("name", "fold"),
    [("Bergfalz", "mountain"), ("Talfalten", "valley"), ("pli vallée", "valley"),
     ("山折り", "mountain"), ("谷折り線", "valley")],
)  # fmt: skip
def test_names_say_the_way_of_a_fold_in_other_languages(name: str, fold: str) -> None:
    found = named(name)
    assert found is not None
    assert (found.kind, found.fold) == (Kind.SCORE, fold)


@pytest.mark.parametrize("name", ["Valle", "rainbow", "Viking", "Schneiden und falten", "山田"])
def test_other_words_of_other_languages_say_nothing(name: str) -> None:
    assert named(name) is None


@pytest.mark.parametrize("name", ["lid", "0", "Layer 1", "cut and fold", "shortcut", "scored cut"])
def test_names_that_say_nothing_or_two_things(name: str) -> None:
    assert named(name) is None


def test_the_nearest_name_counts() -> None:
    """A group of folds in a layer of cuts, and a block in a layer of its own."""
    found = meant(
        drawing(
            line(0, 0, 9, 0, Hints(layer="Cut", group=("Cut", "fold lines"))),
            line(0, 0, 9, 0, Hints(layer="SCORE", group=("cut block",))),
            line(0, 0, 9, 0, Hints(layer="Cut", group=("Cut",), name="valley")),
        ),
        Rules(),
    )

    assert [each.kind for each in found] == [Kind.SCORE] * 3
    assert [each.evidence for each in found] == [
        'group "fold lines"', 'layer "SCORE"', 'name "valley"',
    ]  # fmt: skip
    assert found[2].line.hints.fold == "valley"


def test_published_notation_says_which_way() -> None:
    """Valley dashed, mountain dash-dot: Yoshizawa and Randlett."""
    found = meant(
        drawing(
            box(0, 0, 30, 10),
            line(10, 0, 10, 10, Hints(dash=(3, 1))),
            line(20, 0, 20, 10, Hints(dash=(3, 1, 0.5, 1))),
        ),
        Rules(),
    )

    assert [each.kind for each in found] == [Kind.CUT, Kind.SCORE, Kind.SCORE]
    assert [each.line.hints.fold for each in found] == ["", "valley", "mountain"]
    assert not any(each.doubtful for each in found)


def test_dashes_alone_say_no_way() -> None:
    found = meant(drawing(box(0, 0, 30, 10), line(10, 0, 10, 10, Hints(dash=(3, 1)))), Rules())

    assert [each.kind for each in found] == [Kind.CUT, Kind.SCORE]
    assert found[1].line.hints.fold == ""


def test_all_black_and_solid() -> None:
    """Outline, crease from border to border, hole, slit, a crease that stops short, a cross
    beside."""
    found = meant(
        drawing(
            box(0, 0, 60, 30),
            line(20, 0, 20, 30),
            (Path.circle((10, 15), 3), PLAIN),
            line(30, 10, 30, 20),
            line(40, 2, 40, 28),
            line(80, 0, 90, 0),
        ),
        Rules(),
    )

    assert [(each.kind, each.doubtful) for each in found] == [
        (Kind.CUT, False),
        (Kind.SCORE, False),
        (Kind.CUT, False),
        (Kind.CUT, True),
        (Kind.SCORE, False),
        (Kind.IGNORE, True),
    ]


def test_panels_drawn_one_by_one() -> None:
    """Two rectangles that share a side: the side is a crease, the rest is cut."""
    found = meant(drawing(box(0, 0, 20, 10), box(20, 0, 30, 10)), Rules())

    creases = [each for each in found if each.kind is Kind.SCORE]
    assert len(creases) == 1
    assert creases[0].line.path.length == pytest.approx(10)
    cut = sum(each.line.path.length for each in found if each.kind is Kind.CUT)
    assert cut == pytest.approx(10 + 20 + 20 + 30 + 30 + 10)


def test_a_frame_round_all_is_none_of_it() -> None:
    found = kinds(box(-10, -10, 100, 60), box(0, 0, 40, 20), line(20, 0, 20, 20))

    assert found == [Kind.IGNORE, Kind.CUT, Kind.SCORE]


def test_a_title_block_on_the_frame_belongs_to_it() -> None:
    """A block of three rows in the frame's corner."""
    found = kinds(
        box(-10, -50, 100, 90),
        box(50, -50, 40, 21),
        line(50, -43, 90, -43),
        line(50, -36, 90, -36),
        box(0, 0, 60, 30),
        line(20, 0, 20, 30),
    )

    assert found == [*[Kind.IGNORE] * 4, Kind.CUT, Kind.SCORE]


def test_a_panel_round_a_pattern_is_no_frame() -> None:
    """A window of two panes in the first of two panels, which are far more than it."""
    found = kinds(box(0, 0, 80, 30), line(40, 0, 40, 30), box(10, 10, 16, 8), line(18, 10, 18, 18))

    assert found[:2] == [Kind.CUT, Kind.SCORE]
    assert Kind.IGNORE not in found


def test_a_frame_that_a_layer_calls_a_cut_is_none() -> None:
    """And the title block on it; each is to be looked at."""
    cut, fold = Hints(layer="CUT"), Hints(layer="FOLD")
    found = meant(
        drawing(
            box(-10, -50, 100, 90, cut),
            box(50, -50, 40, 21, cut),
            box(0, 0, 60, 30, cut),
            line(20, 0, 20, 30, fold),
        ),
        NOTHING_SAID,
    )

    assert [each.kind for each in found] == [Kind.IGNORE, Kind.IGNORE, Kind.CUT, Kind.SCORE]
    assert [each.doubtful for each in found] == [True, True, False, False]


def test_an_outline_that_a_layer_calls_a_cut_is_one() -> None:
    """Creases end on it; and what the user says is so."""
    cut, fold = Hints(layer="CUT"), Hints(layer="FOLD")
    sheet = (box(0, 0, 60, 30, cut), line(20, 0, 20, 29, fold), box(30, 5, 20, 20, cut))
    frame = (box(-9, -9, 90, 60, cut), box(0, 0, 60, 30, cut), line(20, 0, 20, 30, fold))

    assert kinds(*sheet) == [Kind.CUT, Kind.SCORE, Kind.CUT]
    said = Rules(cut=(Selection(layer="CUT"),))
    assert kinds(*frame, rules=said) == [Kind.CUT, Kind.CUT, Kind.SCORE]


def test_letters_are_no_holes() -> None:
    letter = Path.polygon([(0, 0), (2, 0), (3, 3), (2, 6), (1, 4), (0, 6), (-1, 3), (-1, 1)])
    letters = [(letter.transformed(Transform.translation(10 + 6 * i, 10)), PLAIN) for i in range(4)]
    found = meant(drawing(box(0, 0, 60, 30), *letters), Rules())

    assert [(each.kind, each.doubtful) for each in found[1:]] == [(Kind.DRAW, True)] * 4


def test_four_flaps_between_slits_without_width() -> None:
    """A tube's panels with flaps above: where four lines meet squarely, that between the two
    flaps is a slit."""
    found = meant(
        drawing(
            box(0, 0, 60, 50),
            line(0, 40, 60, 40),
            line(20, 0, 20, 50),
            line(40, 0, 40, 50),
        ),
        Rules(),
    )

    cuts = [each.line.path for each in found if each.kind is Kind.CUT and each.line.number > 1]
    assert sorted(path.bounds for path in cuts) == [(20, 40, 20, 50), (40, 40, 40, 50)]


@cache
def strokes(style: Style) -> tuple[tuple[Operation, Path], ...]:
    """All lines of a style's usual box, its nets side by side."""
    dims = style.dimensions(**{name: usual for name, (_, usual) in style.table.items()})
    found: list[tuple[Operation, Path]] = []
    x = 0.0
    for net in style.build(dims, Card(0.3)):
        left, _, right, _ = net.bounds
        onto = Transform.translation(x - left, 0.0)
        found += [(stroke.operation, stroke.path.transformed(onto)) for stroke in linework(net)]
        x += right - left + 20.0
    return tuple(found)


def look(way: str, operation: Operation) -> Hints:
    match way:
        case "layers":
            return Hints(layer=operation.value)
        case "colours":
            return Hints(colour=COLOURS[operation])
        case _:
            return Hints(dash=DASHES[operation])


def pieces(path: Path, split: bool) -> Iterator[Path]:
    if split:
        yield from (Path.from_segments((each,), closed=False) for each in path.segments)
    else:
        yield path


@pytest.mark.parametrize("split", [False, True], ids=["whole", "split"])
@pytest.mark.parametrize("way", ["layers", "colours", "dashes"])
def test_our_own_nets_are_understood(way: str, split: bool) -> None:
    """Of every style, by layers, colours or dashes alone: each cut is a cut, each score a score.
    What is drawn or perforated is told by its colour from no other line, and may be either."""
    for style in styles():
        told = [
            (operation, part) for operation, path in strokes(style) for part in pieces(path, split)
        ]
        found = meant(drawing(*((part, look(way, each)) for each, part in told)), Rules())
        for each in found:
            expected = told[each.line.number - 1][0]
            if way == "layers" or expected in (Operation.CUT, Operation.SCORE):
                assert each.kind.value == expected.value, (style.name, each)


def test_what_is_said_comes_first_and_says_most() -> None:
    lines = (
        line(0, 0, 9, 0, Hints(layer="CUT", colour="#FF0000")),
        line(0, 0, 9, 0, Hints(layer="CUT", colour="#0000FF")),
        line(0, 0, 9, 0, Hints(layer="CUT", colour="#0000FF", dash=(1, 1))),
    )
    rules = Rules(
        cut=(Selection(colour="#0000FF", dash=True),),
        score=(Selection(colour="#0000FF"),),
        draw=(Selection(numbers=(1,)),),
    )

    assert kinds(*lines, rules=rules) == [Kind.DRAW, Kind.SCORE, Kind.CUT]


def test_a_lines_number_says_more_than_its_looks() -> None:
    """However much is said of those: a number means this line and no other."""
    looks = Hints(layer="CUT", colour="#FF0000", name="frame")
    lines = drawing(line(0, 0, 9, 0, looks), line(0, 5, 9, 5, looks))
    rules = Rules(
        cut=(Selection(layer="CUT", colour="#FF0000", name="frame"),),
        score=(Selection(numbers=(2,)),),
    )

    assert [each.kind for each in meant(lines, rules)] == [Kind.CUT, Kind.SCORE]


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        (
            Rules(cut=(Selection(layer="CUTT"),)),
            'lines.cut[1].layer is "CUTT"; it must be "CUT" or "FOLD". Did you mean "CUT"?',
        ),
        (
            Rules(cut=(Selection(layer="CUT"),), score=(Selection(colour="#FF0000"),)),
            "lines.score[1] holds line 1, which cut[1] holds too, with as many conditions; "
            "say more in one of them.",
        ),
        (
            Rules(score=(Selection(layer="CUT", dash=True),)),
            "lines.score[1].dash is true, and no line of the drawing is so.",
        ),
        (
            Rules(score=(Selection(layer="FOLD", colour="#FF0000"),)),
            "lines.score[1] holds no line: none has all that it asks for.",
        ),
        (Rules(draw=(Selection(),)), "lines.draw[1] says nothing of a line"),
        (Rules(draw=(Selection(numbers=(1, 7)),)), "lines.draw[1].numbers is 7; it must be"),
    ],
)
def test_rules_that_make_no_sense_are_refused(rules: Rules, told: str) -> None:
    lines = drawing(
        line(0, 0, 9, 0, Hints(layer="CUT", colour="#FF0000")),
        line(0, 5, 9, 5, Hints(layer="FOLD", colour="#0000FF")),
    )

    with pytest.raises(ValueRefused) as refused:
        meant(lines, rules)
    assert refused_line(refused.value.refusal).startswith(told)


def test_every_line_comes_back() -> None:
    found: tuple[Meant, ...] = meant(
        drawing(box(0, 0, 9, 9), line(3, 3, 3.0001, 3), line(99, 99, 99, 120)), Rules()
    )

    assert {each.line.number for each in found} == {1, 2, 3}


def test_angles_written_beside_creases() -> None:
    """Of four creases: a number alone, one with a sign, one with a letter; one between two creases
    is of neither."""
    lines = (box(0, 0, 150, 50), *(line(x, 0, x, 50) for x in (30, 60, 90, 120, 130)))
    texts = [("90°", 32), ("-45 deg", 61), ("V 30°", 88), ("60°", 125), ("12 mm", 119)]
    drawn = replace(drawing(*lines), texts=tuple(DrawnText(text, (x, 20.0)) for text, x in texts))

    found = meant(drawn, Rules())

    assert [each.line.hints.fold_deg for each in found[1:]] == [90, -45, -30, None, None]


def test_loose_creases_all_black() -> None:
    """Creases that run past what they end on, or stop short of it by 1.5 mm, at either end."""
    found = kinds(
        box(0, 0, 60, 40),
        line(20, 1.5, 20, 40),
        line(40, -1.5, 40, 38.5),
        line(0, 20, 21.5, 20),
    )

    assert found == [Kind.CUT, Kind.SCORE, Kind.SCORE, Kind.SCORE]


def test_a_hole_that_relieves_crossing_creases() -> None:
    hole = Path.polygon([(29, 20), (30, 19), (31, 20), (30, 21)])
    found = kinds(
        box(0, 0, 60, 40),
        (hole, PLAIN),
        line(30, 0, 30, 19),
        line(30, 21, 30, 40),
        line(0, 20, 29, 20),
        line(31, 20, 60, 20),
    )

    assert found == [Kind.CUT, Kind.CUT, *[Kind.SCORE] * 4]
