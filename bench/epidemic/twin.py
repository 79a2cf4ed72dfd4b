#!/usr/bin/env python3
"""The epidemic model of the package epidemic, over all members at once with NumPy.

Written to be as fast as NumPy allows: members along the last, contiguous axis, in
blocks that stay in the cache; no temporaries (every operation writes into a buffer
made once); losses of leaf kept as one factor a cohort instead of scaling all
states; work left out where no member needs it (no mildew yet, no action, no heat).

Reads what `go test ./epidemic -run Twin` writes with OIDIUM_TWIN=DIR set, runs the
season, compares the records with those of the Go program, and prints the least
time of several runs.

usage: twin.py DIR [case] [block] [repeats]
"""
import json
import sys
import time

import numpy as np

COHORTS, FACES, LATENTS, INFECTS = 10, 2, 5, 3
H, L0, I0, R, WIDTH = 0, 1, 6, 9, 10
CF = COHORTS * FACES


class Case:
    def __init__(self, folder, name):
        with open(f"{folder}/{name}.json") as f:
            self.k = json.load(f)
        self.nd, self.nm = int(self.k["days"]), int(self.k["members"])
        raw = np.fromfile(f"{folder}/{name}-days.bin").reshape(self.nd, -1)
        names = ("opens planted alive since fruit inflow acts hurt freefall latent ageing emit infect0 infect1 any0 any1 "
                 "outside primary h00 h01 h10 h11 l00 l01 l10 l11 wash0 wash1 rays0 rays1 warmth").split()
        self.days = []
        for row in raw:
            d = dict(zip(names, row[:len(names)].tolist()))
            c = row[len(names):].reshape(COHORTS, 9)
            d["sus"], d["age"], d["sun"], d["fall"], d["remove"] = (np.ascontiguousarray(c[:, i]) for i in range(5))
            d["stop"] = np.ascontiguousarray(c[:, 5:7]).reshape(CF, 1)
            d["kill"] = np.ascontiguousarray(c[:, 7:9]).reshape(CF, 1)
            d["stops"] = bool(d["stop"].any())
            d["kills"] = bool(d["kill"].any())
            d["removes"] = bool(d["remove"].any())
            d["falls"] = bool(d["fall"].any())
            age = d["age"].astype(int)
            # Cohorts of an age lie side by side: young last, old first.
            d["ages"] = [(a, np.flatnonzero(age == a)) for a in range(3)]
            d["ages"] = [(a, int(i[0]), int(i[-1]) + 1) for a, i in d["ages"] if len(i)]
            self.days.append(d)
        self.members = np.fromfile(f"{folder}/{name}-members.bin").reshape(self.nm, 13)
        # (day, 2, member)
        self.luck = np.ascontiguousarray(np.fromfile(f"{folder}/{name}-luck.bin").reshape(self.nm, self.nd, 2).transpose(1, 2, 0))
        self.want = np.fromfile(f"{folder}/{name}-records.bin", dtype=np.float32).reshape(self.nm, self.nd + 1, 13)


def count(u, mean):
    """The Poisson number of the given mean at place u, member by member."""
    n = np.zeros_like(u)
    small = (mean > 0) & (mean <= 16)
    p = np.exp(-mean)
    total = p.copy()
    go = small & (u > total)
    while go.any():
        n[go] += 1
        p[go] *= mean[go] / n[go]
        total[go] += p[go]
        go &= (u > total) & (n < 80)
    many = mean > 16
    if many.any():
        n[many] = np.maximum(0, np.floor(mean[many] + (u[many] - 0.5) * np.sqrt(12 * mean[many]) + 0.5))
    return n


