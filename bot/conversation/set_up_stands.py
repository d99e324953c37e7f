"""Where an oven stands, as people type it.

An answer is a tuple of what the words may mean: one where they are clear, several where they have
to be asked back, none where nothing can be made of them. What is wrongly taken for open air would
let a fire be lit where it kills; so walls around it count as indoors unless the words say more, and
a word that can mean inside as well as beside is asked about.
"""

import re
from collections.abc import Iterable

from rapidfuzz import fuzz, process

from scheduling.oven.stands import Over, Stands

_NOT = (
    r"(?:no|not|nothing|nowt|none|never|nor|without|isn'?t|aren'?t|ain'?t|hasn'?t|haven'?t|"
    r"doesn'?t|nowhere|no longer|used to be|was|moved (?:it )?(?:out of|from|away from)|out of)"
)

_ROOM = (
    r"(?:garage|house|home|kitchen|living ?room|sitting ?room|lounge|dining ?room|bedroom|cellar|"
    r"basement|attic|loft|hall(?:way)?|utility(?: room)?|conservatory|sun ?room|orangery|"
    r"green ?house|glass ?house|poly ?tunnel|tent|marquee|yurt|tipi|barn|stable|workshop|"
    r"work ?shed|garden room|summer ?house|cabin|hut|shack|shed|out ?house|outbuilding|"
    r"out-building|building|room|flat|apartment|restaurant|pub|shop|warehouse|unit|hangar|bunker|"
    r"bothy|studio|annexe?|extension|log store|coach ?house|caravan|trailer|van|container)"
)
"""Walls around it, wherever they are."""

_OPEN_AIR_ROOM = re.compile(
    r"\b(?:out ?door|out-door|outside|garden|open(?:[- ]air)?)\s+(?:kitchen|living room|room|bar)\b"
)

_ELSEWHERE = (
    r"(?:by|beside|near|next|behind|against|under|outside|front|between|off|on|yard|back ?yard|"
    r"courtyard|field|lawn|drive|driveway|grounds|allotment|alley|line|sight|"
    r"garden(?! (?:shed|room|house|studio|building|store)))"
)
"""Words after which a room is no more what it stands in."""

_WITHIN = re.compile(
    rf"\b(?:in|inside|within|into)\b(?: (?!{_ELSEWHERE}\b)[\w'-]+){{0,4}}? {_ROOM}\b"
)
_BARE_ROOM = re.compile(
    rf"^(?:(?:the|a|an|my|our|it'?s|its|in|old|double|single|log|garden|wooden) )*({_ROOM})$"
)
_INDOORS = re.compile(
    r"\b(?:indoors?|in doors|inside|under (?:my|the|our) house|enclosed|closed in|walls? all "
    r"(?:a?round|sides)|four walls|glazed in|garage with|garage,? door)\b"
)
_INSIDE_A_CURVE = re.compile(
    r"\binside (?:the )?(?:a )?(?:garden|yard|fence|fences|hedges?|walls?)\b"
)
_OR_BESIDE = re.compile(r"\b(?:shed|barn|house|home|workshop|cabin|summer ?house)\b")
"""Said alone they may be what it stands beside."""

_BURNS = (
    r"(?:fences?|fencing|hedges?|hedging|trellis|sheds?|garages?|houses?|barns?|cabins?|"
    r"summer ?houses?|play ?houses?|green ?houses?|cladding|clad(?:ded)?|siding|decking|deck|"
    r"timber|wooden|wood ?(?:pile|store|stack)|log ?(?:pile|store)|bush(?:es)?|shrubs?|conifers?|"
    r"leylandii|laurels?|trees?|ivy|thatch(?:ed)?|bamboo|screens?|panels?|building|bungalow|gate)"
)
_BURNING_NEAR = re.compile(rf"\b{_BURNS}\b")
_PLAIN_WALL = re.compile(r"\bwalls?\b")
_STONE = re.compile(r"\b(?:brick|stone|block|breeze ?block|concrete|rendered|masonry|retaining)\b")
_FAR = re.compile(
    r"\b(?:far(?: away)? from|away from|(?:well )?clear of|not near|nowhere near|a long way)\b"
)
_METRES = re.compile(r"(\d+(?:[.,]\d+)?)\s*(m|met(?:er|re)s?|ft|feet|foot|yards?|yds?|cm)\b")
_IN_METRES = {"m": 1.0, "f": 0.3048, "y": 0.9144, "c": 0.01}
NEAR_M = 2.5
"""Nearer than this, what burns stands beside it: two metres, and a little for a guess by eye."""

