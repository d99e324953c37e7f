"""Where a builder's people are received: their clients, orders, talk and cases."""

from bot.conversation.office.digest import MorningDigest
from bot.conversation.office.office import OFFICE_CHOICES, Office

__all__ = ["OFFICE_CHOICES", "MorningDigest", "Office"]