class Block:
    """A block of members and all buffers their days need."""

    def __init__(self, case, lo, hi):
        self.case, self.lo, self.hi = case, lo, hi
        self.n = n = hi - lo
        p = np.ascontiguousarray(case.members[lo:hi].T)
        (self.rate, self.latent, self.ageing, self.humid, self.heat, self.efficacy, self.vigour, self.arrival,
         self.onset, self.carried, self.cultivar, self.ground, self.colony) = p
        self.s = np.zeros((WIDTH, CF, n))
        self.area = np.zeros((COHORTS, n))
        self.left = np.ones((COHORTS, n))
        self.free, self.grown, self.taken = np.zeros(n), np.zeros(n), np.zeros(n)
        self.any = False
        self.out = np.zeros((case.nd, 13, n))
        # buffers
        self.w, self.t, self.x, self.y = (np.empty((CF, n)) for _ in range(4))
        self.left2 = np.ones((COHORTS, FACES, n))
        self.mv = np.empty((LATENTS, CF, n))
        self.mi = np.empty((INFECTS, CF, n))
        self.lt = np.empty((LATENTS, CF, n))
        self.c, self.c2, self.stand = (np.empty((COHORTS, n)) for _ in range(3))

    def two(self, a):
        """A view of (CF, n) as (cohorts, faces, n)."""
        return a.reshape(COHORTS, FACES, self.n)

    def unfold(self, to, area):
        left = self.left[to]
        if (left < 1).any():
            self.s[:, 2 * to:2 * to + 2] *= left
            self.area[to] *= left
            left[:] = 1
        self.s[H, 2 * to] += area
        self.s[H, 2 * to + 1] += area
        self.area[to] += area
        self.grown += area

    def growth(self, standing, working, d):
        k = self.case.k
        room = np.maximum(0, 1 - standing / k["leaf_max"])
        working = np.maximum(working, 0.25 * k["leaf_set"])
        burden = 1 - d["fruit"] * (1 - k["load"])
        return min(1, k["growth"] * d["warmth"] * burden) * working * room

    def act(self, d):
        if d["removes"]:
            for c in np.flatnonzero(d["remove"]):
                self.taken += self.left[c] * self.area[c] * d["remove"][c]
                self.left[c] *= 1 - d["remove"][c]
        if not self.any:
            return
        if d["kills"]:
            k = np.minimum(1, self.efficacy * d["kill"])
            self.thin(1 - k, 1 - k)
        if d["hurt"]:
            def gone(a, b):
                return -np.expm1(-(a + self.heat * (b - a)))
            sun = d["sun"][:, None]
            sh, su = gone(d["h00"], d["h10"]), gone(d["h01"], d["h11"])
            shl, sul = gone(d["l00"], d["l10"]), gone(d["l01"], d["l11"])
            keep, keepl = 1 - (sh + sun * (su - sh)), 1 - (shl + sun * (sul - shl))
            rays = 1 - np.array([d["rays0"], d["rays1"]])[:, None]
            wash = 1 - np.array([d["wash0"], d["wash1"]])[:, None]
            self.thin((keepl[:, None] * rays).reshape(CF, self.n), (keep[:, None] * (wash * rays)).reshape(CF, self.n))

    def thin(self, keepl, keep):
        s = self.s
        gone = 1 - keepl
        s[H] += gone * s[L0:I0].sum(axis=0)
        s[L0:I0] *= keepl
        gone = 1 - keep
        s[R] += gone * s[I0:R].sum(axis=0)
        s[I0:R] *= keep

    def day(self, i):
        d, k, s, n = self.case.days[i], self.case.k, self.s, self.n
        if d["opens"]:
            # Into the oldest: what is left of both.
            s[:, 0:2] *= self.left[0]
            s[:, 0:2] += s[:, 2:4] * self.left[1]
            self.area[0] *= self.left[0]
            self.area[0] += self.area[1] * self.left[1]
            s[:, 2:18] = s[:, 4:20]
            s[:, 18:20] = 0
            self.area[1:9] = self.area[2:10]
            self.left[1:9] = self.left[2:10]
            self.area[9], self.left[0], self.left[9] = 0, 1, 1
        if d["planted"] > 0:
            self.unfold(9, d["planted"] / 2)
            self.unfold(8, d["planted"] / 2)
            self.free += d["planted"]
        if d["acts"] or d["hurt"]:
            self.act(d)

        left2 = self.left2
        left2[:] = self.left[:, None]
        left2 = left2.reshape(CF, n)
        w, t, x, y = self.w, self.t, self.x, self.y
        lo, hi = self.lo, self.hi
        inf = np.empty((FACES, n))
        for f in range(FACES):
            np.multiply(self.humid, d[f"any{f}"] - d[f"infect{f}"], out=inf[f])
            inf[f] += d[f"infect{f}"]
        np.multiply(d["sus"][:, None, None], inf, out=self.two(w))
        if d["stops"]:
            np.multiply(d["stop"], self.efficacy, out=t)
            np.minimum(t, 1, out=t)
            np.subtract(1, t, out=t)
            w *= t
        if self.any:
            # Crowding: the healthy share of each face, squared.
            np.divide(self.two(s[H]), self.area[:, None], out=self.two(t))
            np.copyto(t, 1, where=~(t >= 0))  # cohorts without leaf
            w *= t
            w *= t
        np.multiply(s[H], left2, out=t)  # healthy, standing
        np.multiply(self.area, self.left, out=self.c)
        standing = self.c.sum(axis=0)
        working = t.sum(axis=0)
        working *= 0.5
        t *= w
        open_ = t.sum(axis=0)

        g = np.minimum(1, self.ageing * d["ageing"])
        shedding = np.zeros(n)
        if self.any:
            np.add(s[I0], s[I0 + 1], out=t)
            t += s[I0 + 2]
            t *= left2
            shedding += t.sum(axis=0)  # morning
            l = np.minimum(2, self.latent * d["latent"])
            slow = l <= 1
            allslow, allfast = bool(slow.all()), not slow.any()
            stay, two = np.maximum(0, 1 - l), np.maximum(0, l - 1)
            one = 1 - stay - two
            lat, mv, lt = s[L0:I0], self.mv, self.lt
            # What moves one stage on, what moves two.
            np.multiply(lat, one, out=mv)
            if not allslow:
                np.multiply(lat, two, out=lt)
            if allfast:
                lat[:] = 0
            else:
                lat *= stay
            lat[1:] += mv[:-1]
            mi, inft = self.mi, s[I0:R]
            np.multiply(inft, g, out=mi)
            inft -= mi
            inft[1:] += mi[:-1]
            s[R] += mi[2]
            inft[0] += mv[4]
            if not allslow:
                lat[2:] += lt[:-2]
                inft[0] += lt[4]
                inft[0] += lt[3]
            np.add(s[I0], s[I0 + 1], out=t)
            t += s[I0 + 2]
            t *= left2
            shedding += t.sum(axis=0)  # evening
            shedding *= 0.5
        else:
            l = np.minimum(2, self.latent * d["latent"])

        # Force of infection.
        leafy = open_ * self.cultivar / FACES
        out = self.arrival * self.ground * leafy
        out *= d["outside"] * np.where(d["since"] < self.onset, k["onset_before"], 1.0)
        old = self.carried * self.ground * (d["primary"] * leafy) / (leafy + k["bare_leaf"])
        come = count(self.case.luck[i, 0, lo:hi], out) + count(self.case.luck[i, 1, lo:hi], old)
        force = np.where((come > 0) & (open_ > 0), come * self.colony / open_, 0.0)
        j = shedding + d["inflow"]
        own = self.rate * d["emit"] * -np.expm1(-standing / k["capture"]) * j / (FACES * standing)
        force += np.where((j > 0) & (standing > 0) & (open_ > 0), own, 0.0)
        if force.any():
            self.any = True
            # np.expm1 beats a polynomial here: it runs on vectors.
            np.multiply(w, force, out=x)
            np.negative(x, out=x)
            np.expm1(x, out=x)
            np.negative(x, out=x)
            x *= s[H]
            s[H] -= x
            l *= 0.5
            np.multiply(x, l, out=y)
            s[L0 + 1] += y
            x -= y
            s[L0] += x

        # Fall and growth of leaf.
        share = self.c2
        if self.any:
            r2 = self.two(s[R])
            np.add(r2[:, 0], r2[:, 1], out=share)
            share /= self.area
            share *= k["hasten"] / FACES
            np.copyto(share, 0, where=~(share > k["negligible"]))
            share += d["fall"][:, None]
            np.minimum(share, 1, out=share)
            np.subtract(1, share, out=share)
            self.left *= share
        elif d["falls"]:
            self.left *= (1 - d["fall"])[:, None]
        self.free *= 1 - d["freefall"]
        if d["alive"]:
            self.unfold(9, self.vigour * self.growth(standing, working, d))
            self.free += self.vigour * self.growth(self.free, self.free, d)

        # The evening's record.
        o = self.out[i]
        np.multiply(self.area, self.left, out=self.c)
        total = self.c.sum(axis=0)
        if self.any:
            left2 = self.left2
            left2[:] = self.left[:, None]
            left2 = left2.reshape(CF, n)
            np.add(s[I0], s[I0 + 1], out=t)
            t += s[I0 + 2]
            np.multiply(s[I0 - 1], k["visible_latent"], out=x)
            x += t
            x += s[R]
            t *= left2
            x *= left2
            np.sum(t, axis=0, out=o[9])
            np.sum(x, axis=0, out=o[10])
            o[10] /= FACES * total
            np.minimum(o[10], 1, out=o[10])
        x2 = self.two(x)
        for a, lo, hi in d["ages"]:
            area = o[6 + a]
            np.sum(self.c[lo:hi], axis=0, out=area)
            if self.any:
                seen = x2[lo:hi].sum(axis=0)
                seen /= area
                np.minimum(seen, 1, out=seen)
                np.copyto(seen, 0, where=~(area > 0))
                o[2 * a:2 * a + 2] = seen
        if self.taken.any():
            np.divide(self.taken, self.grown, out=o[11])
        o[12] = self.free


