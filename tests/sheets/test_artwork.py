from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.artwork.ink import Paint
from cutlayers.artwork.regions import area_of, moved
from cutlayers.geometry.overlays import together
from cutlayers.making.make import draw, plan, render, report_of
from cutlayers.making.stages import Layout
from cutlayers.profile.output import RegisterPlan
from cutlayers.profile.reading import read_profile
from cutlayers.profile.search import shipped_folder
from cutlayers.sheets.waste import Waste
from cutlayers.telling.errors import JobError
from cutlayers.telling.findings import Severity
from cutlayers.telling.words import in_words
from tests.printed import machine, planned, table

COLOUR = {"colour": "#0072B2"}
BLUE = {"panels": "front", **COLOUR}


def codes(work: Layout) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for finding in work.findings:
        found.setdefault(finding.code, []).append(in_words(finding))
    return found


def gable(*art: dict[str, Any], **more: Any) -> dict[str, Any]:
    job = table(*art, sheet="12x12 in", **more)
    job["piece"][0] |= {
        "style": "gable-carton",
        "size": {"length": 60, "width": 60, "height": 62},
        "options": {"lid_height": 25, "roof_depth": 45},
    }
    return job


def test_art_under_the_lid_is_told_with_its_share() -> None:
    """A base 62 mm high inside under a lid whose wall is 25 mm high in front and stands on its
    gussets' folds, two calipers of 0.3 over sin φ below, 30.35/45 of a roof of 45 that leans: of a
    flat colour 24.11/62.15 is hidden, at mid-caliper."""
    work = planned(gable({"net": "base", "panels": "front", "colour": "#0072B2"}))

    (said,) = codes(work)["art-covered"]
    assert "39% of it is hidden on the finished box by front of the lid" in said


def test_art_clear_of_the_lid_is_not() -> None:
    """Letters at the bottom of the same wall stay in sight, and so does all of the lid."""
    low = {"net": "base", "panels": "front", "lettering": "soap", "height": 8, "at": "bottom"}
    work = planned(gable(low, {"net": "lid", "roles": ["wall", "roof"], "colour": "#0072B2"}))

    assert "art-covered" not in codes(work)


def test_art_on_a_glue_tab_is_told() -> None:
    """It is glued behind a wall."""
    work = planned(table({"panels": "front left tab", "colour": "#0072B2"}))

    assert "100% of it is hidden on the finished box by left" in codes(work)["art-covered"][0]


def test_art_under_a_facing_is_told_with_its_share() -> None:
    """Flat colour on a wall of 25.15 by 59.7 mm, a facing with a border of 5 mm over it: the ink
    that is seen is the border, (15.15 · 49.7) / (25.15 · 59.7) of it is not."""
    faced = [{"panels": "front", "stock": "kraft", "border": 5}]
    (said,) = codes(planned(table(BLUE, facing=faced)))["art-covered"]

    assert round(15.15 * 49.7 / (25.15 * 59.7) * 100) == 50
    assert "50% of it is hidden on the finished box by the tray front facing" in said
    assert "art-covered" not in codes(planned(table({**BLUE, "panels": "back"}, facing=faced)))


def test_art_on_a_facing_under_the_lid_is_told() -> None:
    """A facing as large as the base's front lies where that lies: as much of it is hidden (above),
    and none of one on the lid."""
    faced = {"net": "base", "panels": "front", "stock": "kraft", "border": 0, "art": [COLOUR]}
    job = gable()
    job["piece"][0]["facing"] = [faced]
    (said,) = codes(planned(job))["art-covered"]

    assert "39% of it is hidden on the finished box by front of the lid" in said
    job["piece"][0]["facing"] = [faced | {"net": "lid"}]
    assert "art-covered" not in codes(planned(job))


def test_art_on_a_facing_under_another_is_told() -> None:
    """Two facings on one wall: the later one lies on top and leaves its border of the first, 3 mm
    all round a wall of 25.15 by 59.7 mm."""
    wide, narrow = (
        {"panels": "front", "stock": "kraft", "border": border, "art": [COLOUR]}
        for border in (0, 3)
    )
    (said,) = codes(planned(table(facing=[wide, narrow])))["art-covered"]

    assert round(19.15 * 53.7 / (25.15 * 59.7) * 100) == 68
    assert "68% of it is hidden on the finished box by the tray front facing" in said


