"""Papers for the site, as PDF: installation sheets, blocking plans, room pages, the pick list."""
