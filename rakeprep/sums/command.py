"""“rakeprep calc”: from the words of a command line to lines or data, and an exit code."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Sequence

from rakeprep.sums import Sum, all_sums, find, work_out
from rakeprep.sums.reading import MOST_PROBLEMS, any_of, closest, safe
from rakeprep.sums.showing import (
    answer_lines,
    description,
    description_data,
    list_data,
    list_lines,
    refused_data,
    worked_data,
)
from rakeprep.sums.working import Refused
from rakeprep.text import Message, msg

DONE, IMPOSSIBLE, NOT_READ = 0, 1, 2
FLAGS = frozenset({"--json", "-h", "--help"})
KEY = re.compile(r"\s*([^\W\d_][^=\s]*)\s*=(.*)", re.DOTALL)
Print = Callable[[str], None]
Say = Callable[[Message], str]


def run(words: Sequence[str], as_json: bool, out: Print, err: Print, say: Say = str) -> int:
    """Do what was asked; gives the exit code and never raises, whatever was typed."""
    flags, rest = FLAGS & set(words), [word for word in words if word not in FLAGS]
    as_json = as_json or "--json" in flags
    if not rest:
        tell(list_lines(all_sums()), lambda: list_data(all_sums()), as_json, out, say)
        return DONE
    of = find(rest[0].strip().casefold())
    if of is None:
        reasons = [no_such_sum(rest[0])]
        return refuse(
            reasons, {"refused": "no such sum", "reasons": [str(r) for r in reasons]}, as_json, out, err, say
        )
    typed, wrong = pairs(rest[1:])
    wants_help = bool(flags - {"--json"})
    if wants_help or (not typed and not wrong and of.inputs):
        tell(description(of), lambda: description_data(of), as_json, out, say)
        return DONE
    return worked(of, typed, wrong, as_json, out, err, say)


def worked(
    of: Sum, typed: dict[str, str], wrong: list[Message], as_json: bool, out: Print, err: Print, say: Say
) -> int:
    """Work a sum out and tell the answer, or everything that is wrong."""
    answer = work_out(of, typed)
    if isinstance(answer, Refused) or wrong:
        reasons = [*wrong, *(answer.reasons if isinstance(answer, Refused) else ())]
        impossible = isinstance(answer, Refused) and answer.impossible and not wrong
        data = refused_data(answer) if isinstance(answer, Refused) else {"sum": of.key, "refused": "not read"}
        refuse(reasons, {**data, "reasons": [str(each) for each in reasons]}, as_json, out, err, say)
        if not impossible and not as_json:
            err(say(msg("“rakeprep calc {sum}” shows what it takes.", sum=of.key)))
        return IMPOSSIBLE if impossible else NOT_READ
    tell(answer_lines(answer), lambda: worked_data(answer), as_json, out, say)
    return DONE


def tell(lines: Iterable[Message], data: Callable[[], object], as_json: bool, out: Print, say: Say) -> None:
    """Print for people or for machines."""
    if as_json:
        out(json.dumps(data(), ensure_ascii=True, indent=2, allow_nan=False))
        return
    for line in lines:
        out(say(line).rstrip())


def refuse(reasons: list[Message], data: object, as_json: bool, out: Print, err: Print, say: Say) -> int:
    """Print why there is no answer."""
    if as_json:
        out(json.dumps(data, ensure_ascii=True, indent=2, allow_nan=False))
    for reason in reasons:
        err(say(reason))
    return NOT_READ


def no_such_sum(word: str) -> Message:
    """The sentence for an unknown name."""
    near = closest(word, [each.key for each in all_sums()])
    if near:
        return msg("There is no sum “{name}”; did you mean {near}?", name=safe(word), near=any_of(near))
    return msg("There is no sum “{name}”; “rakeprep calc” lists all.", name=safe(word))


def pairs(words: Sequence[str]) -> tuple[dict[str, str], list[Message]]:
    """Keys with their values; a word that is no pair belongs to the value before it.

    So “closed=905 mm” needs no quotation marks. Words that belong to nothing, and keys typed twice,
    come back as sentences.
    """
    parts: dict[str, list[str]] = {}
    wrong: list[Message] = []
    last: list[str] | None = None
    for word in words:
        pair = KEY.fullmatch(word)
        if pair is None and last is not None and not word.startswith("--"):
            last.append(word)
        elif pair is None:
            wrong.append(msg("“{word}” is no key=value.", word=safe(word)))
        elif pair[1].casefold() in parts:
            wrong.append(msg("{key} is typed twice.", key=safe(pair[1])))
            last = []
        else:
            last = parts.setdefault(pair[1].casefold(), [pair[2]])
    if len(wrong) > MOST_PROBLEMS:
        more = msg("{count} more words that cannot be read.", count=len(wrong) - MOST_PROBLEMS)
        wrong = [*wrong[:MOST_PROBLEMS], more]
    return {key: " ".join(words).strip() for key, words in parts.items()}, wrong
