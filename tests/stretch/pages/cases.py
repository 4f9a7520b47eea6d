"""Builds the cases, writes cases.toml, asks the binary and writes results.json."""
from oracle import *
import solid3d as S3
import json, os, re, subprocess, sys
BIN = sys.argv[1] if len(sys.argv) > 1 else "annulet"
HARD = {"yield": 520.0, "modulus": 90000.0, "hardening": 0.0}
HARDX = {"yield": 520.0, "modulus": 90000.0, "elongation": 6.0}           # a hard temper, no hardening stated
SOFT = {"yield": 300.0, "modulus": 90000.0, "hardening": 1100.0, "elongation": 40.0}
EVEN = {"yield": 300.0, "modulus": 90000.0, "hardening": 1100.0, "elongation": 40.0}
STIFF = {"yield": 200.0, "modulus": 168000.0, "hardening": 1500.0, "elongation": 32.0}
RPRM = {"yield": 315.0, "tensile": 525.0, "modulus": 87500.0, "elongation": 45.0}
RPRM2 = {"yield": 124.0, "tensile": 207.0, "modulus": 86000.0, "elongation": 41.0}
CASES = []
L6 = 1e-6
def E(path, value, tol=None, kind="eq", item=0, reading="", alt=None):
    if hasattr(value, "item"): value = value.item()
    if tol is None: tol = L6 if isinstance(value, float) else 0
    return dict(path=path, value=value, tol=tol, kind=kind, item=item, reading=reading, **({"alt": alt} if alt else {}))
def add(name, item, c, exp, needs="", recipe_text=None):
    CASES.append(dict(name=name, item=item, needs=needs, recipe=recipe_text or recipe(c), expect=exp))

MACH = ["machined.shell.bore", "machined.shell.outside", "machined.shell.width", "machined.shell.channel", "machined.shell.channel-width", "machined.shell.lip-bore",
        "machined.sleeve.bore", "machined.sleeve.floor", "machined.sleeve.ridge-top", "machined.sleeve.ridge-from-face", "machined.sleeve.width", "machined.sleeve.edge-bore", "stretch.strain", "ridge.from-face"]
STAGE = ["stretch.loose-ends.bore", "stretch.loose-ends.mandrel", "stretch.turning.bore", "stretch.turning.mandrel", "stretch.seated.bore", "stretch.seated.mandrel", "stretch.window", "stretch.overlap-needed", "stretch.overlap", "stretch.fixed.bore", "stretch.fixed.mandrel"]
GRIP = ["grip.pressure", "grip.force", "grip.torque", "grip.from", "grip.to", "grip.aim"]
NEW = ["machined.shell.channel-at-walls", "channel.at-walls", "stretch.touch.mandrel", "stretch.finished.bore", "grip.gap", "foot.bore", "stretch.float", "stretch.seated.never"]
def rel(path, v): return max(abs(v) * 1e-6, 1e-9) if path.startswith("grip.") and path.split(".")[1] in ("pressure", "force", "torque") else L6
def hollow_case(name, item, c, only=None, extra=(), needs="", new=()):
    b = Band(c); F = b.solve(); G = {}
    D = {}
    try: G = {} if Metal(c["sleeve_metal"]).law or Metal(c["shell_metal"]).law else Band(c).solve("load")
    except Exception: pass
    try: D = Band(c).solve("done")
    except Exception: pass
    U = N = {}
    try: U = Band(c, under_load=True).solve()
    except Exception as x: print("under load", name, x)
    if c.get("finish"): N = Band(c, lam_fin=True).solve()
    if c.get("stage") == "turning": F = {k: v for k, v in F.items() if not k.startswith("grip.") and not k.startswith("stretch.seated.never")}
    exp = []
    for p in MACH + STAGE + GRIP + list(new):
        if only and p not in only and p not in new: continue
        if p in F:
            alt = {}
            if p in G and abs(G[p] - F[p]) > 1e-6: alt["strain-under-load (R3)"] = G[p]
            if p in U and abs(U[p] - F[p]) > 1e-9: alt["sizes under load (R2)"] = U[p]
            if p in N and abs(N[p] - F[p]) > 1e-9: alt["lambda on finished surfaces (R1)"] = N[p]
            if p in D and abs(D[p] - F[p]) > 1e-9: alt["flow at the strain when done (R3)"] = D[p]
            if p == "stretch.seated.mandrel": alt["spring-back alone, as before touch"] = F["_seated.old"]
            if p == "stretch.fixed.mandrel": alt["thickness under load by the stretch law (R2)"] = F["_fixed.mandrel.image"]
            if p == "stretch.overlap-needed" and abs(F["_hold.B-seated"] - F[p]) > 1e-9: alt["B seated (R6)"] = F["_hold.B-seated"]
            if p == "grip.pressure" and abs(F["grip.pressure.on-release"] - F[p]) > 1e-9: alt["before finishing"] = F["grip.pressure.on-release"]
            exp.append(E(p, F[p], rel(p, F[p]), item=item_of(p, item), alt=alt))
        elif p.startswith("grip.f") or p.startswith("grip.t") or p.startswith("stretch.seated"):
            if F.get("stretch.seated.never") and c.get("stage") != "turning" and p in ("grip.from", "grip.to", "stretch.seated.mandrel") : exp.append(E(p, None, kind="absent", item=12, reading="the shell yields first: seated is never reached"))
    if "grip.verdict" in F and (not only or "grip.verdict" in only): exp.append(E("grip.verdict", F["grip.verdict"], kind="text", item=6, reading=f"p' at the low end {F['_p.low']:.4f}, at the high end {F['_p.high']:.4f} MPa"))
    if "ridge.clearance-needed" in F and c.get("ridge", {}).get("count", 2) == 2 and item in (0, 1) and c.get("stage") != "turning":
        exp.append(E("ridge.clearance-needed", F["ridge.clearance-needed"], 6e-4, kind="textnum", item=item, reading="text: `beside the ridge` rounds to 1 um"))
    if c.get("pattern") and item == 1: exp.append(E("strip.length", F["machined.shell.outside"] * pi - (2 * pi * b.fb["outside"]) if b.cut == "before" else 2 * pi * (b.R + b.h), item=1, reading="the strip is that of the finished outside when it is cut"))
    exp += list(extra); add(name, item, c, exp, needs); return F
