"""Logs of a satellite receiver for speeds: GPX 1.1 and NMEA 0183, read as a stream.

GPX is the exchange format of topografix.com (schema 1.1); of NMEA 0183 the sentences RMC and VTG
are read. A file may come from anybody: a document type declaration is refused, so no entity is ever
expanded, and size, depth and texts are limited. Every point that is not used is counted with its
reason. Speeds are knots, times seconds since 1970 (UTC), courses degrees from north.
"""

from __future__ import annotations

import datetime
import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import reduce
from io import BytesIO
from itertools import pairwise
from operator import xor
from typing import IO, Literal

from rigfit.errors import EntryError
from rigfit.units import KNOT_M_S, Kind, convert

LARGEST_BYTES = 200_000_000
SNIFFED = 2_000
"""Bytes at the start of a file that tell a log from a table."""

MOST_POINTS = 2_000_000
FASTEST_KN = 100.0
"""Faster than any boat this is for: such a point is dropped, and said."""

_CHUNK = 1 << 16
_LEAST_PAIRS = 5
_DEEPEST = 64
_LONGEST_TEXT = 1_000
_LONGEST_LINE = 1_000
_GPX = ("http://www.topografix.com/GPX/1/1", "http://www.topografix.com/GPX/1/0")
_EARTH_M = (6_378_137.0, 1.0 / 298.257223563)  # WGS 84: equatorial radius, flattening

Progress = Callable[[float], None]
Cancelled = Callable[[], bool]


class ReadingCancelledError(Exception):
    """The person stopped the reading of a log; nothing was changed."""


@dataclass(slots=True)
class Track:
    """What a log holds, in order of time.

    :param kind: of the file.
    :param times: s since 1970, UTC.
    :param speeds: kn over the ground.
    :param courses: degrees from north; nan where not known.
    :param dropped: how many points or sentences were not used, by reason.
    :param notes: how the speeds came about, and what else to know.
    """

    kind: Literal["GPX", "NMEA"]
    times: list[float] = field(default_factory=list)
    speeds: list[float] = field(default_factory=list)
    courses: list[float] = field(default_factory=list)
    dropped: Counter[str] = field(default_factory=Counter)
    notes: list[str] = field(default_factory=list)

    @property
    def told(self) -> tuple[str, ...]:
        """What was read and what was not, as sentences."""
        count = sum(self.dropped.values())
        lines = [f"{len(self.times)} points read, {count} not used."]
        lines += [f"{number} not used: {why}." for why, number in sorted(self.dropped.items())]
        return (*lines, *self.notes)


def read_track(
    data: bytes | IO[bytes],
    where: str = "track",
    *,
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
    size: int = 0,
) -> Track:
    """Return the track in a GPX or NMEA 0183 log.

    :param data: its bytes, or a file open for reading bytes, read piece by piece.
    :param where: how it is called in errors.
    :param progress: told the part read so far, 0 to 1, when the size is known.
    :param cancelled: asked before each piece; True ends the reading.
    :param size: of an open file, bytes; 0 where not known.
    :raises EntryError: not such a log, a document type declaration, too large, no times.
    :raises ReadingCancelledError: when ``cancelled`` says so.
    """
    if isinstance(data, bytes):
        size, data = len(data), BytesIO(data)
    pieces = _pieces(data, size, where, progress, cancelled)
    first = next(pieces, b"")
    if _is_nmea(first):
        track = _read_nmea(first, pieces)
    elif _is_gpx(first):
        track = _read_gpx(first, pieces, where)
    else:
        raise EntryError(
            "it is neither GPX nor NMEA 0183", allowed="GPX 1.1, or sentences RMC and VTG",
            cure="export the track as GPX from the receiver", where=where,
        )  # fmt: skip
    if not track.times:
        raise _no_times(track, where)
    _put_in_order(track)
    return track


def is_log(start: bytes) -> bool:
    """True where a file begins like a log of a receiver, not like a table.

    :param start: its first ``SNIFFED`` bytes.
    """
    return _is_nmea(start) or _is_gpx(start)


