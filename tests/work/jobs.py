"""Jobs for other processes: they must be importable there."""

import os
import signal
import time


def double(number: int) -> int:
    return 2 * number


def double_or_die(number: int) -> int:
    """Dies as native code does, with no word, on 3."""
    if number == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return 2 * number


def slower_first(number: int) -> int:
    time.sleep(0.6 if number == 0 else 0.0)
    return number


def prints(number: int) -> int:
    os.write(1, b"from native code\n")
    return number


def mistaken(number: int) -> int:
    raise ZeroDivisionError(f"our mistake on {number}")


def library_threads(number: int) -> str | None:
    return os.environ.get("OPENBLAS_NUM_THREADS")


def process_number(number: int) -> int:
    return os.getpid()
