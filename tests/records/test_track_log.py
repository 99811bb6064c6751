"""GPX and NMEA 0183 logs: against general readers, and against files made to hurt."""

from __future__ import annotations

import io
import math
from itertools import pairwise

import gpxpy
import pynmea2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.errors import EntryError
from rigfit.records.track_log import FASTEST_KN, ReadingCancelledError, is_log, read_track
from tests.records.tracks import START, gpx, moment, nmea, places, point, rmc, sentence, wrapped

LEGS = [(6.0 + 0.2 * k, 90.0) for k in range(120)] + [(28.0, 268.0)] * 60
VOYAGES = st.lists(st.tuples(st.floats(1.0, 50.0), st.floats(0.0, 359.9)), min_size=2, max_size=40)


def told(data: bytes) -> str:
    return " ".join(read_track(data).told)


# ------------------------------------------------------------------ against general readers


@settings(max_examples=25, deadline=None)
@given(VOYAGES)
def test_speeds_from_gpx_are_those_that_were_run(legs) -> None:
    found = read_track(gpx(legs))
    assert found.kind == "GPX"
    assert found.times == [moment(k + 1).timestamp() for k in range(len(legs))]
    # Places have eight decimals, a millimetre: 0.003 kn in a second.
    assert found.speeds == pytest.approx([knots for knots, _ in legs], abs=0.01)
    off = [
        abs((a - b + 180.0) % 360.0 - 180.0) for a, (_, b) in zip(found.courses, legs, strict=True)
    ]
    assert max(off) < 0.5


def test_gpx_against_a_general_reader() -> None:
    """gpxpy (Apache-2.0) reads the same points; its speeds are on a sphere, so within 0.6 %."""
    data = gpx(LEGS)
    (track,) = gpxpy.parse(data.decode()).tracks
    points = track.segments[0].points
    found = read_track(data)
    assert len(points) == len(found.times) + 1
    assert found.times == [p.time.timestamp() for p in points[1:]]
    theirs = [b.speed_between(a) * 3600.0 / 1852.0 for a, b in pairwise(points)]
    assert found.speeds == pytest.approx(theirs, rel=0.006)


@settings(max_examples=25, deadline=None)
@given(VOYAGES)
def test_nmea_against_a_general_reader(legs) -> None:
    """pynmea2 (MIT) parses every sentence with its checksum."""
    data = nmea(legs)
    parsed = [pynmea2.parse(line, check=True) for line in data.decode().split()]
    wanted = [item for item in parsed if isinstance(item, pynmea2.types.talker.RMC)]
    found = read_track(data)
    assert found.kind == "NMEA"
    assert found.times == [item.datetime.timestamp() for item in wanted]
    assert found.speeds == [item.spd_over_grnd for item in wanted]
    assert found.courses == [item.true_course for item in wanted]
    assert sum(found.dropped.values()) == 2 * len(legs)


@pytest.mark.parametrize(
    ("lat", "north", "metres"),
    [
        # Length of a degree on WGS 84, in textbooks of navigation and geodesy (from memory, firm).
        (0.0, True, 110_574.0), (60.0, True, 111_412.0),
        (0.0, False, 111_320.0), (60.0, False, 55_800.0),
    ],
)  # fmt: skip
def test_a_degree_is_as_long_as_the_textbooks_say(lat: float, north: bool, metres: float) -> None:
    """A ten-thousandth of a degree in a second."""
    step = 1e-4
    ends = [(lat - step / 2, 10.0), (lat + step / 2, 10.0)]
    if not north:
        ends = [(lat, 10.0), (lat, 10.0 + step)]
    found = read_track(odd(*(point(k, *end) for k, end in enumerate(ends))))
    assert found.speeds == pytest.approx([metres * step * 3600.0 / 1852.0], rel=2e-5)


def test_gpx_and_nmea_of_one_voyage_agree() -> None:
    one, other = read_track(gpx(LEGS)), read_track(nmea(LEGS))
    assert one.times == other.times
    assert one.speeds == pytest.approx(other.speeds, abs=0.02)


# ------------------------------------------------------------------ GPX


@pytest.mark.parametrize(
    ("factor", "unit"),
    [(1.852, "km/h"), (1.0, "kn"), (1852.0 / 1609.344, "mph"), (10.0, "")],
)
def test_speeds_of_a_file_that_are_not_in_metres_a_second_are_named(
    factor: float, unit: str
) -> None:
    """The schema has metres a second; some programs write something else."""
    legs = [(20.0, 90.0)] * 30
    found = read_track(gpx(legs, inner=lambda _: f"<speed>{20.0 * factor}</speed>"))
    said = " ".join(found.told)
    assert "not in m/s" in said
    assert (f"they look like {unit}" in said) == bool(unit)
    assert found.speeds == pytest.approx([20.0] * 30, abs=0.01)
    metres = 20.0 * 1852.0 / 3600.0
    right = read_track(gpx(legs, inner=lambda _: f"<speed>{metres}</speed>"))
    assert "not in m/s" not in " ".join(right.told)
    assert right.speeds == pytest.approx([20.0] * 31)


