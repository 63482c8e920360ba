"""Section properties against published tables and closed forms; the source stands beside each."""

import numpy as np
import pytest

from jointcalc.section import parse_profile
from jointcalc.section.families.channel import Channel, LippedChannel, Zed
from jointcalc.section.families.hat import Hat
from jointcalc.section.families.tube import Bar, RectTube, Tube


def printed(value, shown):
    """Within half a unit of the last printed digit (and a hair for halves)."""
    digits = len(shown.partition(".")[2])
    return value == pytest.approx(float(shown), abs=0.5001 * 10**-digits)


RHS = [
    # published EN 10219 section table, read: h, b, t mm; A cm2, I_x, I_y, I_t cm4
    (40, 20, 2, "2.14", "4.05", "1.34", "3.45"),
    (40, 20, 3, "3.01", "5.21", "1.68", "4.57"),
    (40, 30, 2, "2.54", "5.49", "3.51", "7.07"),
    (50, 30, 2, "2.94", "9.54", "4.29", "9.77"),
    (50, 30, 2.5, "3.59", "11.30", "5.05", "11.74"),
    (50, 30, 3, "4.21", "12.83", "5.70", "13.53"),
    (60, 40, 2, "3.74", "18.41", "9.83", "20.70"),
]


@pytest.mark.parametrize("row", RHS)
def test_rectangular_hollow_sections_of_en_10219(row):
    h, b, t, area, i_x, i_y, i_t = row
    p = RectTube(depth=float(h), width=float(b), t=float(t)).properties()
    assert printed(p.area[0] / 100, area)
    assert printed(p.I_y[0] / 1e4, i_x)
    assert printed(p.I_z[0] / 1e4, i_y)
    assert printed(p.J[0] / 1e4, i_t)


def test_moduli_and_mass_of_a_rectangular_hollow_section():
    """50 x 30 x 2: W_el 3.81 and 2.86, W_pl 4.74 and 3.33 cm3, 2.31 kg/m, published EN 10219 table, read."""
    p = RectTube(depth=50.0, width=30.0, t=2.0).properties()
    assert printed(p.W_y_top[0] / 1e3, "3.81")
    assert printed(p.W_y_bottom[0] / 1e3, "3.81")
    assert printed(p.W_z_left[0] / 1e3, "2.86")
    assert printed(p.W_z_right[0] / 1e3, "2.86")
    assert printed(p.W_pl_y[0] / 1e3, "4.74")
    assert printed(p.W_pl_z[0] / 1e3, "3.33")
    assert printed(p.mass_per_metre[0], "2.31")


def test_corner_radii_of_en_10219():
    """Outside radius 2.0 t to 6 mm, 2.5 t to 10 mm, 3.0 t above; the published table of the standard, read."""
    for t, outside in ((3.0, 6.0), (6.0, 12.0), (8.0, 20.0), (12.0, 36.0)):
        assert RectTube(depth=200.0, width=200.0, t=t).radius + t == pytest.approx(outside)


@pytest.mark.parametrize(
    "row",
    [
        # published cold-formed tube table, read: D, t; A cm2, I cm4, W_el, W_pl cm3
        (33.7, 2.0, "1.99", "2.51", "1.49", "2.01"),
        (42.4, 2.0, "2.54", "5.19", "2.45", "3.27"),
        (42.4, 2.5, "3.13", "6.26", "2.95", "3.99"),
        (48.3, 3.0, "4.27", "11.0", "4.55", "6.17"),
    ],
)
def test_circular_hollow_sections(row):
    od, t, area, i, w_el, w_pl = row
    p = Tube(od=od, t=t).properties()
    assert printed(p.area[0] / 100, area)
    assert printed(p.I_y[0] / 1e4, i)
    assert printed(p.I_z[0] / 1e4, i)
    assert printed(p.W_y_top[0] / 1e3, w_el)
    assert printed(p.W_pl_y[0] / 1e3, w_pl)
    assert printed(p.W_pl_z[0] / 1e3, w_pl)


@pytest.mark.parametrize(
    "ratio, k",
    [(1, 0.141), (1.5, 0.196), (2, 0.229), (3, 0.263), (4, 0.281), (6, 0.298), (8, 0.307)],
)
def test_torsion_constant_of_rectangles(ratio, k):
    """J = k h b^3, the classic table of rectangles, read; both ways up."""
    for bar in (Bar(depth=4.0 * ratio, width=4.0), Bar(depth=4.0, width=4.0 * ratio)):
        assert bar.properties().J[0] / (4.0 * ratio * 64) == pytest.approx(k, abs=0.0008)


