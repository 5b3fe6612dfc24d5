"""Words between bytes that are no text are read in every encoding that a camera or a recorder writes. The names are invented."""

from __future__ import annotations

import pytest

from guidebuild.fieldwork.hidden_words import BREAK, read_bytes, read_value

NOISE = bytes((0, 1, 255, 7, 0, 2)) * 3
FULL = 65_536
"""Up to so many bytes a file counts as words about something, not as the thing itself."""


@pytest.mark.parametrize(
    ("encoding", "name"),
    [("utf-8", "Weir Pool"), ("utf-8", "Fljótið í Hlíð"), ("latin-1", "Fljótið"), ("utf-16-le", "Weir Pool"), ("utf-16-be", "Weir Pool"),
     ("utf-16-le", "Тихий"), ("utf-16-be", "Λίμνη")],
)  # fmt: skip
def test_a_name_between_other_bytes_is_read(encoding: str, name: str) -> None:
    assert name in read_bytes(NOISE + name.encode(encoding) + NOISE)


@pytest.mark.parametrize(("size", "read"), [(FULL, True), (FULL + 1, False)])
def test_the_shortest_words_count_only_in_few_bytes(size: int, read: bool) -> None:
    """In a whole picture three letters stand everywhere by chance."""

    def padded(name: bytes) -> bytes:
        return name + b"\x01" * (size - len(name))

    assert ("Wye" in read_bytes(padded(b"Wye"))) is read
    assert ("Sjó" in read_bytes(padded("Sjóa".encode("latin-1")))) is read  # one byte a letter
    assert ("池塘" in read_bytes(padded("池塘".encode("utf-16-le")).replace(b"\x01", b"\x61"))) is read
    assert "Weir Pool" in read_bytes(padded(b"Weir Pool"))


def test_no_name_is_put_together_of_two_pieces() -> None:
    assert read_bytes(b"Weir\x00\x01\x00Pool\x00") == f"Weir{BREAK}Pool"


@pytest.mark.parametrize(("size", "read"), [(FULL, True), (FULL + 2, False)])
def test_a_value_is_read_in_each_encoding_that_it_may_be_in(size: int, read: bool) -> None:
    assert [text for text in read_value("Sjór".encode("latin-1")) if "Sjór" in text] == ["Sjór"]
    assert "池塘" in list(read_value("池塘".encode()))
    for encoding in ("utf-16-le", "utf-16-be"):
        padded = "池塘".encode(encoding) + b"aa" * ((size - 4) // 2)
        assert any("池塘" in text for text in read_value(padded)) is read
