"""Lists of rectangles for the nest command, invented, and the command run on them in memory."""

import json
from pathlib import Path, PurePosixPath
from typing import Any, NamedTuple

from casewright.commands.choices import EffortChoice
from casewright.commands.nest_command.answer import answered
from casewright.commands.nest_command.files import NestFiles, list_files, nest_files
from casewright.commands.nest_command.options import OptionTexts, read_options
from casewright.commands.nest_command.question import Files, Question, read_questions
from nesting.answer.nest_answer import NestAnswer
from nesting.search.watch import Unwatched
from parametric.stock.lengths import Units

PIECES = """piece,length,width,quantity,turn,group,priority
deck,1200,600,6,no,room 1,
side,800,330,12,no,room 1,5
back,700,420,5,yes,room 2,
cleat,300,40,20,yes,,
"""

STOCK = """stock,length,width,quantity,price,kind
full,2440,1220,,49.90,sheet
rest,1500,900,1,,remnant
"""

PIECES_INCH = """piece,length,width,quantity,turn
door,24 1/2,15-3/4,7,no
"shelf, deep",596.9 mm,11.25,10,yes
"""

STOCK_INCH = """stock,length,width,quantity,price
"4 x 8",96,48,9,
half,48,48 in,,
"""


class Nested(NamedTuple):
    question: Question
    answer: NestAnswer
    files: dict[PurePosixPath, bytes]

    @property
    def json(self) -> Any:
        return json.loads(self.files[PurePosixPath("nest.json")])


def written(folder: Path, pieces: str, stock: str, defects: str | None = None) -> Files:
    """The texts as files of a folder."""
    texts = {"pieces": pieces, "stock": stock, "defects": defects}
    for name, text in texts.items():
        if text is not None:
            (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    return Files(
        pieces=folder / "pieces.csv",
        stock=(folder / "stock.csv",),
        defects=None if defects is None else folder / "defects.csv",
    )


def quick(units: Units = Units.MM, **options: Any) -> OptionTexts:
    """Options with little work, unless they say otherwise."""
    if "seconds" not in options:
        options = {"effort": EffortChoice.QUICK, **options}
    return OptionTexts(units=units, **options)


def asked(files: Files, options: OptionTexts) -> Question:
    (question,) = read_questions(files, read_options(options, cores=2)).questions
    return question


def nested(files: Files, texts: OptionTexts) -> Nested:
    options = read_options(texts, cores=2)
    (question,) = read_questions(files, options).questions
    answer = answered(question, options, Unwatched())
    drawn: list[int] = []
    drawn_files = nest_files("list", answer, options, drawn.append)
    contents = list_files(
        [NestFiles(material="", name=question.material, answer=answer, files=drawn_files)]
    )
    assert drawn == list(range(1, len(answer.sheets) + 1))
    return Nested(question, answer, contents)
