"""The chapters a job can have: what each asks again, and who signs it.

A chapter is data. It names questions, ``step.field`` or a whole ``step``; an answer that is older than the
chapter becomes out of date, so that the gate asks for it once more and the old reading stands beside the
new one. Nothing else of an earlier chapter changes.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from rakeprep.model.chapter import HANDOVER, Chapter
from rakeprep.model.entry import Slot
from rakeprep.model.field import Field, Need
from rakeprep.model.place import Place
from rakeprep.model.step import Step
from rakeprep.text import Message, msg

TECHNICIAN, CHECKER, CUSTOMER = "technician", "checker", "customer"


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of chapter. ``at_places`` is the question at whose places it happens, if it does at some only;
    ``customer`` and ``tractor`` say that the chapter begins with another one, ``hours`` after how much work
    it is made."""

    key: str
    title: Message
    about: Message
    asks: tuple[str, ...] = ()
    signs: tuple[str, ...] = (TECHNICIAN, CUSTOMER)
    at_places: str = ""
    customer: bool = False
    tractor: bool = False
    hours: int = 0

    def asks_for(self, slot: Slot) -> bool:
        """Whether it names the question at this address."""
        return slot.step in self.asks or f"{slot.step}.{slot.field}" in self.asks


EVERY_VISIT = (
    "visit.hours",
    "visit.noticed",
    "test_run.second_torque",
    "test_run.wheel_nuts",
    "test_run.leaks",
)

_KINDS = (
    Kind(
        HANDOVER,
        msg("handover"),
        msg("From the truck to the customer."),
        signs=(TECHNICIAN, CHECKER, CUSTOMER),
    ),
    Kind(
        "first-hour",
        msg("after the first hour"),
        msg("The first windrow, and every nut, leak and overlap that one hour of work can show."),
        (
            *EVERY_VISIT,
            "visit.field_clearance",
            "visit.windrow",
            "driveline.overlap_longest",
        ),
        hours=1,
    ),
    Kind(
        "ten-hours",
        msg("after ten hours"),
        msg("Nuts, pins, tines, chains, hoses, and the working width."),
        (
            *EVERY_VISIT,
            "visit.hoses",
            "fasteners.protrusion",
            "arms.tines",
            "guards.chain_holds",
            "width.working",
        ),
        hours=10,
    ),
    Kind(
        "fifty-hours",
        msg("after fifty hours"),
        msg("The first gearbox oil, all torques, clutches, bearings, the axle's toe, grease."),
        (
            *EVERY_VISIT,
            "visit.magnet",
            "visit.hoses",
            "oil.drained",
            "oil.filled",
            "oil.oil_used",
            "oil.level",
            "oil.shots",
            "oil.fresh",
            "driveline.clutch",
            "test_run.pull_hub",
            "levelling.toe_front",
            "levelling.toe_rear",
        ),
        hours=50,
    ),
    Kind(
        "other-tractor",
        msg("another tractor"),
        msg("The same machine behind another tractor: only what rests on the tractor is done again."),
        ("width.cab_label",),
        signs=(TECHNICIAN, CHECKER, CUSTOMER),
        tractor=True,
    ),
    Kind(
        "new-owner",
        msg("a new owner"),
        msg("The machine is sold on: papers, eight things done with his own hands, settings for him."),
        ("handover", "arrival.book_language", "arrival.declaration_language", "guards.signs"),
        customer=True,
    ),
    Kind(
        "repair",
        msg("a repair in the season"),
        msg("A broken tine arm or its carrier is exchanged; the gearbox stays in the frame."),
        (
            "repair",
            "arms.hand",
            "arms.coil",
            "arms.tines",
            "arms.free_turn",
            "levelling.arm_clearance",
            "settings.tine_concrete",
            "test_run.clear",
            "test_run.noise",
        ),
        signs=(TECHNICIAN, CHECKER, CUSTOMER),
        at_places="repair.part",
    ),
)
KINDS: Mapping[str, Kind] = {kind.key: kind for kind in _KINDS}


def kind_of(chapter: Chapter) -> Kind:
    """What is known of a chapter; one of an unknown kind asks nothing and wants all signatures."""
    return KINDS.get(chapter.kind, replace(KINDS[HANDOVER], key=chapter.kind))


def roles_of(chapter: Chapter) -> tuple[str, ...]:
    """Who signs a chapter, in order."""
    return kind_of(chapter).signs


def question(step: Step, field: Field, chapter: Chapter) -> Field | None:
    """A question as this chapter asks it; None where only other chapters do.

    What a chapter asks for once more cannot simply be left empty in it.
    """
    kind = kind_of(chapter)
    if not kind.asks_for(Slot(step.key, field.key)):
        return None if step.visits else field
    if step.visits:
        return replace(field, places=narrowed(field.places, chapter.places))
    return replace(field, need=Need.OPEN) if field.need is Need.MAY else field


def narrowed(
    places: tuple[Place, ...], chosen: tuple[str, ...], rotors: Collection[str] = ()
) -> tuple[Place, ...]:
    """Those places of a question that a chapter at the ``chosen`` places is about.

    Where the question is not asked at these places themselves: those on their ``rotors``, or on none.
    """
    if not chosen:
        return places
    at = tuple(place for place in places if place.key in chosen)
    return at or tuple(place for place in places if not place.rotor or place.rotor in rotors)
