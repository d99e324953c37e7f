"""A builder's yard: the van with a team that is known by a name, and models of its own."""

from datetime import timedelta

from bot.conversation.heard import Heard
from scheduling.ports import Builder, Invitation, Opens
from tests.bot.conversation.office.van import MINUTE, TEAM, Van

MODELS = """\
[models.garden-80]
title = "Garden 80"
construction = "cast-dense"
diameter_mm = 800
door = "insulated"
flue = true
thermometer_c = 550
"""


class Yard(Van):
    """``beth`` is the builder; clients come by her invitations."""

    async def founded(self, *, models: bool = False) -> None:
        async with self.store.write() as unit:
            await unit.builders.put(Builder(id=TEAM, name="Beth & Co"))
            await unit.commit()
        await self.team("beth", quiet_from=None, quiet_until=None)
        if models:
            await self.sends("beth", MODELS)

    async def sends(self, who: str, content: str | bytes) -> list[str]:
        """A file; returns what they were told for it."""
        data = content.encode() if isinstance(content, str) else content
        return self._told(who, await self.chat.file(who, data, self.now + MINUTE))

    async def invited(self, name: str) -> str:
        """The code of a new invitation."""
        (text,) = await self.say("beth", f"/invite {name}")
        return text.split()[-1]

    async def answers(self, who: str, *labels: str) -> Heard:
        """Buttons, one after the other; what was told last."""
        for label in labels:
            await self.press(who, label)
        return self.last(who)

    async def open_ones(self) -> dict[str, Invitation]:
        """Open invitations to an oven, by name."""
        async with self.store.read() as unit:
            found = await unit.invitations.open_for_builder(TEAM, self.now)
        return {one.name: one for one in found if one.opens is Opens.OVEN}

    async def later(self, span: timedelta) -> None:
        await self.until(self.now + span)
