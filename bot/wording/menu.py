"""The menu of commands, as a channel shows it."""

from scheduling.choice import CommandName

MENU: tuple[tuple[str, str], ...] = (
    (CommandName.NOW.value, "What to do at this moment"),
    (CommandName.PLAN.value, "All fires, with their days"),
    (CommandName.DAYS.value, "Days, and a file for my calendar"),
    (CommandName.PICTURE.value, "A picture of the last fire"),
    (CommandName.RECORD.value, "The record of my oven, as a paper"),
    (CommandName.UNDO.value, "Take back what I said last"),
    (CommandName.SETTINGS.value, "What is known of my oven"),
    (CommandName.SECOND.value, "Invite somebody to help at the fire"),
    (CommandName.LEAVE.value, "Leave an oven, or a team"),
    (CommandName.ERASE.value, "Erase all that is known of me"),
    (CommandName.HELP.value, "What I can say here"),
)
"""Command and what it does, the most needed at a fire first."""
