"""When two texts of a key are the same: a slip of capitals or width, never another sign."""

import sys
import unicodedata

import pytest
from rows import every_row

from api.shop_tables.reader import FaultyTable, folded, read_shop_table

SAME_TEXT = [
    ("Taper A", "  taper   a ", True),
    ("STRASSE", "straße", True),
    ("Ｔ１", "t1", True),
    ("a\u00a0b", "a b", True),
    ("Taper A", "Taper-A", False),
    ("é", "e\u0301", True),
    ("ガ", "ｶﾞ", True),
    ("\u212b", "å", True),
    ("a\u2003b", "a b", True),
    ("a\u202fb", "a b", True),
    ("SSS", "ßs", True),
    # signs that NFKC makes plain ones: another joint, or a footnote
    ("bay motor 17¹", "bay motor 171", False),
    ("H₂S", "H2S", False),
    ("2½", "21⁄2", False),
    ("2½", "21/2", False),
    ("m²", "m2", False),
    ("⒈", "1.", False),
    ("⑴", "(1)", False),
    ("①", "1", False),
    ("Ⅱ", "II", False),
    ("Ⅱ", "ⅱ", True),
    ("Ⓐ", "A", False),
    ("㎜", "mm", False),
    ("𝟏", "1", False),
    ("™", "tm", False),
    ("…", "...", False),
]


@every_row(("one", "other", "same"), SAME_TEXT)
def test_folding(one: str, other: str, same: bool) -> None:
    assert (folded(one) == folded(other)) is same


def test_only_width_and_breaking_are_made_plain() -> None:
    # unicodedata's own table over every sign: folding has to follow its tags, and casefold() is the rest
    tags = ("<wide>", "<narrow>", "<noBreak>")
    for sign in map(chr, range(sys.maxunicode + 1)):
        mapping = unicodedata.decomposition(sign)
        alike = chr(int(mapping.split()[1], 16)) if mapping.startswith(tags) else sign
        assert folded(sign) == folded(alike), hex(ord(sign))
        if mapping.startswith("<") and alike == sign and not sign.isspace() and sign == sign.casefold():
            assert folded(sign) == sign, hex(ord(sign))


def test_a_footnote_mark_makes_another_joint() -> None:
    header = "model,target [N.m],source,revision\n"
    assert len(read_shop_table(f"{header}bay motor 17¹,1,s,1\nbay motor 171,2,s,1\n".encode()).rows) == 2
    with pytest.raises(FaultyTable):
        read_shop_table(f"{header}bay motor 17¹,1,s,1\nBay  Motor 17¹,2,s,1\n".encode())
