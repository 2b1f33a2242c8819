"""How long the router works: each cut file, bit by bit, with what is not cutting."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.routing.machine_rates import SECONDS_PER_MINUTE, BitRole
from export.routing.routed_file import RoutedFile
from export.routing.router_work import BitRun
from export.tables.csv_text import csv_text, fixed

COLUMNS = (
    "material",
    "face_up",
    "file",
    "operation",
    "runs",
    "step",
    "work",
    "bit",
    "diameter_mm",
    "layers",
    "cuts",
    "path_mm",
    "plunges",
    "plunged_mm",
    "travel_mm",
    "minutes",
    "minutes_of_all_runs",
)


def router_times_csv(files: Iterable[RoutedFile]) -> str:
    """Return for each cut file a row for each bit in the order of use, then one for changing bits,
    and one for loading, unloading and labels.

    All but the last column is for one run. `path_mm` is cut along the file's lines and in lanes of
    pockets, all passes counted, `travel_mm` above the sheet. What no bit of the machine can cut has
    a row without figures, which names what is missing.
    """
    return csv_text(COLUMNS, (row for file in files for row in _rows(file)))


def _rows(file: RoutedFile) -> Iterator[tuple[object, ...]]:
    work, runs = file.work, file.runs
    about = (file.material, file.face_up, file.file, file.operation, runs)
    for step, run in enumerate(work.runs, start=1):
        if run.bit is None:
            missing = (missing_words(run), fixed(run.missing_mm), " ".join(run.layers))
            yield (*about, step, "not counted", *missing, run.cuts, *[""] * 6)
            continue
        yield (
            *about,
            step,
            "cutting",
            run.bit.name,
            fixed(run.bit.diameter_mm),
            " ".join(run.layers),
            run.cuts,
            fixed(run.path_mm, 1),
            run.plunges,
            fixed(run.plunged_mm, 1),
            fixed(run.rapid_mm, 1),
            *_minutes(run.seconds, runs),
        )
    for name, seconds in (("changing bits", work.change_s), ("handling", work.handling_s)):
        yield (*about, "", name, *[""] * 8, *_minutes(seconds, runs))


def missing_words(run: BitRun) -> str:
    """Return which bit a machine lacks, as tables say it."""
    if run.role is BitRole.BORE:
        return f"no drill of {run.missing_mm:.3f} mm"
    return f"no bit for a width of {run.missing_mm:.3f} mm"


def _minutes(seconds: float, runs: int) -> tuple[object, object]:
    minutes = seconds / SECONDS_PER_MINUTE
    return fixed(minutes), fixed(minutes * runs)
