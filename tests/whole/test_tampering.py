"""Bits and bytes: whatever is done to a sealed file, it is never taken for what was sealed."""

from __future__ import annotations

import io
import random
import re
from collections.abc import Callable, Iterator
from typing import Any

import pikepdf
import pytest

from rakeprep.handover import verify
from rakeprep.handover.verify import Outcome

Made = Any  # of conftest
Span = tuple[int, int]
CONTENTS = re.compile(rb"/Contents (<[0-9A-F]+>)")
RANGE = re.compile(rb"/ByteRange \[0 (\d+) (\d+) (\d+)\]")
EVENLY = 1200
IN_EACH_PART = 100


def outcome(pdf: bytes, made: Made) -> Outcome:
    """What comes of it on a computer that knows the workshop."""
    return verify.verify(pdf, [made.workshop.root]).outcome


def flipped(pdf: bytes, bit: int) -> bytes:
    """The file with one bit turned over."""
    spoilt = bytearray(pdf)
    spoilt[bit // 8] ^= 1 << bit % 8
    return bytes(spoilt)


def spans(pdf: bytes, pattern: bytes) -> list[Span]:
    """Where something stands."""
    return [found.span() for found in re.finditer(pattern, pdf, re.DOTALL)]


def parts(pdf: bytes) -> dict[str, list[Span]]:
    """The parts of the file on which everything hangs."""
    found = {
        "tables": spans(pdf, rb"\nxref\n.*?trailer"),
        "trailers": spans(pdf, rb"trailer.*?startxref\s+\d+\s+%%EOF"),
        "signatures": spans(pdf, rb"/Contents <[0-9A-F]{64}") + spans(pdf, rb"/ByteRange .*?endobj"),
        "fields": spans(pdf, rb"/FT /Sig.*?endobj"),
        "files": spans(pdf, rb"/Type /EmbeddedFile.*?endobj") + spans(pdf, rb"/Type /Filespec.*?endobj"),
        "catalogue": spans(pdf, rb"/AcroForm.*?endobj"),
        "metadata": spans(pdf, rb"<\?xpacket begin.*?<\?xpacket end"),
        "structure": spans(pdf, rb"/ParentTree.*?endobj") + spans(pdf, rb"/S /Document.*?endobj"),
    }
    assert all(found.values()), [name for name, where in found.items() if not where]
    return found


def bits(pdf: bytes) -> Iterator[int]:
    """Bits from every stretch of the file, and many more from what holds it together."""
    pick = random.Random(20260414)
    stretch = len(pdf) * 8 / EVENLY
    for number in range(EVENLY):
        yield pick.randrange(int(number * stretch), int((number + 1) * stretch))
    for where in parts(pdf).values():
        inside = [at for start, end in where for at in range(start, end)]
        for _ in range(IN_EACH_PART):
            yield pick.choice(inside) * 8 + pick.randrange(8)
    own = [found.span(1) for found in CONTENTS.finditer(pdf)]
    for start, end in own:
        # The signature itself fills the first third of its place; the rest is padding.
        for at in (
            *pick.sample(range(start, start + (end - start) // 3), 60),
            *pick.sample(range(start, end), 40),
        ):
            yield at * 8 + pick.randrange(8)


def test_that_no_single_flipped_bit_verifies(whole: Made) -> None:
    pdf = whole.sealed
    assert outcome(pdf, whole) is Outcome.VERIFIED
    chosen = list(dict.fromkeys(bits(pdf)))
    assert len(chosen) >= 2000
    left = [bit for bit in chosen if outcome(flipped(pdf, bit), whole) is not Outcome.NOT_VERIFIED]
    assert left == []


def test_that_no_flipped_bit_verifies_without_the_glance_that_saves_time(
    brief: Made, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(verify, "_at_a_glance", lambda pdf: None)
    pdf = brief.sealed
    chosen = random.Random(20260415).sample(list(bits(pdf)), 200)
    left = [bit for bit in chosen if outcome(flipped(pdf, bit), brief) is not Outcome.NOT_VERIFIED]
    assert left == []
    assert outcome(pdf, brief) is Outcome.VERIFIED


# ----------------------------------------------------------------------------- edits made by hand


def cut(made: Made) -> Iterator[bytes]:
    """Ends too early: anywhere, and at the end of each revision."""
    pdf = made.sealed
    for share in range(20):
        yield pdf[: len(pdf) * share // 20]
    yield from (pdf[:-less] for less in range(1, 9))
    yield made.finished
    yield made.certified


def longer(made: Made) -> Iterator[bytes]:
    """Something before, after, or in the middle."""
    pdf = made.sealed
    update = pdf[len(made.certified) :]
    ends = (b"\n", b" ", b"\0", b"x", b"%%EOF\n", b"\n%%EOF\n", b"%" * 2000 + b"\n%%EOF\n", update, pdf)
    yield from (pdf + end for end in ends)
    yield from (pdf + b"startxref\n%d\n%%%%EOF\n" % at for at in (0, 9, pdf.rfind(b"xref", 0, -40)))
    yield from (start + pdf for start in (b"\n", b"%PDF-1.7\n", b"\xef\xbb\xbf"))
    for at in (pdf.index(b"\nendobj"), pdf.index(b"endstream"), pdf.rindex(b"xref"), len(made.certified)):
        yield pdf[:at] + b"\n%hidden\n" + pdf[at:]


def other_ranges(made: Made) -> Iterator[bytes]:
    """Signatures that say that they cover something else."""
    pdf = made.sealed
    places = list(RANGE.finditer(pdf))
    texts = [place[0] for place in places]
    for place in places:
        a, b, c = (int(number) for number in place.groups())
        for numbers in (
            *((a - 1, b, c), (a, b + 1, c), (a, b, c - 1), (a, b, 0), (a, a, c), (0, b, c), (0, 0, len(pdf))),
            *((a, len(pdf), 0), (b, a, c), (a, b - 2, c + 2)),
        ):
            text = b"/ByteRange [0 %d %d %d]" % numbers
            yield replaced_at(pdf, place.span(), text)
        yield replaced_at(pdf, place.span(), place[0].replace(b"[0 ", b"[1 "))
        yield replaced_at(pdf, place.span(), place[0].replace(b"[0 ", b"[-0 "))
        yield replaced_at(pdf, place.span(), place[0].replace(b"/ByteRange", b"/ByteRangE"))
    for one, other in ((0, 1), (1, 0)):
        yield replaced_at(pdf, places[one].span(), texts[other])


def replaced_at(pdf: bytes, where: Span, text: bytes) -> bytes:
    """Other words in the same place; blanks fill what is left, or are taken from what follows."""
    start, end = where
    room = end + len(pdf[end:]) - len(pdf[end:].lstrip(b" "))
    return pdf[:start] + text.ljust(room - start) + pdf[room:]


def other_signatures(made: Made) -> Iterator[bytes]:
    """Signatures exchanged, emptied, or written otherwise."""
    pdf = made.sealed
    first, second = (found for found in CONTENTS.finditer(pdf))
    for here, other in ((first, second), (second, first)):
        text = here[1]
        empty = b"<" + b"0" * (len(text) - 2) + b">"
        for changed in (
            *(
                empty,
                text.lower(),
                other[1].ljust(len(text))[: len(text)],
                b"<" + text[1:-1][::-1] + b">",
                text[:-3] + b"01>",
            ),
            *(b"<" + text[3:-1] + b"00>", b"<00" + text[1:-3] + b">", text.replace(b"0>", b" >")),
            *(b"(" + text[1:-1] + b")", text[:1] + b" " + text[1:-2] + b">"),
        ):
            assert len(changed) == len(text)
            yield pdf[: here.start(1)] + changed + pdf[here.end(1) :]


def other_words(made: Made) -> Iterator[bytes]:
    """Words of the same length in place of those that stand there."""
    pdf = made.sealed
    for old, new in (
        *((b"(Technician One)", b"(Technician Two)"), (b"(Customer One)", b"(Customer Two)")),
        *((b"/P 2\n", b"/P 3\n"), (b"/P 2\n", b"/P 1\n"), (b"/DocMDP", b"/DocMDX"), (b"/Perms", b"/Perns")),
        *((b"/FT /Sig", b"/FT /Txt"), (b"/T (customer)", b"/T (costumer)"), (b"/AcroForm", b"/AcroFern")),
        *((b"CAdES", b"XAdES"), (b"D:2026", b"D:2027"), (b"as recorded", b"as required")),
        *((b"/EmbeddedFiles", b"/EmbeddedFeels"), (b"entries.jsonl", b"entries.jsonk")),
        *((b"<pdfaid:part>3", b"<pdfaid:part>2"), (b"<pdfuaid:part>1", b"<pdfuaid:part>2")),
        *((b"handover", b"handower"), (b"/Lang (en)", b"/Lang (fr)"), (b"/Size", b"/Sise")),
        *(
            (b"%PDF-1.7", b"%PDF-1.4"),
            (b"/Prev", b"/Prex"),
            (b"trailer", b"trialer"),
            (b"/Marked true", b"/Marked null"),
        ),
        *((b"/DisplayDocTitle true", b"/DisplayDocTitle null"), (b"/AFRelationship", b"/AFRelationshiq")),
    ):
        places = [found.start() for found in re.finditer(re.escape(old), pdf)]
        for at in {*places[:1], *places[-1:]}:
            yield pdf[:at] + new.ljust(len(old))[: len(old)] + pdf[at + len(old) :]


def other_tables(made: Made) -> Iterator[bytes]:
    """Entries of the cross-reference table that lead elsewhere."""
    pdf = made.sealed
    rows = [found.span() for found in re.finditer(rb"\d{10} 00000 n ", pdf)]
    pick = random.Random(20260416)
    for _ in range(20):
        one, other = pick.sample(rows, 2)
        yield pdf[: one[0]] + pdf[other[0] : other[1]] + pdf[one[1] :]
    for row in pick.sample(rows, 5):
        yield pdf[: row[0]] + b"0000000000 00001 f " + pdf[row[1] :]


def spliced(made: Made, other: Made) -> Iterator[bytes]:
    """Two good documents made into one."""
    ours, theirs = made, other
    for one, two in ((ours, theirs), (theirs, ours)):
        yield one.sealed + two.sealed
        yield one.finished + two.sealed[len(two.finished) :]
        yield one.certified + two.sealed[len(two.certified) :]
        yield one.sealed[: len(one.sealed) // 2] + two.sealed[len(two.sealed) // 2 :]
        yield one.sealed + two.sealed[len(two.certified) :]


@pytest.mark.parametrize(
    ("family", "least"),
    [
        (cut, 30),
        (longer, 19),
        (other_ranges, 28),
        (other_signatures, 20),
        (other_words, 35),
        (other_tables, 25),
    ],
)
def test_that_no_edit_made_by_hand_verifies(
    brief: Made, family: Callable[[Made], Iterator[bytes]], least: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    spoilt = set(family(brief))
    assert len(spoilt - {brief.sealed}) == len(spoilt) >= least
    for glance in (verify._at_a_glance, lambda pdf: None):
        monkeypatch.setattr(verify, "_at_a_glance", glance)
        left = [pdf for pdf in spoilt if outcome(pdf, brief) is not Outcome.NOT_VERIFIED]
        assert [describe(pdf, brief.sealed) for pdf in left] == []


def describe(pdf: bytes, good: bytes) -> str:
    """Where two files differ first."""
    at = next(
        (n for n, (a, b) in enumerate(zip(pdf, good, strict=False)) if a != b), min(len(pdf), len(good))
    )
    return f"{at}: {good[at : at + 30]!r} → {pdf[at : at + 30]!r}"


def test_that_two_documents_made_into_one_do_not_verify(brief: Made, whole: Made) -> None:
    for pdf in spliced(brief, whole):
        assert outcome(pdf, whole) is Outcome.NOT_VERIFIED


def test_that_a_document_saved_again_does_not_verify_however_little_changed(brief: Made) -> None:
    with pikepdf.open(io.BytesIO(brief.sealed)) as pdf:
        for how in (
            {},
            {"linearize": True},
            {"object_stream_mode": pikepdf.ObjectStreamMode.generate},
            {"qdf": True},
            {"static_id": True, "compress_streams": False},
            {"encryption": pikepdf.Encryption(owner="a", user="")},
        ):
            out = io.BytesIO()
            pdf.save(out, **how)
            assert outcome(out.getvalue(), brief) is Outcome.NOT_VERIFIED, how