def sharp(family):
    return family.properties(sharp=True)


def test_shear_centre_and_warping_of_a_channel():
    """e = 3 b^2/(h + 6 b) from the web; C_w = t b^3 h^2/12 (3b + 2h)/(6b + h); standard texts, from memory."""
    t, b, h = 1.5, 23.25, 48.5
    p = sharp(Channel(web=h + t, flange=b + t / 2, t=t, r=2.0))
    assert t / 2 - p.y_shear_centre[0] == pytest.approx(3 * b**2 / (h + 6 * b), rel=1e-12)
    assert p.shear_centre_height[0] == pytest.approx((h + t) / 2, rel=1e-12)
    assert p.C_w[0] == pytest.approx(t * b**3 * h**2 / 12 * (3 * b + 2 * h) / (6 * b + h), rel=1e-12)


def test_shear_centre_and_warping_of_a_zed():
    """At the centroid; C_w = t b^3 h^2/12 (b + 2h)/(2b + h); standard texts, from memory."""
    t, b, h = 1.2, 19.0, 38.0
    p = sharp(Zed(web=h + t, flange=b + t / 2, t=t, r=2.0))
    assert p.y_shear_centre[0] == pytest.approx(t / 2, rel=1e-12)
    assert p.z_shear_centre[0] == pytest.approx((h + t) / 2, rel=1e-12)
    assert p.C_w[0] == pytest.approx(t * b**3 * h**2 / 12 * (b + 2 * h) / (2 * b + h), rel=1e-12)


def test_shear_centre_of_a_hat():
    """Roark's table of shear centres, from memory: crown a, webs b, lips c turned outwards."""
    a, b, c, t = 38.8, 28.8, 20.6, 1.2
    e = b * (3 * a**2 * b + 6 * a**2 * c - 8 * c**3) / (a**3 + 6 * a**2 * b + 6 * a**2 * c + 8 * c**3 + 12 * a * c**2)
    assert e == pytest.approx(9.183, abs=5e-4)
    p = sharp(Hat(top=a + t, depth=b + t, flange=c - t / 2, t=t, r=2.0))
    assert p.z_shear_centre[0] - (b + t / 2) == pytest.approx(e, rel=1e-12)
    assert p.y_shear_centre[0] == pytest.approx(0.0, abs=1e-9)


def test_shear_centre_of_a_lipped_channel():
    """The same table with lips turned inwards: the last sign of the denominator is minus (from memory)."""
    a, b, c, t = 58.8, 28.8, 9.4, 1.2
    e = b * (3 * a**2 * b + 6 * a**2 * c - 8 * c**3) / (a**3 + 6 * a**2 * b + 6 * a**2 * c + 8 * c**3 - 12 * a * c**2)
    p = sharp(LippedChannel(web=a + t, flange=b + t, lip=c + t / 2, t=t, r=2.0))
    assert t / 2 - p.y_shear_centre[0] == pytest.approx(e, rel=1e-12)


def test_bend_geometry_of_the_hancock_hat():
    """Hancock, Murray and Ellifritt, ex. 4.6.2, read: r 0.155, u 0.243, c 0.099, web flat 3.63 in, h/t 60.5."""
    t, inside = 0.060, 0.125
    hat = Hat(top=9.0, depth=4.0, flange=3.0 - t, t=t, r=inside)
    outline = hat.outline()
    i = outline.index("left crown bend")
    r = outline.radius[i][0]
    assert r == pytest.approx(0.155, abs=5e-4)
    p = hat.properties()
    u = p._lengths[i][0]
    assert u == pytest.approx(0.243, abs=5e-4)
    # centroid of the line arc along its bisector, seen along one leg: c/r = 2/pi of the mid-line radius
    line = outline.polyline(i, points=4001)
    mid, ds = (line[1:] + line[:-1]) / 2, np.hypot(*np.diff(line, axis=0).T)
    centre_y, top = -(9.0 / 2 - t - inside), 4.0 - t - inside
    assert (mid[:, 1] * ds).sum() / ds.sum() - top == pytest.approx(0.099, abs=5e-4)
    assert centre_y - (mid[:, 0] * ds).sum() / ds.sum() == pytest.approx(0.099, abs=5e-4)
    web = hat.flats_and_bends().flat("left web").length[0]
    assert web == pytest.approx(3.63, abs=5e-4)
    assert web / t == pytest.approx(60.5, abs=0.05)


