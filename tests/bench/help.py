"""`casewright --help` against importing typer and pydantic alone: medians of seven processes."""

from tests.bench.comparison import Comparison, show_and_exit
from tests.bench.processes import medians

MOST = 2.0
RUNS = 7
HELP = ("-m", "casewright.cli", "--help")
IMPORTS = ("-c", "import typer, pydantic")


def run() -> None:
    ours, peer = medians([HELP, IMPORTS], RUNS)
    show_and_exit(
        "casewright --help against importing typer and pydantic, medians of 7 processes",
        "--help",
        "imports",
        [
            Comparison("wall clock", ours.wall_s, peer.wall_s, "s", MOST),
            Comparison("processor", ours.cpu_s, peer.cpu_s, "s"),
        ],
        ("typer", "pydantic"),
    )


if __name__ == "__main__":
    run()
