"""Runs builds for ``test_kills.py``: loads everything once, forks a child a run, and kills it.

    python kill_server.py FILE DIR

FILE is built once to see what a build loads. Each line on stdin is one run as JSON: the words of
the command, where its stdout and stderr go, after how many seconds it gets which signal (0: none);
each answer is the exit status (negative: the signal that killed it) and the seconds that it took.
"""

import importlib
import json
import os
import signal
import sys
import time
from contextlib import suppress
from typing import NoReturn

from collarwright.outputs.cli import main

PATIENCE = 60.0


def run(words: list[str], out: str, err: str) -> int:
    """Run the program in this process, a child; return its exit status."""
    for number, path in ((1, out), (2, err)):
        os.dup2(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), number)
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    sys.argv = ["collarwright", *words]
    try:
        main()
    except SystemExit as end:
        return int(end.code or 0)
    return 0


def child(words: list[str], out: str, err: str) -> NoReturn:
    """Run the program and leave without what an interpreter does at its end."""
    status = run(words, out, err)
    sys.stdout.flush()
    os._exit(status)


def preload(file: str, folder: str) -> None:
    """Import what a build imports; it is a child that builds, since a build starts threads."""
    read, write = os.pipe()
    pid = os.fork()
    if pid == 0:
        run(["build", file, "--out", folder], os.devnull, os.devnull)
        os.write(write, " ".join(sorted(sys.modules)).encode())
        os._exit(0)
    os.close(write)
    with os.fdopen(read) as names:
        found = names.read().split()
    os.waitpid(pid, 0)
    for name in found:
        with suppress(ImportError):
            importlib.import_module(name)


def serve(words: list[str], out: str, err: str, after: float, number: int) -> tuple[int, float]:
    """Run one build and send it a signal; return its status and its seconds."""
    start = time.perf_counter()
    pid = os.fork()
    if pid == 0:
        child(words, out, err)
    while True:
        done, status = os.waitpid(pid, os.WNOHANG)
        took = time.perf_counter() - start
        if done:
            return os.waitstatus_to_exitcode(status), took
        if number and took >= after:
            os.kill(pid, number)
            number = 0
        if took > PATIENCE:
            os.kill(pid, signal.SIGKILL)
        time.sleep(0.0005)


if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.SIG_DFL)  # until the program takes it, no traceback
    preload(*sys.argv[1:])
    print("ready", flush=True)  # noqa: T201
    for line in sys.stdin:
        print(json.dumps(serve(*json.loads(line))), flush=True)  # noqa: T201
