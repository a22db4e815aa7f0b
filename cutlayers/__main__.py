"""Run the command line with `python -m cutlayers`; the installed command does the same."""

import sys


def run() -> None:
    """Run it. Ctrl-C before it could be loaded ends as any later one does."""
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