def item_of(p, item): return item

flat = dict(size=17.3, width=6.0, thickness=1.8, profile="flat", wall=0.5, sleeve=0.4, ridge=dict(high=0.14, wide=0.4, count=2, play=0.06), shell_metal=HARDX, sleeve_metal=SOFT)
domed = dict(size=18.0, width=6.0, thickness=2.0, profile="domed", edge=1.4, wall=0.5, sleeve=0.45, ridge=dict(high=0.14, wide=0.4, count=2, play=0.06), shell_metal=HARDX, sleeve_metal=SOFT)
def mk(base, **k): d = dict(base); d.update(k); return d
def drop(d, *ks): d = dict(d); [d.pop(k, None) for k in ks]; return d

# ---- 0 the stages themselves (nothing of the changes)
hollow_case("stages-loose-to-fixed-free", 0, mk(flat, past=0.09))
hollow_case("stages-held", 0, mk(flat, past=0.09, kinematics="held"))
hollow_case("stages-turning", 0, mk(flat, stage="turning", play=0.06), new=["stretch.float"])
hollow_case("stages-turning-held-domed", 0, mk(domed, stage="turning", play=0.05, kinematics="held"), new=["stretch.float"])
hollow_case("stages-lips", 0, mk(drop(flat, "ridge"), lip=dict(high=0.12, wide=0.3, play=0.05)), only=MACH + STAGE[:6] + ["stretch.window"])
hollow_case("stages-lips-held-turning", 0, mk(drop(flat, "ridge"), lip=dict(high=0.12, wide=0.3, play=0.05), kinematics="held", stage="turning", play=0.05), only=MACH + STAGE[:4], new=["stretch.float"])
hollow_case("stages-comfort", 0, mk(domed, comfort=0.15, past=0.09))
hollow_case("stages-relief", 0, mk(flat, relief=0.25, past=0.09))
hollow_case("stages-straight-roof", 0, mk(domed, straight=True, past=0.09))
hollow_case("stages-full-shell", 0, mk(drop(flat, "ridge", "wall"), full=True, past=0.09))
hollow_case("stages-stiff-sleeve", 0, mk(flat, sleeve_metal=STIFF, past=0.09))
hollow_case("stages-no-catch", 0, mk(drop(flat, "ridge"), past=0.09))
hollow_case("stages-small-thick", 0, mk(flat, size=14.0, thickness=2.4, sleeve=0.8, past=0.08))
hollow_case("stages-wide-thin", 0, mk(flat, size=21.5, width=9.0, thickness=1.5, sleeve=0.3, wall=0.4, past=0.11))

# ---- 1 metal left
sol = dict(size=17.3, width=5.0, thickness=1.8, profile="flat", metal=SOFT, start=16.6)
def solid_case(name, item, c, needs="", extra=()):
    F, M, z = solve_solid(c); exp = []
    for p in ["machined.bore", "machined.outside", "machined.thickness", "machined.width", "stretch.strain", "stretch.mandrel", "strip.length", "strip.height", "stretch.finished.bore"]:
        if p in F:
            if p == "stretch.finished.bore" and not c.get("finish"): continue
            alt = {}
            if "_alt" in F and p in F["_alt"]: alt["start is the image of the finished bore (R5)"] = F["_alt"][p]
            if "_alt-lambda" in F and p in F["_alt-lambda"]: alt["lambda on finished surfaces (R1)"] = F["_alt-lambda"][p]
            exp.append(E(p, F[p], item=item, alt=alt))
    add(name, item, c, exp + list(extra), needs)
