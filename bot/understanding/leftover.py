"""What no reader has claimed of a message, to be asked about beside a fire."""

from bot.understanding import phrasebook as book
from bot.understanding.found import Found
from bot.understanding.tokens import TokenKind

QUOTED = 120
"""Characters that are quoted back at most."""


def unclaimed(found: Found) -> str:
    """The words from the first to the last clause in which something was left over, as they were
    typed; empty where every word was claimed, or is one that stands in any sentence."""
    message = found.message
    left = [
        clause
        for clause in message.clauses
        if any(
            message.tokens[i].kind is TokenKind.WORD
            and i not in message.claimed
            and i not in found.taken
            and message.tokens[i].text not in book.HOMELY
            for i in range(clause.start, clause.stop)
        )
    ]
    if not left:
        return ""
    return message.said(left[0].start, left[-1].stop)[:QUOTED]
