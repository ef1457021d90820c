"""Turns a finished page into a tagged PDF."""

from __future__ import annotations

import contextlib
import io

_INSTALL = (
    "The PDF was not written: the text library Pango is missing. Debian/Ubuntu: apt install "
    "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0; macOS: brew install pango; Windows: install "
    "Pango through MSYS2. Everything else is complete."
)


class PdfLibraryError(RuntimeError):
    """The system lacks the library that sets the type of a PDF."""


def page_to_pdf(page: str) -> bytes:
    """Return a self-contained HTML page as PDF/UA. Nothing outside the page is fetched.

    Raises PdfLibraryError where the system lacks Pango.
    """
    try:
        with contextlib.redirect_stdout(io.StringIO()):
            from weasyprint import HTML
            from weasyprint.urls import URLFetcher
    except OSError as error:
        raise PdfLibraryError(_INSTALL) from error

    document = HTML(string=page, url_fetcher=URLFetcher(allowed_protocols={"data"}))
    return bytes(document.write_pdf(pdf_variant="pdf/ua-1"))
