"""The command from its options to its output folder."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import replace

from casewright.commands.nest_command.answer import described, seconds_to_load, solved
from casewright.commands.nest_command.files import (
    NestFiles,
    list_files,
    nest_files,
    saw_books,
    what_if_files,
)
from casewright.commands.nest_command.options import NestOptions, OptionTexts, read_options
from casewright.commands.nest_command.question import Files, Question, QuestionList, read_questions
from casewright.commands.nest_command.show import (
    further_text,
    gap_warning,
    list_table,
    rounded_text,
    show_answer,
    skipped_text,
    spare_text,
    what_if_table,
    where_text,
)
from casewright.commands.nest_command.shown_search import ShownSearch
from casewright.commands.nest_command.what_if import Tried, tried, ways, what_if_rows
from casewright.errors import DoesNotFit
from casewright.output.folder import Request, claimed
from casewright.output.size import nest_bytes
from casewright.terminal.interrupt import end_plainly
from casewright.terminal.terminal_text import tell_words, warn
from casewright.written import Written


def nest(files: Files, texts: OptionTexts, request: Request, written: Written) -> None:
    """Nest what the files ask for, write the output folder and print the closing tables.

    Each material of the list is a nest of its own, in a folder of its own where there are several.

    Raises:
        CasewrightError: something that the user can put right; nothing is written then.
        KeyboardInterrupt: Ctrl-C, before the search, without an answer, or again after it.
    """
    end_plainly()
    options = read_options(texts, cores=os.cpu_count() or 1)
    listed = read_questions(files, options)
    _tell_what_was_read(listed, texts)
    expected = sum(nest_bytes(question.instance) for question in listed.questions)
    with claimed(replace(request, expected_bytes=expected)) as output:
        nests = _nested(files, listed.questions, options)
        contents = list_files(nests)
        with written.writing(request.folder):
            output.write(contents)
    for each in nests:
        if len(nests) > 1:
            tell_words(f"{each.material}:")
        show_answer(each.answer, saw_books(each.answer, options.book), options.units)
    if len(nests) > 1:
        list_table(nests).tell()
    tell_words(where_text(request.folder, nests))


def compare(files: Files, texts: OptionTexts, request: Request, written: Written) -> None:
    """Ask the same in other ways, write the answer of each, and print one table of all.

    Raises:
        CasewrightError: something that the user can put right; nothing is written then.
        KeyboardInterrupt: Ctrl-C, before the search, without an answer, or again after it.
    """
    end_plainly()
    options = read_options(texts, cores=os.cpu_count() or 1)
    listed = read_questions(files, options)
    _tell_what_was_read(listed, texts)
    questions = listed.questions
    expected = sum(
        nest_bytes(question.instance) * len(list(ways(question.instance, options.other_gap)))
        for question in questions
    )
    with claimed(replace(request, expected_bytes=expected)) as output:
        found: list[Tried] = []
        for question in questions:
            with ShownSearch() as shown, shown.stopped_by_ctrl_c():
                found += tried(question, options, options.other_gap, shown)
        rows = tuple(what_if_rows(found))
        contents = what_if_files(rows, (each.nest for each in found if each.nest is not None))
        with written.writing(request.folder):
            output.write(contents)
    what_if_table(rows, options.units).tell()
    tell_words(f"Written to {request.folder}, a folder for each way")


def _tell_what_was_read(listed: QuestionList, texts: OptionTexts) -> None:
    """Tell what a person may not have meant, before any search."""
    warning = gap_warning(texts)
    if warning is not None:
        warn(warning)
    notes = (
        further_text(listed.further),
        skipped_text(listed.skipped),
        spare_text(listed.questions),
        rounded_text(max(each.rounded_mm for each in listed.questions)),
    )
    for line in notes:
        if line:
            tell_words(line)


def _nested(
    files: Files, questions: Iterable[Question], options: NestOptions
) -> tuple[NestFiles, ...]:
    """Return the nests with their files, one question after the other.

    Raises:
        DoesNotFit: the stock of some materials does not suffice; all of them are told.
    """
    found, short = [], []
    for question in questions:
        with ShownSearch() as shown:
            try:
                with shown.stopped_by_ctrl_c():
                    loaded_seconds = seconds_to_load(shown)
                    solution = solved(question, options, shown)
            except DoesNotFit as error:
                short.append(str(error))
                continue
            answer = replace(described(question, solution, options), loaded_seconds=loaded_seconds)
            title = files.pieces.stem
            material = question.material.shown(options.units)
            if material:
                title = f"{title}, {material}"
            found.append(
                NestFiles(
                    material=material,
                    name=question.material,
                    answer=answer,
                    files=nest_files(title, answer, options, shown.drawn),
                )
            )
    if short:
        raise DoesNotFit("\n".join(short))
    return tuple(found)
