"""Sentences of what is found on sheets: art, print, waste, the search, and the rows of a kit."""

from __future__ import annotations

from cutlayers.telling.findings import Finding
from cutlayers.telling.quantities import Quantity
from cutlayers.telling.saying import Say, many, number, percent
from cutlayers.telling.sentences.sentence import Sentence, Telling, least, most

BORDER = "the border that the printer leaves white"


def _art_as_pixels(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"{finding.detail('picture')} holds gradients or effects, so it is printed as pixels",
        cure="plain fills and lines stay sharp at any size",
    )


def _art_first_frame(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"{finding.detail('picture')} holds several pictures, of which the first is printed",
        cure="save another by itself if you mean that",
    )


def _art_without_room(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"the panel has no room for it within {_margin(finding, say)}",
        cure="choose larger panels or a smaller print.safe_margin",
    )


def _lettering_reduced(finding: Finding, say: Say) -> Sentence:
    asked, fits = say.apart((finding.measured[0], most(finding)))
    return Sentence(
        f"its height of {asked} does not fit within {_margin(finding, say)}, so it becomes {fits}",
        cure="give a smaller height, or more lines",
    )


def _margin(finding: Finding, say: Say) -> str:
    margin: Quantity = finding.detail("margin")
    return f"a safe margin of {say.limit(margin)}"


def _art_coarse(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"the picture has {number(finding.measured[0])} pixels per inch there",
        f"{number(least(finding))} or more looks sharp",
        "use a larger picture, or an SVG",
    )


def _art_covered(finding: Finding, say: Say) -> Sentence:
    by = ", ".join(
        f"the {cover.net} that is glued on it"
        if cover.panel is None
        else cover.panel
        if cover.net == finding.subject.net
        else f"{cover.panel} of the {cover.net}"
        for cover in finding.others
    )
    return Sentence(
        f"{percent(finding.measured[0])} of it is hidden on the finished box by {by}",
        cure="" if finding.detail("spreads") else "place it on another panel",
    )


def _drawn_under_facing(finding: Finding, say: Say) -> Sentence:
    lines = int(finding.measured[0].value)
    return Sentence(
        f"{lines} drawn line{'s' * (lines > 1)} of it lie{'s' * (lines == 1)} under its facing",
        cure="draw them on another panel, or leave this one out of the facing's",
    )


def _art_across_crease(finding: Finding, say: Say) -> Sentence:
    margin: Quantity = finding.detail("margin")
    return Sentence(
        f"it reaches {say.length(finding.measured[0])} into the crease",
        f"the safe margin is {say.limit(margin)}",
        "give a larger print.safe_margin, or a smaller height",
    )


def _art_beyond_print(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"{say.length(finding.measured[0])} of its art lie in {BORDER}",
        cure="use a larger sheet or fewer pieces on it, or check print.margin in the profile",
    )


def _bleed_trimmed(finding: Finding, say: Say) -> Sentence:
    square = finding.measured[0].value
    lost = f"{square:.0f} mm²" if say.unit == "mm" else f"{square / 25.4**2:.2f} in²"
    return Sentence(
        f"its bleed is cut short on {lost} by the printer's white border or a register mark",
        cure="a cut that lands outside the panel there shows the card",
    )


def _mark_beyond_print(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"{say.length(finding.measured[0])} of it lie in {BORDER}",
        cure="raise register.from_edge in the profile, or lower print.margin if your printer "
        "reaches farther",
    )


def _no_room_for_rule(finding: Finding, say: Say) -> Sentence:
    ways = " and ".join(finding.detail("ways"))
    return Sentence(
        f"no room for the check rule {ways}, {say.size(finding.measured, 0)}",
        cure="measure the rule on another sheet, or leave a strip of waste",
    )


def _no_room_for_name(finding: Finding, say: Say) -> Sentence:
    names = ", ".join(finding.detail("names"))
    return Sentence(
        f"no room in the waste for the names of {many(finding.measured[0], 'piece')} ({names})"
    )


def _search_stopped(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        "the search for better sheets was stopped; the best found until then is used",
        cure="run it again for the full search",
    )


def _search_failed(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        "the search for better sheets broke down over these outlines; the quick mode's are used"
    )


def _column_unused(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        "no piece of the job names it",
        cure=f"write {{{finding.subject.column}}} where it belongs, or leave it",
    )


def _value_missing(finding: Finding, say: Say) -> Sentence:
    return Sentence(f"{finding.subject.column} is empty", cure="its box is made without")


def _decimal_commas(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"{finding.subject.column} has decimal commas, {finding.detail('cell')!r} and so on, which "
        "are read as such"
    )


def _rows_alike(finding: Finding, say: Say) -> Sentence:
    pairs = zip(finding.detail("columns"), finding.detail("cells"), strict=True)
    values = ", ".join(f"{column} {cell!r}" for column, cell in pairs)
    return Sentence(
        f"are alike: {values}",
        cure="each makes a set of its own; take out what is there twice by mistake",
    )


def _blank_too_large(finding: Finding, say: Say) -> Sentence:
    room = finding.allowed.most if finding.allowed else ()
    return Sentence(
        f"the blank is {say.size(finding.measured)}",
        f"a sheet has {say.size(room)} within the machine's reach",
        "use a larger sheet, or make the box smaller",
    )


SENTENCES: dict[str, Telling] = {
    "blank-too-large": _blank_too_large,
    "art-as-pixels": _art_as_pixels,
    "art-first-frame": _art_first_frame,
    "art-without-room": _art_without_room,
    "lettering-reduced": _lettering_reduced,
    "art-coarse": _art_coarse,
    "art-covered": _art_covered,
    "drawn-under-facing": _drawn_under_facing,
    "art-across-crease": _art_across_crease,
    "art-beyond-print": _art_beyond_print,
    "bleed-trimmed": _bleed_trimmed,
    "mark-beyond-print": _mark_beyond_print,
    "no-room-for-rule": _no_room_for_rule,
    "no-room-for-name": _no_room_for_name,
    "search-stopped": _search_stopped,
    "search-failed": _search_failed,
    "column-unused": _column_unused,
    "value-missing": _value_missing,
    "decimal-commas": _decimal_commas,
    "rows-alike": _rows_alike,
}
