"""Ctrl-C in every stage: one plain line, code 130, nothing written, no traceback."""

import os
import signal
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from typer.testing import CliRunner

from casewright import cli, start
from casewright.progress import Cancelled, Progress
from casewright.terminal import interrupt
from casewright.terminal.interrupt import end_plainly, heard_by
from tests.casewright.intake_folder import CONFIGS, KEEPER
from tests.casewright.nest_lists import PIECES, STOCK, written

# 128 and the number of SIGINT, which POSIX (signal.h, kill) gives as 2; common practice of shells.
STOPPED = 130
JOB = str(CONFIGS / f"{KEEPER}.yaml")


def press() -> None:
    os.kill(os.getpid(), signal.SIGINT)


def pressing(*_: Any, **__: Any) -> Any:
    """Stands for a stage in which somebody presses Ctrl-C."""
    press()
    raise AssertionError("Ctrl-C did not reach the stage")


def run(folder: Path, *arguments: str) -> Result:
    before = signal.getsignal(signal.SIGINT)
    done = CliRunner().invoke(cli.app, [*arguments])
    assert signal.getsignal(signal.SIGINT) is before
    assert not (folder / "out").exists()
    return done


def told(done: Result) -> str:
    assert done.exit_code == STOPPED, done.output
    assert "Traceback" not in done.output
    return done.stderr.splitlines()[-1]


NEST_STAGES = [
    "casewright.commands.nest_command.run.read_questions",
    "casewright.commands.nest_command.run.claimed",
    "casewright.commands.nest_command.run.described",
    "casewright.commands.nest_command.run.nest_files",
    "casewright.commands.nest_command.question.read_pieces",
    "casewright.commands.nest_command.files.plain_sheet",
    "casewright.commands.nest_command.files.nest_html",
]


@pytest.mark.parametrize("stage", NEST_STAGES)
def test_ctrl_c_ends_a_nest_outside_its_search(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stage: str
) -> None:
    files = written(tmp_path, PIECES, STOCK)
    monkeypatch.setattr(stage, pressing)
    arguments = ("nest", str(files.pieces), str(files.stock[0]), "--gap", "10", "--effort", "quick")
    done = run(tmp_path, *arguments, "--out", str(tmp_path / "out"))
    assert told(done) == "Stopped by Ctrl-C; nothing was written."


def test_ctrl_c_after_writing_says_what_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = written(tmp_path, PIECES, STOCK)
    monkeypatch.setattr("casewright.commands.nest_command.run.show_answer", pressing)
    out = tmp_path / "out"
    arguments = ("nest", str(files.pieces), str(files.stock[0]), "--gap", "10", "--effort", "quick")
    done = CliRunner().invoke(cli.app, [*arguments, "--out", str(out)])
    assert told(done) == f"Stopped by Ctrl-C; {out} was written and is whole."
    assert (out / "manifest.json").exists()


def test_ctrl_c_while_writing_says_what_stands_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = written(tmp_path, PIECES, STOCK)
    monkeypatch.setattr("casewright.output.folder.OutputFolder._still_there", pressing)
    out = tmp_path / "out"
    arguments = ("nest", str(files.pieces), str(files.stock[0]), "--gap", "10", "--effort", "quick")
    done = run(tmp_path, *arguments, "--out", str(out))
    assert told(done) == f"Stopped by Ctrl-C; {out} is as it was before, or whole."
    assert not list(tmp_path.glob(".*"))


JOB_STAGES = [
    ("build", "casewright.intake.read_job.read_document"),
    ("build", "casewright.intake.read_job.read_schedule"),
    ("build", "casewright.output.folder.claimed"),
    ("build", "casewright.pipeline.model_sets"),
    ("check", "casewright.stages.sets.check_stage.check"),
    ("kit", "casewright.commands.kit_command.kits_of"),
    ("openings", "casewright.stages.openings.opening_sheets.opening_sizes"),
]


