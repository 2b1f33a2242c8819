"""Part drawings: a page for each part, with all that it takes to make it by hand."""
