"""Drives oidium through a season from outside, day by day, without network or clock:
   python3 drive.py OIDIUM BOOK [DAYS], such as python3 drive.py ./oidium driven.oidium 60"""
import json, pathlib, subprocess, sys

import world  # what is invented: weather, epidemic, and the entries that tell of them


def oidium(*args, lines=()):
    return subprocess.run([sys.argv[1], *args, "--book", sys.argv[2]], text=True, check=True, stdout=subprocess.PIPE,
                          input="".join(json.dumps(line) + "\n" for line in lines)).stdout


truth = world.World()
oidium("ledger", "import", str(pathlib.Path(__file__).parent / "garden.jsonl"))
for day in range(1, int((sys.argv + ["60"])[3]) + 1):
    oidium("ledger", "import", "-", lines=truth.dawn(day))
    morning = json.loads(oidium("round", "--date", str(world.at(day).date()), "--json"))
    bed = morning["beds"][0]
    job = next((j for j in morning["jobs"] if j["kind"] != "enter"), {"kind": "nothing"})
    print(morning["date"], f"{bed['verdict']:11}", job["kind"],
          "covered {mid:.3%} ({low:.3%} to {high:.3%})".format(**bed["covered"]), f"in truth {truth.white:.3%}")
    done = truth.do(day, job)
    if done:
        oidium("ledger", "import", "-", lines=done)
