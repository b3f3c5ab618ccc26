"""From a job to blocks of paper; pure: nothing is drawn here, and no file is read."""

from __future__ import annotations

from rakeprep.handover.blocks import Document
from rakeprep.handover.chapter_pages import chapter_record
from rakeprep.handover.customer_page import front, tag
from rakeprep.handover.paper import Paper
from rakeprep.handover.record_pages import record
from rakeprep.jobs.chapters import kind_of
from rakeprep.text import Message, msg

__all__ = ["Document", "Paper", "build"]


def build(paper: Paper) -> Document:
    """The handover document of a job, in the paper's language."""
    opening = paper.record.opening
    first = paper.record.chapter.before is None
    return Document(
        title=paper.say(title(paper)),
        language=paper.language.code,
        job=paper.user(opening.job),
        made=paper.printed_at,
        running=paper.say(
            msg("Handover record · {machine} · job {job}", machine=paper.profile.name, job=opening.job)
            if first
            else title(paper)
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
        record=record(paper) if first else chapter_record(paper),
    )


def title(paper: Paper) -> Message:
    """What the document is, in one line."""
    chapter, job = paper.record.chapter, paper.record.opening.job
    if chapter.before is None:
        return msg("Handover of {machine}, job {job}", machine=paper.profile.name, job=job)
    return msg(
        "{machine}, job {job}, {chapter}", machine=paper.profile.name, job=job, chapter=kind_of(chapter).title
    )
