"""What has been found in a message so far, and the steps every finder takes: match, deny, take."""

from dataclasses import dataclass, field

from bot.understanding import phrasebook as book
from bot.understanding.days import DaySpan
from bot.understanding.message import Clause, Message
from bot.understanding.moments import Moment
from bot.understanding.patterns import Pattern
from bot.understanding.pieces import Pieces
from scheduling.remark import Lit, Remark, Setting


@dataclass(slots=True)
class Found:
    """Remarks so far, each with the index of the token it begins at."""

    message: Message
    setting: Setting
    moments: list[Moment]
    pieces: list[Pieces]
    days: list[DaySpan]
    remarks: list[tuple[int, Remark]] = field(default_factory=list)
    taken: set[int] = field(default_factory=set)
    used: set[int] = field(default_factory=set)
    """Starts of moments and pieces that already belong to a remark."""
    hinted: bool = False
    """A danger was named in a question or a supposition."""
    denied: bool = False
    """Something was said not to be so ("no cracks")."""

    def add(self, index: int, remark: Remark) -> None:
        """Keep ``remark`` unless the same was already said."""
        if isinstance(remark, Lit) and self.has("lit"):
            # "it's going well, lit at 9.15" is one lighting
            if remark.at is None:
                return
            self.remarks = [one for one in self.remarks if one[1] != Lit()]
        if all(kept != remark for _, kept in self.remarks):
            self.remarks.append((index, remark))

    def has(self, kind: str) -> bool:
        """Whether a remark of this kind was found."""
        return any(remark.kind == kind for _, remark in self.remarks)


def matches(
    found: Found, patterns: tuple[Pattern, ...], skip: tuple[Pattern, ...] = ()
) -> list[tuple[Clause, int, int]]:
    """Clause and tokens of every match not yet taken; clauses matching ``skip`` are left out."""
    out: list[tuple[Clause, int, int]] = []
    for clause in found.message.clauses:
        if any(p.search(clause.text) for p in skip):
            continue
        for one in patterns:
            match = one.search(clause.text)
            if match is None or not match.group().strip():
                continue
            lead = len(match.group()) - len(match.group().lstrip())
            start = clause.token_at(match.start() + lead)
            stop = clause.token_at(match.end() - 2) + 1
            if not found.taken & set(range(start, stop)):
                out.append((clause, start, stop))
                break
    return out


def take(found: Found, start: int, stop: int) -> None:
    """Keep other finders off these tokens; places stay free for a reading."""
    found.taken.update(range(start, stop))
    words = [
        index
        for index in range(start, stop)
        if found.message.tokens[index].kind.value in ("word", "sign")
        and book.PLACES.get(found.message.tokens[index].text, "elsewhere") == "elsewhere"
    ]
    found.message.claimed.update(words)


def is_denied(found: Found, clause: Clause, start: int, stop: int) -> bool:
    """Whether "no", "not any more", "has stopped", "gone" undo what was matched."""
    before = found.message.negated(clause, start)
    inside = any(found.message.word(i) in ("not", "no") for i in range(start + 1, stop))
    after = " " + found.message.words(stop, min(stop + 5, clause.stop)) + " "
    ahead = " " + found.message.words(max(clause.start, start - 4), start) + " "
    over = any(p.search(after) for p in book.OVER_NOW) or any(
        p.search(ahead) for p in book.OVER_BEFORE
    )
    if found.message.word(start - 1) == "no" and found.message.word(start) == "no":
        before = True
    if before or inside or over:
        found.denied = True
        take(found, start, stop)
        return True
    return False


def inner_not(message: Message, start: int, stop: int) -> bool:
    """Whether a "not" stands within the words matched."""
    return any(message.word(i) == "not" for i in range(start, stop)) and message.words(
        start, stop
    ) not in ("door not on", "lid not on")
