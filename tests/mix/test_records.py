import pytest

from blockrun.errors import BadInput
from blockrun.mix.records import Record, read_records, weighed


@pytest.fixture
def read(tmp_path):
    def write_and_read(text):
        path = tmp_path / "batches.csv"
        path.write_text(text, encoding="utf-8")
        return read_records(path)

    return write_and_read


def test_rows_are_read_in_their_order_and_empty_cells_were_not_weighed(read):
    assert read("when,batch,foam_g_l,wet_density_kg_m3\n2027-04-05,7,95.5,\n,8a,,812\n") == [
        Record("7", 95.5, None, "2027-04-05"),
        Record("8a", None, 812, ""),
    ]


def test_pounds_and_decimal_commas_are_read(read):
    (record,) = read("batch;foam_lb_ft3;wet_density_lb_ft3\n1;5,9;50\n")
    assert record.foam_kg_m3 == pytest.approx(94.51, abs=0.01)
    assert record.wet_kg_m3 == pytest.approx(800.9, abs=0.1)


def test_a_batch_of_the_same_number_on_another_day_is_another(read):
    assert len(read("batch,when,foam_g_l\n1,Monday,95\n1,Tuesday,95\n")) == 2


def test_the_mix_and_what_is_due_are_kept(read):
    (record,) = read("batch,mix,foam_g_l,due_foam_g_l,due_wet_density_kg_m3\n1,light,97,95,806\n")
    assert (record.mix, record.foam_due_kg_m3, record.wet_due_kg_m3) == ("light", 95, 806)


def test_a_lot_holds_until_the_next_is_named(read):
    rows = read("batch,foam_g_l,cement_lot,agent_lot\n1,95,A1,F1\n2,96,,\n3,95,B7,\n4,94,,F2\n")
    assert [(row.cement_lot, row.agent_lot) for row in rows] == [("A1", "F1"), ("A1", "F1"), ("B7", "F1"), ("B7", "F2")]


def test_a_trial_of_another_lot_says_nothing_of_the_batches_after_it(read):
    rows = read("batch,foam_g_l,cement_lot,trial\n1,95,A1,\nT,96,B7,yes\n2,95,,no\n")
    assert [(row.cement_lot, row.is_trial) for row in rows] == [("A1", False), ("B7", True), ("A1", False)]


def test_what_was_weighed_goes_with_its_batch():
    records = [Record("1", 95), Record("2"), Record("3", 97)]
    assert weighed(records, lambda record: record.foam_kg_m3) == ([records[0], records[2]], [95, 97])


@pytest.mark.parametrize(
    ("text", "said", "place"),
    [
        ("batch,when\n1,today\n", "there is no column of weights", (1, None)),
        ("batch,foam_g_l,foam_lb_ft3\n1,95,5.9\n", "the same thing in two units", (1, 16)),
        ("foam_g_l\n95\n", "column batch missing", (1, None)),
        ("batch,foam_g_l\n1,95\n2,wet\n", "foam_g_l: wet", (3, 3)),
        ("batch,foam_g_l\n1,0\n", "0 is no density", (2, 3)),
        ("batch,wet_density_kg_m3\n1,8120\n", "8120 is no density", (2, 3)),
        ("batch,foam_g_l\n1,9.5\n", "9.5 is no density of foam", (2, 3)),
        ("batch,wet_density_kg_m3\n1,8.1\n", "8.1 is no density of a mix", (2, 3)),
        ("batch,foam_g_l\n5,95\n5,96\n", "batch 5 is written twice", (3, 1)),
        ("batch,foam_g_l,trial\n1,95,maybe\n", "maybe is neither yes nor no", (2, 6)),
        ("batch,foam_g_l\n,95\n", "batch: is empty", (2, 1)),
        ("batch,foam\n1,95\n", "unknown column foam", (1, 7)),
    ],
)
def test_each_fault_has_its_place(read, text, said, place):
    with pytest.raises(BadInput, match=said) as refused:
        read(text)
    assert (refused.value.line, refused.value.column) == place
