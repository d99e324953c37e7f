"""The menus of commands, as a channel shows them: command and what it does, most needed first."""

from scheduling.choice import CommandName

_Menu = tuple[tuple[str, str], ...]

_AT_LAST: _Menu = (
    (CommandName.LEAVE.value, "Leave an oven, or a team"),
    (CommandName.ERASE.value, "Erase all that is known of me"),
    (CommandName.HELP.value, "What I can say here"),
)

OWNER: _Menu = (
    (CommandName.NOW.value, "What to do at this moment"),
    (CommandName.PLAN.value, "All fires, with their days"),
    (CommandName.DAYS.value, "Days, and a file for my calendar"),
    (CommandName.PICTURE.value, "A picture of the last fire"),
    (CommandName.RECORD.value, "The record of my oven, as a paper"),
    (CommandName.UNDO.value, "Take back what I said last"),
    (CommandName.SETTINGS.value, "What is known of my oven"),
    (CommandName.SECOND.value, "Invite somebody to help at the fire"),
    *_AT_LAST,
)

_OF_CLIENTS: _Menu = (
    (CommandName.ROSTER.value, "My clients, who needs me first"),
    (CommandName.WEEK.value, "The fires of the week, and a calendar"),
    (CommandName.INVITE.value, "Invite a client: put their name behind it"),
    (CommandName.INVITATIONS.value, "Who was invited and has not come"),
)

_OF_AN_OFFICE: _Menu = (
    (CommandName.WAYS.value, "How I break ovens in, my models and limits"),
    (CommandName.TEAM.value, "My team, its name and its members"),
    (CommandName.IMPORT.value, "Bring clients along in a file"),
    (CommandName.EXPORT.value, "My clients as a file"),
    (CommandName.STATISTICS.value, "What my ovens add up to"),
)

BUILDER: _Menu = (
    (CommandName.NOW.value, "Who needs me now"),
    *_OF_CLIENTS,
    (CommandName.PLAN.value, "The fires of the client who lies open"),
    (CommandName.RECORD.value, "The paper of the client who lies open"),
    *_OF_AN_OFFICE,
    *_AT_LAST,
)

BOTH: _Menu = (
    (CommandName.NOW.value, "What to do at my own oven now"),
    *_OF_CLIENTS,
    (CommandName.PLAN.value, "The fires of my own oven"),
    (CommandName.DAYS.value, "Days of my own oven, and a file for my calendar"),
    (CommandName.RECORD.value, "The record of my own oven, as a paper"),
    (CommandName.UNDO.value, "Take back what I said last of my own oven"),
    (CommandName.SETTINGS.value, "What is known of my own oven"),
    (CommandName.SECOND.value, "Invite somebody to help at my own fire"),
    *_OF_AN_OFFICE,
    *_AT_LAST,
)
"""For a builder who has an oven of their own besides."""
