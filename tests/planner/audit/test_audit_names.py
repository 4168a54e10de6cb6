"""The second gate: names and numbers that stand for nothing, or for two things."""

import pytest


def test_two_blocks_with_one_number_are_found(plain):
    plain.set("casts", {"cast": 8}, cast=7)
    assert plain.broken() == [("unique numbers", "block 7")]


def test_two_batches_with_one_number_are_found(plain):
    plain.batches = plain.batches.iloc[[0, 1, 1]].reset_index(drop=True)
    assert plain.broken() == [("unique numbers", "batch 2")]


@pytest.mark.parametrize(
    ("table", "column", "name", "said"),
    [
        ("casts", "mould", "gang-4/03", 'there is no mould "gang-4/03"; there is gang-4/01, gang-4/02'),
        ("casts", "mould", "gang-4/1", 'there is no mould "gang-4/1"; there is gang-4/01, gang-4/02'),
        ("casts", "rack", "north", 'there is no rack "north"; there is east, west'),
        ("casts", "mark", "Z", 'there is no mark "Z"; there is A, H'),
        ("casts", "mix", "light", 'there is no mix "light"; there is wall'),
        ("batches", "mix", "light", 'there is no mix "light"; there is wall'),
        ("batches", "mixer", "pan", 'there is no mixer "pan"; there is drum'),
        ("tasks", "task", "rest", 'there is no task "rest"; there is batch, chore, clean, move, sides, strip'),
        ("casts", "base", "gang-4/b01", 'there is no base "gang-4/b01"'),
    ],
)
def test_a_name_that_nothing_has_is_found(plain, table, column, name, said):
    getattr(plain, table).loc[0, column] = name
    assert plain.said() == [said]


def test_the_mould_of_a_task_must_exist(plain):
    plain.set("tasks", {"task": "clean"}, mould="gang-4/07")
    assert plain.broken() == [("known names", "mould gang-4/07")]


def test_a_base_number_beyond_the_bases_is_found(based):
    based.set("casts", {"cast": 5}, base="slab-2/b03")
    assert based.broken() == [("known names", "base slab-2/b03")]


def test_a_block_of_a_batch_that_is_not_planned_is_found(plain):
    plain.set("casts", {"cast": 8}, batch=3)
    assert plain.broken() == [("known batches", "block 8")]


@pytest.mark.parametrize(("number", "said"), [(9, "batch 9, which is not planned"), (None, "no batch")])
def test_a_task_of_a_batch_that_is_not_planned_is_found(plain, number, said):
    plain.tasks.loc[0, "batch"] = number
    assert plain.said() == [f"the batch row at Mon 5 Apr 07:30 is for {said}"]


def test_a_mould_with_bases_needs_one(based):
    based.set("casts", {"cast": 5}, base="")
    assert based.said() == ["slab-2/01 is used without one of its 2 bases"]


def test_a_mould_without_bases_has_none(based):
    based.set("casts", {"cast": 3}, base="slab-2/b02")
    assert based.said() == ["gang-1/01 has no bases, but stands on slab-2/b02"]


def test_a_base_is_of_the_kind_of_its_mould(based):
    slab = based.site.moulds[0]
    based.change_site(moulds=(*based.site.moulds, slab.model_copy(update={"kind": "tile"})))
    based.set("casts", {"cast": 5}, base="tile/b01")
    assert based.said() == ["slab-2/01 stands on tile/b01, which is of another kind"]


def test_a_mix_that_cannot_be_made_is_found(plain):
    mix = plain.order.mixes[0].model_copy(update={"oven_dry_density_kg_m3": 2500.0})
    plain.order = plain.order.model_copy(update={"mixes": (mix,)})
    assert plain.broken() == [("possible mixes", "mix wall")]
