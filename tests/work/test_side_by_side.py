"""Many things are worked on side by side, and one that crashes takes no other along."""

import os

import pytest

from dyeshade.work.side_by_side import Crashed, Warm, cores, run_each
from tests.work import jobs


def found_by_number(job, things, workers):
    finished = list(run_each(job, things, workers))
    assert len(finished) == len(things)
    return [one.found for one in sorted(finished, key=lambda one: one.number)]


def test_every_thing_is_done_once():
    assert found_by_number(jobs.double, [5, 6, 7, 8], 2) == [10, 12, 14, 16]


def test_nothing_to_do_starts_nothing():
    assert list(run_each(jobs.double, [], 2)) == []


@pytest.mark.parametrize("workers", [1, 2])
def test_a_crash_costs_only_the_thing_that_crashed(workers):
    found = found_by_number(jobs.double_or_die, [1, 2, 3, 4, 5], workers)
    assert found == [2, 4, Crashed(), 8, 10]


def test_the_quick_ones_do_not_wait_for_the_slow_one():
    numbers = [one.number for one in run_each(jobs.slower_first, [0, 1, 2], 2)]
    assert numbers == [1, 2, 0]


def test_a_mistake_of_ours_is_not_swallowed():
    with pytest.raises(ZeroDivisionError, match="our mistake on 1"):
        list(run_each(jobs.mistaken, [1], 1))


def test_what_native_code_prints_stays_out_of_the_lines_for_programs(capfd):
    list(run_each(jobs.prints, [1], 1))
    captured = capfd.readouterr()
    assert captured.out == ""
    assert "from native code" in captured.err


def test_numerical_libraries_take_one_thread_each_unless_told(monkeypatch):
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)
    assert found_by_number(jobs.library_threads, [1, 2], 2) == ["1", "1"]
    monkeypatch.setenv("OPENBLAS_NUM_THREADS", "2")
    assert found_by_number(jobs.library_threads, [1], 1) == ["2"]


@pytest.mark.skipif(not hasattr(os, "sched_getaffinity"), reason="this system has no affinity")
def test_only_the_cores_that_we_may_use_are_counted():
    assert cores() == len(os.sched_getaffinity(0))


def test_a_warm_process_stays_for_the_next_thing_and_is_replaced_when_it_crashes():
    warm = Warm()

    def alone(job, thing):
        (finished,) = run_each(job, [thing], None, warm)
        return finished.found

    first = alone(jobs.process_number, 1)
    assert alone(jobs.process_number, 2) == first != os.getpid()
    assert alone(jobs.double_or_die, 3) == Crashed()
    assert alone(jobs.double_or_die, 4) == 8
    assert alone(jobs.process_number, 5) != first
    warm.close()
