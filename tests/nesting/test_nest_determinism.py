"""The same question and seed give the same bytes in every process."""

import os
import subprocess
import sys

SCRIPT = """
import dataclasses
from nesting.question.sheet_rules import EdgeToEdge
from nesting.solve import solve
from nesting.question.ticks import sheet_ticks
from tests.nesting.room_job import BOARD, room_job
from tests.nesting.small_efforts import SmallEffort

large = dataclasses.replace(
    BOARD, id="large", length=sheet_ticks(3050), width=sheet_ticks(1525), price=77.0, on_hand=5
)
job = dataclasses.replace(room_job(6), stocks=(BOARD, large))
sawn = dataclasses.replace(job, rules=dataclasses.replace(job.rules, saw=EdgeToEdge(stages=3)))
for question in (job, sawn):
    print(solve(question, seed=SEED, effort=SmallEffort.SEVERAL))
"""


def answers(*runs: tuple[int, str]) -> list[str]:
    """Answers for pairs of seed and hash seed, each from a process of its own."""
    started = [
        subprocess.Popen(
            [sys.executable, "-c", SCRIPT.replace("SEED", str(seed))],
            env={
                **os.environ,
                "PYTHONHASHSEED": hash_seed,
                "PYTHONPATH": os.pathsep.join(sys.path),
            },
            stdout=subprocess.PIPE,
            text=True,
        )
        for seed, hash_seed in runs
    ]
    printed = [process.communicate()[0] for process in started]
    assert not any(process.returncode for process in started)
    return printed


def test_answers_depend_on_the_seed_and_not_on_the_hash_seed():
    first, again, other = answers((1, "0"), (1, "4242"), (2, "0"))
    assert len(first) > 1000
    assert again == first
    assert other != first
