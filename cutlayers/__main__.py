"""Run the command line with `python -m cutlayers`."""

from cutlayers.cli import main

if __name__ == "__main__":
    main()