def season(case, block):
    out = np.empty((case.nm, case.nd, 13), dtype=np.float32)
    for lo in range(0, case.nm, block):
        b = Block(case, lo, min(case.nm, lo + block))
        for i in range(case.nd):
            b.day(i)
        out[b.lo:b.hi] = b.out.transpose(2, 0, 1)
    return out


def main():
    np.seterr(divide="ignore", invalid="ignore")  # once: setting it costs time
    folder = sys.argv[1]
    name = sys.argv[2] if len(sys.argv) > 2 else "usual"
    blocks = [int(sys.argv[3])] if len(sys.argv) > 3 else [50, 100, 125, 250, 500]
    repeats = int(sys.argv[4]) if len(sys.argv) > 4 else 7
    case = Case(folder, name)
    for block in blocks:
        best, cpu = 1e9, 1e9
        for _ in range(repeats):
            t, c = time.perf_counter(), time.process_time()
            got = season(case, block)
            best = min(best, time.perf_counter() - t)
            cpu = min(cpu, time.process_time() - c)
        want = case.want[:, 1:]
        wrong = np.abs(got - want) > 1e-4 * np.abs(want) + 1e-7
        print(f"{name}: blocks of {block}: wall {1e3 * best:.1f} ms, cpu {1e3 * cpu:.1f} ms; "
              f"records that differ by more than 1e-4: {int(wrong.sum())} of {wrong.size}")
    if wrong.any():
        m, d, c = np.argwhere(wrong)[0]
        print(f"  first: member {m}, day {d}, number {c}: {got[m, d, c]} here, {want[m, d, c]} there")
        sys.exit(1)


if __name__ == "__main__":
    main()
