"""Links into the chat, once the channel knows what the bot is called there, and to calendars."""


class Links:
    """Empty until a channel tells the bot's name; in the terminal it stays so."""

    def __init__(self, bot_name: str | None = None, calendars: str | None = None) -> None:
        """``calendars`` is where calendars are served, as the web sees it; None for nowhere."""
        self._bot_name = bot_name
        self._calendars = calendars

    def learn(self, bot_name: str | None) -> None:
        """The bot's user name, as the channel knows it."""
        self._bot_name = bot_name or None

    def to(self, code: str) -> str | None:
        """A link that opens the chat and brings the code (core.telegram.org/bots/features, deep
        linking: at most 64 characters of A-Z a-z 0-9 _ -)."""
        return f"https://t.me/{self._bot_name}?start={code}" if self._bot_name else None

    @property
    def serves_calendars(self) -> bool:
        """Whether this house can be reached from the web at all."""
        return self._calendars is not None

    def to_calendar(self, code: str) -> str | None:
        """The address under which a calendar is read; None where none is served."""
        return f"{self._calendars}/{code}.ics" if self._calendars is not None else None
