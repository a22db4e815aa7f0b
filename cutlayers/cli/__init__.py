"""The command line: parse, call, print.

Only the module of the command that is asked for is imported, and of the libraries click alone; what
a command needs it imports when it runs. So `cutlayers --help` stays quick.
"""

from __future__ import annotations

import importlib

import click

from cutlayers import __version__
from cutlayers.cli.ending import EndingGroup

COMMANDS = {
    "align": "Correct a printed sheet's cut files for where its register marks really are.",
    "bring": "Make a box of a drawing that you have: an SVG, a DXF or a FOLD file.",
    "check": "Say whether a job will work, and on how many sheets, without writing anything.",
    "explain": "Explain a finding by its CODE: what is measured, why it matters, how to cure it.",
    "fold": "Write the folded boxes as solids, for any program that shows or measures them.",
    "guide": "Write the guide: what to buy, how to cut and score, how to put it together.",
    "keys": "Explain the tables and keys of job and profile files, each with an example.",
    "make": "Make the files of a job for your machine.",
    "new": "Start a job: a commented file for STYLE with every size and option in it.",
    "open": "See the box while you change it, on a page in your browser.",
    "profile": "Machine profiles: what your machine can reach, its tools and settings.",
    "size": "Find the size of a box: for a thing, from a sheet, or like another box.",
    "styles": "List the box styles, or one style's sizes and options with their limits.",
    "trial": "Trial cuts: small jobs that find your profile's numbers.",
}
"""Each command, in the module of its name, and the first sentence of its help."""

THANKS = """\
The letters of single strokes are by Dr. A. V. Hershey of the U.S. National Bureau of Standards,
in the format of James Hurt, Cognition Inc. NOTICES.md lists what cutlayers is built on."""


class _Commands(EndingGroup):
    """The commands, each imported when it is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        """Their names, sorted."""
        return sorted(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """The command of that name."""
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"cutlayers.cli.{cmd_name}")
        command: click.Command = getattr(module, cmd_name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """Their first sentences, without importing one of them."""
        with formatter.section("Commands"):
            formatter.write_dl(sorted(COMMANDS.items()))


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(
    __version__, prog_name="cutlayers", message=f"%(prog)s, version %(version)s\n{THANKS}"
)
def main() -> None:
    """From a short job file to cut, score, perforate and draw layers for paper and card boxes.

    \b
    A first box, start to finish:
      cutlayers open                            all of it on a page in your browser, or:
      cutlayers styles                          what can be made
      cutlayers new gable-carton -o favours.toml   a job file to edit
      cutlayers check favours.toml              will it work, and on how many sheets?
      cutlayers make favours.toml               the files for the machine
      cutlayers bring friend.svg -o friend.toml    a drawing that you have, as a job

    A job names the card you own and the boxes to make. A profile describes your machine:
    'cutlayers profile new' makes one of your own in a few questions, and 'cutlayers trial' finds
    its numbers by small trial cuts. Lengths are written 62, "62 mm", "6.2 cm" or "2 7/16 in".

    Exit codes: 0 done; 1 the job does not work, the findings are printed; 2 bad input or usage;
    70 a fault of cutlayers itself; 130 stopped.
    """
