"""An independent check of stretch, join, limits and strength, from the pages of the model alone.

    python3 cases.py [BINARY]    # writes cases.toml and, with the binary's answers beside them, results.json
    python3 check.py BINARY      # asks a binary what cases.toml holds, without solving anything

Nothing of the project's code is used. Ways that differ from the closed forms of the page:
sections are integrated numerically over their curves; a stretch is one system of equations in all radii and the
stretch at once (and checked against the flow integrated in time, `flow`); a state under load is a fixed point of the
two released radii; a fixed build is a system in the machined foot and the foot when done; ring strength is Castigliano
by quadrature, and three-dimensional elasticity by harmonic finite elements (`solid3d.py`) for the bounds.

Readings taken where the page leaves one open are named R1.. in REPORT.md; `alt` holds what other readings give.
"""
from __future__ import annotations
from math import *
import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq, root, minimize_scalar

MU = 0.15

# ---------------------------------------------------------------- curves
def arc(chord, rise, edge):
    rad = (chord * chord / 4 + rise * rise) / (2 * abs(rise))
    sg = 1.0 if rise > 0 else -1.0
    cen = edge + rise - sg * rad
    return rad, cen, (lambda x: cen + sg * sqrt(max(rad * rad - x * x, 0.0)))

def integral(f, knees):
    e = sorted(set(knees))
    return sum(quad(f, a, b, epsabs=1e-13, epsrel=1e-12, limit=200)[0] for a, b in zip(e, e[1:]) if b - a > 1e-12)

# ---------------------------------------------------------------- metals
class Metal:
    def __init__(s, d):
        s.d = d; s.E = d["modulus"]; s.nu = d.get("poisson", 0.38)
        s.Y = d.get("yield"); s.H = d.get("hardening"); s.Rm = d.get("tensile"); s.hv = d.get("hardness")
        s.law = None
        if s.Y and s.H is None and s.Rm:
            s.law = two_point(s.Y, s.Rm, s.E)
    def flow(s, eps, side="mid", law="total"):
        """Flow stress after a lasting log strain eps. R4: the two-point law takes the total strain, the elastic part included."""
        Y = s.Y
        if Y is None:
            Y = s.hv * {"low": 1.5, "high": 3.3, "mid": 3.3}[side]
        if s.H is not None: return Y + s.H * eps
        if s.law:
            n, K = s.law
            if law == "lasting": return K * max(eps, 1e-9) ** n
            return brentq(lambda sg: sg - K * (eps + sg / s.E) ** n, 1e-3 * Y, 20 * Y, xtol=1e-12)
        return Y

def two_point(Rp, Rm, E):
    e0 = log(1.002 + Rp / E); s02 = Rp * (1.002 + Rp / E)
    f = lambda n: n * log(n) - n - n * log(e0) - log(Rm / s02)
    n = brentq(f, e0 * 1.0000001, 2.0, xtol=1e-15)
    return n, Rm / (n ** n * exp(-n))

# ---------------------------------------------------------------- stretch
def lz(lam, kin): return 1.0 if kin == "held" else lam ** -0.5

def image(known, pair, kin, which, value):
    """All surfaces in the state where surface `which` is `value`: one system in radii and stretch."""
    def res(v):
        r, lam = v[:-1], v[-1]; z = lz(lam, kin)
        out = [r[which] - value]
        ref = known[pair[0]] ** 2
        for i in range(len(known)):
            if i != pair[0]: out.append((r[i] ** 2 - r[pair[0]] ** 2) * z - (known[i] ** 2 - ref))
        out.append((r[pair[0]] + r[pair[1]]) - lam * (known[pair[0]] + known[pair[1]]))
        return out
    f = value / known[which]
    sol = root(res, [k * f for k in known] + [f], method="hybr", tol=1e-15)
    assert max(map(abs, res(sol.x))) < 1e-10, sol
    return list(map(float, sol.x[:-1])), float(sol.x[-1])

def flow(known, pair, kin, which, value):
    """The same by the velocity field of an incompressible ring, integrated in log stretch: a check of `image`."""
    q = 0.0 if kin == "held" else 0.5
    def rhs(t, y):
        r = y; m = r[pair[0]] + r[pair[1]]
        # v = a/r + q r/2 * rate (axial rate -q), mean of the pair grows at rate 1
        a = (m - q / 2 * m) / (1 / r[pair[0]] + 1 / r[pair[1]])
        return a / r + q / 2 * r
    y0 = np.array(known)
    def end(t):
        if t == 0: return y0
        s = solve_ivp(rhs, (0, t), y0, method="DOP853", rtol=1e-13, atol=1e-14); return s.y[:, -1]
    t = brentq(lambda t: end(t)[which] - value, -0.4, 0.4, xtol=1e-14)
    return list(end(t)), exp(t)

