"""A program that records taps one by one and says each that is committed; run by the tests.

    python tapping.py taps PATH COUNT              COUNT taps, one transaction each
    python tapping.py campaign FOLDER ROUNDS SEED  ROUNDS programs, each killed at random
    python tapping.py campaign-early ...           the same with a planted fault: says it too early

A campaign forks its programs from this one, which has everything imported: a fresh Python for each
would take most of the time. It prints one JSON object.
"""

import json
import os
import random
import select
import signal
import sys
import time
import traceback
from datetime import datetime
from pathlib import Path

from model.record.line import read_line
from model.store.check import check
from model.store.opening import open_store
from model.store.queries import each_line
from model.store.surroundings import Surroundings

BODY = {
    "inspection": "iiiiiiiiiiiii",
    "hole": "hhhhhhhhhhhhh",
    "tube": "P2-R03-C11",
    "end": "front",
    "state": "sound",
    "how": "seen",
}
ROUNDS_PER_DATABASE = 15  # so that some programs are killed while they make one
LONGEST_LIFE_S = 0.03


def surroundings(seed):
    return Surroundings(
        clock=lambda: datetime.now().astimezone(),
        random_bits=random.Random(seed),
        device="one machine",
        app_version="0.0-test",
    )


def tap_once(store):
    with store.write() as writer:
        return writer.append("observation", BODY, boiler="bbbbbbbbbbbbb", by="ppppppppppppp").id


def tap_for_ever(path, seed, pipe, *, early):
    with open_store(path, surroundings(seed)) as store:
        while True:
            if early:
                with store.write() as writer:
                    record = writer.append(
                        "observation", BODY, boiler="bbbbbbbbbbbbb", by="ppppppppppppp"
                    )
                    os.write(pipe, f"{record.id}\n".encode())
                    time.sleep(0.002)
            else:
                os.write(pipe, f"{tap_once(store)}\n".encode())


def start_program(path, seed, *, early):
    """Its process id and the pipe on which it says what is committed."""
    reading, writing = os.pipe()
    process = os.fork()
    if process == 0:
        try:
            os.close(reading)
            tap_for_ever(path, seed, writing, early=early)
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(1)
    os.close(writing)
    return process, reading


def kill_after(process, reading, life_s, *, at_work):
    """Kill without mercy, ``life_s`` after its start or after its first tap.

    What it said until then, and how it ended.
    """
    said = os.read(reading, 65536) if at_work else b""
    end = time.monotonic() + life_s
    while (left := end - time.monotonic()) > 0:
        if select.select([reading], [], [], left)[0]:
            chunk = os.read(reading, 65536)
            if not chunk:
                break
            said += chunk
    os.kill(process, signal.SIGKILL)
    while chunk := os.read(reading, 65536):
        said += chunk
    os.close(reading)
    _, status = os.waitpid(process, 0)
    return said.decode().split(), os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL


def look_at(path):
    """The ids in a database, as hashes of its lines, and what a full check finds."""
    with open_store(path, surroundings(0)) as store:
        return {read_line(line).id for line in each_line(store)}, check(store).problems


def campaign(folder, rounds, seed, *, early):
    chance = random.Random(seed)
    result = {"acknowledged": 0, "lost": 0, "problems": [], "killed": 0, "silent": 0}
    acknowledged = set()
    for number in range(rounds):
        path = folder / f"boilers-{number // ROUNDS_PER_DATABASE}.db"
        process, reading = start_program(path, chance.getrandbits(32), early=early)
        # One in four may not have begun: it is killed while it opens or makes its database.
        life_s, at_work = chance.uniform(0, LONGEST_LIFE_S), chance.random() < 0.75
        said, killed = kill_after(process, reading, life_s, at_work=at_work)
        acknowledged.update(said)
        result["killed"] += killed
        result["silent"] += not said
        # Not after each: then the next program itself meets what the killed one left behind.
        if chance.random() < 0.3 or (number + 1) % ROUNDS_PER_DATABASE == 0 or number == rounds - 1:
            stored, problems = look_at(path)
            result["lost"] += len(acknowledged - stored)
            result["problems"] += problems
        if (number + 1) % ROUNDS_PER_DATABASE == 0 or number == rounds - 1:
            result["acknowledged"] += len(acknowledged)
            acknowledged = set()
    return result


def main(what, place, *numbers):
    if what == "taps":
        with open_store(Path(place), surroundings(os.getpid())) as store:
            print("ready", flush=True)
            sys.stdin.readline()
            for _ in range(int(numbers[0])):
                print(tap_once(store), flush=True)
                time.sleep(0.001)  # or the first would be done before the second has begun
    else:
        rounds, seed = map(int, numbers)
        print(json.dumps(campaign(Path(place), rounds, seed, early=what == "campaign-early")))


if __name__ == "__main__":
    main(*sys.argv[1:])
