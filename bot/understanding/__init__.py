"""From what people type to what they mean: ``heard`` by both readers, ``understand`` by the grammar
alone."""

from bot.understanding.agreement import heard
from bot.understanding.grammar import understand

__all__ = ["heard", "understand"]