# ---------------------------------------------------------------- the band
class Band:
    lam_fin = under_load = False
    def __init__(s, c, **opt):
        g = c.get; s.c = c
        for key, v in opt.items(): setattr(s, key, v)
        s.R = c["size"] / 2; s.w = c["width"]; s.h = c["thickness"]; s.b = g("comfort", 0.0)
        s.kin = g("kinematics", "free"); s.t = g("wall"); s.s = g("sleeve"); s.full = g("full", False)
        fin = g("finish", {}); when = g("when", {})
        cut = (g("pattern") or {}).get("cut", "before" if s.s else "after")
        dflt = {"bore": "after", "faces": "after", "outside": "before" if (g("pattern") and cut == "before") else "after"}
        if s.s and not g("pattern"): dflt["outside"] = c.get("outside_default", "after")
        s.cut = cut
        s.fa = {k: fin.get(k, 0.0) if when.get(k, dflt[k]) == "after" else 0.0 for k in dflt}
        s.fb = {k: fin.get(k, 0.0) if when.get(k, dflt[k]) == "before" else 0.0 for k in dflt}
        s.W = s.w + 2 * s.fa["faces"]
        s.profile()
        s.hs = Metal(c["shell_metal"]) if "shell_metal" in c else None
        s.ss = Metal(c["sleeve_metal"]) if "sleeve_metal" in c else None
        s.gapfoot = g("play", 0.0) / 2

    def profile(s):
        c = s.c; k = c["profile"]; w, h, b = s.w, s.h, s.b; half = w / 2
        s.knees = [-half, 0.0, half]; t = s.t or 0.0
        s.arcs = {}
        if k == "flat": s.o = lambda x: h; par = lambda x: h - t
        elif k == "domed":
            e = c["edge"] + b; rad, cen, s.o = arc(w, h - e, e); s.arcs["dome"] = (rad, s.R + cen)
            par = lambda x: cen + sqrt((rad - t) ** 2 - x * x); s.arcs["roof"] = (rad - t, s.R + cen)
        elif k == "concave":
            rad, cen, s.o = arc(w, -c["dip"], h); s.arcs["dome"] = (rad, s.R + cen)
            par = lambda x: cen - sqrt((rad + t) ** 2 - x * x); s.arcs["roof"] = (rad + t, s.R + cen)
        elif k == "bevelled":
            A, D = c["across"], c["down"]; fl, sl = half - A, D / A
            s.o = lambda x: h - max(abs(x) - fl, 0) * sl; s.knees += [-fl, fl]
            lo = t * sqrt(1 + sl * sl); par = lambda x: min(h - t, h - lo - (abs(x) - fl) * sl)
            if t: kn = fl - (lo - t) / sl; s.knees += [-kn, kn]
        elif k == "knife-edge":
            e = c["edge"] + b; sl = (h - e) / half; s.o = lambda x: h - abs(x) * sl
            par = lambda x: h - abs(x) * sl - t * sqrt(1 + sl * sl)
        if b:
            # the bore's arc is tangent to the smallest bore at mid width: 0 there, b at the faces
            rb_ = (w * w / 4 + b * b) / (2 * b); s.i = lambda x: rb_ - sqrt(rb_ * rb_ - x * x); s.arcs["comfort"] = (rb_, s.R + rb_)
        else: s.i = lambda x: 0.0
        s.room = half - t; s.roof = None
        if s.t and not s.full and s.s:
            eps = 1e-12
            if c.get("straight"):
                lev = min(par(0.0), par(s.room - eps)); s.roof = lambda x: lev
            else: s.roof = par
            if s.roof(s.room - eps) < s.s: s.room = brentq(lambda x: s.roof(x) - s.s, 0, s.room - eps, xtol=1e-14)
            s.knees += [-s.room, s.room]

    # outlines with metal left on; x may run past the faces, where outside and inside go on level
    def clampx(s, x): return max(-s.w / 2, min(s.w / 2, x))
    def inside(s, x, on=True): return s.i(s.clampx(x)) - (s.fa["bore"] if on else 0)
    def outside(s, x, on=True): return s.o(s.clampx(x)) + (s.fa["outside"] if on else 0)
    def floor(s, x):
        f = s.s
        if "relief" in s.c and abs(x) < s.room: f = min(f, s.i(x) + s.c["relief"])
        return f
    def under(s, x): return s.roof(x) if s.roof and abs(x) < s.room else s.s + s.gapfoot
    def areas(s, on=True):
        h = (s.W if on else s.w) / 2; kn = s.knees + [-h, h]
        As = integral(lambda x: s.floor(x) - s.inside(x, on), kn)
        Ah = integral(lambda x: s.outside(x, on) - s.under(x), kn)
        return As, Ah

    # ---- grip
    def kappas(s, on=True, cutnow=None):
        """A_min, A_eff (harmonic), A_eff for grip.to over w t_h; t_s; t_h; W."""
        As, Ah = s.areas(on); W = s.W if on else s.w
        th = s.h + (s.fa["outside"] if on else 0) - s.s - s.gapfoot; ts = As / W
        p = s.c.get("pattern"); Amin = Aeff = Ato = Ah
        if p and (cutnow if cutnow is not None else (s.cut == "before")):
            d, m, cov = p["depth"], p.get("mean", p["depth"]), p["cover"]
            Amin = Ah - d * s.w
            Aeff = 1 / (cov / Amin + (1 - cov) / Ah)
            Ato = max(Ah - cov * m * s.w, Aeff)
        return dict(ts=ts, th=th, W=W, kmin=Amin / (W * th), keff=Aeff / (W * th), kto=Ato / (W * th), kone=(Ah - ((p["cover"] * p.get("mean", p["depth"]) * s.w) if p and s.cut == "before" else 0)) / (W * th))

    def loaded(s, k, rc, u, Ys, Yh):
        ts, th = k["ts"], k["th"]; Es, Eh, nu = s.ss.E, s.hs.E, s.ss.nu; nh = s.hs.nu
        rb, ro = rc - ts, rc + th
        el = Eh * (u / rc) * (ro ** 2 - rc ** 2) / (ro ** 2 + rc ** 2 + nh * (ro ** 2 - rc ** 2))
        pl = Yh * th / (rc + th / 4)
        q = min(k["kmin"] * pl, k["keff"] * el)
        pb = (Ys * ts + q * (rc - ts / 4)) / (rb + ts / 4)
        # Lame from scratch: sleeve under bore pressure x, no outer pressure: outward move of its outside (plane stress)
        A = lame_u(rb, rc, Es, nu, 1.0, 0.0, rc); G = -lame_u(rb, rc, Es, nu, 0.0, 1.0, rc)
        C = lame_u(rc, ro, Eh, nh, 1.0, 0.0, rc) / k["keff"]
        y = pb * A / (G + C)
        p = min(q - y, Ys * ts / (rc - ts / 4))
        return dict(q=q, pb=pb, A=A, G=G, C=C, y=y, p=p, el=el, pl=pl, rc=rc, rb=rb, ro=ro, Ys=Ys, Yh=Yh,
                    over=k["kto"] * el - k["kmin"] * pl)

    def machined_from(s, B0h, foot_done):
        """Parts as machined (metal on) for a foot bore B0/2, from the state when done."""
        c = s.c; R = s.R; q = c.get("ridge", {}).get("high", 0.0)
        crown = R + s.h + s.fa["outside"]
        shell = [foot_done, crown]; names = ["foot", "crown"]
        if s.roof:
            shell += [R + s.roof(0.0), R + s.roof(s.room - 1e-12)]; names += ["channel", "walls"]
        if "lip" in c: shell.append(R + s.s - c["lip"]["high"] + s.gapfoot * 0); names.append("lip")
        if s.lam_fin and s.fa["outside"]: shell.append(R + s.h); names.append("ref")
        sh, lh = image(shell, (0, names.index("ref") if "ref" in names else 1), s.kin, 0, B0h); sh = dict(zip(names, sh))
        passes = sh.get("lip", B0h)
        sleeve = [R - s.fa["bore"], R + s.s]; sn = ["bore", "floor"]
        if q: sleeve.append(R + s.s + q); sn.append("top")
        if s.b: sleeve.append(R - s.fa["bore"] + s.b); sn.append("edge")
        if s.lam_fin and s.fa["bore"]: sleeve.append(R); sn.append("ref")
        which = 2 if q else 1
        sl, ls = image(sleeve, (sn.index("ref") if "ref" in sn else 0, 1), s.kin, which, passes - c.get("entry", 0.04) / 2)
        return sh, 1 / lh, dict(zip(sn, sl)), 1 / ls, passes

    def sleeve_at(s, m, which, value):
        names = list(m); r, lam = image([m[n] for n in names], (names.index("ref") if "ref" in names else 0, 1), s.kin, names.index(which), value)
        return dict(zip(names, r)), lam
    def shell_at(s, m, value):
        n = ["foot", "crown"] + (["ref"] if "ref" in m else [])
        r, lam = image([m[x] for x in n], (0, len(n) - 1), s.kin, 0, value); s.crown_now = r[1]; return lam

    def press(s, k, sh, sl, B0h, u, strain="own"):
        """Both opened u past touch: fixed point in the released radii (strains lasting, at release: R3)."""
        rc = B0h + u; floor, foot = rc, B0h; k0 = k
        for _ in range(60):
            es = log(s.sleeve_at(sl, "floor", floor)[1]); eh = max(log(s.shell_at(sh, foot)), 0.0) if foot > B0h + 1e-14 else 0.0
            if strain == "done": es, eh = s.done_strains
            if strain == "load": es = log(s.sleeve_at(sl, "floor", rc)[1]); eh = log(s.shell_at(sh, rc))
            if s.under_load:
                bl = s.sleeve_at(sl, "floor", rc)[0]["bore"]; s.shell_at(sh, rc)
                k = dict(k0, ts=k0["ts"] * (rc - bl) / (s.s + s.fa["bore"]), th=s.crown_now - rc)
            z = s.loaded(k, rc, u, s.ss.flow(es, "high", s.c.get("law", "total")), s.hs.flow(eh, "low", "total"))
            nfoot = rc - z["C"] * (z["q"] - max(z["p"], 0.0))
            nfloor = nfoot if z["p"] > 0 else rc - z["A"] * z["pb"] + z["G"] * z["q"]
            d = abs(nfoot - foot) + abs(nfloor - floor); floor, foot = nfloor, nfoot
            if d < 1e-14: break
        z.update(floor=floor, foot=foot, es=es, eh=eh, u=u); return z

    def rebalanced(s, z):
        k2 = s.kappas(False, True); ts, th, ke = k2["ts"], k2["th"], k2["keff"]; rc = z["rc"]
        G = -lame_u(rc - ts, rc, s.ss.E, s.ss.nu, 0.0, 1.0, rc); C = lame_u(rc, rc + th, s.hs.E, s.hs.nu, 1.0, 0.0, rc) / ke
        return min(z["p"] * (z["G"] + z["C"]) / (G + C), z["Ys"] * ts / (rc - ts / 4)) if z["p"] > 0 else z["p"] * (z["G"] + z["C"]) / (G + C)

    def hold(s, B):
        if "hold" in s.c: return s.c["hold"]
        Y = s.hs.Y if s.hs.Y is not None else 3.3 * s.hs.hv
        return max(0.10, 2 * B * Y / s.hs.E)

    def solve(s, mode="own"):
        c = s.c; R = s.R; F = {}
        can = "shell_metal" in c
        k = s.kappas() if s.s else None
        past = c.get("past"); seat = R + s.s
        if past and c.get("stage", "fixed") == "fixed":
            u = past / 2
            def res(v):
                sh, gh, sl, gs, _ = s.machined_from(v[0], v[1]); s.done_strains = (log(gs), max(log(gh), 0.0)); z = s.press(k, sh, sl, v[0], u, mode)
                return [z["floor"] - seat, z["foot"] - v[1]]
            so = root(res, [seat - 0.1 * u, seat], method="hybr", tol=1e-14); B0h, fd = map(float, so.x)
            if max(map(abs, res(so.x))) > 1e-10: raise RuntimeError(f"no state {res(so.x)}")
        else:
            B0h = fd = seat + (s.gapfoot if c.get("stage") == "turning" else 0.0)
        sh, gh, sl, gs, passes = s.machined_from(B0h, fd)
        s.done_strains = (log(gs), max(log(gh), 0.0))
        zw_s, zw_h = lz(gs, s.kin), lz(gh, s.kin)
        F["machined.shell.bore"] = 2 * B0h
        F["machined.shell.outside"] = 2 * sh["crown"] + 2 * s.fb["outside"]
        F["machined.shell.width"] = s.W / zw_h + 2 * s.fb["faces"]
        if "channel" in sh:
            F["machined.shell.channel"] = 2 * sh["channel"]; F["machined.shell.channel-at-walls"] = 2 * sh["walls"]
            F["channel.at-walls"] = 2 * (R + s.roof(s.room - 1e-12)); F["channel"] = 2 * (R + s.roof(0.0))
            F["machined.shell.channel-width"] = 2 * s.room / zw_h
        if "lip" in sh: F["machined.shell.lip-bore"] = 2 * sh["lip"]
        F["machined.sleeve.bore"] = 2 * sl["bore"] - 2 * s.fb["bore"]
        F["machined.sleeve.floor"] = 2 * sl["floor"]
        if "top" in sl: F["machined.sleeve.ridge-top"] = 2 * sl["top"]
        if "edge" in sl: F["machined.sleeve.edge-bore"] = 2 * sl["edge"] - 2 * s.fb["bore"]
        ws = s.W - (2 * c["lip"]["wide"] + c["lip"].get("play", 0.05) if "lip" in c else 0)
        F["machined.sleeve.width"] = ws / zw_s + 2 * s.fb["faces"]
        F["stretch.strain"] = (R - s.fa["bore"]) / sl["bore"] - 1
        rf = s.ridge_from_face()
        if rf is not None:
            F["ridge.from-face"] = rf
            F["machined.sleeve.ridge-from-face"] = (rf + s.fa["faces"]) / zw_s + s.fb["faces"]
        # stages
        sT = None
        if can:
            # thickness at mid width under load, R2: as when done
            s_mid = s.s + s.fa["bore"]
            touch_m = 2 * (B0h - s_mid)
            def row(name, which, value):
                st, lam = s.sleeve_at(sl, which, value)
                sg = s.ss.flow(log(lam), "high", c.get("law", "total")); m = 2 * st["bore"] * (1 + sg / s.ss.E); regime = "free"
                if m > touch_m:
                    uu = brentq(lambda u: s.press(k, sh, sl, B0h, u, mode)["floor"] - st["floor"], 0.0, 0.5, xtol=1e-13) if s.press(k, sh, sl, B0h, 0.0, mode)["floor"] < st["floor"] else 0.0
                    m = 2 * (B0h + uu - s_mid); regime = "grip"
                if name == "loose-ends" and rf is not None: F["ridge.clearance-needed"] = (s.w / 2 - rf) * (lz(lam, s.kin) / zw_s - 1)
                F[f"stretch.{name}.bore"] = 2 * st["bore"]; F[f"stretch.{name}.mandrel"] = m; F[f"_{name}.regime"] = regime
                return 2 * st["bore"], st
            catch = "top" if "top" in sl else "floor"
            has = "top" in sl or "lip" in sh
            hold = s.hold(2 * B0h)
            z_to = None
            try:
                uto = brentq(lambda u: s.press(k, sh, sl, B0h, u, mode)["over"], 1e-9, 1.0, xtol=1e-14)
                zt = s.press(k, sh, sl, B0h, uto * (1 - 1e-10), mode)
                F["_p.at-yield"] = zt["p"]
                F["_grip.to.any"] = 2 * uto
                if zt["p"] > 0:
                    uf = brentq(lambda u: s.press(k, sh, sl, B0h, u, mode)["p"], 0.0, uto, xtol=1e-14)
                    F["grip.from"], F["grip.to"] = 2 * uf, 2 * uto
                    F["grip.aim"] = past if past else uf + uto
            except ValueError: uto = None
            st, lam = s.sleeve_at(sl, "floor", B0h)
            sg = s.ss.flow(log(lam), "high", c.get("law", "total"))
            F["_seated.old"] = 2 * st["bore"] * (1 + sg / s.ss.E)
            F["stretch.touch.mandrel"] = touch_m
            turning_build = c.get("stage") == "turning"
            if "grip.from" in F:
                F["stretch.seated.bore"] = 2 * st["bore"]; F["stretch.seated.mandrel"] = 2 * (B0h + F["grip.from"] / 2 - s_mid)
            else: F["stretch.seated.never"] = 1.0
            if has:
                row("loose-ends", catch, passes); tb, _ = row("turning", catch, passes + hold / 2)
                F["stretch.window"] = 2 * st["bore"] - tb
                F["stretch.overlap-needed"] = hold
                F["_hold.B-seated"] = s.hold(2 * (R + s.s + s.gapfoot))
                q = c.get("ridge", {}).get("high", 0) or c.get("lip", {}).get("high", 0)
                F["stretch.overlap"] = 2 * q if not turning_build else 2 * q - c.get("play", 0.0)
                if not turning_build and past: F["stretch.overlap"] = 2 * (R + s.s + q - fd) if "top" in sl else 2 * q
            if past and not turning_build:
                z = s.press(k, sh, sl, B0h, past / 2, mode); F["_z"] = z
                pp = s.rebalanced(z)
                F["grip.pressure"] = pp; F["grip.pressure.on-release"] = z["p"]
                F["grip.force"] = max(pp, 0) * z["rc"] * s.w
                F["grip.torque"] = 2 * pi * c.get("friction", MU) * F["grip.force"] * z["rc"]
                F["stretch.fixed.bore"] = 2 * (R - s.fa["bore"])
                F["stretch.fixed.mandrel"] = 2 * (z["rc"] - s_mid)
                tl = s.sleeve_at(sl, "floor", z["rc"])[0]; F["_fixed.mandrel.image"] = 2 * tl["bore"]
                F["stretch.finished.bore"] = 2 * R
                F["grip.gap"] = max(0.0, -(z["G"] + z["C"]) * z["p"])
                F["foot.bore"] = 2 * z["foot"]
                e = c.get("enlarger", 0.03) / 2
                lo = s.press(k, sh, sl, B0h, past / 2 - e, mode)
                hi = s.press(k, sh, sl, B0h, past / 2 + e, mode)
                mid = z
                F["_p.low"] = s.rebalanced(lo); F["_p.high"] = s.rebalanced(hi)
                F["grip.verdict"] = "grips" if F["_p.low"] > 0 else ("may grip" if max(F["_p.high"], pp) > 0 else "does not")
                F["_strain.high"] = (hi["foot"] / B0h - 1)
                F["_past.high-beyond-yield"] = bool(uto and past / 2 + e > uto)
            if "grip.from" in F and not past and not turning_build:
                e = c.get("enlarger", 0.03)
                F["grip.safe"] = bool(F["grip.to"] - F["grip.from"] >= 2 * e)
        if rf is not None or "lip" in c:
            if turning_build if can else False:
                F["stretch.float"] = s.float()
        return F

    def ridge_from_face(s):
        c = s.c; r = c.get("ridge")
        if not r: return None
        if r.get("count", 2) == 1: return s.w / 2 - r["wide"] / 2
        need = s.s + r["high"]; eps = 1e-12
        far = s.room
        if s.roof and s.roof(s.room - eps) < need: far = brentq(lambda x: s.roof(x) - need, 0, s.room - eps, xtol=1e-14)
        return s.w / 2 - far + r.get("play", 0.05)

    def float(s):
        c = s.c
        if "lip" in c: return c["lip"].get("play", 0.05)
        rf = s.ridge_from_face(); r = c["ridge"]
        if r.get("count", 2) == 1: return 2 * s.room - r["wide"]
        need = s.s + r["high"]; eps = 1e-12; far = s.room
        if s.roof(s.room - eps) < need: far = brentq(lambda x: s.roof(x) - need, 0, s.room - eps, xtol=1e-14)
        return 2 * (far - (s.w / 2 - rf))

