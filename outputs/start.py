"""Where the program starts: a stop is answered before anything that takes time is loaded."""

import sys

from .stops import Stop, catch_stops, undisturbed


def main() -> None:
    """Load the command line and run it."""
    catch_stops()
    try:
        with undisturbed():
            from .cli import main as run
        run()
    except Stop as stop:  # it came before the command line was there to answer it
        sys.stderr.write("stopped\n")
        sys.exit(128 + stop.number)
