"""Linear stock: cleats, steel angle, edge band and bars cut from lengths."""
