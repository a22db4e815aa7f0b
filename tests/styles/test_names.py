"""Over all styles one name of a size or an option means one thing, and what was once called
otherwise is refused with its name of today."""

from __future__ import annotations

import contextlib
from collections import defaultdict
from collections.abc import Iterator

import pytest
from click.testing import CliRunner

import cutlayers
from cutlayers.cli import main
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import Dimension
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles, styles_by_name
from cutlayers.job.reading import job_from
from cutlayers.net import Role
from cutlayers.reading.declared import Flag, Word
from cutlayers.telling.errors import JobError, StyleError

ONCE = {
    "counter-tray": {"back": "back_height"},
    "crash-lock-carton": {"tuck": "tuck_depth", "dust": "dust_depth"},
    "envelope": {"flap": "flap_shape", "back": "back_height"},
    "gable-carton": {"wall": "lid_height", "roof": "roof_depth", "ridge": "ridge_height"},
    "gusseted-envelope": {"flap": "flap_depth"},
    "hinged-lid-tray": {"tuck": "tuck_depth", "side": "side_flap_depth"},
    "house-box": {
        "ridge": "ridge_tuck_depth",
        "gable": "gable_flap_depth",
        "tuck": "tuck_depth",
        "dust": "dust_depth",
    },
    "platonic-solid": {"lid": "closure"},
    "prism-box": {"lid": "lid_height"},
    "pyramid-box": {"top": "closure"},
    "slide-lock-mailer": {"side": "side_flap_depth", "tongue": "tongue_length"},
    "snap-lock-carton": {"tuck": "tuck_depth", "dust": "dust_depth"},
    "tapered-tray": {"bottom": "side", "top": "rim_side"},
    "telescope-box": {"lid": "lid_height"},
    "tuck-carton": {"tuck": "tuck_depth", "dust": "dust_depth"},
}
"""Style → what was once called otherwise, in words that elsewhere meant something else."""

RENAMED = [(style, *names) for style, renamed in ONCE.items() for names in renamed.items()]


def declared() -> Iterator[tuple[Style, str, Dimension]]:
    for style in styles():
        for name, (dimension, _) in style.table.items():
            yield style, name, dimension


def test_one_name_means_one_thing() -> None:
    """A name is a size or an option, of one kind of value; and what is said of an option begins
    with one word: the depth, the diameter, what is left."""
    found = defaultdict(set)
    for _, name, dimension in declared():
        value = dimension.value
        said = value.help.split()[0] if dimension.group == "option" else ""
        found[name].add((dimension.group, type(value).__name__, said))

    assert {name: means for name, means in found.items() if len(means) > 1} == {}


def test_no_measure_is_called_as_a_part_is() -> None:
    """Panels, nets and roles of any style, and the styles: `lid` is the lid, its height is
    `lid_height`. What is not a measure may be called as what it makes, `lining = true`."""
    parts = {*(role.value for role in Role), *(style.name for style in styles())}
    for style in styles():
        words = [
            {name: word}
            for name, (dimension, _) in style.table.items()
            if isinstance(dimension.value, Word)
            for word in dimension.value.choices
        ]
        for options in ({}, *words):
            with contextlib.suppress(StyleError):  # a hand hole has no room in a small bag
                for net in style.build(style.dimensions(**options), Card(0.3)):
                    parts |= {net.name, *(panel.name for panel in net.panels)}
    measures = {name for _, name, each in declared() if not isinstance(each.value, Word | Flag)}

    assert measures & parts == set()


def test_every_former_name_is_tried() -> None:
    found = {(style.name, each.formerly, name) for style, name, each in declared() if each.formerly}

    assert found == set(RENAMED)


@pytest.mark.parametrize(("name", "former", "now"), RENAMED)
def test_a_former_name_is_refused_with_the_one_of_today(name: str, former: str, now: str) -> None:
    """In a job, on the command line and from a script; nothing is taken for it."""
    style = styles_by_name()[name]
    tables: dict[str, dict[str, object]] = {"size": {}, "options": {}}
    for each, (dimension, _) in style.table.items():
        if dimension.group == "size":
            tables["size"][each] = dimension.example
    table = "size" if now in tables["size"] else "options"
    tables["size"].pop(now, None)
    tables[table][former] = 20
    stock = {"card": {"caliper": 0.3, "sheet": "A4"}}
    job = {"stock": stock, "piece": [{"style": name, "stock": "card", **tables}]}
    with pytest.raises(JobError) as refused:
        job_from(job, "job.toml", "job")
    unknown = f"job.toml: piece[1].{table}.{former} is unknown to {name}; known are "
    (line,) = (line for line in str(refused.value).splitlines() if line.startswith(unknown))
    assert line.endswith(f" Did you mean {now}?")

    with pytest.raises(StyleError, match=rf"Did you mean {now}\?"):
        cutlayers.build(name, caliper=0.3, **{former: 20})  # type: ignore[arg-type]

    words = ["size", "for-item", name, "cuboid", "length=40", "width=30", "height=20"]
    result = CliRunner().invoke(main, [*words, "--set", f"{former}=20"])
    assert result.exit_code == 2
    assert f"Did you mean {now}?" in " ".join(result.output.split())