def _is_nmea(start: bytes) -> bool:
    marks = (b"$GP", b"$GN")
    return _first_sign(start) in (b"$", b"!", b"\\") or any(m in start[:SNIFFED] for m in marks)


def _is_gpx(start: bytes) -> bool:
    return _first_sign(start) == b"<" or start[:2] in (b"\xff\xfe", b"\xfe\xff")


def _first_sign(start: bytes) -> bytes:
    return start.lstrip(b"\xef\xbb\xbf \t\r\n")[:1]


def _no_times(track: Track, where: str) -> EntryError:
    untimed = track.dropped.get(_UNTIMED, 0)
    if untimed:
        return EntryError(
            f"none of its {untimed} points has a time, so no speed can be told",
            allowed="a recorded track, each point with its time",
            cure="export the recorded track, not a route or a drawn line", where=where,
        )  # fmt: skip
    said = "; ".join(f"{count} {why}" for why, count in track.dropped.items())
    return EntryError(
        "it holds no point that can be used" + (f" ({said})" if said else ""),
        allowed="a recorded track", cure="export it again from the receiver", where=where,
    )  # fmt: skip


def _pieces(
    file: IO[bytes], size: int, where: str, progress: Progress | None, cancelled: Cancelled | None
) -> Iterator[bytes]:
    done = 0
    while True:
        if cancelled is not None and cancelled():
            raise ReadingCancelledError
        piece = file.read(_CHUNK)
        if not piece:
            break
        done += len(piece)
        if done > LARGEST_BYTES:
            raise EntryError(
                "it is too large", allowed=f"at most {LARGEST_BYTES // 1_000_000} MB",
                cure="cut the track to the day of the trial", where=where,
            )  # fmt: skip
        yield piece
        if progress is not None and size > 0:
            progress(min(1.0, done / size))


_UNTIMED = "points without a time"
_NO_PLACE = "points without a place that can be read"
_BAD_TIME = "points whose time cannot be read"
_TOO_FAST = f"points faster than {FASTEST_KN:.0f} kn"
_NO_TRACK = "way points and route points, which are no track"
_NOT_LATER = "points not later than the one before"


# ------------------------------------------------------------------ GPX


@dataclass(slots=True)
class _Fix:
    """One point of a track as it stands in the file."""

    time: float
    lat: float
    lon: float
    speed_kn: float | None
    segment: int


