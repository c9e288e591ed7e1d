# SPDX-License-Identifier: GPL-3.0-or-later
"""read_pandas.py THREADS FILE...: logs by pandas' C reader, all columns kept. Prints seconds and processor seconds."""
import sys
import time
from concurrent.futures import ThreadPoolExecutor

import pandas

files = sys.argv[2:]
start, start_processor = time.perf_counter(), time.process_time()
with ThreadPoolExecutor(int(sys.argv[1])) as pool:
    kept = list(pool.map(lambda file: pandas.read_csv(file, comment="#", engine="c"), files))
print(time.perf_counter() - start, time.process_time() - start_processor)
if any(list(table.dtypes) != ["float64"] * 5 for table in kept):
    sys.exit("read_pandas.py: these are not the logs of make_logs.c")
