def test_nothing_is_found_in_a_good_plan_without_bases(plain):
    assert plain.audit() == []


def test_nothing_is_found_in_a_good_plan_with_bases_and_two_mixers(based):
    assert based.audit() == []


def test_totals_are_not_judged_when_there_are_none(plain):
    plain.totals = None
    assert plain.audit() == []


def test_a_finding_reads_as_its_sentence(plain):
    plain.strip_later("gang-4/01", 1, -10)
    assert [str(finding) for finding in plain.audit()] == [
        "gang-4/01 is stripped Tue 6 Apr 07:50, but its last pour reaches 24 hours at 20 degC only Tue 6 Apr 07:58"
    ]


def test_a_plan_of_nothing_is_found_to_miss_everything(plain):
    for table in ("casts", "batches", "tasks", "materials"):
        setattr(plain, table, getattr(plain, table).iloc[:0])
    plain.stages, plain.totals = [], {}
    rules = {rule for rule, _ in plain.broken()}
    assert {"ordered blocks", "asked spares", "four stages", "plan totals"} <= rules
