"""The machine from above on paper, with the verdict of each of its parts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from rakeprep.drawing.plan import anchor_of, plan
from rakeprep.drawing.shapes import Label
from rakeprep.handover import blocks
from rakeprep.handover.clean import ended
from rakeprep.handover.paper import Paper
from rakeprep.handover.places import place_name
from rakeprep.model.verdict import Verdict, worst
from rakeprep.text import joined, msg, verbatim

SETTLED = frozenset({Verdict.IN_ORDER, Verdict.ABSENT})
LONGEST = 600  # characters of the names under one verdict


def from_above(paper: Paper) -> Iterator[blocks.Block]:
    """The drawing: one symbol for each group of parts, and one for each part that is not in order."""
    drawn = plan(paper.profile, paper.tractor)
    by_part: dict[str, list[Verdict]] = defaultdict(list)
    by_group: dict[str, list[Verdict]] = defaultdict(list)
    for state in paper.assessment.states.values():
        if state.optional:
            continue
        part = state.task.place.part
        by_part[part].append(state.verdict)
        by_group[drawn.groups.get(part, part)].append(state.verdict)
    marks = [
        (*drawn.group_anchors.get(group, anchor_of(drawn, group)), worst(verdicts))
        for group, verdicts in by_group.items()
        if group in drawn.group_anchors
    ]
    marks += [
        (*anchor_of(drawn, part), verdict)
        for part, verdicts in by_part.items()
        if (verdict := worst(verdicts)) not in SETTLED and part not in drawn.group_anchors
    ]
    labels = {n: paper.say(s.text) for n, s in enumerate(drawn.shapes) if isinstance(s, Label)}
    marks = list(dict.fromkeys(marks))
    yield blocks.Heading(2, paper.say(msg("The machine from above, driving direction up")))
    yield blocks.Drawing(drawn.shapes, drawn.bounds, tuple(marks), labels, words(paper))


def words(paper: Paper) -> str:
    """The drawing for readers who do not see it: what stands where, the worst first."""
    odd: dict[Verdict, list[str]] = defaultdict(list)
    for state in paper.assessment.states.values():
        if state.verdict not in SETTLED and not state.optional:
            place = state.task.place
            name = place_name(paper, place) if place.key else paper.say(state.task.field.label)
            odd[state.verdict].append(name)
    said = [
        joined([verdict.word, verbatim(ended(", ".join(dict.fromkeys(odd[verdict])), LONGEST))], ": ")
        for verdict in sorted(odd, key=lambda verdict: -verdict.rank)
    ]
    rest = msg("all other parts") if said else msg("all parts")
    return paper.say(
        msg(
            "The machine from above, driving direction up. Symbols on it: {verdicts}. The tables of the "
            "steps say the same in words.",
            verdicts=joined([*said, joined([Verdict.IN_ORDER.word, rest], ": ")], "; "),
        )
    )
