"""Unit families, one a file: sizes to rules to boards, members and joints."""