def test_rectangular_cell_by_bredt():
    """J = 2 b^2 h^2/(b/t_1 + h/t_2) for a mid-line rectangle, torsion table, read; flow T/(2 A_m)."""
    b, h, t = 30.0, 40.0, 0.8
    p = parse_profile(f"box:width={b + t}mm,depth={h + t}mm,t={t}mm,r=0mm").properties(sharp=True)
    assert p.J_cells[0] == pytest.approx(2 * b**2 * h**2 / (b / t + h / t), rel=1e-12)
    assert p.J_open[0] == pytest.approx(2 * (b + h) * t**3 / 3, rel=1e-12)
    assert p.enclosed_area[0] == pytest.approx(b * h, rel=1e-12)
    share = p.J_cells[0] / p.J[0]
    assert np.abs(p.torsion_flow(1e5)[:, 0]) == pytest.approx(1e5 / (2 * b * h) * share, rel=1e-12)


def test_two_cells_share_their_wall():
    """Two square cells side by side, all walls alike: no flow in the middle wall, so J is that of the outer ring.

    Symmetry makes both cells twist with the same flow (any strength-of-materials text, derivation).
    """
    from jointcalc.section.properties import Properties
    from jointcalc.section.tracer import Tracer

    a, t = 20.0, 1.0
    pen = Tracer()
    pen.start(0.0, 0.0, 0.0, t=t)
    pen.go(a, "bottom left", "a").go(a, "bottom right", "a").turn(np.pi / 2).go(a, "right", "a")
    pen.turn(np.pi / 2).go(a, "top right", "a").go(a, "top left", "a").turn(np.pi / 2).go(a, "left", "a", close=0)
    middle = pen.outline()
    assert len(middle.tree.loops) == 1
    pen.pen.y, pen.pen.z, pen.pen.node = a, 0.0, 1
    pen.pen.cos, pen.pen.sin = 0.0, 1.0
    pen.go(a, "middle", "a", close=4)
    p = Properties(pen.outline())
    assert len(p.outline.tree.loops) == 2
    assert p.J_cells[0] == pytest.approx(4 * (2 * a * a) ** 2 / (6 * a / t), rel=1e-12)
    flow = p.torsion_flow(1000.0)
    assert flow[p.outline.index("middle"), 0] == pytest.approx(0.0, abs=1e-9)
    assert p.y_shear_centre[0] == pytest.approx(a, rel=1e-9)
    assert p.z_shear_centre[0] == pytest.approx(a / 2, rel=1e-9)


def test_two_unequal_cells_against_the_two_equations():
    """Cells of different walls: Bredt's two equations written out by hand and solved."""
    from jointcalc.section.properties import Properties
    from jointcalc.section.tracer import Tracer

    a, b, h, t, s = 20.0, 35.0, 15.0, 1.0, 2.5
    pen = Tracer()
    pen.start(0.0, 0.0, 0.0, t=t)
    pen.go(a, "1", "a").go(b, "2", "a").turn(np.pi / 2).go(h, "3", "a")
    pen.turn(np.pi / 2).go(b, "4", "a").go(a, "5", "a").turn(np.pi / 2).go(h, "6", "a", close=0)
    pen.t = s
    pen.pen.y, pen.pen.z, pen.pen.node = a, 0.0, 1
    pen.pen.cos, pen.pen.sin = 0.0, 1.0
    pen.go(h, "middle", "a", close=4)
    p = Properties(pen.outline())
    left, right, wall = (2 * a + h) / t + h / s, (2 * b + h) / t + h / s, h / s
    flows = np.linalg.solve([[left, -wall], [-wall, right]], [2 * a * h, 2 * b * h])
    assert p.J_cells[0] == pytest.approx(2 * (flows @ [a * h, b * h]), rel=1e-12)


def test_shear_flow_of_an_i_like_box_at_mid_depth():
    """q = V S/(2 I) at the middle of each web of a box (elementary theory), and it adds up to V."""
    b, h, t = 30.0, 40.0, 1.0
    p = parse_profile(f"box:width={b + t}mm,depth={h + t}mm,t={t}mm,r=0mm").properties(sharp=True)
    q = p.shear_flow(V_z=1000.0)
    i = 2 * (b * t * (h / 2) ** 2 + t * h**3 / 12)
    web = p.outline.index("right wall")
    middle = 1000.0 * (b * t * h / 2 + 2 * t * (h / 2) ** 2 / 2) / (2 * i)
    assert abs(q.along(web, 0.5)[0]) == pytest.approx(middle, rel=1e-12)
    at_corner = 1000.0 * (b * t * h / 2) / (2 * i)
    assert abs(q.start[web, 0]) == pytest.approx(at_corner, rel=1e-12)
    assert abs(q.force[web, 0]) == pytest.approx(500.0, rel=1e-12)


