"""The same question and seed give the same bytes in every process."""

import os
import subprocess
import sys

SCRIPT = """
import dataclasses
from nesting.settings import Effort
from nesting.solve import solve
from tests.nesting.room_job import BOARD, room_job

large = dataclasses.replace(BOARD, id="large", length=305_000, width=152_500, price=77.0, on_hand=5)
job = dataclasses.replace(room_job(6), stocks=(BOARD, large))
print(solve(job, seed=SEED, effort=Effort.QUICK))
"""


def answer(seed: int, hash_seed: str) -> str:
    ran = subprocess.run(
        [sys.executable, "-c", SCRIPT.replace("SEED", str(seed))],
        env={**os.environ, "PYTHONHASHSEED": hash_seed, "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=True,
    )
    return ran.stdout


def test_answers_do_not_depend_on_the_hash_seed():
    first = answer(1, "0")
    assert len(first) > 1000
    assert answer(1, "1") == first
    assert answer(1, "4242") == first


def test_answers_depend_on_the_seed():
    assert answer(2, "0") != answer(1, "0")
