"""Studies, run by hand. One thread each: for small matrices more only wait for each other."""

import os

for _variable in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ.setdefault(_variable, "1")