solid_case("solid-plain", 0, sol); solid_case("solid-held", 0, mk(sol, kinematics="held"))
solid_case("solid-per-cent-domed", 0, mk(drop(sol, "start"), profile="domed", edge=1.2, stretch=0.04, comfort=0.1))
solid_case("solid-finish-bore", 1, mk(sol, finish={"bore": 0.03}))
solid_case("solid-finish-all", 1, mk(sol, finish={"bore": 0.03, "outside": 0.04, "faces": 0.05}))
solid_case("solid-finish-all-held", 1, mk(sol, finish={"bore": 0.03, "outside": 0.04, "faces": 0.05}, kinematics="held"))
solid_case("solid-finish-cut-before", 1, mk(sol, finish={"bore": 0.03, "outside": 0.04, "faces": 0.05}, pattern=dict(depth=0.2, mean=0.1, cover=0.5, cut="before")))
solid_case("solid-finish-per-cent", 1, mk(drop(sol, "start"), finish={"bore": 0.03, "faces": 0.05}, stretch=0.03))
solid_case("solid-finish-before-stated", 1, mk(sol, finish={"outside": 0.04, "faces": 0.05}, when={"outside": "before", "faces": "before"}), needs="finish { … { when before } }")
nf = ["stretch.finished.bore"]
hollow_case("hollow-finish-bore", 1, mk(flat, past=0.09, finish={"bore": 0.03}), new=nf)
hollow_case("hollow-finish-bore-held", 1, mk(flat, past=0.09, finish={"bore": 0.03}, kinematics="held"), new=nf)
hollow_case("hollow-finish-outside", 1, mk(flat, past=0.09, finish={"outside": 0.04}), new=nf)
hollow_case("hollow-finish-faces", 1, mk(flat, past=0.09, finish={"faces": 0.05}), new=nf)
hollow_case("hollow-finish-all", 1, mk(flat, past=0.09, finish={"bore": 0.02, "outside": 0.03, "faces": 0.05}), new=nf)
hollow_case("hollow-finish-all-pattern", 1, mk(flat, past=0.09, finish={"bore": 0.02, "outside": 0.03}, pattern=dict(depth=0.15, mean=0.1, cover=0.6)), new=nf)
hollow_case("hollow-finish-bore-deep", 1, mk(flat, past=0.09, finish={"bore": 0.10}), new=nf)
hollow_case("hollow-finish-comfort", 1, mk(domed, comfort=0.12, past=0.09, finish={"bore": 0.02}), new=nf)
hollow_case("hollow-finish-turning", 1, mk(flat, stage="turning", play=0.06, finish={"bore": 0.02, "outside": 0.03, "faces": 0.05}), new=["stretch.float"])
hollow_case("hollow-finish-seated", 1, mk(flat, finish={"bore": 0.02}), new=nf)
hollow_case("hollow-finish-before-stated", 1, mk(flat, past=0.09, finish={"bore": 0.02, "faces": 0.05}, when={"bore": "before", "faces": "before"}), needs="finish { … { when before } }")
hollow_case("hollow-cut-after-rebalanced", 1, mk(flat, past=0.09, pattern=dict(depth=0.2, mean=0.2, cover=0.9, cut="after")))

# ---- 2 curves
def curve_case(name, c, solid=False, n=7):
    b = Band(c); exp = []
    if solid: F, M, z = solve_solid(c); bore0, boref, zz = M["bore"], b.R, z; pref = "curve"
    else:
        F = b.solve(); pref = "curve"
        sh, gh, sl, gs, _ = b.machined_from(F["machined.shell.bore"] / 2, F.get("foot.bore", 2 * (b.R + b.s)) / 2)
    for k, (rad, cen) in b.arcs.items():
        if k == "roof" and (not b.roof or c.get("straight")): continue
        exp += [E(f"curve.{k}.radius", rad, item=2), E(f"curve.{k}.centre", cen, item=2)]
    def map_pts(f, half, r0, rf, zlam, what):
        xs = np.linspace(-half, half, 401)
        ys = [b.R + f(max(-half + 1e-12, min(half - 1e-12, x))) for x in xs]
        xm = xs / zlam; ym = [sqrt(r0 ** 2 + zlam * (y * y - rf * rf)) for y in ys]
        return xm, ym
    todo = []
    if solid:
        if "dome" in b.arcs: todo.append(("dome", b.o, b.w / 2, bore0, boref, zz))
        if "comfort" in b.arcs: todo.append(("comfort", b.i, b.w / 2, bore0, boref, zz))
    else:
        zh, zs = lz(gh, b.kin), lz(gs, b.kin)
        fd = F.get("foot.bore", 2 * (b.R + b.s)) / 2
        if "dome" in b.arcs: todo.append(("dome", b.o, b.w / 2, sh["foot"], fd, zh))
        if "roof" in b.arcs and b.roof and not c.get("straight"): todo.append(("roof", b.roof, b.room, sh["foot"], fd, zh))
        if "comfort" in b.arcs: todo.append(("comfort", b.i, b.w / 2, sl["bore"], b.R - b.fa["bore"], zs))
    for k, f, half, r0, rf, z in todo:
        x, y = map_pts(f, half, r0, rf, z, k); ft = fit_arc(x, y)
        alt = {"through ends and mid (R7)": ft["r3"]}
        exp += [E(f"machined.curve.{k}.radius", ft["rm"], 0.02 * ft["rm"] if False else max(1e-4, abs(ft["rm"] - ft["r3"]) * 1.5), item=2, reading="R7 least greatest departure", alt=alt),
                E(f"machined.curve.{k}.departure", ft["devm"], max(1e-6, ft["dev3"] - ft["devm"] + 1e-7), item=2, alt={"through ends and mid (R7)": ft["dev3"]})]
    if not solid and b.roof:
        exp += [E("channel.at-walls", F["channel.at-walls"], item=2), E("machined.shell.channel-at-walls", F["machined.shell.channel-at-walls"], item=2), E("machined.shell.channel", F["machined.shell.channel"], item=2)]
    for j, xx in enumerate([0.0, b.w / 8, b.w / 4, 3 * b.w / 8, b.w / 2]):
        exp.append(E(f"contour.outside.{j}", b.R + b.o(xx), item=2, reading=f"radius at x = {xx:g} mm, finished"))
    add(name, 2, c, exp)