@pytest.mark.parametrize("text", [
    "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm",
    "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm",
    "channel:web=50mm,flange=25mm,t=1.5mm,r=2mm",
    "zed:web=40mm,flange=20mm,t=1.2mm,r=2mm",
    "angle:leg=30mm,foot=25mm,t=2mm,r=2mm",
    "lap:left=60mm,overlap=25mm,right=60mm,t=1mm,step=10mm,r=2mm",
    "rect-tube:depth=50mm,width=30mm,t=2mm",
    "tube:od=38mm,t=2mm",
])  # fmt: skip
def test_shear_flow_is_in_equilibrium_with_the_force(text):
    """Forces along the mid-line add up to V, and their moment puts V at the shear centre.

    The shear centre comes from the sectorial coordinate, the flow from equilibrium along the wall: two
    derivations that share nothing but the geometry.
    """
    p = parse_profile(text).properties()
    for v_y, v_z in ((1000.0, 0.0), (0.0, 1000.0)):
        q = p.shear_flow(V_y=v_y, V_z=v_z)
        f_y, f_z, moment = q.resultants()
        assert [f_y[0], f_z[0]] == pytest.approx([v_y, v_z], abs=1e-6)
        assert moment[0] == pytest.approx(v_z * p.y_shear_centre[0] - v_y * p.z_shear_centre[0], abs=1e-5)
        for i in range(len(p.outline.segments)):
            assert q.along(i, 1.0)[0] == pytest.approx(q.end[i, 0], abs=1e-9)


def test_flow_at_the_weld_lines_of_a_hat_on_a_skin():
    """q = V Q/I shared by two weld lines, Q the first moment of the skin (elementary theory)."""
    p = parse_profile(
        "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"
    ).properties()
    q = p.shear_flow(V_z=900.0)
    first = 120.0 * 1.0 * (p.z_centroid[0] - 0.5)
    expected = 900.0 * first / p.I_y[0] / 2
    # 0.5 %: the flow uses the second moment of the mid-line, so that it adds up to V
    assert abs(q.at("left weld")[0]) == pytest.approx(expected, rel=5e-3)
    assert abs(q.at("right weld")[0]) == pytest.approx(expected, rel=5e-3)


def test_cell_closes_at_the_weld_line():
    """A weld line nearer the tip encloses more: J goes up by some 20 % from bend to tip (derivation)."""

    def j(weld):
        return (
            parse_profile(f"hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld={weld}mm")
            .properties()
            .J[0]
        )

    def bredt(weld):
        # mid-line cell by hand: rounded crown, upright webs, flanges and skin to the weld line
        m = 2.6
        y, top, low = 20 - 0.6, 1 + 30 - 0.6, 1 + 0.6
        line = 20 + 20 - weld
        arc = m * np.pi / 2
        hat = 2 * ((line - y - m) + arc + (top - low - 2 * m) + arc) + 2 * (y - m)
        corner = m * m * (1 - np.pi / 4)
        # left and right: area over flange level under the crown, corners cut at the crown and added at the flange
        area = 2 * y * (top - low) - 2 * corner + 2 * corner + 2 * line * (low - 0.5)
        return 4 * area**2 / (hat / 1.2 + 2 * line / 1.0)

    for weld in (2, 9, 17):
        p = parse_profile(
            f"hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld={weld}mm"
        ).properties()
        assert p.J_cells[0] == pytest.approx(bredt(weld), rel=1e-9)
    assert j(2) / j(17) > 1.1 or j(17) / j(2) > 1.1


def test_principal_axes_of_an_equal_angle():
    """An equal angle has its principal axes at 45 degrees (symmetry), larger moment across the bisector."""
    p = parse_profile("angle:leg=40mm,t=2mm,r=2mm").properties()
    assert abs(p.principal_angle[0]) == pytest.approx(np.pi / 4)
    assert p.I_1[0] + p.I_2[0] == pytest.approx(p.I_y[0] + p.I_z[0])
    assert p.I_1[0] * p.I_2[0] == pytest.approx(p.I_y[0] * p.I_z[0] - p.I_yz[0] ** 2)
    # the axis of I_1 is the axis of symmetry of the angle, at right angles to the line joining the tips
    assert p.principal_angle[0] == pytest.approx(np.pi / 4)


