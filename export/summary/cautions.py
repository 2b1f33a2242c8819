"""What the summary page warns of. Plain advice; where a rule applies, the rule stands above it."""

from __future__ import annotations

CAUTIONS = (
    (
        "First piece",
        "Cut and assemble one set of each size and hand, and try it in its room, before the rest"
        " is cut. Check the first part from every sheet against the cut list.",
    ),
    (
        "Cutting",
        "Before a run, check the sheet's size, the face that must lie up, the origin, the bit and"
        " the depths against the file. Narrow parts and offcuts can come loose: hold them down or"
        " leave them joined. Nobody stays within reach of a running machine.",
    ),
    (
        "Dust",
        "Dust of wood and board harms the lungs and can burn or explode. Cut with extraction, clean"
        " by vacuum and not by air, and wear breathing protection where the rules ask for it.",
    ),
    (
        "Lifting",
        "Masses in the cut list are for one piece. Decks and panels are heavy and awkward: carry"
        " them with as many people as the packing list says, or with a trolley, and plan the way"
        " through doors and lifts first.",
    ),
    (
        "Walls",
        "Find studs, blocking, pipes and cables before drilling. Screws hold only in what they are"
        " meant for; where there is no blocking, the wall has to be opened or another fixing chosen"
        " by someone who is competent to do so.",
    ),
    (
        "Loads",
        "Checks in the findings are arithmetic on the figures they name. They are no approval of a"
        " structure. Local codes, and the people licensed to apply them, decide what is safe in"
        " this building; where they differ from this page, those rules govern.",
    ),
)
