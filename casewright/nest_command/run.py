"""The command from its options to its output folder."""

from __future__ import annotations

import os
from dataclasses import replace

from casewright.interrupt import end_plainly
from casewright.nest_command.answer import described, solved
from casewright.nest_command.files import nest_files, saw_books
from casewright.nest_command.options import OptionTexts, read_options
from casewright.nest_command.question import Files, read_question
from casewright.nest_command.show import gap_warning, show_answer
from casewright.nest_command.shown_search import ShownSearch
from casewright.output.folder import Request, claimed
from casewright.output.size import nest_bytes
from casewright.terminal_text import warn
from casewright.written import Written


def nest(files: Files, texts: OptionTexts, request: Request, written: Written) -> None:
    """Nest what the files ask for, write the output folder and print the closing tables.

    Raises:
        CasewrightError: something that the user can put right; nothing is written then.
        KeyboardInterrupt: Ctrl-C, before the search, without an answer, or again after it.
    """
    end_plainly()
    options = read_options(texts, cores=os.cpu_count() or 1)
    question = read_question(files, options)
    warning = gap_warning(texts)
    if warning is not None:
        warn(warning)
    with claimed(replace(request, expected_bytes=nest_bytes(question.instance))) as output:
        with ShownSearch() as shown:
            with shown.stopped_by_ctrl_c():
                solution = solved(question, options, shown)
            answer = described(question, solution, options)
            contents = nest_files(files.pieces.stem, answer, options, shown.drawn)
        with written.writing(request.folder):
            output.write(contents)
    show_answer(answer, saw_books(answer, options.book), options.units, request.folder)
