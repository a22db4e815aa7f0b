"""Boxes and kinds of card that come, are made others and go; the rest of the file stays."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from cutlayers import job_template, styles
from cutlayers.page.desk import Desk
from tests.page.test_desk import JOB, desk, done

__all__ = ["desk"]

PIECE = JOB[JOB.index("[[piece]]") :]


def table(desk: Desk) -> dict[str, Any]:
    return tomllib.loads(desk.path.read_text())


def test_a_box_more_is_that_of_a_new_job(desk: Desk) -> None:
    """As `cutlayers new` writes it, with its remarks, in the card that is there; all before it
    stays to the last byte, and taken out again it leaves nothing."""
    assert done(desk, add="box", style="gable-carton") == []

    text = desk.path.read_text()
    style = next(each for each in styles() if each.name == "gable-carton")
    fresh = job_template(style, "in", "letter")
    assert text.startswith(JOB)
    assert text.removeprefix(JOB).splitlines()[6:] == (
        fresh[fresh.index("[piece.size]") :].rstrip().rpartition("\n\n")[0].splitlines()
    )
    assert [each["stock"] for each in table(desk)["piece"]] == ["ivory", "ivory"]
    assert desk.state(1)["style"] == "gable-carton"
    assert done(desk, remove=["piece", 1]) == []
    assert desk.path.read_text() == JOB


def test_a_box_is_copied_with_its_remarks_and_a_name_of_its_own(desk: Desk) -> None:
    assert done(desk, add="box", like=0) == []
    assert desk.path.read_text() == f"{JOB}\n{PIECE}"
    done(desk, set=["piece", 0, "name"], to="bars", kind="text")

    done(desk, add="box", like=0)
    done(desk, add="box", like=0)

    assert [each.get("name") for each in table(desk)["piece"]] == ["bars", None, "bars 2", "bars 3"]
    assert desk.path.read_text().count("# Measured at the stall.") == 4
    assert done(desk, remove=["piece", 0]) == []
    assert desk.state()["pieces"][1:] == ["bars 2", "bars 3"]


def test_another_style_keeps_what_it_has_too(desk: Desk) -> None:
    """Sizes of the same name, as they are written; what was said of the old one's panels goes."""
    options = 'options = { flap = "1/2 in" }'
    inks = '[[piece.art]]\nroles = "wall"\ncolour = "#F0E442"\n'
    own = '[[piece.art]]\npanels = "base"\ncolour = "#0072B2"\n'
    letters = '[[piece.lettering]]\npanel = "base"\ntext = "Soap"\n'
    desk.path.write_text(f"{JOB}\n{inks}\n{own}\n{letters}".replace("size =", f"{options}\nsize ="))
    desk.take_outside()

    assert done(desk, style="gable-carton", piece=0) == []

    wanted = JOB.replace('style = "tray"', 'style = "gable-carton"')
    assert desk.path.read_text() == f"{wanted}\n{inks}"
    desk.undo()
    assert table(desk)["piece"][0]["options"] == {"flap": "1/2 in"}


def test_another_style_in_its_usual_size(desk: Desk) -> None:
    """Where it cannot be made in the sizes that are there."""
    assert done(desk, style="gable-carton", piece=0, usual=True) == []

    assert table(desk)["piece"][0]["size"] == {
        "length": "2 3/8 in",  # as `cutlayers new gable-carton --units in` has them
        "width": "2 3/8 in",
        "height": "2 7/16 in",
    }
    assert "# Measured at the stall." in desk.path.read_text()


def test_a_card_more_begins_like_that_of_the_box(desk: Desk) -> None:
    """It may be taken out only once nothing is made of it, and then leaves nothing."""
    assert done(desk, add="stock", name=" gold card ", piece=0) == []

    assert table(desk)["stock"] == {
        "ivory": {"caliper": "0.3 mm", "sheet": "A4"},
        "gold card": {"caliper": "0.3 mm", "sheet": "A4"},
    }
    assert table(desk)["piece"][0]["stock"] == "gold card"
    assert done(desk, remove=["stock", "gold card"])[0]["place"] == ["stock", "gold card"]
    spare = {group["title"]: group["item"] for group in desk.state()["controls"]["card"]}
    assert sorted(map(str, spare.values())) == ["('stock', 'ivory')", "None"]
    done(desk, set=["piece", 0, "stock"], to="ivory", kind="word")
    assert done(desk, remove=["stock", "gold card"]) == []
    assert desk.path.read_text() == JOB


@pytest.mark.parametrize(
    "change",
    [
        {"add": "stock", "name": "  ", "piece": 0},
        {"add": "stock", "name": "ivory", "piece": 0},
        {"add": "stock", "name": "gold\ncard", "piece": 0},
        {"add": "stock", "name": "gold", "piece": 7},
        {"add": "box", "style": "no-such-style"},
        {"add": "box", "like": 7},
        {"add": "box", "like": -1},
        {"style": "no-such-style", "piece": 0},
        {"style": "tray", "piece": 7},
        {"remove": ["stock", "ivory"]},
        {"remove": ["stock", "none"]},
        {"remove": ["piece", 0]},  # the last one
    ],
    ids=str,
)
def test_what_cannot_be_done_is_told_and_not_written(desk: Desk, change: dict[str, Any]) -> None:
    assert done(desk, **change)[0]["words"]
    assert desk.path.read_text() == JOB


@pytest.mark.parametrize("name", [style.name for style in styles()][::7])
def test_a_box_of_a_style_is_added_beside_any_other(desk: Desk, name: str) -> None:
    """In inches as well as in millimetres, and it can be read and folded."""
    assert done(desk, add="box", style=name) == []
    assert desk.state(1)["style"] == name
