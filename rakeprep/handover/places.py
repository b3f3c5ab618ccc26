"""Places of the machine in few words: by their codes where they have one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from rakeprep.handover.paper import Paper
from rakeprep.model.place import Place
from rakeprep.text import msg, verbatim

CODE = re.compile(r"([A-Z]{1,2})(\d{0,3})([A-Z]?)")
RUN = 3  # so many codes in a row are named by the first and the last


def place_name(paper: Paper, place: Place) -> str:
    """The name, without a code in brackets behind it."""
    return paper.say(place.name).removesuffix(f" ({place.key})")


def code_of(paper: Paper, place: Place) -> str:
    """The code, where the name tells it, else nothing."""
    words = re.split(r"[ ,:;()]+", paper.say(place.name))
    return place.key if CODE.fullmatch(place.key) and place.key in words else ""


def listed(paper: Paper, places: Sequence[Place]) -> str:
    """Several places in a row; one alone by its full name."""
    codes = [code_of(paper, place) for place in places]
    if len(places) > 1 and all(codes):
        return ", ".join(runs(codes))
    return " · ".join(dict.fromkeys(place_name(paper, place) for place in places))


def runs(codes: Sequence[str]) -> list[str]:
    """Codes with those that count up written as a run."""
    found: list[list[str]] = []
    for code in codes:
        if found and follows(found[-1][-1], code):
            found[-1].append(code)
        else:
            found.append([code])
    return [piece for run in found for piece in ([f"{run[0]}–{run[-1]}"] if len(run) >= RUN else run)]


def follows(one: str, other: str) -> bool:
    """Whether a code is the next one after another."""
    first, second = CODE.fullmatch(one), CODE.fullmatch(other)
    if first is None or second is None or not first[2] or not second[2]:
        return False
    return first[1] == second[1] and first[3] == second[3] == "" and int(second[2]) == int(first[2]) + 1


def legend(paper: Paper, places: Iterable[Place]) -> str:
    """What the codes stand for, or nothing where there are none."""
    by_name: dict[str, list[str]] = {}
    for place in dict.fromkeys(places):
        code = code_of(paper, place)
        if code:
            name = " ".join(re.sub(rf"\b{code}\b", "", paper.say(place.name)).split()).strip(" ,:")
            by_name.setdefault(name, []).append(code)
    if not by_name:
        return ""
    pieces = [f"{', '.join(runs(codes))} = {name}" for name, codes in by_name.items()]
    return paper.say(msg("Codes: {codes}.", codes=verbatim("; ".join(pieces))))