def lame_u(a, b, E, nu, pi_, po, r):
    """Radial move at r of a plane-stress cylinder under inner and outer pressure, by the boundary-value system."""
    # u = c1 r + c2/r ; s_r = E/(1-nu^2) ((1+nu) c1 - (1-nu) c2/r^2)
    f = E / (1 - nu * nu)
    M = np.array([[f * (1 + nu), -f * (1 - nu) / a ** 2], [f * (1 + nu), -f * (1 - nu) / b ** 2]])
    c1, c2 = np.linalg.solve(M, [-pi_, -po]); return float(c1 * r + c2 / r)

# ---------------------------------------------------------------- arcs of stretched curves
def fit_arc(x, y):
    """Best circle in the sense of the least greatest departure, centre on x = 0; and through ends and mid."""
    x, y = np.array(x), np.array(y)
    i0 = np.argmin(abs(x)); ye, y0, X = y[-1], y[i0], x[-1]
    d = y0 - ye; r3 = (X * X + d * d) / (2 * abs(d)); c3 = y0 - copysign(r3, d)
    dep = lambda cen, rad: np.hypot(x, y - cen) - rad
    dev3 = float(np.max(abs(dep(c3, r3))))
    def spread(cen):
        q = np.hypot(x, y - cen); return (q.max() - q.min()) / 2
    m = minimize_scalar(spread, bounds=(c3 - 0.02 * r3, c3 + 0.02 * r3), method="bounded", options=dict(xatol=1e-10))
    q = np.hypot(x, y - m.x)
    return dict(r3=float(r3), c3=float(c3), dev3=dev3, rm=float((q.max() + q.min()) / 2), cm=float(m.x), devm=float(m.fun))