curve_case("curves-domed", mk(domed, past=0.09)); curve_case("curves-domed-comfort", mk(domed, past=0.09, comfort=0.2))
curve_case("curves-low-dome", mk(domed, edge=0.9, wall=0.5, sleeve=0.5, ridge=dict(high=0.12, wide=0.4, count=1)))
curve_case("curves-concave", mk(domed, profile="concave", dip=0.3, past=0.09)); curve_case("curves-straight", mk(domed, straight=True))
curve_case("curves-solid-court", dict(size=18.0, width=6.0, thickness=2.0, profile="domed", edge=1.2, comfort=0.2, metal=SOFT, start=17.2), solid=True)
curve_case("curves-solid-held", dict(size=18.0, width=6.0, thickness=2.0, profile="domed", edge=1.2, comfort=0.2, metal=SOFT, start=17.2, kinematics="held"), solid=True)

# ---- 3 release without grip
ng = ["grip.gap", "foot.bore", "stretch.seated.never"]
for nm, sm, lm, pst, kw in [("soft-shell-hard-sleeve", SOFT, HARD, 0.09, {}), ("same-metal", EVEN, EVEN, 0.06, {}), ("stopped-short", HARDX, SOFT, 0.04, {}), ("just-touched", HARDX, SOFT, 0.01, {}),
                            ("thick-sleeve", EVEN, dict(EVEN, **{"yield": 380.0}), 0.12, dict(sleeve=0.8, thickness=2.2)), ("held", SOFT, HARD, 0.09, dict(kinematics="held"))]:
    hollow_case("no-grip-" + nm, 3, mk(flat, shell_metal=sm, sleeve_metal=lm, past=pst, **kw), new=ng)

# ---- 4 flow stress
for nm, sm, lm, kw in [("sleeve-two-point", HARDX, RPRM, {}), ("both-two-point", RPRM, RPRM, {}), ("shell-two-point", RPRM, RPRM2, {}), ("sterling-sleeve", HARDX, RPRM2, dict(past=0.06))]:
    F = hollow_case("flow-" + nm, 4, mk(flat, **mk(dict(shell_metal=sm, sleeve_metal=lm, past=0.09), **kw)))
    # alt: law of the lasting strain only
    try:
        A = Band(mk(flat, **mk(dict(shell_metal=sm, sleeve_metal=lm, past=0.09, law="lasting"), **kw))).solve()
        for e in CASES[-1]["expect"]:
            if isinstance(e["value"], float) and e["path"] in A and abs(A[e["path"]] - e["value"]) > 1e-6: e.setdefault("alt", {})["law of the lasting strain alone (R4)"] = A[e["path"]]
    except Exception as x: print("lasting", nm, x)
F, _, _ = solve_solid(mk(sol, metal=RPRM)); solid_case("flow-solid-two-point", 4, mk(sol, metal=RPRM)); solid_case("flow-solid-sterling", 4, mk(sol, metal=RPRM2))
nol = {"yield": 300.0, "modulus": 90000.0, "elongation": 40.0}
F = Band(mk(flat, sleeve_metal=nol, past=0.09)).solve()
add("flow-sleeve-hardens-unknown", 4, mk(flat, sleeve_metal=nol, past=0.09), [E("grip.verdict", "grips", kind="text-not", item=4, reading="sleeve's hardening unknown: at best may grip")])

# ---- 5 unknown yield
def builtin(name, sa, st, la, lt, shm, slm, extra, **kw):
    c = mk(flat, shell_alloy=sa, sleeve_alloy=la, shell_temper=st, sleeve_temper=lt, shell_metal=shm, sleeve_metal=slm, **kw)
    b = Band(c); F = b.solve() if shm and slm else {}; exp = []
    for p in ("stretch.overlap-needed", "stretch.turning.bore", "stretch.window"):
        if p in F: exp.append(E(p, F[p], item=5, reading="yield 3.3 HV for the hold", alt={"B seated (R6)": F["_hold.B-seated"]} if p == "stretch.overlap-needed" else None))
    add(name, 5, c, exp + extra)
Y917 = {"hardness": 130.0, "modulus": 82000.0}; y917 = {"hardness": 70.0, "modulus": 82000.0}
builtin("unknown-917-hard", "yellow-917", "hard", "yellow-917", "annealed", Y917, y917, [E("grip.verdict", "grips", kind="text-not", item=5)])
builtin("unknown-917-hard-past", "yellow-917", "hard", "yellow-917", "annealed", Y917, y917, [E("grip.verdict", "grips", kind="text-not", item=5)], past=0.09)
builtin("unknown-750", "yellow-750", "hard", "yellow-750", "annealed", {"hardness": 225.0, "modulus": 88000.0}, {"hardness": 150.0, "modulus": 88000.0}, [])
builtin("unknown-red-585", "red-585", "annealed", "red-585", "annealed", {"hardness": 160.0, "modulus": 101000.0}, {"hardness": 160.0, "modulus": 101000.0}, [])
none = [E(p, None, kind="absent", item=5, reading="nothing known: not judged") for p in ("stretch.overlap-needed", "stretch.turning.bore", "stretch.window", "grip.pressure", "grip.from")]
c = mk(flat, shell_alloy="yellow-585-deep", sleeve_alloy="yellow-585-deep", past=0.09); add("unknown-nothing-585-deep", 5, c, none)
HVH = {"hardness": 200.0, "modulus": 90000.0}; c = mk(flat, shell_metal=HVH); F = Band(c).solve()
add("unknown-hardness-stated", 5, c, [E("stretch.overlap-needed", F["stretch.overlap-needed"], item=5), E("stretch.turning.bore", F["stretch.turning.bore"], item=5)], needs="temper { hardness }")
c = mk(flat, hold=0.15, shell_alloy="yellow-917", sleeve_alloy="yellow-917", shell_temper="hard", sleeve_temper="annealed", shell_metal=Y917, sleeve_metal=y917); F = Band(c).solve()
add("unknown-hold-stated", 5, c, [E("stretch.overlap-needed", 0.15, item=5), E("stretch.turning.bore", F["stretch.turning.bore"], item=5)])

