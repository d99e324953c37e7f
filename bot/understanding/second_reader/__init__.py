"""A second reader beside the grammar: a small trained encoder that hears what no phrase foresaw.

``second_reader()`` gives it, or None where its libraries or its file are missing: then the grammar
reads alone. Nothing is loaded before it is asked for the first time.
"""

from bot.understanding.second_reader.loading import Absent, second_reader, why_absent
from bot.understanding.second_reader.opinion import NumberRole, Opinion, Role
from bot.understanding.second_reader.reader import SecondReader

__all__ = [
    "Absent",
    "NumberRole",
    "Opinion",
    "Role",
    "SecondReader",
    "second_reader",
    "why_absent",
]