def test_modulus_ratio_and_density_of_a_second_material():
    """A strip of half the modulus counts half in area and second moment; its mass is its own (mechanics)."""
    from jointcalc.section.properties import Properties
    from jointcalc.section.tracer import Tracer

    def bars(ratio, density):
        pen = Tracer()
        pen.start(0.0, 0.0, 0.0, t=2.0).go(30.0, "lower", "b")
        a = pen.node
        pen.start(0.0, 20.0, 0.0, t=2.0, ratio=ratio, density=density).go(30.0, "upper", "b")
        pen.weld(a, pen.node, "tie")
        return Properties(pen.outline())

    p = bars(0.5, 2.7e-9)
    assert p.area[0] == pytest.approx(90.0)
    assert p.area_true[0] == pytest.approx(120.0)
    assert p.z_centroid[0] == pytest.approx(30 * 20 / 90)
    assert p.I_y[0] == pytest.approx(90 * 0 + 60 * (20 / 3) ** 2 + 30 * (40 / 3) ** 2 + 90 * 4 / 12)
    assert p.mass_per_metre[0] == pytest.approx((60 * 7.85e-9 + 60 * 2.7e-9) * 1e6)


@pytest.mark.parametrize("sweep", [0.7, np.pi / 2, np.pi])
def test_ring_sector_exactly(sweep):
    """Centroid 2/3 sin a/a (R^3 - r^3)/(R^2 - r^2), second moments (R^4 - r^4)/4 (a +- sin a cos a): mechanics handbooks."""
    from jointcalc.section.properties import Properties
    from jointcalc.section.tracer import Tracer

    outer, inner, a = 10.0, 5.0, sweep / 2
    pen = Tracer()
    # starts at -a from the y axis, runs counter-clockwise to +a about the origin
    pen.start(7.5 * np.cos(a), -7.5 * np.sin(a), np.pi / 2 - a, t=outer - inner)
    pen.bend(sweep, inner, "sector")
    p = Properties(pen.outline())
    area = a * (outer**2 - inner**2)
    c = 2 / 3 * np.sin(a) / a * (outer**3 - inner**3) / (outer**2 - inner**2)
    assert p.area[0] == pytest.approx(area, rel=1e-12)
    assert p.y_centroid[0] == pytest.approx(c, rel=1e-12)
    assert p.z_centroid[0] == pytest.approx(0.0, abs=1e-12)
    quarter = (outer**4 - inner**4) / 4
    assert p.I_y[0] == pytest.approx(quarter * (a - np.sin(a) * np.cos(a)), rel=1e-12)
    assert p.I_z[0] == pytest.approx(quarter * (a + np.sin(a) * np.cos(a)) - area * c**2, rel=1e-9)
    assert p.y_right[0] == pytest.approx(outer, rel=1e-12)
    assert p.z_top[0] == pytest.approx(outer * np.sin(a), rel=1e-12)
    assert p.y_left[0] == pytest.approx(inner * np.cos(a), abs=1e-9)


@pytest.mark.parametrize("text", [
    "angle:leg=50mm,foot=25mm,t=2mm,r=2mm", "angle:leg=20mm,foot=45mm,t=2mm,r=2mm", "zed:web=40mm,flange=30mm,t=1.2mm",
    "lap:left=60mm,overlap=25mm,right=60mm,t=1mm,step=10mm,r=2mm",
])  # fmt: skip
def test_principal_axes_against_eigenvalues(text):
    """Eigenvalues and the first eigenvector of the inertia tensor (linear algebra)."""
    p = parse_profile(text).properties()
    tensor = np.array([[p.I_y[0], -p.I_yz[0]], [-p.I_yz[0], p.I_z[0]]])
    values, vectors = np.linalg.eigh(tensor)
    assert p.I_2[0] == pytest.approx(values[0], rel=1e-9)
    assert p.I_1[0] == pytest.approx(values[1], rel=1e-9)
    axis = np.array([np.cos(p.principal_angle[0]), np.sin(p.principal_angle[0])])
    assert abs(axis @ vectors[:, 1]) == pytest.approx(1.0, rel=1e-9)
    assert p.i_2[0] == pytest.approx(np.sqrt(values[0] / p.area[0]), rel=1e-9)
    assert p.i_y[0] ** 2 * p.area[0] == pytest.approx(p.I_y[0])
    assert p.i_z[0] ** 2 * p.area[0] == pytest.approx(p.I_z[0])


