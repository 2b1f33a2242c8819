"""The most value on a relaxed sheet, by trying every start of every piece. Tiny sheets only."""


def most_worth(length: int, width: int, columns: list[tuple[int, int, int, int]], limits) -> int:
    """Columns are length, width, value, piece; `limits` is how many of each piece there are."""
    best = 0

    def place(first: int, used: list[int], free: list[int], value: int) -> None:
        nonlocal best
        best = max(best, value)
        for number in range(first, len(columns)):
            along, across, own, piece = columns[number]
            if used[piece] >= limits[piece]:
                continue
            for x in range(length - along + 1):
                if min(free[x : x + along]) >= across:
                    rest = [f - across if x <= n < x + along else f for n, f in enumerate(free)]
                    used[piece] += 1
                    place(number, used, rest, value + own)
                    used[piece] -= 1

    place(0, [0] * len(limits), [width] * length, 0)
    return best