_ROOFED = re.compile(
    r"\b(?:roof(?:ed|s)?|car ?ports?|porch|veranda|verandah|canopy|lean[- ]?to|gazebo|loggia|"
    r"under ?cover|under (?:a|the) cover|pavilion|bandstand|polycarbonate|"
    r"covered (?:patio|terrace|deck|area|yard|space|seating|walkway)|"
    r"corrugated|tin sheet|overhang|eaves|shelter(?!ed)|open[- ]sided|kiosk|pagoda|bike ?shed)\b"
)
_SLATTED = re.compile(
    r"\b(?:pergolas?|slats?|slatted|awning|sail|parasol|umbrella|arbou?r|vines?|under (?:a|an|the|"
    r"some|our|my)(?: \w+)? trees?|under trees|branches|trellis roof)\b"
)
_SHEETED = re.compile(
    r"\b(?:sheets?|sheeted|tarps?|tarpaulins?|tarped|plastic|bag|blanket|oven cover|"
    r"cover (?:over|on|for)|fitted cover|rain cover|waterproof cover|covered (?:up|with|when))\b"
)
_SKY = re.compile(
    r"\b(?:sky|out ?doors?|outside|open air|in the open|out in the|garden|lawn|grass|field|yard|"
    r"back ?yard|courtyard|allotment|paddock|drive(?:way)?|orchard|meadow|uncovered|elements|"
    r"nothing (?:over|above|on|around|near)|open|exposed|stars)\b"
)
_NOTHING = re.compile(
    rf"^{_NOT}$|\b(?:nothing|nowt|none|no (?:roof|cover|shelter|protection)|not covered|"
    r"uncovered|bare|not under any\w*)\b"
)
_ASK_OVER = re.compile(r"\b(?:kitchen|patio|terrace|decking|deck|balcony|roof terrace|corner)\b")
_UNDER_IT = re.compile(r"\bunder (?:(?:the|a|an|my|our|some|big|old|roof|eaves|of) )*$")
_COVERED = re.compile(r"(?:(?:it'?s|it is|all|always|well) )*covered(?: over)?")
_SPELT = (
    "tarpaulin", "garage", "garages", "pergola", "carport", "conservatory", "kitchen", "indoors",
    "indoor", "outdoors", "outdoor", "outside", "inside", "gazebo", "veranda", "garden", "against",
    "covered", "uncovered", "shelter", "sheltered", "between", "behind", "decking", "fences",
    "hedges", "basement", "cellar", "marquee",
)  # fmt: skip
ALIKE = 80.0
"""Least similarity, of 100, for a misspelt word to be taken for a known one."""

_CLAUSE = re.compile(r"[,;.]|\b(?:but|and|with|though|although|however|then|now)\b")


