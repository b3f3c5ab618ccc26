"""What the checks said, in full where something is wrong, and the arithmetic of what is right."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rakeprep.handover import blocks
from rakeprep.handover.answers_shown import limited, place_of
from rakeprep.handover.clean import LONGEST
from rakeprep.handover.machine_data import short_source
from rakeprep.handover.paper import Paper
from rakeprep.handover.places import listed, place_name
from rakeprep.jobs.assess import State
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg

IN_A_ROW = 6  # results with the same arithmetic; a row must fit on a page
Told = tuple[State, Finding]


def findings(paper: Paper, states: list[State]) -> Iterator[blocks.Block]:
    """Findings that are not simply in order, in full; then the arithmetic of those that are."""
    told = [(s, f) for s in states for f in s.findings]
    stale = [s for s in states if s.stale is not None]
    bad = [(s, f) for s, f in told if f.verdict is not Verdict.IN_ORDER]
    if bad or stale:
        yield blocks.Heading(3, paper.say(msg("What is not in order")))
    for state in stale:
        word = paper.say(Verdict.OUT_OF_DATE.word)
        yield blocks.FindingNote(Verdict.OUT_OF_DATE, word, place_of(paper, state), paper.say(state.stale))
    for state, finding in bad:
        yield finding_note(paper, state, finding)
    rows = worked_out(paper, [(s, f) for s, f in told if f.verdict is Verdict.IN_ORDER and f.working])
    if rows:
        yield blocks.Heading(3, paper.say(msg("Worked out and in order")))
        header = (paper.say(msg("result")), paper.say(msg("arithmetic")))
        yield blocks.Table(header, rows, (70, 106), small=True)


def worked_out(paper: Paper, good: list[Told]) -> tuple[tuple[blocks.Cell, ...], ...]:
    """Results that are in order with their arithmetic; the same arithmetic is written once."""
    by_working: dict[str, list[Told]] = {}
    for state, finding in good:
        working = limited(paper, in_a_row(paper.say(line) for line in finding.working), LONGEST)
        by_working.setdefault(working, []).append((state, finding))
    rows = []
    for words, told in by_working.items():
        shown = results(paper, told)
        sources = [paper.say(short_source(f.source)) for _, f in told if f.source is not None]
        working = " · ".join((words, *dict.fromkeys(sources)))
        for at in range(0, len(shown), IN_A_ROW):
            result = " ".join(shown[at : at + IN_A_ROW])
            rows.append(
                (blocks.Cell(result, (), Verdict.IN_ORDER), blocks.Cell("", (working if not at else "",)))
            )
    return tuple(rows)


def results(paper: Paper, told: list[Told]) -> list[str]:
    """Sentences; those that say the same of several places become one."""
    by_words: dict[str, list[Place]] = {}
    whole: dict[str, str] = {}
    for state, finding in told:
        says = limited(paper, paper.say(finding.says), 300)
        place = state.task.place
        names = (paper.say(place.name), place_name(paper, place))
        words = next((says.removeprefix(f"{name}: ") for name in names if says.startswith(f"{name}: ")), "")
        whole.setdefault(words or says, says)
        by_words.setdefault(words or says, []).append(place)
        if not words:
            by_words[says] = []
    return [
        f"{listed(paper, places)}: {words}" if places else whole[words] for words, places in by_words.items()
    ]


def in_a_row(lines: Iterable[str]) -> str:
    """Lines of arithmetic one behind the other; those that are no sentences are set apart."""
    return "".join(f"{line} " if line.endswith((".", ":", ";")) else f"{line} · " for line in lines).strip(
        " ·"
    )


def finding_note(paper: Paper, state: State, finding: Finding) -> blocks.FindingNote:
    """A finding in full; the place is not said twice."""
    says = limited(paper, paper.say(finding.says), LONGEST)
    place = paper.say(state.task.place.name)
    where = paper.say(state.task.field.label) if place in says else place_of(paper, state)
    return blocks.FindingNote(
        finding.verdict,
        paper.say(finding.verdict.word),
        where,
        says,
        limited(paper, paper.say(finding.todo), LONGEST),
        limited(paper, in_a_row(paper.say(line) for line in finding.working[:40]), LONGEST),
        paper.say(short_source(finding.source)) if finding.source else "",
    )
