"""The one door to the disk: output folders, claimed before the work and put in place whole."""
