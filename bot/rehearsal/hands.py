"""Somebody's hands at an invented oven: what they told the bot they did is what was done."""

from datetime import datetime

from bot.rehearsal.trueoven import TrueOven
from scheduling.firing.aim import Aim
from scheduling.firing.wood import piece_kg
from scheduling.journal import DoorMoved, Entry, FireLit, WoodPutOn
from scheduling.record import Record

USUAL_MM = 40.0
UNPLANNED_KG = 1.0
"""Laid for a fire that nobody planned (own choice)."""

THIN_SHARE = 0.4
"""Of wood for a fire that has died so much is split small, to get it going again (own choice)."""


class Hands:
    """Follows a journal, and does at the oven what it says was done, as the bot understood it."""

    def __init__(self, oven: TrueOven) -> None:
        self.oven = oven
        self._followed = 0

    def follow(self, record: Record, now: datetime) -> None:
        """Do what is new in the journal, each at its own time if that has not passed."""
        aim = record.session.aim if record.session is not None else None
        for entry in record.entries[self._followed :]:
            self._wait_until(entry.at)
            self._do(entry, aim)
        self._followed = len(record.entries)
        self._wait_until(now)
        if not self.oven.glowing:
            self.oven.cover_up()

    def rake(self, now: datetime) -> None:
        """Rake the fire apart."""
        self._wait_until(now)
        self.oven.rake_apart()

    def _wait_until(self, instant: datetime) -> None:
        self.oven.run_until(max(instant, self.oven.now))

    def _do(self, entry: Entry, aim: Aim | None) -> None:
        match entry:
            case FireLit():
                self._light(entry.aim)
            case WoodPutOn():
                self._stoke(entry, aim)
            case DoorMoved():
                self.oven.set_door(entry.on)
            case _:
                pass

    def _light(self, aim: Aim | None) -> None:
        """Lay and light. The hour of a fire that burns may be told again; it burns already."""
        if self.oven.alight:
            return
        self.oven.set_door(False)
        kg = aim.lay_kg if aim is not None and aim.lay_kg else UNPLANNED_KG
        self.oven.light(kg, _thick_m(aim))

    def _stoke(self, put: WoodPutOn, aim: Aim | None) -> None:
        piece_mm = aim.piece_mm if aim is not None else USUAL_MM
        kg = put.kg or (put.pieces or 1) * piece_kg(piece_mm)
        self.oven.set_door(False)
        if not self.oven.glowing:
            self.oven.rekindle(THIN_SHARE * kg)
            kg *= 1 - THIN_SHARE
        self.oven.stoke(kg, _thick_m(aim))


def _thick_m(aim: Aim | None) -> float:
    return (aim.piece_mm if aim is not None else USUAL_MM) / 1e3
