"""A desk where meanings are named, with the buttons that people really see."""

import pytest

from tests.bot.conversation.desk import Desk
from tests.bot.conversation.plain_voice import NamingVoice


@pytest.fixture
def desk() -> Desk:
    return Desk(channel="telegram", voice=NamingVoice())
