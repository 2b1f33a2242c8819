"""What is typed after a command reaches the work that it asks for, each option by itself.

The work is replaced by a note of what it was asked: nothing is nested, built or written.
"""

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from typer.main import get_command

from casewright import pipeline
from casewright.cli import app
from casewright.commands import kit_command
from casewright.commands.bar_command import run as bar_run
from casewright.commands.choices import EffortChoice, StagesChoice
from casewright.commands.nest_command import run as nest_run
from casewright.commands.nest_command.options import OptionTexts
from casewright.errors import DoesNotFit
from casewright.output import folder
from casewright.output.folder import Replace
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nested.nested_stage import OnShortage
from casewright.stages.openings import opening_sheets
from nesting.question.settings import Effort, Preference
from parametric.geometry.hand import Hand
from parametric.stock.lengths import Units
from tests.casewright.build_fixtures import CONFIGS

JOB = CONFIGS / "keepers-room.yaml"
DOES_NOT_FIT = 3


class Work:
    """Stands for the work of a command: keeps what it is asked, and ends the command there."""

    def __init__(self) -> None:
        self.given: tuple[Any, ...] = ()
        self.named: dict[str, Any] = {}

    def __call__(self, *given: Any, **named: Any) -> Any:
        self.given, self.named = given, named
        raise DoesNotFit("far enough")


def typed(name: str, *words: object) -> int:
    """Run a command as it is typed; return its exit code."""
    command = get_command(app).commands[name]  # type: ignore[attr-defined]
    return command.main([*map(str, words)], prog_name="casewright", standalone_mode=False)


@pytest.fixture
def work() -> Work:
    return Work()


