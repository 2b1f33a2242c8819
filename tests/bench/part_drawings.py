"""The part drawings of the demo of 48 rooms, as paper and as DXF, against its nest.

What only writes down what is known must cost far less than the search for sheets: with all other
papers it must stay below it.
"""

from time import process_time
from types import SimpleNamespace
from typing import cast

from casewright.entries.built import Built
from casewright.entries.part_drawings import drawing_files, drawing_pages
from casewright.intake.read_job import read_job
from casewright.pipeline import AS_USUAL
from casewright.progress import Progress
from casewright.stages.models.piece_stage import pieces_of
from casewright.stages.nested.nested_stage import OnShortage, nest_job
from casewright.stages.sets.check_stage import check
from tests.bench.comparison import Comparison, show_and_exit
from tests.casewright.build_fixtures import CONFIGS

MOST = 0.36


def run() -> None:
    job = read_job(CONFIGS / "avalanche-centre.yaml")
    sets = check(job)
    nest_job(job, sets, AS_USUAL, Progress(), OnShortage.STOP)  # compiled, where it was not
    before = process_time()
    nest_job(job, sets, AS_USUAL, Progress(), OnShortage.STOP)
    nest = process_time() - before
    built = cast(Built, SimpleNamespace(job=job, sets=sets, shop=object(), pieces=pieces_of(sets)))
    rows = []
    for what, made in (("paper", drawing_pages), ("DXF", drawing_files)):
        before = process_time()
        files = list(made(built))
        rows.append(Comparison(f"{what}, files: {len(files)}", process_time() - before, nest, "s"))
    both = rows[0].ours + rows[1].ours
    show_and_exit(
        f"Drawings of {len(sets.cut_list.parts)} parts against the nest of 48 rooms",
        "drawings",
        "nest",
        [*rows, Comparison("both", both, nest, "s", MOST)],
        ("ezdxf", "typst"),
    )


if __name__ == "__main__":
    run()
