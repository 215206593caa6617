"""One table of a batch, sent rightly and in every wrong way: it is answered whole or refused whole."""

import csv
import re

import pytest
from raw_http import Answer, Server, chunked, everything_after, exchange, head, in_chunks, read, sized

PATH, TYPE = "/v1/conversion/batch", "Content-Type: text/csv"
INCHES = range(100, 140)
TABLE = b"quantity,to\n" + b"".join(b"%d in,mm\n" % inches for inches in INCHES)
WHOLE = sized(TABLE, TYPE, path=PATH)
IN_CHUNKS = {
    "one": chunked(TABLE, line=TYPE, path=PATH),
    "two": chunked(TABLE[:100], TABLE[100:], line=TYPE, path=PATH),
    "one for each byte": chunked(*(TABLE[at : at + 1] for at in range(len(TABLE))), line=TYPE, path=PATH),
}


def _sent(body: bytes, *lines: str) -> bytes:
    return head(TYPE, *lines, path=PATH) + body


ARABIC = "".join(chr(0x660 + int(digit)) for digit in str(len(TABLE)))
CHUNKED, LENGTH = "Transfer-Encoding: chunked", f"Content-Length: {len(TABLE)}"
NO_LENGTH = {
    "empty": _sent(TABLE, "Content-Length:"),
    "a word": _sent(TABLE, "Content-Length: all"),
    "negative": _sent(TABLE, f"Content-Length: -{len(TABLE)}"),
    "with a sign": _sent(TABLE, f"Content-Length: +{len(TABLE)}"),
    "hexadecimal": _sent(TABLE, f"Content-Length: {len(TABLE):#x}"),
    "with a point": _sent(TABLE, f"Content-Length: {len(TABLE)}.0"),
    "digits of another script": _sent(TABLE, f"Content-Length: {ARABIC}"),
    "two in one line": _sent(TABLE, f"Content-Length: {len(TABLE)}, 48"),
    "two, the larger first": _sent(TABLE, LENGTH, "Content-Length: 48"),
    "two, the smaller first": _sent(TABLE, "Content-Length: 48", LENGTH),
    "one too many": _sent(TABLE, f"Content-Length: {len(TABLE) + 1}"),
    "twice as many": _sent(TABLE, f"Content-Length: {2 * len(TABLE)}"),
    "chunks and a length": _sent(in_chunks(TABLE), CHUNKED, LENGTH),
    "a length and chunks": _sent(in_chunks(TABLE), LENGTH, CHUNKED),
    "chunked twice": _sent(in_chunks(TABLE), CHUNKED, CHUNKED),
    "another coding": _sent(TABLE, "Transfer-Encoding: identity"),
    "two codings": _sent(in_chunks(TABLE), "Transfer-Encoding: gzip, chunked"),
}
"""What says no length, two lengths, or a wrong one."""
BAD_CHUNKS = {
    "chunked in name only": _sent(TABLE, CHUNKED),
    "a chunk too few": _sent(b"%x\r\n%b\r\n0\r\n\r\n" % (len(TABLE) - 9, TABLE), CHUNKED),
    "a chunk of negative size": _sent(b"-%x\r\n%b\r\n0\r\n\r\n" % (len(TABLE), TABLE), CHUNKED),
    "a chunk that swallows its end": _sent(b"%x\r\n%b\r\n0\r\n\r\n" % (len(TABLE) + 7, TABLE), CHUNKED),
    "a chunk one too many": _sent(b"%x\r\n%b\r\n" % (200, TABLE[:199]) + in_chunks(TABLE[199:]), CHUNKED),
    "chunks without their end": _sent(in_chunks(TABLE)[:-5], CHUNKED),
}


def is_whole(answer: Answer) -> bool:
    """Every line came back, in order, with its result: an inch is 25.4 mm."""
    rows = csv.DictReader(answer.body.decode().splitlines())
    found = [
        (row["quantity"], float(row["result.result"])) for row in rows if row["line_status"] == "answered"
    ]
    expected = [(f"{inches} in", pytest.approx(25.4 * inches)) for inches in INCHES]
    return answer.status == 200 and found == expected


def is_refused(answer: Answer) -> bool:
    """Closed without a word, or refused without a line of the table."""
    return answer.status == 0 or (answer.status >= 400 and b"answered" not in answer.body)


def assert_excess_is_never_answered(server: Server) -> None:
    """HTTP knows a body by the length announced; what comes after it can only be another request."""
    for announced in range(len(TABLE)):
        sent = head(TYPE, f"Content-Length: {announced}", path=PATH) + TABLE + b"no request\r\n\r\n"
        came = everything_after(server, sent)
        first, *others = (int(status) for status in re.findall(rb"HTTP/1\.1 (\d+)", came))
        alone = exchange(server, sized(TABLE[:announced], TYPE, path=PATH))
        assert (first, read(came).body) == (alone.status, alone.body), announced
        assert others in ([], [400]), announced
