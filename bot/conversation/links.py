"""Deep links into the chat, once the channel knows what the bot is called there."""


class Links:
    """Empty until a channel tells the bot's name; in the terminal it stays so."""

    def __init__(self, bot_name: str | None = None) -> None:
        self._bot_name = bot_name

    def learn(self, bot_name: str | None) -> None:
        """The bot's user name, as the channel knows it."""
        self._bot_name = bot_name or None

    def to(self, code: str) -> str | None:
        """A link that opens the chat and brings the code (core.telegram.org/bots/features, deep
        linking: at most 64 characters of A-Z a-z 0-9 _ -)."""
        return f"https://t.me/{self._bot_name}?start={code}" if self._bot_name else None
