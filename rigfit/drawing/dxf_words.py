"""Words for exchange files: text that every reader of DXF shows the same."""

from __future__ import annotations

import re
import unicodedata

# Plain spellings; measured: neither a code nor a byte for these survives in all readers.
_SPELT = {
    "°": " deg",
    "±": "+/-",
    "∓": "-/+",
    "µ": "u",
    "μ": "u",
    "×": "x",
    "÷": "/",
    "·": "-",
    "•": "-",
    "−": "-",
    "‐": "-",
    "‑": "-",
    "‒": "-",
    "–": "-",
    "—": "-",
    "―": "-",
    "“": '"',
    "”": '"',
    "„": '"',
    "«": '"',
    "»": '"',
    "″": '"',
    "‘": "'",
    "’": "'",
    "‚": "'",
    "′": "'",
    "…": "...",
    "→": "->",
    "←": "<-",
    "↔": "<->",
    "≤": "<=",
    "≥": ">=",
    "≠": "<>",
    "≈": "~",
    "⁄": "/",
    "ß": "ss",
    "æ": "ae",
    "Æ": "AE",
    "œ": "oe",
    "Œ": "OE",
    "ø": "o",
    "đ": "d",
    "Đ": "D",
    "ł": "l",
    "Ł": "L",
    "ð": "d",
    "þ": "th",
    "ı": "i",
    "£": "GBP ",
    "€": "EUR ",
    "©": "(c)",
    "®": "(r)",
}
_SPELLING = str.maketrans(_SPELT)
# Signs that start a code in some readers.
_CODES = str.maketrans({"\\": "/", "{": "(", "}": ")", "^": " "})
_DIAMETER = re.compile(r"⌀\s*|Ø\s*(?=[\d.,]|$)")
_FRACTION = re.compile(r"(?<=\d)(?=[¼-¾⅐-⅞↉])")


def dxf_text(words: str) -> str:
    """Return words as ASCII without control characters or anything a DXF reader takes for a code.

    Signs become words ("Ø13.5" is "dia 13.5"), accents are dropped, what has no spelling is "?".
    """
    words = _DIAMETER.sub("dia ", words).replace("Ø", "O")
    # "20½" must not become "201/2".
    words = _FRACTION.sub(" ", words).translate(_SPELLING)
    words = unicodedata.normalize("NFKD", words).translate(_SPELLING)
    plain = "".join(_plain(char) for char in words).translate(_CODES)
    while "%%" in plain:
        plain = plain.replace("%%", "% %")
    return plain


def _plain(char: str) -> str:
    category = unicodedata.category(char)
    if category in {"Cc", "Zl", "Zp", "Zs"}:
        return " "
    if category in {"Mn", "Cf"}:
        return ""
    return char if char.isascii() else "?"