# ---- 6 the window at both ends
for nm, c in [("aim-safe", mk(flat, enlarger=0.01)), ("aim-none", mk(flat)), ("low-end-short", mk(flat, past=0.07)), ("low-end-holds", mk(flat, past=0.10)), ("wide-enlarger", mk(flat, past=0.10, enlarger=0.05)), ("tight", mk(flat, past=0.07, enlarger=0.005))]:
    F = Band(c).solve(); ex = []
    if "grip.safe" in F:
        ex.append(E("grip.safe", "yes" if F["grip.safe"] else "no", kind="new-text", item=6, reading="from .. to holds the enlarger on both sides of the middle (R8)"))
        if not F["grip.safe"]: ex.append(E("grip.aim", None, kind="absent", item=6, reading="no safe opening: nothing to aim at"))
    hollow_case("window-" + nm, 6, c, only=["grip.from", "grip.to", "grip.verdict"] + (["grip.aim"] if F.get("grip.safe") else []), extra=ex)
c = mk(flat, past=0.09, shell_metal=dict(HARDX, elongation=1.8)); F = Band(c).solve()   # 0.6 % limit: nominal 0.50 %, high end 0.66 %
add("window-high-end-strain", 6, c, [E("finding:evaluate::stretch_limit", True, kind="finding", item=6, reading="shell's strain under load at the high end (past + enlarger)/B0 = %.4f %% against 0.6 %%" % (100 * (0.12) / F["machined.shell.bore"]))])
c = mk(flat, past=0.09, shell_metal=dict(HARDX, elongation=2.4)); add("window-high-end-strain-holds", 6, c, [E("finding:evaluate::stretch_limit", False, kind="finding", item=6)])

# ---- 7 grooves
for nm, p, kw in [("half", dict(depth=0.2, mean=0.1, cover=0.5), {}), ("sharp-few", dict(depth=0.35, mean=0.17, cover=0.1), {}), ("full-cover", dict(depth=0.2, mean=0.2, cover=1.0), {}), ("dense-deep", dict(depth=0.3, mean=0.18, cover=0.9), {}),
                  ("thick-shell", dict(depth=0.3, mean=0.15, cover=0.3), dict(wall=0.8, thickness=2.4)), ("stated-nothing-cut", dict(depth=0.0001, mean=0.0001, cover=0.0001), {})]:
    c = mk(flat, past=0.09, pattern=p, **kw); F = Band(c).solve()
    hollow_case("grooves-" + nm, 7, c, only=["grip.pressure", "grip.from", "grip.to", "grip.verdict", "machined.shell.bore", "stretch.seated.mandrel"], new=["stretch.seated.never"])
    b = Band(c); k = b.kappas(); e_ = 520 / 9e4 * k["kmin"] / k["kto"]; B0 = F["machined.shell.bore"] / 2
    for x in CASES[-1]["expect"]:
        if x["path"] == "grip.to" and x["value"]:
            for nm_, rad in (("strain at the contact (R14)", 0.0), ("strain at mid thickness (R14)", k["th"] / 2)): x.setdefault("alt", {})[nm_] = 2 * e_ * (B0 + rad) / (1 - e_)

# ---- 8 one pull
def uniform(m, f=1.0):
    if m.get("hardening") is not None:
        Y, H = m["yield"], m["hardening"]
        eu = max(1 - Y / H, 0.0) if H else 0.0; g = lambda e: (Y + H * e) * exp(-e)
        if f >= 1: return eu
        return brentq(lambda e: g(e) - f * g(eu), 0, eu) if g(0) < f * g(eu) else 0.0
    if "tensile" in m and "yield" in m:
        n, K = two_point(m["yield"], m["tensile"], m["modulus"]); 
        if f >= 1: return n
        return brentq(lambda e: n * log(e) - e - (log(f) + n * log(n) - n), 1e-9, n)
    return None
def limit_case(name, c, short, why, needs=""):
    add(name, 8, c, [E("finding:evaluate::stretch_limit", short, kind="finding", item=8, reading=why)], needs)
