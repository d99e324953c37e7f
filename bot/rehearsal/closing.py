"""What the wall really did, told at the end of a rehearsal."""

from dataclasses import dataclass
from datetime import datetime

from bot.rehearsal.audit import Audit
from bot.rehearsal.trueoven import TrueOven

DRY_SHARE = 0.05
"""Free water left in the wetter zone's shell, below which it counts as dry (own choice)."""


@dataclass(frozen=True, slots=True)
class Closing:
    """The truth at the end. ``ended`` says how the rehearsal ended, in words."""

    ended: str
    told_done: bool
    began: datetime
    first_fire: datetime | None
    over: datetime
    firings: int
    wood_kg: float
    peak_crown_c: float
    peak_sides_c: float
    shell_water_l: float
    water_left_share: float
    soot_clear: bool
    worst_share: float
    worst_at: datetime | None
    worst_zone: str
    worst_depth_mm: float
    worst_pressure_kpa: float
    wood_orders: int
    bad_orders: int
    false_alarms: int

    @property
    def dry(self) -> bool:
        """The shell has hardly any free water left, in either zone."""
        return self.water_left_share < DRY_SHARE

    @property
    def unharmed(self) -> bool:
        """Steam never reached the true strength."""
        return self.worst_share < 1.0

    @property
    def good(self) -> bool:
        """Finished, dry, clear and unharmed."""
        return self.told_done and self.dry and self.soot_clear and self.unharmed

    def lines(self) -> list[str]:
        """The summary, for a terminal."""
        days = (self.over - self.first_fire).total_seconds() / 86400 if self.first_fire else 0.0
        worst = f"{100 * self.worst_share:.0f} % of its true strength"
        if self.worst_at is not None:
            worst += (
                f" ({self.worst_pressure_kpa:.0f} kPa, {self.worst_zone}, "
                f"{self.worst_depth_mm:.0f} mm deep, {self.worst_at:%d %b %H:%M} UTC)"
            )
        damp = f"{100 * self.water_left_share:.0f} % in its wetter part"
        rows = (
            ("ended", self.ended),
            ("firings", f"{self.firings}, over {days:.1f} days, {self.wood_kg:.0f} kg of wood"),
            ("true peak", f"crown {self.peak_crown_c:.0f} °C, sides {self.peak_sides_c:.0f} °C"),
            ("water in shell", f"{self.shell_water_l:.1f} l left, {damp}{_flag(self.dry, 'dry')}"),
            ("soot", "clear" if self.soot_clear else "NOT clear"),
            ("worst steam", worst + ("" if self.unharmed else " (DAMAGED)")),
            ("wood asked for", f"{self.wood_orders} times, {self.bad_orders} on a bad number"),
            ("false alarms", f"{self.false_alarms}"),
        )
        return ["What the wall really did", *(f"  {name:<16}{words}" for name, words in rows)]


def _flag(good: bool, word: str) -> str:
    return f" ({word})" if good else f" (NOT {word})"


def close(
    oven: TrueOven,
    audit: Audit,
    *,
    ended: str,
    told_done: bool,
    began: datetime,
    first_fire: datetime | None,
    over: datetime,
) -> Closing:
    """Sum up."""
    account = oven.account
    return Closing(
        ended=ended,
        told_done=told_done,
        began=began,
        first_fire=first_fire,
        over=over,
        firings=account.fires,
        wood_kg=account.wood_kg,
        peak_crown_c=account.peak_c["crown"],
        peak_sides_c=account.peak_c["sides"],
        shell_water_l=oven.water_l(shell_only=True),
        water_left_share=oven.shell_water_share(),
        soot_clear=oven.soot_clear(),
        worst_share=account.worst_share,
        worst_at=account.worst_at,
        worst_zone=account.worst_zone,
        worst_depth_mm=account.worst_depth_mm,
        worst_pressure_kpa=account.worst_pressure_kpa,
        wood_orders=audit.wood_orders,
        bad_orders=len(audit.faults),
        false_alarms=audit.false_alarms,
    )
