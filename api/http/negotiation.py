"""Which form an answer is to take: JSON, one value as plain text, or another that a face offers."""

from werkzeug.datastructures import MIMEAccept

from api.http.problems import Problem

JSON, TEXT = "application/json", "text/plain"
CSV, SVG, HTML = "text/csv", "image/svg+xml", "text/html"
FORMATS = {"json": JSON, "text": TEXT, "csv": CSV, "svg": SVG, "html": HTML}
"""Media types by the name that a query has for them."""


def media_type(accept: MIMEAccept, wanted: str | None, offered: tuple[str, ...] = (JSON, TEXT)) -> str:
    """The media type to answer with.

    Args:
        accept: the Accept header; absent means anything.
        wanted: the ``format`` of the query, which outranks the header.
        offered: what can be given, best first.

    Raises:
        Problem: 406 where nothing offered is acceptable.
    """
    if wanted is not None:
        form = FORMATS[wanted]
        if form not in offered:
            raise Problem(406, "not_acceptable", f"this answers with {' or '.join(offered)}")
        return form
    if not accept:
        return offered[0]
    chosen = accept.best_match(offered)
    if chosen is None:
        raise Problem(406, "not_acceptable", f"this answers with {' or '.join(offered)}")
    return chosen
