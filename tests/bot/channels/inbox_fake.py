"""A store with nothing but an inbox, in memory: what the channels need of one."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from types import TracebackType
from typing import Any, Self, cast

from scheduling.ports import InboxHead, InboxRow, InboxState, Store
from storage.faults import DiskFull


@dataclass
class InboxFake:
    """Rows by key, in order of arrival. ``broken`` makes the next units fail."""

    rows: dict[tuple[str, str], InboxRow] = field(default_factory=dict)
    states: dict[tuple[str, str], InboxState] = field(default_factory=dict)
    why: dict[tuple[str, str], str] = field(default_factory=dict)
    broken: int = 0

    async def store(self, row: InboxRow) -> bool:
        at = (row.channel, row.key)
        if at in self.rows:
            return False
        self.rows[at] = row
        self.states[at] = InboxState.WAITING
        return True

    async def waiting(self, channel: str, limit: int = 100) -> tuple[InboxRow, ...]:
        found = [
            row
            for at, row in self.rows.items()
            if at[0] == channel and self.states[at] is InboxState.WAITING
        ]
        return tuple(found[:limit])

    async def done(self, channel: str, key: str) -> bool:
        was = self.states[channel, key]
        self.states[channel, key] = InboxState.DONE
        return was is not InboxState.DONE

    async def heads(self, channel: str, after: int = 0, limit: int = 1000) -> tuple[InboxHead, ...]:
        found = [
            InboxHead(seq, row.key, row.chat)
            for seq, (at, row) in enumerate(self.rows.items(), 1)
            if at[0] == channel and self.states[at] is InboxState.WAITING and seq > after
        ]
        return tuple(found[:limit])

    async def get(self, channel: str, key: str) -> InboxRow | None:
        waits = self.states.get((channel, key)) is InboxState.WAITING
        return self.rows[channel, key] if waits else None

    async def failed(self, channel: str, key: str, why: str, set_aside: bool) -> bool:
        at = (channel, key)
        if self.states[at] is not InboxState.WAITING:
            return False
        self.rows[at] = replace(self.rows[at], attempts=self.rows[at].attempts + 1)
        self.why[at] = why
        if set_aside:
            self.states[at] = InboxState.SET_ASIDE
        return True

    def state(self, key: str, channel: str = "telegram") -> InboxState:
        return self.states[channel, key]


class StoreFake:
    """Opens units over one ``InboxFake``."""

    def __init__(self, strangers: Callable[[str], bool] = lambda _: False) -> None:
        self.inbox = InboxFake()
        self._strangers = strangers

    def write(self) -> "_Unit":
        return _Unit(self.inbox, self._strangers)

    def read(self) -> "_Unit":
        return _Unit(self.inbox, self._strangers)

    async def close(self) -> None:
        return None

    def as_store(self) -> Store:
        return cast("Store", self)


class _People:
    def __init__(self, strangers: Callable[[str], bool]) -> None:
        self._strangers = strangers

    async def belonging(self, channel: str, addresses: Sequence[str]) -> frozenset[str]:
        return frozenset(one for one in addresses if not self._strangers(one))


class _Unit:
    def __init__(self, inbox: InboxFake, strangers: Callable[[str], bool]) -> None:
        self.inbox = inbox
        self.people = _People(strangers)

    async def __aenter__(self) -> Self:
        if self.inbox.broken:
            self.inbox.broken -= 1
            raise DiskFull("no room")
        return self

    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        return None

    async def commit(self) -> None:
        return None

    def __getattr__(self, name: str) -> Any:
        raise NotImplementedError(f"channels have no business with {name}")
