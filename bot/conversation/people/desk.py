"""The desk for matters of people: what a code, a command or a button of theirs is about.

Whatever is not theirs gets the answer of what is not there.
"""

from bot.conversation.foundation import Foundation
from bot.conversation.incoming import Incoming, Slash
from bot.conversation.people.arriving import Arriving, FirstRunCodes
from bot.conversation.people.erasing import Erasers
from bot.conversation.people.inviting import Inviting
from bot.conversation.people.leaving import Leavers
from bot.conversation.people.teams import Teams
from scheduling import choice
from scheduling.choice import CommandName
from scheduling.ports import Opens, Person, Pressed

COMMANDS = frozenset(
    {
        CommandName.INVITE,
        CommandName.SECOND,
        CommandName.INVITATIONS,
        CommandName.TEAM,
        CommandName.LEAVE,
        CommandName.ERASE,
    }
)

RENAMING = "name "
"""``/team name Alder & Sons``; any other rest is whom to invite."""


class PeopleDesk:
    """Sorts what comes to it."""

    def __init__(self, base: Foundation, codes: FirstRunCodes | None = None) -> None:
        self._teams = Teams(base)
        self._inviting = Inviting(base)
        self._arriving = Arriving(base, codes, self._teams)
        self._leavers = Leavers(base, self._teams)
        self._erasers = Erasers(base, self._teams)

    async def came_with(self, incoming: Incoming, person: Person, code: str) -> bool:
        """Take a code; False where it opens nothing."""
        return await self._arriving.with_code(incoming, person, code)

    async def command(self, incoming: Incoming, person: Person, said: Slash) -> bool:
        """A command about people; False for any other."""
        match said.name:
            case CommandName.INVITE:
                opens = Opens.OVEN if person.builder is not None else Opens.SECOND
                await self._inviting.make(incoming, person, opens, said.rest)
            case CommandName.SECOND:
                await self._inviting.make(incoming, person, Opens.SECOND, said.rest)
            case CommandName.INVITATIONS:
                await self._inviting.show(incoming, person, said.rest)
            case CommandName.TEAM if said.rest.lower().startswith(RENAMING):
                await self._teams.rename(incoming, person, said.rest[len(RENAMING) :])
            case CommandName.TEAM if said.rest:
                await self._inviting.make(incoming, person, Opens.MEMBER, said.rest)
            case CommandName.TEAM:
                await self._teams.show(incoming, person)
            case CommandName.LEAVE:
                team = said.rest.strip().lower() == "team"
                await self._leavers.ask(incoming, person, team=team)
            case CommandName.ERASE:
                await self._erasers.ask(incoming, person)
            case _:
                return False
        return True

    async def press(self, incoming: Incoming, person: Person, pressed: Pressed) -> bool:
        """A button of a letter to them; False where it is about something else."""
        match pressed.choice:
            case choice.Command(name=name, rest=rest) if name in COMMANDS:
                return await self.command(incoming, person, Slash(name, rest))
            case choice.Inviting(opens=opens, oven=oven):
                about = oven or pressed.oven
                await self._inviting.make(incoming, person, Opens(opens), oven_id=about)
            case choice.Renewing(invitation=invitation):
                await self._inviting.renew(incoming, person, invitation)
            case choice.Revoking(invitation=invitation):
                await self._inviting.revoke(incoming, person, invitation)
            case choice.Accepting() as accepting:
                await self._arriving.accept(incoming, person, accepting)
            case choice.Leaving() as leaving:
                await self._leavers.leave(incoming, person, leaving)
            case choice.Admitting() as admitting:
                await self._teams.admit(incoming, person, admitting)
            case choice.PuttingOut() as putting_out:
                await self._teams.put_out(incoming, person, putting_out)
            case choice.Erasing(yes=yes):
                await self._erasers.answer(incoming, person, pressed.letter, yes)
            case choice.Agreeing() as agreeing:
                await self._leavers.agree(incoming, person, pressed.oven or "", agreeing)
            case _:
                return False
        return True
