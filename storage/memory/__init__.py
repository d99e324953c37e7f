"""Everything kept in memory, with the same behaviour: for rehearsals and tests.

A unit of work has copies of the tables (their rows are immutable, so that is cheap) and puts them
in place when it commits.
"""

from storage.memory.store import MemoryStore, MemoryUnit

__all__ = ["MemoryStore", "MemoryUnit"]
