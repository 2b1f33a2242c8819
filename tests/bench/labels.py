"""What the labels of the demo of 48 rooms cost beside its nest, in the same run: processor time.

    python -m tests.bench.labels

A label for each sheet, part, offcut, bundle and box, made and set for each of the stocks in
`configs/`. The nest is the peer, and labels must cost less than it.
"""

import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from casewright.errors import Fault
from casewright.intake.catalogue import read_libraries
from casewright.intake.label_schema import LabelsEntry, LabelStockEntry
from casewright.intake.read_job import read_job
from casewright.intake.read_labels import label_stocks
from casewright.progress import Progress
from casewright.stages.labels.label_stage import label_files
from casewright.stages.models.piece_stage import pieces_of
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nested.nested_stage import OnShortage, nest_job
from casewright.stages.sets.set_stage import model_sets
from casewright.stages.shop.sheet_stage import shop_files
from casewright.stages.site.kit_stage import kits_of
from casewright.stages.site.site_stage import site_work
from tests.bench.comparison import Comparison, show_and_exit
from tests.bench.processes import DEMO_JOB

MOST_OF_NEST = 1.0
SEED = 1  # the nest's own
WARM_UP_JOB = "keepers-room.yaml"

T = TypeVar("T")


def timed(work: Callable[[], T]) -> tuple[T, float]:
    start = time.process_time()
    return work(), time.process_time() - start


def labels_against_nest(path: Path) -> tuple[dict[str, float], float, int]:
    """Processor time of the labels on each stock, that of the nest, and how many labels."""
    job, progress, settings = read_job(path), Progress(), NestSettings()
    sets = model_sets(job, progress)
    nested, nest_s = timed(lambda: nest_job(job, sets, settings, progress, OnShortage.STOP))
    pieces = pieces_of(sets)
    shop = shop_files(job, sets.cut_list, nested.nests, settings, progress)
    site = site_work(job, sets, pieces, kits_of(job), progress)
    faults: list[Fault] = []
    libraries = [path.parent / f"labels-{units}.yaml" for units in ("metric", "inch")]
    catalogue = read_libraries(libraries, faults)
    seconds, count = {}, 0
    for name in catalogue.shelves[LabelStockEntry]:
        entry = LabelsEntry(parts=name, bars=name, boxes=name)
        on_it = replace(job, labels=label_stocks(entry, catalogue))
        made, seconds[name] = timed(
            lambda j=on_it: label_files(j, sets, pieces, nested, shop, site, progress)  # type: ignore[misc]
        )
        count = len(made.book.labels)
    return seconds, nest_s, count


def run() -> None:
    labels_against_nest(DEMO_JOB.parent / WARM_UP_JOB)
    seconds, nest_s, count = labels_against_nest(DEMO_JOB)
    rows = [Comparison(f"labels on {s}", t, nest_s, "s", MOST_OF_NEST) for s, t in seconds.items()]
    title = f"{count} labels against the nest of their parts, processor time"
    show_and_exit(title, "labels", "nest", rows, ("typst", "zxing-cpp", "ezdxf"), SEED)


if __name__ == "__main__":
    run()
