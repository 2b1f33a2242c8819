"""Names with brackets, signs of formulas and direction characters, from the files to all output."""

import csv
import io
import json
from pathlib import Path

import pypdfium2
import pytest
import typer
from typer.testing import CliRunner

from casewright.cli import app
from casewright.command_line.exit_codes import ExitCode
from casewright.command_line.told_plainly import told_plainly
from casewright.commands.nest_command import run as nest_run
from casewright.errors import InputErrors, OutputFolderError
from casewright.intake.read_schedule import read_schedule
from export.tables.csv_cell import read_cell
from export.visible_text import STEERS
from parametric.stock.lengths import Units
from tests.casewright.nest_lists import asked, quick
from tests.casewright.nest_lists import written as nest_list
from tests.casewright.test_cli import copied, run

JOB = "A [/red] B \u202e C"
SHOWN_JOB = r"A [/red] B \u202e C"
BOARD = "Ash [rev a] [bold]board"
FORMULAS = ("=", "+", "-", "@", "\t", "\r")


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    """What the terminal showed of a job of hostile names, and its output folder."""
    folder = tmp_path_factory.mktemp("shop [bold] [rev b]")
    job = copied(
        folder,
        ("job: Skarvholm Light, keeper's room", r'job: "A [/red] B \u202e C"'),
    )
    materials = folder / "materials-metric.yaml"
    text = materials.read_text()
    ash = "Laminated board, ash pattern on both faces"
    assert ash in text
    materials.write_text(text.replace(ash, BOARD))
    schedule = folder / "keepers-room-rooms.csv"
    header, room = schedule.read_text().splitlines()
    sizes = room.removeprefix("keeper,")
    schedule.write_text(f"{header}\n=1+1,{sizes}\n'-2,{sizes}\n")
    done = run("build", job, "--effort", "quick", "--out", folder / "out", columns=80)
    assert done.returncode == 0, done.stderr + done.stdout
    return done.stdout, folder / "out"


def test_the_terminal_shows_names_as_they_stand(built: tuple[str, Path]) -> None:
    shown, out = built
    assert f"{SHOWN_JOB}: 2 rooms" in shown
    assert "[rev a]" in shown
    assert "[bold]board" in shown
    assert STEERS.search(shown.replace("\n", "")) is None
    assert shown.splitlines()[-1] == f"Written to {out}; open {out / 'summary.html'}"


def test_the_table_stands_last(built: tuple[str, Path]) -> None:
    lines = built[0].splitlines()
    findings = next(n for n, line in enumerate(lines) if line.startswith("Findings: "))
    material = next(n for n, line in enumerate(lines) if line.startswith("material"))
    assert findings < material
    assert all(line.rstrip().endswith(" %") for line in lines[-3:-1])


def test_no_table_holds_a_formula(built: tuple[str, Path]) -> None:
    paths = sorted(built[1].rglob("*.csv"))
    assert len(paths) > 8
    for path in paths:
        for row in csv.reader(io.StringIO(path.read_text(encoding="utf-8"), newline="")):
            for cell in row:
                assert STEERS.search(cell) is None
                if cell.startswith(FORMULAS):
                    float(cell)


def test_rooms_read_back_from_their_table(built: tuple[str, Path]) -> None:
    text = (built[1] / "site" / "rooms.csv").read_text(encoding="utf-8")
    cells = [row["room"] for row in csv.DictReader(io.StringIO(text))]
    assert cells == ["'=1+1", "'-2"]
    assert [read_cell(cell) for cell in cells] == ["=1+1", "-2"]


def test_pages_and_manifest_show_what_steers(built: tuple[str, Path]) -> None:
    out = built[1]
    manifest = (out / "manifest.json").read_text(encoding="utf-8")
    page = (out / "summary.html").read_text(encoding="utf-8")
    assert STEERS.search((manifest + page).replace("\n", "")) is None
    assert json.loads(manifest)["job"] == JOB
    assert f"<h1>{SHOWN_JOB}</h1>" in page
    pdf = pypdfium2.PdfDocument(out / "site" / "rooms.pdf")
    pages = [page.get_textpage().get_text_range() for page in pdf]
    assert [room for room in ("=1+1", "-2") if room in "".join(pages)] == ["=1+1", "-2"]
    assert all(SHOWN_JOB in page and "\u202e" not in page for page in pages)


PIECES = """piece,length,width,quantity,turn,group
'=1+1,800,330,4,no,'@room
[/red],700,420,2,yes,-2
'tis,300,200,2,yes,
"""
STOCK = "stock,length,width,quantity,price\n[rev a],2440,1220,,49.90\n"


