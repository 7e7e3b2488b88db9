"""What every test finds: no screen, one thread to each numerical library."""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
# Tests run side by side; a thread pool in each of them would only get in the others' way.
for _variable in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ.setdefault(_variable, "1")
