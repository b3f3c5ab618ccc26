"""The names of a job that may be put right after it was opened."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from rakeprep.jobs.given_words import LONGEST_NAME, check_name, check_order
from rakeprep.jobs.reading import Refused, clean
from rakeprep.model.job import NAMES, Correction, Opening
from rakeprep.text import Message, msg

if TYPE_CHECKING:
    from rakeprep.jobs.open_job import OpenJob

NAME_WORDS: Mapping[str, Message] = {
    "customer": msg("Customer"),
    "order": msg("Order number"),
    "technician": msg("Technician"),
}
CHECKS: Mapping[str, Callable[[str], str]] = {"order": check_order}


def corrected(opening: Opening, of: str, name: str) -> str:
    """A name as it shall stand from now on; raises ``Refused`` where there is nothing to put right."""
    if of not in NAMES:
        raise Refused(
            msg(
                "“{path}” is not known here; known are: {known}.",
                path=clean(of[:LONGEST_NAME]),
                known=", ".join(NAMES),
            )
        )
    became = CHECKS.get(of, check_name)(name)
    if became == getattr(opening, of):
        raise Refused(msg("{what} is “{name}” already.", what=NAME_WORDS[of], name=became))
    return became


def correct_names(
    job: OpenJob, names: Mapping[str, str | None], reason: str, who: str
) -> tuple[Correction, ...]:
    """Put right those of the given names that differ from what stands there: all of them, or none.

    None is a name that was not given. Raises ``Refused`` or ``StoreError``.
    """
    opening = job.record.opening
    given = {of: name for of, name in names.items() if name is not None}
    wrong = {of: name for of, name in given.items() if name.strip() != getattr(opening, of)}
    right = {of: corrected(opening, of, name) for of, name in wrong.items()}
    for of, name in right.items():
        job.correct_name(of, name, reason, who)
    return job.record.corrections[len(job.record.corrections) - len(right) :]
