"""The only door to the CAD kernel: solids, reading them back flat, model files, pictures."""
