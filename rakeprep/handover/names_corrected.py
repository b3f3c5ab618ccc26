"""Names that were written wrong when the job was opened: old, new, who, when, why."""

from __future__ import annotations

from collections.abc import Iterator

from rakeprep.handover import blocks
from rakeprep.handover.answers_shown import limited
from rakeprep.handover.paper import Paper
from rakeprep.jobs.names import NAME_WORDS
from rakeprep.model.job import Correction
from rakeprep.text import msg


def names_corrected(paper: Paper) -> Iterator[blocks.Block]:
    """A heading and a table of the names that were put right in this chapter; nothing where none was."""
    since = paper.record.chapter.seq
    rows = tuple(row(paper, each) for each in paper.record.corrections if each.seq > since)
    if not rows:
        return
    yield blocks.Heading(2, paper.say(msg("Names that were corrected")))
    header = (msg("name"), msg("was"), msg("became"), msg("by whom, when"), msg("why"))
    yield blocks.Table(tuple(paper.say(h) for h in header), rows, (30, 42, 42, 32, 30))


def row(paper: Paper, each: Correction) -> tuple[blocks.Cell, ...]:
    """One correction."""
    return (
        blocks.Cell(paper.say(NAME_WORDS[each.of])),
        blocks.Cell(paper.user(each.was)),
        blocks.Cell(paper.user(each.became)),
        blocks.Cell("", (paper.user(each.who), paper.moment(each.at))),
        blocks.Cell("", (limited(paper, paper.user(each.reason), 200),)),
    )
