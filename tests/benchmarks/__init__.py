"""How long things take, with one thread to each numerical library, as the program has them."""

from dyeshade.threads import LIBRARIES, one_thread_each

THREADS = LIBRARIES

# Here, since numpy counts its threads when it is imported.
one_thread_each()