def test_lettering_under_a_facing_is_told() -> None:
    """Two letters of one stroke each, drawn by the pen on the wall that the facing goes on."""
    letters = [{"panel": "front", "text": "II"}]
    faced = [{"panels": "front", "stock": "kraft"}]
    (said,) = codes(planned(table(lettering=letters, facing=faced)))["drawn-under-facing"]

    assert "2 drawn lines of it lie under its facing" in said
    clear = [{"panels": "back", "stock": "kraft"}]
    assert "drawn-under-facing" not in codes(planned(table(lettering=letters, facing=clear)))


def test_art_under_a_panel_of_the_same_blank_is_told() -> None:
    """A dust flap lies under the closing panel, of which nothing is hidden."""
    job = table(*({"panels": name, "colour": "#0072B2"} for name in ("left top dust flap", "top")))
    job["piece"][0] |= {
        "style": "tuck-carton",
        "size": {"length": 60, "width": 40, "height": 50},
    }
    said = codes(planned(job))["art-covered"]

    assert len(said) == 1
    assert "100% of it is hidden on the finished box by top" in said[0]
    assert "glued" not in said[0]


def test_print_across_a_crease_is_told() -> None:
    """Without a safe margin letters as large as the wall reach its crease, which in card of 0.3 mm
    takes 0.3 mm; colour that fills the wall may end there."""
    letters, margin = {"panels": "front", "lettering": "I"}, {"print": {"safe_margin": 0}}
    (said,) = codes(planned(table(letters, BLUE) | margin))["art-across-crease"]

    assert "it reaches 0.3 mm into the crease" in said
    assert "art-across-crease" not in codes(planned(table(letters, BLUE)))


def test_letters_too_high_are_made_smaller_and_told() -> None:
    """25 mm of wall less twice 3 mm leave 19.15 for capitals of 40 and their line's width."""
    work = planned(table({"panels": "front", "lettering": "I", "height": 40}))

    (said,) = codes(work)["lettering-reduced"]
    assert "becomes 17.4 mm" in said  # 19.15 / 1.1: the line is a tenth of the height


def test_a_safe_margin_that_leaves_nothing_is_an_error() -> None:
    """Nothing is dropped without a word."""
    work = planned(table({"panels": "front", "lettering": "soap"}) | {"print": {"safe_margin": 15}})

    assert "art-without-room" in codes(work)
    assert not work.works


def test_a_coarse_picture_is_told() -> None:
    """256 pixels over 60.3 + 2 · 3 mm of base and bleed: 98 per inch."""
    work = planned(table({"panels": "base", "file": "photo.png", "fit": "cover"}))

    assert "pixels per inch there; 150 or more looks sharp" in codes(work)["art-coarse"][0]


def test_marks_in_the_printers_border_are_an_error() -> None:
    """Inset 12, size 8: their lines begin 8 mm from the edge, 2 mm inside a border of 10. One tray
    leaves room for a fourth."""
    work = planned(table(BLUE), machine(margin=10.0))

    said = [f for f in work.findings if f.code == "mark-beyond-print"]
    assert len(said) == 4
    assert {f.severity for f in said} == {Severity.ERROR}
    assert "2.0 mm of it lie in the border" in in_words(said[0])


def test_art_in_the_printers_border_is_told() -> None:
    """A tray that fills the sheet: what cannot be printed is said, in mm."""
    job = table({"roles": "wall", "colour": "#0072B2"})
    job["stock"]["kraft"]["sheet"] = [135, 150]
    job["piece"][0]["size"] = {"length": 60, "width": 40, "height": 25}
    work = planned(job, machine(RegisterPlan(shape="none"), margin=18.0))

    assert "lie in the border that the printer leaves white" in codes(work)["art-beyond-print"][0]