class _GpxReader:
    """Takes the events of the parser and keeps what a track needs.

    :param where: how the file is called in errors.
    """

    def __init__(self, where: str) -> None:
        self.where = where
        self.fixes: list[_Fix] = []
        self.dropped: Counter[str] = Counter()
        self.is_zoneless = False
        self._path: list[str] = []
        self._text: list[str] = []
        self._long = 0
        self._at: tuple[str, str] | None = None
        self._time, self._speed = "", ""
        self._segment = 0

    def doctype(self, *_: object) -> None:
        """Refuse a document type declaration: none belongs in GPX, and entities grow from it."""
        raise EntryError(
            "it holds a document type declaration, which GPX has none of",
            cure="export the track again; do not open this file elsewhere", where=self.where,
        )  # fmt: skip

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Take the start of an element."""
        space, _, tag = name.rpartition(" ")
        if not self._path and (tag != "gpx" or (space and space not in _GPX)):
            raise EntryError(
                f"it is XML but not GPX: its root is {tag[:40]}", allowed="GPX 1.1",
                cure="export the track as GPX", where=self.where,
            )  # fmt: skip
        if len(self._path) >= _DEEPEST:
            raise EntryError(
                "its elements are nested too deep", allowed=f"at most {_DEEPEST}",
                cure="export the track again", where=self.where,
            )  # fmt: skip
        self._path.append(tag)
        self._text, self._long = [], 0
        if tag == "trkpt":
            self._at = (attributes.get("lat", ""), attributes.get("lon", ""))
            self._time = self._speed = ""
        elif tag == "trkseg":
            self._segment += 1
        elif tag in ("wpt", "rtept"):
            self.dropped[_NO_TRACK] += 1

    def characters(self, text: str) -> None:
        """Take a piece of text, as far as anything of it is wanted."""
        if self._at is not None and self._long < _LONGEST_TEXT:
            self._text.append(text)
            self._long += len(text)

    def end(self, name: str) -> None:
        """Take the end of an element."""
        tag = name.rpartition(" ")[2]
        self._path.pop()
        if self._at is None:
            return
        if tag == "time" and self._path[-1] == "trkpt":
            self._time = "".join(self._text).strip()
        elif tag == "speed":
            self._speed = "".join(self._text).strip()
        elif tag == "trkpt":
            self._point(*self._at)
            self._at = None

    def _point(self, lat_text: str, lon_text: str) -> None:
        if not self._time:
            self.dropped[_UNTIMED] += 1
            return
        lat, lon = _number(lat_text), _number(lon_text)
        if lat is None or lon is None or not (-90.0 <= lat <= 90.0 and -180.0 <= lon <= 180.0):
            self.dropped[_NO_PLACE] += 1
            return
        time = self._seconds(self._time)
        if time is None:
            self.dropped[_BAD_TIME] += 1
            return
        if len(self.fixes) >= MOST_POINTS:
            raise EntryError(
                "it holds too many points", allowed=f"at most {MOST_POINTS}",
                cure="cut the track to the day of the trial", where=self.where,
            )  # fmt: skip
        metres = _number(self._speed)
        speed = convert(metres, "m/s", Kind.SPEED) if metres is not None and metres >= 0 else None
        self.fixes.append(_Fix(time, lat, lon, speed, self._segment))

    def _seconds(self, text: str) -> float | None:
        try:
            moment = datetime.datetime.fromisoformat(text)
        except ValueError:
            return None
        if moment.tzinfo is None:
            self.is_zoneless = True
            moment = moment.replace(tzinfo=datetime.UTC)
        return moment.timestamp()


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _read_gpx(first: bytes, pieces: Iterator[bytes], where: str) -> Track:
    from xml.parsers import expat

    reader = _GpxReader(where)
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartDoctypeDeclHandler = reader.doctype
    parser.EntityDeclHandler = reader.doctype
    parser.StartElementHandler = reader.start
    parser.EndElementHandler = reader.end
    parser.CharacterDataHandler = reader.characters
    parser.buffer_text = True
    try:
        parser.Parse(first, False)  # noqa: FBT003 - the library's own signature
        for piece in pieces:
            parser.Parse(piece, False)  # noqa: FBT003
        parser.Parse(b"", True)  # noqa: FBT003
    except expat.ExpatError as error:
        raise EntryError(
            f"line {error.lineno} is not well-formed XML", allowed="a whole GPX file",
            cure="export or copy it again; it may be cut off", where=where,
        ) from None  # fmt: skip
    return _from_fixes(reader)


def _from_fixes(reader: _GpxReader) -> Track:
    """Return the track with the file's own speeds, or those between neighbouring points."""
    track = Track("GPX", dropped=reader.dropped)
    if reader.is_zoneless:
        track.notes.append("Times without a zone are taken as UTC.")
    found = _ways(reader.fixes, track.dropped)
    doubt = _speeds_doubted(found)
    if doubt:
        track.notes.append(doubt)
    told = 0
    for fix, way, course in found:
        own = None if doubt else fix.speed_kn
        speed = own if own is not None else way
        if speed is None:
            track.dropped["first points of a stretch, from which no speed follows"] += 1
        elif speed > FASTEST_KN:
            track.dropped[_TOO_FAST] += 1
        else:
            told += own is not None
            track.times.append(fix.time)
            track.speeds.append(speed)
            track.courses.append(course)
    if told:
        track.notes.append(f"{told} speeds are the file's own, in m/s.")
    if told < len(track.times):
        track.notes.append(f"{len(track.times) - told} speeds come from the way between points.")
    return track


