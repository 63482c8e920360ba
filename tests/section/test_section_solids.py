"""Area, centroid and second moments of every family against shapely polygons, on random dimensions.

shapely knows nothing of mid-lines: the polygons are drawn in `section_solids` from the outside
dimensions.  Half a per cent is asked; the difference is that of the polygons' arcs.
"""

import numpy as np
import pytest
import section_solids as solids
from hypothesis import given, settings
from hypothesis import strategies as st

from jointcalc.section import FAMILIES


@st.composite
def dimensions(draw, kind):
    """Random dimensions that can be folded, thickness 0.6 to 2.5 mm."""
    t = draw(st.floats(0.6, 2.5))
    r = t * draw(st.floats(0.5, 2.5))
    bend = t + r

    def over(low, high):
        return draw(st.floats(low, high))

    f = {"t": t, "r": r}
    if kind in ("hat", "hat-skin", "beaded-hat"):
        f |= {"top": 2 * bend + over(15, 80), "depth": 2 * bend + over(8, 60), "flange": r + over(8, 30)}
    if kind == "hat-skin":
        f["skin_t"] = over(0.6, 2.0)
        f["weld"] = over(0.2, 0.8) * (f["flange"] - r)
        f["skin"] = f["top"] + 2 * f["flange"] + over(0, 60)
    if kind == "beaded-hat":
        f["bead"] = (f["top"] - 2 * bend) * over(0.3, 0.8)
        f["bead_depth"] = min(f["bead"] * over(0.1, 0.4), 0.8 * (f["depth"] - t))
    if kind in ("channel", "zed", "lipped-channel"):
        f |= {"web": 2 * bend + over(20, 100), "flange": 2 * bend + over(8, 50)}
    if kind == "lipped-channel":
        f["lip"] = bend + over(0.1, 0.3) * (f["web"] - 2 * bend)
        f["bottom"] = 2 * bend + over(8, 50)
    if kind == "angle":
        f |= {"leg": bend + over(10, 60), "foot": bend + over(10, 60)}
    if kind == "lap":
        f |= {"left": over(20, 80), "overlap": over(10, 30), "right": over(20, 80), "t_2": over(0.6, 2.0)}
        f["step"] = draw(st.one_of(st.just(f["t_2"]), st.floats(2 * bend, 25)))
        f["weld"] = f["overlap"] * over(0.2, 0.8)
    if kind in ("box", "rect-tube"):
        f |= {"depth": 2 * bend + over(15, 80), "width": 2 * bend + over(15, 80)}
    if kind == "tube":
        f = {"od": over(20, 80), "t": t}
    if kind == "bar":
        f = {"depth": over(5, 60), "width": over(1, 60)}
    if kind == "points":
        a, b, c = over(20, 50), over(20, 50), over(20, 50)
        tilt = over(0.6, 2.2)
        corners = [(0.0, a), (0.0, 0.0), (b, 0.0), (b + c * np.cos(tilt), c * np.sin(tilt))]
        f |= {"corners": corners}
    return f


def family(kind, f):
    """The package's profile of those dimensions."""
    given_ = {k: v for k, v in f.items() if k != "corners"}
    if kind == "points":
        given_ |= {"ys": tuple(y for y, _ in f["corners"]), "zs": tuple(z for _, z in f["corners"])}
    return FAMILIES[kind](**given_)


def compare(kind, f, tolerance):
    made = family(kind, f)
    made.check()
    p = made.properties()
    area, y, z, i_y, i_z, i_yz = solids.moments(solids.solid(kind, f))
    size = np.sqrt((i_y + i_z) / area)
    assert p.area[0] == pytest.approx(area, rel=tolerance)
    assert p.I_y[0] == pytest.approx(i_y, rel=tolerance)
    assert p.I_z[0] == pytest.approx(i_z, rel=tolerance)
    assert p.I_yz[0] == pytest.approx(i_yz, abs=tolerance * np.sqrt(i_y * i_z))
    if kind != "points":
        assert p.y_centroid[0] == pytest.approx(y, abs=tolerance * size)
        assert p.z_centroid[0] == pytest.approx(z, abs=tolerance * size)
    bounds = solids.solid(kind, f).bounds
    drop = bounds[1] if kind == "points" else 0.0
    assert p.z_bottom[0] == pytest.approx(bounds[1] - drop, abs=1e-2)
    assert p.z_top[0] == pytest.approx(bounds[3] - drop, abs=1e-2)
    assert p.y_left[0] == pytest.approx(bounds[0], abs=1e-2)
    assert p.y_right[0] == pytest.approx(bounds[2], abs=1e-2)
    if kind != "points":
        assert p.centroid_height[0] == pytest.approx(z, abs=tolerance * size)


@pytest.mark.parametrize("kind", sorted(FAMILIES))
def test_against_shapely_on_random_dimensions(kind):
    @settings(max_examples=25, derandomize=True, deadline=None)
    @given(dimensions(kind))
    def run(f):
        compare(kind, f, 0.005)

    run()


