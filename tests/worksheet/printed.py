"""A page as a printer would draw it: made a PDF by WeasyPrint, its lines measured by PDFium, in mm."""

import ctypes
from collections.abc import Iterator

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

MM = 72 / 25.4
"""Points of a PDF in one mm (ISO 32000-1, 8.3.2.3: 1/72 inch; an inch is 25.4 mm)."""


def printed(page: str, paper: str) -> pypdfium2.PdfDocument:
    """The page on that paper: "A4" or "letter".  Skips the test where the system has no Pango for WeasyPrint."""
    try:
        from weasyprint import CSS, HTML
    except OSError as error:
        pytest.skip(f"nothing here makes a PDF of a page: {error}")
    return pypdfium2.PdfDocument(HTML(string=page).write_pdf(stylesheets=[CSS(string=f"@page {{ size: {paper} }}")]))


def shapes(document: pypdfium2.PdfDocument) -> list[tuple[float, float]]:
    """Width and height of every path in the document, between its points and without its line's own width, mm."""
    found = []
    for sheet in document:
        for each in sheet.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=4):
            across, along = zip(*_points(each), strict=True)
            found.append(((max(across) - min(across)) / MM, (max(along) - min(along)) / MM))
    return found


def _points(path: pypdfium2.PdfObject) -> Iterator[tuple[float, float]]:
    matrix = path.get_matrix()
    for index in range(pdfium.FPDFPath_CountSegments(path)):
        x, y = ctypes.c_float(), ctypes.c_float()
        assert pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFPath_GetPathSegment(path, index), x, y)
        yield matrix.on_point(x.value, y.value)
