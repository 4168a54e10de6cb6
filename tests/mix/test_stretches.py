from blockrun.mix.records import Record
from blockrun.mix.stretches import AGENT, CEMENT, stretches


def rows(*lots, trials=()):
    """A batch for each pair of cement and agent; trials by the batch before which they stand."""
    found = []
    for number, (cement, agent) in enumerate(lots, 1):
        found += [Record(f"T{number}", cement_lot=lot, is_trial=True) for at, lot in trials if at == number]
        found.append(Record(str(number), cement_lot=cement, agent_lot=agent))
    return found


def batches(apart):
    return [[record.batch for record in stretch.records] for stretch in apart]


def test_batches_of_one_lot_are_one_stretch_that_changes_nothing():
    (only,) = stretches(rows(("A1", "F1"), ("A1", "F1")), (CEMENT, AGENT))
    assert (len(only.records), only.changes) == (2, ())


def test_a_change_of_either_lot_begins_another_stretch_where_both_matter():
    made = rows(("A1", "F1"), ("A1", "F2"), ("B7", "F2"), ("B7", "F2"))
    assert batches(stretches(made, (CEMENT, AGENT))) == [["1"], ["2"], ["3", "4"]]
    assert batches(stretches(made, (AGENT,))) == [["1"], ["2", "3", "4"]]


def test_a_change_names_the_lot_the_one_before_it_and_the_first_batch():
    (change,) = stretches(rows(("A1", ""), ("B7", "")), (CEMENT, AGENT))[1].changes
    assert (change.what, change.lot, change.before, change.batch) == ("cement", "B7", "A1", "2")
    assert (change.is_new, change.is_tried) == (True, False)


def test_a_trial_counts_before_the_first_batch_of_its_lot_alone():
    lots = (("A1", ""), ("A1", ""), ("B7", ""))
    tried = [stretches(rows(*lots, trials=((at, lot),)), (CEMENT,))[1].changes[0].is_tried for at, lot in
             ((2, "B7"), (3, "B7"), (3, "A1"))]  # fmt: skip
    assert tried == [True, True, False]
    late = [*rows(*lots), Record("T", cement_lot="B7", is_trial=True)]
    assert not stretches(late, (CEMENT,))[1].changes[0].is_tried


def test_a_lot_that_comes_back_is_not_new():
    back = stretches(rows(("A1", ""), ("B7", ""), ("A1", "")), (CEMENT,))[2]
    assert (back.changes[0].lot, back.changes[0].is_new) == ("A1", False)


def test_a_trial_is_in_no_stretch():
    assert batches(stretches(rows(("A1", ""), ("B7", ""), trials=((2, "B7"),)), (CEMENT,))) == [["1"], ["2"]]
