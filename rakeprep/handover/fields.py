"""The two signature fields of a handover document."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pikepdf import Object, Pdf

TECHNICIAN = "technician"
CUSTOMER = "customer"
FIELDS = (TECHNICIAN, CUSTOMER)  # in the order in which they are signed
Box = tuple[float, float, float, float]
PRINTED_AND_LOCKED = 4 | 128  # annotation flags, ISO 32000-1 table 165
SIGNED_AND_APPENDED_ONLY = 1 | 2  # signature flags, ISO 32000-1 table 219
NOWHERE: Box = (0, 0, 0, 0)


def add_signature_fields(
    pdf: Pdf,
    boxes: Mapping[str, Box] | None = None,
    labels: Mapping[str, str] | None = None,
    page: int = 0,
) -> tuple[Object, ...]:
    """Add the two empty fields to a page (from 0) and give their widgets, for the structure tree.

    ``boxes`` are left, bottom, right, top in points from the page's lower left corner; without a box a
    field is invisible. ``labels`` are the names a screen reader speaks. The appearance stays empty: what
    is seen of a signature is drawn on the page itself.
    """
    from pikepdf import Array, Dictionary

    root = pdf.Root
    if "/AcroForm" not in root:
        root.AcroForm = pdf.make_indirect(Dictionary(Fields=Array()))
    form = root.AcroForm
    form.SigFlags = SIGNED_AND_APPENDED_ONLY
    target = pdf.pages[page].obj
    if "/Annots" not in target:
        target.Annots = Array()
    widgets = []
    for name in FIELDS:
        box = (boxes or {}).get(name, NOWHERE)
        widget = pdf.make_indirect(_widget(pdf, name, (labels or {}).get(name, name), box, target))
        form.Fields.append(widget)
        target.Annots.append(widget)
        widgets.append(widget)
    return tuple(widgets)


def _widget(pdf: Pdf, name: str, label: str, box: Box, page: Object) -> Object:
    from pikepdf import Array, Dictionary, Name, String

    left, bottom, right, top = box
    look = pdf.make_stream(b"")
    look.Type = Name.XObject
    look.Subtype = Name.Form
    look.BBox = Array([0, 0, right - left, top - bottom])
    look.Resources = Dictionary()
    return Dictionary(
        Type=Name.Annot,
        Subtype=Name.Widget,
        FT=Name.Sig,
        T=String(name),
        TU=String(label),
        Rect=Array(list(box)),
        F=PRINTED_AND_LOCKED,
        P=page,
        AP=Dictionary(N=look),
    )
