"""Panels before they are printed, and what is handed out: drafts of their appendices, and the registers."""

from io import BytesIO

from flask import Blueprint, Response, request, send_file

from provenance.errors import ArchiveError, DerivedDataError, UnknownRecordError, WriteRefusedError
from provenance.reports.document_html import document_body_html
from provenance.reports.layout import counted
from provenance.tasks.panel_pages import DEFAULT, FORMATS, REGISTER_FORMATS, STYLES, WHICH, PanelPages
from provenance.web.asking import current, failed, not_found, shown

pages = Blueprint("panel_pages", __name__)

_TYPES = {
    "html": "text/html",
    "pdf": "application/pdf",
    "docx": "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
    "md": "text/markdown",
    "csv": "text/csv",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
_FORMATS = {
    "html": "one page of HTML",
    "pdf": "PDF",
    "docx": "DOCX, for word processors",
    "md": "Markdown",
    "csv": "CSV",
    "xlsx": "XLSX, for spreadsheets",
}
_STYLES = {"iso-690-author-date": "by name and date (ISO 690)", "iso-690-numeric": "by number (ISO 690)"}


@pages.get("/panels")
def panels() -> str:
    """List all panels, and hand out the registers."""
    return shown(
        "panels.html",
        panels=_panel_pages().listed(current().flagged),
        registers=WHICH,
        formats=[(each, _FORMATS[each]) for each in REGISTER_FORMATS],
        counted=counted,
    )


@pages.get("/panels/<panel_id>")
def panel(panel_id: str) -> str | Response:
    """Show a panel's appendix, and what still stops it."""
    style = _style()
    if style not in STYLES:
        return _no_style(style)
    page = _panel_pages().page(panel_id, style)
    return shown(
        "panel.html",
        page=page,
        panel=page.panel,
        preview=document_body_html(page.document, deeper=2) if page.document else "",
        formats=[(each, _FORMATS[each]) for each in FORMATS],
        style=style,
        styles=[(each, _STYLES.get(each, each)) for each in STYLES],
    )


@pages.get("/panels/<panel_id>/appendix.<wanted>")
def appendix(panel_id: str, wanted: str) -> Response:
    """Hand out the draft of an appendix; whatever is asked, it is marked as a draft, for no record is written."""
    style = _style()
    if style not in STYLES:
        return _no_style(style)
    if wanted not in FORMATS:
        return not_found("An appendix is not written in that format", f"ask for {_one_of(FORMATS)}")
    try:
        data = _panel_pages().appendix(panel_id, wanted, style)
    except UnknownRecordError:
        raise
    except (ArchiveError, WriteRefusedError, DerivedDataError) as error:
        return failed(error.what, error.mend, 409)
    return _handed_out(data, f"{panel_id}-draft.{wanted}", wanted)


@pages.get("/registers/<which>.<wanted>")
def register(which: str, wanted: str) -> Response:
    """Hand out a register."""
    if which not in WHICH or wanted not in REGISTER_FORMATS:
        return not_found("There is no such register", f"ask for {_one_of(WHICH)}, in {_one_of(REGISTER_FORMATS)}")
    draft = request.args.get("draft") == "1"
    try:
        data = _panel_pages().register(which, wanted, draft=draft)
    except (ArchiveError, WriteRefusedError, DerivedDataError) as error:
        return failed(error.what, error.mend, 409)
    return _handed_out(data, f"{which}{'-draft' if draft else ''}.{wanted}", wanted)


def _handed_out(data: bytes, name: str, wanted: str) -> Response:
    return send_file(BytesIO(data), mimetype=_TYPES[wanted], as_attachment=True, download_name=name)


def _style() -> str:
    return request.args.get("style") or DEFAULT


def _no_style(style: str) -> Response:
    return not_found(f"There is no style “{style}” here", f"ask for {_one_of(STYLES)}")


def _one_of(names: tuple[str, ...]) -> str:
    return " or ".join(names)


def _panel_pages() -> PanelPages:
    now = current()
    return now.remembered("panels", lambda: PanelPages(now.opened, now.today.isoformat()))