# ---------------------------------------------------------------- solid bands
def solve_solid(c):
    R = c["size"] / 2; kin = c.get("kinematics", "free"); h, w, b = c["thickness"], c["width"], c.get("comfort", 0.0)
    cut = (c.get("pattern") or {}).get("cut", "after"); fin = c.get("finish", {}); when = c.get("when", {})
    d = {"bore": "after", "faces": "after", "outside": "before" if (c.get("pattern") and cut == "before") else "after"}
    fa = {k: fin.get(k, 0) if when.get(k, d[k]) == "after" else 0 for k in d}
    fb = {k: fin.get(k, 0) if when.get(k, d[k]) == "before" else 0 for k in d}
    done = [R - fa["bore"], R + h + fa["outside"]]
    names = ["bore", "crown"]
    if b: done.append(R - fa["bore"] + b); names.append("edge")
    done.append(R); names.append("finbore"); done.append(R + h); names.append("fincrown")
    start = c["start"] if "start" in c else None
    F = {}
    if start is None:
        start = 2 * done[0] / (1 + c["stretch"])
    # R5: `start` is the bore as machined, its metal still on; alt: the image of the finished bore
    r, lam = image(done, (0, 1), kin, 0, start / 2 + fb["bore"]); M = dict(zip(names, r)); g = 1 / lam
    fl, _ = flow(done, (0, 1), kin, 0, start / 2 + fb["bore"])
    assert max(abs(a - q) for a, q in zip(fl, r)) < 1e-9, (fl, r)
    z = lz(g, kin)
    F["machined.bore"] = 2 * M["bore"] - 2 * fb["bore"]; F["machined.outside"] = 2 * M["crown"] + 2 * fb["outside"]
    F["machined.thickness"] = (F["machined.outside"] - F["machined.bore"]) / 2
    F["machined.width"] = (w + 2 * fa["faces"]) / z + 2 * fb["faces"]
    F["stretch.strain"] = done[0] / M["bore"] - 1
    if cut == "before" and c.get("pattern"): F["strip.length"] = 2 * pi * M["fincrown"]; F["strip.height"] = w / z
    elif c.get("pattern"): F["strip.length"] = 2 * pi * (R + h)
    F["stretch.finished.bore"] = 2 * R
    m = Metal(c["metal"]) if "metal" in c else None
    if m:
        sg = m.flow(log(g), "high"); F["stretch.mandrel"] = 2 * done[0] * (1 + sg / m.E)
    # other reading of start
    if fa["bore"]:
        r2, l2 = image(done, (0, 1), kin, names.index("finbore"), start / 2 if "start" in c else R / (1 + c["stretch"]))
        M2 = dict(zip(names, r2)); F["_alt"] = {"machined.bore": 2 * M2["bore"], "machined.outside": 2 * M2["crown"] + 2 * fb["outside"], "machined.thickness": M2["crown"] - M2["bore"] + fb["outside"],
              "machined.width": (w + 2 * fa["faces"]) / lz(1 / l2, kin) + 2 * fb["faces"], "stretch.strain": done[0] / M2["bore"] - 1}
        # lambda on the finished surfaces instead
        r3, l3 = image(done, (names.index("finbore"), names.index("fincrown")), kin, 0, start / 2)
        F["_alt-lambda"] = {"machined.outside": 2 * r3[1] + 2 * fb["outside"], "machined.width": (w + 2 * fa["faces"]) / lz(1 / l3, kin)}
    return F, M, z