def test_way_points_and_routes_are_no_track_and_counted() -> None:
    points = "".join(f'<{tag} lat="54" lon="10"/>' for tag in ("wpt", "wpt"))
    with pytest.raises(EntryError, match="2 way points and route points"):
        read_track(wrapped(points))


def test_a_speed_in_the_file_comes_before_the_way_between_points() -> None:
    found = read_track(gpx(LEGS[:3], inner=lambda k: f"<speed>{10.0 + k}</speed>"))
    assert found.speeds == pytest.approx([metres * 3600.0 / 1852.0 for metres in (10, 11, 12, 13)])
    assert "the file's own" in " ".join(found.told)


def test_points_without_time_are_counted_and_a_file_of_them_is_an_error_by_name() -> None:
    with pytest.raises(EntryError, match=r"none of its 181 points has a time") as caught:
        read_track(gpx(LEGS, timed=False), "day.gpx")
    assert caught.value.where == "day.gpx"
    at = places(LEGS[:4])
    body = "".join(point(k, *p, timed=k != 2) for k, p in enumerate(at))
    assert "1 not used: points without a time." in told(
        wrapped(f"<trk><trkseg>{body}</trkseg></trk>")
    )


def odd(*points: str) -> bytes:
    return wrapped("<trk><trkseg>" + "".join(points) + "</trkseg></trk>")


@pytest.mark.parametrize(
    ("bad", "why"),
    [
        (point(3, 95.0, 10.0), "place that can be read"),
        ('<trkpt lat="x" lon="10"><time>2026-05-16T12:00:03Z</time></trkpt>', "place"),
        ('<trkpt lon="10"><time>2026-05-16T12:00:03Z</time></trkpt>', "place"),
        ('<trkpt lat="nan" lon="10"><time>2026-05-16T12:00:03Z</time></trkpt>', "place"),
        ('<trkpt lat="54" lon="10"><time>yesterday</time></trkpt>', "time cannot be read"),
        (point(3, 55.0, 10.0), f"faster than {FASTEST_KN:.0f} kn"),
        (point(1, 54.0001, 10.0), "not later than the one before"),
    ],
)
def test_a_point_that_is_not_used_is_counted_with_its_reason(bad: str, why: str) -> None:
    good = [point(k, *p) for k, p in enumerate(places(LEGS[:8]))]
    found = read_track(odd(*good[:3], bad, *good[4:]))
    assert any(why in line for line in found.told)
    assert len(found.times) + sum(found.dropped.values()) == 9


def test_nothing_is_told_of_the_way_between_two_parts_of_a_track() -> None:
    at = places([(20.0, 90.0)] * 20)
    parts = [point(k, *p) for k, p in enumerate(at)]
    body = "<trk><trkseg>" + "".join(parts[:5]) + "</trkseg><trkseg>" + "".join(parts[12:])
    found = read_track(wrapped(body + "</trkseg></trk>"))
    assert found.speeds == pytest.approx([20.0] * 12, abs=0.01)
    assert found.dropped["first points of a stretch, from which no speed follows"] == 2


def test_parts_out_of_order_are_sorted_and_times_without_zone_said() -> None:
    at = places([(20.0, 90.0)] * 20)
    parts = [point(k, *p).replace("Z</time>", "</time>") for k, p in enumerate(at)]
    body = "".join(parts[10:]) + "</trkseg><trkseg>" + "".join(parts[:8])
    found = read_track(wrapped(f"<trk><trkseg>{body}</trkseg></trk>"))
    assert found.times == sorted(found.times)
    assert any("sorted" in line for line in found.told)
    assert any("taken as UTC" in line for line in found.told)


# ------------------------------------------------------------------ NMEA 0183


@pytest.mark.parametrize(
    ("bad", "why"),
    [
        (rmc(5, 54.0, 10.0, "20.0", 90.0).replace("*", "0*"), "checksum is wrong"),
        (rmc(5, 54.0, 10.0, "20.0", 90.0, "V"), "not valid"),
        (rmc(5, 54.0, 10.0, "400", 90.0), "faster than"),
        (rmc(0, 54.0, 10.0, "20.0", 90.0), "not later"),
        (sentence("GPRMC,120005.00,A"), "cut off"),
        (sentence("GPRMC,250099.00,A,5400.0,N,01000.0,E,20.0,90.0,160526,,,A"), "time"),
        (sentence("GPRMC,,A,5400.0,N,01000.0,E,20.0,90.0,,,,A"), "without a time"),
        ("hello world\r\n", "no sentence"),
        ("!AIVDM,1,1,,A,13aEOK?P00PD2wVMdLDRhgvL289?,0*26\r\n", "no sentence"),
        ("$" + "x" * 2000 + "\r\n", "too long"),
        (sentence("GPGSV,3,1,11"), "other than RMC and VTG"),
    ],
)
def test_a_sentence_that_is_not_used_is_counted_with_its_reason(bad: str, why: str) -> None:
    good = rmc(1, 54.0, 10.0, "20.0", 90.0), rmc(9, 54.0, 10.0, "21.0", 90.0)
    found = read_track((good[0] + bad + good[1]).encode())
    assert found.speeds == [20.0, 21.0]
    assert sum(found.dropped.values()) == 1
    assert any(why in line for line in found.told)


