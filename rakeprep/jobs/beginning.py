"""What a later chapter needs before it can begin."""

from __future__ import annotations

from collections.abc import Collection

from rakeprep.jobs.chapters import KINDS, Kind
from rakeprep.jobs.given_words import LONGEST_NAME
from rakeprep.jobs.reading import Refused, clean
from rakeprep.model.chapter import HANDOVER
from rakeprep.model.job import Record
from rakeprep.model.place import Place
from rakeprep.text import msg


def known_kind(key: str) -> Kind:
    """The kind of a later chapter; raises ``Refused`` for one that is not known."""
    known = KINDS.get(key)
    if known is None or key == HANDOVER:
        raise Refused(
            msg(
                "There is no chapter “{kind}”; known are: {known}.",
                kind=clean(key[:LONGEST_NAME]),
                known=", ".join(each for each in KINDS if each != HANDOVER),
            )
        )
    return known


def demand_closed(record: Record) -> None:
    """Raise ``Refused`` while the chapter before is still open."""
    if record.sealed is None:
        raise Refused(msg("The present chapter is still open; hand it over first."))


def demand_places(kind: Kind, there: Collection[Place], places: tuple[str, ...]) -> None:
    """Raise ``Refused`` unless a chapter that happens at some places names such places, out of ``there``."""
    known = {place.key for place in there}
    if not known and not places:
        return
    if not known:
        raise Refused(msg("This visit is to the whole machine; leave the places out."))
    if not places:
        raise Refused(msg("Say where: one or more of {known}.", known=", ".join(sorted(known))))
    for place in places:
        if place not in known:
            raise Refused(
                msg(
                    "There is no place “{place}” for this on the machine; known are: {known}.",
                    place=clean(place[:LONGEST_NAME]),
                    known=", ".join(sorted(known)),
                )
            )


def demand_owner_and_tractor(kind: Kind, customer: str, tractor: bool) -> None:
    """Raise ``Refused`` unless there is the new owner's name, and a tractor, where a chapter begins so."""
    if kind.customer and not customer.strip():
        raise Refused(msg("The new owner's name is missing."))
    if customer.strip() and not kind.customer:
        raise Refused(
            msg("Another owner is a chapter of its own, “{kind}”; leave the name out here.", kind="new-owner")
        )
    if kind.tractor and not tractor:
        raise Refused(msg("The other tractor's data file is missing."))
