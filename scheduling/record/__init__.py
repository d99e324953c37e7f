"""The record of an oven, folded from its journal."""

from scheduling.record.record import Record
from scheduling.record.standing import Need, Needed, Phase

__all__ = ["Need", "Needed", "Phase", "Record"]
