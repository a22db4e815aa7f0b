"""The command line: parse, call, print.

Command modules import click alone at the top; what a command needs it imports when it runs, so
that `cutlayers --help` stays quick.

Exit codes: 0 done, 1 the job does not work (findings are printed), 2 bad input or usage.
"""

from __future__ import annotations

from typing import Any

import click

from cutlayers import __version__
from cutlayers.cli.align import align
from cutlayers.cli.check import check
from cutlayers.cli.explain import explain
from cutlayers.cli.guide import guide
from cutlayers.cli.make import make
from cutlayers.cli.new import new
from cutlayers.cli.profile import profile
from cutlayers.cli.size import size
from cutlayers.cli.styles import styles
from cutlayers.cli.trial import trial
from cutlayers.telling.errors import CutlayersError


class _Commands(click.Group):
    """Turns every error that a user can put right into its message and exit code 2."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except CutlayersError as error:
            click.echo(str(error), err=True)
            ctx.exit(2)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="cutlayers")
def main() -> None:
    """From a short job file to cut, score, perforate and draw layers for paper and card boxes.

    \b
    A first box, start to finish:
      cutlayers styles                          what can be made
      cutlayers new gable-carton -o favours.toml   a job file to edit
      cutlayers check favours.toml              will it work, and on how many sheets?
      cutlayers make favours.toml               the files for the machine

    A job names the card you own and the boxes to make. A profile describes your machine:
    'cutlayers profile new' makes one of your own in a few questions, and 'cutlayers trial' finds
    its numbers by small trial cuts. Lengths are written 62, "62 mm", "6.2 cm" or "2 7/16 in".

    Exit codes: 0 done; 1 the job does not work, the findings are printed; 2 bad input or usage.
    """


for command in (make, check, explain, guide, new, size, styles, profile, trial, align):
    main.add_command(command)
