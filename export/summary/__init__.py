"""The summary page: one self-contained HTML file."""
