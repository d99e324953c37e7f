"""A builder's list, what they have in hand, and gathered letters, whatever the store."""

from datetime import date, timedelta
from typing import Any

from scheduling.choice import Ordering, OrderingFor, OrderName
from scheduling.ports import InHand, OutboxState, OvenCard, Roster, Store
from tests.contract.samples import ANA, BEN, CLO, MINUTE, NOON, OVEN, letter, settle_in

HOUR = timedelta(hours=1)


def card(name: str, rank: int = 300, **known: Any) -> OvenCard:
    values = {"id": name, "name": name.capitalize(), "builder": "hearths", "rank": rank}
    return OvenCard.model_validate(values | known)


async def fill(store: Store, *cards: OvenCard) -> None:
    await settle_in(store)
    async with store.write() as unit:
        await unit.ovens.put(OVEN.model_copy(update={"builder": None}))
        for one in cards:
            await unit.ovens.put(one)
        await unit.commit()


async def found(store: Store, **wanted: Any) -> list[str]:
    async with store.read() as unit:
        page = await unit.ovens.roster(Roster(builder="hearths", **wanted))
    return [one.id for one in page.cards]


async def test_a_list_goes_by_rank_then_by_how_long_then_by_the_next_day(store: Store) -> None:
    await fill(
        store,
        card("later", next_day=date(2026, 5, 20)),
        card("sooner", next_day=date(2026, 5, 14)),
        card("open"),
        card("short", 2, needs="flue_flames", needs_since=NOON),
        card("long", 2, needs="flue_flames", needs_since=NOON - HOUR),
        card("other", 0, builder="another"),
    )
    assert await found(store) == ["long", "short", "sooner", "later", "open"]


async def test_a_page_of_a_list_knows_how_many_there_are(store: Store) -> None:
    await fill(store, *(card(f"o{number}") for number in range(5)))
    async with store.read() as unit:
        page = await unit.ovens.roster(Roster(builder="hearths", start=3, limit=3))
    assert ([one.id for one in page.cards], page.total) == (["o3", "o4"], 5)
    assert await found(store, start=9) == []


async def test_a_list_is_narrowed_by_rank_state_case_and_day(store: Store) -> None:
    await fill(
        store,
        card("needy", 101, state="lit"),
        card("lit", 200, state="lit", taken_by="clo"),
        card("next", next_day=date(2026, 5, 14)),
    )
    assert await found(store, ranks=((0, 200),)) == ["needy"]
    assert await found(store, ranks=((0, 200), (300, 400))) == ["needy", "next"]
    assert await found(store, states=("lit", "embers")) == ["needy", "lit"]
    assert await found(store, taken_by="clo") == ["lit"]
    assert await found(store, day=date(2026, 5, 14)) == ["next"]


async def test_a_client_is_found_by_any_name_whatever_its_accents(store: Store) -> None:
    await fill(
        store,
        card("dome", owners=("ana", "ben"), place="Ångby"),
        card("hut", owners=("ben",), place="50% hill"),
    )
    assert await found(store, text="ANA") == ["dome"]
    assert await found(store, text="angby dom") == ["dome"]
    assert await found(store, text="ben") == ["dome", "hut"]
    assert await found(store, text="%") == ["hut"]
    assert await found(store, text="_") == []


async def test_what_nobody_has_taken_stands_first_in_its_group(store: Store) -> None:
    await fill(
        store,
        card("grave", 1, taken_by="clo"),
        card("mild", 20),
        card("look", 101, taken_by="clo"),
        card("other", 140),
    )
    assert await found(store) == ["mild", "grave", "other", "look"]


async def test_a_list_is_narrowed_by_any_need_that_stands_open_and_by_place(store: Store) -> None:
    await fill(
        store,
        card("both", 1, needs="unwell", open_needs=" unwell crack ", place="Leeds"),
        card("crack", 15, needs="crack", open_needs=" crack ", place="Ángby"),
        card("unsaid", 20, needs="crack_unsaid", open_needs=" crack_unsaid ", owners=("ana",)),
        card("leeds"),
    )
    assert await found(store, needs=("crack",)) == ["both", "crack"]
    assert await found(store, needs=("crack", "crack_unsaid")) == ["both", "crack", "unsaid"]
    assert await found(store, place="leeds") == ["both"]
    assert await found(store, place="angby", needs=("crack",)) == ["crack"]
    assert await found(store, place="ana") == []


async def test_a_tally_counts_each_state_and_rank_of_that_builder_alone(store: Store) -> None:
    await fill(store, card("a", 2), card("b", 2), card("c", 300), card("d", 2, builder="another"))
    async with store.read() as unit:
        assert dict(await unit.ovens.tally("hearths")) == {
            ("set_up", 2): 2,
            ("set_up", 300): 1,
        }
        assert dict(await unit.ovens.tally("nobody")) == {}


async def test_several_people_are_found_at_once(store: Store) -> None:
    await settle_in(store)
    async with store.read() as unit:
        assert await unit.people.several(("ana", "nobody", "ben")) == {"ana": ANA, "ben": BEN}
        assert await unit.people.several(()) == {}
        assert await unit.people.builders() == (CLO,)


async def test_what_somebody_has_in_hand_comes_back_as_it_was_put(store: Store) -> None:
    await settle_in(store)
    order = Ordering(name=OrderName.CAP, value=250.0, why="thin")
    hand = InHand(
        person="clo", oven="dome", opened_at=NOON, talking=True, order=order, order_at=NOON,
        digest=date(2026, 5, 13),
    )  # fmt: skip
    async with store.write() as unit:
        assert await unit.hands.of("clo") == InHand(person="clo")
        await unit.hands.put(hand)
        assert await unit.hands.of("clo") == hand
        await unit.hands.put_down("barrel")
        assert await unit.hands.of("clo") == hand
        await unit.hands.put_down("dome")
        put_down = InHand(person="clo", opened_at=NOON, digest=hand.digest)
        assert await unit.hands.of("clo") == put_down


