"""Flotation against closed forms, textbook problems and a mesh library, each with its source.

References
----------
Worked problem after Derrett, Ship Stability, on sailorsknowit.com. Mark: read. The page's last
    line, 6.75 m forward, is wrong by its own rule, 6.56 m, and not used.
Nicholls's Seamanship, archive.org. Mark: read.
Box formulas: KB = T/2, BM = B^2/(12 T), BML = L^2/(12 T), TPC = 1.025 Aw/100,
    MCTC = W GML/(100 L), trim = w d/MCTC. Mark: from memory (firm), applied.
trimesh (MIT), a general mesh library: volume and centroid of a hull's mesh cut by a plane. It
    shares no code with rigfit.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from rigfit.rigging.flotation import (
    DENSITY_KG_L,
    Load,
    Plane,
    PointMass,
    displaced,
    equilibrium,
)
from rigfit.rigging.hull_fields import Afloat, Hull, Station
from rigfit.rigging.hull_form import FewMeasures, HullForm, few_measures_form
from rigfit.rigging.load_fields import MassItem, OldEngine
from tests.builders import reading, sample_job
from tests.rigging.afloat_jobs import floated

FOOT = 304.8
LONG_TON_KG = 1016.0469088
SALT = DENSITY_KG_L["salt"]


def box(length: float, beam: float, depth: float, stations: int = 21) -> HullForm:
    half = beam / 2.0
    return HullForm(length, (((half, 0.0), (half, depth)),) * stations)


def prism(length: float, beam: float, depth: float, stations: int = 21) -> HullForm:
    """Return a hull with a triangular section, the point down."""
    return HullForm(length, (((0.0, 0.0), (beam / 2.0, depth)),) * stations)


def wedge(length: float, beam: float, depth: float, stations: int = 21) -> HullForm:
    """Return a box whose breadth falls to nothing at the stem: a wedge in plan."""
    shares = [1.0 - index / (stations - 1) for index in range(stations)]
    return HullForm(
        length,
        tuple(((beam / 2.0 * share, 0.0), (beam / 2.0 * share, depth)) for share in shares),
    )


# F-box-MCTC: box 60 x 10 x 4 m draught, KG 3, sea water; 20 t moved 30 m.
def test_the_box_of_sixty_metres() -> None:
    form = box(60_000.0, 10_000.0, 8_000.0)
    state = equilibrium(form, Load(2_460_000.0, 30_000.0, 3_000.0), SALT)
    assert state.plane.height_mm == pytest.approx(4_000.0, rel=1e-9)
    area_m2 = state.wet.area / 1e6
    assert SALT * area_m2 / 100.0 == pytest.approx(6.15, rel=5e-4)
    bml = state.gml_mm - (state.wet.centre_mm[2] - 3_000.0)
    assert bml == pytest.approx(75_000.0, rel=5e-4)
    assert state.gml_mm == pytest.approx(74_000.0, rel=5e-4)
    mctc = 2_460.0 * state.gml_mm / 1000.0 / (100.0 * 60.0)
    assert mctc == pytest.approx(30.34, rel=5e-4)
    # The rule is linear; the real equilibrium agrees within the square of the trim.
    here, there = (
        PointMass("w", 20_000.0, 45_000.0, 3_000.0),
        PointMass("w", 20_000.0, 15_000.0, 3_000.0),
    )
    after = equilibrium(form, state.load.changed((there,), (here,)), SALT)
    trim_cm = -after.plane.slope_ahead * 60_000.0 / 10.0
    assert trim_cm == pytest.approx(19.776, rel=5e-4)


# F-nicholls-BM: box of 36 ft beam at 18 ft draught: BM 6 ft, KM 15 ft.
def test_metacentre_of_a_box_after_nicholls() -> None:
    form = box(200.0 * FOOT, 36.0 * FOOT, 30.0 * FOOT)
    volume_l = 200.0 * 36.0 * 18.0 * FOOT**3 / 1e6
    state = equilibrium(form, Load(volume_l, 100.0 * FOOT, 9.0 * FOOT), 1.0)
    kb = state.wet.centre_mm[2]
    km = state.gm_mm + 9.0 * FOOT
    assert (km - kb) / FOOT == pytest.approx(6.0, abs=0.01)
    assert km / FOOT == pytest.approx(15.0, abs=0.01)


# F-nicholls-trim: inch trim moment 480 foot tons, 40 tons moved 36 ft: 3 in, 1.5 in each end.
def test_trim_after_nicholls_on_a_box_of_that_inch_trim_moment() -> None:
    # A box whose moment to change trim one inch is 480 foot tons: W GML = 480 x 12 L.
    length, draught = 200.0 * FOOT, 8.0 * FOOT
    gml = length**2 / (12.0 * draught)
    mass_tons = 480.0 * 12.0 * length / gml
    volume = mass_tons * LONG_TON_KG * 1e6
    beam = volume / (length * draught)
    form = box(length, beam, 20.0 * FOOT)
    # KG = KB makes GML = BML exactly.
    state = equilibrium(form, Load(volume / 1e6, length / 2.0, draught / 2.0), 1.0)
    moved = 40.0 * LONG_TON_KG
    here = PointMass("w", moved, length / 2.0 + 18.0 * FOOT, draught / 2.0)
    there = PointMass("w", moved, length / 2.0 - 18.0 * FOOT, draught / 2.0)
    after = equilibrium(form, state.load.changed((there,), (here,)), 1.0)
    aft = (after.plane.at(0.0) - draught) / 25.4
    fore = (after.plane.at(length) - draught) / 25.4
    assert aft - fore == pytest.approx(3.0, abs=0.001)
    assert aft == pytest.approx(1.5, abs=0.001)


# F-derrett-rise: 220 t discharged 24 m forward of CF, TPC 10, MCTC 250, L 120 m, CF amidships.
def test_rise_and_trim_after_derrett_on_a_box_of_that_tpc_and_mctc() -> None:
    length = 120_000.0
    area_m2 = 10.0 * 100.0 / SALT
    beam = area_m2 / 120.0 * 1000.0
    # W GML = 250 x 100 L; on a box W BML = rho B L^3 / 12, the rest is KB - KG.
    draught = 7_000.0
    mass_t = SALT * area_m2 * draught / 1000.0
    gml = 250.0 * 100.0 * 120.0 / mass_t * 1000.0
    bml = length**2 / (12.0 * draught)
    above = draught / 2.0 - (gml - bml)
    form = box(length, beam, 14_000.0)
    load = Load(mass_t * 1000.0, length / 2.0, above)
    out = PointMass("cargo", 220_000.0, length / 2.0 + 24_000.0, above)
    # Small amounts follow the linear rule; 1/100 of the cargo, times 100, is that rule.
    small = PointMass("cargo", 2_200.0, out.ahead_mm, above)
    wet = displaced(form, Plane(draught))
    assert SALT * wet.area / 1e8 == pytest.approx(10.0, rel=1e-9)
    after = _linear(form, load, small, SALT)
    rise_cm = 100.0 * (draught - after.at(length / 2.0)) / 10.0
    trim_cm = -100.0 * after.slope_ahead * length / 10.0
    assert rise_cm == pytest.approx(22.0, abs=0.01)
    assert trim_cm == pytest.approx(21.12, abs=0.01)


def _linear(form: HullForm, load: Load, out: PointMass, density: float) -> Plane:
    """Return the plane after a discharge by rigfit's own water plane: sinkage and GML."""
    wet = displaced(form, Plane(7_000.0))
    sink = -out.mass_kg / density * 1e6 / wet.area
    middle = wet.ax / wet.area
    gml = (wet.axx - wet.area * middle**2) / wet.volume + wet.centre_mm[2] - load.above_mm
    slope = -out.mass_kg * (out.ahead_mm - middle) / (load.mass_kg * gml)
    return Plane(7_000.0 + sink - slope * middle, slope)


