"""Sequencing problems of the literature, solved to their published optimum by what plans a day to the minute.

The figures are whole minutes and have no tolerance: what is found is the optimum, and it is proven.

ft06: 6 jobs on 6 machines; H. Fisher and G. L. Thompson in J. F. Muth and G. L. Thompson (eds), Industrial Scheduling,
    Prentice-Hall 1963. Optimum 55, as every collection of these instances gives it.
la01: 10 jobs on 5 machines; S. Lawrence, Resource constrained project scheduling: an experimental investigation of
    heuristic scheduling techniques (supplement), Carnegie-Mellon University 1984. Optimum 666, likewise.
j301_1: 30 activities and 4 resources; R. Kolisch and A. Sprecher, PSPLIB - a project scheduling problem library,
    European Journal of Operational Research 96 (1996), 205-216. The file itself gives 38 for its longest path; the
    library's optimum is 43.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.published.on_a_board import Operation, Shop, job_shop, keeps_the_rules, solve, unlimited

# (machine, minutes) of each job, in their order
FT06 = (
    ((2, 1), (0, 3), (1, 6), (3, 7), (5, 3), (4, 6)),
    ((1, 8), (2, 5), (4, 10), (5, 10), (0, 10), (3, 4)),
    ((2, 5), (3, 4), (5, 8), (0, 9), (1, 1), (4, 7)),
    ((1, 5), (0, 5), (2, 5), (3, 3), (4, 8), (5, 9)),
    ((2, 9), (1, 3), (4, 5), (5, 4), (0, 3), (3, 1)),
    ((1, 3), (3, 3), (5, 9), (0, 10), (4, 4), (2, 1)),
)
LA01 = (
    ((1, 21), (0, 53), (4, 95), (3, 55), (2, 34)),
    ((0, 21), (3, 52), (4, 16), (2, 26), (1, 71)),
    ((3, 39), (4, 98), (1, 42), (2, 31), (0, 12)),
    ((1, 77), (0, 55), (4, 79), (2, 66), (3, 77)),
    ((0, 83), (3, 34), (2, 64), (1, 19), (4, 37)),
    ((1, 54), (2, 43), (4, 79), (0, 92), (3, 62)),
    ((3, 69), (4, 77), (1, 87), (2, 87), (0, 93)),
    ((2, 38), (0, 60), (1, 41), (3, 24), (4, 83)),
    ((3, 17), (1, 49), (4, 25), (0, 44), (2, 98)),
    ((4, 77), (3, 79), (2, 43), (1, 75), (0, 96)),
)
# minutes, resource and units of it, activities that follow; numbers from 1, the first and the last take no time
J301_1 = (
    (0, 0, 0, (2, 3, 4)), (8, 0, 4, (6, 11, 15)), (4, 0, 10, (7, 8, 13)), (6, 3, 3, (5, 9, 10)), (3, 0, 3, (20,)),
    (8, 3, 8, (30,)), (5, 0, 4, (27,)), (9, 1, 1, (12, 19, 27)), (2, 0, 6, (14,)), (7, 3, 1, (16, 25)),
    (9, 1, 5, (20, 26)), (2, 1, 7, (14,)), (6, 0, 4, (17, 18)), (3, 1, 8, (17,)), (9, 0, 3, (25,)),
    (10, 3, 5, (21, 22)), (6, 3, 8, (22,)), (5, 3, 7, (20, 22)), (3, 1, 1, (24, 29)), (7, 1, 10, (23, 25)),
    (2, 3, 6, (28,)), (7, 0, 2, (23,)), (2, 0, 3, (24,)), (3, 1, 9, (30,)), (3, 0, 4, (30,)),
    (7, 2, 4, (31,)), (8, 3, 7, (28,)), (3, 1, 8, (31,)), (7, 1, 7, (32,)), (2, 1, 7, (32,)),
    (2, 2, 2, (32,)), (0, 0, 0, ()),
)  # fmt: skip
CAPACITIES = (12, 13, 4, 12)


def project() -> Shop:
    operations = []
    for number, (length, resource, units, _) in enumerate(J301_1, start=1):
        people, *of_kind = (units if of == resource else 0 for of in range(len(CAPACITIES)))
        after = tuple(at for at, (*_, followed_by) in enumerate(J301_1) if number in followed_by)
        operations.append(Operation(length, people, tuple(of_kind), after))
    people, *of_kind = CAPACITIES
    return Shop(tuple(operations), people, tuple(of_kind))


SHOPS = {"ft06": (job_shop(FT06), 55), "la01": (job_shop(LA01), 666), "j301_1": (project(), 43)}


@pytest.mark.parametrize("name", SHOPS)
def test_the_published_optimum_is_found_and_proven(name: str) -> None:
    shop, optimum = SHOPS[name]
    solved = solve(shop)
    assert (solved.done, solved.bound) == (optimum, optimum)
    assert keeps_the_rules(shop, solved)


def test_without_its_resources_the_project_takes_its_longest_path() -> None:
    solved = solve(unlimited(project()))
    assert (solved.done, solved.bound) == (38, 38)
    assert not keeps_the_rules(project(), solved)


def test_one_unit_less_of_what_is_scarce_takes_longer() -> None:
    """The capacities are those that hold: fewer of the last resource leave no way to be done in 43."""
    shop = project()
    fewer = replace(shop, units=(*shop.units[:-1], shop.units[-1] - 1))
    assert solve(fewer).bound > 43
