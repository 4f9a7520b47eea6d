"""Rings under two opposed forces in three-dimensional elasticity: harmonics round the ring, nine-node elements over half the section.

The forces act at two points of the circumference, spread over a part of the section ('walls', or all of it), so that
local denting is left out where it is asked to be; the shortening is that of the loaded part (work-conjugate).
"""
from math import *
import numpy as np
import scipy.sparse as sp
from scipy.sparse.linalg import splu

g3 = [-sqrt(.6), 0, sqrt(.6)]; w3 = [5 / 9, 8 / 9, 5 / 9]
L = [lambda s: s * (s - 1) / 2, lambda s: 1 - s * s, lambda s: s * (s + 1) / 2]
dL = [lambda s: s - .5, lambda s: -2 * s, lambda s: s + .5]

def columns(blocks):
    """blocks: list of (x0, x1, nx, [(low(x), high(x), ny, key)...]); levels of neighbours with the same key are shared."""
    nodes, ids, elems, tags = [], {}, [], []
    def node(x, r):
        k = (round(x, 9), round(r, 9))
        if k not in ids: ids[k] = len(nodes); nodes.append((x, r))
        return ids[k]
    for x0, x1, nx, layers in blocks:
        for lo, hi, ny, tag in layers:
            for i in range(nx):
                for j in range(ny):
                    e = []
                    for b in range(3):
                        for a in range(3):
                            x = x0 + (x1 - x0) * (i + a / 2) / nx; f = (j + b / 2) / ny
                            l, h = lo(x), hi(x); e.append(node(x, l + (h - l) * f))
                    elems.append(e); tags.append(tag)
    return np.array(nodes), np.array(elems), tags