def test_bleed_keeps_off_pieces_and_marks() -> None:
    """Trays packed side by side: no ink on a neighbour, on a mark's square or in the border."""
    art = {"roles": ["wall", "base"], "pattern": "stars", "repeat": 6, "ground": "#F0E4C2"}
    work = planned(table(art, count=4, sheet="12x12 in") | {"sheets": {"gap": 2}}, machine())
    (sheet,) = work.sheets
    blanks = [
        moved(together([area_of(p.outline) for p in each.piece.net.panels]).buffer(0), each.place)
        for each in sheet.placed
    ]
    paper = shapely.box(5, 5, sheet.width - 5, sheet.height - 5)
    keep = shapely.union_all([shapely.box(*mark.keep_out) for mark in sheet.marks])
    clips = [shapely.Polygon(item.clip[0].points) for item in work.inks[1].layers[0].items]

    assert len(sheet.placed) == 4
    for clip in clips:
        touched = [blank for blank in blanks if blank.intersection(clip).area > 1e-3]
        assert len(touched) == 1
        assert clip.difference(touched[0].buffer(3.01)).area < 1e-3
        assert clip.difference(paper).area < 1e-6
        assert clip.intersection(keep).area < 1e-6


def test_notes_stay_in_the_waste() -> None:
    """Rules and names keep off pieces, their bleed and the marks, and lie within reach."""
    work = planned(table(BLUE, count=3), machine(RegisterPlan(count=5)))
    for sheet in work.sheets:
        notes = work.inks[sheet.number].layers[2].items
        lines = shapely.union_all(
            [
                shapely.LineString(contour.points)
                for item in notes
                if isinstance(item, Paint)
                for contour in item.contours
            ]
        )
        taken: list[BaseGeometry] = [shapely.box(*mark.keep_out) for mark in sheet.marks]
        for placed in sheet.placed:
            panels = [area_of(panel.outline) for panel in placed.piece.net.panels]
            taken.append(moved(together(panels).buffer(3.0), placed.place))

        assert not lines.intersects(shapely.union_all(taken))
        assert shapely.box(5, 5, sheet.width - 5, sheet.height - 5).contains(lines)


def test_every_piece_is_named_where_there_is_room() -> None:
    """Four trays, four names, and both rules, on a sheet with much waste."""
    work = planned(table(BLUE, count=4, sheet="12x12 in"))
    notes = work.inks[1].layers[2].items

    assert len(notes) == 4 + 4  # two rules of a scale and its words each
    assert "no-room-for-name" not in codes(work)
    assert "no-room-for-rule" not in codes(work)


def test_what_has_no_room_is_told() -> None:
    """A sheet hardly larger than its tray."""
    job = table(BLUE)
    job["stock"]["kraft"]["sheet"] = [125, 105]
    work = planned(job, machine(RegisterPlan(shape="none")))

    assert "no-room-for-rule" in codes(work)


def test_facings_are_placed_on_their_own_stock_and_counted() -> None:
    """One for each wall of each of two trays: eight, each smaller by 1/16 in all round. Front and
    back, 60.3 between scores, end a caliper of 0.3 short of both side walls: 59.7."""
    job = table(count=2, facing=[{"roles": "wall", "stock": "stars"}])
    job["stock"]["stars"] = {"caliper": 0.12, "sheet": "A4"}
    work = planned(job)

    (boxes, facings) = work.sheets
    assert (boxes.stock.name, facings.stock.name) == ("kraft", "stars")
    sizes = sorted(
        tuple(sorted((round(b[2] - b[0], 6), round(b[3] - b[1], 6))))
        for b in (placed.piece.bounds for placed in facings.placed)
    )
    border = 2 * 25.4 / 16
    assert np.array(sizes) == pytest.approx(
        np.array([[25.15 - border, 40.3 - border]] * 4 + [[25.15 - border, 59.7 - border]] * 4)
    )
    row = next(row for row in report_of(work).sheets if row.stock == "stars")
    assert sum(row.pieces.values()) == 8
    assert work.inks == {}  # patterned paper is not printed


