"""The whole build of the demo of 48 rooms against the time to import the CAD kernel.

The kernel's import is what nothing that makes solids can avoid. The limit is what the build took
when it was set (15), and a third more: it is there to notice a build that grew slower.
"""

import tempfile
from pathlib import Path

from tests.bench.comparison import Comparison, show_and_exit
from tests.bench.processes import IMPORT_KERNEL, build_command, cost_of_python, medians

MOST_CPU = 20.0
IMPORTS = 5


def run() -> None:
    with tempfile.TemporaryDirectory() as folder:
        (kernel,) = medians([IMPORT_KERNEL], IMPORTS)
        build = cost_of_python(build_command(Path(folder) / "out"))
    show_and_exit(
        "Whole build of 48 rooms against importing cadquery (median of 5), each a process",
        "build",
        "import",
        [
            Comparison("processor", build.cpu_s, kernel.cpu_s, "s", MOST_CPU),
            Comparison("wall clock", build.wall_s, kernel.wall_s, "s"),
        ],
        ("cadquery", "ezdxf", "rectpack", "shapely"),
    )


if __name__ == "__main__":
    run()