nm40 = {"yield": 300.0, "modulus": 90000.0, "elongation": 40.0}
st = lambda p, m=nm40, **k: mk(drop(sol, "start"), stretch=p, metal=m, **k)
limit_case("pull-7-per-cent", st(0.07), True, "ln 1.07 = 6.77 % > 5 %; a third of 40 % = 13.3 % alone would pass")
limit_case("pull-5.1-per-cent", st(0.051), False, "ln 1.051 = 4.974 % true")
limit_case("pull-5.2-per-cent", st(0.052), True, "ln 1.052 = 5.07 % true")
limit_case("pull-no-elongation-6", st(0.06, {"yield": 300.0, "modulus": 90000.0}), True, "only the 5 % judges")
limit_case("pull-no-elongation-3", st(0.03, {"yield": 300.0, "modulus": 90000.0}), False, "only the 5 % judges, and that is said")
limit_case("pull-third", st(0.03, dict(nm40, elongation=6.0)), True, "a third of 6 % = 2 %")
limit_case("pull-limit-strain", mk(st(0.07), limit={"strain": "8 %"}), False, "`limit { strain 8 % }` replaces the 5 %", "limit { strain }")
limit_case("pull-limit-working", mk(st(0.029, dict(nm40, elongation=6.0)), limit={"working": "1/2"}), False, "half of 6 % is 3 %, 2.9 % is inside; a third would not be", "limit { working }")
limit_case("pull-uniform-linear", st(0.0495, {"yield": 400.0, "modulus": 90000.0, "hardening": 420.0, "elongation": 40.0}), True, "Considere: 1 - 400/420 = 4.76 % true; ln 1.0495 = 4.83 %")
limit_case("pull-patterned", mk(st(0.03, RPRM), pattern=dict(depth=0.54, mean=0.54, cover=0.5, cut="before")), True, "two-point n 0.197; 30 %% of the section gone leaves %.4f true" % uniform(RPRM, 0.7))
limit_case("pull-patterned-small", mk(st(0.01, RPRM), pattern=dict(depth=0.54, mean=0.54, cover=0.5, cut="before")), False, "as before, 1 % is inside")
limit_case("pull-hollow-sleeve", mk(flat, sleeve=0.3, ridge=dict(high=0.5, wide=0.4, count=2, play=0.06), sleeve_metal=SOFT), True, "a ridge 0.5 mm high wants the sleeve to grow by more than 5 %")

gs = mk(flat, past=0.12, shell_metal=RPRM2, sleeve_metal=dict(SOFT, **{"yield": 100.0, "hardening": 500.0}), pattern=dict(depth=0.3, mean=0.3, cover=1.0)); gb = Band(gs); gk = gb.kappas(); ff = gk["kmin"] * gk["W"] * gk["th"] / gb.areas()[1]
limit_case("pull-patterned-shell", gs, True, "shell cut to %.3f of its section: two-point limit %.5f true; it is opened by %.4f under load" % (ff, uniform(RPRM2, ff), 0.12 / 18.1))
# ---- 9 float
for nm, c, lim in [("two-ridges", mk(flat, stage="turning", play=0.06), 0.15), ("two-ridges-loose", mk(flat, stage="turning", play=0.06, ridge=dict(high=0.14, wide=0.4, count=2, play=0.1)), 0.15),
              ("one-ridge", mk(flat, stage="turning", play=0.06, ridge=dict(high=0.14, wide=0.4, count=1)), 0.15), ("low-dome", mk(domed, edge=1.0, wall=0.4, sleeve=0.4, stage="turning", play=0.06), 0.15), ("lips", mk(drop(flat, "ridge"), lip=dict(high=0.12, wide=0.3, play=0.2), stage="turning", play=0.06), 0.15)]:
    f = Band(c).float()
    add("float-" + nm, 9, c, [E("stretch.float", f, item=9, reading="free axial way in all"), E("finding:evaluate::float", f > lim, kind="finding", item=9, reading="limit 0.15 mm"),
        E("grip.pressure", None, kind="absent", item=9, reading="nothing judged at seated")])

# ---- 12 past from touch
n12 = ["stretch.touch.mandrel", "stretch.seated.never", "foot.bore"]
hollow_case("past-touch-hard", 12, mk(flat, past=0.09), only=["stretch.seated.bore", "stretch.seated.mandrel", "grip.from", "machined.shell.bore", "stretch.fixed.mandrel"], new=n12)
hollow_case("past-touch-no-past", 12, flat, only=["stretch.seated.bore", "stretch.seated.mandrel", "grip.from", "machined.shell.bore"], new=n12)
hollow_case("past-touch-never-seated", 12, mk(flat, shell_metal=SOFT, sleeve_metal=HARD), only=["stretch.seated.bore", "stretch.seated.mandrel", "grip.from", "grip.to"], new=n12)
hollow_case("past-touch-stage-past-touch", 12, mk(flat, hold=0.26, past=0.09), only=STAGE, new=n12)
hollow_case("past-touch-thick-sleeve", 12, mk(flat, sleeve=0.9, thickness=2.4, past=0.09), only=["stretch.seated.mandrel", "grip.from", "machined.shell.bore"], new=n12)

# ---- walls by place
def walls(name, c):
    b = Band(c); dep = (c.get("pattern") or {}).get("depth", 0.0); xs = np.linspace(-b.room, b.room, 4001)
    roof = np.array([[x, b.roof(max(-b.room + 1e-12, min(b.room - 1e-12, x)))] for x in xs])
    def dist(lower):
        best = 9
        if lower:   # over the feet the cut comes to the shell's own lower edge (the sleeve)
            best = min(b.o(x) - lower - b.s for x in np.linspace(b.room, b.w / 2, 400))
        for x in np.linspace(-b.w / 2, b.w / 2, 4001):
            d = np.min(np.hypot(roof[:, 0] - x, roof[:, 1] - (b.o(x) - lower))); best = min(best, d)
        return float(best)
    wr = dist(0.0); wc = dist(dep) if dep else None
    # side walls: the metal beside the channel
    exp = [E("wall.roof", min(wr, 9), 1e-5, item=2, reading="sampled"), E("wall.side", b.w / 2 - b.room, item=2),
           E("wall.side-face", b.o(b.w / 2) - b.s, item=2), E("wall.sleeve-edge", b.s - b.b, item=2)]
    if dep: exp.append(E("wall.under-cut", wc, 1e-5, item=2, reading="sampled 3 um"))
    add(name, 2, c, exp)
