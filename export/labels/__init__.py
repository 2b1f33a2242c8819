"""Labels: what stands on them, the stock that they are printed on, and how they are laid out."""
