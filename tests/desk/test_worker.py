"""The worker: answers only through ``pump``, one job at a time, late answers dropped."""

import logging
import threading
import time

import pytest

from rigfit.desk.worker import Worker, WorkError, never, silent
from rigfit.errors import OutputError

LIMIT = 5.0  # seconds a test waits before it fails


@pytest.fixture
def worker():
    worker = Worker()
    yield worker
    assert worker.close(LIMIT)


class Heard:
    """What the callbacks were told, and in which thread."""

    def __init__(self):
        self.done, self.errors, self.progress, self.threads = [], [], [], []

    def on_done(self, result):
        self.done.append(result)
        self.threads.append(threading.current_thread())

    def on_error(self, error):
        self.errors.append(error)
        self.threads.append(threading.current_thread())

    def on_progress(self, share, doing):
        self.progress.append((share, doing))
        self.threads.append(threading.current_thread())

    def start(self, worker, task):
        return worker.start(task, self.on_done, self.on_error, self.on_progress)


@pytest.fixture
def heard():
    return Heard()


def pump_until_idle(worker):
    end = time.monotonic() + LIMIT
    while worker.pump():
        assert time.monotonic() < end, "the worker gave no answer"
        time.sleep(0.001)


def wait(event):
    assert event.wait(LIMIT)


def test_the_answer_comes_through_pump_in_the_callers_thread(worker, heard):
    inside = []

    def task(progress, cancelled):
        inside.append(threading.current_thread())
        return 42

    heard.start(worker, task)
    assert worker.is_busy
    pump_until_idle(worker)
    assert heard.done == [42]
    assert heard.errors == []
    assert heard.threads == [threading.current_thread()]
    assert inside[0] is not threading.current_thread()
    assert inside[0].daemon


def test_nothing_is_told_before_pump_is_called(worker, heard):
    finished = threading.Event()
    heard.start(worker, lambda progress, cancelled: finished.set())
    wait(finished)
    assert heard.done == []
    assert worker.is_busy
    pump_until_idle(worker)
    assert heard.done == [None]


def test_an_error_of_rigfit_is_told_as_it_is(worker, heard):
    error = OutputError("the disk is full")

    def task(progress, cancelled):
        raise error

    heard.start(worker, task)
    pump_until_idle(worker)
    assert heard.errors == [error]
    assert heard.done == []


@pytest.mark.parametrize("kind", [ZeroDivisionError, MemoryError, SystemExit])
def test_any_other_error_is_told_in_plain_words_and_logged(worker, heard, caplog, kind):
    def task(progress, cancelled):
        raise kind("inner detail")

    with caplog.at_level(logging.ERROR):
        heard.start(worker, task)
        pump_until_idle(worker)
    (error,) = heard.errors
    assert isinstance(error, WorkError)
    assert "inner detail" not in error.sentence()
    assert "inner detail" in caplog.text
    heard.start(worker, lambda progress, cancelled: "still alive")
    pump_until_idle(worker)
    assert heard.done == ["still alive"]


def test_of_many_progress_reports_only_the_last_is_told(worker, heard):
    reported, go_on = threading.Event(), threading.Event()

    def task(progress, cancelled):
        for step in range(5):
            progress(step / 5, f"step {step}")
        reported.set()
        wait(go_on)

    heard.start(worker, task)
    wait(reported)
    assert worker.pump()
    assert heard.progress == [(0.8, "step 4")]
    go_on.set()
    pump_until_idle(worker)
    assert heard.done == [None]


def test_progress_is_not_told_after_the_answer(worker, heard):
    finished = threading.Event()

    def task(progress, cancelled):
        progress(0.5, "half way")
        return finished

    heard.start(worker, task)
    heard2_deadline = time.monotonic() + LIMIT
    while worker._said.qsize() < 2 and time.monotonic() < heard2_deadline:
        time.sleep(0.001)
    worker.pump()
    assert heard.done == [finished]
    assert heard.progress == []


def test_a_cancelled_task_hears_of_it_and_its_answer_is_dropped(worker, heard):
    started, stopped = threading.Event(), threading.Event()

    def task(progress, cancelled):
        started.set()
        while not cancelled():
            time.sleep(0.001)
        stopped.set()
        return "late"

    heard.start(worker, task)
    wait(started)
    assert worker.cancel()
    assert not worker.is_busy
    wait(stopped)
    assert not worker.cancel()
    heard.start(worker, lambda progress, cancelled: "next")
    pump_until_idle(worker)
    assert heard.done == ["next"]


def test_a_new_task_takes_the_place_of_the_old_one(worker):
    first, second = Heard(), Heard()
    started, go_on = threading.Event(), threading.Event()
    running = []

    def slow(progress, cancelled):
        running.append("first")
        started.set()
        wait(go_on)
        running.append("first ended")
        return "late"

    def quick(progress, cancelled):
        running.append("second")
        return "in time"

    one = first.start(worker, slow)
    wait(started)
    two = second.start(worker, quick)
    go_on.set()
    pump_until_idle(worker)
    assert two > one
    assert (first.done, second.done) == ([], ["in time"])
    assert running == ["first", "first ended", "second"]  # never two at once


def test_tasks_replaced_before_they_began_are_not_run_at_all(worker, heard):
    started, go_on, ran = threading.Event(), threading.Event(), []

    def slow(progress, cancelled):
        started.set()
        wait(go_on)

    heard.start(worker, slow)
    wait(started)
    for number in range(3):
        heard.start(worker, lambda progress, cancelled, number=number: ran.append(number))
    go_on.set()
    pump_until_idle(worker)
    assert ran == [2]


def test_a_task_may_be_started_from_a_callback(worker, heard):
    def again(result):
        heard.on_done(result)
        heard.start(worker, lambda progress, cancelled: "second")

    worker.start(lambda progress, cancelled: "first", again, heard.on_error)
    pump_until_idle(worker)
    assert heard.done == ["first", "second"]


def test_a_callback_that_fails_does_not_stop_the_worker(worker, heard):
    worker.start(lambda progress, cancelled: 1, lambda result: 1 / 0, heard.on_error)
    with pytest.raises(ZeroDivisionError):
        pump_until_idle(worker)
    assert not worker.is_busy
    heard.start(worker, lambda progress, cancelled: 2)
    pump_until_idle(worker)
    assert heard.done == [2]


def test_closing_stops_the_thread_and_nothing_can_be_started(heard):
    worker, started = Worker(), threading.Event()

    def task(progress, cancelled):
        started.set()
        while not cancelled():
            time.sleep(0.001)

    heard.start(worker, task)
    wait(started)
    thread = worker._thread
    assert worker.close(LIMIT)
    assert not thread.is_alive()
    assert worker.pump() is False
    assert heard.done == []
    with pytest.raises(RuntimeError):
        heard.start(worker, task)


def test_closing_waits_no_longer_than_it_is_told(heard):
    worker, started, go_on = Worker(), threading.Event(), threading.Event()

    def stubborn(progress, cancelled):
        started.set()
        wait(go_on)

    heard.start(worker, stubborn)
    wait(started)
    assert worker.close(0.01) is False
    go_on.set()
    assert worker.close(LIMIT)


def test_a_worker_never_used_has_no_thread():
    worker = Worker()
    assert worker.pump() is False
    assert worker.close()


def test_a_task_runs_without_a_worker():
    silent(0.5, "anything")
    assert never() is False
