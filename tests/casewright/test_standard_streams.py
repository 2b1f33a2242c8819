"""Whatever is at the other end of the standard streams, commands do their work and say so."""

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest

from casewright.terminal.standard_streams import Outlet, plain, standard_streams, stream_to

ROOT = Path(__file__).parents[2]
COMMAND = (sys.executable, "-c", "from casewright.cli import main; main()")
FULL = Path("/dev/full")


def in_shell(line: str, folder: Path, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """Run a line of shell, where `$@` is the command."""
    return subprocess.run(
        ["sh", "-c", line, "sh", *COMMAND],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        check=False,
    )


@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-", "<&- >&- 2>&-"])
def test_a_stream_that_is_closed_ends_nothing(closed, tmp_path):
    done = in_shell(f'"$@" new made {closed}', tmp_path)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "made" / "job.yaml").read_bytes().startswith(b"#")
    assert not done.stderr


PRINTS_BELOW_PYTHON = (
    "import os; from casewright.terminal.standard_streams import standard_streams\n"
    "with standard_streams():\n"
    "    kept = open('kept', 'wb'); os.write(1, b'a library talks'); kept.write(b'data')\n"
)


def stream(encoding: str) -> io.TextIOWrapper:
    return io.TextIOWrapper(io.BytesIO(), encoding=encoding)


def test_each_stream_keeps_its_own_encoding_and_descriptor(monkeypatch):
    """Output may go to a file and errors to a terminal: what one shows the other may lack."""
    before = stream("latin-1"), stream("ascii")
    monkeypatch.setattr(sys, "stdout", before[0])
    monkeypatch.setattr(sys, "stderr", before[1])
    with pytest.raises(SystemExit) as ended, standard_streams():
        assert (sys.stdout.encoding, sys.stderr.encoding) == ("latin-1", "ascii")
        assert (sys.stdout.fileno(), sys.stderr.fileno()) == (1, 2)
    assert ended.value.code == 0
    assert (sys.stdout, sys.stderr) == before


def test_a_terminal_keeps_its_own_stream():
    class Terminal(io.TextIOWrapper):
        def isatty(self) -> bool:
            return True

    terminal, elsewhere = Terminal(io.BytesIO(), encoding="ascii"), stream("latin-1")
    assert stream_to(Outlet(1), terminal) is terminal
    assert stream_to(Outlet(1), elsewhere) is not elsewhere
    assert stream_to(Outlet(2), None).encoding == "utf-8"


def test_what_is_printed_to_a_closed_stream_goes_into_no_file(tmp_path):
    subprocess.run(
        ["sh", "-c", '"$@" >&-', "sh", sys.executable, "-c", PRINTS_BELOW_PYTHON],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        check=True,
    )
    assert (tmp_path / "kept").read_bytes() == b"data"


def test_a_reader_that_has_gone_changes_no_exit_code(tmp_path):
    done = in_shell('{ "$@" schema; echo $? >code; } | true', tmp_path)
    assert (tmp_path / "code").read_text() == "0\n"
    assert not done.stderr
    job = ROOT / "configs" / "keepers-room.yaml"
    in_shell(f'{{ "$@" kit "{job}"; echo $? >code; }} | true', tmp_path)
    assert (tmp_path / "code").read_text() == "0\n"


@pytest.mark.skipif(not FULL.exists(), reason="only Linux has a device that is always full")
def test_a_disk_that_is_full_is_told_in_one_line(tmp_path):
    done = in_shell(f'"$@" schema >{FULL}', tmp_path)
    assert done.returncode == 2
    assert done.stderr == b"Standard output cannot be written: No space left on device\n"


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "ascii:strict"])
def test_what_a_terminal_cannot_show_is_shown_as_near_as_can_be(encoding, tmp_path):
    done = in_shell(
        '"$@" new "3 × 2 m² Żółć 家"', tmp_path, PYTHONIOENCODING=encoding, PYTHONUTF8="1"
    )
    assert done.returncode == 0, done.stderr
    shown = done.stdout.decode("latin-1")
    latin, plain_letters = r"3 × 2 m² Zó\u0142c \u5bb6", r"3 x 2 m2 Zo\u0142c \u5bb6"
    expected = latin if encoding == "latin-1" else plain_letters
    assert f"Started a job in {expected}." in shown
    assert (tmp_path / "3 × 2 m² Żółć 家" / "job.yaml").exists()


@pytest.mark.parametrize(
    ("letter", "ascii_"),
    [
        *[
            ("×", "x"),
            ("ß", "ss"),
            ("²", "2"),
            ("³", "3"),
            ("°", " deg"),
            ("…", "..."),
            ("→", "->"),
        ],
        *[("\u2013", "-"), ("\u2014", "-"), ("\u2212", "-")],  # dashes and the minus
        *[("\u2018", "'"), ("\u2019", "'"), ("\u201c", '"'), ("\u201d", '"')],  # quotes
        *[("é", "e"), ("½", "12"), ("\u3042", r"\u3042")],
    ],
)
def test_plain_letters(letter, ascii_):
    assert plain(letter) == ascii_


def test_papers_are_set_where_the_working_folder_is_gone(tmp_path, monkeypatch):
    from export.papers.pdf import pdf_bytes
    from export.papers.typesetting import Source

    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    assert pdf_bytes(Source(main="text", files=(), revision="")).startswith(b"%PDF")


class Elsewhere(io.TextIOWrapper):
    """A stream as Python opens it, that may say that it is a terminal."""

    def __init__(self, encoding: str, *, terminal: bool) -> None:
        super().__init__(io.BytesIO(), encoding=encoding)
        self.terminal = terminal

    def isatty(self) -> bool:
        return self.terminal


@pytest.mark.parametrize("terminals", [(False, False), (True, False), (False, True), (True, True)])
def test_each_stream_stays_what_it_was(terminals, monkeypatch):
    """Rule: a terminal stays, and any other stream keeps its encoding and its descriptor, which is
    1 of the output and 2 of the errors (POSIX, unistd.h); afterwards both are what they were.
    """
    out = Elsewhere("latin-1", terminal=terminals[0])
    errors = Elsewhere("ascii", terminal=terminals[1])
    monkeypatch.setattr(sys, "stdout", out)
    monkeypatch.setattr(sys, "stderr", errors)
    with pytest.raises(SystemExit) as end, standard_streams():
        streams = sys.stdout, sys.stderr
    assert end.value.code == 0
    assert (sys.stdout, sys.stderr) == (out, errors)
    assert [stream.encoding for stream in streams] == ["latin-1", "ascii"]
    for stream, before, terminal, descriptor in zip(
        streams, (out, errors), terminals, (1, 2), strict=True
    ):
        assert (stream is before) is terminal
        assert terminal or stream.fileno() == descriptor