@pytest.mark.parametrize("t", [0.5, 4.0, 12.0, 19.0])
def test_plastic_modulus_of_thick_tubes(t):
    """(D^3 - d^3)/6, exact for a ring; bends are cut in eighths, which costs less than 0.1 %."""
    p = Tube(od=40.0, t=t).properties()
    assert p.W_pl_y[0] == pytest.approx((40.0**3 - (40 - 2 * t) ** 3) / 6, rel=1e-3)


def test_polar_radius_of_gyration_about_the_shear_centre():
    """i_0^2 = i_y^2 + i_z^2 + distance of the shear centre from the centroid squared (mechanics)."""
    p = parse_profile("channel:web=50mm,flange=25mm,t=1.5mm,r=2mm").properties()
    gap = p.y_shear_centre[0] - p.y_centroid[0]
    assert abs(gap) > 10
    assert p.i_0[0] ** 2 == pytest.approx(p.i_y[0] ** 2 + p.i_z[0] ** 2 + gap**2)


def test_strong_part_draws_the_plastic_axis():
    """Two equal strips, the upper of twice the strength: the axis lies inside it, and the moments of its halves count."""
    from jointcalc.section.properties import Properties
    from jointcalc.section.tracer import Tracer

    pen = Tracer()
    pen.start(0.0, 0.0, 0.0, t=2.0).go(30.0, "lower", "b")
    a = pen.node
    pen.start(0.0, 20.0, 0.0, t=2.0, strength=2.0).go(30.0, "upper", "b")
    pen.weld(a, pen.node, "tie")
    p = Properties(pen.outline())
    # 60 + 2 f 60 = 2 (1 - f) 60 -> f = 1/4: axis at 19.5
    by_hand = 60 * 19.5 + 2 * (15 * 0.25 + 45 * 0.75)
    assert p.W_pl_y[0] == pytest.approx(by_hand, rel=1e-9)


@pytest.mark.parametrize("alpha", [0.6, np.pi / 2, 2.5, np.pi - 1e-6])
@pytest.mark.parametrize("pieces", [1, 3])
def test_warping_of_a_circular_arc(alpha, pieces):
    """Thin arc of half angle alpha (Roark, table of torsion constants, from memory): shear centre at
    2 R (sin a - a cos a)/(a - sin a cos a) from the circle's centre,
    C_w = 2 t R^5/3 (a^3 - 6 (sin a - a cos a)^2/(a - sin a cos a)); the slit tube is the case a = pi."""
    from jointcalc.section.properties import Properties
    from jointcalc.section.tracer import Tracer

    t, radius = 0.8, 20.0
    pen = Tracer()
    # off the origin, so that no term hides
    pen.start(3.0 + radius * np.cos(alpha), -7.0 - radius * np.sin(alpha), np.pi / 2 - alpha, t=t)
    for i in range(pieces):
        pen.bend(2 * alpha / pieces, radius - t / 2, f"arc {i}")
    p = Properties(pen.outline())
    lift = np.sin(alpha) - alpha * np.cos(alpha)
    spread = alpha - np.sin(alpha) * np.cos(alpha)
    assert p.y_shear_centre[0] - 3.0 == pytest.approx(2 * radius * lift / spread, rel=1e-8)
    assert p.z_shear_centre[0] == pytest.approx(-7.0, abs=1e-7)
    c_w = 2 * t * radius**5 / 3 * (alpha**3 - 6 * lift**2 / spread)
    assert p.C_w[0] == pytest.approx(c_w, rel=1e-5)


def test_warping_of_closed_cells():
    """Rectangular cell of uniform wall: corner value b h (b - h)/(4 (b + h)), linear between, so
    C_w = t b^2 h^2 (b - h)^2/(24 (b + h)) (derivation); a round tube does not warp."""
    b, h, t = 30.0, 50.0, 0.8
    p = parse_profile(f"box:width={b + t}mm,depth={h + t}mm,t={t}mm,r=0mm").properties(sharp=True)
    assert p.C_w[0] == pytest.approx(t * b**2 * h**2 * (b - h) ** 2 / (24 * (b + h)), rel=1e-9)
    tube = Tube(od=40.0, t=2.0).properties()
    assert tube.C_w[0] == pytest.approx(0.0, abs=1e-6 * 38.0**6)
