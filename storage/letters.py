"""Letters as rows of the outbox."""

import json

from sqlalchemy import Row

from scheduling.outcome import Urgency
from scheduling.ports import Letter, OutboxState, Parcel

RANK = {Urgency.DANGER: 0, Urgency.FIRE: 1, Urgency.ANSWER: 2, Urgency.CALM: 3}


def row_of(letter: Letter) -> dict[str, object]:
    """What the outbox keeps of it, by column."""
    return {
        "id": letter.id,
        "person": letter.person,
        "oven": letter.oven,
        "parcel": letter.parcel.model_dump_json(),
        "urgency": letter.urgency.value,
        "rank": RANK[letter.urgency],
        "created_at": letter.created_at,
        "not_before": letter.not_before,
        "expires": letter.expires,
        "replaces": letter.replaces,
        "slot": letter.slot,
        "state": letter.state.value,
        "attempts": letter.attempts,
        "doubts": letter.doubts,
        "first_tried_at": letter.first_tried_at,
        "sent_at": letter.sent_at,
        "ref": letter.ref,
        "why": letter.why,
        "button_keys": json.dumps(dict(letter.button_keys), ensure_ascii=False),
    }


def letter_of(row: Row[tuple[object, ...]]) -> Letter:
    """The letter that such a row keeps."""
    kept = row._mapping
    return Letter(
        id=kept["id"],
        person=kept["person"],
        oven=kept["oven"],
        parcel=Parcel.model_validate_json(kept["parcel"]),
        urgency=Urgency(kept["urgency"]),
        created_at=kept["created_at"],
        not_before=kept["not_before"],
        expires=kept["expires"],
        replaces=kept["replaces"],
        slot=kept["slot"],
        state=OutboxState(kept["state"]),
        attempts=kept["attempts"],
        doubts=kept["doubts"],
        first_tried_at=kept["first_tried_at"],
        sent_at=kept["sent_at"],
        ref=kept["ref"],
        why=kept["why"],
        button_keys=json.loads(kept["button_keys"]),
    )
