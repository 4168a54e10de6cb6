"""Site and order as whole numbers: every one of them worked out by hand from the small plan's inputs."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from blockrun.cure import AgeClock
from blockrun.planner.brief import Brief, brief
from blockrun.planner.plan import Plan
from blockrun.planner.wanted import wanted
from blockrun.site import Delivery, Site, Sky, Weather

DAYS = 60
START = date(2027, 4, 5)
"""A Monday."""


@pytest.fixture(scope="module")
def asked(small_plan: Plan) -> Brief:
    return brief(small_plan.site, small_plan.order, DAYS)


def changed(plan: Plan, **fields: object) -> Brief:
    return brief(plan.site.model_copy(update=fields), plan.order, DAYS)


def with_steps(site: Site, *steps: Fraction) -> dict[str, object]:
    """As many drums as steps, each making its batches up in one of them."""
    drum = site.mixers[0]
    names = (f"drum {number}" for number in range(len(steps)))
    return {
        "mixers": tuple(
            drum.model_copy(update={"name": name, "bag_step": step}) for name, step in zip(names, steps, strict=True)
        )
    }


def test_formats_are_by_mix_and_the_biggest_first(asked: Brief) -> None:
    assert tuple(key[:4] for key in asked.formats) == (
        ("heavy", 600.0, 300.0, 200.0),
        ("light", 600.0, 300.0, 200.0),
        ("light", 600.0, 300.0, 100.0),
        ("light", 290.0, 300.0, 200.0),
    )


def test_volumes_are_hundredths_of_a_millilitre_with_overfill(asked: Brief) -> None:
    # 36 L, 36 L, 18 L and 17.4 L, each and 3 %
    assert [block.volume for block in asked.problem.formats] == [3_708_000, 3_708_000, 1_854_000, 1_792_200]


def test_a_part_of_a_hundredth_of_a_millilitre_rounds_up(small_plan: Plan) -> None:
    # 17.4 L x 1.00000003 = 17.400000522 L
    finer = changed(small_plan, overfill=3e-8)
    assert finer.problem.formats[3].volume == 1_740_001


def test_demand_counts_ordered_blocks_and_one_spare_in_ten_rounded_up(asked: Brief) -> None:
    assert [block.demand for block in asked.problem.formats] == [1 + 1, 6 + 1, 2 + 1, 2 + 1]


def test_needs_are_days_from_the_start_and_leave_out_undated_blocks_and_spares(asked: Brief) -> None:
    # 4 May is day 29, 5 May is day 30
    assert [block.needs for block in asked.problem.formats] == [((30, 1),), ((29, 4), (30, 2)), (), ((29, 1), (30, 1))]


def test_ordered_blocks_come_soonest_first_and_spares_last(small_plan: Plan) -> None:
    lines = wanted(small_plan.site, small_plan.order)
    dates = [line.needed for line in lines]
    assert dates == [date(2027, 5, 4)] * 2 + [date(2027, 5, 5)] * 3 + [None] * 5
    assert [line.part == "" for line in lines] == [False] * 6 + [True] * 4


def test_half_bags_are_whole_steps(asked: Brief) -> None:
    # light: 500 kg/m3, 25 L a half bag: 50 to 200 L; heavy: 750 kg/m3, 16 2/3 L a half bag: 50 to 216 2/3 L
    steps = {mix: [load.cement for load in asked.problem.loads if load.mix == mix] for mix in (0, 1)}
    assert steps == {0: list(range(3, 14)), 1: list(range(2, 9))}


def test_a_batch_has_room_for_what_it_makes_less_what_stays_behind(asked: Brief) -> None:
    rooms = [load.room for load in asked.problem.loads if load.mix == 1]
    assert rooms == [(25 * n - 4) * 100_000 for n in range(2, 9)]
    # 3 half bags of heavy make 50 L, 4 make 66.666... L, of which no part is counted that is not there
    assert [load.room for load in asked.problem.loads if load.mix == 0][:2] == [4_600_000, 6_266_666]


def test_steps_of_a_half_and_a_third_are_counted_in_sixths(small_plan: Plan) -> None:
    sixths = changed(small_plan, **with_steps(small_plan.site, Fraction(1, 2), Fraction(1, 3)))
    light = [(load.mixer, load.cement) for load in sixths.problem.loads if load.mix == 1]
    # a third of a bag makes 16 2/3 L: 3 to 13 thirds
    assert light == [(0, 3 * n) for n in range(2, 9)] + [(1, 2 * n) for n in range(3, 14)]
    assert [load.room for load in sixths.problem.loads if (load.mixer, load.cement) == (1, 8)][-1] == 6_266_666
    assert sixths.problem.cement.steps == ((0, 8 * 6), (3, 14 * 6))


def test_a_thirds_sum_on_hand_is_not_lost_to_rounding(small_plan: Plan) -> None:
    cement = small_plan.site.stock.cement.model_copy(update={"on_hand_bags": 0.1 + 0.2, "deliveries": ()})
    stock = small_plan.site.stock.model_copy(update={"cement": cement})
    tenths = changed(small_plan, stock=stock, **with_steps(small_plan.site, Fraction(1, 10)))
    assert tenths.problem.cement.steps == ((0, 3),)


def test_agent_is_counted_in_microlitres_and_never_under_what_is_drawn(asked: Brief) -> None:
    assert asked.problem.agent.steps == ((0, 2_000_000), (3, 4_000_000))
    for load, (_, _, size) in zip(asked.problem.loads, asked.loads, strict=True):
        assert 0 <= load.agent - size.agent_l * 1e6 < 1


def test_deliveries_before_the_start_are_there_on_the_first_day(small_plan: Plan) -> None:
    early = Delivery(day=date(2027, 4, 1), amount=2)
    cement = small_plan.site.stock.cement
    cement = cement.model_copy(update={"deliveries": (*cement.deliveries, early)})
    supply = changed(small_plan, stock=small_plan.site.stock.model_copy(update={"cement": cement})).problem.cement
    assert [supply.by(day) for day in (0, 2, 3)] == [20, 20, 32]


def test_a_load_takes_the_minutes_and_people_of_its_mixer(asked: Brief) -> None:
    for load in asked.problem.loads:
        assert (load.slurry, load.foam, load.pour, load.wash, load.crew) == (10, 4, 10, 4, 2)
        assert (load.to_pour, load.to_poured, load.length) == (14, 24, 28)


def test_a_slow_generator_lengthens_the_foam_of_big_batches(small_plan: Plan) -> None:
    generator = small_plan.site.foam_generator.model_copy(update={"rate_l_min": 20.0})
    slow = changed(small_plan, foam_generator=generator)
    # light is 1 - 500/3150 - 0.25 foam: 0.5913; 100 L take 59.13 L, at 20 L/min 2.96 min; 200 L take 5.91 min
    foam = {load.cement: load.foam for load in slow.problem.loads if load.mix == 1}
    assert (foam[4], foam[8]) == (4, 6)


def test_moulds_keep_their_numbers_and_what_they_cast(asked: Brief) -> None:
    gang, tray = asked.problem.moulds
    assert (gang.count, gang.cavities, gang.strip, gang.clean, gang.bases, gang.sides) == (2, 2, 10, 10, 0, 0)
    assert (tray.count, tray.cavities, tray.strip, tray.clean, tray.bases, tray.sides) == (1, 1, 5, 5, 2, 5)
    assert (sorted(gang.casts), sorted(tray.casts)) == ([0, 1, 3], [2])


def test_a_turn_has_no_more_blocks_than_the_racks_have_places(small_plan: Plan) -> None:
    east = small_plan.site.racks[0].model_copy(update={"places": 1})
    assert changed(small_plan, racks=(east,)).problem.moulds[0].cavities == 1


def test_moves_round_up_once_a_turn(small_plan: Plan) -> None:
    problem = changed(small_plan, move_time_min=1.5).problem
    assert (problem.move, problem.move_seconds) == ((0, 2, 3), 90)


def test_days_are_the_working_ones_with_their_minutes_people_and_chores(asked: Brief) -> None:
    days = asked.problem.days
    assert [day.number for day in days[:7]] == [0, 1, 2, 3, 4, 7, 8]
    assert [day.people for day in days[:4]] == [3, 3, 2, 3]
    tuesday = days[1]
    assert tuesday.windows == ((1440 + 480, 1440 + 720), (1440 + 750, 1440 + 960))
    assert tuesday.last_foam == 1440 + 900
    assert [(chore.start, chore.end, chore.people) for chore in tuesday.chores] == [(1440 + 510, 1440 + 520, 1)]


def test_a_day_too_hot_or_too_wet_takes_no_foam(small_plan: Plan) -> None:
    skies = tuple(Sky(rain_mm=fall) for fall in (0.0, 0.0, 5.1, 5.0))
    weather = Weather(START, ((12.0, 22.0), (12.0, 30.1), (12.0, 22.0), (12.0, 30.0)), skies=skies)
    curing = small_plan.site.curing.model_copy(update={"most_air_c": 30.0, "rain_stops_mm": 5.0})
    days = changed(small_plan, weather=weather, curing=curing).problem.days
    assert [day.last_foam < day.opens for day in days[:5]] == [False, True, True, False, False]


def test_frost_free_runs_end_the_day_before_the_frost(small_plan: Plan) -> None:
    lows = (8.0, 8.0, 4.9, 5.0, 8.0, 2.0, 2.0, 8.0, 8.0)
    weather = Weather(START, tuple((low, 15.0) for low in lows))
    clear = changed(small_plan, weather=weather).problem.clear_until
    # past the forecast: the mean of the last seven lows, 5.41 degC
    assert clear[:9].tolist() == [1, 1, -1, 4, 4, -1, -1, DAYS - 1, DAYS - 1]


def test_ripe_is_what_the_clock_of_ages_says(asked: Brief) -> None:
    clock = AgeClock(asked.site.weather, START)
    ripe = asked.problem.ripe_strip[0]
    sides = asked.problem.ripe_sides
    assert len(ripe) == DAYS * 1440
    assert sides[0] is None
    assert sides[1] is not None
    for minute in (0, 534, 1440 + 799, 20 * 1440 + 3):
        assert clock.age_h(minute, int(ripe[minute])) >= 24 > clock.age_h(minute, int(ripe[minute]) - 1)
        assert clock.age_h(minute, int(sides[1][minute])) >= 8 > clock.age_h(minute, int(sides[1][minute]) - 1)


def test_a_later_pour_never_ripens_earlier_until_the_horizon_ends(asked: Brief) -> None:
    ripe = asked.problem.ripe_strip[0].tolist()
    within = ripe.index(-1)
    assert ripe[:within] == sorted(ripe[:within])
    assert set(ripe[within:]) == {-1}