def _ways(fixes: Sequence[_Fix], dropped: Counter[str]) -> list[tuple[_Fix, float | None, float]]:
    """Return every point later than the one before, with speed and course from that one.

    The first point of a segment has neither: nothing is known of the way to it.
    """
    found: list[tuple[_Fix, float | None, float]] = []
    before: _Fix | None = None
    for fix in fixes:
        if before is not None and before.segment != fix.segment:
            before = None
        if before is None:
            found.append((fix, None, math.nan))
        elif fix.time <= before.time:
            dropped[_NOT_LATER] += 1
            continue
        else:
            metres, course = _way(before, fix)
            found.append((fix, metres / (fix.time - before.time) / KNOT_M_S, course))
        before = fix
    return found


def _speeds_doubted(found: Sequence[tuple[_Fix, float | None, float]]) -> str:
    """Return why the file's own speeds are not used, "" where they agree with the way made good.

    Some programs write km/h or knots where GPX has metres a second.
    """
    pairs = [
        (fix.speed_kn, way)
        for fix, way, _ in found
        if fix.speed_kn is not None and way is not None and way <= FASTEST_KN
    ]
    made = math.fsum(way for _, way in pairs)
    if len(pairs) < _LEAST_PAIRS or made < len(pairs):  # drifting: a knot on the mean is no test
        return ""
    ratio = math.fsum(own for own, _ in pairs) / made
    if 0.8 <= ratio <= 1.25:
        return ""
    units = {name: convert(1.0, "m/s", Kind.SPEED) / convert(1.0, name, Kind.SPEED)
             for name in ("km/h", "kn", "mph")}  # fmt: skip
    like = next((name for name, size in units.items() if abs(ratio / size - 1.0) < 0.1), "")
    guess = f"; they look like {like}" if like else ""
    return (
        f"The file's own speeds are {ratio:.2g} times the way made good, so they are not in m/s"
        f"{guess}. They are not used."
    )


def _way(one: _Fix, other: _Fix) -> tuple[float, float]:
    """Return distance in metres and course in degrees between near points, on the WGS 84 ellipsoid.

    From the radii of curvature at the mean latitude: good to a millionth over a kilometre.
    """
    radius, flat = _EARTH_M
    square = flat * (2.0 - flat)
    middle = math.radians((one.lat + other.lat) / 2.0)
    bent = 1.0 - square * math.sin(middle) ** 2
    along = radius * (1.0 - square) / bent**1.5
    across = radius / math.sqrt(bent) * math.cos(middle)
    north = math.radians(other.lat - one.lat) * along
    east = math.radians((other.lon - one.lon + 540.0) % 360.0 - 180.0) * across
    return math.hypot(north, east), math.degrees(math.atan2(east, north)) % 360.0


# ------------------------------------------------------------------ NMEA 0183


class _NmeaReader:
    """Takes sentences one by one."""

    def __init__(self) -> None:
        self.track = Track("NMEA")
        self._moment: float | None = None
        self._is_told = False
        self.unchecked = 0

    def line(self, raw: bytes) -> None:
        """Take one line; what is no sentence, wrong or not needed is counted."""
        text = raw.decode("ascii", "replace").strip()
        if not text:
            return
        drop = self.track.dropped
        place = text.find("$")
        if place < 0:
            drop["lines that are no sentence with $"] += 1
            return
        body, star, check = text[place + 1 :].partition("*")
        fields = body.split(",")
        kind = fields[0][-3:]
        if len(text) > _LONGEST_LINE:
            drop["lines that are too long"] += 1
        elif kind not in ("RMC", "VTG"):
            drop["sentences other than RMC and VTG"] += 1
        elif star and not _checks(body, check):
            drop["sentences whose checksum is wrong"] += 1
        else:
            self.unchecked += not star
            if kind == "RMC":
                self._rmc(fields)
            else:
                self._vtg(fields)

    def _rmc(self, fields: list[str]) -> None:
        drop = self.track.dropped
        if len(fields) < 10:
            drop["RMC sentences that are cut off"] += 1
            return
        self._moment, self._is_told = None, False
        if fields[2] != "A":
            drop["RMC sentences marked as not valid"] += 1
            return
        moment = _nmea_time(fields[1], fields[9])
        if moment is None:
            drop[_UNTIMED if not (fields[1] and fields[9]) else _BAD_TIME] += 1
            return
        self._moment = moment
        speed = _number(fields[7])
        if speed is not None:
            self._add(speed, _number(fields[8]))
        # Without a speed of its own a VTG behind it may bring one.

    def _vtg(self, fields: list[str]) -> None:
        drop = self.track.dropped
        knots, kilometres = _vtg_speeds(fields)
        if knots is None and kilometres is None:
            drop["VTG sentences without a speed"] += 1
            return
        if knots is not None and kilometres is not None:
            other = convert(kilometres, "km/h", Kind.SPEED)
            if abs(knots - other) > 0.1 + 0.01 * knots:
                drop["VTG sentences whose knots and km/h do not agree"] += 1
                return
        if self._moment is None:
            drop["VTG sentences without an RMC before that says the time"] += 1
        elif self._is_told:
            drop["VTG sentences whose RMC has the speed already"] += 1
        else:
            speed = knots if knots is not None else convert(kilometres or 0.0, "km/h", Kind.SPEED)
            self._add(speed, _number(fields[1]))

    def _add(self, speed: float, course: float | None) -> None:
        track, moment = self.track, self._moment
        self._is_told = True
        if moment is None:
            return
        if not 0.0 <= speed <= FASTEST_KN:
            track.dropped[_TOO_FAST] += 1
        elif track.times and moment <= track.times[-1]:
            track.dropped[_NOT_LATER] += 1
        elif len(track.times) >= MOST_POINTS:
            track.dropped[f"points beyond {MOST_POINTS}"] += 1
        else:
            track.times.append(moment)
            track.speeds.append(speed)
            track.courses.append(math.nan if course is None else course % 360.0)


