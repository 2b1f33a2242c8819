"""Whole-list packing: all sheets stay open, each piece goes where it fits best by the rule."""

from nesting.draft import Draft
from nesting.filling import OpenSheet
from nesting.meter import WorkMeter
from nesting.offers import sorted_offers
from nesting.problem import Kind, Problem
from nesting.proposals import Recipe
from nesting.sheet_by_sheet import Tiers


def best_fit(problem: Problem, recipe: Recipe, tiers: Tiers, meter: WorkMeter) -> Draft:
    """Return a draft with every piece on the open sheet that it fits best."""
    draft = Draft()
    open_sheets = _OpenSheets(recipe, tiers, meter)
    demand = dict(enumerate(problem.demand))
    for chunk in sorted_offers(problem, demand, recipe.order):
        short = open_sheets.place(chunk.kind, chunk.copies)
        if short:
            draft.short[chunk.kind.index] = short
    for sheet in open_sheets.sheets:
        draft.add(sheet.filling(), 1)
    return draft


class _OpenSheets:
    """All sheets begun so far, and the stock for more."""

    def __init__(self, recipe: Recipe, tiers: Tiers, meter: WorkMeter) -> None:
        self.sheets: list[OpenSheet] = []
        self._recipe = recipe
        self._rooms = [room for tier in tiers for room in tier]
        self._left = {room.index: room.on_hand for room in self._rooms}
        self._meter = meter

    def place(self, kind: Kind, copies: int) -> int:
        """Place copies of a kind and return how many found no sheet."""
        # Only the sheet that took the last copy changes its fitness for the next one.
        fitness = {number: sheet.fitness(kind) for number, sheet in enumerate(self.sheets)}
        for placed in range(copies):
            fits = [(value, number) for number, value in fitness.items() if value is not None]
            if fits:
                number = min(fits)[1]
            elif self._open(kind):
                number = len(self.sheets) - 1
            else:
                return copies - placed
            self.sheets[number].place(kind)
            fitness[number] = self.sheets[number].fitness(kind)
        return 0

    def _open(self, kind: Kind) -> bool:
        """Begin a sheet of the first stock that holds the kind; return whether there is one."""
        for room in self._rooms:
            left = self._left[room.index]
            if left == 0 or not kind.fits(room):
                continue
            self._left[room.index] = None if left is None else left - 1
            sheet = OpenSheet(room, self._recipe.rule, self._recipe.axis, self._meter)
            self.sheets.append(sheet)
            return True
        return False
