"""The page that says how to do a trial, for the screen or for printing, with nothing beside it."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from cutlayers.formats.drawing import Drawing
from cutlayers.pictures.sheet import sheet_scene
from cutlayers.pictures.svg import inline_svg
from cutlayers.profile.load_card import HEAD, LoadCard
from cutlayers.trials.model import ReadingSpec, Setup, Trial

STYLE = """
@page { size: auto; margin: 14mm; }
body { font: 16px/1.5 system-ui, sans-serif; color: #1F2328; background: #FFFFFF;
       max-width: 46rem; margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.8rem; line-height: 1.2; margin: 0 0 .2rem; }
h2 { font-size: 1.15rem; margin: 1.8rem 0 .4rem; }
p.who { color: #57606A; margin: 0 0 1.2rem; }
.care { border-left: 4px solid #D55E00; background: #FDF3EC; padding: .6rem 1rem; }
.care ul { margin: .3rem 0; padding-left: 1.1rem; }
ol li { margin: .45rem 0; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; border-bottom: 1px solid #C9C5BC;
         padding: .35rem .6rem .35rem 0; }
th { font-weight: 600; }
td.blank { white-space: nowrap; letter-spacing: .1em; color: #57606A; }
pre { background: #F4F3EF; padding: .8rem 1rem; white-space: pre-wrap; overflow-wrap: anywhere; }
code { font-family: ui-monospace, monospace; font-size: .95em; }
figure { margin: 1rem 0; }
figure svg { width: 100%; height: auto; }
tr, figure, li, .care { break-inside: avoid; }
"""


def instructions(
    trial: Trial, setup: Setup, picture: Drawing, load: LoadCard, files: Sequence[str]
) -> str:
    """A page of HTML; `files` are those for the machine or printer, beside the page."""
    machine = setup.machine
    specs = trial.readings(setup)
    who = f"{machine.title} ({machine.name})"
    who += f", card: {setup.material}" if setup.material else ""
    body = [
        f"<h1>Trial: {escape(trial.title)}</h1>",
        f'<p class="who">{escape(who)}</p>',
        '<div class="care"><strong>Before you begin</strong><ul>',
        *(f"<li>{escape(each)}</li>" for each in load.cautions),
        "</ul></div>",
        "<h2>The sheet</h2>",
        f"<p>Take a card of {picture.width:g} × {picture.height:g} mm, or a larger scrap with its "
        f"lower left corner in the same place. Files: "
        f"{', '.join(f'<code>{escape(name)}</code>' for name in files)}.</p>",
        f"<figure>{_inline(picture)}</figure>",
        "<h2>Load the machine</h2>",
        f"<p>{escape(load.in_words[0].upper() + load.in_words[1:])}.</p>",
        *_table(HEAD, load.rows),
        "<h2>Do it</h2>",
        "<ol>",
        *(f"<li>{escape(step)}</li>" for step in trial.steps(setup)),
        "</ol>",
        "<h2>Write down</h2>",
        *_form(specs),
        "<h2>Record it</h2>",
        "<p>Type this with your readings in place of the dots. Give a reading as often as you "
        "took it, each time with its name; leave out what you did not read.</p>",
        f"<pre><code>{escape(command(trial, setup, specs))}</code></pre>",
        "<p>What was found is shown with its uncertainty beside the old value, and saved in your "
        "profile with today's date; the profile's last version stays beside it. Add "
        "<code>--dry-run</code> to see it without saving.</p>",
    ]
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>Trial: {escape(trial.title)}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n"
        + "\n".join(line for line in body if line)
        + "\n</body>\n</html>\n"
    )


def command(trial: Trial, setup: Setup, specs: Sequence[ReadingSpec]) -> str:
    """The command that records the readings, with dots for the values."""
    words = [f"{spec.name}=…" for spec in specs for _ in range(spec.times)]
    return f"cutlayers trial record {trial.kind} {setup.options} {' '.join(words)}"


def _inline(picture: Drawing) -> str:
    """The picture as a part of the page."""
    scene = sheet_scene(picture)
    return inline_svg(scene, "sheet", {"width": f"{scene.width:g}mm"})


def _table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    cells = "".join(f"<th>{escape(each)}</th>" for each in head)
    lines = ["<table>", f"<tr>{cells}</tr>"]
    for row in rows:
        lines.append("<tr>" + "".join(f"<td>{escape(each)}</td>" for each in row) + "</tr>")
    return [*lines, "</table>"]


def _form(specs: Sequence[ReadingSpec]) -> list[str]:
    """A row with blanks for each thing to read."""
    lines = ["<table>", "<tr><th>name</th><th>what to read</th><th>readings</th></tr>"]
    for spec in specs:
        unit = f" ({spec.unit})" if spec.unit else ""
        blanks = "&ensp; ".join(["______"] * spec.times)
        lines.append(
            f"<tr><td><strong>{escape(spec.name)}</strong></td><td>{escape(spec.what)}{unit}</td>"
            f'<td class="blank">{blanks}</td></tr>'
        )
    return [*lines, "</table>"]
