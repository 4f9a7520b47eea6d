"""Asks a binary, by its machine output of version 2, what the record beside this folder holds (`../pages.json`), or
what cases.py wrote last (`cases.toml`, where it is there): `python3 check.py BINARY [ITEM ...]`. Prints what does not
agree; exit 1 if anything does not."""
import json, re, subprocess, sys, tempfile, os

def run(CASES, BIN):
    for c in CASES:
        f = os.path.join(tempfile.gettempdir(), f"t17-{os.getpid()}.annulet"); open(f, "w").write(c["recipe"])
        p = subprocess.run([BIN, "eval", "--json", f], capture_output=True, text=True)
        try: j = json.loads(p.stdout)
        except ValueError: j = {}
        if j and j.get("version") != 2: sys.exit(f"machine output of version {j.get('version')}, and this reads 2")
        part = (j.get("recipes") or [{}])[0]; R = part.get("results") or {}; fs = j.get("findings") or []
        txt = subprocess.run([BIN, "eval", f], capture_output=True, text=True); text = " ".join(txt.stdout.split())
        m = re.search(r"verdict (.*?)( window| stated| pressure| held by| aim)", text); verdict = m.group(1) if m else None
        c["status"] = p.returncode; c["verdict"] = verdict; c["codes"] = [x["code"] for x in fs]
        for e in c["expect"]:
            got = None
            if p.returncode == 2 or not R: e["got"], e["ok"] = "refused: " + "; ".join(x["message"] for x in fs)[:150], "refused"; continue
            if e["path"].startswith("finding:"):
                got = e["path"][8:] in c["codes"]; ok = got == e["value"]; e["msg"] = [x["message"] for x in fs if x["code"] == e["path"][8:]]
                if e["path"].endswith("float") and e["value"]: ok = True if got else "absent"
            elif e["kind"] == "textnum":
                m2 = re.search(r"beside the ridge ≈ ([\d.]+) mm", text); got = float(m2.group(1)) if m2 else None
                ok = "absent" if got is None else abs(got - e["value"]) <= e["tol"]
            elif e["kind"] in ("text", "text-not"):
                got = verdict; w = {"grips": "grips over", "may grip": "may", "does not": "not"}[e["value"]]
                ok = (w in (got or "")) if e["kind"] == "text" else not (w in (got or ""))
                if got is None and e["kind"] == "text": ok = "absent"
            else:
                v = R.get("b." + e["path"]); got = v["value"] if v else None
                if isinstance(got, str):
                    try: got = float(got)
                    except ValueError: pass
                if e["kind"] == "absent": ok = got is None
                elif got is None: ok = "absent"
                elif e["kind"] == "eq": ok = abs(got - e["value"]) <= e["tol"] + 1e-12
                elif e["kind"] == "max": ok = got <= e["value"] + e["tol"]
                elif e["kind"] == "min": ok = got >= e["value"] - e["tol"]
                else: ok = got == e["value"]
                if ok is False and e.get("alt"):
                    for k, a in e["alt"].items():
                        if abs(got - a) <= e["tol"] or (e["kind"] == "max" and got <= a + e["tol"]): e["matches"] = k
            e["got"], e["ok"] = got, ok

if __name__ == "__main__":
    import tomllib
    here = os.path.dirname(os.path.abspath(__file__)); last = os.path.join(here, "cases.toml")
    if os.path.exists(last): CASES = tomllib.load(open(last, "rb"))["case"]
    else: CASES = json.load(open(os.path.join(here, "..", "pages.json")))["cases"]
    CASES = [c for c in CASES if len(sys.argv) < 3 or str(c["item"]) in sys.argv[2:]]
    for c in CASES:
        for e in c["expect"]: e.setdefault("value", None); e.setdefault("tol", 0.0); e.setdefault("reading", "")
    run(CASES, sys.argv[1]); bad = 0
    for c in CASES:
        for e in c["expect"]:
            if e["ok"] is not True:
                bad += 1; d = f" diff {e['got'] - e['value']:+.3e}" if isinstance(e["got"], float) and isinstance(e["value"], float) else ""
                print(f"{c['item']} {c['name']}: {e['path']} {e['kind']} {e['value']} got {e['got']}{d}", ("as reading: " + e["matches"]) if e.get("matches") else "")
    print(len(CASES), "cases,", sum(len(c["expect"]) for c in CASES), "figures,", bad, "not met"); sys.exit(bool(bad))