def test_the_boat_sized_box() -> None:
    """FACTS F, own: 4 x 2 m, 800 kg, 100 kg more 2 m aft, KG 0.3, fresh water."""
    form = box(4_000.0, 2_000.0, 600.0)
    load = Load(800.0, 2_000.0, 300.0).changed((PointMass("w", 100.0, 0.0, 300.0),))
    state = equilibrium(form, load, 1.0)
    assert state.plane.at(2_000.0) - 100.0 == pytest.approx(12.5, abs=0.05)
    assert state.gml_mm == pytest.approx(11_608.0, abs=5.0)
    assert -state.plane.slope_ahead * 4_000.0 == pytest.approx(76.6, abs=0.1)


# Closed forms of a prism with a triangular section: V = L B T^2 / (2 D), KB = 2 T / 3,
# BM = b^3 L / (12 V) with b = B T / D.
@pytest.mark.parametrize("draught", [50.0, 200.0, 399.0])
def test_a_triangular_prism(draught: float) -> None:
    form = prism(5_000.0, 1_800.0, 400.0)
    wet = displaced(form, Plane(draught))
    breadth = 1_800.0 * draught / 400.0
    volume = 5_000.0 * breadth * draught / 2.0
    assert wet.volume == pytest.approx(volume, rel=1e-12)
    assert wet.centre_mm == pytest.approx((2_500.0, 0.0, 2.0 * draught / 3.0), rel=1e-12)
    assert wet.ayy == pytest.approx(breadth**3 * 5_000.0 / 12.0, rel=1e-12)


