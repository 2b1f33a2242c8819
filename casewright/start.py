"""Where the process starts: until a command works, Ctrl-C ends it without a word.

Nothing else may be imported here before that is said.
"""

import signal


def main() -> None:
    """Run the command line."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    from casewright.cli import main as command_line  # noqa: PLC0415

    command_line()


if __name__ == "__main__":
    main()
