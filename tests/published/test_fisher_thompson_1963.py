"""Six jobs on six machines (published).

Fisher and Thompson, in Muth and Thompson (editors), "Industrial Scheduling", 1963; the best possible finish is 55,
as every collection of job-shop cases prints it. Each job is a list of machine and time.
"""

import itertools

import pytest

from sightwash.planning.scheduling import Activity, Link, Schedule, ScheduleProblem, solve_schedule

JOBS = [
    [(2, 1), (0, 3), (1, 6), (3, 7), (5, 3), (4, 6)],
    [(1, 8), (2, 5), (4, 10), (5, 10), (0, 10), (3, 4)],
    [(2, 5), (3, 4), (5, 8), (0, 9), (1, 1), (4, 7)],
    [(1, 5), (0, 5), (2, 5), (3, 3), (4, 8), (5, 9)],
    [(2, 9), (1, 3), (4, 5), (5, 4), (0, 3), (3, 1)],
    [(1, 3), (3, 3), (5, 9), (0, 10), (4, 4), (2, 1)],
]


@pytest.fixture(scope="module")
def schedule() -> Schedule:
    activities, links = [], []
    for j, job in enumerate(JOBS):
        for k, (machine, minutes) in enumerate(job):
            activities.append(Activity(f"{j}-{k}", minutes, ((f"machine {machine}", 1),)))
            if k > 0:
                links.append(Link(f"{j}-{k - 1}", f"{j}-{k}", job[k - 1][1]))
    machines = tuple((f"machine {number}", 1) for number in range(6))
    found = solve_schedule(ScheduleProblem(tuple(activities), tuple(links), machines, 197))
    assert isinstance(found, Schedule)
    return found


def test_best_finish_is_55_and_proven(schedule):
    assert (schedule.value, schedule.bound, schedule.proven) == (55, 55, True)


def test_the_schedule_keeps_its_own_rules(schedule):
    for j, job in enumerate(JOBS):
        ends = 0
        for k, (_, minutes) in enumerate(job):
            assert schedule.starts[f"{j}-{k}"] >= ends
            ends = schedule.starts[f"{j}-{k}"] + minutes
        assert ends <= 55
    for machine in range(6):
        times = sorted(
            (schedule.starts[f"{j}-{k}"], schedule.starts[f"{j}-{k}"] + minutes)
            for j, job in enumerate(JOBS)
            for k, (where, minutes) in enumerate(job)
            if where == machine
        )
        assert all(a[1] <= b[0] for a, b in itertools.pairwise(times))
