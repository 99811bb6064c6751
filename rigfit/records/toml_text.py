"""Reading TOML so that a slip in it ends in one sentence that an owner of a boat understands."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from rigfit.errors import RigfitError
from rigfit.records.plain_words import line_of, visible

_QUOTES = 'a measurement with a unit stands in quotes, as in rake = "13°"'
_ENTRY = 'write an entry as rake = "13°" and put # before a remark'
_STRING = "a text ends with the same quote it begins with, on the same line"

# What the parser says, what that means, and what to do. The first that matches is used.
_WORDS: tuple[tuple[str, str, str], ...] = (
    ("Cannot overwrite", "the same name is used twice", "keep one of the two lines"),
    ("Cannot declare", "the same table is written twice", "join the two tables into one"),
    ("Expected '=' after a key", "the = between a name and its value is missing", _ENTRY),
    ("Expected newline or end of document", "something follows the value", _QUOTES),
    ("Invalid value", "the value cannot be read", _QUOTES),
    ("Invalid statement", "this is no name = value, no [table] and no # remark", _ENTRY),
    ("Illegal character '\\n'", "the closing quote is missing", _STRING),
    ("Unterminated string", "the closing quote is missing", _STRING),
    ('Expected "', "the closing quote is missing", _STRING),
    (
        "Unescaped '\\'",
        "a backslash in a text has a meaning of its own",
        "write it twice or put the text in single quotes",
    ),
    ("Unclosed array", "the ] that closes a list is missing", "add it"),
    ("Unclosed inline table", "the } that closes a table is missing", "add it"),
    ("Expected ']'", "the ] that closes the table's name is missing", "write it as [transom]"),
    ("invalid character", "it holds a character that cannot be seen", "type the line again"),
)
_PLACE = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
_FALLBACK = ("the line breaks the rules of TOML", "compare it with a file made by rigfit new")

# Names joined by very many dots cost the parser memory by the square of their number.
_MANY_DOTS = re.compile(
    r"""(?<![\w-])(?:(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){20}"""
)


def parse_toml(text: str, name: str, error: type[RigfitError]) -> dict[str, Any]:
    """Return the tables of a TOML text.

    :param text: the whole file; a byte order mark at its start is passed over.
    :param name: the file's name, for the error.
    :param error: class to raise.
    :raises RigfitError: of class ``error``, with the line and what is wrong in it.
    """
    text = text.removeprefix("\ufeff")
    dotted = _MANY_DOTS.search(text)
    if dotted is not None:
        raise error(
            f"line {text.count(chr(10), 0, dotted.start()) + 1} joins very many names by dots",
            cure="write a table such as [transom] and plain names below it",
            where=name,
        )
    try:
        # A line end more does no harm, and the parser can then name the last line.
        return tomllib.loads(text + "\n")
    except tomllib.TOMLDecodeError as trouble:
        raise _in_plain_words(str(trouble), text, name, error) from None
    except RecursionError:
        raise error(
            "lists or tables are packed into each other too deeply",
            cure="write a table such as [transom] and plain names below it",
            where=name,
        ) from None
    except ValueError:
        # Numbers of thousands of digits pass the grammar and then fail to convert.
        raise error(
            "a number has far too many digits", cure="write the measured number", where=name
        ) from None


def _in_plain_words(said: str, text: str, name: str, error: type[RigfitError]) -> RigfitError:
    place = _PLACE.search(said)
    problem, cure = next(
        ((words, cure) for start, words, cure in _WORDS if start in said), _FALLBACK
    )
    number = int(place["line"]) if place is not None and place["line"] else 0
    if not number:
        return error(f"{problem} at or before the end of the file", cure=cure, where=name)
    line = line_of(text, number)
    reads = f", which reads {visible(line, 60)}" if line else ""
    return error(f"{problem} in line {number}{reads}", cure=cure, where=name)
