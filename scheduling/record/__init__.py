"""The record of an oven, folded from its journal."""

from scheduling.record.record import Record
from scheduling.record.standing import Group, Need, Needed, Phase

__all__ = ["Group", "Need", "Needed", "Phase", "Record"]