def solve(nodes, elems, tags, E, nu, loaded, nmax=40, stress=False, held=None):
    """`held`: radius of the feet, whose nodes then cannot slide along the axis."""
    N = len(nodes); lam = E * nu / ((1 + nu) * (1 - 2 * nu)); mu = E / (2 * (1 + nu))
    D = np.zeros((6, 6)); D[:3, :3] = lam; D[:3, :3] += 2 * mu * np.eye(3); D[3:, 3:] = mu * np.eye(3)
    # shape data at all points
    pts = []
    xe = nodes[elems]  # ne,9,2
    K0 = []; wload = np.zeros(N)
    shp = []
    for a, wa in zip(g3, w3):
        for b, wb in zip(g3, w3):
            Nn = np.array([L[i](a) * L[j](b) for j in range(3) for i in range(3)])
            Na = np.array([dL[i](a) * L[j](b) for j in range(3) for i in range(3)])
            Nb = np.array([L[i](a) * dL[j](b) for j in range(3) for i in range(3)])
            J11 = xe[:, :, 0] @ Na; J12 = xe[:, :, 1] @ Na; J21 = xe[:, :, 0] @ Nb; J22 = xe[:, :, 1] @ Nb
            det = J11 * J22 - J12 * J21
            dx = (np.outer(J22, Na) - np.outer(J12, Nb)) / det[:, None]
            dr = (np.outer(-J21, Na) + np.outer(J11, Nb)) / det[:, None]
            r = xe[:, :, 1] @ Nn
            shp.append((Nn, dx, dr, r, det * wa * wb))
            on = np.array([loaded(t) for t in tags], float)
            np.add.at(wload, elems, (on * det * wa * wb)[:, None] * Nn[None, :])
    wload /= wload.sum()
    fixed = [3 * i + 1 for i in range(N) if abs(nodes[i, 0]) < 1e-9 or (held is not None and abs(nodes[i, 1] - held) < 1e-9)]
    free = np.setdiff1d(np.arange(3 * N), fixed)
    dof = (3 * elems[:, :, None] + np.arange(3)[None, None, :]).reshape(len(elems), 27)
    rows = np.repeat(dof, 27, axis=1).ravel(); cols = np.tile(dof, (1, 27)).ravel()
    total, parts, US = 0.0, {}, {}
    for n in range(0, nmax + 1, 2):
        Ke = np.zeros((len(elems), 27, 27))
        for Nn, dx, dr, r, wt in shp:
            B = np.zeros((len(elems), 6, 27)); iu, iw, iv = slice(0, 27, 3), slice(1, 27, 3), slice(2, 27, 3)
            Nr = Nn[None, :] / r[:, None]
            B[:, 0, iu] = dr; B[:, 1, iw] = dx; B[:, 2, iu] = Nr; B[:, 2, iv] = n * Nr
            B[:, 3, iu] = dx; B[:, 3, iw] = dr
            B[:, 4, iv] = dx; B[:, 4, iw] = -n * Nr
            B[:, 5, iv] = dr - Nr; B[:, 5, iu] = -n * Nr
            if n == 0: B[:, 4:, :] = 0; B[:, 2, iv] = 0
            Ke += np.einsum("eia,ij,ejb,e->eab", B, D, B, wt * r * (2 * pi if n == 0 else pi), optimize=True)
        K = sp.csc_matrix((Ke.ravel(), (rows, cols)), shape=(3 * N, 3 * N))
        fr = free if n else np.setdiff1d(free, np.arange(2, 3 * N, 3))
        K = K[fr][:, fr]
        f = np.zeros(3 * N); f[0::3] = wload   # half of 2F on half a section
        # half section (x >= 0): its share of the force is F, so weights sum to 1 for F = 1 on the half... see below
        u = np.zeros(3 * N); u[fr] = splu(K).solve(f[fr])
        parts[n] = float(wload @ u[0::3]); total += parts[n]
        US[n] = u
    # tail beyond nmax falls as 1/n^2 at worst
    if stress:
        # von Mises and hoop at 90 degrees from the forces, at the integration points, for F = 1 on the half section's share (F = 2 whole)
        vm, hoop = 0.0, 0.0
        for Nn, dx, dr, r, wt in shp:
            eps = np.zeros((len(elems), 6))
            for n, u in US.items():
                sg = (-1) ** (n // 2); U, W, V = (u[3 * elems + k] for k in range(3))
                eps[:, 0] += sg * (dr * U).sum(1); eps[:, 1] += sg * (dx * W).sum(1)
                eps[:, 2] += sg * ((U + n * V) @ Nn) / r; eps[:, 3] += sg * ((dx * U).sum(1) + (dr * W).sum(1))
            s6 = eps @ D.T
            m = np.sqrt(((s6[:, 0] - s6[:, 1]) ** 2 + (s6[:, 1] - s6[:, 2]) ** 2 + (s6[:, 2] - s6[:, 0]) ** 2) / 2 + 3 * s6[:, 3] ** 2)
            vm = max(vm, m.max()); hoop = max(hoop, abs(s6[:, 2]).max())
        return 1 / (2 * total), vm, hoop
    return 1 / (2 * total), parts, US

def bands(c, half, R, foot, roof, room, out, nx=(3, 10), ny=(4, 3)):
    lev = roof(room - 1e-12)
    return [(0.0, room, nx[1], [(lambda x: R + roof(min(x, room - 1e-12)), lambda x: R + out(x), ny[1], "roof")]),
            (room, half, nx[0], [(lambda x: R + lev, lambda x: R + out(x), ny[1], "wall"), (lambda x: R + foot, lambda x: R + lev, ny[0], "wall")])]

def flange_share(b, r, t, hinged, nu=0.38):
    """Share of a roof of half span b between two walls that carries hoop stress: plate strip on the hoop's own bedding.

    D v'''' + (E t / r^2) v = 0, v = 1 at the wall (v'' = 0 hinged on it, v' = 0 built in), v' = v''' = 0 at mid span.
    """
    from scipy.integrate import solve_bvp
    k = 3 * (1 - nu * nu) / (r * r * t * t) * 4
    x = np.linspace(0, b, 200)
    s = solve_bvp(lambda x, y: np.vstack([y[1], y[2], y[3], -k * y[0]]), lambda a, z: np.array([a[0] - 1, a[2] if hinged else a[1], z[1], z[3]]), x, np.vstack([np.exp(-k ** .25 * x), 0 * x, 0 * x, 0 * x]), tol=1e-8, max_nodes=20000)
    xx = np.linspace(0, b, 4001); return float(np.trapezoid(s.sol(xx)[0], xx) / b)
