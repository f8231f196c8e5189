#!/usr/bin/env bash
# make fleet: a data set of 100,000 simulated jobs, three queries on it in DuckDB and in Spark, and whether both say the same.
set -euo pipefail
cd "$(dirname "$0")/../../.."
here=src/export/fleet
out=target/fleet
spark=4.0.1
mkdir -p "$out"
cargo bench --locked --profile dev --bench fleet -- "$out/set" "${FLEET_JOBS:-100000}"
target/test-python/bin/python "$here/duckdb_fleet.py" "$out/set" >"$out/duckdb.jsonl"
command -v java >/dev/null || { echo "java is not there (17 or newer): on Debian, apt-get install default-jre-headless" >&2; exit 1; }
if ! "$out/python/bin/python" -c "import pyspark; assert pyspark.__version__ == '$spark'" 2>/dev/null; then
	echo "installing pyspark $spark into $out/python" >&2
	python3 -m venv "$out/python"
	"$out/python/bin/pip" install --quiet --disable-pip-version-check "pyspark==$spark" \
		|| { echo "pyspark could not be installed: a network is needed the first time" >&2; exit 1; }
fi
"$out/python/bin/python" "$here/spark_fleet.py" "$out/set" >"$out/spark.jsonl"
python3 "$here/compare.py" "$out/duckdb.jsonl" "$out/spark.jsonl"
