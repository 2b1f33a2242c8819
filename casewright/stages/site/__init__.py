"""From sets, steps and rooms to the papers of the site."""
