"""The three queries in DuckDB: python duckdb_fleet.py DATA_SET. Prints rows as JSON, then seconds and the most memory taken."""

import json
import pathlib
import resource
import sys
import time

import duckdb

queries = pathlib.Path(__file__).parent
begun = time.monotonic()
base = duckdb.connect()
base.sql(f"create view fleet as select * from read_parquet('{sys.argv[1]}/*/*/*.parquet', hive_partitioning = true)")
base.sql((queries / "latest.sql").read_text())
print(json.dumps({"rows": base.sql("select count(*) from fleet").fetchone()[0]}))
for name in ("worsening", "rigs", "agreement"):
    before = time.monotonic()
    for row in base.sql((queries / f"{name}.sql").read_text()).fetchall():
        print(json.dumps({name: [str(cell) for cell in row]}))
    print(f"{name}: {time.monotonic() - before:.2f} s", file=sys.stderr)
most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
print(f"DuckDB {duckdb.__version__}: {time.monotonic() - begun:.2f} s in all, {most:.0f} MiB at the most", file=sys.stderr)