def test_a_nest_shows_and_writes_names_as_they_stand(tmp_path: Path) -> None:
    folder = tmp_path / "a [bold] c"
    folder.mkdir()
    files = nest_list(folder, PIECES, STOCK)
    out = folder / "out [1]"
    options = ("--gap", "8", "--effort", "quick", "--out", out)
    done = run("nest", files.pieces, files.stock[0], *options)
    assert done.returncode == 0, done.stderr
    assert any(line.split()[:3] == ["[rev", "a]", "1"] for line in done.stdout.splitlines())
    assert done.stdout.splitlines()[-1] == f"Written to {out}; open {out / 'summary.html'}"
    text = (out / "placements.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert {row["piece"] for row in rows} == {"'=1+1", "[/red]", "'tis"}
    assert {row["group"] for row in rows} == {"'@room", "'-2", ""}


def test_lists_are_read_as_our_tables_write_them(tmp_path: Path) -> None:
    question = asked(nest_list(tmp_path, PIECES, STOCK), quick(gap="8"))
    pieces = {piece.id: piece.group for piece in question.instance.pieces}
    assert pieces == {"=1+1": "@room", "[/red]": "-2", "'tis": ""}


def test_a_schedule_is_read_as_our_tables_write_it(tmp_path: Path) -> None:
    path = tmp_path / "rooms.csv"
    path.write_text("room,set,hand\n'=1+1,keeper,left\n=2,keeper,left\n''-3,keeper,left\n")
    rooms = read_schedule(path, Units.MM, ["keeper"], [], lambda *_: pytest.fail("no file"))
    assert [room.number for room in rooms] == ["=1+1", "=2", "'-3"]


def test_a_room_with_a_direction_character_is_refused_and_shown(tmp_path: Path) -> None:
    job = copied(tmp_path)
    schedule = tmp_path / "keepers-room-rooms.csv"
    schedule.write_text(schedule.read_text().replace("\nkeeper,", "\n1\u202e2,"))
    done = run("check", job)
    assert done.returncode == 2
    assert r"found '1\u202e2'" in done.stderr
    assert "\u202e" not in done.stderr


@pytest.mark.parametrize("character", [r"\x85", r"\u2028", r"\u2029", r"\x9b", r"\x1b", r"\n"])
def test_a_name_of_several_lines_or_commands_is_refused(tmp_path: Path, character: str) -> None:
    job = copied(tmp_path, ("job: Skarvholm Light, keeper's room", f'job: "A{character}B"'))
    done = run("kit", job)
    assert done.returncode == 2
    assert "allowed: a text on one line" in done.stderr
    assert STEERS.search(done.stderr.replace("\n", "")) is None


def test_a_file_that_is_missing_is_told_with_its_brackets(tmp_path: Path) -> None:
    done = run("check", tmp_path / "a [/red] \x1b[31m.yaml")
    assert done.returncode == 2
    assert r"a [/red] \u001b[31m.yaml:1: found no such file" in done.stderr


def test_a_kit_list_may_hold_anything(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("article,quantity\n[/red] washers,3\n'=x,1\n")
    done = run("kit", copied(tmp_path), "--compare", path)
    assert done.returncode == 1, done.stderr
    lines = [line.split() for line in done.stdout.splitlines()]
    assert ["[/red]", "washers", "not", "needed", "0", "3", "3"] in lines
    assert ["=x", "not", "needed", "0", "1", "1"] in lines


def test_a_bug_before_the_writing_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(typer.Exit) as ended, told_plainly():
        raise ValueError("[/red] gone \x1b[2J")
    assert ended.value.exit_code == ExitCode.BUG
    told = capsys.readouterr().err
    assert told.startswith("This is a bug in casewright; nothing was written.\n")
    assert told.endswith("ValueError: [/red] gone \\u001b[2J\n")


def test_a_bug_while_writing_does_not_say_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(typer.Exit), told_plainly() as written, written.writing(tmp_path):
        raise ValueError("odd")
    told = capsys.readouterr().err
    assert "nothing was written" not in told
    assert f"{tmp_path} is as it was before, or whole" in told


def test_a_bug_after_the_writing_says_that_it_was_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = nest_list(tmp_path, PIECES, STOCK)

    def breaks(*_: object) -> None:
        raise ValueError("odd")

    monkeypatch.setattr(nest_run, "show_answer", breaks)
    out = tmp_path / "out"
    arguments = [
        "nest",
        files.pieces,
        files.stock[0],
        "--gap",
        "8",
        "--effort",
        "quick",
        "--out",
        out,
    ]
    done = CliRunner().invoke(app, [*map(str, arguments)])
    assert done.exit_code == ExitCode.BUG
    assert f"This is a bug in casewright; {out} was written and is whole." in done.stderr
    assert (out / "manifest.json").exists()


def test_a_folder_with_a_line_break_in_its_name_is_told_in_one_line() -> None:
    error = OutputFolderError(Path("a\nb"), "is a file")
    assert error.lines == ("a\nb: is a file",)
    assert InputErrors(()).lines == ()