walls("walls-domed", mk(domed, pattern=dict(depth=0.2, cover=0.5))); walls("walls-straight", mk(domed, straight=True, pattern=dict(depth=0.2, cover=0.5)))
walls("walls-concave", mk(domed, profile="concave", dip=0.3, pattern=dict(depth=0.2, cover=0.5))); walls("walls-low-dome", mk(domed, edge=0.9, sleeve=0.5, ridge=dict(high=0.12, wide=0.4, count=1), pattern=dict(depth=0.2, cover=0.5)))
walls("walls-comfort", mk(domed, comfort=0.2))

# ---- 14 strength
def dep_of(c): return (c.get("pattern") or {}).get("depth", 0.0)
BL = ([0, .2, .3, .4, .5, .6, .7, .8, .9, 1.0, 1.1, 1.2, 1.3, 1.4, 1.5, 2, 3, 4, 5], [1, .977, .950, .917, .878, .838, .800, .762, .726, .693, .663, .636, .611, .589, .569, .495, .414, .367, .334])  # from memory
def bleich(b, dep, Eh):
    rm = b.R + (b.roof(0.0) + b.o(0.0)) / 2; t = b.o(0.0) - b.roof(0.0); par = b.room ** 2 / (rm * t); al = float(np.interp(par, *BL))
    W = lambda x: al if abs(x) < b.room else 1.0
    kn = b.knees; lo = lambda x: b.R + b.under(x); hi = lambda x: b.R + b.o(x) - dep
    A = integral(lambda x: W(x) * (hi(x) - lo(x)), kn); S_ = integral(lambda x: W(x) * (hi(x) ** 2 - lo(x) ** 2) / 2, kn); I = integral(lambda x: W(x) * log(hi(x) / lo(x)), kn)
    return ring(dict(A=A, mean=S_ / A, neutral=A / I, inner=b.R + b.s, outer=b.R + b.h), Eh)[0], al
def strong(name, c, ridged=True):
    parts = strength_parts(c); b = Band(c); exp = []
    if "solid" in parts:
        k, s1, _ = parts["solid"]; exp = [E("strength.stiffness", k, k * 1e-6, item=14), E("strength.load", c["metal"]["yield"] / s1, 1e-5, item=14)]
        add(name, 14, c, exp); return
    Eh, Es, nu = c["shell_metal"]["modulus"], c["sleeve_metal"]["modulus"], 0.38
    best = None
    rows = {}
    if not c.get("full"):
        n, e, t = S3.columns(S3.bands(c, b.w / 2, b.R, b.s, b.roof, b.room, b.o))
        for where, f in (("walls", lambda t: t == "wall"), ("roof", lambda t: t == "roof"), ("all", lambda t: True)):
            k, vm, hoop = S3.solve(n, e, t, Eh, nu, f, stress=True); rows[where] = (k, vm, hoop)
    else: rows["all"] = (parts["shell"][0], None, None)
    r = c.get("ridge")
    if r:
        rf = b.ridge_from_face(); o = b.w / 2 - rf; i = o - r["wide"]
        low = lambda x: b.R + b.i(x); fl = lambda x: b.R + b.floor(x); tp = lambda x: b.R + b.s + r["high"]
        if r.get("count", 2) == 2: bl = [(0, i, 6, [(low, fl, 2, "all")]), (i, o, 2, [(low, fl, 2, "all"), (fl, tp, 1, "all")]), (o, b.w / 2, 3, [(low, fl, 2, "all")])]
        else: bl = [(0, r["wide"] / 2, 2, [(low, fl, 2, "all"), (fl, tp, 1, "all")]), (r["wide"] / 2, b.w / 2, 6, [(low, fl, 2, "all")])]
    else: bl = [(0, b.w / 2, 6, [(lambda x: b.R + b.i(x), lambda x: b.R + b.floor(x), 2, "all")])]
    n, e, t = S3.columns(bl); ks, vms, _ = S3.solve(n, e, t, Es, nu, lambda t: True, stress=True)
    bl_note = ""
    if not c.get("full"):
        kbl, al = bleich(b, dep_of(c), Eh); bl_note = f"; shell with the handbook's effective width (alpha {al:.3f}) {kbl:.2f}"
    km = min(v[0] for v in rows.values()); where = min(rows, key=lambda w: rows[w][0])
    total = km + ks
    alt14 = {}
    if not c.get("full"):
        n_, e_, t_ = S3.columns(S3.bands(c, b.w / 2, b.R, b.s, b.roof, b.room, b.o))
        alt14 = {"feet cannot splay (R11)": ks + min(S3.solve(n_, e_, t_, Eh, nu, f, held=b.R + b.s)[0] for f in ((lambda t: t == "wall"), (lambda t: True)))}
    note = f"3-D elasticity: shell {', '.join(f'{w} {v[0]:.2f}' for w, v in rows.items())}, sleeve {ks:.2f}; full section as curved beam: shell {parts['shell'][0]:.2f}, sleeve with ridges {parts['sleeve'][0]:.2f}, bare {parts['bare'][0]:.2f} N/mm" + bl_note
    exp.append(E("strength.stiffness", total, total * 0.005, kind="max", item=14, reading=note, alt=alt14))
    exp.append(E("strength.stiffness", 0.6 * total, 0.0, kind="min", item=14, reading="a bound that says less than 0.6 of the truth is no help"))
    # first yield: curved-beam stress at the force, raised by what 3-D shows over the curved beam at 90 degrees
    def at90(sec):
        A, m, nn = sec["A"], sec["mean"], sec["neutral"]; ee = m - nn
        # moment at 90 by quadrature
        f = np.polynomial.legendre.leggauss(60); a = (f[0] + 1) * pi / 4; wt = f[1] * pi / 4
        N = -np.cos(a) / 2; X = brentq(lambda X: np.sum(wt * ((X + m * (1 - np.cos(a)) / 2) / (A * ee) - N / A)), -5 * m, 5 * m)
        return max(abs(-0.5 / A + X * (nn - q) / (A * ee * q)) for q in (sec["inner"], sec["outer"]))
    loads = []
    if not c.get("full"):
        fac = max(v[1] for v in rows.values()) / at90(parts["shell"][2]); loads.append((c["shell_metal"]["yield"] / (parts["shell"][1] * max(fac, 1)) / km, "shell", fac))
    else: loads.append((c["shell_metal"]["yield"] / parts["shell"][1] / km, "shell", 1))
    fs = vms / at90(parts["sleeve"][2]); loads.append((c["sleeve_metal"]["yield"] / (parts["sleeve"][1] * max(fs, 1)) / ks, "sleeve", fs))
    d, first, fac = min(loads); L = total * d
    exp.append(E("strength.load", L, 0.02 * L, kind="max", item=14, reading=f"first yield in the {first}; greatest stress in 3-D at 90 degrees over the curved beam's: " + ", ".join(f"{w} {f:.3f}" for _, w, f in loads)))
    add(name, 14, c, exp)
