"""The books of 50 random workshops, in exact fractions, from the words of the model alone.

Draws recipes (pipes, and pipes in a full shell, so that a weight is pi and decimals), works out metal, cost, price and an
order of each, and records both. It shares nothing with the program. Money is rounded once, halves to even; a mass becomes
a decimal once, to a millionth of a gram, halves to even.

    python3 tests/money/books.py > tests/money/books.json
"""
import json
import random
from fractions import Fraction as F
from math import ceil, floor

PI = F("3.14159265358979323846264338327950288419716939937510582097494459230781640628620899")
draw = random.Random(20261126)


def even(value, places):
    return F(round(value * 10**places), 10**places)  # Python rounds fractions half to even


def grams(value):
    return even(value, 6)


def text(value, places=9):
    whole = value * 10**places
    assert whole.denominator == 1, value
    out = f"{abs(int(whole)):0{places + 1}d}"
    out = f"{out[:-places]}.{out[-places:]}".rstrip("0").rstrip(".")
    return ("-" if value < 0 else "") + out


def dec(low, high, places):
    return F(draw.randint(int(low * 10**places), int(high * 10**places)), 10**places)


def share(low, high):
    return dec(low, high, 3)


def pct(value):
    return text(value * 100) + " %"


def ring_mm3(bore, width, inner, outer):
    a, b = bore / 2 + inner, bore / 2 + outer
    return PI * width * (b * b - a * a)


class Part:
    def __init__(self, uncut, alloy, stock, width, polish):
        self.uncut, self.alloy, self.stock, self.width, self.polish = uncut, alloy, stock, width, polish

    def balance(self, batch):
        polished = self.uncut * self.polish
        self.finished, self.polished = grams(self.uncut), grams(polished)
        self.turned = self.offcuts = F(0)
        if self.stock:
            s = self.stock
            by_mm = PI / 4 * (s["outside"] ** 2 - s["bore"] ** 2) * self.alloy["density"] / 1000
            if s["form"] == "cast":
                piece, offcut = s["length"], F(0)
            else:
                piece = self.width + 2 * s["facing"] + s["kerf"]
                offcut = s["rest"]
                if s["length"]:
                    pieces = floor((s["length"] - s["rest"]) / piece)
                    offcut += (ceil(F(batch, pieces)) - 1) * (s["length"] - pieces * piece)
            self.turned = max(grams(by_mm * piece - self.uncut - polished), F(0))
            self.offcuts = grams(by_mm * offcut / batch) + s["sprue"]
        return self

    @property
    def issued(self):
        return self.finished + self.turned + self.offcuts + self.polished


