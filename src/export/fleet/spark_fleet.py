"""The same three queries in Spark, local mode: python spark_fleet.py DATA_SET. Prints the same rows."""

import json
import pathlib
import sys
import time

from pyspark.sql import SparkSession

queries = pathlib.Path(__file__).parent
begun = time.monotonic()
spark = (
    SparkSession.builder.master("local[2]").appName("fleet")
    .config("spark.ui.enabled", "false").config("spark.sql.shuffle.partitions", "4")
    .config("spark.driver.memory", "2g").config("spark.driver.host", "127.0.0.1").getOrCreate()
)
spark.sparkContext.setLogLevel("ERROR")
spark.read.parquet(sys.argv[1]).createOrReplaceTempView("fleet")
spark.sql((queries / "latest.sql").read_text())
print(json.dumps({"rows": spark.sql("select count(*) from fleet").collect()[0][0]}))
for name in ("worsening", "rigs", "agreement"):
    before = time.monotonic()
    for row in spark.sql((queries / f"{name}.sql").read_text()).collect():
        print(json.dumps({name: [str(cell) for cell in row]}))
    print(f"{name}: {time.monotonic() - before:.2f} s", file=sys.stderr)
print(f"Spark {spark.version}: {time.monotonic() - begun:.2f} s in all", file=sys.stderr)
spark.stop()
