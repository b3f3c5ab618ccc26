"""From a job to blocks of paper; pure: nothing is drawn here, and no file is read."""

from __future__ import annotations

from rakeprep.handover.blocks import Document
from rakeprep.handover.customer_page import front, tag
from rakeprep.handover.paper import Paper
from rakeprep.handover.record_pages import record
from rakeprep.text import msg

__all__ = ["Document", "Paper", "build"]


def build(paper: Paper) -> Document:
    """The handover document of a job, in the paper's language."""
    opening = paper.record.opening
    title = msg("Handover of {machine}, job {job}", machine=paper.profile.name, job=opening.job)
    return Document(
        title=paper.say(title),
        language=paper.language.code,
        job=paper.user(opening.job),
        made=paper.printed_at,
        running=paper.say(
            msg("Handover record · {machine} · job {job}", machine=paper.profile.name, job=opening.job)
        ),
        foot=paper.say(
            msg(
                "Record code {code} · signed on the workshop's device by its clock; check with: "
                "rakeprep verify",
                code=paper.code,
            )
        ),
        page_words=paper.say(msg("page {page} of {pages}")),
        seat=paper.say(msg("left and right as seen from the tractor seat")),
        tag=tag(paper),
        front=front(paper),
        record=record(paper),
    )