def recipe():
    p = {
        "gold": dec(60, 130, 2), "silver": dec(1, 2, 2), "premium": share(0, F(3, 100)),
        "fabrication": dec(0, 3, 2),
    }
    scrap = {k: (share(F(1, 2), 1), share(F(1, 2), 1)) for k in ("offcuts", "turnings", "polishings")}
    polish, charge, minimum = share(0, F(3, 100)), dec(0, 1, 2), dec(0, 40, 2)
    consignment = dec(20, 500, 1) if draw.random() < 0.4 else None
    wait = draw.randint(5, 60)
    labour, machine = dec(20, 80, 2), dec(5, 40, 2)
    batch = draw.randint(1, 12)
    operations = []
    for number in range(draw.randint(1, 3)):
        operations.append((f"op{number}", draw.randint(0, 40), dec(1, 20, 1),
                           draw.choice(["labour", "machine", "both"]), draw.choice(["every", "solid", "hollow"])))
    overhead, on = share(0, F(1, 2)), draw.choice(["work", "cost"])
    rejects = {"solid": share(0, F(1, 5)), "hollow": share(0, F(1, 3))}
    fees = [(f"fee{n}", dec(0, 5, 2), dec(0, 20, 2), dec(0, 60, 2)) for n in range(draw.randint(0, 2))]
    tax = share(0, F(1, 4))
    alloys = {}
    for name in ("one", "two"):
        gold = draw.randint(300, 900)
        silver = draw.randint(0, 1000 - gold)
        alloys[name] = {"name": name, "gold": gold, "silver": silver, "copper": 1000 - gold - silver,
                        "density": dec(11, 18, 2)}
    form = draw.choice(["none", "tube", "tube", "cast"])
    stock = None
    if form != "none":
        long = form == "cast" or draw.random() < 0.7
        stock = {"form": form, "outside": dec(27, 29, 1), "bore": dec(10, 14, 1),
                 "length": (dec(8, 12, 1) if form == "cast" else dec(60, 300, 0)) if long else None,
                 "kerf": dec(0, 1, 1), "facing": dec(0, F(3, 10), 2), "rest": dec(0, 20, 0),
                 "sprue": dec(0, 2, 2) if form == "cast" else F(0),
                 "fabrication": dec(0, 4, 2) if draw.random() < 0.5 else None}
    solder = dec(F(1, 100), F(1, 5), 3) if draw.random() < 0.5 else None
    width, thick, sleeve = dec(3, 6, 2), dec(F(3, 2), 3, 2), dec(F(1, 2), 1, 2)
    bores = [dec(15, 20, 2), dec(15, 20, 2)]
    counts = [draw.randint(1, 12), draw.randint(1, 12), draw.randint(1, 12)]
    sales = {band: draw.choice(["markup", "margin", "at", "weight", "share"]) for band in "bc"}
    value = {"markup": share(F(1, 2), 2), "margin": share(F(1, 5), F(3, 5)), "at": dec(3000, 5000, 2),
             "weight": dec(80, 200, 2), "share": share(1, 3), "add": share(0, F(1, 10))}
    old, paid, deposit = dec(1, 9, 2), share(F(4, 5), 1), share(0, F(1, 2))

    def sale(band):
        how = sales[band]
        return {"markup": f"piece {{ markup {pct(value['markup'])} }}",
                "margin": f"piece {{ margin {pct(value['margin'])} }}",
                "at": f"piece {{ at {text(value['at'])} EUR }}",
                "weight": f"weight {{ making {text(value['weight'])} EUR/g, add {pct(value['add'])} }}",
                "share": f"weight {{ making {pct(value['share'])}, add {pct(value['add'])} }}"}[how]

    lines = [f"prices {{ dated 2026-11-20, gold {text(p['gold'])} EUR/g, silver {text(p['silver'])} EUR/g"
             f", premium {pct(p['premium'])}, fabrication {text(p['fabrication'])} EUR/g }}",
             f"shop {{ currency EUR, labour {text(labour)} EUR/h, machine {text(machine)} EUR/h, batch {batch}"]
    for name, set_up, run, at, whom in operations:
        lines.append(f"  operation {name} {{ set-up {set_up} min, run {text(run)} min, at {at}, for {whom} }}")
    lines += [f"  overhead {pct(overhead)} {{ on {on} }}",
              f"  rejects {{ solid {pct(rejects['solid'])}, hollow {pct(rejects['hollow'])} }}", "  scrap {"]
    for stream, (collected, of_it) in scrap.items():
        part = f"part {pct(polish)}, " if stream == "polishings" else ""
        lines.append(f"    {stream} {{ {part}collected {pct(collected)}, paid {pct(of_it)} }}")
    together = f", consignment {text(consignment)} g" if consignment else ""
    lines += [f"    charge {text(charge)} EUR/g, minimum {text(minimum)} EUR{together}, wait {wait} days", "  }"]
    for name, article, each, least in fees:
        lines.append(f"  fee {name} {{ article {text(article)} EUR, consignment {text(each)} EUR, minimum {text(least)} EUR }}")
    lines += [f"  tax {pct(tax)}", "}"]
    for a in alloys.values():
        lines.append(f"alloy {a['name']} {{ gold {a['gold']}, silver {a['silver']}, copper {a['copper']}, density {text(a['density'])} g/cm3 }}")
    if stock:
        s = stock
        parts = [f"outside {text(s['outside'])} mm", f"bore {text(s['bore'])} mm"]
        parts += [f"length {text(s['length'])} mm"] if s["length"] else []
        if form == "tube":
            parts += [f"kerf {text(s['kerf'])} mm", f"facing {text(s['facing'])} mm", f"rest {text(s['rest'])} mm"]
        else:
            parts += [f"sprue {text(s['sprue'])} g"]
        parts += [f"fabrication {text(s['fabrication'])} EUR/g"] if s["fabrication"] is not None else []
        lines.append(f"stock made {form} {{ {', '.join(parts)} }}")
    shape = f"width {text(width)} mm, thickness {text(thick)} mm, profile flat"
    joined = f", solder two {{ amount {text(solder)} g }}" if solder else ""
    lines.append(f"band b {{ size {text(bores[0])} mm, {shape}, alloy one{', stock made' if stock else ''}{joined}\n  sale {sale('b')} }}")
    lines.append(f"band c {{ size {text(bores[0])} mm, {shape}, alloy one\n  hollow {{ shell full, sleeve {text(sleeve)} mm {{ alloy two }} }}\n  sale {sale('c')} }}")
    lines.append(f"order fair {{ dated 2026-11-25\n  b {{ {counts[0]}, {counts[1]} of {text(bores[1])} mm }}\n  c {counts[2]}\n"
                 f"  exchange {{ weight {text(old)} g, alloy one, paid {pct(paid)} }}\n  quote {{ valid 14 days, deposit {pct(deposit)} }}\n}}")

    # The books.
    def worth(a):
        return (a["gold"] * p["gold"] + a["silver"] * p["silver"]) / 1000

    def gram(part):
        form_of = part.stock["fabrication"] if part.stock and part.stock["fabrication"] is not None else p["fabrication"]
        return worth(part.alloy) * (1 + p["premium"]) + form_of

    def parts(band, bore):
        if band == "b":
            uncut = ring_mm3(bore, width, 0, thick) * alloys["one"]["density"] / 1000
            found = [Part(uncut, alloys["one"], stock, width, polish)]
            if solder:
                found.append(Part(solder, alloys["two"], None, width, F(0)))
            return found
        shell = ring_mm3(bore, width, sleeve, thick) * alloys["one"]["density"] / 1000
        inner = ring_mm3(bore, width, 0, sleeve) * alloys["two"]["density"] / 1000
        return [Part(shell, alloys["one"], None, width, polish), Part(inner, alloys["two"], None, width, polish)]

    def streams(part):
        return [(part.turned, *scrap["turnings"]), (part.offcuts, *scrap["offcuts"]), (part.polished, *scrap["polishings"])]

    def recovered(part):
        return sum(mass * c * q for mass, c, q in streams(part))

    def refining(sent):
        if sent == 0:
            return F(0)
        if consignment:
            return max(charge * consignment, minimum) * sent / consignment
        return max(charge * sent, minimum)

    def seconds(band):
        kind = "solid" if band == "b" else "hollow"
        mine = [o for o in operations if o[4] in ("every", kind)]
        both = {}
        for rate in ("labour", "machine"):
            at = [o for o in mine if o[3] in (rate, "both")]
            both[rate] = (F(sum(o[1] for o in at)), sum((o[2] for o in at), F(0)))
        return both

    def fee(count):
        return sum((max(article * count + each, least) for _, article, each, least in fees), F(0))

    def overheads(work, metal):
        return overhead * (work + metal if on == "cost" else work)

    def one(band, bore):
        mine = [part.balance(batch) for part in parts(band, bore)]
        bought = sum(part.issued * gram(part) for part in mine)
        returned = sum(recovered(part) * worth(part.alloy) for part in mine)
        sent = sum(mass * c for part in mine for mass, c, _ in streams(part)) * batch
        time = seconds(band)
        rate = {"labour": labour / 60, "machine": machine / 60}
        paid_time = {k: rate[k] * (time[k][1] + time[k][0] / batch) for k in rate}
        run = sum(rate[k] * time[k][1] for k in rate)
        c, q = scrap["offcuts"]
        ring = sum(part.finished * c * q * worth(part.alloy) for part in mine)
        wasted = bought - returned - ring
        no = rejects["solid" if band == "b" else "hollow"]
        lost = no / (1 - no) * (wasted + run + overheads(run, wasted))
        work = sum(paid_time.values())
        cost = bought - returned + refining(sent) / batch + work + overheads(work, bought - returned) + lost + fee(batch) / batch
        finished = sum(part.finished for part in mine)
        metal = sum(part.finished * worth(part.alloy) for part in mine) * (1 + value["add"])
        net = {"markup": cost * (1 + value["markup"]), "margin": cost / (1 - value["margin"]), "at": value["at"],
               "weight": metal + finished * (1 + value["add"]) * value["weight"], "share": metal * (1 + value["share"])}[sales[band]]
        return {"cost": even(cost, 2), "net": even(net, 2), "issued": sum(part.issued for part in mine),
                "recovered": sum(recovered(part) for part in mine)}

    wanted = {}
    for band in "bc":
        of = one(band, bores[0])
        wanted[f"{band}.weight.issued"] = of["issued"]
        wanted[f"{band}.weight.recovered"] = of["recovered"]
        wanted[f"{band}.cost"] = of["cost"]
        wanted[f"{band}.price"] = of["net"]
        wanted[f"{band}.price.total"] = even(of["net"] * (1 + tax), 2)
        wanted[f"{band}.earning"] = of["net"] - of["cost"]

    def begun(band, counts):
        total = sum(counts)
        all_of = ceil(total / (1 - rejects["solid" if band == "b" else "hollow"]))
        more = all_of - total
        found = [count + more * count // total for count in counts]
        rests = sorted(range(len(counts)), key=lambda k: -(more * counts[k] % total))
        for place in rests[: all_of - sum(found)]:
            found[place] += 1
        return found

    made = []  # band, bore, count, begun
    for band, sizes, ordered in (("b", bores, counts[:2]), ("c", bores[:1], counts[2:])):
        made += [(band, *row) for row in zip(sizes, ordered, begun(band, ordered))]
    all_begun = {band: sum(row[3] for row in made if row[0] == band) for band in "bc"}
    issued = finished = back = bought = returned = sent = F(0)
    time = {"labour": F(0), "machine": F(0)}
    c, q = scrap["offcuts"]
    for band, bore, count, starts in made:
        mine = [part.balance(all_begun[band]) for part in parts(band, bore)]
        for part in mine:
            issued += part.issued * starts
            finished += part.finished * count
            rings = part.finished * (starts - count)
            back += recovered(part) * starts + rings * c * q
            bought += part.issued * gram(part) * starts
            returned += (recovered(part) * starts + rings * c * q) * worth(part.alloy)
            sent += sum(mass * cc for mass, cc, _ in streams(part)) * starts + rings * c
        for rate in time:
            time[rate] += seconds(band)[rate][1] * starts
    for band in "bc":
        for rate in time:
            time[rate] += seconds(band)[rate][0] * ceil(F(all_begun[band], batch))
    work = time["labour"] * labour / 60 + time["machine"] * machine / 60
    cost = even(bought - returned + refining(sent) + work + overheads(work, bought - returned) + fee(sum(counts)), 2)
    ones = [(one(band, bore), count) for band, bore, count, _ in made]
    net = sum(of["net"] * count for of, count in ones)
    gross = even(net * (1 + tax), 2)
    credit = even(old * paid * worth(alloys["one"]), 2)
    singly = sum(of["cost"] * count for of, count in ones)
    order = {"grams.issued": issued, "grams.finished": finished, "grams.recovered": back,
             "grams.lost": issued - finished - back, "minutes.labour": time["labour"], "minutes.machine": time["machine"],
             "cost.total": cost, "singly": singly, "difference": cost - singly, "price": net, "total": gross,
             "credit": credit, "due": gross - credit, "deposit": even((gross - credit) * deposit, 2)}
    return {"recipe": "\n".join(lines) + "\n", "bands": {k: text(v, 15) for k, v in wanted.items()},
            "order": {k: text(v, 15) for k, v in order.items()}}


print(json.dumps([recipe() for _ in range(50)], indent=1))