def test_a_facing_lets_punches_through() -> None:
    """Wider by the border: a hole of 4 mm becomes 4 + 2 · 1.5."""
    job = gable(facing=[{"net": "lid", "panels": "front ridge", "stock": "kraft", "border": 1.5}])
    job["piece"][0]["options"]["punch"] = 4
    work = planned(job)
    (facing,) = (p.piece for s in work.sheets for p in s.placed if "facing" in p.piece.name)

    holes = [feature.path for feature in facing.net.root.features]
    assert [abs(hole.area) for hole in holes] == pytest.approx([np.pi * 3.5**2] * 2)


def test_pieces_to_print_keep_off_the_printers_border() -> None:
    """By its width and the bleed, where the sheet has room."""
    (sheet,) = planned(table(BLUE), machine(margin=7.0, bleed=2.0)).sheets
    left, bottom, right, top = sheet.placed[0].piece.net.transformed(sheet.placed[0].place).bounds

    assert min(left, bottom, sheet.width - right, sheet.height - top) >= 9.0 - 1e-6


def test_the_printers_scale_moves_ink_and_not_cuts() -> None:
    """A rule that measures 99.5 across: print 100/99.5 as wide about the middle, cut as before."""
    plain, scaled = planned(table(BLUE)), planned(table(BLUE), machine(rule_across=99.5))

    ours, theirs = ([side.drawing for side in draw(plan(each)).sides] for each in (scaled, plain))
    assert ours == theirs
    onto = scaled.inks[1].onto_print
    assert onto.apply((105.0, 10.0)) == pytest.approx((105.0, 10.0))
    assert onto.apply((205.0, 10.0)) == pytest.approx((105.0 + 100 * 100 / 99.5, 10.0))
    assert plain.inks[1].onto_print == replace(onto, xx=1.0, dx=0.0)


def test_no_art_no_print() -> None:
    """A sheet without art has nothing to print."""
    assert planned(table()).inks == {}


def test_a_covered_layer_is_left_out() -> None:
    """Below an opaque one it would only show as a fringe."""
    under = {"panels": ["front", "back"], "pattern": "dots", "ground": "#F0E4C2"}
    work = planned(table(under, BLUE))

    fills = [item.fill for item in work.inks[1].layers[0].items if isinstance(item, Paint)]
    assert fills == ["#F0E4C2", "#000000", "#0072B2"]  # ground and dots of the back, then front


def test_free_places_are_free_all_over() -> None:
    """Every place the grid offers is clear of what is blocked, as shapely measures it."""
    blocked = shapely.union_all([shapely.Point(30, 30).buffer(12), shapely.box(50, 0, 55, 70)])
    waste = Waste((5.0, 5.0, 95.0, 75.0), blocked)
    waste.take(70.0, 50.0, 10.0, 10.0)

    spots = waste.spots(12.0, 6.0)

    boxes = shapely.box(spots[:, 0], spots[:, 1], spots[:, 0] + 12, spots[:, 1] + 6)
    assert len(spots) > 100
    taken = blocked.union(shapely.box(70.01, 50.01, 79.99, 59.99))
    assert not shapely.intersects(boxes, taken).any()
    assert shapely.contains(shapely.box(4.99, 4.99, 95.01, 75.01), boxes).all()


def test_a_laser_is_kept_from_a_facings_stock_too() -> None:
    """Chlorinated stock must not be cut by a laser, whichever piece it is for."""
    job = table(facing=[{"panels": "front", "stock": "foil"}])
    job["stock"]["foil"] = {"caliper": 0.12, "sheet": "A4", "contains": ["pvc"]}
    laser = read_profile(shipped_folder() / "small-laser.toml")

    with pytest.raises(JobError, match="foil is marked pvc"):
        planned(job, laser)


def test_the_guide_says_where_facings_go() -> None:
    """While the card is flat, and with the card they need."""
    job = table(facing=[{"panels": ["front", "back"], "stock": "stars"}])
    job["stock"]["stars"] = {"caliper": 0.12, "sheet": "A4"}
    page = render(draw(plan(planned(job))))["guide.html"].decode().lower()

    assert "stick the facing pieces on <em>front</em>, <em>back</em>" in page.replace(
        "</em> and <em>", "</em>, <em>"
    )
    assert "stars" in page
