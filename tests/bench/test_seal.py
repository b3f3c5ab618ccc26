"""Sealing: in a fresh process and when all is loaded, beside a bare script; and the window meanwhile."""

from __future__ import annotations

import itertools
import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rakeprep import paths
from rakeprep.handover import blocks, complete, demo, verify
from rakeprep.handover.document import build
from rakeprep.handover.keys import Seal
from rakeprep.handover.layout import unfolded
from rakeprep.jobs.open_job import OpenJob
from rakeprep.store.events import dump
from rakeprep.text import ENGLISH

pytestmark = pytest.mark.bench
Timer = Callable[[Callable[[], object]], float]
Compare = Callable[..., float]

# The floor: tables with the same words, the same files attached, two fields, two signatures. No tags, no
# metadata, no drawing, no findings, no check at the end. It runs here, and in a process of its own.
BARE = """
import io, json, sys
from xml.sax.saxutils import escape

def bare(tables, files, pem, fonts):
    from asn1crypto import keys, x509
    from pikepdf import Array, AttachedFileSpec, Dictionary, Name, Pdf, String
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.sign import fields, signers
    from pyhanko_certvalidator.registry import SimpleCertificateStore
    from reportlab.lib.pagesizes import A4
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.platypus import Paragraph, SimpleDocTemplate, Table

    if "bare" not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont("bare", fonts))
    style = ParagraphStyle("plain", fontName="bare", fontSize=8, leading=9.5)
    story = []
    for weights, rows in tables:
        share = (A4[0] - 80) / sum(weights)
        drawn = [[Paragraph(escape(text), style) for text in row] for row in rows]
        style_of_table = [("PADDING", (0, 0), (-1, -1), 2)]
        story.append(Table(drawn, [share * w for w in weights], repeatRows=1, style=style_of_table))
    out = io.BytesIO()
    margins = {f"{side}Margin": 40 for side in ("left", "right", "top", "bottom")}
    template = SimpleDocTemplate(out, pagesize=A4, **margins)
    template.build(story)
    ready = io.BytesIO()
    with Pdf.open(io.BytesIO(out.getvalue())) as pdf:
        pdf.Root.AcroForm = pdf.make_indirect(Dictionary(Fields=Array(), SigFlags=3))
        pdf.pages[0].obj.Annots = Array()
        for name in ("one", "two"):
            widget = Dictionary(Type=Name.Annot, Subtype=Name.Widget, FT=Name.Sig, T=String(name))
            widget.Rect, widget.P = Array([0] * 4), pdf.pages[0].obj
            field = pdf.make_indirect(widget)
            pdf.Root.AcroForm.Fields.append(field)
            pdf.pages[0].obj.Annots.append(field)
        for name, text in files.items():
            pdf.attachments[name] = AttachedFileSpec(pdf, text.encode(), filename=name)
        pdf.save(ready, deterministic_id=True)
    data = ready.getvalue()
    for name, (certificate, private) in zip(("one", "two"), pem, strict=True):
        signer = signers.SimpleSigner(
            signing_cert=x509.Certificate.load(bytes.fromhex(certificate)),
            signing_key=keys.PrivateKeyInfo.load(bytes.fromhex(private)),
            cert_registry=SimpleCertificateStore(),
        )
        about = signers.PdfSignatureMetadata(
            field_name=name, md_algorithm="sha256", subfilter=fields.SigSeedSubFilter.PADES
        )
        data = signers.sign_pdf(IncrementalPdfFileWriter(io.BytesIO(data)), about, signer).getvalue()
    return template.page
"""
BARE_PROCESS = f"{BARE}\nprint(bare(**json.load(open(sys.argv[1]))))\n"
OUR_PROCESS = """
import json, pathlib, sys
sys.modules.update(numpy=None, uncertainties=None)  # only the tests install them; pint imports what is there
from rakeprep.handover import complete
from rakeprep.handover.findings import judged_on
from rakeprep.handover.keys import Key, Seal
from rakeprep.handover.paper import Paper
from rakeprep.handover.quiet import one_act
from rakeprep.jobs.open_job import judge, understood
from rakeprep.store.chain import short_code
from rakeprep.store.events import load
from rakeprep.text import ENGLISH

with one_act():  # as the commands do
    stored = tuple(load(pathlib.Path(sys.argv[1]).read_bytes()))
    record, assessment = judge(stored, judged_on(stored))
    at = max(signature.at for signature in record.signatures.values())
    paper = Paper(record, assessment, *understood(record.opening), ENGLISH, short_code(record.head), at)
    given = json.loads(pathlib.Path(sys.argv[2]).read_text())
    pem = [Key(bytes.fromhex(certificate), bytes.fromhex(private)) for certificate, private in given["pem"]]
    seal = Seal("Sample Workshop (invented)", bytes.fromhex(given["root"]), *pem)
    print(len(complete.sealed(complete.Draft(stored, paper, at), seal, lambda said: None)))
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("sealing")


@pytest.fixture(scope="module")
def seal(folder: Path, ticking: Callable[[], Any]) -> Seal:
    return demo.practice_seal(folder / "seal", ticking)


@pytest.fixture(scope="module")
def draft(signed_job: OpenJob, seal: Seal) -> complete.Draft:
    return complete.draft(signed_job, {"en": ENGLISH})


def words_of(cell: Any) -> str:
    """All that stands in a cell."""
    return " ".join([cell.text, cell.beside, *cell.quiet]) if isinstance(cell, blocks.Cell) else str(cell)


@pytest.fixture(scope="module")
def plain(draft: complete.Draft, seal: Seal) -> dict[str, Any]:
    """The words of the document, its files, and keys, for the bare script."""
    tables = []
    for block in unfolded(build(draft.paper).record):
        if isinstance(block, blocks.Table):
            rows = [list(block.header)]
            for row in block.rows:
                cells = [row.text] if isinstance(row, blocks.Group) else [words_of(cell) for cell in row]
                rows.append(cells + [""] * (len(block.header) - len(cells)))
            tables.append([list(block.weights), rows])
    return {
        "tables": tables,
        "files": {each.name: each.data.decode() for each in complete.attachments(draft.stored, draft.paper)},
        "pem": [[key.certificate.hex(), key.private.hex()] for key in (seal.technician, seal.countersigning)],
        "fonts": str(next((paths.resources() / "fonts").rglob("*Sans.ttf"))),
    }


def test_that_sealing_takes_little_longer_than_a_bare_script_when_all_is_loaded(
    draft: complete.Draft, seal: Seal, plain: dict[str, Any], timed: Timer, compare: Compare
) -> None:
    space: dict[str, Any] = {}
    exec(BARE, space)
    ratio = compare(
        "writing, sealing and checking, all loaded, beside a bare script that signs",
        lambda: timed(lambda: space["bare"](**plain)),
        lambda: timed(lambda: complete.sealed(draft, seal, lambda said: None)),
        3,
    )
    assert ratio < 2.6  # measured 1.9 to 2.0, with 0.48 s for ours


def test_that_sealing_takes_little_longer_than_a_bare_script_in_a_fresh_process(
    draft: complete.Draft, seal: Seal, plain: dict[str, Any], folder: Path, compare: Compare
) -> None:
    (folder / "plain.json").write_text(json.dumps(plain))
    (folder / "keys.json").write_text(json.dumps({"pem": plain["pem"], "root": seal.root.hex()}))
    (folder / "entries").write_bytes(dump(draft.stored))
    kept = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    environment = kept | {
        "PYTHONPATH": str(Path(paths.__file__).parents[1]),
        "PYTHONPYCACHEPREFIX": str(folder / "compiled"),  # users start compiled modules
    }

    def process(code: str, *words: str) -> float:
        begun = time.perf_counter()
        subprocess.run(
            [sys.executable, "-c", code, *words], env=environment, check=True, capture_output=True, timeout=60
        )
        return (time.perf_counter() - begun) * 1e3

    ratio = compare(
        "the same in a fresh process, with all imports",
        lambda: process(BARE_PROCESS, str(folder / "plain.json")),
        lambda: process(OUR_PROCESS, str(folder / "entries"), str(folder / "keys.json")),
        2,
    )
    # measured 1.6 to 1.7, with 1.35 s for ours: 0.12 judge the job, which is no sealing, and 0.6 are imports
    assert ratio < 2.2


def test_that_the_check_at_the_end_is_a_small_part_of_the_sealing(
    draft: complete.Draft, seal: Seal, timed: Timer, compare: Compare
) -> None:
    pdf = complete.sealed(draft, seal, lambda said: None)
    ratio = compare(
        "the check at the end, beside everything before it",
        lambda: timed(lambda: complete.with_seals(complete.unsealed(draft, seal.workshop), draft, seal)),
        lambda: timed(lambda: complete.demand_verified(pdf, seal)),
        3,
    )
    assert ratio < 0.32  # measured 0.22, with 0.09 s for the check; 0.6 with the comparison of all objects


def test_that_a_changed_document_is_refused_much_faster_than_a_good_one_is_verified(
    draft: complete.Draft, seal: Seal, timed: Timer, compare: Compare
) -> None:
    pdf = complete.sealed(draft, seal, lambda said: None)
    changed = bytearray(pdf)
    changed[len(pdf) // 2] ^= 1
    ratio = compare(
        "refusing a changed document, beside verifying a good one",
        lambda: timed(lambda: verify.verify(pdf, [seal.root])),
        lambda: timed(lambda: verify.verify(bytes(changed), [seal.root])),
        2,
    )
    assert ratio < 0.05


def test_that_the_window_goes_on_while_a_document_is_made(
    signed_job: OpenJob, seal: Seal, folder: Path, ticking: Any, frame: Timer, compare: Compare, request: Any
) -> None:
    """The longest that the window's thread had to wait for its turn while another one made the document."""
    pytest.importorskip("PySide6")
    from PySide6.QtCore import QCoreApplication, QTimer

    from rakeprep.ui.sealing import Sealing
    from rakeprep.ui.session import Session

    request.getfixturevalue("qapp")
    session = Session(
        data=folder,
        resources=paths.resources(),
        profiles=paths.sample_profiles(),
        languages={"en": ENGLISH},
        language=ENGLISH,
        dialogs=type("Known", (), {"passphrase": lambda self, *words: demo.PASSPHRASE})(),
        clock=ticking,
    )

    def longest() -> float:
        sealing = Sealing(session, signed_job, folder / "out")
        sealing._made.disconnect()  # the job stays open for the next turn
        assert sealing.prepare()
        done: list[object] = []
        sealing._made.connect(done.append)
        sealing.failed.connect(done.append)
        ticks = [time.perf_counter()]
        timer = QTimer()
        timer.setInterval(1)
        timer.timeout.connect(lambda: ticks.append(time.perf_counter()))
        timer.start()
        sealing.start()
        while not done:
            QCoreApplication.processEvents()
        timer.stop()
        assert isinstance(done[0], bytes), done
        return max(after - before for before, after in itertools.pairwise(ticks)) * 1e3

    ratio = compare("the longest stall of the window, in frames", frame, longest, 4)
    # six frames of a 60 Hz screen are 0.1 s; measured 1.5 to 2.2, and 10 with the long search for garbage
    assert ratio < 6
