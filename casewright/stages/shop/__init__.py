"""From nests and pieces to cut files and the papers of the shop."""
