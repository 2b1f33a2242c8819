"""Random and plain questions about bars for the tests."""

from collections.abc import Sequence

from hypothesis import strategies as st

from nesting.linear.instance import Bar, BarInstance, BarKind, BarPiece, RemnantUse, SawRules


def plain_question(
    lengths: Sequence[tuple[int, int]],
    bars: Sequence[tuple[int, float, int | None]] = ((600, 1.0, None),),
    *,
    kerf: int = 0,
    end_trim: int = 0,
    reusable: int = 1,
) -> BarInstance:
    """Pieces as (length, quantity) named p0, p1, …; bars as (length, price, on hand) b0, b1, …"""
    return BarInstance(
        pieces=tuple(
            BarPiece(id=f"p{place}", length=length, quantity=quantity)
            for place, (length, quantity) in enumerate(lengths)
        ),
        bars=tuple(
            Bar(id=f"b{place}", length=length, price=price, on_hand=on_hand)
            for place, (length, price, on_hand) in enumerate(bars)
        ),
        rules=SawRules(kerf=kerf, end_trim=end_trim, reusable=reusable),
    )


@st.composite
def bar_questions(draw: st.DrawFn, *, most_pieces: int = 6, most_quantity: int = 12) -> BarInstance:
    """Questions that can be answered: one bar is endless and holds every piece."""
    kerf = draw(st.integers(0, 9))
    end_trim = draw(st.integers(0, 20))
    longest = draw(st.integers(2 * end_trim + 20, 400))
    room = longest - 2 * end_trim
    prices = st.integers(0, 400).map(lambda cents: cents / 100)
    bars = [Bar(id="endless", length=longest, price=draw(prices), on_hand=None)]
    for place in range(draw(st.integers(0, 3))):
        bars.append(
            Bar(
                id=f"bar {place}",
                length=draw(st.integers(2 * end_trim + 1, 500)),
                price=draw(prices),
                on_hand=draw(st.integers(0, 4)),
                kind=draw(st.sampled_from(BarKind)),
            )
        )
    pieces = tuple(
        BarPiece(
            id=f"piece {place}",
            length=draw(st.integers(1, room)),
            quantity=draw(st.integers(1, most_quantity)),
        )
        for place in range(draw(st.integers(0, most_pieces)))
    )
    rules = SawRules(
        kerf=kerf,
        end_trim=end_trim,
        reusable=draw(st.integers(1, 100)),
        remnants=draw(st.sampled_from(RemnantUse)),
    )
    return BarInstance(pieces=pieces, bars=tuple(bars), rules=rules)
