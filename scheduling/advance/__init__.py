"""The one road that everything takes: ``advance(record, happening, now) -> Outcome``."""

from scheduling.advance.advance import advance

__all__ = ["advance"]
