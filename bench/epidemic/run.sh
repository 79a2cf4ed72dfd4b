#!/bin/sh
# Runs the epidemic and its NumPy twin on the same work, one after the other, and
# prints the least time of each. Needs Go and a python3 with NumPy (PYTHON names it).
set -e
cd "$(dirname "$0")/../.."
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
PYTHON=${PYTHON:-python3}
unset OPENBLAS_CORETYPE OPENBLAS_L2_SIZE
OIDIUM_TWIN=$dir go test ./epidemic -run Twin -count 1 >/dev/null
go test -c -o "$dir/epidemic.test" ./epidemic
for round in 1 2 3 4 5; do
	for case in usual early; do
		"$PYTHON" bench/epidemic/twin.py "$dir" $case 500 7 | sed "s/^/NumPy /"
		name=$(echo $case | sed 's/^u/U/; s/^e/E/')
		(cd epidemic && "$dir/epidemic.test" -test.run XXX -test.bench "Twin${name}[12]" -test.benchtime 1x -test.count 15) |
			awk '/ns\/op/ { printf "Go %s %.1f ms\n", $1, $3 / 1e6 }'
	done
done | awk '
	/^NumPy/ { k = "NumPy " $2; t = $(9) + 0; if (/differ.*: 0 of/) ok[k] = 1 }
	/^NumPy/ { for (i = 1; i <= NF; i++) if ($i == "wall") t = $(i + 1) + 0 }
	/^Go/ { k = "Go " $2; t = $3 }
	{ if (!(k in best) || t < best[k]) best[k] = t }
	END { for (k in best) printf "%-30s %7.1f ms\n", k, best[k] }' | sort
