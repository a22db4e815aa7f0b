"""What is finer than the tool, with place and size."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Part
from cutlayers.geometry.transforms import Transform
from cutlayers.telling.words import place_of, sentence_of
from cutlayers.toolpaths.kerf import take_up_kerf
from cutlayers.toolpaths.small_features import finest, small_features
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import STYLE_LINES, TOOLS, cut, machine

FINE = replace(TOOLS["beam"], finest=0.5)
PLATE = cut(Path.rectangle(60, 40))


def notched(width: float) -> Path:
    """A plate with a notch from the top, in the middle at x 30, 10 mm deep."""
    left, right = 30 - width / 2, 30 + width / 2
    return Path.polygon(
        [(0, 0), (60, 0), (60, 20), (right, 20), (right, 10), (left, 10), (left, 20), (0, 20)]
    )


def waisted(width: float) -> Path:
    """Two plates joined by a strip 10 mm long about y 10."""
    low, high = 10 - width / 2, 10 + width / 2
    return Path.polygon(
        [
            *((0, 0), (25, 0), (25, low), (35, low), (35, 0), (60, 0)),
            *((60, 20), (35, 20), (35, high), (25, high), (25, 20), (0, 20)),
        ]
    )


@pytest.mark.parametrize(
    ("strokes", "code", "place", "size"),
    [
        pytest.param([cut(notched(0.3))], "narrow-gap", "(30.0, 10.0)", "0.30 mm", id="notch"),
        pytest.param([cut(waisted(0.4))], "narrow-strip", "(30.0, 9.8)", "0.40 mm", id="waist"),
        pytest.param(
            [PLATE, cut(Path.circle((20, 20), 0.2).reversed(), Part.OPENING)],
            "narrow-gap",
            "(19.8, 20.0)",
            "0.40 mm",
            id="hole",
        ),
        pytest.param(
            [PLATE, cut(Path.rectangle(20, 20, (0.3, 10)).reversed(), Part.OPENING)],
            "narrow-strip",
            "(0.3, 10.0)",
            "0.30 mm",
            id="window beside the edge",
        ),
        pytest.param(
            [PLATE, cut(Path.rectangle(60, 40, (60.2, 0)))],
            "narrow-strip",
            "(60.0, 0.0)",
            "0.20 mm",
            id="two pieces",
        ),
    ],
)
def test_narrow_places_are_named(strokes: list[object], code: str, place: str, size: str) -> None:
    """Below the finest of 0.5 mm; the size is that of the drawing."""
    found = {
        (finding.code, size in sentence_of(finding).found, place in place_of(finding)): finding
        for finding in small_features(strokes, FINE)  # type: ignore[arg-type]
    }

    assert (code, True, True) in found, found
    assert "0.5 mm" in sentence_of(found[code, True, True]).right


@pytest.mark.parametrize(
    "strokes",
    [
        pytest.param([cut(notched(0.6))], id="notch"),
        pytest.param([cut(waisted(0.6))], id="waist"),
        pytest.param([PLATE, cut(Path.circle((20, 20), 0.3).reversed(), Part.OPENING)], id="hole"),
        pytest.param([PLATE, cut(Path.rectangle(60, 40, (60.6, 0)))], id="two pieces"),
        pytest.param([PLATE, cut(Path.line((0, 10), (20, 10)), Part.SLIT)], id="slit from an edge"),
    ],
)
def test_what_is_wide_enough_is_not_named(strokes: list[object]) -> None:
    """A tenth above the finest."""
    assert small_features(strokes, FINE) == ()  # type: ignore[arg-type]


def test_sharp_points_are_for_blades() -> None:
    """A point of 8° tears under a trailing blade; a beam does not mind."""
    needle = cut(Path.polygon([(0, 0), (50, 0), (0, 7)]))
    (finding,) = small_features([needle], TOOLS["blade"])

    assert finding.code == "sharp-point"
    assert "(50.0, 0.0)" in place_of(finding)
    assert "8.0°" in sentence_of(finding).found
    assert small_features([needle], TOOLS["beam"]) == ()


@pytest.mark.parametrize(
    ("tool", "least"),
    [("beam", 0.2), ("blade", 0.25), ("needle", 0.0)],
)
def test_the_finest_follows_from_the_tool(tool: str, least: float) -> None:
    """Its kerf, or the offset of its blade, unless the profile says more."""
    assert finest(TOOLS[tool]) == least
    assert finest(FINE) == 0.5


@pytest.mark.parametrize("tool", ["needle", "beam", "blade"])
@pytest.mark.parametrize("name", sorted(STYLE_LINES))
def test_styles_have_nothing_finer_than_usual_tools(name: str, tool: str) -> None:
    """As they come, no style asks a tool for what it cannot do."""
    plan = plan_toolpaths(STYLE_LINES[name], machine(tool))

    assert plan.findings == ()


def test_pieces_alike_are_told_each_at_its_own_place() -> None:
    """A notch at (30, 10) of the first lies at (100 − 10, 30) of one turned by a quarter about
    (0, 0) and moved by 100, and there is none in a plate beside them of other size."""
    quarter = Transform.translation(100, 0) @ Transform.rotation(90)
    strokes = [cut(notched(0.3)), cut(notched(0.3).transformed(quarter)), cut(notched(0.9))]

    found = [each.subject.at for each in small_features(strokes[:2], FINE)]

    assert found == [pytest.approx((30, 10)), pytest.approx((90, 30))]
    assert not list(small_features(strokes[2:], FINE))


def test_a_gap_narrower_than_the_kerf_is_cut_and_reported() -> None:
    """The notch of 0.15 mm does not vanish: its three sides are cut where they were drawn, and
    the outline about it is the one of the plate without a notch."""
    done, (finding,) = take_up_kerf([cut(notched(0.15))], 0.2)

    slit, outline = done
    assert slit.part is Part.SLIT
    assert slit.path.length == pytest.approx(20.15)
    assert not slit.path.closed
    assert outline.path.bounds == pytest.approx((-0.1, -0.1, 60.1, 20.1))
    assert finding.code == "narrower-than-kerf"
    assert "(30.0, 10.0)" in place_of(finding)


def test_a_hole_narrower_than_the_kerf_is_cut_where_it_was_drawn() -> None:
    """And reported."""
    hole = cut(Path.circle((20, 20), 0.08).reversed(), Part.OPENING)
    done, (finding,) = take_up_kerf([hole], 0.2)

    assert done == (hole,)
    assert finding.code == "narrower-than-kerf"


def test_a_step_finer_than_the_kerf_is_a_note() -> None:
    """A step of 0.05 mm in a border comes out rounded, and nothing more is cut."""
    step = Path.polygon([(0, 0), (60, 0), (60, 20), (30, 20), (30, 19.95), (0, 19.95)])
    done, (finding,) = take_up_kerf([cut(step)], 0.2)

    assert len(done) == 1
    assert finding.code == "finer-than-kerf"
