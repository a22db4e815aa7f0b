"""Jobs that name a kit, within `cutlayers make` and `cutlayers check`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutlayers.cli.options import echo_json, print_json
from cutlayers.cli.progress import LateBar

if TYPE_CHECKING:
    from cutlayers.kits import OpenKit


def check_kit(job_file: Path, profile_name: str | None, as_json: bool) -> None:
    """Check all rows of a kit and say how many sheets it takes."""
    from cutlayers.telling.facts import finding_data
    from cutlayers.telling.findings import Severity
    from cutlayers.telling.words import lines_of

    opened = _opened(job_file, profile_name)
    kit = opened.kit
    sheets = sum(1 for _ in opened.sorter.sheets(quick=True))
    if as_json:
        answer = {
            "rows": len(kit.rows.rows),
            "sheets": sheets,
            "findings": [finding_data(finding, kit.unit) for finding in kit.findings],
        }
        print_json(answer)
    else:
        click.echo(f"{len(kit.rows.rows)} rows, {sheets} sheets for {opened.machine.title}")
        for line in lines_of(kit.findings, kit.unit):
            click.echo(line)
    if any(finding.severity is Severity.ERROR for finding in kit.findings):
        click.get_current_context().exit(1)


def make_kit(
    job_file: Path,
    profile_name: str | None,
    folder: Path,
    overwrite: bool,
    anyway: bool,
    as_json: bool,
    processes: int,
) -> None:
    """Make all sheets of a kit; a run that was interrupted goes on where it stopped."""
    from cutlayers.kits import kit_text, write_kit
    from cutlayers.telling.findings import Severity
    from cutlayers.telling.words import lines_of

    opened = _opened(job_file, profile_name)
    kit = opened.kit
    if not anyway and any(finding.severity is Severity.ERROR for finding in kit.findings):
        for line in lines_of(kit.findings, kit.unit):
            click.echo(line)
        click.echo("nothing was written: the kit does not work as it stands", err=True)
        click.get_current_context().exit(1)
    try:
        report, files = write_kit(
            opened,
            folder,
            overwrite=overwrite,
            processes=processes,
            bars=lambda count: LateBar(count, "making sheets"),
            tell=lambda remark: click.echo(remark, err=True),
        )
    except KeyboardInterrupt:
        click.echo("stopped; the same command goes on from here", err=True)
        click.get_current_context().exit(130)
    if as_json:
        echo_json(files["report.json"].decode())
    else:
        click.echo(kit_text(report))
        click.echo(f"{len(report.files)} files in {folder}")


def _opened(job_file: Path, profile_name: str | None) -> OpenKit:
    from cutlayers.kits import open_kit

    return open_kit(job_file, profile_name, lambda count: LateBar(count, "checking rows"))
