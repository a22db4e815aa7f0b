"""Sentences of card that does not suit its box: too thick, too thin, its grain across the folds."""

from __future__ import annotations

from cutlayers.telling.findings import Finding
from cutlayers.telling.quantities import Quantity
from cutlayers.telling.saying import Say, angle
from cutlayers.telling.sentences.sentence import Sentence, Telling, least, most


def _grain(finding: Finding, say: Say) -> Sentence:
    across, along = finding.measured
    return Sentence(
        f"{say.length(across, 0)} of the main folds run across the grain and "
        f"{say.length(along, 0)} along it",
        "card folds best along its grain",
        "turn the piece a quarter turn on the sheet, or score those folds twice",
    )


def _grain_of_tube(finding: Finding, say: Say) -> Sentence:
    along, across = finding.measured
    return Sentence(
        f"{say.length(along, 0)} of the creases round the tube run along the grain and "
        f"{say.length(across, 0)} across it",
        "its panels bow unless the grain runs round the tube, across these creases",
        "turn the piece a quarter turn on the sheet, and score well",
    )


def _card_too_thick(finding: Finding, say: Say) -> Sentence:
    caliper, limit = say.limit(finding.measured[0]), ""
    if finding.allowed is not None:
        caliper, limit = _of_card(finding.measured[0], most(finding), say)
    of, wanting = finding.detail("of"), finding.detail("wanting")
    deeper = f"take thinner card, or make it {say.length(wanting)} deeper" if wanting else ""
    match finding.detail("reason"):
        case "fold":
            found = f"folds by {angle(of, 0)}, of card {caliper} thick"
        case "flat":
            found = f"folds right over where the piece lies flat, of card {caliper} thick"
        case "narrow":
            found = f"reaches {say.length(of)} from its crease, of card {caliper} thick"
        case "tuck":
            found = f"is a tuck {say.length(of)} deep, of card {caliper} thick"
        case _:
            found = f"bends without a crease, of card {caliper} thick"
    return Sentence(
        found,
        f"up to {limit} will do here" if limit else "no card will do at these sizes",
        deeper or "take thinner card, or cut the panels apart and hinge them with tape",
    )


def _card_too_thick_to_press(finding: Finding, say: Say) -> Sentence:
    caliper, limit = _of_card(finding.measured[0], most(finding), say)
    return Sentence(
        f"does not go flat to be glued, of card {caliper} thick",
        f"up to {limit} folds right over",
        "glue it standing, round a block or what goes in",
    )


def _card_too_thin(finding: Finding, say: Say) -> Sentence:
    caliper, limit = _of_card(finding.measured[0], least(finding), say)
    return Sentence(
        f"is {say.length(finding.detail('span'))} wide between its folds, of card {caliper} thick",
        f"card of {limit} or more does not sag",
        "take thicker card, or line it with a second layer",
    )


def _of_card(caliper: Quantity, limit: Quantity, say: Say) -> tuple[str, str]:
    """Both are told in full: the caliper is what the job says."""
    if say.unit == "in":
        return say.against(caliper, limit)
    return say.limit(caliper), say.limit(limit)


SENTENCES: dict[str, Telling] = {
    "card-too-thick": _card_too_thick,
    "card-too-thick-to-press": _card_too_thick_to_press,
    "card-too-thin": _card_too_thin,
    "grain": _grain,
    "grain-of-tube": _grain_of_tube,
}
