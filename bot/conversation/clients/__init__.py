"""A builder's own beginnings: who they are, the ovens they fill in, their list and their week."""

from bot.conversation.clients.desk import ClientsDesk

__all__ = ["ClientsDesk"]
