"""Each option that is typed reaches the work it is meant for, under its own name."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from casewright.cli import app
from casewright.commands.choices import EffortChoice, StagesChoice
from casewright.output.folder import Replace
from parametric.stock.lengths import Units

Typed = Callable[..., list[Any]]


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> Typed:
    """Runs a command whose work is only noted down."""
    seen: list[Any] = []
    monkeypatch.setattr("casewright.writable_folders.settle_folders", lambda: None)
    for name in ("nest", "compare"):
        monkeypatch.setattr(
            f"casewright.commands.nest_command.run.{name}",
            lambda *given, name=name: seen.extend((name, *given)),
        )

    def run(*words: str) -> list[Any]:
        seen.clear()
        done = CliRunner().invoke(app, words)
        assert done.exit_code == 0, done.output
        return seen

    return run


def test_every_option_of_the_nest(typed: Typed) -> None:
    way, files, texts, request, _ = typed(
        *("nest", "list/p.csv", "s.csv", "t.csv", "--defects", "d.csv", "--units", "inch"),
        *("--gap", "1", "--trim", "2", "--rim", "3", "--rim-side", "4", "--edge-to-edge"),
        *("--stages", "2", "--book-height", "5", "--thickness", "6", "--fewer-layouts", "7"),
        *("--reusable", "8x9", "--effort", "thorough", "--seconds", "10", "--seed", "11"),
        *("--workers", "12", "--column", "length=Long", "--spare", "13", "--what-if"),
        *("--other-gap", "14", "--out", "made", "--replace-edited", "--wait"),
    )
    assert way == "compare"
    assert (files.pieces, files.stock) == (Path("list/p.csv"), (Path("s.csv"), Path("t.csv")))
    assert (files.defects, files.columns, files.spare_percent) == (
        Path("d.csv"),
        {"length": "Long"},
        13,
    )
    assert (texts.units, texts.gap, texts.trim, texts.rim) == (Units.INCH, "1", "2", "3")
    assert (texts.rim_side, texts.edge_to_edge, texts.stages) == ("4", True, StagesChoice.TWO)
    assert (texts.book_height, texts.thickness, texts.fewer_layouts) == ("5", "6", 7.0)
    assert (texts.reusable, texts.effort, texts.seconds) == ("8x9", EffortChoice.THOROUGH, 10.0)
    assert (texts.seed, texts.workers, texts.other_gap) == (11, 12, "14")
    assert request.folder == Path("made")
    assert request.replace is Replace.EDITED
    assert request.on_busy is not None
    assert request.inputs == tuple(map(Path, ("list/p.csv", "s.csv", "t.csv", "d.csv")))


def test_what_the_nest_does_where_nothing_is_typed(typed: Typed) -> None:
    way, files, texts, request, _ = typed("nest", "list/p.csv", "s.csv")
    assert way == "nest"
    assert (files.defects, files.columns, files.spare_percent) == (None, {}, 0)
    assert (texts.units, texts.trim, texts.edge_to_edge, texts.seed) == (Units.MM, "0", False, 1)
    left_open = (
        *("gap", "rim", "rim_side", "stages", "book_height", "thickness", "fewer_layouts"),
        *("reusable", "effort", "seconds", "workers", "other_gap"),
    )
    assert {name: getattr(texts, name) for name in left_open} == dict.fromkeys(left_open)
    assert (request.folder, request.replace) == (Path("out/p"), Replace.OUTPUT)
    assert request.on_busy is None
