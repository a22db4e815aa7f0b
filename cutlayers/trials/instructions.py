"""The page that says how to do a trial, for the screen or for printing, with nothing beside it."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.formats.drawing import Drawing
from cutlayers.pictures.sheet import sheet_scene
from cutlayers.pictures.svg import inline_svg
from cutlayers.profile.setup_sheet import HEAD, SetupSheet
from cutlayers.telling.lengths import format_inches
from cutlayers.telling.pages import environment
from cutlayers.trials.model import ReadingSpec, Setup, Trial


def instructions(
    trial: Trial, setup: Setup, picture: Drawing, load: SetupSheet, files: Sequence[str]
) -> str:
    """A page of HTML; `files` are those for the machine or printer, beside the page."""
    from markupsafe import Markup

    machine = setup.machine
    specs = trial.readings(setup)
    who = f"{machine.title} ({machine.name})"
    who += f", card: {setup.material}" if setup.material else ""
    page = environment("cutlayers.trials").get_template("trial.html")
    return page.render(
        trial=trial,
        who=who,
        load=load,
        size=_in_both_units(picture.width, picture.height),
        drawn=Markup(_inline(picture)),
        files=files,
        head=HEAD,
        steps=trial.steps(setup),
        readings=specs,
        command=record_command(trial, setup, specs),
    )


def record_command(trial: Trial, setup: Setup, specs: Sequence[ReadingSpec]) -> str:
    """The command that records the readings, with dots for the values."""
    words = [f"{spec.name}=…" for spec in specs for _ in range(spec.times)]
    return f"cutlayers trial record {trial.kind} {setup.options} {' '.join(words)}"


def _in_both_units(*sides: float) -> str:
    """A size for whoever has either ruler.

    >>> _in_both_units(304.8, 215.9)
    '304.8 × 215.9 mm (12 × 8 1/2 in)'
    """
    millimetres = " × ".join(f"{side:g}" for side in sides)
    return f"{millimetres} mm ({' × '.join(map(format_inches, sides))} in)"


def _inline(picture: Drawing) -> str:
    """The picture as a part of the page."""
    scene = sheet_scene(picture)
    return inline_svg(scene, "sheet", {"width": f"{scene.width:g}mm"})
