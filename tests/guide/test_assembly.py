"""The order in which a box goes together."""

from __future__ import annotations

from cutlayers.box import Box, build
from cutlayers.box.steps import Action, Step
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.guide.assembly_words import step_in_words

FOLD, SEAM, GLUE = Action.FOLD, Action.SEAM, Action.GLUE


def box(style: str, caliper: float = 0.3, **dims: object) -> Box:
    found = style_named(style)
    return build(found, found.dimensions(**dims), Card(caliper))


def actions(steps: tuple[Step, ...]) -> list[Action]:
    return [step.action for step in steps]


def test_a_tray_is_folded_and_glued_wall_by_wall() -> None:
    """The tabs of the long walls go behind the short walls that they land on."""
    fold, left, right, fill = box("tray").steps()

    assert fold.action is FOLD and fold.targets == ()
    assert (left.action, left.panels, left.targets) == (
        GLUE,
        ("front left tab", "back left tab"),
        ("left",),
    )
    assert (right.panels, right.targets) == (("front right tab", "back right tab"), ("right",))
    assert fill.action is Action.FILL


def test_a_carton_gets_its_seam_then_its_bottom_then_its_goods() -> None:
    """Dust flaps go in before the panel that covers them, and the top comes last."""
    steps = box("tuck-carton", ends="reverse").steps()

    assert actions(steps) == [
        FOLD,
        SEAM,
        Action.SQUARE,
        Action.FOLD_IN,
        Action.TUCK,
        Action.FILL,
        Action.FOLD_IN,
        Action.TUCK,
    ]
    assert steps[1].panels == ("glue tab",) and steps[1].targets == ("left",)
    assert steps[3].panels == ("left bottom dust flap", "right bottom dust flap")
    # A reverse tuck: the bottom hangs on the front wall and goes in behind the back one.
    assert (steps[4].panels, steps[4].targets) == (("bottom", "bottom tuck"), ("back",))
    assert (steps[7].panels, steps[7].targets) == (("top", "top tuck"), ("front",))


def test_a_gable_is_closed_after_the_lid_is_on() -> None:
    """Base first, then the lid's seam in one go; gussets before ridges, holes through them last."""
    steps = box("gable-carton", punch=4).steps()

    assert actions(steps) == [
        FOLD,
        GLUE,
        GLUE,
        FOLD,
        SEAM,
        Action.FILL,
        Action.JOIN_OVER,
        Action.GUSSETS,
        Action.RIDGES,
        Action.PUNCH_CLOSED,
        Action.RIBBON,
    ]
    assert steps[4].panels == ("wall tab", "roof tab", "ridge tab")
    assert steps[4].targets == ("back", "back roof", "back ridge")
    assert steps[7].panels == ("left gusset", "right gusset")
    assert steps[9].layers == 4


def test_valleys_are_named_where_all_is_folded() -> None:
    """The lid's ridges and gusset creases fold towards the viewer, its walls do not."""
    steps = box("gable-carton").steps()

    folds = set(steps[3].targets)
    assert "front roof | front ridge" in folds and "left gusset | left back side" in folds
    assert "front | left" not in folds


def test_holes_through_thick_piles_are_punched_flat() -> None:
    """Four layers of 0.5 mm are 2 mm of card, more than a hand punch bites through at once."""
    steps = box("gable-carton", 0.5, punch=4).steps()

    flat = next(step for step in steps if step.action is Action.PUNCH_FLAT)
    assert flat.layers == 4
    assert actions(steps).index(Action.PUNCH_FLAT) < actions(steps).index(SEAM)
    assert Action.PUNCH_CLOSED not in actions(steps)


def test_facing_pieces_come_before_glue() -> None:
    """They are stuck on while the card is flat."""
    steps = box("tray").steps((("tray", ("front", "back")),))

    assert actions(steps) == [FOLD, Action.FACING, GLUE, GLUE, Action.FILL]
    assert steps[1].panels == ("front", "back")
    (one,) = (
        each for each in box("tray").steps((("tray", ("back",)),)) if each.action is Action.FACING
    )
    said = [step_in_words(each, name_net=False) for each in (steps[1], one)]
    assert said == [
        "Stick the facing pieces on front and back while the card is flat.",
        "Stick the facing piece on back while the card is flat.",
    ]
