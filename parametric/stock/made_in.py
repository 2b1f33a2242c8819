"""Where a joint is made."""

from __future__ import annotations

from enum import StrEnum


class MadeIn(StrEnum):
    """Where a joint is made: what is joined in the shop is delivered as one piece."""

    SHOP = "shop"
    SITE = "site"
