"""Numbers that no answer can go below, each with a proof that rests on no search for answers."""
