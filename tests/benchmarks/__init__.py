"""How long things take, with one thread to each numerical library, as workers that measure."""

import os

THREADS = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS")

# Here, since numpy counts its threads when it is imported.
for _variable in THREADS:
    os.environ.setdefault(_variable, "1")