# Closed forms of a wedge in plan: V = L B T / 2, LCB = L / 3, IL about its centre = B L^3 / 36.
def test_a_wedge() -> None:
    form = wedge(6_000.0, 2_000.0, 500.0)
    wet = displaced(form, Plane(300.0))
    assert wet.volume == pytest.approx(6_000.0 * 2_000.0 * 300.0 / 2.0, rel=1e-12)
    assert wet.centre_mm == pytest.approx((2_000.0, 0.0, 150.0), rel=1e-12)
    own = wet.axx - wet.area * (wet.ax / wet.area) ** 2
    assert own == pytest.approx(2_000.0 * 6_000.0**3 / 36.0, rel=1e-12)


# A box listed by a small mass moved across: tan(list) = w d / (W GM), exact where KG = KM - GM
# counts the wall-sided rise BM tan^2 / 2.
def test_a_listed_box_follows_the_wall_sided_formula() -> None:
    form = box(4_000.0, 2_000.0, 900.0)
    kg, mass, moment = 400.0, 1_600.0, 1_600.0 * 60.0
    state = equilibrium(form, Load(mass, 2_000.0, kg, moment / mass), 1.0)
    t = math.tan(math.radians(state.plane.list_deg))
    draught = 200.0
    bm = 2_000.0**2 / (12.0 * draught)
    gm = draught / 2.0 + bm - kg
    # Wall-sided: GZ = sin (GM + BM tan^2 / 2); at rest it is (moment / mass) cos.
    assert t * (gm + bm * t * t / 2.0) == pytest.approx(moment / mass, rel=1e-7)


FEW = FewMeasures(5_200.0, 1_650.0, 1_600.0, 1_950.0, 230.0, 280.0, 620.0, 700.0, 980.0)


def mesh_of(form: HullForm):
    """Return a closed mesh through the sections of a form, the deck flat from side to side."""
    import trimesh

    rings = []
    for index, part in enumerate(form.sections):
        x = form.ahead_mm(index)
        top = part[-1][1]
        right = [(x, y, z) for y, z in part]
        left = [(x, -y, z) for y, z in reversed(part)]
        rings.append([*right, (x, 0.0, top), *left])
    rings = np.array(rings)
    count, around = rings.shape[:2]
    faces = []
    for i in range(count - 1):
        for k in range(around):
            a, b = i * around + k, i * around + (k + 1) % around
            c, d = a + around, b + around
            faces += [(a, b, d), (a, d, c)]
    points = list(rings.reshape(-1, 3))
    for ring, flip in ((0, True), (count - 1, False)):
        middle = len(points)
        points.append(rings[ring].mean(axis=0))
        for k in range(around):
            a, b = ring * around + k, ring * around + (k + 1) % around
            faces.append((a, middle, b) if flip else (a, b, middle))
    # Degenerate triangles at the stem and doubled keel points go with merging.
    mesh = trimesh.Trimesh(points, faces, process=True)
    mesh.update_faces(mesh.nondegenerate_faces())
    if mesh.volume < 0.0:
        mesh.invert()
    return mesh


PLANES = [
    Plane(250.0),
    Plane(210.0, 0.02),
    Plane(280.0, -0.03),
    Plane(240.0, 0.01, 0.08),
    Plane(260.0, -0.02, -0.15),
]


@pytest.mark.parametrize("plane", PLANES, ids=str)
def test_volume_and_centroid_against_a_mesh_library(plane: Plane) -> None:
    form = few_measures_form(FEW, 81)
    mesh = mesh_of(form)
    volume, centre = _cut(mesh, plane)
    wet = displaced(form, plane)
    assert wet.volume == pytest.approx(volume, rel=2e-3)
    assert wet.centre_mm[0] == pytest.approx(centre[0], abs=5.0)
    assert wet.centre_mm[1] == pytest.approx(centre[1], abs=1.0)
    assert wet.centre_mm[2] == pytest.approx(centre[2], abs=1.0)


