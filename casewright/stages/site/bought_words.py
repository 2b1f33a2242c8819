"""What stands for a part that is bought: its article, since it has no number of ours."""

from __future__ import annotations

from parametric.joints.assembly import Assembly

BOUGHT = "bought"


def bought_articles(assembly: Assembly) -> frozenset[str]:
    """Return the articles of legs and wall plates, which stand where others have their numbers."""
    legs = (leg.hardware.description for leg in assembly.legs)
    plates = (plate.hardware.description for plate in assembly.wall_plates)
    return frozenset((*legs, *plates))


def number_and_name(number: str, name: str, bought: frozenset[str]) -> tuple[str, str]:
    """Return what stands in the columns for a part's number and its name: of a bought one that it
    is, and its article.
    """
    return (BOUGHT, number) if number in bought else (number, name)


def short_label(number: str) -> str:
    """Return what a picture has room for: a number whole, of an article what comes before its
    sizes.
    """
    return number.partition(",")[0]
