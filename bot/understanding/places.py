"""Where each figure was read: top, sides, hearth or elsewhere, in whatever order it is said."""

from dataclasses import replace

from bot.understanding.figures import Figure, is_free_number
from bot.understanding.message import Message
from bot.understanding.patterns import words
from bot.understanding.phrasebook import FRIENDLY_BEFORE, HOMELY, PLACES
from bot.understanding.tokens import TokenKind


def placed(message: Message, figures: list[Figure]) -> list[Figure]:
    """Give each figure the place it was read at, in whichever order the owner writes them."""
    places = [
        (index, PLACES[token.text])
        for index, token in enumerate(message.tokens)
        if is_place(message, index) and _is_of_a_figure(message, index, figures)
    ]
    if not places:
        return figures
    one_each = _one_each(message, figures, places)
    if one_each is not None:
        return [figure for figure in one_each if figure.place != "elsewhere"]
    before = _assign(figures, places, place_first=True)
    after = _assign(figures, places, place_first=False)
    tied = _unmatched(before, places) == _unmatched(after, places)
    if tied and _is_torn(message, figures, places):
        return figures
    place_first = _unmatched(before, places) <= _unmatched(after, places)
    chosen = before if place_first else after
    if places[0][0] < figures[0].start and _linked(message, places[0][0], figures[0].start):
        chosen = before
    out = list(chosen)
    if not out[0].place and len(out) > 1 and not any(f.place == "top" for f in out[1:]):
        # "152 sides 140 138": the crown is what people read first
        out[0] = replace(out[0], place="top")
    return [figure for figure in out if figure.place != "elsewhere"]


def _one_each(
    message: Message, figures: list[Figure], places: list[tuple[int, str]]
) -> list[Figure] | None:
    """ "150 top, 141 left, floor 99": every item of the list names one figure and one place."""
    out: list[Figure] = []
    for figure in figures:
        start = max((i for i in _item_ends(message) if i < figure.start), default=-1) + 1
        stop = min(i for i in [*_item_ends(message), len(message.tokens)] if i >= figure.stop)
        here = {place for index, place in places if start <= index < stop}
        beside = [f for f in figures if start <= f.start < stop]
        if len(here) != 1 or len(beside) != 1:
            return None
        out.append(replace(figure, place=here.pop()))
    return out if len(out) > 1 else None


def _item_ends(message: Message) -> list[int]:
    return [i for i, token in enumerate(message.tokens) if token.text in _BETWEEN_ITEMS]


_BETWEEN_ITEMS = frozenset([",", ".", ";", "/", "\n", "and", "|"])


def is_place(message: Message, index: int) -> bool:
    """Whether a word nobody has claimed names a place there."""
    return (
        message.word(index) in PLACES
        and index not in message.claimed
        and not _is_tag(message, index)
    )


def _is_torn(message: Message, figures: list[Figure], places: list[tuple[int, str]]) -> bool:
    """Whether "300 flue 219" leaves open which of two figures is not the dome's."""
    for index, place in places:
        clause = message.clause_of(index)
        beside = [f for f in figures if clause.start <= f.start < clause.stop]
        if place == "elsewhere" and len(beside) > 1:
            return True
    return False


def _is_of_a_figure(message: Message, index: int, figures: list[Figure]) -> bool:
    """Whether the place at ``index`` can be where a figure was read.

    It is where a figure stands in its clause, or where nothing but the place does ("219, at the
    crown"): "crack over the arch, 141" and "219, popping on the left" place no figure.
    """
    clause = message.clause_of(index)
    if any(clause.start <= figure.start < clause.stop for figure in figures):
        return True
    inside = range(clause.start, clause.stop)
    return PLACES[message.word(index)] != "elsewhere" and all(
        i not in message.claimed and (_is_sign(message, i) or message.word(i) in HOMELY)
        for i in inside
    )


def _is_sign(message: Message, index: int) -> bool:
    return message.tokens[index].kind is TokenKind.SIGN


def _is_tag(message: Message, index: int) -> bool:
    """ "Right", "back" and the like are places only beside a number or a word of a place."""
    word = message.word(index)
    if word == "left":
        beside = [*message.tokens[index - 1 : index], *message.tokens[index + 1 : index + 2]]
        return not (
            index == message.clause_of(index).start
            or any(token.kind is TokenKind.NUMBER or token.text in _BESIDE_LEFT for token in beside)
        )
    if word not in ("right", "back", "stone", "fire", "l", "r", "house", "water", "front"):
        return False
    beyond = index + 1
    while message.word(beyond) in _LINKS:
        beyond += 1
    near = [
        message.tokens[i]
        for i in (index - 1, index + 1, index + 2, beyond)
        if 0 <= i < len(message.tokens)
    ]
    if word == "right" and any(token.text in ("left", "l") for token in message.tokens):
        return False
    if word in ("right", "back"):
        after = message.word(index + 1)
        return not (after in ("wall", "side", "is", "=", ":") or is_free_number(message, index + 1))
    return not any(token.kind is TokenKind.NUMBER for token in near)


_LINKS = words("is at was now about only just reads says showing")
_BESIDE_LEFT = words("the on my = : is side wall hand right to at , / - and about reads says ( now")


def _linked(message: Message, place: int, number: int) -> bool:
    return all(
        message.word(i) in FRIENDLY_BEFORE or message.word(i) in PLACES
        for i in range(place + 1, number)
    )


def _assign(
    figures: list[Figure], places: list[tuple[int, str]], *, place_first: bool
) -> list[Figure]:
    out: list[Figure] = []
    for figure in figures:
        if place_first:
            near = [p for p in places if p[0] < figure.start]
            candidate = near[-1] if near else None
        else:
            near = [p for p in places if p[0] >= figure.stop]
            candidate = near[0] if near else None
        out.append(replace(figure, place=candidate[1] if candidate else ""))
    return out


def _unmatched(figures: list[Figure], places: list[tuple[int, str]]) -> int:
    kinds = {kind for _, kind in places}
    got = [figure.place for figure in figures if figure.place]
    singles = sum(max(0, got.count(kind) - 1) for kind in ("top", "hearth"))
    return 2 * len(kinds - set(got)) + sum(not f.place for f in figures) + 2 * singles
