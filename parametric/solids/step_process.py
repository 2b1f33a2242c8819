"""Reads STEP files of strangers in a process of its own: a damaged one may end the kernel, and with
it the process that follows it.
"""

from __future__ import annotations

import atexit
import os
import pickle
import subprocess
import sys
import tempfile
import threading
from io import BytesIO
from pathlib import Path

from parametric.solids.kernel_errors import KernelFailure

SERVE = "from parametric.solids.step_process import serve; serve()"
_READING = "STEP file", "reading"


class StepProcess:
    """A process that turns the bytes of STEP files into the kernel's own, one file after another;
    it is started when it is first asked, and anew after a file that ended it. Any thread may ask.
    """

    def __init__(self, code: str = SERVE) -> None:
        """Take what the process runs."""
        self._code = code
        self._process: subprocess.Popen[bytes] | None = None
        self._lock = threading.Lock()

    def shape(self, content: bytes) -> bytes:
        """Return all that a STEP file holds as one shape in the kernel's binary form, millimetres;
        nothing where it holds none.

        Raises:
            KernelFailure: the file is not as the standard wants it, or it ends who reads it.
        """
        with self._lock:
            try:
                process = self._process = self._process or self._started()
                if process.stdin is None or process.stdout is None:
                    raise OSError("a process without pipes")
                pickle.dump(content, process.stdin)
                process.stdin.flush()
                answer: bytes | str = pickle.load(process.stdout)
            except (EOFError, OSError, pickle.UnpicklingError):
                self._end()
                raise KernelFailure(*_READING, "it ended the process that read it") from None
            except BaseException:  # what was asked is not answered yet, so that no more can be
                self._end()
                raise
        if isinstance(answer, str):
            raise KernelFailure(*_READING, answer)
        return answer

    def close(self) -> None:
        """End the process, if there is one."""
        with self._lock:
            self._end()

    def _started(self) -> subprocess.Popen[bytes]:
        return subprocess.Popen(
            [sys.executable, "-c", self._code],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
        )

    def _end(self) -> None:
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.communicate()


READER = StepProcess()
atexit.register(READER.close)


def serve() -> None:
    """Answer on standard output what comes on standard input, until that ends."""
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)  # the kernel prints what it thinks of a file
    while True:
        try:
            content = pickle.load(sys.stdin.buffer)
        except EOFError:
            return
        pickle.dump(_answer(content), answers)
        answers.flush()


def _answer(content: bytes) -> bytes | str:
    """Return the shape of a file, or in words what is wrong with it."""
    try:
        return _read(content)
    except KernelFailure as error:
        return error.reason
    except Exception as error:  # the kernel's bindings raise bare and unrelated types
        return str(error) or type(error).__name__


def _read(content: bytes) -> bytes:
    import cadquery as cq
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.STEPControl import STEPControl_Reader

    reader = STEPControl_Reader()
    # By a name of our own: the kernel opens no file whose name has letters it does not know.
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "drawn.step"
        path.write_bytes(content)
        if reader.ReadFile(str(path)) != IFSelect_RetDone:
            raise KernelFailure(*_READING, "syntax")
        # What refers to nothing, or stands there twice, is followed into memory that is not ours.
        if reader.WS().Model().GlobalCheck(True).NbFails():
            raise KernelFailure(*_READING, "references")
        reader.TransferRoots()
    shape = reader.OneShape() if reader.NbShapes() else None
    if shape is None or shape.IsNull():
        return b""
    stream = BytesIO()
    cq.Shape.cast(shape).exportBin(stream)
    return stream.getvalue()