def _vtg_speeds(fields: list[str]) -> tuple[float | None, float | None]:
    """Return the speeds that a VTG names N (knots) and K (km/h)."""
    found: dict[str, float] = {}
    for value, unit in pairwise(fields[1:]):
        number = _number(value)
        if unit in ("N", "K") and number is not None and number >= 0.0:
            found[unit] = number
    return found.get("N"), found.get("K")


def _checks(body: str, check: str) -> bool:
    total = reduce(xor, body.encode("ascii", "replace"), 0)
    return check[:2].upper() == f"{total:02X}"


def _nmea_time(clock: str, date: str) -> float | None:
    """Return seconds since 1970 from hhmmss.ss and ddmmyy; years below 80 are of this century."""
    if not (clock[:6].isdigit() and len(date) == 6 and date.isdigit() and clock.isascii()):
        return None
    year = int(date[4:])
    rest = _number("0" + clock[6:]) if clock[6:] else 0.0
    try:
        moment = datetime.datetime(
            year + (2000 if year < 80 else 1900), int(date[2:4]), int(date[:2]),
            int(clock[:2]), int(clock[2:4]), int(clock[4:6]), tzinfo=datetime.UTC,
        )  # fmt: skip
    except ValueError:
        return None
    return None if rest is None else moment.timestamp() + rest


def _read_nmea(first: bytes, pieces: Iterator[bytes]) -> Track:
    reader = _NmeaReader()
    rest = b""
    for piece in _chain(first, pieces):
        *lines, rest = (rest + piece).replace(b"\r", b"\n").split(b"\n")
        for line in lines:
            reader.line(line)
        if len(rest) > _CHUNK:  # a line that never ends
            reader.track.dropped["lines that are too long"] += 1
            rest = b""
    reader.line(rest)
    if reader.unchecked:
        reader.track.notes.append(f"{reader.unchecked} sentences had no checksum and were read.")
    return reader.track


def _chain(first: bytes, pieces: Iterator[bytes]) -> Iterator[bytes]:
    yield first
    yield from pieces


def _put_in_order(track: Track) -> None:
    """Sort a track whose segments do not follow each other in time, and say so."""
    if all(a <= b for a, b in pairwise(track.times)):
        return
    order = sorted(range(len(track.times)), key=track.times.__getitem__)
    track.times = [track.times[i] for i in order]
    track.speeds = [track.speeds[i] for i in order]
    track.courses = [track.courses[i] for i in order]
    track.notes.append("Its parts were not in order of time and were sorted.")
