"""Logs made up for tests: GPX and NMEA 0183 of one and the same voyage."""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Sequence

START = datetime.datetime(2026, 5, 16, 12, 0, 0, tzinfo=datetime.UTC)
Legs = Sequence[tuple[float, float]]
"""Speed in knots and course in degrees, one pair a second."""


def places(legs: Legs) -> list[tuple[float, float]]:
    """Latitude and longitude after each second, on the ellipsoid of WGS 84."""
    lat, lon = 54.0, 10.0
    found = [(lat, lon)]
    e2 = 0.00669437999014
    for knots, course in legs:
        metres, turn = knots * 1852.0 / 3600.0, math.radians(course)
        bent = 1.0 - e2 * math.sin(math.radians(lat)) ** 2
        lat += math.degrees(metres * math.cos(turn) / (6378137.0 * (1.0 - e2) / bent**1.5))
        radius = 6378137.0 / math.sqrt(bent) * math.cos(math.radians(lat))
        lon += math.degrees(metres * math.sin(turn) / radius)
        found.append((lat, lon))
    return found


def moment(second: int) -> datetime.datetime:
    return START + datetime.timedelta(seconds=second)


def point(second: int, lat: float, lon: float, inner: str = "", *, timed: bool = True) -> str:
    time = f"<time>{moment(second):%Y-%m-%dT%H:%M:%SZ}</time>" if timed else ""
    return f'<trkpt lat="{lat:.8f}" lon="{lon:.8f}"><ele>1.5</ele>{time}{inner}</trkpt>\n'


def gpx(legs: Legs, *, timed: bool = True, inner: Callable[[int], str] = lambda _: "") -> bytes:
    """A GPX 1.1 file of a voyage."""
    body = "".join(
        point(k, lat, lon, inner(k), timed=timed) for k, (lat, lon) in enumerate(places(legs))
    )
    return wrapped(f"<trk><name>trial</name><trkseg>\n{body}</trkseg></trk>")


def wrapped(body: str, before: str = "") -> bytes:
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n{before}<gpx version="1.1" creator="test" '
        f'xmlns="http://www.topografix.com/GPX/1/1">{body}</gpx>\n'
    ).encode()


def sentence(body: str) -> str:
    """A sentence with its checksum: the exclusive or of what stands between $ and *."""
    total = 0
    for char in body:
        total ^= ord(char)
    return f"${body}*{total:02X}\r\n"


def rmc(second: int, lat: float, lon: float, knots: str, course: float, status: str = "A") -> str:
    when = moment(second)

    def angle(value: float, digits: int, ends: str) -> str:
        whole, minutes = divmod(abs(value) * 60.0, 60.0)
        return f"{int(whole):0{digits}d}{minutes:08.5f},{ends[value < 0.0]}"

    return sentence(
        f"GPRMC,{when:%H%M%S}.00,{status},{angle(lat, 2, 'NS')},{angle(lon, 3, 'EW')},{knots},"
        f"{course:.1f},{when:%d%m%y},,,A"
    )


def nmea(legs: Legs) -> bytes:
    """The same voyage as RMC and VTG sentences, with a GGA between."""
    lines = []
    for k, ((knots, course), (lat, lon)) in enumerate(zip(legs, places(legs)[1:], strict=True)):
        lines.append(rmc(k + 1, lat, lon, f"{knots:.2f}", course))
        lines.append(sentence("GPGGA,120000.00,,,,,1,09,0.8,1.5,M,45.0,M,,"))
        lines.append(sentence(f"GPVTG,{course:.1f},T,,M,{knots:.2f},N,{knots * 1.852:.3f},K,A"))
    return "".join(lines).encode("ascii")