# ---------------------------------------------------------------- strength by quadrature
def section_of(low, high, knees, inner=None, outer=None):
    A = integral(lambda x: high(x) - low(x), knees)
    S = integral(lambda x: (high(x) ** 2 - low(x) ** 2) / 2, knees)
    I = integral(lambda x: log(high(x) / low(x)), knees)
    xs = np.linspace(min(knees), max(knees), 4001); xs = np.concatenate([xs, *[[k - 1e-9, k, k + 1e-9] for k in knees]])
    xs = xs[(xs >= min(knees)) & (xs <= max(knees))]
    return dict(A=A, mean=S / A, neutral=A / I, inner=min(low(x) for x in xs), outer=max(high(x) for x in xs))

def ring(of, E, nu=0.38):
    """Winkler-Bach ring, solved as an ODE boundary problem by quadrature of the energy (shear 6/5)."""
    A, m, n = of["A"], of["mean"], of["neutral"]; e = m - n; G = E / (2 * (1 + nu))
    th = np.polynomial.legendre.leggauss(60); a = (th[0] + 1) * pi / 4; wt = th[1] * pi / 4
    N = -np.cos(a) / 2; V = np.sin(a) / 2
    Mom = lambda X: X + m * (1 - np.cos(a)) / 2
    rot = lambda X: np.sum(wt * (Mom(X) / (A * e * E) - N / (A * E)))
    X = brentq(rot, -5 * m, 5 * m, xtol=1e-15)
    M = Mom(X)
    U = np.sum(wt * (M ** 2 / (2 * A * e * E) + N ** 2 * m / (2 * A * E) - M * N / (A * E) + 1.2 * V ** 2 * m / (2 * A * G)))
    short = 8 * U; most = 0.0
    for t in np.linspace(0, pi / 2, 1001):
        Nn = -cos(t) / 2; Mm = X + m * (1 - cos(t)) / 2
        for f in (of["inner"], of["outer"]): most = max(most, abs(Nn / A + Mm * (n - f) / (A * e * f)))
    return 1 / short, most

