"""An invented world for drive.py: the weather of a summer that warms slowly, and an
epidemic of its own, of which oidium sees the tallies only."""
import datetime as dt, math, random

START, chance = dt.datetime(2001, 5, 15, tzinfo=dt.timezone.utc), random.Random(1)


def at(day, hour=0):
    return START + dt.timedelta(days=day, hours=hour)


def line(kind, time, body, written=None, **head):
    """One entry; its id carries the time it was written."""
    written = written or time + dt.timedelta(minutes=45)
    u = f"{int(written.timestamp() * 1000):012x}7{chance.getrandbits(12):03x}8{chance.getrandbits(60):015x}"
    return {"id": f"{u[:8]}-{u[8:12]}-{u[12:16]}-{u[16:20]}-{u[20:]}", "kind": kind, "v": 1,
            "time": time.isoformat(), "written": written.isoformat(), **head, "body": body}


def weather(day):
    """24 hours, written when the day is over."""
    t = [14 + 0.06 * day + 6 * math.sin((h - 9) / 12 * math.pi) + chance.gauss(0, 0.5) for h in range(24)]
    return line("weather", at(day), written=at(day + 1), body={
        "station": "own", "start": at(day).isoformat(), "t": [round(x, 1) for x in t],
        "rh": [round(min(98, max(40, 118 - 2.4 * x))) for x in t], "wind": [1.5] * 24,
        "rain": [chance.choice([0, 0, 0, 0.4]) if h < 5 else 0 for h in range(24)],
        "rad": [max(0, round(600 * math.sin((h - 4) / 16 * math.pi))) for h in range(24)]})


def tally(day, white):
    """3 old leaves on each of 10 plants, both faces; spots of 1 cm2, clumped, on leaves of 150 cm2."""
    p = 1 - (1 + 300 * white) ** -0.5
    return line("tally", at(day, 8), bed="tunnel", body={"check": "eye", "sure": "sure", "counts": [
        {"plant": n + 1, "age": "old", "face": f, "inspected": 3, "infected": sum(chance.random() < p for _ in range(3))}
        for n in range(10) for f in ("upper", "lower")]})


class World:
    white = 0.0  # share of leaf mildewed in truth

    def dawn(self, day):
        """The night passes; returns what was written since the last morning."""
        self.white = 0.0002 if day == 30 else self.white + 0.12 * self.white * (1 - self.white)
        picked = [line("harvest", at(day - 1, 9), {"kg": 12}, bed="tunnel")] if day > 42 and day % 3 == 0 else []
        return [weather(day - 1), *picked]

    def do(self, day, job):
        """Does the job and returns the entries that say so."""
        done = [tally(day, self.white)] if job["kind"] == "look" or day % 14 == 0 else []
        if job["kind"] in ("remove", "treat"):
            self.white *= 0.65
        if job["kind"] == "remove":
            done.append(line("removal", at(day, 9), {"share": 0.06, "ages": ["old"]}, bed="tunnel"))
        if job["kind"] == "treat":
            done.append(line("treatment", at(day, 20), {
                "material": job["material"], "end": at(day, 20.5).isoformat(),
                "litres": job["mix"]["litres"], "grams": job["mix"]["grams"], "below": True}, bed="tunnel"))
        return done