def _cut(mesh, plane: Plane):
    """Return volume and centroid of a mesh below a plane, by signed tetrahedra from the plane.

    The mesh library cuts the triangles; with the apex in the plane the cap adds no volume.
    """
    normal = np.array([plane.slope_ahead, plane.slope_across, -1.0])
    apex = np.array([0.0, 0.0, plane.height_mm])
    part = mesh.slice_plane(apex, normal)
    corners = part.vertices[part.faces] - apex
    six = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))
    volume = six.sum() / 6.0
    centre = apex + (corners.sum(axis=1) / 4.0 * six[:, None]).sum(axis=0) / six.sum()
    return volume, centre


def test_the_mesh_of_the_whole_hull_is_closed_and_agrees() -> None:
    form = few_measures_form(FEW, 81)
    mesh = mesh_of(form)
    wet = displaced(form, Plane(form.top_mm() + 10.0))
    assert wet.volume == pytest.approx(mesh.volume, rel=2e-3)


def test_twenty_one_sections_are_enough() -> None:
    coarse, fine = few_measures_form(FEW), few_measures_form(FEW, 161)
    for plane in PLANES:
        one, other = displaced(coarse, plane), displaced(fine, plane)
        assert one.volume == pytest.approx(other.volume, rel=2e-3)
        assert one.centre_mm[0] == pytest.approx(other.centre_mm[0], abs=5.0)


def test_a_box_read_afloat_sinks_and_trims_by_the_textbook_all_the_way_through() -> None:
    """From readings to answer: stations of a box 3.6 x 1.3 m, heights read, 26 kg more aft.

    By hand, linear: sinkage w / (rho A) at the middle; trim w d / (W GML), BML = L^2 / (12 T).
    """
    part = {
        "keel_height": reading(0.0, 0.0), "chine_half": reading(650.0, 0.0),
        "chine_height": reading(0.0, 0.0), "sheer_half": reading(650.0, 0.0),
        "sheer_height": reading(450.0, 0.0),
    }  # fmt: skip
    stations = tuple(Station(ahead=reading(x, 0.0), **part) for x in (0.0, 1800.0, 3600.0))
    mean = 160.0
    found = floated(
        boat__length=reading(3600.0, 5.0), stations=stations, marks=(),
        hull=Hull(depth_bow=reading(450.0, 1.0), centre_height=reading(300.0, 10.0)),
        afloat=Afloat(
            water="fresh", transom_top=reading(_top_mm() - mean, 1.0),
            bow=reading(450.0 - mean, 1.0), engine_mass=reading(26.0, 0.1),
        ),
        old_engine=OldEngine(
            mass=reading(26.0, 0.1), ahead_of_transom=reading(-200.0, 1.0),
            above_keel=reading(300.0, 1.0),
        ),
        masses=(
            MassItem(
                "more", "other", reading(20.0, 0.1), ahead_of_transom=reading(-200.0, 1.0),
                above_keel=reading(300.0, 1.0), when="after",
            ),
        ),
        engine__mass=reading(26.0, 0.1),
    )  # fmt: skip
    assert found.before is not None
    weight = 3.6 * 1.3 * mean
    assert found.before.load.mass_kg == pytest.approx(weight, rel=1e-6)
    new = next(item for item in found.added if item.name.startswith("engine"))
    changes = [(20.0, -200.0), (26.0, new.ahead_mm), (-26.0, -200.0)]
    more = sum(kg for kg, _ in changes)
    moment = sum(kg * (1800.0 - x) for kg, x in changes) / 1000.0
    sink = more / (3.6 * 1.3)
    draught = mean + sink
    lift = sum(kg * z for kg, z in ((20.0, 300.0), (26.0, new.above_mm), (-26.0, 300.0)))
    kg_mm = (weight * 300.0 + lift) / (weight + more)
    gml = 3600.0**2 / (12.0 * draught) + draught / 2.0 - kg_mm
    slope = moment * 1000.0 / ((weight + more) * gml)
    assert found.stern_mm is not None
    assert found.trim_change_deg is not None
    assert found.stern_mm.value == pytest.approx(sink + slope * 1800.0, rel=2e-3)
    assert math.tan(math.radians(found.trim_change_deg.value)) == pytest.approx(slope, rel=2e-3)


def _top_mm() -> float:
    """Height of the sample job's transom top above the keel line."""
    transom = sample_job().transom
    assert transom.height_along_face is not None
    assert transom.rake is not None
    return transom.height_along_face.value * math.cos(math.radians(transom.rake.value))