async def test_unsent_letters_of_one_kind_of_thread_are_taken_back_oldest_first(
    store: Store,
) -> None:
    await settle_in(store)
    async with store.write() as unit:
        for number, thread in enumerate(("alert/b", "alert/a", "alerts/x", "fire", None)):
            sent = letter(f"l{number}", replaces=thread, created_at=NOON + number * MINUTE)
            await unit.outbox.post(sent)
        await unit.outbox.post(letter("other", "ben", replaces="alert/a"))
        assert await unit.outbox.told_since("ana", "alert", NOON - MINUTE) == 3
        back = await unit.outbox.take_back("ana", "alert/")
        assert [one.id for one in back] == ["l0", "l1"]
        assert await unit.outbox.take_back("ana", "alert/") == ()
        assert await unit.outbox.told_since("ana", "alert", NOON - MINUTE) == 1
        assert await unit.outbox.told_since("ana", "alert", NOON + 2 * MINUTE) == 0
        kept = await unit.outbox.get("other")
        assert kept is not None
        assert kept.state is OutboxState.TODO


async def test_a_slot_stands_while_a_letter_of_it_was_sent_or_will_be(store: Store) -> None:
    await settle_in(store)
    async with store.write() as unit:
        assert not await unit.outbox.stands("ana", "s")
        await unit.outbox.post(letter("l1", slot="s"))
        assert await unit.outbox.stands("ana", "s")
        assert not await unit.outbox.stands("ben", "s")
        await unit.outbox.cancel_for("ana", "gone")
        assert not await unit.outbox.stands("ana", "s")


async def test_clients_are_found_by_any_word_of_their_names_or_place(store: Store) -> None:
    await fill(
        store,
        card("max", owners=("ana",), place="Émberley"),
        card("maxine", owners=("ben", "ana")),
        card("other", builder="another"),
    )
    async with store.read() as unit:
        both = await unit.ovens.called("hearths", ["max", "nemo"])
        assert [(one.id, one.name, one.people, one.place) for one in both] == [
            ("max", "Max", ("Ana",), "Émberley"),
            ("maxine", "Maxine", ("Ben", "Ana"), ""),
        ]
        assert [one.id for one in await unit.ovens.called("hearths", ["emberley"])] == ["max"]
        assert [one.id for one in await unit.ovens.called("hearths", ["ben"])] == ["maxine"]
        assert await unit.ovens.called("hearths", ["other"]) == ()
        assert await unit.ovens.called("hearths", []) == ()
        assert await unit.ovens.called("hearths", ["%", "m_x"]) == ()


async def test_many_cards_are_kept_at_once(store: Store) -> None:
    await fill(store, card("one", owners=("ana", "ben")), card("two", owners=("ben",)))
    changed = card("one", 5, owners=("ben", "ana"), state="held")
    new = card("three", owners=())
    async with store.write() as unit:
        await unit.ovens.put_each([changed, card("two", 6, owners=("ben",)), new])
        await unit.ovens.put_each([])
        await unit.commit()
    async with store.read() as unit:
        assert await unit.ovens.get("one") == changed
        assert await unit.ovens.get("three") == new
        assert [one.id for one in await unit.ovens.of_person("ana")] == ["dome", "one"]
    assert await found(store, text="ben") == ["one", "two"]


async def test_a_message_is_known_by_the_channels_id_of_it(store: Store) -> None:
    await fill(store, card("one"))
    sent = [
        ("first", "ana", "7", MINUTE),
        ("same", "ana", "7:picture", 2 * MINUTE),
        ("longer", "ana", "71", 3 * MINUTE),
        ("of ben", "ben", "7", 4 * MINUTE),
    ]
    async with store.write() as unit:
        for letter_id, person, _, _ in sent:
            await unit.outbox.post(letter(letter_id, person))
        await unit.commit()
    for letter_id, _, ref, after in sent:
        async with store.write() as unit:
            await unit.outbox.claim(NOON + after, NOON + after + MINUTE, 9)
            await unit.outbox.settle(letter_id, OutboxState.SENT, NOON + after, ref=ref)
            await unit.commit()
    async with store.read() as unit:
        shown = await unit.outbox.shown_as("ana", "7")
        assert shown is not None
        assert shown.id == "same"
        assert await unit.outbox.shown_as("ana", "8") is None
        since = await unit.outbox.sent_since("ana", NOON + MINUTE, 9)
        assert [one.id for one in since] == ["longer", "same"]
        assert len(await unit.outbox.sent_since("ana", NOON, 2)) == 2
        assert await unit.outbox.sent_since("clo", NOON, 9) == ()


async def test_an_order_for_many_is_kept_in_hand(store: Store) -> None:
    await fill(store, card("one"))
    hold = Ordering(name=OrderName.HOLD, why="storm")
    for_two = OrderingFor(order=hold, ovens=("one", "dome"), together="x")
    back = OrderingFor(
        order=Ordering(name=OrderName.TAKE_BACK, field="x"), ovens=("one",), undoes=hold
    )
    hand = InHand(person="clo", order=for_two, order_at=NOON, many=back)
    async with store.write() as unit:
        await unit.hands.put(hand)
        assert await unit.hands.of("clo") == hand
        await unit.hands.put_down("barrel")
        assert await unit.hands.of("clo") == hand
        await unit.hands.put_down("dome")
        without = hand.model_copy(update={"order": None, "order_at": None})
        assert await unit.hands.of("clo") == without
        await unit.hands.put_down("one")
        assert await unit.hands.of("clo") == InHand(person="clo")
        await unit.commit()
