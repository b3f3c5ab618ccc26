"""The published schema fits what is attached to documents, and nothing else."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest

from rakeprep import paths
from rakeprep.handover.demo import HEALTHY, MACHINE, TRACTOR
from rakeprep.handover.fill import started
from rakeprep.jobs import answers, events
from rakeprep.jobs.starting import text_of
from rakeprep.model.entry import Slot
from rakeprep.model.instrument import OwnInstrument
from rakeprep.store.chain import GENESIS, fingerprint
from rakeprep.store.events import Stored, dump

NOON = "2026-04-14T12:00:00.000000+02:00"
Line = dict[str, object]


@pytest.fixture(scope="module")
def schema() -> jsonschema.Draft202012Validator:
    """The schema, itself in order."""
    found = json.loads((paths.resources() / "schema" / "entries.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(found)
    return jsonschema.Draft202012Validator(found)


@pytest.fixture(scope="module")
def lines(tmp_path_factory: pytest.TempPathFactory) -> list[Line]:
    """The sample job, entered and signed, as it is attached."""
    samples = paths.sample_profiles()
    now = [dt.datetime(2026, 4, 14, 9, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))]

    def clock() -> dt.datetime:
        now[0] += dt.timedelta(seconds=7)
        return now[0]

    read = answers.read_answers(text_of(samples / HEALTHY))
    with started(samples / MACHINE, samples / TRACTOR, read, tmp_path_factory.mktemp("job"), clock) as job:
        answers.apply(read, job)
        answers.sign(read, job)
        return [json.loads(line) for line in dump(job.file.events()).splitlines()]


def line(body: dict[str, object]) -> Line:
    """A line with any body."""
    return dict(Stored(2, NOON, body, GENESIS, fingerprint(GENESIS, 2, NOON, body)).to_json())


def test_that_every_line_of_the_sample_fits(
    schema: jsonschema.Draft202012Validator, lines: list[Line]
) -> None:
    assert len(lines) > 300
    assert [error.message for each in lines for error in schema.iter_errors(each)] == []
    kinds = {each["body"]["is"] for each in lines}  # type: ignore[index]
    assert {"opened", "entry", "confirmed", "caution", "signature"} <= kinds


SLOT = Slot("tyres", "nuts", "L1L")


@pytest.mark.parametrize(
    "body",
    [
        events.left_for_later(SLOT, "part ordered", "2 May 2026", "One"),
        events.confirmed(SLOT, 3, "Two"),
        events.caution_read("tyres", "One"),
        events.instrument_known(OwnInstrument("gauge 7", "tyre-gauge", dt.date(2027, 3, 1)), "One"),
        events.instrument_known(OwnInstrument("lath", "tape"), "One"),
        events.tractor_changed("t.toml", "text", "other tractor", "One"),
        events.name_corrected("customer", "Customr One", "Customer One", "misheard", "One"),
        events.chapter_begun("ten-hours", "One", "as agreed"),
        events.chapter_begun("repair", "One", "broken", ("LA07",)),
        events.chapter_begun("new-owner", "One", "sold", (), "Two", ("t.toml", "text")),
        events.sealed("0" * 64, "handover.pdf"),
    ],
)
def test_that_every_kind_of_entry_fits(
    schema: jsonschema.Draft202012Validator, body: dict[str, object]
) -> None:
    assert schema.is_valid(line(body))


def test_that_the_schema_knows_the_kinds_that_the_program_knows(
    schema: jsonschema.Draft202012Validator,
) -> None:
    known = {
        part["properties"]["is"]["const"] for part in schema.schema["$defs"].values() if "required" in part
    }
    assert known == {"opened", *events.FOLDS}


def no_hash(each: Line) -> None:
    del each["hash"]


def no_offset(each: Line) -> None:
    each["at"] = "2026-04-14T12:00:00"


def counted_from_zero(each: Line) -> None:
    each["seq"] = 0


def more(each: Line) -> None:
    each["more"] = 1


def other_kind(each: Line) -> None:
    each["body"]["is"] = "other"  # type: ignore[index]


def rounded(each: Line) -> None:
    each["body"]["exact"] = "0.1"  # type: ignore[index]


def no_slot(each: Line) -> None:
    each["body"]["slot"] = "tyres"  # type: ignore[index]


@pytest.mark.parametrize("spoil", [no_hash, no_offset, counted_from_zero, more, other_kind, rounded, no_slot])
def test_that_a_spoilt_line_does_not_fit(
    schema: jsonschema.Draft202012Validator, lines: list[Line], spoil: Callable[[Line], None]
) -> None:
    each = json.loads(json.dumps(next(x for x in lines if "exact" in x["body"])))  # type: ignore[operator]
    assert schema.is_valid(each)
    spoil(each)
    assert not schema.is_valid(each)


def test_that_the_hash_is_made_as_the_schema_says(lines: list[Line]) -> None:
    each = lines[1]
    rest = {key: each[key] for key in ("at", "body", "seq")}
    written = json.dumps(rest, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    assert hashlib.sha256(f"{each['previous']}{written}".encode()).hexdigest() == each["hash"]
    assert lines[0]["previous"] == "0" * 64


def test_that_the_schema_is_among_the_shipped_files() -> None:
    assert (Path(paths.resources()) / "schema" / "entries.schema.json").is_file()
