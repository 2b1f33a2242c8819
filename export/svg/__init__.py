"""Pictures as SVG: sheet maps, line pictures with dimensions, the plan of a hand."""
