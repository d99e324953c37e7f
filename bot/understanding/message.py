"""A message cut into clauses, and who has already claimed which of its words.

Readers go from the most particular (a clock time, so many logs, the wind) to the least (a bare
number). Each claims the tokens it has understood; what is left over goes to the next. A
clause carries its mood, because "is it ok at 200?", "if it hits 200" and "you said 200" hold
a number that nobody has read off a thermometer.
"""

from dataclasses import dataclass, field
from enum import StrEnum

from bot.understanding.patterns import Pattern, words
from bot.understanding.phrasebook import (
    AFTER_A_FIGURE,
    ASKING,
    COUNTED_WOOD,
    IDIOMS,
    NEGATORS,
    NEW_START,
    REASONS,
    SUPPOSING,
    TOLD,
)
from bot.understanding.tokens import Token, TokenKind


class Mood(StrEnum):
    """How a clause means what it says."""

    SAID = "said"
    ASKED = "asked"
    SUPPOSED = "supposed"
    """If, when, until: not so (yet)."""
    TOLD = "told"
    """A target, a limit, what someone else said."""


@dataclass(frozen=True, slots=True)
class Clause:
    """Tokens ``start`` to ``stop`` (exclusive) of the message, and their mood."""

    start: int
    stop: int
    mood: Mood
    text: str
    """Its tokens, each followed by one space, with one space before."""
    offsets: tuple[int, ...]
    """Where each token begins in ``text``."""
    questioned: bool = False
    """A question mark ends the sentence it stands in."""

    def token_at(self, offset: int) -> int:
        """Index in the message of the token that covers ``offset`` of ``text``."""
        place = 0
        for index, begin in enumerate(self.offsets):
            if begin <= offset:
                place = index
        return self.start + place


@dataclass(slots=True)
class Message:
    """The tokens of one message, its clauses, and the tokens already understood."""

    text: str
    tokens: tuple[Token, ...]
    clauses: tuple[Clause, ...]
    claimed: set[int] = field(default_factory=set)

    def claim(self, start: int, stop: int) -> None:
        """Mark tokens ``start`` to ``stop`` (exclusive) as understood."""
        self.claimed.update(range(start, stop))

    def free(self, start: int, stop: int) -> bool:
        """Whether none of these tokens is understood yet."""
        return not any(index in self.claimed for index in range(start, stop))

    def clause_of(self, index: int) -> Clause:
        """The clause in which token ``index`` stands."""
        for clause in self.clauses:
            if clause.start <= index < clause.stop:
                return clause
        return self.clauses[-1]

    def clauses_text(self) -> str:
        """The texts of all clauses, one after another."""
        return "".join(clause.text for clause in self.clauses)

    def word(self, index: int) -> str:
        """Text of token ``index``, or an empty string beyond either end."""
        return self.tokens[index].text if 0 <= index < len(self.tokens) else ""

    def words(self, start: int, stop: int) -> str:
        """Texts of a run of tokens with single spaces, for matching."""
        return " ".join(token.text for token in self.tokens[max(start, 0) : stop])

    def said(self, start: int, stop: int) -> str:
        """The words as they were typed (after ``normalise``)."""
        return self.text[self.tokens[start].start : self.tokens[stop - 1].end]

    def negated(self, clause: Clause, index: int, reach: int = 5) -> bool:
        """Whether a "no" or "not" of the same clause stands at most ``reach`` words before."""
        return any(
            self.word(before) in NEGATORS
            for before in range(max(clause.start, index - reach), index)
        )


_SENTENCE_ENDS = frozenset(".!?;")
_CLAUSE_ENDS = frozenset(",:()/-")
_CONJUNCTIONS = words("but though although however and so then because while cos plus also")
_REASONS = words("because while cos")
"""What they bring in belongs to the question before: "can I go while it is burning"."""


def clauses_of(tokens: tuple[Token, ...]) -> tuple[Clause, ...]:
    """Cut ``tokens`` where a sentence or a clause ends, and tell the mood of each."""
    clauses: list[Clause] = []
    for start, stop, mark in _sentences(tokens):
        cuts = _cuts(tokens, start, stop)
        for begin, end in zip(cuts, [*cuts[1:], stop], strict=True):
            text, offsets = _text(tokens[begin:end])
            clauses.append(Clause(begin, end, Mood.SAID, text, offsets, mark == "?"))
    return _with_moods(clauses)


