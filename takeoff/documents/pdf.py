"""Turns a finished page into a tagged PDF."""

from __future__ import annotations

import contextlib
import gc
import importlib
import io
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from takeoff.documents.pdf_drawings import LiftedPage, lift_drawings
from takeoff.documents.pdf_tags import add_scopes

if TYPE_CHECKING:
    import pydyf
    from weasyprint import Document

_INSTALL = (
    "The PDF was not written: the text library Pango is missing. Debian/Ubuntu: apt install "
    "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0; macOS: brew install pango; Windows: install "
    "Pango through MSYS2. Everything else is complete."
)


class PdfLibraryError(RuntimeError):
    """The system lacks the library that sets the type of a PDF."""


def load_pdf_library() -> None:
    """Load what sets the type of a PDF, so that processes begun after it need not; nothing where it is missing."""
    with contextlib.suppress(OSError), contextlib.redirect_stdout(io.StringIO()):
        importlib.import_module("weasyprint")


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

    lifted = lift_drawings(page)
    with _nothing_collected():
        document = HTML(string=lifted.page, url_fetcher=URLFetcher(allowed_protocols={"data"}))
        return bytes(document.write_pdf(pdf_variant="pdf/ua-1", finisher=_finisher(lifted)))


def _finisher(lifted: LiftedPage) -> Callable[[Document, pydyf.PDF], None]:
    """Return what completes a PDF just before it is written."""

    def finish(document: Document, pdf: pydyf.PDF) -> None:
        lifted.set_drawings(pdf)
        add_scopes(pdf)

    return finish


@contextlib.contextmanager
def _nothing_collected() -> Iterator[None]:
    """Let no unused objects be looked for meanwhile.

    A layout keeps nearly all it makes until the pages are written: looking through hundreds of thousands of
    live objects again and again takes about a tenth of its time and finds next to nothing.
    """
    was_enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_enabled:
            gc.enable()
