"""What the store packs, loads and buys."""
