"""DXF out and in: the only package that knows the DXF library."""