def _sentences(tokens: tuple[Token, ...]) -> list[tuple[int, int, str]]:
    out: list[tuple[int, int, str]] = []
    start = 0
    for index, token in enumerate(tokens):
        if token.kind is TokenKind.BREAK or token.text in _SENTENCE_ENDS:
            if index > start or token.text == "?":
                mark = token.text
                if index == start and out:
                    # "ok ??" or "... ?": the mark belongs to the sentence before
                    last_start, last_stop, last_mark = out[-1]
                    out[-1] = (last_start, last_stop, "?" if mark == "?" else last_mark)
                else:
                    out.append((start, index, mark))
            start = index + 1
    if start < len(tokens):
        out.append((start, len(tokens), ""))
    return out


def _cuts(tokens: tuple[Token, ...], start: int, stop: int) -> list[int]:
    """Where clauses begin within a sentence."""
    cuts = [start]
    for index in range(start + 1, stop):
        token = tokens[index]
        begun = _text(tokens[cuts[-1] : index])[0]
        asks = any(p.starts(begun) for p in ASKING)
        if token.text in _CONJUNCTIONS:
            if _joins(tokens, index) and not (asks and token.text in _REASONS):
                cuts.append(index)
        elif (
            tokens[index - 1].text in _CLAUSE_ENDS
            and (not token.glued or tokens[index - 1].text == "(")
        ) or _is_tag_question(tokens, cuts[-1], index, stop):
            cuts.append(index)
        elif not asks:
            rest = " " + " ".join(t.text for t in tokens[index : index + 5]) + " "
            before = tokens[index - 1].text
            begins = NEW_START if before not in _SUBORDINATING else ()
            if _ends_a_figure(tokens[index - 1]) and not COUNTED_WOOD.starts(rest):
                begins = (*begins, *AFTER_A_FIGURE)
            if any(token.kind is TokenKind.NUMBER for token in tokens[cuts[-1] : index]):
                begins = (*begins, *REASONS)
            if any(p.starts(rest) for p in begins):
                cuts.append(index)
    return cuts


def _joins(tokens: tuple[Token, ...], index: int) -> bool:
    """Whether a conjunction opens a clause here; "so slow" and "i think so" do not."""
    before = tokens[index - 1].text
    if before in ("so", "and", "but", "or"):
        return False
    around = _text(tokens[index - 1 : index + 2])[0]
    if any(p.starts(around) for p in IDIOMS):
        return False
    if tokens[index].text == "so":
        return index + 1 < len(tokens) and tokens[index + 1].text in _SO_THEN
    return True


_SO_THEN = words("i it we the should what can do shall is top he she they this that")
_TAGS = words("ok okay good fine enough normal alright right too safe high hot low")


_LEAST_SAID = 12
"""A number word below this counts people and pieces."""


def _ends_a_figure(token: Token) -> bool:
    if token.spoken and token.value < _LEAST_SAID:
        # "no one feels ill", "two had a look"
        return False
    return token.kind is TokenKind.NUMBER or token.text in ("c", "f", "degrees", "°")


_OPENS_A_QUESTION = words("is are was will would should shall can could do does has have if")


def _is_tag_question(tokens: tuple[Token, ...], begin: int, index: int, stop: int) -> bool:
    """ "152 ok?": the tag asks, the number is stated."""
    if not _ends_a_figure(tokens[index - 1]):
        return False
    if tokens[begin].text in _OPENS_A_QUESTION:
        return False
    mark = tokens[stop].text if stop < len(tokens) else ""
    return mark == "?" and tokens[index].text in _TAGS and stop - index <= 2


_SUBORDINATING = words(
    """
    if when until till once unless before after whether that think thinks said says because as
    what how why where guess hope hoping not and but so know sure tell ask wondering
    can could should shall may might will would do does did must
    to of by beside near with for than behind
    """
)


def _text(tokens: tuple[Token, ...]) -> tuple[str, tuple[int, ...]]:
    text, offsets = " ", []
    for token in tokens:
        offsets.append(len(text))
        text += token.text + " "
    return text, tuple(offsets)


def _with_moods(clauses: list[Clause]) -> tuple[Clause, ...]:
    out: list[Clause] = []
    for index, clause in enumerate(clauses):
        last_of_sentence = index + 1 == len(clauses) or not clauses[index + 1].questioned
        mood = _mood(clause, closes_question=clause.questioned and last_of_sentence)
        out.append(
            Clause(clause.start, clause.stop, mood, clause.text, clause.offsets, clause.questioned)
        )
    return tuple(out)


def _mood(clause: Clause, *, closes_question: bool) -> Mood:
    asked = any(p.starts(clause.text) for p in ASKING)
    if _any(SUPPOSING, clause.text) and not (asked and clause.text.split()[0] in _OPENS_A_QUESTION):
        return Mood.SUPPOSED
    if asked or closes_question:
        return Mood.ASKED
    if _any(TOLD, clause.text):
        return Mood.TOLD
    return Mood.SAID


def _any(patterns: tuple[Pattern, ...], text: str) -> bool:
    return any(p.search(text) for p in patterns)
