"""The list of sources: no key twice, every key a check names is there, every mark is printed."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import rigfit
from rigfit import sources
from rigfit.sources import SOURCES, cite

_NAMED = re.compile(r'\bsource="([^"]+)"')


def test_no_key_stands_twice():
    # The last of two would win unseen, and findings would print the wrong document.
    counts = Counter(source.key for source in sources._ALL)
    assert [key for key, count in counts.items() if count > 1] == []


def test_every_source_a_check_names_can_be_printed():
    named = {
        key
        for path in Path(rigfit.__file__).parent.rglob("*.py")
        for key in _NAMED.findall(path.read_text(encoding="utf-8"))
    }
    assert len(named) > 20
    assert sorted(named - set(SOURCES)) == []


def test_a_citation_ends_in_how_far_it_was_verified():
    assert cite("iso-273").endswith("fine, medium and coarse [read]")
    assert cite("crouch").endswith("Propeller Handbook [from memory]")
