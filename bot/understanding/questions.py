"""Questions, told apart by topic."""

from bot.understanding import phrasebook as book
from bot.understanding.found import Found
from bot.understanding.message import Clause, Mood
from scheduling.remark import Question, Topic


def questions(found: Found) -> None:
    """Add the questions that the message asks."""
    for clause in found.message.clauses:
        if not _asks(found, clause):
            continue
        ill = any(
            r.kind == "hazard" and i in range(clause.start, clause.stop) for i, r in found.remarks
        )
        topic = Topic.OTHER if ill else topic_of(_with_neighbours(found, clause))
        found.add(clause.start, Question(topic=topic))
        found.taken.update(range(clause.start, clause.stop))


def topic_of(text: str) -> Topic:
    """The topic of a question, from the first that its words name."""
    for name, patterns in book.TOPICS:
        if any(p.search(text) for p in patterns):
            return Topic(name)
    return Topic.OTHER


_ASKED_OF = {
    "crack": "crack",
    "hazard": "",
    "smoke": "smoke",
    "steam": "steam",
    "damp": "steam",
    "weather": "weather",
    "door_on": "door",
    "door_off": "door",
    "reading": "fire too big",
    "too_big": "fire too big",
    "stoked": "fire too big",
    "leaving": "leave",
}
"""What "is that ok?" is about after each kind: words of that topic."""


def _asks(found: Found, clause: Clause) -> bool:
    inside = [r for i, r in found.remarks if clause.start <= i < clause.stop]
    if any(r.kind in ("later", "stop_nudges", "undo", "available") for r in inside):
        return False
    if clause.mood is Mood.ASKED:
        words = set(range(clause.start, clause.stop))
        if any(
            found.message.tokens[i].kind.value == "number" for i in words & found.message.claimed
        ):
            # "152?" has been taken as a doubtful figure
            rest = [found.message.word(i) for i in words - found.message.claimed]
            if all(word in book.FRIENDLY_BEFORE for word in rest):
                return False
        return any(found.message.tokens[i].kind.value == "word" for i in words)
    if clause.mood is Mood.SUPPOSED:
        return clause.questioned or any(p.search(clause.text) for p in book.WHAT_IF)
    return False


def _with_neighbours(found: Found, clause: Clause) -> str:
    """The clause, and where it names nothing itself ("is that ok?") the one before it."""
    anaphoric = any(p.search(clause.text) for p in book.SAME_AGAIN)
    if topic_of(clause.text) is not Topic.OTHER and not (anaphoric and found.remarks):
        return clause.text
    for begins, remark in reversed(found.remarks):
        if begins < clause.start and remark.kind in _ASKED_OF:
            return f" {_ASKED_OF[remark.kind]} "
    index = found.message.clauses.index(clause)
    return "".join(c.text for c in found.message.clauses[max(index - 1, 0) : index + 2])
