"""Who made a picture and how it may be used, written into published files on purpose.

All else that a camera or phone wrote is left behind; see `pictures`.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr


@dataclass(frozen=True, slots=True)
class Credit:
    """What a published picture says about itself."""

    maker: str
    """Who made it, as the credit line reads."""
    licence: str = ""
    """The licence in words, such as `CC BY 4.0`."""
    licence_address: str = ""
    """Where the licence can be read in full."""

    @property
    def rights(self) -> str:
        """One line for readers: maker and licence."""
        return f"© {self.maker}" + (f", {self.licence}" if self.licence else "")


def xmp_packet(credit: Credit) -> bytes:
    """XMP with the IPTC Photo Metadata 2023.2 fields Creator, Copyright Notice, Credit Line, Rights Usage Terms, Web Statement."""
    maker, rights, licence = escape(credit.maker), escape(credit.rights), escape(credit.licence)
    statement = f" xmpRights:WebStatement={quoteattr(credit.licence_address)}" if credit.licence_address else ""
    terms = f"<xmpRights:UsageTerms>{_in_any_language(licence)}</xmpRights:UsageTerms>" if licence else ""
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
        '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"'
        ' xmlns:photoshop="http://ns.adobe.com/photoshop/1.0/" xmlns:xmpRights="http://ns.adobe.com/xap/1.0/rights/"'
        f" photoshop:Credit={quoteattr(credit.maker)}{statement}>"
        f"<dc:creator><rdf:Seq><rdf:li>{maker}</rdf:li></rdf:Seq></dc:creator>"
        f"<dc:rights>{_in_any_language(rights)}</dc:rights>"
        f"{terms}</rdf:Description></rdf:RDF></x:xmpmeta>"
        '<?xpacket end="r"?>'
    ).encode()


def _in_any_language(text: str) -> str:
    return f'<rdf:Alt><rdf:li xml:lang="x-default">{text}</rdf:li></rdf:Alt>'


# IPTC-IIM 4.2: record 1:90 declares UTF-8; 2:80 By-line, 2:110 Credit, 2:116 Copyright Notice, with their longest lengths.
_UTF8 = (1, 90, b"\x1b%G")
_LONGEST = {80: 32, 110: 32, 116: 128}


def with_iptc(jpeg: bytes, credit: Credit) -> bytes:
    """The JPEG with an IPTC-IIM block (segment APP13) after its first segment."""
    texts = ((80, credit.maker), (110, credit.maker), (116, credit.rights))
    written = [_UTF8, *((2, tag, _clipped(text, _LONGEST[tag])) for tag, text in texts)]
    records = b"".join(struct.pack(">BBBH", 0x1C, record, tag, len(data)) + data for record, tag, data in written)
    block = b"8BIM\x04\x04\0\0" + struct.pack(">I", len(records)) + records + bytes(len(records) % 2)
    body = b"Photoshop 3.0\0" + block
    segment = b"\xff\xed" + struct.pack(">H", len(body) + 2) + body
    first = 4 + struct.unpack(">H", jpeg[4:6])[0] if jpeg[2:4] == b"\xff\xe0" else 2
    return jpeg[:first] + segment + jpeg[first:]


def _clipped(text: str, longest: int) -> bytes:
    return text.encode()[:longest].decode(errors="ignore").encode()