strong("strength-solid-flat", dict(size=17.3, width=6.0, thickness=1.8, profile="flat", metal=SOFT)); strong("strength-solid-domed", dict(size=18.0, width=6.0, thickness=2.0, profile="domed", edge=1.2, comfort=0.1, metal=SOFT))
strong("strength-solid-concave-true-extreme", dict(size=18.0, width=6.0, thickness=2.0, profile="concave", dip=0.5, comfort=0.2, metal=SOFT))
S = mk(flat, shell_metal=dict(HARDX), sleeve_metal=SOFT)
strong("strength-narrow", mk(drop(S, "ridge"), width=3.0)); strong("strength-6", drop(S, "ridge")); strong("strength-6-thin", mk(drop(S, "ridge"), wall=0.35)); strong("strength-8-thin", mk(drop(S, "ridge"), width=8.0, wall=0.35))
strong("strength-10-thin", mk(drop(S, "ridge"), width=10.0, wall=0.3)); strong("strength-ridges", S); strong("strength-ridges-high", mk(S, sleeve=0.3, ridge=dict(high=0.3, wide=0.4, count=2, play=0.06)))
strong("strength-ridge-one", mk(S, ridge=dict(high=0.3, wide=0.6, count=1), sleeve_metal=dict(SOFT, **{"yield": 120.0}))); strong("strength-ridges-soft-sleeve", mk(S, sleeve=0.3, ridge=dict(high=0.4, wide=0.4, count=2, play=0.06), sleeve_metal=dict(SOFT, **{"yield": 100.0})))
strong("strength-domed", drop(domed, "ridge")); strong("strength-domed-wide", mk(drop(domed, "ridge"), width=9.0, edge=1.3, wall=0.4))

# ================================================================ run
def q(v): return json.dumps(v, ensure_ascii=False)
def toml():
    out = ['# Recipes and what the model says of them, by oracle.py. kind: eq (within tol), max / min (a bound), absent (no figure may stand),', '# text / text-not (words of the verdict), finding (whether a finding of that code stands). alt: other readings of the page.', '']
    for c in CASES:
        out += ["[[case]]", f"name = {q(c['name'])}", f"item = {c['item']}"]
        if c["needs"]: out.append(f"needs = {q(c['needs'])}")
        out += ["recipe = '''", c["recipe"].rstrip("\n"), "'''"]
        for e in c["expect"]:
            out.append("[[case.expect]]"); out.append(f"path = {q(e['path'])}"); out.append(f"kind = {q(e['kind'])}")
            if e["value"] is not None: out.append(f"value = {q(e['value'])}")
            if isinstance(e["value"], float): out.append(f"tol = {float(e['tol'])!r}")
            if e["reading"]: out.append(f"reading = {q(e['reading'])}")
            if e.get("alt"): out.append("alt = { " + ", ".join(f"{q(k)} = {float(v)!r}" for k, v in e["alt"].items()) + " }")
        out.append("")
    open("cases.toml", "w").write("\n".join(out))
from check import run
toml(); run(CASES, BIN); json.dump(CASES, open("results.json", "w"), indent=1, default=lambda o: o.item())
n = {}
for c in CASES:
    for e in c["expect"]: n.setdefault(e["item"], {}).setdefault(str(e["ok"]), 0); n[e["item"]][str(e["ok"])] += 1
print(len(CASES), "cases"); [print(k, v) for k, v in sorted(n.items())]
