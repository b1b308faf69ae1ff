"""Jobs in processes of their own, forked from one in which everything is imported."""

import gc
import io
import os
import pickle
import selectors
import signal
import time

AT_ONCE = min(len(os.sched_getaffinity(0)), 4)


def start(job):
    """Run a job in a process of its own; return (process id, file with what it sends)."""
    reader, writer = os.pipe()
    child = os.fork()
    if child:
        os.close(writer)
        return child, os.fdopen(reader, "rb")
    os.close(reader)
    out = os.fdopen(writer, "wb")

    def send(what):
        pickle.dump(what, out)
        out.flush()

    try:
        try:
            job(send)
        except BaseException as error:
            send(Broken(f"{type(error).__name__}: {error}"))
        out.close()
    finally:
        os._exit(0)


class Broken(str):
    """Sent instead of a result by a job that came to grief."""


def received(file):
    """Yield what a process sends until it ends."""
    while True:
        try:
            yield pickle.load(file)
        except (EOFError, pickle.UnpicklingError):
            return


def pool(jobs, limit_s):
    """Run jobs, some at once; yield (number of the job, list of what it sent) as they end.

    One that runs for longer than the limit (by the clock) is ended.
    """
    gc.collect()
    gc.freeze()
    selector = selectors.DefaultSelector()
    waiting, running = list(enumerate(jobs)), {}
    while waiting or running:
        while waiting and len(running) < AT_ONCE:
            number, job = waiting.pop(0)
            child, file = start(job)
            os.set_blocking(file.fileno(), False)
            running[file] = (number, child, time.monotonic(), [])
            selector.register(file, selectors.EVENT_READ)
        for key, _ in selector.select(timeout=1):
            number, child, _, parts = running[key.fileobj]
            part = os.read(key.fd, 1 << 20)
            parts.append(part)
            if not part:
                selector.unregister(key.fileobj)
                key.fileobj.close()
                os.waitpid(child, 0)
                del running[key.fileobj]
                yield number, _unpacked(b"".join(parts))
        for _, child, begun, _ in running.values():
            if time.monotonic() - begun > limit_s:
                os.kill(child, signal.SIGKILL)


def _unpacked(data):
    return list(received(io.BytesIO(data)))
