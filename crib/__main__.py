"""Entry point: hands the command line to crib.cli, and opens the terminal UI when asked to."""

import sys


def open_ui(address: str, note: str = "") -> None:
    """Open the terminal UI on a store; a note stands at the end of its first line."""
    from crib.tui.app import CribApp  # the screen library takes 0.15 s: only when a screen is wanted

    CribApp(address, note=note).run()


def main() -> None:
    """Run one command line and leave with its exit status."""
    from crib.cli.root import run

    sys.exit(run(sys.argv[1:], open_ui))


if __name__ == "__main__":
    main()
