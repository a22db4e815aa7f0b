"""The job that each style is started with: what it suggests in comments works when it is taken.

What is expected is the style's own refusals and the checks of the folded box; and for what a style
chooses by itself, the box without the suggestion.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Sequence

import pytest

from cutlayers.checks.job import all_findings, check_boxes
from cutlayers.construction.card import Card
from cutlayers.construction.catalogue import EXAMPLE_CALIPER, job_template
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles, styles_by_name
from cutlayers.job.reading import job_from
from cutlayers.job.stock import usual_sheet
from cutlayers.net import Net
from cutlayers.profile.search import find_profile
from cutlayers.reading.declared import Word
from cutlayers.telling.lengths import Unit

NAMES = [style.name for style in styles()]
COMMENTED = re.compile(r"^# (?=(\w+) = )")

NEAR = 1.5
"""mm; a suggestion is a round number, the style's own proportion is not."""


def with_some(style: Style, unit: Unit) -> Iterator[tuple[str, str]]:
    """The job as it is, with each commented value taken alone, and with all of them."""
    lines = job_template(style, unit, usual_sheet(unit)).splitlines()
    found = {i: match[1] for i, line in enumerate(lines) if (match := COMMENTED.match(line))}
    choices: Sequence[tuple[str, Sequence[int]]] = [
        ("none", ()),
        *((name, (i,)) for i, name in found.items()),
        ("all", tuple(found)),
    ]
    for name, taken in choices:
        rows = [COMMENTED.sub("", line) if i in taken else line for i, line in enumerate(lines)]
        yield name, "\n".join(rows)


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("name", NAMES)
def test_every_commented_value_makes_a_box(name: str, unit: Unit) -> None:
    """Taken alone or all together: the job is read, the box is built, and nothing is found."""
    style = styles_by_name()[name]
    for what, text in with_some(style, unit):
        job = job_from(tomllib.loads(text), "box.toml", "box")

        assert all_findings(check_boxes(job)) == (), what
        if job.profile is not None:
            assert find_profile(job.profile).is_file()


def outlines(nets: Sequence[Net]) -> list[tuple[float, float, float, float]]:
    """The bounds of every panel and of what is worked in it."""
    return [
        path.bounds
        for net in nets
        for panel in net.panels
        for path in (panel.outline, *(feature.path for feature in panel.features))
    ]


PROPORTIONS = [
    (style.name, name)
    for style in styles()
    for name, (_, default) in style.table.items()
    if default is None
]


@pytest.mark.parametrize(("name", "option"), PROPORTIONS)
def test_what_is_suggested_is_about_what_the_style_chooses(name: str, option: str) -> None:
    """So that taking a line into the job changes nothing yet: the panels stay as large."""
    style = styles_by_name()[name]
    window = style.table.get("window")
    needed: dict[str, object] = {"tear": 10.0} if option == "tear_at" else {}
    if option.startswith("window") and window is not None:
        assert isinstance(window[0].value, Word)
        needed = {"window": window[0].value.choices[1]}
    card = Card(EXAMPLE_CALIPER)
    dimension, _ = style.table[option]

    by_itself = outlines(style.build(style.dimensions(**needed), card))
    suggested = style.dimensions(**needed, **{option: dimension.example})

    for one, other in zip(by_itself, outlines(style.build(suggested, card)), strict=True):
        assert other == pytest.approx(one, abs=NEAR)
