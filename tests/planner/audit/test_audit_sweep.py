from hypothesis import given
from hypothesis import strategies as st

from blockrun.planner.audit.sweep import levels, overlaps

spans = st.lists(st.tuples(st.integers(0, 20), st.integers(0, 6)).map(lambda span: (span[0], span[0] + span[1])))


def test_spans_that_touch_do_not_overlap():
    assert list(overlaps([(10, 20, "b"), (0, 10, "a"), (10, 10, "none")])) == []


def test_a_span_is_held_against_the_one_that_lasts_longest():
    assert list(overlaps([(0, 30, "long"), (5, 6, "short"), (20, 40, "late")])) == [("long", "short"), ("long", "late")]


@given(spans)
def test_something_overlaps_exactly_when_a_minute_is_taken_twice(spans):
    minutes = [minute for start, end in spans for minute in range(start, end)]
    found = list(overlaps((start, end, n) for n, (start, end) in enumerate(spans)))
    assert bool(found) == (len(set(minutes)) < len(minutes))


@given(spans)
def test_levels_count_what_goes_on_each_minute(spans):
    for minute, level in levels(change for start, end in spans for change in ((start, 1), (end, -1))):
        assert level == sum(start <= minute < end for start, end in spans)
