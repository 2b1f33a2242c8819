"""Sheets that come apart by cuts from edge to edge, as a panel saw makes them."""
