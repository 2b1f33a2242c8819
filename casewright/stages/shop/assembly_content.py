"""From the pieces of a job to what stands on the shop's assembly sheets."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from casewright.stages.shop.piece_pictures import piece_pictures
from casewright.stages.site.alike_words import alike_words
from casewright.stages.site.bought_words import bought_articles, number_and_name
from casewright.stages.site.site_pictures import letters_of
from export.shop.content import UNIT, AssemblyBook, PieceSheet
from parametric.geometry.hand import hands_in_words
from parametric.joints.delivered import joined_from, joining
from parametric.joints.driving import bits_of, screws_of
from parametric.kit.kit import Kit
from parametric.lists.cut_list import BarPart
from parametric.lists.piece_catalogue import Joining, SetKey, ShopPiece
from parametric.solids.set_model import SetModel
from parametric.steps.carrying import people_for
from parametric.stock.amounts import in_words, mass
from parametric.stock.lengths import Units, show_length

_NO_BREAK = "\N{NO-BREAK SPACE}"
"""Within the name of a bit, which no line parts: PZ 2."""


def assembly_book(
    job: str,
    pieces: Sequence[ShopPiece],
    models: Mapping[SetKey, SetModel],
    hardware: Kit,
    bars: Sequence[BarPart],
    units: Units,
) -> AssemblyBook:
    """Return the sheets of all pieces; `models` are by set and hand, `bars` all cleats and angles
    that are cut.
    """
    alike = alike_words(bars, units)
    return AssemblyBook(
        job=job,
        pieces=tuple(_sheet(piece, models[piece.drawn], alike, units) for piece in pieces),
        hardware=tuple(
            (line.unit.in_words(line.needed), line.description) for line in hardware.lines
        ),
    )


def _sheet(
    piece: ShopPiece,
    model: SetModel,
    alike: Mapping[str, str],
    units: Units,
) -> PieceSheet:
    sides = " x ".join(show_length(side, units) for side in piece.sides_mm)
    assembly = model.room_set.assembly
    joints = joining(piece.piece, joined_from(assembly, piece.piece))
    letters, bought = letters_of(assembly, joints), bought_articles(assembly)
    made = [assembly.joints[at] for at in joints]
    articles = {screw.description: letters[screw.key] for screw in screws_of(made)}
    return PieceSheet(
        number=piece.number,
        title=piece.description,
        make=piece.quantity,
        pictures=piece_pictures(assembly, model.machining, piece.piece, piece.numbers, letters),
        facts=(
            (UNIT, ", ".join(piece.units)),
            ("for sets in", hands_in_words(piece.hands)),
            ("mass", in_words(mass(piece.mass_kg), units)),
            ("size over all", sides),
        ),
        parts=tuple(
            (
                str(count),
                *number_and_name(
                    number, f"{name} ({alike[number]})" if number in alike else name, bought
                ),
            )
            for number, name, count in piece.parts
        ),
        screws=tuple((articles[article], str(count), article) for article, count in piece.screws),
        work=tuple(_work(piece, bits_of(made))),
        people=people_for(piece.mass_kg),
        glued=piece.work is not Joining.LEGS,
    )


def _work(piece: ShopPiece, bits: Sequence[str]) -> Iterator[str]:
    """Yield what is done and looked at, with the driver bits. Common practice, no source."""
    into = "Screws into the pilot holes: the holes set where the {} go"
    match piece.work:
        case Joining.CARCASS:
            yield "Dry fit first; glue in every groove, clamp square until the glue has set"
            yield "Square: both diagonals equal"
        case Joining.CLEATS:
            yield "Spread glue over the whole face of each cleat"
            yield into.format("cleats")
            yield "Screws that a cleat will cover go in before that cleat; all heads flush"
        case Joining.BOX:
            yield "Each board first with its cleats, by its own sheet; then dry fit"
            yield "Spread glue over each cleat where the next board meets it"
            yield into.format("boards")
            yield "Square before the glue sets: both diagonals equal"
        case Joining.LEGS:
            yield into.format("legs")
            yield "Every plate tight on the board, every leg square to it"
    if piece.screws:
        yield ", ".join(("Driver", *(bit.replace(" ", _NO_BREAK) for bit in bits)))
    yield f"Mark it {piece.number} where it does not show"
