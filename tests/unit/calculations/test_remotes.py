"""Assignment of circuits to remotes, judged by trying every permutation."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.remotes import (
    Feature,
    Need,
    Remote,
    Switch,
    assign,
    hold,
    lacking,
    wasted,
)

WIDTH = Need("W", double_acting=True)
LIFT = Need("LIFT", float_return=True)
TRACTOR = (Remote("R1"), Remote("R2", float_position=True), Remote("R3"))

features = st.booleans()
needs = st.builds(
    Need, st.just("?"), features, features, features, features, st.sampled_from([0.0, 5e-4]), st.just(0.0)
)
remotes = st.builds(
    Remote,
    st.just("?"),
    features,
    features,
    features,
    features,
    st.sampled_from([None, 3e-4, 6e-4]),
    st.just(None),
)


def test_that_the_lift_gets_the_float_and_the_width_a_plain_remote() -> None:
    # worked by hand: only R2 has float
    for order in permutations((WIDTH, LIFT)):
        found = assign(order, TRACTOR)
        assert dict(found.pairs) == {"W": "R1", "LIFT": "R2"}
        assert found.complete
        assert found.spare == ("R3",)


def test_that_a_missing_float_is_said_in_words() -> None:
    found = assign((WIDTH, LIFT), (Remote("R1"), Remote("R3")))
    assert not found.complete
    assert found.missing[0].features == (Feature.FLOAT,)
    assert str(found.missing[0].says) == "No remote with float left for LIFT: it would not come down."


def test_that_several_missing_features_and_no_remote_are_said() -> None:
    asks = Need("M", double_acting=True, free_return=True, detent=True, flow=1e-3, pressure=2e7)
    poor = Remote("R1", double_acting=False, flow=5e-4, pressure=1e7)
    text = str(assign((asks,), (poor,)).missing[0].says)
    wanted = "two couplings, a free return, a lever that stays put, enough flow, enough pressure"
    assert text == f"No remote with {wanted} left for M."
    assert str(assign((WIDTH,), ()).missing[0].says) == "No remote left for W."


def test_that_an_unknown_flow_is_taken_on_trust_and_reported() -> None:
    found = assign((Need("W", flow=5e-4, pressure=1e7),), (Remote("R1", pressure=2e7),))
    assert found.complete
    assert found.unproven == (("W", Feature.FLOW),)


@settings(max_examples=100, deadline=None)
@given(st.lists(needs, max_size=4), st.lists(remotes, max_size=5))
def test_that_brute_force_over_permutations_agrees(asked: list[Need], offered: list[Remote]) -> None:
    asked = [Need(f"N{i}", *_rest(need)) for i, need in enumerate(asked)]
    offered = [Remote(f"R{i}", *_rest(remote)) for i, remote in enumerate(offered)]
    # second method: every way to hand out remotes or nothing
    places: list[Remote | None] = [*offered, *[None] * len(asked)]
    best = min(
        (
            sum(remote is None for remote in chosen),
            sum(wasted(n, r) for n, r in zip(asked, chosen, strict=True) if r is not None),
        )
        for chosen in permutations(places, len(asked))
        if all(r is None or not lacking(n, r) for n, r in zip(asked, chosen, strict=True))
    )
    found = assign(asked, offered)
    assert (len(found.missing), found.waste) == best
    by_name = {remote.key: remote for remote in offered}
    assert len({remote for _, remote in found.pairs}) == len(found.pairs)
    for need in asked:
        if need.key in dict(found.pairs):
            assert not lacking(need, by_name[dict(found.pairs)[need.key]])


def _rest(thing: Need | Remote) -> tuple[object, ...]:
    return tuple(getattr(thing, name) for name in thing.__slots__[1:])  # type: ignore[union-attr]


def test_that_a_tractor_full_of_remotes_is_answered_and_more_are_refused() -> None:
    twelve = tuple(Remote(f"R{i}") for i in range(12))
    assert assign(tuple(Need(f"N{i}") for i in range(12)), twelve).complete
    with pytest.raises(Impossible, match="12 remotes"):
        assign((), (*twelve, Remote("R12")))
    with pytest.raises(Impossible, match="same name"):
        assign((WIDTH, WIDTH), twelve)
    with pytest.raises(Impossible, match="flow"):
        assign((Need("N", flow=-1.0),), twelve)
    with pytest.raises(Impossible, match="pressure"):
        assign((), (Remote("R", pressure=-1.0),))


@pytest.mark.parametrize(
    ("switch", "left", "right", "part"),
    [
        # truth table of a valve that holds one rotor: logic, common practice (no source)
        (Switch.BOTH, True, True, "As it should be"),
        (Switch.LEFT_ONLY, True, False, "As it should be"),
        (Switch.RIGHT_ONLY, False, True, "As it should be"),
        (Switch.BOTH, True, False, "stuck shut"),
        (Switch.BOTH, False, False, "latches"),
        (Switch.LEFT_ONLY, False, True, "crossed"),
        (Switch.LEFT_ONLY, True, True, "does not shut"),
        (Switch.RIGHT_ONLY, False, False, "fuse"),
        (Switch.RIGHT_ONLY, True, False, "crossed"),
    ],
)
def test_that_the_one_rotor_hold_follows_its_truth_table(
    switch: Switch, left: bool, right: bool, part: str
) -> None:
    found = hold(switch, left, right)
    assert part in str(found.says)
    assert found.as_expected is part.startswith("As it")


def test_that_without_power_the_machine_s_data_decide() -> None:
    assert hold(Switch.NO_POWER, True, True, without_power=(True, True)).as_expected
    assert "wired" in str(hold(Switch.NO_POWER, True, False, without_power=(True, True)).says)
    with pytest.raises(Impossible, match="do not say"):
        hold(Switch.NO_POWER, True, True)


def test_that_the_nearest_remote_is_named_and_its_circuit() -> None:
    # R1 lacks two things, R2 one: the sentence and the record speak of R2
    need = Need("M", double_acting=True, float_return=True)
    found = assign((need,), (Remote("R1", double_acting=False), Remote("R2")))
    assert (found.missing[0].need, found.missing[0].features) == ("M", (Feature.FLOAT,))
    # R2 first, so that it is not the order that decides
    turned = assign((need,), (Remote("R2"), Remote("R1", double_acting=False)))
    assert turned.missing[0].features == (Feature.FLOAT,)


def test_that_nothing_asked_for_is_never_unproven() -> None:
    assert assign((Need("W", double_acting=True),), (Remote("R1"),)).unproven == ()
    asked = assign((Need("W", double_acting=True, flow=1e-3),), (Remote("R1"),))
    assert asked.unproven == (("W", Feature.FLOW),)


def test_that_what_a_circuit_does_not_need_is_weighed() -> None:
    # by definition: float and free return weigh 4, a second coupling 2, a detent 1
    plain = Need("W")
    weights = {
        Remote("a", double_acting=False): 0,
        Remote("a", double_acting=False, detent=True): 1,
        Remote("a", double_acting=True): 2,
        Remote("a", double_acting=True, detent=True): 3,
        Remote("a", double_acting=False, free_return=True): 4,
        Remote("a", double_acting=False, float_position=True): 4,
        Remote("a", double_acting=True, float_position=True, free_return=True, detent=True): 11,
    }
    assert {remote: wasted(plain, remote) for remote in weights} == weights


def test_that_just_enough_flow_and_pressure_are_enough() -> None:
    need = Need("W", flow=5e-4, pressure=18e6)
    assert lacking(need, Remote("R1", flow=5e-4, pressure=18e6)) == ()
    assert lacking(need, Remote("R1", flow=4.9e-4, pressure=17e6)) == (Feature.FLOW, Feature.PRESSURE)