def stands(said: str) -> tuple[str, ...]:
    """Answers in the notation of ``About.STANDS``; ``said`` in small letters."""
    try:
        return (str(Stands.read(said)),)
    except ValueError:
        said = _respelt(said)
    if _COVERED.fullmatch(said):
        return ("roof", "sky+sheet")
    clauses = [one.strip() for one in _CLAUSE.split(said) if one.strip()]
    indoors = [one for one in clauses if _is_indoors(one)]
    if indoors:
        return (Over.INDOORS.value,)
    if any(_BARE_ROOM.match(one) and _OR_BESIDE.search(one) for one in clauses):
        return (Over.INDOORS.value, "sky+beside", "roof+beside")
    clauses = [_OPEN_AIR_ROOM.sub("kitchen", one) for one in clauses]
    over, beside, sheet = _over(clauses), _beside(clauses), _has_sheet(clauses)
    unclear_wall = not beside and any(_only_a_wall(one) for one in clauses)
    if over is None and (beside or sheet) and not _ASK_OVER.search(said):
        over = (Over.SKY,) if sheet or _says(clauses, _SKY) or _nothing(clauses) else None
    overs = over or ((Over.SKY, Over.ROOF, Over.SLATS) if beside or unclear_wall else ())
    if over is None and _ASK_OVER.search(said) and not overs:
        overs = (Over.SKY, Over.ROOF, Over.SLATS)
    besides = (True, False) if unclear_wall else (beside,)
    return tuple(
        dict.fromkeys(
            str(Stands(over=one, beside=near, sheet=sheet)) for one in overs for near in besides
        )
    )


def _respelt(said: str) -> str:
    """Long words that are misspelt, put right."""

    def known(found: re.Match[str]) -> str:
        near = process.extractOne(found[0], _SPELT, scorer=fuzz.ratio, score_cutoff=ALIKE)
        return found[0] if near is None else str(near[0])

    return re.sub(r"[a-z]{6,}", known, said)


def _is_indoors(clause: str) -> bool:
    said = _INSIDE_A_CURVE.sub(" ", _OPEN_AIR_ROOM.sub(" ", clause))
    for found in (*_WITHIN.finditer(said), *_INDOORS.finditer(said)):
        before = said[: found.start()]
        if re.search(rf"\b{_NOT}\b(?: \w+){{0,2}}\s*$", before):
            continue
        if re.search(
            r"\b(?:outside|in front of|beside|behind|next to|near|by|against)\b[^,]*$", before
        ):
            continue
        return True
    bare = _BARE_ROOM.match(said)
    return bare is not None and not _OR_BESIDE.search(bare[1])


def _denied(clause: str, at: int) -> bool:
    return re.search(rf"\b{_NOT}\b(?: \w+){{0,3}}\s*$", clause[:at]) is not None


def _says(clauses: Iterable[str], what: re.Pattern[str]) -> bool:
    """Whether a clause has it, and does not say that it is not so."""
    return any(
        not _denied(clause, found.start()) for clause in clauses for found in what.finditer(clause)
    )


def _nothing(clauses: Iterable[str]) -> bool:
    return any(_NOTHING.search(clause) for clause in clauses)


def _over(clauses: list[str]) -> tuple[Over, ...] | None:
    """What may be over it; None where nothing is said of that."""
    roofed, slatted = _says(clauses, _ROOFED), _says(clauses, _SLATTED)
    if roofed:
        return (Over.ROOF,)
    if slatted:
        return (Over.SLATS,)
    if _says(clauses, _SKY) or _nothing(clauses):
        return (Over.SKY,)
    return None


def _has_sheet(clauses: Iterable[str]) -> bool:
    return _says(clauses, _SHEETED)


def _beside(clauses: Iterable[str]) -> bool:
    """Whether something that burns is near."""
    for clause in clauses:
        for found in _BURNING_NEAR.finditer(clause):
            if _denied(clause, found.start()) or _FAR.search(clause) or _far_off(clause):
                continue
            if _UNDER_IT.search(clause[: found.start()]):
                continue
            return True
    return False


def _far_off(clause: str) -> bool:
    said = _METRES.search(clause)
    if said is None:
        return False
    return float(said[1].replace(",", ".")) * _IN_METRES[said[2][0]] > NEAR_M


def _only_a_wall(clause: str) -> bool:
    return bool(_PLAIN_WALL.search(clause)) and not _STONE.search(clause)