def strength_parts(c):
    b = Band(c); R = b.R; out = {}
    dep = (c.get("pattern") or {}).get("depth", 0.0)
    if not b.s:
        sec = section_of(lambda x: R + b.i(x), lambda x: R + b.o(x) - dep, b.knees)
        k, s1 = ring(sec, c["metal"]["modulus"], c["metal"].get("poisson", 0.38)); return {"solid": (k, s1, sec)}
    r = c.get("ridge"); kn = list(b.knees); top = lambda x: b.floor(x)
    if r:
        rf = b.ridge_from_face(); o = b.w / 2 - rf; i = o - r["wide"]
        spans = [(-o, -i), (i, o)] if r.get("count", 2) == 2 else [(-r["wide"] / 2, r["wide"] / 2)]
        for a_, z_ in spans: kn += [a_, z_]
        top = lambda x: b.s + r["high"] if any(a_ <= x <= z_ for a_, z_ in spans) else b.floor(x)
    for name, lo, hi, met in (("shell", lambda x: R + b.under(x), lambda x: R + b.o(x) - dep, "shell_metal"),
                              ("sleeve", lambda x: R + b.i(x), lambda x: R + top(x), "sleeve_metal"),
                              ("bare", lambda x: R + b.i(x), lambda x: R + b.floor(x), "sleeve_metal")):
        sec = section_of(lo, hi, kn); k, s1 = ring(sec, c[met]["modulus"], c[met].get("poisson", 0.38)); out[name] = (k, s1, sec)
    return out

