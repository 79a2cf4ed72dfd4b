#!/usr/bin/env python3
"""Drives oidium from outside, day by day: python3 drive.py OIDIUM BOOK [DAYS]. No network, no clock."""
import datetime as dt, json, math, random, subprocess, sys
oidium, book, days = sys.argv[1], sys.argv[2], int(sys.argv[3]) if len(sys.argv) > 3 else 60
chance, first, true, last_look = random.Random(1), dt.datetime(2001, 5, 15, tzinfo=dt.timezone.utc), 0.0, 0
def line(kind, time, body, written=None, **head):  # one entry; its id carries the time it was written
    written = written or time + dt.timedelta(minutes=5)
    u = f"{int(written.timestamp()) * 1000:012x}7{chance.randrange(1 << 12):03x}8{chance.randrange(1 << 60):015x}"
    return {"id": "-".join((u[:8], u[8:12], u[12:16], u[16:20], u[20:])), "kind": kind, "v": 1,
            "time": time.isoformat(), "written": written.isoformat(), **head, "body": body}
def send(lines): subprocess.run([oidium, "ledger", "import", "-", "--book", book], check=True, text=True,
                                input="".join(json.dumps(l) + "\n" for l in lines), stdout=subprocess.DEVNULL)
at = lambda day, hour: first + dt.timedelta(days=day, hours=hour)
send([line("site", first, {"name": "Driven garden", "invented": True, "seed": 1, "latitude": 52, "longitude": 5, "zone": "UTC", "role": "grower", "maritime": True}),
      line("bed", first, {"name": "Tunnel", "order": 1, "length_m": 20, "width_m": 2, "shelter": "tunnel"}, bed="t1"),
      line("planting", first, {"planting": "c1", "crop": "cucumber", "plants": 60, "first_pick": "2001-06-25", "last_pick": "2001-09-10", "value_m2_day": 0.5}, bed="t1"),
      line("stock", first, {"material": "sulfur_wg", "amount": 2, "price": 9}),
      line("label", first, {"material": "sulfur_wg", "rate_low_g_per_l": 3, "rate_high_g_per_l": 4, "harvest_days": 1, "reentry_hours": 24, "interval_days": 7, "max_season": 6})])
for day in range(1, days + 1):
    temp = [15 + 0.06 * day + chance.gauss(0, 1.5) + 6 * math.sin((h - 9) / 24 * 2 * math.pi) for h in range(24)]
    rain = chance.choice([0, 0, 0, 4]) * chance.random()
    lines = [line("weather", at(day - 1, 0), {"station": "own", "start": at(day - 1, 0).isoformat(), "t": [round(x, 1) for x in temp],
                  "rh": [round(min(99, max(35, 120 - 2.5 * x))) for x in temp], "wind": [1.5] * 24, "rain": [round(rain / 4, 2) if h < 4 else 0 for h in range(24)],
                  "rad": [round(max(0, 600 * math.sin((h - 5) / 15 * math.pi))) for h in range(24)]}, written=at(day, 0))]
    true = min(0.9, true * 1.13) if true else (0.0005 if day == 25 else 0)
    lines += [line("harvest", at(day - 1, 9), {"kg": 12}, bed="t1")] if day > 42 and day % 3 == 0 else []
    send(lines)
    date = at(day, 0).date().isoformat()
    r = json.loads(subprocess.run([oidium, "round", "--date", date, "--json", "--book", book], check=True, capture_output=True, text=True).stdout)
    bed, job = r["beds"][0], (r["jobs"] or [{"kind": "nothing"}])[0]
    print(date, bed["verdict"], f"covered {bed['covered']['mid']:.4f} ({bed['covered']['low']:.4f} to {bed['covered']['high']:.4f})", "true", f"{true:.4f}", "job", job["kind"])
    if job["kind"] == "look" or day - last_look >= 10:  # 30 old leaves on 10 plants, both faces
        last_look, share = day, 1 - math.exp(-12 * true)
        send([line("tally", at(day, 8), {"check": "eye", "sure": "sure", "counts": [{"plant": p + 1, "age": "old", "face": f, "inspected": 3, "infected": sum(chance.random() < share for _ in range(3))}
                   for p in range(10) for f in ("upper", "lower")]}, bed="t1")])
    if job["kind"] == "remove": true *= 0.6; send([line("removal", at(day, 9), {"share": 0.06, "ages": ["old"]}, bed="t1")])
    if job["kind"] == "treat": true *= 0.7; send([line("treatment", at(day, 20), {"material": job["material"], "end": at(day, 20.5).isoformat(), "litres": job["mix"]["litres"], "grams": job["mix"]["grams"], "below": True}, bed="t1")])
