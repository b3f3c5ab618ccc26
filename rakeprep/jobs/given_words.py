"""What a person may give as a name, an order number, a reason, or a signature."""

from __future__ import annotations

from rakeprep.jobs.reading import Refused, clean
from rakeprep.model.job import Stroke
from rakeprep.text import msg

LONGEST_NAME = 80
LONGEST_ORDER = 60
LONGEST_REASON = 500
LONGEST_STROKES = 20_000  # points of one signature


def check_name(name: str) -> str:
    """A person's name, cleaned; raises ``Refused`` when it is empty or endless."""
    cleaned = " ".join(clean(name[: 10 * LONGEST_NAME]).split())
    if not cleaned:
        raise Refused(msg("A name is missing; every entry carries the name of who made it."))
    if len(cleaned) > LONGEST_NAME or len(name) > 10 * LONGEST_NAME:
        raise Refused(msg("The name is longer than {most} characters; shorten it.", most=LONGEST_NAME))
    return cleaned


def check_order(order: str) -> str:
    """An order number, cleaned; raises ``Refused`` when it is empty or endless."""
    number = clean(order[: 10 * LONGEST_ORDER])
    if not number or len(number) > LONGEST_ORDER:
        raise Refused(msg("An order number of at most {most} characters is needed.", most=LONGEST_ORDER))
    return number


def check_reason(reason: str) -> str:
    """A reason, cleaned; raises ``Refused`` when there is none."""
    cleaned = clean(reason[: 10 * LONGEST_REASON])
    if not cleaned:
        raise Refused(msg("A reason is missing; write in a few words why."))
    if len(cleaned) > LONGEST_REASON or len(reason) > 10 * LONGEST_REASON:
        raise Refused(msg("The reason is longer than {most} characters; shorten it.", most=LONGEST_REASON))
    return cleaned


def check_strokes(strokes: tuple[Stroke, ...], typed: bool) -> None:
    """Whether there is a signature that can be kept; raises ``Refused``."""
    points = [point for stroke in strokes for point in stroke.points]
    if not points and not typed:
        raise Refused(msg("Draw the signature, or choose to type the name."))
    if len(points) > LONGEST_STROKES:
        raise Refused(msg("The signature has too many strokes to be kept; clear it and sign once more."))
    if not all(abs(value) < 1e6 for point in points for value in point):  # false for NaN too
        raise Refused(msg("The signature cannot be read; clear it and sign once more."))