# ---------------------------------------------------------------- recipes
def num(x): return f"{x:.10f}".rstrip("0").rstrip(".")
def metal_text(name, d):
    f = []
    for key, unit in (("yield", "MPa"), ("tensile", "MPa"), ("modulus", "MPa"), ("hardening", "MPa"), ("elongation", "%"), ("hardness", ""), ("poisson", "")):
        if key in d: f.append(f"{key} {num(d[key])} {unit}".strip())
    return f"alloy {name} {{ silver 1000, temper annealed {{ {', '.join(f)} }} }}"
def recipe(c):
    L = []
    two = "sleeve" in c
    if "shell_alloy" in c: shell_a, sleeve_a = c["shell_alloy"], c["sleeve_alloy"]
    elif two: L += [metal_text("outer", c["shell_metal"]), metal_text("inner", c["sleeve_metal"])]; shell_a, sleeve_a = "outer", "inner"
    else: L += [metal_text("inner", c["metal"])]; sleeve_a = "inner"
    k = c["profile"]; fl = {"flat": [], "domed": ["edge"], "concave": ["dip"], "bevelled": ["across", "down"], "knife-edge": ["edge"]}[k]
    L += ["band b {", f"  size {num(c['size'])} mm", f"  width {num(c['width'])} mm", f"  thickness {num(c['thickness'])} mm",
          "  profile " + k + (" { " + ", ".join(f"{f} {num(c[f])} mm" for f in fl) + " }" if fl else "")]
    if c.get("comfort"): L.append(f"  comfort {num(c['comfort'])} mm")
    L.append(f"  alloy {sleeve_a}")
    if c.get("kinematics") and not two: L.append(f"  kinematics {c['kinematics']}")
    if "start" in c: L.append(f"  start {num(c['start'])} mm")
    if "stretch" in c: L.append(f"  start stretch {num(c['stretch'] * 100)} %")
    p = c.get("pattern")
    if p:
        L.append(f"  pattern {{ repeats 20, depth {num(p['depth'])} mm" + (f", mean-depth {num(p['mean'])} mm" if "mean" in p else "") + f", cover {num(p['cover'] * 100)} %" + (f", cut {p['cut']}" if "cut" in p else "") + " }")
    if c.get("finish"):
        L.append("  finish { " + ", ".join(f"{key} {num(v)} mm" + (f" {{ when {c['when'][key]} }}" if key in c.get("when", {}) else "") for key, v in c["finish"].items()) + " }")
    if two:
        L.append("  hollow {")
        opt = [f"alloy {shell_a}"] + (["temper " + c["shell_temper"]] if "shell_temper" in c else []) + (["roof straight"] if c.get("straight") else [])
        L.append(f"    shell {'full' if c.get('full') else num(c['wall']) + ' mm'} {{ {', '.join(opt)} }}")
        opt = [f"alloy {sleeve_a}"] + (["temper " + c["sleeve_temper"]] if "sleeve_temper" in c else []) + ([f"relief {num(c['relief'])} mm"] if "relief" in c else [])
        L.append(f"    sleeve {num(c['sleeve'])} mm {{ {', '.join(opt)} }}")
        if "ridge" in c:
            r = c["ridge"]; L.append(f"    ridge {num(r['high'])} mm {{ wide {num(r['wide'])} mm, count {r.get('count', 2)}" + (f", play {num(r['play'])} mm" if "play" in r else "") + " }")
        if "lip" in c:
            r = c["lip"]; L.append(f"    lip {num(r['high'])} mm {{ wide {num(r['wide'])} mm" + (f", play {num(r['play'])} mm" if "play" in r else "") + " }")
        for key in ("entry", "hold", "enlarger"):
            if key in c: L.append(f"    {key} {num(c[key])} mm")
        if c.get("kinematics"): L.append(f"    kinematics {c['kinematics']}")
        if c.get("stage") == "turning": L.append(f"    stage turning {{ play {num(c['play'])} mm }}")
        elif "past" in c: L.append(f"    stage fixed {{ past {num(c['past'])} mm }}")
        L.append("  }")
    if "limit" in c: L.append("  limit { " + ", ".join(f"{a} {b_}" for a, b_ in c["limit"].items()) + " }")
    L.append("}")
    return "\n".join(L) + "\n"
