"""From what people type to what they mean. ``understand`` is the one way in."""

from bot.understanding.grammar import understand

__all__ = ["understand"]