def test_vtg_brings_the_speed_an_rmc_has_not_and_mixed_units_must_agree() -> None:
    blank = rmc(1, 54.0, 10.0, "", 90.0)
    knots = sentence("GPVTG,90.0,T,,M,20.00,N,37.040,K,A")
    only_km = sentence("GPVTG,90.0,T,,M,,N,37.040,K,A")
    mixed = sentence("GPVTG,90.0,T,,M,37.04,N,37.040,K,A")
    for vtg in (knots, only_km):
        assert read_track((blank + vtg).encode()).speeds == pytest.approx([20.0])
    with pytest.raises(EntryError, match="knots and km/h do not agree"):
        read_track((blank + mixed).encode())
    with pytest.raises(EntryError, match="without an RMC before"):
        read_track(knots.encode())


def test_sentences_behind_a_logger_s_own_stamp_and_without_checksum_are_read() -> None:
    lines = [f"12:00:0{k} " + rmc(k, 54.0, 10.0, "20.0", 90.0) for k in range(1, 4)]
    lines.append(rmc(5, 54.0, 10.0, "20.0", 90.0).partition("*")[0] + "\n")
    found = read_track("".join(lines).encode())
    assert len(found.times) == 4
    assert any("no checksum" in line for line in found.told)


# ------------------------------------------------------------------ files made to hurt

BOMB = '<!DOCTYPE gpx [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>\n'
LEAK = '<!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/hostname">]>\n'


@pytest.mark.parametrize("before", [BOMB, LEAK, "<!DOCTYPE gpx>\n"])
def test_a_document_type_is_refused_before_anything_of_it_is_expanded(before: str) -> None:
    with pytest.raises(EntryError, match="document type declaration"):
        read_track(wrapped("<metadata><name>&b;</name></metadata>", before))


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "neither GPX nor NMEA"),
        (b"\x00\x01\x02", "neither GPX nor NMEA"),
        (b"rpm,speed\n3000,20\n", "neither GPX nor NMEA"),
        (b"<html><body/></html>", "not GPX"),
        (b"<gpx xmlns='urn:other'/>", "not GPX"),
        (gpx(LEGS)[:-200], "not well-formed"),
        (b"<gpx>" + b"<a>" * 100, "nested too deep"),
        (wrapped(""), "no point that can be used"),
        (b"<gpx>\xff\xfe</gpx>", "not well-formed"),
    ],
)
def test_a_file_that_is_no_log_is_refused_in_words(data: bytes, why: str) -> None:
    with pytest.raises(EntryError, match=why):
        read_track(data, "x.gpx")


def test_a_file_that_is_too_large_is_refused_without_being_read(monkeypatch) -> None:
    monkeypatch.setattr("rigfit.records.track_log.LARGEST_BYTES", 100_000)

    class Endless(io.RawIOBase):
        done = 0

        def read(self, size=-1):
            self.done += size
            return (b"<gpx>" if self.done == size else b"") + b" " * size

    source = Endless()
    with pytest.raises(EntryError, match="too large"):
        read_track(source)
    assert source.done < 400_000


def test_too_many_points_are_refused(monkeypatch) -> None:
    monkeypatch.setattr("rigfit.records.track_log.MOST_POINTS", 50)
    with pytest.raises(EntryError, match="too many points"):
        read_track(gpx(LEGS))


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=400), st.sampled_from((b"", b"<gpx>", b"$GPRMC,", b"<?xml")))
def test_no_bytes_bring_anything_but_a_track_or_a_sentence(data: bytes, start: bytes) -> None:
    try:
        found = read_track(start + data)
    except EntryError as error:
        assert error.sentence()
    else:
        assert all(math.isfinite(speed) for speed in found.speeds)


# ------------------------------------------------------------------ progress


def test_progress_grows_to_the_whole_and_cancelling_ends_it() -> None:
    data = gpx([(20.0, 90.0)] * 3000)
    seen: list[float] = []
    found = read_track(io.BytesIO(data), progress=seen.append, size=len(data))
    assert len(found.times) == 3000
    assert seen == sorted(seen)
    assert seen[-1] == 1.0
    assert len(seen) > 3
    with pytest.raises(ReadingCancelledError):
        read_track(io.BytesIO(data), cancelled=lambda: len(seen) > 2)


def test_the_start_is_the_day_it_says() -> None:
    assert read_track(nmea(LEGS[:1])).times == [START.timestamp() + 1.0]


@pytest.mark.parametrize(
    ("start", "is_it"),
    [
        (b"$GPRMC,1", True),
        (b"!AIVDM", True),
        (b"\xef\xbb\xbf<?xml", True),
        (b"log 1\n$GNRMC", True),
        (b"rpm;speed", False),
        (b"", False),
    ],
)
def test_logs_are_told_from_tables(start: bytes, is_it: bool) -> None:
    assert is_log(start) is is_it