def test_each_option_of_a_nest_reaches_it(work: Work, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(nest_run, "nest", work)
    code = typed(
        "nest", "pieces.csv", "sheets.csv", "more.csv", "--defects", "knots.csv",
        "--units", "inch", "--gap", "1/8", "--trim", "1/2", "--rim", "2", "--rim-side", "10",
        "--edge-to-edge", "--stages", "2", "--book-height", "3", "--thickness", "3/4",
        "--fewer-layouts", "1.5", "--reusable", "8x24", "--effort", "thorough", "--seconds", "9",
        "--seed", "7", "--workers", "3", "--column", "length=Long", "--spare", "5",
        "--other-gap", "1/4", "--out", "made",
    )  # fmt: skip
    assert code == DOES_NOT_FIT
    files, texts, request, _ = work.given
    assert (files.pieces, files.stock, files.defects) == (
        Path("pieces.csv"),
        (Path("sheets.csv"), Path("more.csv")),
        Path("knots.csv"),
    )
    assert (dict(files.columns), files.spare_percent) == ({"length": "Long"}, Fraction(5))
    assert texts == OptionTexts(
        units=Units.INCH,
        gap="1/8",
        trim="1/2",
        rim="2",
        rim_side="10",
        seed=7,
        effort=EffortChoice.THOROUGH,
        seconds=9.0,
        edge_to_edge=True,
        stages=StagesChoice.TWO,
        fewer_layouts=1.5,
        reusable="8x24",
        book_height="3",
        thickness="3/4",
        workers=3,
        other_gap="1/4",
    )
    assert request.folder == Path("made")
    assert request.inputs == (*map(Path, ("pieces.csv", "sheets.csv", "more.csv", "knots.csv")),)
    assert (request.replace, request.on_busy) == (Replace.OUTPUT, None)


def test_a_nest_without_options_is_a_free_one_in_millimetres(
    work: Work, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As the help of each option says what goes without it."""
    monkeypatch.setattr(nest_run, "nest", work)
    typed("nest", "lists/pieces.csv", "sheets.csv", "--replace-edited", "--wait")
    files, texts, request, _ = work.given
    assert (files.defects, dict(files.columns), files.spare_percent) == (None, {}, Fraction(0))
    assert texts == OptionTexts(units=Units.MM, trim="0", seed=1)
    assert request.folder == Path("out/pieces")
    assert request.replace is Replace.EDITED
    assert request.on_busy is not None


def test_what_if_compares(work: Work, monkeypatch: pytest.MonkeyPatch) -> None:
    nested = Work()
    monkeypatch.setattr(nest_run, "nest", nested)
    monkeypatch.setattr(nest_run, "compare", work)
    typed("nest", "pieces.csv", "sheets.csv", "--what-if")
    assert work.given
    assert not nested.given


def test_each_option_of_bars_reaches_them(work: Work, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bar_run, "cut_bars", work)
    typed(
        "bars", "pieces.csv", "bars.csv", "--units", "inch", "--kerf", "1/8", "--end-trim", "1/4",
        "--reusable", "12", "--column", "length=Long", "--spare", "5", "--out", "made",
    )  # fmt: skip
    files, saw, request, _ = work.given
    assert (files.pieces, files.bars, files.units) == (
        Path("pieces.csv"),
        (Path("bars.csv"),),
        Units.INCH,
    )
    assert (dict(files.columns), files.spare_percent) == ({"length": "Long"}, Fraction(5))
    assert (saw.kerf, saw.end_trim, saw.reusable) == ("1/8", "1/4", "12")
    assert (request.folder, request.inputs) == (
        Path("made"),
        (Path("pieces.csv"), Path("bars.csv")),
    )
    typed("bars", "lists/pieces.csv", "bars.csv")
    files, saw, request, _ = work.given
    assert (files.units, dict(files.columns), files.spare_percent) == (Units.MM, {}, Fraction(0))
    assert (saw.kerf, saw.end_trim, saw.reusable) == ("3.2 mm", "5 mm", "300 mm")
    assert request.folder == Path("out/pieces")


def test_each_option_of_a_build_reaches_it(
    work: Work, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pipeline, "build", work)
    monkeypatch.chdir(tmp_path)
    code = typed(
        "build", JOB, "--despite-failures", "--despite-shortage", "--effort", "thorough",
        "--fewer-layouts", "2.5", "--extra-minute", "--out", tmp_path / "made",
    )  # fmt: skip
    assert code == DOES_NOT_FIT
    job, _, settings = work.given
    assert job.name
    assert settings == NestSettings(
        effort=Effort.THOROUGH, preference=Preference(extra_price=0.025), extra_seconds=60.0
    )
    assert work.named == {"despite_failures": True, "on_shortage": OnShortage.LEAVE_OUT}
    typed("build", JOB, "--out", tmp_path / "made")
    assert work.given[2] == NestSettings(effort=Effort.NORMAL)
    assert work.named == {"despite_failures": False, "on_shortage": OnShortage.STOP}
    assert not (tmp_path / "made").exists()


def test_each_option_of_a_kit_reaches_it(
    work: Work, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kit_command, "show_kit", work)
    listed = tmp_path / "list.csv"
    listed.write_text("article,quantity\nscrew,12\n")
    typed("kit", JOB, "--set", "keeper", "--hand", "left", "--compare", listed)
    assert work.given[1:] == ("keeper", Hand.LEFT, {"screw": 12.0})
    typed("kit", JOB)
    assert work.given[1:] == (None, None, None)


def test_each_option_of_openings_reaches_them(work: Work, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening_sheets, "opening_sizes", work)
    typed("openings", JOB, "--set", "keeper", "--effort", "quick")
    assert work.given[1:3] == ("keeper", NestSettings(effort=Effort.QUICK))
    typed("openings", JOB)
    assert work.given[1:3] == (None, NestSettings(effort=Effort.NORMAL))


@pytest.mark.parametrize("name", ["build", "openings", "nest", "bars"])
def test_only_who_says_so_waits_or_loses_edits(
    name: str, work: Work, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rule: a folder in which another build writes, or that somebody edited, is left alone unless
    the options say otherwise; the folders of what is read are never replaced.
    """
    monkeypatch.setattr(folder, "claimed", work)
    monkeypatch.setattr(nest_run, "nest", lambda _, __, request, ___: work(request))
    monkeypatch.setattr(bar_run, "cut_bars", lambda _, __, request, ___: work(request))
    read = (JOB,) if name in {"build", "openings"} else (tmp_path / "a.csv", tmp_path / "b.csv")
    typed(name, *read, "--out", tmp_path / "made")
    (request,) = work.given
    assert (request.folder, request.replace, request.on_busy) == (
        tmp_path / "made",
        Replace.OUTPUT,
        None,
    )
    assert set(read) <= set(request.inputs)
    typed(name, *read, "--out", tmp_path / "made", "--wait")
    (request,) = work.given
    assert request.replace is Replace.OUTPUT
    assert request.on_busy is not None
    typed(name, *read, "--out", tmp_path / "made", "--replace-edited")
    (request,) = work.given
    assert (request.replace, request.on_busy) == (Replace.EDITED, None)


def test_who_waits_is_told_so(
    work: Work, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(folder, "claimed", work)
    typed("build", JOB, "--out", "made", "--wait")
    capsys.readouterr()
    work.given[0].on_busy()
    assert capsys.readouterr().err == "Another build is writing made; waiting for its end.\n"


def test_a_build_goes_into_a_folder_of_the_jobs_name(
    work: Work, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(folder, "claimed", work)
    typed("build", JOB)
    assert work.given[0].folder == Path("out/keepers-room")
