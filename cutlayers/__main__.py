"""Run the command line with `python -m cutlayers`; the installed command does the same."""

import gc
import sys

COLLECT_AFTER = 20_000
"""New objects before Python looks for rings of them that nobody holds. Its own default, 700, is
for programs that run for days; a command makes a hundred thousand values and keeps most of them,
and looking through them again and again takes a tenth of its time."""


def run() -> None:
    """Run it. Ctrl-C before it could be loaded ends as any later one does."""
    gc.set_threshold(COLLECT_AFTER)
    if getattr(sys, "frozen", False):  # a process of the search or of a kit starts here too
        from multiprocessing import freeze_support

        freeze_support()
    try:
        from cutlayers.cli import main

        main(prog_name="cutlayers")
    except KeyboardInterrupt:
        print("stopped; no file is half written", file=sys.stderr)
        sys.exit(130)


if __name__ == "__main__":
    run()
