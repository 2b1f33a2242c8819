"""What one nest is asked: pieces, stock and rules in whole ticks, and what is wrong with them."""