@pytest.mark.parametrize("kind", sorted(set(FAMILIES) - {"bar"}))
def test_converges_as_the_sheet_gets_thin(kind):
    """With everything else kept, the difference to the polygon goes down with the thickness, to 0.02 %."""
    base = {
        "hat": {"top": 40, "depth": 30, "flange": 20, "r": 3},
        "hat-skin": {"top": 40, "depth": 30, "flange": 20, "r": 3, "weld": 9, "skin": 120, "skin_t": 1.0},
        "beaded-hat": {"top": 60, "depth": 30, "flange": 20, "r": 3, "bead": 20, "bead_depth": 5},
        "channel": {"web": 50, "flange": 25, "r": 3},
        "zed": {"web": 50, "flange": 25, "r": 3},
        "lipped-channel": {"web": 60, "flange": 30, "lip": 12, "r": 3},
        "angle": {"leg": 40, "foot": 25, "r": 3},
        "lap": {"left": 60, "overlap": 25, "right": 50, "step": 10, "r": 3, "t_2": 1.0},
        "box": {"depth": 40, "width": 30, "r": 3},
        "rect-tube": {"depth": 40, "width": 30, "r": 3},
        "tube": {"od": 40},
        "points": {"corners": [(0, 30), (0, 0), (35, 0), (50, 20)], "r": 3},
    }[kind]
    thinnest = 0.02
    f = {**base, "t": thinnest}
    for sheet in ("skin_t", "t_2"):
        if sheet in f:
            f[sheet] = thinnest
    compare(kind, f, 2e-4)


def test_plastic_moduli_against_the_polygon_cut_in_two():
    """W_pl from shapely: cut the solid at the height that halves its area, by bisection."""
    from shapely.geometry import box

    def plastic(shape):
        left, low, right, high = shape.bounds
        a, b = low, high
        for _ in range(60):
            cut = (a + b) / 2
            below = shape.intersection(box(left - 1, low - 1, right + 1, cut)).area
            a, b = (cut, b) if below < shape.area / 2 else (a, cut)
        upper = shape.intersection(box(left - 1, cut, right + 1, high + 1))
        lower = shape.intersection(box(left - 1, low - 1, right + 1, cut))
        return upper.area * (upper.centroid.y - cut) + lower.area * (cut - lower.centroid.y)

    from shapely.affinity import rotate

    for kind, f in (
        ("hat", {"top": 40, "depth": 30, "flange": 20, "t": 1.2, "r": 2}),
        ("hat", {"top": 90, "depth": 20, "flange": 12, "t": 1.5, "r": 2}),  # axis inside the crown
        ("hat-skin", {"top": 40, "depth": 30, "flange": 20, "t": 1.2, "r": 2, "skin": 120, "skin_t": 1.0, "weld": 9}),
        ("lipped-channel", {"web": 60, "flange": 30, "lip": 12, "t": 1.5, "r": 2}),
        ("angle", {"leg": 40, "foot": 25, "t": 2, "r": 3}),
        ("tube", {"od": 40, "t": 3}),
        ("bar", {"depth": 30, "width": 5}),
    ):
        p = family(kind, f).properties()
        shape = solids.solid(kind, f)
        assert p.W_pl_y[0] == pytest.approx(plastic(shape), rel=2e-3)
        assert p.W_pl_z[0] == pytest.approx(plastic(rotate(shape, 90)), rel=2e-3)


def test_monosymmetry_against_integration_over_the_solid():
    """beta_y and beta_z: third moments of the solid by triangulation, shear centre from the package."""
    from shapely import constrained_delaunay_triangles

    for kind, f in (
        ("hat", {"top": 40, "depth": 30, "flange": 20, "t": 0.3, "r": 2}),
        ("channel", {"web": 50, "flange": 25, "t": 0.3, "r": 2}),
        ("lap", {"left": 60, "overlap": 25, "right": 50, "step": 10, "r": 3, "t": 0.3, "t_2": 0.4, "weld": 12}),
    ):
        p = family(kind, f).properties()
        shape = solids.solid(kind, f)
        third_y = third_z = 0.0
        for piece in constrained_delaunay_triangles(shape).geoms:
            c = np.array(piece.exterior.coords)[:3] - [p.y_centroid[0], p.z_centroid[0]]
            # degree-4 rule with six points (Strang and Fix), exact for a cubic
            for w, g in ((0.22338158967801147, 0.44594849091596489), (0.10995174365532187, 0.09157621350977073)):
                for bary in np.array([[1 - 2 * g, g, g], [g, 1 - 2 * g, g], [g, g, 1 - 2 * g]]):
                    y, z = bary @ c
                    third_z += w * piece.area * z * (y * y + z * z)
                    third_y += w * piece.area * y * (y * y + z * z)
        beta_y = third_z / p.I_y[0] - 2 * (p.z_shear_centre[0] - p.z_centroid[0])
        beta_z = third_y / p.I_z[0] - 2 * (p.y_shear_centre[0] - p.y_centroid[0])
        scale = np.sqrt((p.I_y[0] + p.I_z[0]) / p.area[0])
        assert p.beta_y[0] == pytest.approx(beta_y, abs=0.01 * scale)
        assert p.beta_z[0] == pytest.approx(beta_z, abs=0.01 * scale)