@pytest.mark.parametrize(("command", "stage"), JOB_STAGES)
def test_ctrl_c_ends_a_command_on_a_job(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str, stage: str
) -> None:
    monkeypatch.setattr(stage, pressing)
    out = ("--out", str(tmp_path / "out")) if command == "build" else ()
    assert told(run(tmp_path, command, JOB, *out)) == "Stopped by Ctrl-C; nothing was written."


def test_an_error_that_a_compiled_module_makes_of_ctrl_c_is_no_bug(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The kernel's own modules turn it into `ImportError: initialization failed`."""

    def turned(*_: Any, **__: Any) -> None:
        try:
            press()
        except KeyboardInterrupt:
            raise ImportError("initialization failed") from None

    monkeypatch.setattr("casewright.commands.kit_command.kits_of", turned)
    assert told(run(tmp_path, "kit", JOB)) == "Stopped by Ctrl-C; nothing was written."


def test_a_real_bug_is_still_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: Any, **__: Any) -> None:
        raise ImportError("nothing of the kind")

    monkeypatch.setattr("casewright.commands.kit_command.kits_of", broken)
    done = run(tmp_path, "kit", JOB)
    assert done.exit_code == 4
    assert "nothing of the kind" in done.stderr


def test_while_things_are_put_away_a_second_ctrl_c_is_left_to_the_system() -> None:
    with interrupt.as_the_system_ends():
        assert signal.getsignal(signal.SIGINT) is signal.SIG_DFL
        end_plainly()
        with pytest.raises(KeyboardInterrupt):
            press()
        assert signal.getsignal(signal.SIGINT) is signal.SIG_DFL


def test_from_the_very_start_ctrl_c_is_left_to_the_system(monkeypatch: pytest.MonkeyPatch) -> None:
    found: list[object] = []
    monkeypatch.setattr(cli, "app", lambda: found.append(signal.getsignal(signal.SIGINT)))
    before = signal.getsignal(signal.SIGINT)
    try:
        with pytest.raises(SystemExit):
            start.main()
    finally:
        signal.signal(signal.SIGINT, before)
    assert found == [signal.SIG_DFL]


def test_the_first_ctrl_c_in_a_search_is_acknowledged_at_once(
    capfd: pytest.CaptureFixture[str],
) -> None:
    progress = Progress()
    with progress.searching(), heard_by(progress):
        press()
        assert (progress.has_enough, progress.is_cancelled) == (True, False)
        assert "Stopping. Ctrl-C again ends at once." in capfd.readouterr().err
        with pytest.raises(KeyboardInterrupt):
            press()
        assert progress.is_cancelled


@pytest.mark.parametrize("work", [end_plainly, lambda: heard_by(Progress()).__enter__()])
def test_other_threads_leave_signals_alone(work: Callable[[], object]) -> None:
    """Python lets the main thread alone set handlers (documentation of `signal`)."""
    failures: list[BaseException] = []

    def on_thread() -> None:
        try:
            work()
        except BaseException as error:
            failures.append(error)

    thread = threading.Thread(target=on_thread)
    thread.start()
    thread.join()
    assert failures == []


def test_outside_a_search_ctrl_c_cancels_and_the_next_one_is_left_to_the_system() -> None:
    progress = Progress()
    with interrupt.as_the_system_ends():
        end_plainly()
        with pytest.raises(KeyboardInterrupt), heard_by(progress):
            press()
        assert progress.is_cancelled
        assert signal.getsignal(signal.SIGINT) is signal.SIG_DFL


def test_after_a_search_ctrl_c_means_what_it_did_before_it() -> None:
    progress = Progress()
    with interrupt.as_the_system_ends():
        end_plainly()
        with pytest.raises(KeyboardInterrupt), heard_by(progress):
            with progress.searching():
                press()
            press()
        assert progress.is_cancelled


def test_a_command_that_was_cancelled_from_elsewhere_ends_as_by_ctrl_c(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cancelled(*_: Any, **__: Any) -> Any:
        raise Cancelled

    monkeypatch.setattr("casewright.pipeline.model_sets", cancelled)
    done = run(tmp_path, "build", JOB, "--out", str(tmp_path / "out"))
    assert done.exit_code == STOPPED
    assert "Traceback" not in done.output
