"""`cutlayers open`."""

from __future__ import annotations

from pathlib import Path

import click

from cutlayers.cli.ending import RefusedUsage


@click.command()
@click.argument("job_file", metavar="[JOB]", type=click.Path(path_type=Path), required=False)
@click.option("--no-browser", is_flag=True, help="Print the address and open no browser.")
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=0,
    help="The port to listen on; one that is free if not given.",
)
def open(job_file: Path | None, no_browser: bool, port: int) -> None:  # noqa: A001
    """See the box while you change it, on a page in your browser.

    It is for this machine alone, and nothing goes over any network. Without JOB the page shows the
    styles, and the jobs of the folder where you are. Whatever you change on the page is changed in
    the job's file, with its comments and its order as they are; what you save in an editor shows
    on the page. It ends when the page is closed, or with Ctrl-C.
    """
    from cutlayers.telling.refusals import Refusal

    if job_file is not None:
        from cutlayers.reading import read_toml_text
        from cutlayers.telling.errors import JobError

        read_toml_text(job_file, "job", JobError)
        if job_file.suffix != ".toml":
            raise JobError(
                Refusal(reason="a job's file ends in .toml", fault="value", file=str(job_file))
            )
    from cutlayers.page import listening, serve

    try:
        at = listening(port)
    except OSError as error:
        said = f"is {port}, where nothing can listen: {error.strerror}"
        raise RefusedUsage(Refusal(("--port",), said, "value", found=port)) from None

    def ready(address: str) -> None:
        click.echo(f"open at {address}\nclose the page or press Ctrl-C to end")
        if not no_browser:
            click.launch(address)

    job = job_file.resolve() if job_file else None
    serve(job.parent if job else Path.cwd(), job.name if job else None, at, ready)
