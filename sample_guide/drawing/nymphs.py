"""The coats of the nymphs in the guide."""

from __future__ import annotations

from brush import Tone
from young import NymphCoat

T = Tone.of

NYMPHS: dict[str, NymphCoat] = {
    "hawthorn": NymphCoat(T("7f9a44"), T("a6b860"), T("33302a"), (T("8aa24a"), T("5a3a2c")), "6a5a3c", T("8a8a4c")),
    "birch": NymphCoat(T("9aa05a"), T("b8bb74"), T("6a3a2c"), None, "6a5a3c", T("98945a")),
    "parent": NymphCoat(T("3a3a34"), T("b6a258"), T("26221e"), (T("c8b25c"), T("2a241f")), "3a3028", T("4a4234")),
    "juniper": NymphCoat(T("8aa64a"), T("a8be62"), T("b06a4c"), None, "7a7a4a", T("98a65a")),
    "green": NymphCoat(T("3c5a2c"), T("86ab4e"), T("2e3826"), None, "3f4a2c", T("55703c")),
    "southern-green": NymphCoat(T("26281f"), T("4f8a3e"), T("24241e"), (T("d26a7a"), T("26281f")), "3a3426", T("4a5236"), T("f4eed2")),
    "gorse": NymphCoat(T("7f8e42"), T("b0b560"), T("3a2c24"), (T("d8cc74"), T("8a8a48")), "a0604a", T("a09a56")),
    "hairy": NymphCoat(T("6a4a3c"), T("a07a58"), T("3a2a24"), (T("d4b274"), T("2f2420")), "3a2c26", T("7a6244"), hairs=(240, 232, 206)),
    "forest": NymphCoat(T("5f5a48"), T("8a8468"), T("3f3228"), (T("b89a6a"), T("4a3c30")), "5a4a38", T("8a7a58")),
    "bronze": NymphCoat(T("2c3a34"), T("c07a4a"), T("26302c"), (T("c88a52"), T("28302c")), "2a2c28", T("3a3a32")),
    "spiked": NymphCoat(T("3a2c24"), T("a05a3a"), T("2e2420"), (T("a8704a"), T("3a2a22")), "5a3a2c", T("6a4632")),
    "blue": NymphCoat(T("1e2c44"), T("b8362c"), T("1c2230"), (T("b8362c"), T("1e2430")), "20242e", T("20283a")),
    "dock": NymphCoat(T("6a4a36"), T("8f6848"), T("4a3428"), (T("a07a52"), T("6a4a34")), "8a4a30", T("7a5a40")),
    "pied": NymphCoat(T("26221f"), T("b5563a"), T("241e1c"), None, "2a2422", T("2a2422")),
    "scarlet": NymphCoat(T("262020"), T("cf5236"), T("221c1c"), None, "262020", T("2a2422")),
    "crucifer": NymphCoat(T("26302f"), T("d8a05a"), T("222a2a"), None, "26282a", T("2a2c2c")),
}
